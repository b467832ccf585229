#include <algorithm>

#include "property/mutation_places.hpp"

namespace backplan::testing {
namespace {

int days_left(const Finished& f, Date date) {
  return static_cast<int>((f.candidate.test_date - date).count());
}

bool is_open_build(const Finished& f, const PlannedWeek& week) {
  if (week.phase != Phase::build || week.days_long != 7) return false;
  for (int offset = 0; offset < 7; ++offset) {
    if (is_blocked(f, week.starts + Days{offset})) return false;
  }
  return true;
}

bool train_every_day(Finished& f) {
  PlannedWeek* week = any_week(f, [&](const PlannedWeek& w) { return is_open_build(f, w); });
  if (week == nullptr) return false;
  const Date first = week->starts;
  for (int offset = 0; offset < 7; ++offset) {
    editor(f).add(first + Days{offset}, of_family(f, "hold")->id, BlockSize::home);
  }
  editor(f).refresh();
  return true;
}

// A rehearsal on each day makes each day hard.
bool make_every_day_hard(Finished& f) {
  PlannedWeek* week = any_week(f, [&](const PlannedWeek& w) { return is_open_build(f, w); });
  if (week == nullptr) return false;
  const Date first = week->starts;
  for (int offset = 0; offset < 7; ++offset) {
    editor(f).add(first + Days{offset}, of_family(f, "press")->id, BlockSize::shorter).rehearsal = true;
  }
  editor(f).refresh();
  return true;
}

bool add_three(Finished& f, const std::string& family) {
  PlannedWeek* week = any_week(f, [&](const PlannedWeek& w) { return is_open_build(f, w); });
  if (week == nullptr) return false;
  const Date first = week->starts;
  for (const int offset : {0, 2, 4}) editor(f).add(first + Days{offset}, of_family(f, family)->id);
  editor(f).refresh();
  return true;
}

bool call_deload_a_build_week(Finished& f) {
  const bool has_deload = std::any_of(f.plan.weeks.begin(), f.plan.weeks.end(),
                                      [](const PlannedWeek& week) { return week.phase == Phase::deload; });
  if (!has_deload || !f.candidate.blocked.empty() || f.plan.weeks.size() < 10) return false;
  for (PlannedWeek& week : f.plan.weeks) {
    if (week.phase == Phase::deload) week.phase = Phase::build;
  }
  return true;
}

bool fill_deload(Finished& f) {
  PlannedWeek* week = any_week(
      f, [](const PlannedWeek& w) { return w.phase == Phase::deload && w.days_long == 7 && w.minutes > 0; });
  if (week == nullptr) return false;
  for (int offset = 0; offset < 7; ++offset) {
    const Date date = week->starts + Days{offset};
    for (const WorkKind& kind : f.model.work) {
      if (!is_blocked(f, date)) editor(f).add(date, kind.id);
    }
  }
  editor(f).refresh();
  return true;
}

bool deload_before_the_taper(Finished& f) {
  PlannedWeek* week =
      any_week(f, [&](const PlannedWeek& w) { return w.phase == Phase::build && w.index == 3; });
  if (week == nullptr) return false;
  week->phase = Phase::deload;
  return true;
}

bool fill_taper(Finished& f) {
  const bool measured = std::any_of(f.plan.weeks.begin(), f.plan.weeks.end(), [&](const PlannedWeek& week) {
    return is_open_build(f, week) && week.index > 2;
  });
  if (!measured) return false;
  for (int left = 7; left >= 2; --left) {
    const Date date = f.candidate.test_date - Days{left};
    if (is_blocked(f, date)) continue;
    for (const WorkKind& kind : f.model.work) editor(f).add(date, kind.id);
  }
  editor(f).refresh();
  return true;
}

bool add_on(Finished& f, const std::string& family, int least_left, int most_left) {
  const std::optional<Date> date = any_date(
      f, [&](Date each) { return days_left(f, each) >= least_left && days_left(f, each) <= most_left; });
  if (!date) return false;
  editor(f).add(*date, of_family(f, family)->id, BlockSize::shorter);
  editor(f).refresh();
  return true;
}

// The candidate's own calendar and limits change under the finished plan.
bool block_a_training_day(Finished& f) {
  const std::optional<Date> date = any_day(f, [](const PlannedDay& day) { return !day.blocks.empty(); });
  if (!date) return false;
  f.candidate.blocked.push_back({*date, *date, BlockedKind::rest, "a mutation"});
  editor(f).refresh();
  return true;
}

std::optional<Date> any_hard_day(Finished& f) {
  return any_day(f, [&](const PlannedDay& day) {
    return std::any_of(day.blocks.begin(), day.blocks.end(),
                       [&](const Block& block) { return is_hard(f, block); });
  });
}

bool night_before_a_hard_day(Finished& f) {
  const std::optional<Date> date = any_hard_day(f);
  if (!date) return false;
  DayOverride night;
  night.date = *date;
  night.after_night_shift = true;
  f.candidate.days.push_back(night);
  return true;
}

bool diagnostic_after_a_hard_day(Finished& f) {
  const std::optional<Date> date = any_hard_day(f);
  if (!date) return false;
  f.candidate.diagnostics.push_back(*date + Days{1});
  return true;
}

bool diagnostic_on_a_training_day(Finished& f) {
  const std::optional<Date> date = any_day(f, [](const PlannedDay& day) { return !day.blocks.empty(); });
  if (date) f.candidate.diagnostics.push_back(*date);
  return date.has_value();
}

bool avoid_what_is_planned(Finished& f) {
  const auto place = any_block(f, [](const PlannedDay&, const Block&) { return true; });
  if (!place) return false;
  f.candidate.avoid.push_back({block_at(f, *place).work, place->date, place->date, "a mutation"});
  return true;
}

bool take_the_kit_away(Finished& f) {
  const auto place = any_block(f, [&](const PlannedDay&, const Block& block) {
    return block.size != BlockSize::home && !kind_of(f, block).needs.empty();
  });
  if (!place) return false;
  const std::vector<double> plates = f.candidate.equipment.plates_lb;
  f.candidate.equipment = {false, 0.0, plates, false, false, false, false, false};
  return true;
}

bool field_before_a_hard_day(Finished& f) {
  const std::optional<Date> date = any_hard_day(f);
  if (!date) return false;
  f.candidate.blocked.push_back({*date - Days{1}, *date - Days{1}, BlockedKind::field, "a mutation"});
  editor(f).refresh();
  return true;
}

bool march_next_to_a_run(Finished& f) {
  const auto place =
      any_block(f, [&](const PlannedDay&, const Block& block) { return kind_of(f, block).running; });
  if (!place) return false;
  for (const FixedKind& kind : f.model.fixed) {
    if (!kind.march) continue;
    f.candidate.fixed.push_back({weekday_index(place->date), kind.id, 120, Metres(9000.0)});
    editor(f).refresh();
    return true;
  }
  return false;
}

bool hide_fixed_work(Finished& f) {
  const std::optional<Date> date = any_date(f, [](Date) { return true; });
  if (!date || f.model.fixed.empty()) return false;
  f.candidate.fixed.push_back({weekday_index(*date), f.model.fixed.front().id, 30, std::nullopt});
  return true;
}

bool permit_nothing(Finished& f) {
  if (!any_block(f, [](const PlannedDay&, const Block&) { return true; })) return false;
  f.candidate.medical = {MedicalStatus::profile, {}, std::nullopt, std::nullopt, std::nullopt};
  return true;
}

bool expect_a_child(Finished& f) {
  f.candidate.medical = {MedicalStatus::pregnant, {}, std::nullopt, std::nullopt, std::nullopt};
  return !f.plan.weeks.empty();
}

bool untrained_at_the_start(Finished& f) {
  PlannedWeek& first = f.plan.weeks.front();
  int slots = 0;
  int sessions = 0;
  for (int offset = 0; offset < first.days_long; ++offset) {
    const PlannedDay& day = editor(f).day(first.starts + Days{offset});
    sessions += day.session_minutes;
  }
  editor(f).refresh();
  for (const int minutes : f.candidate.week) slots += minutes;
  if (first.days_long != 7 || sessions <= 0.6 * slots) return false;
  f.candidate.now.minutes = 0;
  return true;
}

bool drop_a_week(Finished& f) {
  if (f.plan.weeks.size() < 2) return false;
  f.plan.weeks.erase(f.plan.weeks.begin());
  return true;
}

bool miscount_a_week(Finished& f) {
  f.plan.weeks.front().minutes += 1;
  return true;
}

bool call_the_last_week_build(Finished& f) {
  if (f.plan.weeks.back().phase != Phase::taper) return false;
  f.plan.weeks.back().phase = Phase::build;
  return true;
}

std::vector<Mutation> calendar_mutations() {
  return {{"a training day blocked", "blocked-day", block_a_training_day},
          {"a night shift before a hard day", "night-shift", night_before_a_hard_day},
          {"a diagnostic after a hard day", "diagnostic-easy-days", diagnostic_after_a_hard_day},
          {"a diagnostic on a training day", "diagnostic", diagnostic_on_a_training_day},
          {"planned work to be avoided", "avoid", avoid_what_is_planned},
          {"no kit at all", "equipment", take_the_kit_away},
          {"a field exercise before a hard day", "after-field", field_before_a_hard_day},
          {"a march on the day of a run", "march-spacing", march_next_to_a_run},
          {"fixed work left out", "fixed-work", hide_fixed_work},
          {"a profile that permits nothing", "medical-profile", permit_nothing},
          {"a pregnancy", "medical-refused", expect_a_child}};
}

}  // namespace

std::vector<Mutation> week_mutations() {
  std::vector<Mutation> all = {
      {"no day of rest", "rest-days", train_every_day},
      {"every day hard", "hard-days", make_every_day_hard},
      {"every day hard", "hard-days-in-a-row", make_every_day_hard},
      {"every day hard", "ramp-hard", make_every_day_hard},
      {"three more days of intervals", "intervals-a-week",
       [](Finished& f) { return add_three(f, "intervals"); }},
      {"three more deadlift days", "deadlifts-a-week", [](Finished& f) { return add_three(f, "lift"); }},
      {"the deload called a build week", "deload-missing", call_deload_a_build_week},
      {"a deload filled up", "deload-minutes", fill_deload},
      {"a deload just before the taper", "deload-too-late", deload_before_the_taper},
      {"a taper filled up", "taper-minutes", fill_taper},
      {"a deadlift in the last days", "taper-deadlift", [](Finished& f) { return add_on(f, "lift", 2, 5); }},
      {"training on the day before", "day-before-test", [](Finished& f) { return add_on(f, "hold", 1, 1); }},
      {"a full start from untrained", "ramp-minutes", untrained_at_the_start},
      {"a week missing", "form-weeks", drop_a_week},
      {"a week's minutes miscounted", "form-minutes", miscount_a_week},
      {"the last week called build", "form-phase", call_the_last_week_build}};
  const std::vector<Mutation> calendar = calendar_mutations();
  all.insert(all.end(), calendar.begin(), calendar.end());
  return all;
}

}  // namespace backplan::testing
