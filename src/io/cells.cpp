#include "io/cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <tuple>
#include <utility>

#include "io/csv.hpp"
#include "io/json_text.hpp"

namespace backplan::io {
namespace {

constexpr std::array<std::string_view, 9> kKnownColumns{"event",  "column", "age_min",    "age_max", "points",
                                                        "result", "origin", "confidence", "source"};
constexpr std::size_t kNeededColumns = 6;
constexpr std::size_t kOriginColumn = 6;
constexpr std::size_t kConfidenceColumn = 7;
constexpr std::size_t kSourceColumn = 8;

std::string suggestion(const std::string& word, const std::vector<std::string>& known) {
  const auto near = nearest_word(word, known);
  return near ? fmt::format("did you mean \"{}\"?", *near) : fmt::format("known: {}", fmt::join(known, ", "));
}

class CellsReader {
 public:
  CellsReader(const CsvTable& table, const std::string& file, const Standard& frame, CellsKind kind)
      : table_(table), file_(file), frame_(frame), kind_(kind) {}

  Result<std::vector<ScaleCell>> read() {
    read_header();
    if (!faults_.empty()) return std::move(faults_);
    for (std::size_t i = 1; i < table_.rows.size() && faults_.size() < kMostTableFaults; ++i) {
      read_row(table_.rows[i]);
    }
    if (!faults_.empty()) return std::move(faults_);
    return std::move(cells_);
  }

 private:
  void fault(const CsvCell& at, std::string message, std::string hint) {
    faults_.push_back({Severity::error, file_, at.line, at.column, {}, std::move(message), std::move(hint)});
  }

  void read_header() {
    const CsvRow& header = table_.rows.front();
    const std::vector<std::string> known(kKnownColumns.begin(), kKnownColumns.end());
    for (std::size_t i = 0; i < header.size(); ++i) {
      const auto found = std::find(kKnownColumns.begin(), kKnownColumns.end(), header[i].text);
      if (found == kKnownColumns.end()) {
        fault(header[i], fmt::format("unknown column \"{}\"", header[i].text),
              suggestion(header[i].text, known));
        continue;
      }
      auto& place = places_[static_cast<std::size_t>(found - kKnownColumns.begin())];
      if (place) fault(header[i], fmt::format("column \"{}\" is there twice", header[i].text), "remove one");
      place = i;
    }
    for (std::size_t i = 0; i < kKnownColumns.size(); ++i) {
      const bool of_origin = i == kOriginColumn || i == kSourceColumn;
      const bool needed = i < kNeededColumns || (of_origin && kind_ == CellsKind::shipped);
      if (needed && !places_[i]) {
        fault(header.front(), fmt::format("no column \"{}\"", kKnownColumns[i]), "add it to the header");
      }
    }
    if (kind_ == CellsKind::official && places_[kOriginColumn]) {
      fault(header[*places_[kOriginColumn]], "a column \"origin\" in an official table",
            "remove it; every cell of this file counts as official");
    }
  }

  const CsvCell& at(const CsvRow& row, std::size_t column) const { return row[*places_[column]]; }
  std::string optional_number(const CsvRow& row, std::size_t column) const {
    return places_[column] ? decimal_text(table_, at(row, column)) : std::string();
  }

  void read_row(const CsvRow& row) {
    ScaleCell cell;
    cell.file = file_;
    cell.line = at(row, 5).line;
    cell.column = at(row, 5).column;
    const std::size_t faults_before = faults_.size();
    const Event* event = read_event(row, cell);
    read_column(row, cell);
    read_band(row, cell);
    read_points_of(row, cell);
    if (event != nullptr) read_result_of(row, *event, cell);
    read_origin(row, cell);
    if (faults_.size() != faults_before) return;
    const auto [first, is_new] = seen_.insert({{cell.key, cell.points, cell.origin}, cell.line});
    if (!is_new) {
      fault(at(row, 4),
            fmt::format("{} points are given twice for {}, {}, {}; first in line {}", to_string(cell.points),
                        cell.key.event, cell.key.column, to_string(cell.key.band), first->second),
            "remove one of the two");
      return;
    }
    cells_.push_back(std::move(cell));
  }

  const Event* read_event(const CsvRow& row, ScaleCell& cell) {
    cell.key.event = at(row, 0).text;
    const Event* event = frame_.find_event(cell.key.event);
    if (event != nullptr) return event;
    std::vector<std::string> known;
    for (const Event& each : frame_.events) known.push_back(each.id);
    fault(at(row, 0), fmt::format("unknown event \"{}\"", cell.key.event), suggestion(cell.key.event, known));
    return nullptr;
  }

  void read_column(const CsvRow& row, ScaleCell& cell) {
    cell.key.column = at(row, 1).text;
    const auto& known = frame_.columns;
    if (std::find(known.begin(), known.end(), cell.key.column) != known.end()) return;
    fault(at(row, 1), fmt::format("unknown column \"{}\" of the scale", cell.key.column),
          suggestion(cell.key.column, known));
  }

  void read_band(const CsvRow& row, ScaleCell& cell) {
    const std::string text = fmt::format("{}-{}", at(row, 2).text, at(row, 3).text);
    std::vector<std::string> known;
    for (const AgeBand& band : frame_.bands) {
      if (text == fmt::format("{}-{}", band.least, band.most)) {
        cell.key.band = band;
        return;
      }
      known.push_back(fmt::format("{}-{}", band.least, band.most));
    }
    fault(at(row, 2), fmt::format("unknown age band {}", text),
          fmt::format("known: {}", fmt::join(known, ", ")));
  }

  void read_points_of(const CsvRow& row, ScaleCell& cell) {
    const PointGrid& grid = frame_.points;
    const std::optional<Points> points = read_points(decimal_text(table_, at(row, 4)));
    if (!points || *points < grid.least || *points > grid.most ||
        (*points - grid.least).tenths() % grid.step.tenths() != 0) {
      fault(at(row, 4), fmt::format("\"{}\" is no points value of this standard", at(row, 4).text),
            fmt::format("points go from {} to {} in steps of {}", to_string(grid.least), to_string(grid.most),
                        to_string(grid.step)));
      return;
    }
    cell.points = *points;
  }

  void read_result_of(const CsvRow& row, const Event& event, ScaleCell& cell) {
    const std::string text = decimal_text(table_, at(row, 5));
    if (kind_ == CellsKind::official && is_no_row(text)) return;
    Reading<double> reading = read_cell_result(text, event);
    if (!reading.value) fault(at(row, 5), std::move(reading.problem), std::move(reading.hint));
    cell.result = reading.value;
  }

  void read_origin(const CsvRow& row, ScaleCell& cell) {
    if (places_[kSourceColumn]) cell.source = at(row, kSourceColumn).text;
    if (kind_ == CellsKind::official) return;
    const std::string& word = at(row, kOriginColumn).text;
    bool known = false;
    for (const Origin origin : {Origin::official, Origin::published, Origin::memory}) {
      if (word != to_string(origin)) continue;
      cell.origin = origin;
      known = true;
    }
    if (!known) {
      fault(at(row, kOriginColumn), fmt::format("unknown origin \"{}\"", word),
            suggestion(word, {"official", "published", "memory"}));
    }
    if (cell.source.empty()) fault(at(row, kSourceColumn), "no source", "say where the cell was read");
    const std::string confidence = optional_number(row, kConfidenceColumn);
    const std::optional<double> share = read_decimal(confidence);
    if (!confidence.empty() && (!share || *share < 0.0 || *share > 1.0)) {
      fault(at(row, kConfidenceColumn), fmt::format("\"{}\" is no confidence", confidence),
            "write a number from 0 to 1, or nothing");
    }
  }

  const CsvTable& table_;
  const std::string& file_;
  const Standard& frame_;
  CellsKind kind_;
  std::array<std::optional<std::size_t>, kKnownColumns.size()> places_{};
  std::map<std::tuple<ScaleKey, Points, Origin>, int> seen_;
  std::vector<ScaleCell> cells_;
  Diagnostics faults_;
};

}  // namespace

Result<std::vector<ScaleCell>> read_cells(std::string_view text, const std::string& file,
                                          const Standard& frame, CellsKind kind) {
  Result<CsvTable> table = read_csv(text, file);
  if (!table) return table.faults();
  return CellsReader(table.value(), file, frame, kind).read();
}

}  // namespace backplan::io
