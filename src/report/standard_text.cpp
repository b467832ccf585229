#include "report/standard_text.hpp"

#include <fmt/format.h>

#include <map>

#include "backplan/score.hpp"
#include "report/plan_text.hpp"
#include "report/table.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

using Counts = std::map<Origin, int>;

Counts count_rows(const Standard& standard, const std::string& event) {
  Counts counts;
  for (const auto& [key, scale] : standard.scales) {
    if (!event.empty() && key.event != event) continue;
    for (const Row& row : scale.rows()) ++counts[row.origin];
  }
  return counts;
}

std::string counts_text(const Counts& counts) {
  std::vector<std::string> parts;
  for (const auto& [origin, number] : counts)
    parts.push_back(fmt::format("{} {}", number, to_string(origin)));
  return parts.empty() ? "none" : fmt::format("{}", fmt::join(parts, ", "));
}

std::string category_text(const Category& category, const Standard& standard) {
  std::vector<std::string> parts;
  if (category.each_minimum)
    parts.push_back(fmt::format("at least {} in each event", to_string(*category.each_minimum)));
  if (category.total_minimum)
    parts.push_back(fmt::format("at least {}{}", to_string(*category.total_minimum), over_all(standard)));
  if (!category.column.empty()) parts.push_back(fmt::format("everybody on the {} column", category.column));
  return fmt::format("{}: {}", category.id,
                     parts.empty() ? "no minimum known" : fmt::format("{}", fmt::join(parts, ", ")));
}

std::string events_text(const Standard& standard) {
  Table table({Align::left, Align::left, Align::left, Align::left});
  table.add({"event", "name", "unit", "rows by origin"});
  for (const Event& event : standard.events) {
    table.add({event.id, event.name, unit_name(event.unit), counts_text(count_rows(standard, event.id))});
  }
  return table.text("  ");
}

std::string cell_text(const Standard& standard, const ScaleKey& key, Points points, const Event& event,
                      Marks& marks) {
  const auto found = standard.scales.find(key);
  if (found == standard.scales.end()) return "- ";
  for (const Row& row : found->second.rows()) {
    if (row.points != points) continue;
    marks.note(row.origin);
    const std::string sign = mark(row.origin);
    return format_result(row.result, event) + (sign.empty() ? " " : sign);
  }
  return "- ";
}

}  // namespace

std::string standard_list_text(const std::vector<Standard>& standards) {
  std::string text;
  for (const Standard& standard : standards) {
    text += fmt::format("{}\n", standard.id);
    text += wrap(standard.title, kPageWidth, "    ", "    ");
    if (!standard.effective_from.empty())
      text += fmt::format("    in force from {}\n", standard.effective_from);
    text += fmt::format("    rows: {}\n", counts_text(count_rows(standard, "")));
  }
  return text;
}

std::string standard_text(const Standard& standard) {
  std::string text = fmt::format("{}: {}\n", standard.id, standard.title);
  if (!standard.effective_from.empty()) text += fmt::format("In force from {}\n", standard.effective_from);
  text += wrap("Source: " + standard.source, kPageWidth, "  ", "") + '\n' + events_text(standard);
  text += "\nCategories\n";
  for (const Category& category : standard.categories) {
    text += wrap(category_text(category, standard), kPageWidth, "    ", "  ");
  }
  if (!standard.protocol.empty()) text += "\nProtocol\n";
  for (const ProtocolFact& fact : standard.protocol) {
    const std::string value = fact.value.empty() ? "not known" : fact.value;
    const std::string source = fact.source.empty() ? "" : fmt::format(" [{}]", fact.source);
    text += wrap(fmt::format("{}: {}{}", fact.topic, value, source), kPageWidth, "    ", "  ");
  }
  return text;
}

std::string scale_text(const Standard& standard, const Event& event, const std::string& column) {
  Marks marks;
  std::map<Points, bool> all_points;
  for (const auto& [key, scale] : standard.scales) {
    if (key.event != event.id || key.column != column) continue;
    for (const Row& row : scale.rows()) all_points[row.points] = true;
  }
  std::vector<Align> columns(standard.bands.size() + 1, Align::right);
  std::vector<std::string> head{"points"};
  for (const AgeBand& band : standard.bands) head.push_back(to_string(band) + " ");
  Table table(columns);
  table.add(head);
  for (auto points = all_points.rbegin(); points != all_points.rend(); ++points) {
    std::vector<std::string> cells{to_string(points->first)};
    for (const AgeBand& band : standard.bands) {
      cells.push_back(cell_text(standard, {event.id, column, band}, points->first, event, marks));
    }
    table.add(cells);
  }
  std::string text = fmt::format("{}: {} ({}), {} column, {} by age\n\n", standard.id, event.name, event.id,
                                 column, unit_name(event.unit));
  text += table.text("  ");
  const std::string legend = marks.legend();
  return legend.empty() ? text : text + '\n' + legend;
}

std::string import_text(const std::string& file, const io::ImportSummary& summary) {
  std::string text = fmt::format("{}: sound, {} results", printable(file), summary.cells);
  if (summary.without_row > 0) text += fmt::format(", {} places without a row", summary.without_row);
  text += '\n';
  const auto line = [&text](std::size_t number, std::string_view what) {
    if (number > 0) text += fmt::format("  {} {}\n", number, what);
  };
  line(summary.agree_published, "agree with published rows");
  line(summary.replaced_published, "in the place of published rows that say otherwise");
  line(summary.replaced_memory, "in the place of rows from memory");
  line(summary.replaced_interpolated, "in the place of filled rows");
  line(summary.differ, "of them say something else than the row that was there");
  return text;
}

}  // namespace backplan::report
