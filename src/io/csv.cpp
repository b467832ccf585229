#include "io/csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "io/characters.hpp"
#include "io/json_syntax.hpp"

namespace backplan::io {
namespace {

bool starts_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }
bool is_blank(char c) { return c == ' ' || c == '\t'; }

std::string_view without_blanks(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

char most_frequent_separator(std::string_view text) {
  std::size_t commas = 0;
  std::size_t semicolons = 0;
  std::size_t tabs = 0;
  bool quoted = false;
  for (const char c : text) {
    if (c == '"') quoted = !quoted;
    if (c == '\n' && !quoted) break;
    if (quoted) continue;
    commas += c == ',' ? 1U : 0U;
    semicolons += c == ';' ? 1U : 0U;
    tabs += c == '\t' ? 1U : 0U;
  }
  if (tabs > 0 && tabs >= semicolons && tabs >= commas) return '\t';
  return semicolons > 0 && semicolons >= commas ? ';' : ',';
}

// Digits, one mark, digits: the shape of "8,4" and "8.4".
bool is_decimal_with(std::string_view text, char mark) {
  if (!text.empty() && (text.front() == '-' || text.front() == '+')) text.remove_prefix(1);
  const std::size_t at = text.find(mark);
  if (at == std::string_view::npos || at == 0 || at + 1 == text.size()) return false;
  const auto all_digits = [](std::string_view part) {
    return std::all_of(part.begin(), part.end(), [](char c) { return '0' <= c && c <= '9'; });
  };
  return all_digits(text.substr(0, at)) && all_digits(text.substr(at + 1));
}

std::string_view without_mark(std::string_view text) {
  const bool marked = text.substr(0, kByteOrderMark.size()) == kByteOrderMark;
  return marked ? text.substr(kByteOrderMark.size()) : text;
}

// Of a first line "sep=;", quoted or not.
std::optional<char> named_separator(std::string_view text) {
  std::string_view line = text.substr(0, text.find('\n'));
  if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
  if (line.size() > 1 && line.front() == '"' && line.back() == '"') line = line.substr(1, line.size() - 2);
  constexpr std::string_view kBegin = "sep=";
  if (line.size() != kBegin.size() + 1 || line.substr(0, kBegin.size()) != kBegin) return std::nullopt;
  const char separator = line.back();
  if (separator != ',' && separator != ';' && separator != '\t') return std::nullopt;
  return separator;
}

Diagnostic not_utf8(std::string_view text, const std::string& file, std::size_t bad) {
  Diagnostic fault;
  fault.file = file;
  fault.line = 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<long>(bad), '\n'));
  const std::size_t start = bad == 0 ? 0 : text.rfind('\n', bad - 1) + 1;
  const std::string_view before = text.substr(start, bad - start);
  fault.column = 1 + static_cast<int>(std::count_if(before.begin(), before.end(), starts_character));
  fault.message =
      fmt::format("not a text in UTF-8: found the byte {:#04x}", static_cast<unsigned char>(text[bad]));
  fault.hint = "save the table as UTF-8; spreadsheets call it \"CSV UTF-8\"";
  return fault;
}

class CsvParser {
 public:
  CsvParser(std::string_view text, std::string file, char separator, CsvLimits limits, int first_line)
      : text_(text), file_(std::move(file)), limits_(limits), line_(first_line) {
    table_.separator = separator;
  }

  Result<CsvTable> parse() {
    while (at_ < text_.size() && faults_.size() < kMostTableFaults) {
      if (table_.rows.size() == limits_.most_rows) {
        fault(line_, 1, fmt::format("more than {} rows", limits_.most_rows), "split the file");
        break;
      }
      table_.rows.push_back(row());
    }
    drop_empty_end();
    if (faults_.empty() && table_.rows.empty())
      fault(0, 0, "the table is empty", "give a header line and rows");
    check_lengths();
    if (table_.separator == ';') check_decimals();
    if (!faults_.empty()) return std::move(faults_);
    return std::move(table_);
  }

 private:
  void fault(int line, int column, std::string message, std::string hint) {
    faults_.push_back({Severity::error, file_, line, column, {}, std::move(message), std::move(hint)});
  }

  // Moves over one byte and keeps count of the characters of the line.
  char take() {
    const char c = text_[at_++];
    if (starts_character(c)) ++column_;
    if (c == '\n') {
      ++line_;
      column_ = 1;
    }
    return c;
  }

  bool at_line_end() const {
    if (at_ == text_.size() || text_[at_] == '\n') return true;
    return text_[at_] == '\r' && (at_ + 1 == text_.size() || text_[at_ + 1] == '\n');
  }
  bool at_cell_end() const { return at_line_end() || text_[at_] == table_.separator; }

  CsvRow row() {
    CsvRow cells;
    while (true) {
      cells.push_back(cell());
      if (at_line_end()) break;
      if (cells.size() == limits_.most_columns) {
        fault(line_, column_, fmt::format("more than {} cells in a row", limits_.most_columns),
              "check that this is a table");
        skip_line();
        break;
      }
      take();  // the separator
    }
    if (at_ < text_.size() && text_[at_] == '\r') take();
    if (at_ < text_.size()) take();
    return cells;
  }

  CsvCell cell() {
    while (!at_cell_end() && is_blank(text_[at_])) take();
    CsvCell cell{{}, line_, column_};
    if (!at_cell_end() && text_[at_] == '"') {
      quoted(cell);
    } else {
      plain(cell);
    }
    return cell;
  }

  void plain(CsvCell& cell) {
    const std::size_t from = at_;
    while (!at_cell_end()) {
      if (text_[at_] == '"') {
        fault(line_, column_, "a quote inside a cell that does not start with one",
              "put the whole cell in quotes and write each quote in it twice");
        skip_line();
        return;
      }
      if (text_[at_] == '\r') {
        fault(line_, column_, "a lone carriage return", "end lines with LF or CRLF");
        skip_line();
        return;
      }
      take();
    }
    cell.text = std::string(without_blanks(text_.substr(from, at_ - from)));
  }

  void quoted(CsvCell& cell) {
    take();
    while (true) {
      if (at_ == text_.size()) {
        fault(cell.line, cell.column, "a quote that is opened here is never closed", "close it");
        return;
      }
      const char c = take();
      if (c != '"') {
        cell.text += c;
      } else if (at_ < text_.size() && text_[at_] == '"') {
        cell.text += take();
      } else {
        break;
      }
    }
    while (!at_cell_end() && is_blank(text_[at_])) take();
    if (at_cell_end()) return;
    fault(line_, column_, "text after the closing quote of a cell", "write a quote inside a cell twice");
    skip_line();
  }

  // After a fault inside a line the rest of it says nothing.
  void skip_line() {
    broken_lines_.push_back(line_);
    while (!at_line_end()) take();
  }

  void drop_empty_end() {
    const auto is_empty = [](const CsvRow& row) { return row.size() == 1 && row.front().text.empty(); };
    while (!table_.rows.empty() && is_empty(table_.rows.back())) table_.rows.pop_back();
  }

  void check_lengths() {
    for (const CsvRow& row : table_.rows) {
      const std::size_t wanted = table_.rows.front().size();
      const bool broken = std::any_of(broken_lines_.begin(), broken_lines_.end(), [&](int line) {
        return row.front().line <= line && line <= row.back().line;
      });
      if (row.size() == wanted || broken || faults_.size() >= kMostTableFaults) continue;
      fault(row.back().line, row.back().column,
            fmt::format("a row of {} cells, the header has {}", row.size(), wanted),
            "give every row as many cells as the header; an empty cell still needs its separator");
    }
  }

  void check_decimals() {
    const CsvCell* point = nullptr;
    for (const CsvRow& row : table_.rows) {
      for (const CsvCell& cell : row) {
        if (is_decimal_with(cell.text, ',')) table_.decimal_comma = true;
        if (point == nullptr && is_decimal_with(cell.text, '.')) point = &cell;
      }
    }
    if (!table_.decimal_comma || point == nullptr) return;
    fault(point->line, point->column,
          fmt::format("\"{}\" has a decimal point, other cells have a decimal comma", point->text),
          "use one of them in the whole file");
  }

  std::string_view text_;
  std::string file_;
  CsvLimits limits_;
  CsvTable table_;
  Diagnostics faults_;
  std::vector<int> broken_lines_;
  std::size_t at_ = 0;
  int line_;
  int column_ = 1;
};

}  // namespace

Result<CsvTable> read_csv(std::string_view text, const std::string& file, std::optional<char> separator,
                          CsvLimits limits) {
  if (text.size() > limits.most_bytes) {
    return Diagnostic{
        Severity::error,
        file,
        0,
        0,
        {},
        fmt::format("the file has {} bytes, at most {} are read", text.size(), limits.most_bytes),
        "give a table of one test only"};
  }
  if (text.find('\0') != std::string_view::npos) {
    return Diagnostic{Severity::error, file, 0, 0, {}, "the file is not text", "save the table as CSV text"};
  }
  if (const std::size_t bad = find_invalid_utf8(text); bad != std::string_view::npos)
    return not_utf8(text, file, bad);
  const std::size_t before = bytes_before_header(text);
  const std::optional<char> named = named_separator(without_mark(text));
  text.remove_prefix(before);
  const char parts = separator.value_or(named.value_or(most_frequent_separator(text)));
  return CsvParser(text, file, parts, limits, named ? 2 : 1).parse();
}

std::size_t bytes_before_header(std::string_view text) {
  const std::string_view rest = without_mark(text);
  const std::size_t mark = text.size() - rest.size();
  if (!named_separator(rest)) return mark;
  const std::size_t end = rest.find('\n');
  return end == std::string_view::npos ? text.size() : mark + end + 1;
}

std::string decimal_text(const CsvTable& table, const CsvCell& cell) {
  std::string text = cell.text;
  if (table.decimal_comma && is_decimal_with(text, ',')) std::replace(text.begin(), text.end(), ',', '.');
  return text;
}

std::string csv_field(std::string_view value) {
  const bool plain = value.find_first_of(",;\t\"\r\n") == std::string_view::npos;
  const bool outer_blank = !value.empty() && (is_blank(value.front()) || is_blank(value.back()));
  if (plain && !outer_blank) return std::string(value);
  std::string quoted = "\"";
  for (const char c : value) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + '"';
}

std::string with_points(std::string text) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  for (std::size_t i = 1; i + 1 < text.size(); ++i) {
    if (text[i] == ',' && is_digit(text[i - 1]) && is_digit(text[i + 1])) text[i] = '.';
  }
  return text;
}

}  // namespace backplan::io
