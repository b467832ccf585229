#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "io/figure.hpp"
#include "io/json_text.hpp"
#include "io/readers.hpp"

namespace backplan::io {

namespace {

// Ranges that catch slips of the pen.
constexpr int kDaysOfAWeek = 7;
constexpr int kMostHardInARow = 2;       // the planner looks at two days to each side
constexpr int kMostDeadliftSpacing = 2;  // and, for deadlifts, at one
constexpr int kMostWeeks = 53;
constexpr int kMostMinutes = 240;  // of one slot
constexpr int kMinutesOfAWeek = 7 * 24 * 60;
constexpr int kMostAge = 120;
constexpr int kMostInASlot = 10;
constexpr int kMostPain = 10;
constexpr int kMostTurns = 20;
// What a block's minutes hold, whatever the other figures say: five sets in 45 minutes.
constexpr Range kSetSeconds{20.0, 120.0};
constexpr Range kSetRestSeconds{30.0, 300.0};
constexpr double kMostSetWithRest = 390.0;
constexpr Range kDragSeconds{20.0, 120.0};
constexpr Range kCourseSeconds{60.0, 300.0};
constexpr Range kTurnSeconds{0.0, 900.0};
// Blocks take ten minutes and more, so that a week cannot be cut to the minute.
constexpr double kLeastDeloadWidth = 0.2;
constexpr double kDecimalSlack = 1e-9;  // 0.6 - 0.4 is not 0.2 in binary
constexpr Range kMorePoints{0.0, 100.0};
constexpr Range kFactor{1.0, 10.0};

// One section of the file: its figures are called "rules.<section>.<key>".
class Section {
 public:
  Section(const JsonCursor& root, std::string_view name, std::initializer_list<std::string_view> keys,
          std::vector<Assumption>& list)
      : cursor_(root.required(name)), name_(name), list_(list) {
    if (cursor_.exists()) cursor_.allow_only(keys);
  }

  [[nodiscard]] Figure figure(std::string_view key) const {
    return {cursor_, key, fmt::format("rules.{}.{}", name_, key), list_};
  }
  [[nodiscard]] Figure group(std::string_view key, std::initializer_list<std::string_view> keys) const {
    Figure figures = figure(key);
    figures.value().allow_only(keys);
    return figures;
  }
  [[nodiscard]] int integer(std::string_view key, int least, int most) const {
    return figure(key).integer(least, most);
  }
  [[nodiscard]] ByBackground by_background(std::string_view key, int least, int most) const {
    Figure three = group(key, {"new", "regular", "long"});
    ByBackground values;
    values.new_to_training = three.integer("new", least, most);
    values.regular = three.integer("regular", least, most);
    values.long_trained = three.integer("long", least, most);
    return values;
  }

 private:
  JsonCursor cursor_;
  std::string name_;
  std::vector<Assumption>& list_;
};

// A bound of a group, already read, that must not be over another.
struct Bound {
  std::string_view key;
  double value = 0.0;
};

void require_order(const Figure& group, const Bound& lower, const Bound& upper) {
  if (!group.sound() || lower.value <= upper.value) return;
  group.value().fault(fmt::format("\"{}\" is more than \"{}\"", lower.key, upper.key), "swap the two");
}

void read_hard_days(const JsonCursor& root, Rules& rules) {
  const Section section(root, "hard_days",
                        {"a_week", "by_age", "in_a_row", "intervals_a_week", "deadlifts", "rest_days_a_week"},
                        rules.assumptions);
  rules.hard_days_a_week = section.by_background("a_week", 0, kDaysOfAWeek);
  Figure by_age = section.group("by_age", {"fewer_from", "fewest"});
  rules.fewer_hard_days_from_age = by_age.integer("fewer_from", 0, kMostAge);
  rules.fewest_hard_days = by_age.integer("fewest", 0, kDaysOfAWeek);
  rules.hard_days_in_a_row = section.integer("in_a_row", 1, kMostHardInARow);
  rules.intervals_a_week = section.by_background("intervals_a_week", 0, kDaysOfAWeek);
  Figure deadlifts = section.group("deadlifts", {"a_week", "days_between"});
  rules.deadlifts_a_week = deadlifts.integer("a_week", 0, kDaysOfAWeek);
  rules.days_between_deadlifts = deadlifts.integer("days_between", 1, kMostDeadliftSpacing);
  rules.rest_days_a_week = section.by_background("rest_days_a_week", 0, kDaysOfAWeek);
}

void read_home_work(const Figure& figure, Rules& rules) {
  if (!figure.value().exists()) return;
  for (const JsonCursor& item : figure.value().items()) {
    if (const auto kind = item.text()) rules.home_work.push_back(*kind);
  }
  figure.list_as("", fmt::format("{}", fmt::join(rules.home_work, ", ")));
}

void read_slot(const JsonCursor& root, Rules& rules) {
  const Section section(root, "slot", {"blocks", "around", "short", "change_over_minutes", "home_work"},
                        rules.assumptions);
  Figure blocks = section.group("blocks", {"most", "hard"});
  rules.blocks_a_slot = blocks.integer("most", 1, kMostInASlot);
  rules.hard_blocks_a_slot = blocks.integer("hard", 1, kMostInASlot);
  Figure around = section.group("around", {"preparation_minutes", "recovery_minutes"});
  rules.preparation_minutes = around.integer("preparation_minutes", 0, kMostMinutes);
  rules.recovery_minutes = around.integer("recovery_minutes", 0, kMostMinutes);
  Figure brief = section.group("short", {"under_minutes", "preparation_minutes", "recovery_minutes"});
  rules.short_slot_under = brief.integer("under_minutes", 1, kMostMinutes);
  rules.short_preparation_minutes = brief.integer("preparation_minutes", 0, kMostMinutes);
  rules.short_recovery_minutes = brief.integer("recovery_minutes", 0, kMostMinutes);
  // Else a short slot could hold less than the program takes it to hold.
  if (around.sound() && brief.sound() &&
      rules.short_preparation_minutes + rules.short_recovery_minutes >
          rules.preparation_minutes + rules.recovery_minutes) {
    brief.value().fault("a short slot loses more minutes than a long one",
                        "make its preparation and recovery together at most as long");
  }
  rules.change_over_minutes = section.integer("change_over_minutes", 0, kMostMinutes);
  read_home_work(section.figure("home_work"), rules);
}

// A spell without training that ended before today must be seen whole for as long as it shapes the days
// after.
void require_seen(const Figure& group, std::string_view key, int spell, int after) {
  if (!group.sound() || spell + after <= kLookBackDays) return;
  group.value().fault(
      fmt::format("\"{}\" of {} and {} days of the return after them: the planner looks back {} days", key,
                  spell, after, kLookBackDays),
      fmt::format("let both together be at most {} days", kLookBackDays));
}

void read_untrained(Figure& group, Rules& rules) {
  const JsonCursor shares = group.value().required("shares");
  if (shares.exists()) {
    for (const JsonCursor& item : shares.items()) {
      if (const auto share = item.number(kShare.least, kShare.most)) rules.untrained_shares.push_back(*share);
    }
    group.list_as("shares", fmt::format("{}", fmt::join(rules.untrained_shares, ", ")));
  }
  rules.untrained_under_minutes = group.integer("under_minutes", 0, kMinutesOfAWeek);
  rules.off_days_for_untrained = group.integer("off_days", 1, kYearOfDays);
}

void read_ramp(const JsonCursor& root, Rules& rules) {
  const Section section(root, "ramp",
                        {"hard_sessions_at_start", "hard_sessions_step", "untrained", "coming_back",
                         "after_lost_weeks", "longest_run", "longest_run_floor_metres"},
                        rules.assumptions);
  rules.hard_sessions_at_start = section.by_background("hard_sessions_at_start", 0, kDaysOfAWeek);
  rules.hard_sessions_step = section.integer("hard_sessions_step", 1, kDaysOfAWeek);
  Figure untrained = section.group("untrained", {"shares", "under_minutes", "off_days"});
  read_untrained(untrained, rules);
  Figure back = section.group("coming_back", {"easy_days", "form_days"});
  rules.easy_days_back = back.integer("easy_days", 0, kYearOfDays);
  rules.form_days_back = back.integer("form_days", 0, kYearOfDays);
  Figure lost = section.group("after_lost_weeks", {"days", "share"});
  rules.lost_days_for_half = lost.integer("days", 1, kYearOfDays);
  rules.half_share = lost.number("share", kShare);
  const int ramp = kDaysOfAWeek * static_cast<int>(rules.untrained_shares.size());
  require_seen(untrained, "off_days", rules.off_days_for_untrained,
               std::max({ramp, rules.easy_days_back, rules.form_days_back}));
  require_seen(lost, "days", rules.lost_days_for_half, kDaysOfAWeek);
  Figure run = section.group("longest_run", {"growth", "days"});
  rules.longest_run_growth = run.number("growth", kFactor);
  rules.longest_run_days = run.integer("days", 1, kYearOfDays);
  rules.longest_run_floor = Metres(section.figure("longest_run_floor_metres").number(kMetres));
}

void read_deload(const JsonCursor& root, Rules& rules) {
  const Section section(root, "deload",
                        {"after_build_weeks", "share", "counts_from_days", "none_before_taper_weeks",
                         "from_hard_sessions", "easy_days_after_field"},
                        rules.assumptions);
  rules.build_weeks_before_deload = section.integer("after_build_weeks", 1, kMostWeeks);
  Figure share = section.group("share", {"least", "most"});
  rules.deload_least = share.number("least", kShare);
  rules.deload_most = share.number("most", kShare);
  if (share.sound() && rules.deload_most - rules.deload_least < kLeastDeloadWidth - kDecimalSlack) {
    share.value().fault(fmt::format("from {} to {}: no week of whole blocks may fit between",
                                    rules.deload_least, rules.deload_most),
                        fmt::format("let \"least\" be at least {} under \"most\"", kLeastDeloadWidth));
  }
  rules.deload_counts_from_days = section.integer("counts_from_days", 1, kYearOfDays);
  Figure none = section.figure("none_before_taper_weeks");
  rules.no_deload_weeks_before_taper = none.integer(0, kMostWeeks);
  if (none.sound() && rules.no_deload_weeks_before_taper > rules.build_weeks_before_deload) {
    none.value().fault(fmt::format("none in {} weeks, and yet one is due after {}",
                                   rules.no_deload_weeks_before_taper, rules.build_weeks_before_deload),
                       "let it be at most \"after_build_weeks\"");
  }
  rules.deload_from_hard_sessions = section.integer("from_hard_sessions", 0, kDaysOfAWeek);
  rules.easy_days_after_field = section.integer("easy_days_after_field", 0, kDaysOfAWeek);
}

void read_taper_lengths(const Section& section, Rules& rules) {
  Figure brief = section.group("short", {"days", "under_minutes"});
  rules.taper_short_days = brief.integer("days", 1, kYearOfDays);
  rules.taper_short_under_minutes = brief.integer("under_minutes", 0, kMinutesOfAWeek);
  Figure middle = section.group("middle", {"days", "up_to_minutes"});
  rules.taper_middle_days = middle.integer("days", 1, kYearOfDays);
  rules.taper_middle_up_to_minutes = middle.integer("up_to_minutes", 0, kMinutesOfAWeek);
  if (brief.sound() && middle.sound() && rules.taper_short_under_minutes > rules.taper_middle_up_to_minutes) {
    middle.value().fault("the middle taper ends before the short one does",
                         "let \"up_to_minutes\" be at least \"under_minutes\" of the short taper");
  }
  rules.taper_long_days = section.group("long", {"days"}).integer("days", 1, kYearOfDays);
}

void read_taper(const JsonCursor& root, Rules& rules) {
  const Section section(root, "taper",
                        {"short", "middle", "long", "cut", "deadlift", "no_training_days_before_test",
                         "no_plan_under_days", "easy_days_before_diagnostic", "easy_days_after_diagnostic"},
                        rules.assumptions);
  read_taper_lengths(section, rules);
  Figure cut = section.group("cut", {"least"});
  rules.taper_least_cut = cut.number("least", kShare);
  Figure deadlift = section.group("deadlift", {"none_in_last_days"});
  rules.no_deadlift_days = deadlift.integer("none_in_last_days", 0, kYearOfDays);
  rules.no_training_days_before_test = section.integer("no_training_days_before_test", 0, kYearOfDays);
  rules.plan_without_training_under_days = section.integer("no_plan_under_days", 0, kYearOfDays);
  rules.easy_days_before_diagnostic = section.integer("easy_days_before_diagnostic", 0, kDaysOfAWeek);
  rules.easy_days_after_diagnostic = section.integer("easy_days_after_diagnostic", 0, kDaysOfAWeek);
}

void read_fixed_work_and_medical(const JsonCursor& root, Rules& rules) {
  const Section fixed(root, "fixed_work", {"march_spacing_from_metres", "night_shift_easy_days"},
                      rules.assumptions);
  rules.march_spacing_from = Metres(fixed.figure("march_spacing_from_metres").number(kMetres));
  rules.night_shift_easy_days = fixed.integer("night_shift_easy_days", 0, kDaysOfAWeek);
  const Section medical(root, "medical", {"profile_recovery"}, rules.assumptions);
  Figure recovery = medical.group("profile_recovery", {"factor", "most_days"});
  rules.profile_recovery_factor = recovery.number("factor", kFactor);
  rules.profile_recovery_most_days = recovery.integer("most_days", 0, kYearOfDays);
}

void read_squad_rules(const JsonCursor& root, Rules& rules) {
  const Section section(root, "squad", {"bar_turn", "course_turn", "usual_turns", "extras_a_week", "moving"},
                        rules.squad.assumptions);
  Figure bar = section.group("bar_turn", {"seconds", "rest_seconds"});
  rules.squad.bar_turn_seconds = bar.number("seconds", kSetSeconds);
  rules.squad.bar_rest_seconds = bar.number("rest_seconds", kSetRestSeconds);
  if (bar.sound() && rules.squad.bar_turn_seconds + rules.squad.bar_rest_seconds > kMostSetWithRest) {
    bar.value().fault("a set and the rest after it take too long for a block",
                      fmt::format("let both together be at most {} seconds", kMostSetWithRest));
  }
  Figure course = section.group("course_turn", {"drag_seconds", "course_seconds", "rest_seconds"});
  rules.squad.drag_seconds = course.number("drag_seconds", kDragSeconds);
  rules.squad.course_seconds = course.number("course_seconds", kCourseSeconds);
  rules.squad.drag_rest_seconds = course.number("rest_seconds", kTurnSeconds);
  rules.squad.usual_turns = section.integer("usual_turns", 1, kMostTurns);
  rules.squad.extras_a_week = section.integer("extras_a_week", 0, kDaysOfAWeek);
  Figure moving = section.group("moving", {"failures", "points"});
  rules.squad.failures_worth_moving = moving.number("failures", kShare);
  rules.squad.points_worth_moving = moving.number("points", kMorePoints);
}

std::vector<std::string> read_words(const JsonCursor& list) {
  std::vector<std::string> words;
  if (!list.exists()) return words;
  for (const JsonCursor& item : list.items()) {
    if (const auto word = item.text()) words.push_back(*word);
  }
  return words;
}

PainRegion read_region(const JsonCursor& cursor, std::vector<Assumption>& list) {
  PainRegion region;
  cursor.allow_only({"id", "words", "watched", "emergency", "off"});
  region.id = cursor.required("id").text().value_or("");
  region.words = read_words(cursor.required("words"));
  region.watched = cursor.required("watched").boolean().value_or(false);
  region.emergency = cursor.required("emergency").boolean().value_or(false);
  Figure off(cursor, "off", fmt::format("rules.pain.{}", region.id), list);
  if (!off.value().exists()) return region;
  off.value().allow_only({"from", "work"});
  region.stops_from = off.integer("from", 1, kMostPain);
  region.stops = read_words(off.value().required("work"));
  off.list_as("work", fmt::format("{}", fmt::join(region.stops, ", ")));
  return region;
}

void read_substitutes(const JsonCursor& pain, Rules& rules) {
  const Figure figure(pain, "substitutes", "rules.pain.instead_of", rules.assumptions);
  if (!figure.value().exists()) return;
  for (const auto& [work, others] : figure.value().members()) {
    const auto words = read_words(others);
    figure.list_as(work, words.empty() ? "nothing" : fmt::format("{}", fmt::join(words, ", ")));
    rules.pain.substitutes[work] = words;
  }
}

void read_pain(const JsonCursor& root, Rules& rules) {
  const Section section(root, "pain", {"limits", "regions", "substitutes"}, rules.assumptions);
  Figure limits =
      section.group("limits", {"refer_from", "watch_from", "watch_days_with_pain", "watch_span_days"});
  rules.pain.refer_from = limits.integer("refer_from", 1, kMostPain);
  rules.pain.watch_from = limits.integer("watch_from", 1, kMostPain);
  rules.pain.watch_entries = limits.integer("watch_days_with_pain", 1, kYearOfDays);
  rules.pain.watch_days = limits.integer("watch_span_days", 1, kYearOfDays);
  require_order(limits, {"watch_from", static_cast<double>(rules.pain.watch_from)},
                {"refer_from", static_cast<double>(rules.pain.refer_from)});
  const JsonCursor regions = root.required("pain").required("regions");
  if (!regions.exists()) return;
  for (const JsonCursor& one : regions.items()) {
    rules.pain.regions.push_back(read_region(one, rules.assumptions));
  }
  read_substitutes(root.required("pain"), rules);
}

}  // namespace

Result<Rules> read_rules(const std::vector<DataFile>& files) {
  Diagnostics faults;
  Rules rules;
  const auto root = open_data_file(files, "model/rules.json", "backplan-rules/1", faults);
  if (!root) return faults;
  root->allow_only(
      {"format", "hard_days", "slot", "ramp", "deload", "taper", "fixed_work", "medical", "squad", "pain"});
  read_hard_days(*root, rules);
  read_slot(*root, rules);
  read_ramp(*root, rules);
  read_deload(*root, rules);
  read_taper(*root, rules);
  read_fixed_work_and_medical(*root, rules);
  read_squad_rules(*root, rules);
  if (root->required("pain").exists()) read_pain(*root, rules);
  if (has_error(faults)) return faults;
  rules.content_hash = hash_of_files(files, {"model/rules.json"});
  return rules;
}

}  // namespace backplan::io
