#include "io/wide_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace backplan::io {
namespace {

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
}

// Lower case, plain hyphens, no blanks: "Ages 22 – 26" becomes "ages22-26".
std::string plain(std::string_view text) {
  std::string out(text);
  for (const std::string_view dash :
       {"\xE2\x80\x90", "\xE2\x80\x91", "\xE2\x80\x92", "\xE2\x80\x93", "\xE2\x80\x94", "\xE2\x88\x92"}) {
    replace_all(out, dash, "-");
  }
  replace_all(out, "\xC2\xA0", "");  // no-break space
  replace_all(out, " ", "");
  for (char& c : out) {
    if ('A' <= c && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

// Words with blanks that belong together in a header parted by single blanks.
std::string joined_words(std::string text) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 8> kJoined{{{"Over ", "Over"},
                                                                                  {"over ", "over"},
                                                                                  {"OVER ", "OVER"},
                                                                                  {" and over", "andover"},
                                                                                  {" and Over", "andOver"},
                                                                                  {" and older", "andolder"},
                                                                                  {" - ", "-"},
                                                                                  {" +", "+"}}};
  for (const auto& [from, to] : kJoined) replace_all(text, from, to);
  return text;
}

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

CsvRow split_at_blanks(std::string_view line, int number, std::size_t least_blanks) {
  CsvRow row;
  std::size_t at = line.find_first_not_of(' ');
  while (at != std::string_view::npos && at < line.size()) {
    std::size_t end = line.find(std::string(least_blanks, ' '), at);
    end = std::min(end, line.size());
    std::string text(line.substr(at, end - at));
    while (!text.empty() && text.back() == ' ') text.pop_back();
    row.push_back({std::move(text), number, static_cast<int>(characters(line.substr(0, at))) + 1});
    at = line.find_first_not_of(' ', end);
  }
  return row;
}

// Lines parted by runs of blanks. An empty cell leaves no trace there, so a short row is a fault.
Result<CsvTable> read_blank_parted(std::string_view text, const std::string& file) {
  const bool by_runs = text.find("  ") != std::string_view::npos;
  const std::string joined = by_runs ? std::string(text) : joined_words(std::string(text));
  constexpr std::size_t kMostFaults = 50;
  CsvTable table;
  table.separator = ' ';
  Diagnostics faults;
  int number = 0;
  for (std::size_t from = 0; from < joined.size() && faults.size() < kMostFaults;) {
    const std::size_t end = std::min(joined.find('\n', from), joined.size());
    std::string_view line = std::string_view(joined).substr(from, end - from);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    from = end + 1;
    CsvRow row = split_at_blanks(line, ++number, by_runs ? 2 : 1);
    if (row.empty()) continue;
    if (!table.rows.empty() && row.size() != table.rows.front().size()) {
      faults.push_back(
          {Severity::error,
           file,
           number,
           row.back().column,
           {},
           fmt::format("a row of {} cells, the header has {}", row.size(), table.rows.front().size()),
           "write --- where the table gives no row, or part the cells by tabs"});
    }
    table.rows.push_back(std::move(row));
  }
  if (!faults.empty()) return faults;
  if (table.rows.empty())
    return Diagnostic{Severity::error, file, 0, 0, {}, "the table is empty", "copy it again"};
  return table;
}

class WideReader {
 public:
  WideReader(const CsvTable& table, const std::string& file, const Event& event, const std::string& column,
             const Standard& standard)
      : table_(table), file_(file), event_(event), column_(column), standard_(standard) {}

  Result<std::vector<ScaleCell>> read() {
    read_header();
    for (std::size_t i = 1; i < table_.rows.size() && faults_.size() < kMostFaults; ++i) {
      if (!is_repeated_header(table_.rows[i])) read_row(table_.rows[i]);
    }
    if (!faults_.empty()) return std::move(faults_);
    return std::move(cells_);
  }

 private:
  static constexpr std::size_t kMostFaults = 50;

  void fault(const CsvCell& at, std::string message, std::string hint) {
    faults_.push_back({Severity::error, file_, at.line, at.column, {}, std::move(message), std::move(hint)});
  }

  void read_header() {
    const CsvRow& header = table_.rows.front();
    if (read_band(header.front().text, standard_.bands)) {
      fault(header.front(), "the first column is an age band", "put the points into the first column");
    }
    for (std::size_t i = 1; i < header.size() && faults_.size() < kMostFaults; ++i) {
      const auto band = read_band(header[i].text, standard_.bands);
      if (!band) {
        fault(header[i], fmt::format("\"{}\" is no age band of {}", header[i].text, standard_.id),
              fmt::format("bands: {}", all_bands()));
      } else if (std::find(bands_.begin(), bands_.end(), band) != bands_.end()) {
        fault(header[i], fmt::format("age band {} is there twice", to_string(*band)),
              "give one table an event and column");
      }
      bands_.push_back(band);
    }
    for (const AgeBand& band : standard_.bands) {
      if (std::find(bands_.begin(), bands_.end(), band) == bands_.end()) {
        fault(header.back(), fmt::format("age band {} is missing", to_string(band)),
              "copy the whole table; a part of a table is never used");
      }
    }
  }

  std::string all_bands() const {
    std::string names;
    for (const AgeBand& band : standard_.bands) names += (names.empty() ? "" : ", ") + to_string(band);
    return names;
  }

  // A copied table of two pages repeats its header.
  bool is_repeated_header(const CsvRow& row) const {
    const CsvRow& header = table_.rows.front();
    return std::equal(row.begin(), row.end(), header.begin(), header.end(),
                      [](const CsvCell& a, const CsvCell& b) { return a.text == b.text; });
  }

  void read_row(const CsvRow& row) {
    const PointGrid& grid = standard_.points;
    const auto points = read_points(decimal_text(table_, row.front()));
    if (!points || *points < grid.least || *points > grid.most ||
        (*points - grid.least).tenths() % grid.step.tenths() != 0) {
      fault(row.front(), fmt::format("\"{}\" is no points value of {}", row.front().text, standard_.id),
            fmt::format("points go from {} to {} in steps of {}", to_string(grid.least), to_string(grid.most),
                        to_string(grid.step)));
      return;
    }
    check_order(row.front(), *points);
    for (std::size_t i = 1; i < row.size(); ++i) {
      if (bands_[i - 1]) read_cell(row[i], *bands_[i - 1], *points);
    }
  }

  // Points go one way, up or down, without a repeat.
  void check_order(const CsvCell& at, Points points) {
    if (last_points_) {
      const bool rises = points > *last_points_;
      if (!rises_) rises_ = rises;
      if (points == *last_points_ || rises != *rises_) {
        fault(at, fmt::format("{} points after {}", to_string(points), to_string(*last_points_)),
              "list the points in one order, each once");
      }
    }
    last_points_ = points;
  }

  void read_cell(const CsvCell& at, AgeBand band, Points points) {
    ScaleCell cell;
    cell.key = {event_.id, column_, band};
    cell.points = points;
    cell.file = file_;
    cell.line = at.line;
    cell.column = at.column;
    const std::string text = decimal_text(table_, at);
    if (!is_no_row(text)) {
      Reading<double> reading = read_cell_result(text, event_);
      if (!reading.value) fault(at, std::move(reading.problem), std::move(reading.hint));
      cell.result = reading.value;
    }
    cells_.push_back(std::move(cell));
  }

  const CsvTable& table_;
  const std::string& file_;
  const Event& event_;
  const std::string& column_;
  const Standard& standard_;
  std::vector<std::optional<AgeBand>> bands_;
  std::optional<Points> last_points_;
  std::optional<bool> rises_;
  std::vector<ScaleCell> cells_;
  Diagnostics faults_;
};

}  // namespace

Result<CsvTable> read_loose_table(std::string_view text, const std::string& file) {
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) text.remove_prefix(kByteOrderMark.size());
  // Only the first line tells what parts the cells: later ones may hold decimal commas.
  const std::string_view header = text.substr(0, text.find('\n'));
  const bool separated = header.find_first_of(",;\t") != std::string_view::npos;
  if (separated || text.size() > CsvLimits{}.most_bytes || text.find('\0') != std::string_view::npos) {
    return read_csv(text, file);
  }
  return read_blank_parted(text, file);
}

std::optional<AgeBand> read_band(std::string_view text, const std::vector<AgeBand>& bands) {
  std::string name = plain(text);
  for (const std::string_view word : {"years", "yrs", "ages", "age"}) replace_all(name, word, "");
  if (bands.size() == 1 && name == "all") return bands.front();
  for (const AgeBand& band : bands) {
    if (name == fmt::format("{}-{}", band.least, band.most)) return band;
    if (band != bands.back()) continue;
    // The open band: some tables print "over 61", some "over 62", for those who are 62 or older.
    for (const std::string_view form : {"{}+", "{}andover", "{}andolder", "{}&over", "{}orolder", "over{}"}) {
      if (name == fmt::format(fmt::runtime(form), band.least)) return band;
    }
    if (name == fmt::format("over{}", band.least - 1)) return band;
  }
  return std::nullopt;
}

Result<std::vector<ScaleCell>> read_wide_table(const CsvTable& table, const std::string& file,
                                               const Event& event, const std::string& column,
                                               const Standard& standard) {
  return WideReader(table, file, event, column, standard).read();
}

}  // namespace backplan::io
