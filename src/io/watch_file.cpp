#include "io/watch_file.hpp"

#include <fmt/format.h>

#include <cmath>

#include "io/fit_reader.hpp"
#include "io/gpx_reader.hpp"
#include "io/tcx_reader.hpp"
#include "io/watch_parts.hpp"
#include "io/xml_text.hpp"

namespace backplan::io {
namespace {

constexpr std::int64_t kDay = 86400;

bool has_suffix(std::string_view file, std::string_view suffix) {
  if (file.size() < suffix.size()) return false;
  file.remove_prefix(file.size() - suffix.size());
  for (std::size_t i = 0; i < suffix.size(); ++i) {
    const char c = file[i] >= 'A' && file[i] <= 'Z' ? static_cast<char>(file[i] - 'A' + 'a') : file[i];
    if (c != suffix[i]) return false;
  }
  return true;
}

bool begins_with(std::string_view bytes, std::string_view beginning) {
  return bytes.substr(0, beginning.size()) == beginning;
}

bool is_packed(std::string_view bytes) {
  return begins_with(bytes, "PK\x03\x04") || begins_with(bytes, "\x1f\x8b");
}

std::int64_t local_seconds(const WatchRun& run) { return run.start + run.utc_offset_s.value_or(0); }

std::int64_t day_number(std::int64_t seconds) {
  return seconds >= 0 ? seconds / kDay : -((-seconds + kDay - 1) / kDay);
}

Result<WatchRun> read_xml_run(std::string_view bytes, const std::string& file) {
  const auto xml = XmlText::parse(bytes, file);
  if (!xml.ok()) return xml.faults();
  const XmlText& text = *xml.value();
  const std::string_view root = local_name(text.root());
  if (root == "gpx") return read_gpx(text);
  if (root == "TrainingCenterDatabase") return read_tcx(text);
  return text.fault_at(text.root(), "the XML is neither GPX nor TCX",
                       "export the run from the watch as GPX, TCX or FIT");
}

}  // namespace

std::string_view to_string(WatchFormat format) {
  switch (format) {
    case WatchFormat::gpx:
      return "GPX";
    case WatchFormat::tcx:
      return "TCX";
    case WatchFormat::fit:
      break;
  }
  return "FIT";
}

Date day_of(const WatchRun& run) { return Date(Days(day_number(local_seconds(run)))); }

std::string clock_of(const WatchRun& run) {
  const std::int64_t local = local_seconds(run);
  const std::int64_t minutes = (local - kDay * day_number(local)) / 60;
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

bool is_watch_file(std::string_view bytes, std::string_view file) {
  if (is_fit(bytes) || is_xml(bytes) || is_packed(bytes)) return true;
  return has_suffix(file, ".gpx") || has_suffix(file, ".tcx") || has_suffix(file, ".fit");
}

Result<WatchRun> read_watch_file(std::string_view bytes, const std::string& file) {
  if (bytes.size() > kMostWatchBytes) {
    return watch_fault(file, fmt::format("the file is larger than {} MB", kMostWatchBytes >> 20U),
                       "export one run alone");
  }
  if (is_packed(bytes))
    return watch_fault(file, "the file is packed", "unpack it first and import what is in it");
  const bool fit = is_fit(bytes) || (has_suffix(file, ".fit") && !is_xml(bytes));
  const auto run = fit ? read_fit(bytes, file) : read_xml_run(bytes, file);
  if (!run.ok()) return run;
  const Diagnostics faults = faults_of(run.value(), file);
  if (!faults.empty()) return faults;
  return run;
}

}  // namespace backplan::io
