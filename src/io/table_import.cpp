#include "io/table_import.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "backplan/score.hpp"
#include "io/cells.hpp"
#include "io/json_text.hpp"
#include "io/wide_table.hpp"

namespace backplan::io {
namespace {

using TableName = std::pair<std::string, std::string>;  // event, column

std::string key_words(const ScaleKey& key) {
  return fmt::format("{}, {}, {}", key.event, key.column, to_string(key.band));
}

Diagnostic at_cell(Severity severity, const ScaleCell& cell, std::string message, std::string hint) {
  return {severity, cell.file, cell.line, cell.column, {}, std::move(message), std::move(hint)};
}

Diagnostic at_file(const TableRequest& request, std::string message, std::string hint) {
  return {Severity::error, request.file, 0, 0, {}, std::move(message), std::move(hint)};
}

// Known points values that a table must hold: every step between the lowest and the highest where
// missing rows are only unknown, the known levels elsewhere.
std::set<Points> wanted_points(const Standard& standard, const Scale& scale) {
  std::set<Points> wanted;
  for (const Row& row : scale.rows()) wanted.insert(row.points);
  if (!standard.points.fills_missing_rows) return wanted;
  for (Points p = scale.rows().front().points; p < scale.rows().back().points; p = p + standard.points.step) {
    wanted.insert(p);
  }
  return wanted;
}

class TableCheck {
 public:
  TableCheck(const TableRequest& request, const Standard& standard, std::vector<ScaleCell> cells)
      : request_(request), standard_(standard) {
    for (ScaleCell& cell : cells) {
      tables_[{cell.key.event, cell.key.column}][cell.key.band].push_back(std::move(cell));
    }
  }

  Result<ImportedTable> run() {
    for (auto& [name, bands] : tables_) check_table(name, bands);
    if (!faults_.empty()) return std::move(faults_);
    imported_.warnings = std::move(warnings_);
    return std::move(imported_);
  }

 private:
  void check_table(const TableName& name, std::map<AgeBand, std::vector<ScaleCell>>& bands) {
    const Event& event = *standard_.find_event(name.first);
    std::string text = std::string(kLongHeader) + "\n";
    for (const AgeBand& band : standard_.bands) {
      std::vector<ScaleCell>& cells = bands[band];
      std::sort(cells.begin(), cells.end(),
                [](const ScaleCell& a, const ScaleCell& b) { return a.points < b.points; });
      const ScaleKey key{name.first, name.second, band};
      const Scale& scale = standard_.scales.at(key);
      if (!scale.rows().empty() && scale.rows().front().origin == Origin::formula) {
        faults_.push_back(at_file(request_, fmt::format("{} is scored by a formula", event.id),
                                  "there is nothing to import for it"));
        return;
      }
      check_complete(key, scale, cells);
      check_monotonic(event, cells, faults_);
      for (const ScaleCell& cell : cells) {
        compare(event, scale, cell);
        text += fmt::format("{},{},{},{},{},{}\n", csv_field(event.id), csv_field(name.second), band.least,
                            band.most, to_string(cell.points),
                            cell.result ? write_cell_result(*cell.result, event) : "---");
      }
    }
    imported_.files.push_back({fmt::format("{}-{}.cells.csv", name.first, name.second), std::move(text)});
  }

  void check_complete(const ScaleKey& key, const Scale& scale, const std::vector<ScaleCell>& cells) {
    constexpr std::string_view kHint =
        "copy the whole table and write --- where it gives no row; a part of a table is never used";
    if (cells.empty()) {
      faults_.push_back(
          at_file(request_, fmt::format("no cells for {}", key_words(key)), std::string(kHint)));
      return;
    }
    std::set<Points> missing = wanted_points(standard_, scale);
    for (const ScaleCell& cell : cells) missing.erase(cell.points);
    if (!missing.empty()) {
      std::string list;
      for (const Points points : missing) list += (list.empty() ? "" : ", ") + to_string(points);
      faults_.push_back(at_cell(Severity::error, cells.back(),
                                fmt::format("no row for {} points of {}", list, key_words(key)),
                                std::string(kHint)));
    }
    if (std::none_of(cells.begin(), cells.end(), [](const ScaleCell& c) { return c.result.has_value(); })) {
      faults_.push_back(at_cell(Severity::error, cells.front(),
                                fmt::format("only dashes for {}", key_words(key)), std::string(kHint)));
    }
    check_ends(key, scale, cells);
  }

  // The lowest and the highest known points can be earned, so they have a row in every table.
  void check_ends(const ScaleKey& key, const Scale& scale, const std::vector<ScaleCell>& cells) {
    for (const Row* row : {&scale.rows().front(), &scale.rows().back()}) {
      for (const ScaleCell& cell : cells) {
        if (cell.points != row->points || cell.result) continue;
        faults_.push_back(
            at_cell(Severity::error, cell,
                    fmt::format("no result for {} points of {}", to_string(cell.points), key_words(key)),
                    "the lowest and the highest row of a scale have a result in every band"));
      }
    }
  }

  void compare(const Event& event, const Scale& scale, const ScaleCell& cell) {
    ImportSummary& summary = imported_.summary;
    ++(cell.result ? summary.cells : summary.without_row);
    const auto row = scale.row_for(cell.points);
    if (!row || row->points != cell.points) return;
    const bool same = cell.result && *cell.result == row->result;
    const std::string file_says = cell.result ? format_result(*cell.result, event) : "no row";
    const std::string message = fmt::format(
        "{} for {} points of {}, but the {} cell says {} ({})", file_says, to_string(cell.points),
        key_words(cell.key), to_string(row->origin), format_result(row->result, event), row->source);
    if (row->origin == Origin::published || row->origin == Origin::official) {
      if (same) {
        ++summary.agree_published;
      } else if (request_.trust_file) {
        ++summary.replaced_published;
        warnings_.push_back(at_cell(Severity::warning, cell, message, "the file is trusted"));
      } else {
        faults_.push_back(at_cell(Severity::error, cell, message,
                                  "check event, column and cell; if the table is right, add --trust-file"));
      }
      return;
    }
    ++(row->origin == Origin::memory ? summary.replaced_memory : summary.replaced_interpolated);
    if (same) return;
    ++summary.differ;
    if (row->origin != Origin::memory) return;
    warnings_.push_back(at_cell(Severity::warning, cell, message, "the table replaces the remembered cell"));
  }

  const TableRequest& request_;
  const Standard& standard_;
  std::map<TableName, std::map<AgeBand, std::vector<ScaleCell>>> tables_;
  ImportedTable imported_;
  Diagnostics warnings_;
  Diagnostics faults_;
};

// The event and column that the wide shape needs, and that the long form is held to if given.
Diagnostics check_request(const TableRequest& request, const Standard& standard, bool is_long) {
  Diagnostics faults;
  std::vector<std::string> events;
  for (const Event& event : standard.events) events.push_back(event.id);
  const auto check = [&](std::string_view what, const std::string& given,
                         const std::vector<std::string>& known) {
    if (given.empty() && is_long) return;
    if (std::find(known.begin(), known.end(), given) != known.end()) return;
    const std::string message = given.empty() ? fmt::format("the table does not say its {}", what)
                                              : fmt::format("unknown {} \"{}\"", what, given);
    const auto near = nearest_word(given, known);
    faults.push_back(at_file(request, message,
                             near ? fmt::format("did you mean --{} {}?", what, *near)
                                  : fmt::format("add --{} with one of: {}", what, fmt::join(known, ", "))));
  };
  check("event", request.event, events);
  check("column", request.column, standard.columns);
  return faults;
}

Result<std::vector<ScaleCell>> read_long(std::string_view text, const TableRequest& request,
                                         const Standard& standard) {
  auto cells = read_cells(text, request.file, standard, CellsKind::official);
  if (!cells) return cells;
  Diagnostics faults;
  for (const ScaleCell& cell : cells.value()) {
    const bool other_event = !request.event.empty() && cell.key.event != request.event;
    const bool other_column = !request.column.empty() && cell.key.column != request.column;
    if (!other_event && !other_column) continue;
    faults.push_back(at_cell(Severity::error, cell,
                             fmt::format("a cell of {}, {} where {}, {} was asked for", cell.key.event,
                                         cell.key.column, request.event, request.column),
                             "leave --event and --column out to import all of a long table"));
    break;
  }
  if (cells.value().empty()) faults.push_back(at_file(request, "the table has no rows", "copy it again"));
  if (!faults.empty()) return faults;
  return cells;
}

}  // namespace

Result<ImportedTable> import_table(std::string_view text, const TableRequest& request,
                                   const Standard& standard) {
  const auto table = read_loose_table(text, request.file);
  if (!table) return table.faults();
  const CsvRow& header = table.value().rows.front();
  const bool is_long =
      std::any_of(header.begin(), header.end(), [](const CsvCell& cell) { return cell.text == "age_min"; });
  const Diagnostics faults = check_request(request, standard, is_long);
  if (!faults.empty()) return faults;
  const auto cells = is_long ? read_long(text, request, standard)
                             : read_wide_table(table.value(), request.file,
                                               *standard.find_event(request.event), request.column, standard);
  if (!cells) return cells.faults();
  if (cells.value().empty()) return at_file(request, "the table has no rows", "copy it again");
  return TableCheck(request, standard, cells.value()).run();
}

}  // namespace backplan::io
