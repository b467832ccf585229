// A standard from the files of its folder.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "io/cells.hpp"
#include "io/json_text.hpp"
#include "io/readers.hpp"
#include "io/standard_frame.hpp"

namespace backplan::io {
namespace {

constexpr std::string_view kFrameFile = "standard.json";
constexpr std::string_view kCellsFile = "cells.csv";
constexpr std::string_view kImportedEnd = ".cells.csv";

std::string_view file_name(std::string_view path) { return path.substr(path.rfind('/') + 1); }

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() > end.size() && text.substr(text.size() - end.size()) == end;
}

Diagnostic whole_file(const std::string& file, std::string message, std::string hint) {
  return {Severity::error, file, 0, 0, {}, std::move(message), std::move(hint)};
}

void append(Diagnostics& all, const Diagnostics& more) { all.insert(all.end(), more.begin(), more.end()); }

// By path, so that the order in which a folder is listed changes nothing.
std::vector<const DataFile*> sorted_files(const std::vector<DataFile>& folder) {
  std::vector<const DataFile*> files;
  for (const DataFile& file : folder) files.push_back(&file);
  std::stable_sort(files.begin(), files.end(),
                   [](const DataFile* a, const DataFile* b) { return a->path < b->path; });
  return files;
}

// An imported table counts only whole: for each event and column in it every age band, and in each band
// every points value that the file has for any band.
void check_imported_whole(const std::vector<ScaleCell>& cells, const Standard& frame, Diagnostics& faults) {
  std::map<std::pair<std::string, std::string>, std::map<AgeBand, std::set<Points>>> tables;
  std::map<std::pair<std::string, std::string>, std::set<Points>> all_points;
  for (const ScaleCell& cell : cells) {
    tables[{cell.key.event, cell.key.column}][cell.key.band].insert(cell.points);
    all_points[{cell.key.event, cell.key.column}].insert(cell.points);
  }
  for (auto& [table, bands] : tables) {
    for (const AgeBand& band : frame.bands) {
      const std::size_t missing = all_points[table].size() - bands[band].size();
      if (missing == 0) continue;
      faults.push_back(
          whole_file(cells.front().file,
                     fmt::format("{} of {} points values are missing for {}, {}, {}", missing,
                                 all_points[table].size(), table.first, table.second, to_string(band)),
                     "import the whole table again; a part of a table is never used"));
    }
  }
}

CellsByScale read_all_cells(const std::vector<const DataFile*>& files, const Standard& frame,
                            Diagnostics& faults) {
  CellsByScale by_scale;
  for (const DataFile* file : files) {
    const bool shipped = file_name(file->path) == kCellsFile;
    if (!shipped && !ends_with(file->path, kImportedEnd)) continue;
    const auto cells =
        read_cells(file->text, file->path, frame, shipped ? CellsKind::shipped : CellsKind::official);
    if (!cells) {
      append(faults, cells.faults());
      continue;
    }
    if (!shipped) check_imported_whole(cells.value(), frame, faults);
    for (const ScaleCell& cell : cells.value()) by_scale[cell.key].push_back(cell);
  }
  return by_scale;
}

void add_scale(const FramedEvent& framed, const ScaleKey& key, const CellsByScale& cells,
               const std::string& file, Standard& standard, Diagnostics& faults) {
  const Event& event = framed.event;
  const auto found = cells.find(key);
  if (framed.formula) {
    if (found != cells.end()) {
      const ScaleCell& cell = found->second.front();
      faults.push_back({Severity::error,
                        cell.file,
                        cell.line,
                        cell.column,
                        {},
                        fmt::format("a cell for {}, which is scored by a formula", event.id),
                        "remove the cells or the formula"});
    }
    const Scale scale =
        Scale::formula(event.direction, event.resolution, framed.formula->formula, framed.formula->least);
    // Under the lowest row of a formula no points are planned for; a result there is still scored by it.
    const bool cut = framed.formula->least > Points();
    standard.scales.emplace(key, cut ? scale.with_floor(Points()) : scale);
    return;
  }
  const std::size_t faults_before = faults.size();
  auto scale = found == cells.end() ? std::nullopt : build_scale(standard, event, found->second, faults);
  if (scale) {
    const auto& below = standard.points.below;
    if (below && scale->rows().front().points <= *below) {
      faults.push_back(
          whole_file(file, fmt::format("{}: the lowest row earns no more than a result under it", key.event),
                     "let \"below\" in standard.json be less than every row"));
    }
    standard.scales.emplace(key, below ? scale->with_floor(*below) : *std::move(scale));
  } else if (faults.size() == faults_before) {
    faults.push_back(
        whole_file(file, fmt::format("no cells for {}, {}, {}", key.event, key.column, to_string(key.band)),
                   "add its rows to cells.csv; every event needs every column and age band"));
  }
}

// A minimum that no row gives could never be reached.
void check_minimums(const Standard& standard, const std::string& file, Diagnostics& faults) {
  std::set<std::pair<std::string, std::string>> told;  // category, event
  for (const auto& [key, scale] : standard.scales) {
    for (const Category& category : standard.categories) {
      const auto minimum = category.minimum_of(key.event);
      const Points top = scale.rows().back().points;
      const bool other_column = !category.column.empty() && category.column != key.column;
      if (!minimum || *minimum <= top || other_column) continue;
      if (!told.emplace(category.id, key.event).second) continue;
      faults.push_back(
          whole_file(file,
                     fmt::format("{}: the minimum of {} points in {} is over {}, the most that {}, "
                                 "{} gives",
                                 category.id, to_string(*minimum), key.event, to_string(top), key.column,
                                 to_string(key.band)),
                     "lower the minimum in standard.json, or add the rows that it needs"));
    }
  }
}

}  // namespace

Result<Standard> read_standard(const std::vector<DataFile>& folder) {
  const std::vector<const DataFile*> files = sorted_files(folder);
  const auto frame_file = std::find_if(
      files.begin(), files.end(), [](const DataFile* file) { return file_name(file->path) == kFrameFile; });
  if (frame_file == files.end()) {
    return whole_file(files.empty() ? "" : files.front()->path, "the folder has no standard.json",
                      "a standard is a folder with standard.json and, unless formulas score it, cells.csv");
  }
  Result<StandardFrame> frame = read_frame((*frame_file)->text, (*frame_file)->path);
  if (!frame) return frame.faults();
  Standard standard = frame.value().standard;
  Diagnostics faults;
  const CellsByScale cells = read_all_cells(files, standard, faults);
  if (!faults.empty()) return faults;
  for (const FramedEvent& framed : frame.value().events) {
    for (const std::string& column : standard.columns) {
      for (const AgeBand& band : standard.bands) {
        add_scale(framed, {framed.event.id, column, band}, cells, (*frame_file)->path, standard, faults);
      }
    }
  }
  check_minimums(standard, (*frame_file)->path, faults);
  if (!faults.empty()) return faults;
  std::string bytes;
  for (const DataFile* file : files) {
    bytes += fmt::format("{} {}\n", file_name(file->path), file->text.size());
    bytes += file->text;
  }
  standard.content_hash = content_hash(bytes);
  return standard;
}

}  // namespace backplan::io
