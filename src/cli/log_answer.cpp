#include "cli/log_answer.hpp"

#include "cli/log_words.hpp"
#include "io/json_text.hpp"
#include "report/log_text.hpp"

namespace backplan::cli {

io::Json reading_json(const Done& done, const JournalDesk& desk) {
  const auto reading = evidence_of(done, desk.files().standard, desk.files().model);
  if (!reading) return nullptr;
  const report::ReadingRange range = report::range_of(*reading, desk.names());
  const Unit unit = desk.names().unit(reading->event);
  io::Json json;
  json["event"] = reading->event;
  json["result"] = io::rounded(range.result, io::kResultDecimals);
  json["low80"] = io::rounded(range.low, io::kResultDecimals);
  json["high80"] = io::rounded(range.high, io::kResultDecimals);
  json["unit"] = io::unit_json(unit);
  json["lower_bound"] = reading->lower_bound;
  json["text"] = report::reading_text(*reading, desk.names());
  return json;
}

io::Json stops_json(const std::vector<PainStop>& stops) {
  io::Json list = io::Json::array();
  for (const PainStop& stop : stops) {
    io::Json one;
    one["where"] = stop.region;
    one["since"] = io::date_json(stop.since);
    one["level"] = stop.level;
    one["work"] = stop.work;
    one["refers"] = stop.refers;
    one["emergency"] = stop.emergency;
    one["why"] = stop.why;
    list.push_back(std::move(one));
  }
  return list;
}

namespace {

// A key that is missing is about an option that was not given.
void name_missing_option(Diagnostic& fault) {
  if (!fault.missing_key) return;
  fault.message = option_of(*fault.missing_key) + " is missing";
  fault.hint = "give it; `backplan log --help` has examples";
}

}  // namespace

Diagnostics with_options(Diagnostics faults) {
  for (Diagnostic& fault : faults) {
    if (fault.file.empty() && fault.field.empty()) name_missing_option(fault);
    if (fault.file.empty() && !fault.field.empty()) fault.field = option_of(fault.field);
    if (fault.hint.empty()) fault.hint = "`backplan log --help` has examples";
  }
  return faults;
}

}  // namespace backplan::cli
