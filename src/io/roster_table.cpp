#include "io/roster_table.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/csv.hpp"
#include "io/journal_json.hpp"
#include "io/roster_cells.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

// The results of a row: of one date and setting, the latest.
std::vector<const DatedResult*> row_results(const Candidate& candidate) {
  const DatedResult* last = nullptr;
  for (const DatedResult& result : candidate.results) {
    if (last == nullptr || result.date >= last->date) last = &result;
  }
  std::vector<const DatedResult*> out;
  for (const DatedResult& result : candidate.results) {
    const bool same =
        last != nullptr && result.date == last->date && result.setting == last->setting && !result.first;
    const bool second = std::any_of(out.begin(), out.end(),
                                    [&](const DatedResult* other) { return other->event == result.event; });
    if (same && !second) out.push_back(&result);
  }
  return out;
}

bool is_squads_own(const BlockedSpell& spell, const Squad& squad) {
  return std::any_of(squad.blocked.begin(), squad.blocked.end(), [&](const BlockedSpell& other) {
    return other.from == spell.from && other.to == spell.to && other.kind == spell.kind;
  });
}

// What the column `absent` has room for.
std::vector<BlockedSpell> own_rest(const Candidate& candidate, const Squad& squad) {
  std::vector<BlockedSpell> out;
  for (const BlockedSpell& spell : candidate.blocked) {
    if (spell.kind == BlockedKind::rest && !is_squads_own(spell, squad)) out.push_back(spell);
  }
  return out;
}

std::vector<std::pair<std::string, std::string>> cells_of(const Candidate& candidate, const Squad& squad,
                                                          const Standard& standard) {
  const auto results = row_results(candidate);
  std::vector<std::pair<std::string, std::string>> cells{
      {"id", candidate.id},
      {"birth_date", write_date(candidate.birth_date)},
      {"column", candidate.column},
      {"category", candidate.category},
      {"background", to_string(candidate.background)},
      {"results_date", results.empty() ? "" : write_date(results.front()->date)},
      {"setting", results.empty() ? "" : to_string(results.front()->setting)},
      {"avoid", avoid_cell(candidate.avoid)},
      {"medical", medical_cell(candidate.medical)},
      {"test_date", candidate.test_date == squad.test_date ? "" : write_date(candidate.test_date)},
      {"target", target_cell(candidate.target)},
      {"absent", absent_cell(own_rest(candidate, squad))}};
  for (const Event& event : standard.events) {
    std::string value;
    for (const DatedResult* result : results) {
      if (result->event == event.id) value = result->as_typed;
    }
    cells.emplace_back(event.id, value);
  }
  return cells;
}

void add_spells_left(const Candidate& candidate, const Squad& squad, std::vector<std::string>& out) {
  for (const BlockedSpell& spell : candidate.blocked) {
    if (is_squads_own(spell, squad)) continue;
    const std::string days = fmt::format("{} to {}", write_date(spell.from), write_date(spell.to));
    if (spell.kind != BlockedKind::rest) {
      out.push_back(fmt::format("the {} spell of {}", to_string(spell.kind), days));
    } else if (!spell.why.empty() && spell.why != "absent") {
      out.push_back(fmt::format("why they rest on {} ({})", days, spell.why));
    }
  }
}

// Days that are over matter no more.
void add_days_left(const Candidate& candidate, Date today, std::vector<std::string>& out) {
  std::string diagnostics;
  for (const Date date : candidate.diagnostics) {
    if (date >= today) diagnostics += (diagnostics.empty() ? "" : ", ") + write_date(date);
  }
  if (!diagnostics.empty()) out.push_back("practice tests on " + diagnostics);
  for (const DayOverride& day : candidate.days) {
    if (day.date < today) continue;
    const std::string date = write_date(day.date);
    if (day.after_night_shift) out.push_back("the night shift before " + date);
    if (day.minutes) out.push_back(fmt::format("the {} minutes of {}", *day.minutes, date));
  }
}

bool has_now(const TrainingNow& now) { return now.hard_sessions || now.minutes || now.longest_run; }

std::string joined(const std::vector<std::string>& cells, char separator, const char* line_end) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) line += separator;
    line += csv_field(cells[i]);
  }
  return line + line_end;
}

}  // namespace

Result<std::string> with_member(std::string_view roster, const std::string& file, const Candidate& candidate,
                                const Squad& squad, const Standard& standard) {
  const auto read = read_csv(roster, file);
  if (!read.ok()) return read.faults();
  const CsvTable& table = read.value();
  for (const Member& member : squad.members) {
    if (member.candidate.id != candidate.id) continue;
    return Diagnostic{Severity::error,
                      file,
                      member.line,
                      1,
                      "id",
                      fmt::format("the id \"{}\" is in the roster already", candidate.id),
                      "change the id in the person's candidate.json, or take the line out"};
  }
  std::vector<std::string> header;
  for (const CsvCell& cell : table.rows.front()) header.push_back(cell.text);
  const std::size_t width = header.size();
  std::vector<std::string> row(width);
  for (const auto& [name, value] : cells_of(candidate, squad, standard)) {
    const auto at = std::find(header.begin(), header.end(), name);
    if (at != header.end()) {
      row[static_cast<std::size_t>(at - header.begin())] = with_guard(value);
    } else if (!value.empty()) {
      header.push_back(name);
      row.push_back(with_guard(value));
    }
  }
  const char* end = roster.find("\r\n") == std::string_view::npos ? "\n" : "\r\n";
  std::string out(roster.substr(0, bytes_before_header(roster)));
  out += joined(header, table.separator, end);
  for (std::size_t i = 1; i < table.rows.size(); ++i) {
    std::vector<std::string> cells;
    for (const CsvCell& cell : table.rows[i]) cells.push_back(cell.text);
    cells.resize(header.size());
    out += joined(cells, table.separator, end);
  }
  return out + joined(row, table.separator, end);
}

std::vector<std::string> left_behind(const Candidate& candidate, const Squad& squad, Date today) {
  std::vector<std::string> out;
  add_spells_left(candidate, squad, out);
  add_days_left(candidate, today, out);
  if (has_now(candidate.now))
    out.push_back("\"now\": the training before the journal is taken as usual for the background");
  if (candidate.aim == Aim::highest)
    out.push_back(fmt::format("the aim \"highest\": the squad's goal is \"{}\"", to_string(squad.goal)));
  if (!candidate.target.events.empty()) {
    std::string points;
    for (const auto& [event, most] : candidate.target.events)
      points += fmt::format("{}{} {}", points.empty() ? "" : ", ", event, to_string(most));
    out.push_back("targets in single events: " + points);
  }
  for (const Avoid& avoid : candidate.avoid) {
    if (avoid.from && *avoid.from > today)
      out.push_back(fmt::format("that {} is avoided only from {} on: in the roster it is avoided from now on",
                                avoid.work, write_date(*avoid.from)));
    if (!avoid.why.empty()) out.push_back(fmt::format("why {} is avoided ({})", avoid.work, avoid.why));
  }
  return out;
}

std::vector<Entry> older_results(const Candidate& candidate, const Standard& standard) {
  const auto in_row = row_results(candidate);
  std::vector<Entry> out;
  for (const DatedResult& result : candidate.results) {
    if (std::count(in_row.begin(), in_row.end(), &result) > 0) continue;
    if (standard.find_event(result.event) == nullptr) continue;
    Entry entry;
    entry.date = result.date;
    entry.what = ResultDone{result.event, {result.value, result.as_typed}, result.setting, result.first};
    Json json = entry_json(entry);
    json.erase("id");
    json["who"] = candidate.id;
    entry.id = id_of_content(json.dump(-1, ' ', false, Json::error_handler_t::replace));
    out.push_back(std::move(entry));
  }
  return out;
}

}  // namespace backplan::io
