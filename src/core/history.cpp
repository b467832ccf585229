#include "backplan/history.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>
#include <variant>

#include "backplan/units.hpp"
#include "core/dose_history.hpp"

namespace backplan {
namespace {

constexpr int kRampDays = 14;        // the ramp looks back two weeks (data/model/rules.json)
constexpr int kLongestRunDays = 30;  // the run rule looks back 30 days

// The days of the record from `back` days before its end; fewer where the record is shorter.
std::vector<DayDone> last_days(const std::vector<DayDone>& days, int back) {
  const auto count = std::min(days.size(), static_cast<std::size_t>(back));
  return {days.end() - static_cast<std::ptrdiff_t>(count), days.end()};
}

// The latest run of days without training of two weeks or more.
std::optional<DaysOff> days_off(const std::vector<DayDone>& days, Date begins) {
  std::optional<DaysOff> out;
  int run = 0;
  for (std::size_t i = 0; i < days.size(); ++i) {
    run = days[i].minutes > 0.0 ? 0 : run + 1;
    if (run < kRampDays) continue;
    const Date date = begins + Days(static_cast<int>(i));
    out = DaysOff{date - Days(run - 1), date};
  }
  return out;
}

// The two weeks that tell what is usual: the last ones, or those before days off that they would meet. None
// where the record is too short to tell.
std::vector<DayDone> usual_days(const std::vector<DayDone>& days, const std::optional<DaysOff>& off,
                                Date begins) {
  std::vector<DayDone> until = days;
  if (off && (begins + Days(static_cast<int>(days.size())) - off->to).count() <= kRampDays)
    until.resize(static_cast<std::size_t>((off->from - begins).count()));
  return until.size() < static_cast<std::size_t>(kDaysAWeek) ? std::vector<DayDone>{}
                                                             : last_days(until, kRampDays);
}

int hard_days(const std::vector<DayDone>& days) {
  return static_cast<int>(std::count_if(days.begin(), days.end(), [](const DayDone& d) { return d.hard; }));
}

}  // namespace

bool History::empty() const {
  return !begins && std::none_of(entries.begin(), entries.end(), [](const Done& done) {
    return std::holds_alternative<ResultDone>(done.what);
  });
}

History history_of(const Standing& standing, std::optional<Plan> plan) {
  History out;
  out.entries = standing.entries;
  out.plan = std::move(plan);
  for (const Done& done : out.entries) {
    const bool tells =
        std::holds_alternative<WorkDone>(done.what) || std::holds_alternative<Missed>(done.what);
    if (tells && (!out.begins || done.date < *out.begins)) out.begins = done.date;
  }
  return out;
}

std::vector<DatedResult> results_so_far(const Candidate& candidate, const History& history, Date as_of) {
  std::vector<DatedResult> out;
  for (const auto& list : {candidate.results, results_in(history.entries)}) {
    std::copy_if(list.begin(), list.end(), std::back_inserter(out),
                 [&](const DatedResult& one) { return one.date <= as_of; });
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const DatedResult& a, const DatedResult& b) { return a.date < b.date; });
  return out;
}

Candidate as_trained(const Candidate& candidate, const Model& model, const History& history, Date as_of) {
  Candidate out = candidate;
  const auto days = days_done(history, model, as_of);
  const auto month = last_days(days, kLongestRunDays);
  Metres longest{0.0};
  for (const DayDone& day : month) longest = std::max(longest, day.longest_run);
  const bool whole_month = days.size() >= static_cast<std::size_t>(kLongestRunDays);
  if (whole_month || longest > candidate.now.longest_run.value_or(Metres(0.0))) out.now.longest_run = longest;
  if (days.size() < static_cast<std::size_t>(kDaysAWeek)) return out;
  out.now.since = history.begins;
  out.now.off = days_off(days, *history.begins);
  if (const auto usual = usual_days(days, out.now.off, *history.begins); !usual.empty()) {
    double minutes = 0.0;
    for (const DayDone& day : usual) minutes += day.minutes;
    out.now.minutes =
        static_cast<int>(std::floor(minutes * kDaysAWeek / static_cast<double>(usual.size()) + 0.5));
  }
  const auto weeks = last_days(days, kRampDays);
  // At most one more than the larger of the last two weeks: so the larger one is where the ramp starts.
  const auto last = last_days(days, kDaysAWeek);
  const std::vector<DayDone> before(weeks.begin(), weeks.end() - static_cast<std::ptrdiff_t>(last.size()));
  out.now.hard_sessions = std::max(hard_days(last), hard_days(before));
  return out;
}

}  // namespace backplan
