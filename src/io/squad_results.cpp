// A test day or a timed morning of the whole squad, as a spreadsheet gives it.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "io/named_table.hpp"
#include "io/roster_cells.hpp"
#include "io/squad_journal.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

// Of an entry that is no result of an event's own column.
const std::vector<std::string>& entry_columns() {
  static const std::vector<std::string> names{"kind",  "work",  "minutes", "sets",  "in_reserve", "distance",
                                              "time",  "hard",  "effort",  "first", "reason",     "where",
                                              "level", "night", "limp",    "note"};
  return names;
}

class ResultsReader : NamedTable {
 public:
  ResultsReader(const CsvTable& table, std::string file, const std::vector<Member>& members,
                const EntryContext& context)
      : NamedTable(table, std::move(file)), members_(members), context_(context) {}

  Result<std::vector<SquadEntry>> run() {
    read_header();
    if (!has("id")) return faults_by_place();
    for (std::size_t i = 1; i < table_.rows.size(); ++i) read_row(table_.rows[i]);
    if (faults_.empty() && out_.empty())
      fault(table_.rows.front().front(), "", "no result is in the table", "fill in at least one cell");
    if (!faults_.empty()) return faults_by_place();
    return std::move(out_);
  }

 private:
  void read_header() {
    std::vector<std::string> names{"id", "display", "date", "setting"};
    for (const Event& event : context_.standard.events) names.push_back(event.id);
    names.insert(names.end(), entry_columns().begin(), entry_columns().end());
    name_columns(names);
    need("id", "it says whose results a row holds");
  }

  const Member* member_of(const CsvRow& row) {
    const CsvCell& id = row[columns_.at("id")];
    const std::string wanted = without_guard(id.text);
    std::vector<std::string> ids;
    for (const Member& member : members_) {
      if (member.candidate.id == wanted) return &member;
      ids.push_back(member.candidate.id);
    }
    const auto near = nearest_word(wanted, ids);
    fault(id, "id",
          wanted.empty() ? "it is not said whose row this is"
                         : fmt::format("nobody of the roster has the id \"{}\"", wanted),
          near ? fmt::format("did you mean \"{}\"?", *near) : std::string("give an id of roster.csv"));
    return nullptr;
  }

  void read_row(const CsvRow& row) {
    if (std::all_of(row.begin(), row.end(), [](const CsvCell& one) { return one.text.empty(); })) return;
    const Member* member = member_of(row);
    std::string date = write_date(context_.as_of);
    if (const CsvCell* when = cell(row, "date")) date = when->text;
    for (const Event& event : context_.standard.events) {
      const CsvCell* value = cell(row, event.id);
      if (value == nullptr) continue;
      EntryWords words;
      words.fields = {{"kind", "result"}, {"event", event.id}, {"date", date}, {"value", value_text(*value)}};
      if (const CsvCell* setting = cell(row, "setting")) words.fields["setting"] = setting->text;
      take(words, row, *value, member);
    }
    EntryWords words = other_entry(row, date);
    if (words.fields.size() + words.sets.size() > 1) take(words, row, row.front(), member);
  }

  EntryWords other_entry(const CsvRow& row, const std::string& date) const {
    EntryWords words;
    words.fields["date"] = date;
    for (const std::string& name : entry_columns()) {
      const CsvCell* one = cell(row, name);
      if (one == nullptr) continue;
      const bool free_text = name == "note" || name == "reason" || name == "where";
      std::string text = free_text ? without_guard(one->text) : value_text(*one);
      if (name == "sets") {
        words.sets = parts_of(text, '+');
      } else if (name == "in_reserve") {
        words.in_reserve = parts_of(text, '+');
      } else {
        words.fields[name] = std::move(text);
      }
    }
    if (words.fields.count("kind") == 0) {
      for (const auto& [key, kind] :
           {std::pair("work", "work"), std::pair("where", "pain"), std::pair("reason", "missed")}) {
        if (words.fields.count(key) > 0) words.fields.emplace("kind", kind);
      }
    }
    return words;
  }

  void take(EntryWords& words, const CsvRow& row, const CsvCell& about, const Member* member) {
    words.fields["id"] = id_of_content("");  // any: the true one follows from the content
    auto entry = read_entry_words(words, context_);
    if (!entry.ok()) {
      for (Diagnostic one : entry.faults()) {
        const CsvCell* place = one.field.empty() ? nullptr : cell(row, one.field);
        fault(place == nullptr ? about : *place, one.field, std::move(one.message), std::move(one.hint));
      }
      return;
    }
    if (member == nullptr) return;
    SquadEntry out{member->candidate.id, std::move(entry).value(), about.line, about.column};
    const CsvCell* when = cell(row, "date");
    if (out.entry.date > context_.as_of)
      fault(when == nullptr ? about : *when, "date",
            fmt::format("{} is after today, {}", say_date(out.entry.date), say_date(context_.as_of)),
            "correct the date, or give --as-of a later day");
    if (out.entry.date <= member->candidate.birth_date)
      fault(when == nullptr ? about : *when, "date",
            fmt::format("{} is not after the birth date", say_date(out.entry.date)), "check the year");
    out.entry.id.clear();
    Json json = entry_json(out.entry);
    json.erase("id");
    json["who"] = out.who;
    const std::string content = json.dump(-1, ' ', false, Json::error_handler_t::replace);
    const int times = ++seen_[content];
    out.entry.id = id_of_content(times == 1 ? content : fmt::format("{}#{}", content, times));
    out_.push_back(std::move(out));
  }

  const std::vector<Member>& members_;
  const EntryContext& context_;
  std::map<std::string, int> seen_;
  std::vector<SquadEntry> out_;
};

}  // namespace

Result<std::vector<SquadEntry>> read_squad_results(std::string_view text, const std::string& file,
                                                   const std::vector<Member>& members,
                                                   const EntryContext& context) {
  const auto table = read_csv(text, file);
  if (!table.ok()) return table.faults();
  return ResultsReader(table.value(), file, members, context).run();
}

}  // namespace backplan::io
