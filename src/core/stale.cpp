// Results that are no evidence of today: too old, or from before the clearance after a pregnancy.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <utility>
#include <variant>

#include "backplan/evidence.hpp"
#include "backplan/numeric.hpp"
#include "backplan/units.hpp"

namespace backplan {
namespace {

bool before_clearance(Date date, const Medical& medical) {
  return medical.status == MedicalStatus::postpartum && medical.cleared_on && date < *medical.cleared_on;
}

// By event: the latest day on which something that is no lower bound, and no guess, was shown.
std::map<std::string, Date> latest_shown(const Candidate& candidate, const std::vector<Done>& entries,
                                         const Standard& standard, const Model& model, Date as_of) {
  std::vector<DatedResult> results = candidate.results;
  std::erase_if(results, [](const DatedResult& one) { return one.setting == Setting::estimate; });
  std::vector<Evidence> shown = evidence_of(results, standard, model);
  for (const Done& done : entries) {
    const auto* result = std::get_if<ResultDone>(&done.what);
    if (result != nullptr && result->setting == Setting::estimate) continue;
    if (const auto one = evidence_of(done, standard, model)) shown.push_back(*one);
  }
  std::map<std::string, Date> out;
  for (const Evidence& one : shown) {
    if (one.lower_bound || one.date > as_of) continue;
    const auto [latest, first] = out.emplace(one.event, one.date);
    if (!first) latest->second = std::max(latest->second, one.date);
  }
  return out;
}

}  // namespace

void mind_clearance(std::vector<Evidence>& evidence, const Medical& medical, const Model& model) {
  for (Evidence& one : evidence) {
    if (!before_clearance(one.date, medical)) continue;
    one.v -= model.before_clearance_reads_high;
    one.break_variance = numeric::squared(model.before_clearance_sd);
  }
}

std::vector<StaleResult> stale_results(const Candidate& candidate, const std::vector<Done>& entries,
                                       const Standard& standard, const Model& model, Date as_of) {
  const auto shown = latest_shown(candidate, entries, standard, model, as_of);
  std::vector<StaleResult> out;
  for (const Event& event : standard.events) {
    const auto latest = shown.find(event.id);
    if (latest == shown.end()) continue;
    const Date date = latest->second;
    const auto days = static_cast<int>((as_of - date).count());
    const bool cleared_since = before_clearance(date, candidate.medical);
    if (cleared_since || days > model.stale_after_days)
      out.push_back({event.id, date, days / kDaysAWeek, cleared_since});
  }
  return out;
}

std::vector<std::string> cautions_of(const std::vector<StaleResult>& stale) {
  std::map<Date, std::vector<StaleResult>> by_date;
  for (const StaleResult& one : stale) by_date[one.date].push_back(one);
  std::vector<std::string> out;
  for (const auto& [date, results] : by_date) {
    std::vector<std::string> events;
    for (const StaleResult& one : results) events.push_back(one.event);
    const std::string what = fmt::format("{}: the latest result{} of {}", fmt::join(events, ", "),
                                         events.size() == 1 ? " is" : "s are", say_day(date));
    if (results.front().before_clearance) {
      out.push_back(what +
                    ", from before the clearance: no evidence of today. The forecast takes them lower "
                    "and wider, loads and paces start low; new results, once staff allow them, set "
                    "this right.");
      continue;
    }
    const int weeks = results.front().weeks;
    out.push_back(what + fmt::format(", {} {} ago: the figures of today are doubtful. Loads and paces start "
                                     "low until a newer result is logged.",
                                     weeks, weeks == 1 ? "week" : "weeks"));
  }
  return out;
}

}  // namespace backplan
