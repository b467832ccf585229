#include "io/history_csv.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <utility>

#include "io/characters.hpp"
#include "io/named_table.hpp"

namespace backplan::io {
namespace {

const std::vector<std::string>& column_names() {
  static const std::vector<std::string> names{
      "date",  "kind",  "work",    "minutes", "sets",   "in_reserve", "distance", "time",  "hard", "effort",
      "event", "value", "setting", "first",   "reason", "where",      "level",    "night", "limp", "note"};
  return names;
}

bool is_free_text(const std::string& key) { return key == "note" || key == "reason" || key == "where"; }

// In a table that no comma parts, a comma between two digits is a decimal one: "2,5 mi", "5@72,5 kg".
std::string with_points(std::string text) {
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    if (text[i] == ',' && is_digit(text[i - 1]) && is_digit(text[i + 1])) text[i] = '.';
  }
  return text;
}

// Spreadsheets are kept from running a text as a formula by an apostrophe before it; it is not part of it.
std::string without_guard(const std::string& text) {
  const std::string_view formula = "=+-@";
  const bool guarded = text.size() > 1 && text[0] == '\'' && formula.find(text[1]) != std::string_view::npos;
  return guarded ? text.substr(1) : text;
}

std::vector<std::string> parted(const std::string& text) {
  std::vector<std::string> parts;
  std::size_t start = 0;
  for (;;) {
    const std::size_t end = std::min(text.find('+', start), text.size());
    std::string part = text.substr(start, end - start);
    part.erase(0, std::min(part.find_first_not_of(' '), part.size()));
    part.erase(part.find_last_not_of(' ') + 1);
    parts.push_back(std::move(part));
    if (end == text.size()) return parts;
    start = end + 1;
  }
}

class HistoryReader : NamedTable {
 public:
  HistoryReader(const CsvTable& table, std::string file, const EntryContext& context)
      : NamedTable(table, std::move(file)), context_(context) {}

  Result<std::vector<HistoryRow>> read() {
    read_header();
    if (!has("date")) return faults_by_place();
    sound_header_ = faults_.empty();
    for (std::size_t i = 1; i < table_.rows.size(); ++i) read_row(table_.rows[i]);
    if (!faults_.empty()) return faults_by_place();
    return std::move(rows_);
  }

 private:
  void read_header() {
    name_columns(column_names());
    need("date", "add it: one day a row, such as 2027-01-12");
  }

  EntryWords words_of(const CsvRow& row) const {
    EntryWords words;
    for (const auto& [key, index] : columns_) {
      std::string text = row[index].text;
      if (text.empty()) continue;
      if (is_free_text(key)) {
        text = without_guard(text);
      } else if (table_.separator != ',') {
        text = with_points(std::move(text));
      }
      if (key == "sets") {
        words.sets = parted(text);
      } else if (key == "in_reserve") {
        words.in_reserve = parted(text);
      } else {
        words.fields[key] = std::move(text);
      }
    }
    if (words.fields.count("kind") == 0) {
      for (const auto& [key, kind] :
           {std::pair("work", "work"), std::pair("event", "result"), std::pair("where", "pain")}) {
        if (words.fields.count(key) > 0) words.fields.emplace("kind", kind);
      }
    }
    return words;
  }

  // The cell that a fault is about; the row's first where the column is not there.
  const CsvCell& cell_of(const CsvRow& row, const std::string& key) const {
    const auto found = columns_.find(key);
    return found == columns_.end() ? row.front() : row[found->second];
  }

  void read_row(const CsvRow& row) {
    EntryWords words = words_of(row);
    const auto kind = words.fields.find("kind");
    if (kind == words.fields.end()) {
      if (!sound_header_) return;  // the unknown column may well say it
      fault(row.front(), "", "it is not clear what this row is",
            "fill in work, event or where, or write \"missed\" in the column kind");
      return;
    }
    if (kind->second == "void" || kind->second == "replace") {
      fault(cell_of(row, "kind"), "kind", "corrections cannot be imported", "correct the rows themselves");
      return;
    }
    words.fields["id"] = id_of_content("");  // any: the true one follows from the content
    auto entry = read_entry_words(words, context_);
    if (!entry.ok()) {
      for (Diagnostic one : entry.faults()) {
        const CsvCell& cell = cell_of(row, one.field);
        fault(cell, one.field, std::move(one.message), std::move(one.hint));
      }
      return;
    }
    add(std::move(entry).value(), row.front().line);
  }

  // Two equal rows are two entries: the second time on one day.
  void add(Entry entry, int line) {
    entry.id.clear();
    Json json = entry_json(entry);
    json.erase("id");
    const std::string content = json.dump(-1, ' ', false, Json::error_handler_t::replace);
    const int times = ++seen_[content];
    entry.id = id_of_content(times == 1 ? content : fmt::format("{}#{}", content, times));
    rows_.push_back({std::move(entry), line});
  }

  const EntryContext& context_;
  bool sound_header_ = true;
  std::map<std::string, int> seen_;
  std::vector<HistoryRow> rows_;
};

}  // namespace

Result<std::vector<HistoryRow>> read_history(std::string_view text, const std::string& file,
                                             const EntryContext& context) {
  const auto table = read_csv(text, file);
  if (!table.ok()) return table.faults();
  return HistoryReader(table.value(), file, context).read();
}

}  // namespace backplan::io
