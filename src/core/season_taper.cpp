// The last days before the test: what a plan trains, in less and less of it.
#include <algorithm>
#include <array>
#include <string>

#include "core/filling.hpp"
#include "core/season.hpp"

namespace backplan {
namespace {

// What keeps its place longest as the taper thins the week.
const std::array<std::string, 9> kTaperOrder{"lift",    "intervals", "press",  "hold", "steady",
                                             "shuttle", "throw",     "pieces", "drill"};

int training_days(const SeasonWeek& week, int before, const Calendar& calendar) {
  int days = 0;
  for (int i = 0; i < week.count; ++i) {
    // Days before the taper may have fixed work alone.
    const int at = week.first + i;
    const bool fixed = at < before && calendar.days()[static_cast<std::size_t>(at)].fixed_any;
    days += week.days[static_cast<std::size_t>(i)].blocks.empty() && !fixed ? 0 : 1;
  }
  return days;
}

}  // namespace

// The kinds that the taper may thin. A plan that begins in its last week or two goes on with what was
// trained lately; of somebody who trains, but keeps no journal, that can be any kind.
std::vector<bool> SeasonPlanner::trained_kinds(const Season& season) const {
  std::vector<bool> trained;
  for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
    const std::string& id = calendar_.kinds()[k]->id;
    const auto in_week = [&](const SeasonWeek& week) {
      return week.column.pack.kinds[k].full + week.column.pack.kinds[k].shorter > 0;
    };
    const auto on_day = [&](const TrainedDay& day) { return day.sessions.count(id) > 0; };
    const auto& days = beginning_.so_far.days;
    trained.push_back(std::any_of(season.weeks.begin(), season.weeks.end(), in_week) ||
                      std::any_of(days.begin(), days.end(), on_day));
  }
  const bool unknown = std::none_of(trained.begin(), trained.end(), [](bool kind) { return kind; });
  if (unknown && !is_untrained()) trained.assign(trained.size(), true);
  return trained;
}

// The part of a week from day `first` on that is thinned. Days before the taper but in its first week come
// along where nothing has been planned on them.
Segment SeasonPlanner::taper_segment(const std::vector<SeasonWeek>& weeks, std::size_t w, int first,
                                     int usual_minutes) const {
  const Rules& rules = knowledge_.rules;
  const SeasonWeek& week = weeks[w];
  const int count = week.first + week.count - first;
  const int all = static_cast<int>(calendar_.days().size());
  int open = 0;
  for (int i = std::max(first, all - taper_days_); i < first + count; ++i)
    open += calendar_.days()[static_cast<std::size_t>(i)].blocked ? 0 : 1;
  Segment segment = segment_of(week.index, first, count, kNoTrainingWeek);
  segment.rehearse = false;
  segment.most_minutes = std::min(segment.most_minutes, static_cast<int>((1.0 - rules.taper_least_cut) *
                                                                         usual_minutes * open / kDaysAWeek));
  const int most = std::min(hard_day_limit(rules, candidate_.trains_as(), age_), ramp_limit(weeks, w));
  segment.most_hard = std::max(0, most - (week.hard == 0 ? week.fixed_hard : week.hard));
  segment.most_training_days = std::max(0, kDaysAWeek - rules.rest_days_a_week.of(candidate_.trains_as()) -
                                               training_days(week, first, calendar_));
  return segment;
}

// Once around with hard work first, then more of what is easy.
void SeasonPlanner::thin(Filling& filling, const std::vector<bool>& trained) const {
  for (const bool hard_too : {true, false}) {
    for (const std::string& family : kTaperOrder) {
      for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
        const WorkKind& kind = *calendar_.kinds()[k];
        if (kind.family == family && trained[k] && (hard_too || !kind.hard)) filling.add(k);
      }
    }
  }
}

void SeasonPlanner::place_taper(Season& season, const std::vector<int>& build_minutes) const {
  if (too_late_) return;
  const int all = static_cast<int>(calendar_.days().size());
  Laid laid(calendar_);
  for (const auto& week : season.weeks) laid.add(week.first, week.days);
  const std::vector<bool> trained = trained_kinds(season);
  const int usual = minutes_before_taper(season, build_minutes);
  for (std::size_t w = 0; w < season.weeks.size(); ++w) {
    SeasonWeek& week = season.weeks[w];
    const int first = std::max(week.first, all - std::max(taper_days_, kDaysAWeek));
    const int count = week.first + week.count - first;
    if (count <= 0 || week.phase == Phase::blocked || week.kept) continue;
    const Segment segment = taper_segment(season.weeks, w, first, usual);
    PlaceRequest request = request_for(segment);
    request.around = laid.around(first, count, beginning_.so_far, as_of_);
    Filling filling(calendar_, segment, request, week.column.pack);
    thin(filling, trained);
    const std::vector<PlacedDay>& days = filling.placement().days;
    std::copy(days.begin(), days.end(), week.days.begin() + (first - week.first));
    week.minutes += filling.placement().minutes;
    if (week.hard == 0) week.hard = week.fixed_hard;
    week.hard += calendar_.hard_blocks(filling.pack());
    laid.add(first, days);
  }
}

// Weeks of the plan that hold no training leave nothing to taper from: only without any does it go by what
// the person says, or else by the minutes there are.
int SeasonPlanner::minutes_before_taper(const Season& season, const std::vector<int>& build_minutes) const {
  if (!build_minutes.empty()) return median_of_last(build_minutes, kWeeksCompared);
  int most = 0;
  for (const auto& week : season.weeks) most = std::max(most, week.minutes);
  return most > 0 ? most : std::min(available_, candidate_.now.minutes.value_or(available_));
}

}  // namespace backplan
