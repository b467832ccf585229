#include <array>
#include <limits>
#include <utility>

#include "io/json_text.hpp"
#include "io/plan_json.hpp"
#include "io/stored_json.hpp"
#include "io/stored_outlook.hpp"

namespace backplan::io {
namespace {

constexpr std::array kPhases{Phase::build, Phase::deload, Phase::taper, Phase::blocked};
constexpr std::array kSizes{BlockSize::full, BlockSize::shorter, BlockSize::home};

Target target_from(const JsonCursor& object) {
  Target target;
  target.total = optional_points_in(object, "total");
  target.each = optional_points_in(object, "each");
  each_figure(
      object.required("events"), 0.0, kMostStoredPoints,
      [&target](const std::string& event, double points) { target.events[event] = to_points(points); });
  target.confidence = number_in(object, "confidence");
  target.pass_confidence = number_in(object, "pass_confidence");
  return target;
}

Block block_from(const JsonCursor& object) {
  Block block;
  block.work = text_in(object, "work");
  block.size = word_in(object, "size", kSizes);
  block.minutes = integer_in(object, "minutes");
  block.rehearsal = object.has("rehearsal") && boolean_in(object, "rehearsal");
  if (const auto load = optional_number_in(object, "load_lb")) block.load = Pounds(*load);
  if (const auto run = optional_number_in(object, "continuous_run_m")) block.continuous_run = Metres(*run);
  block.prescription = text_in(object, "prescription");
  block.why = text_in(object, "why");
  block.stop = text_in(object, "stop");
  return block;
}

PlannedDay day_from(const JsonCursor& object) {
  PlannedDay day;
  day.date = date_in(object, "date");
  day.slot_minutes = integer_in(object, "slot_minutes");
  day.session_minutes = integer_in(object, "session_minutes");
  day.blocks = list_in<Block>(object, "blocks", block_from);
  day.fixed = optional_text_in(object, "fixed");
  day.fixed_minutes = optional_integer_in(object, "fixed_minutes").value_or(0);
  if (const auto metres = optional_number_in(object, "fixed_metres")) day.fixed_distance = Metres(*metres);
  day.note = optional_text_in(object, "note");
  return day;
}

PlannedWeek week_from(const JsonCursor& object) {
  PlannedWeek week;
  week.index = integer_in(object, "index");
  week.starts = date_in(object, "starts");
  week.days_long = integer_in(object, "days_long");
  week.phase = word_in(object, "phase", kPhases);
  week.minutes = integer_in(object, "minutes");
  week.provisional = boolean_in(object, "provisional");
  week.days = list_in<PlannedDay>(object, "days", day_from);
  each_figure(object.required("milestones"), 0.0, kAnyFigure,
              [&week](const std::string& event, double result) {
                week.milestones.push_back({event, result});
              });
  return week;
}

std::map<std::string, double> points_per_hour_from(const JsonCursor& object) {
  std::map<std::string, double> events;
  each_figure(object, -kAnyFigure, kAnyFigure,
              [&events](const std::string& event, double points) { events[event] = points; });
  return events;
}

YieldRow yield_from(const JsonCursor& object) {
  YieldRow row;
  row.work = text_in(object, "work");
  row.weeks_left = points_per_hour_from(object.required("events"));
  row.weeks_left_total = number_in(object, "points_per_hour");
  const JsonCursor this_week = object.required("this_week");
  row.now = points_per_hour_from(this_week.required("events"));
  row.now_total = number_in(this_week, "points_per_hour");
  row.why = text_in(object, "why");
  return row;
}

WaysOut ways_out_from(const JsonCursor& object) {
  WaysOut ways;
  ways.total_within_reach = optional_number_in(object, "total_within_reach");
  if (object.has("earliest_date")) ways.earliest_date = date_in(object, "earliest_date");
  ways.minutes_per_week = optional_integer_in(object, "minutes_per_week");
  ways.best_change = optional_text_in(object, "best_change");
  ways.best_change_p_target = optional_number_in(object, "best_change_p_target").value_or(0.0);
  if (object.has("last_date_tried")) ways.last_date_tried = date_in(object, "last_date_tried");
  ways.most_minutes_tried = optional_integer_in(object, "most_minutes_tried");
  if (object.has("changes_tried")) ways.tried = list_in<std::string>(object, "changes_tried", text_item);
  return ways;
}

GivenUp given_up_from(const JsonCursor& object) {
  return {text_in(object, "event"), text_in(object, "work"), text_in(object, "why")};
}

void read_head(const JsonCursor& root, Plan& plan) {
  plan.as_of = date_in(root, "as_of");
  const JsonCursor standard = root.required("standard");
  plan.standard = text_in(standard, "id");
  plan.standard_hash = text_in(standard, "hash");
  plan.model_hash = text_in(root.required("model"), "hash");
  plan.candidate = text_in(root, "candidate");
  plan.category = text_in(root, "category");
  plan.age = integer_in(root, "age");
  plan.test_date = date_in(root, "test_date");
  plan.target = target_from(root.required("target"));
  plan.enough = boolean_in(root, "enough");
  if (root.has("basis")) plan.basis = text_in(root, "basis");
  if (root.has("calendar")) {
    const JsonCursor calendar = root.required("calendar");
    plan.revision = integer_in(calendar, "revision");
    plan.withdrawn = list_in<Date>(calendar, "withdrawn", date_item);
  }
}

void read_body(const JsonCursor& root, Plan& plan) {
  plan.refused = list_in<std::string>(root, "refused", text_item);
  if (plan.refused.empty()) {
    plan.outlook = outlook_from(root.required("outlook"));
    plan.without_training = outlook_from(root.required("without_training"));
  }
  plan.yield = list_in<YieldRow>(root, "yield", yield_from);
  const JsonCursor time = root.required("time");
  plan.minutes_per_week = integer_in(time, "minutes_per_week");
  plan.least_minutes_for_target = optional_integer_in(time, "least_minutes_for_target");
  plan.minutes_available = integer_in(time, "minutes_available");
  const JsonCursor optimality = root.required("optimality");
  plan.optimality.value = number_in(optimality, "value");
  if (optimality.has("bound")) plan.optimality.bound = number_in(optimality, "bound");
  plan.weeks = list_in<PlannedWeek>(root, "weeks", week_from);
  if (root.has("ways_out")) plan.ways_out = ways_out_from(root.required("ways_out"));
  plan.given_up = list_in<GivenUp>(root, "given_up", given_up_from);
  plan.cautions = list_in<std::string>(root, "cautions", text_item);
  plan.assumptions = list_in<Assumption>(root, "assumptions", assumption_from);
}

}  // namespace

Result<Plan> read_plan(std::string_view text, const std::string& file) {
  auto parsed = parse_json(text, file);
  if (!parsed.ok()) return parsed.faults();
  Diagnostics faults;
  const JsonCursor root(parsed.value(), faults);
  const JsonCursor format = root.required("format");
  const auto found = format.text();
  if (found && *found != kPlanFormat) {
    format.fault("this plan has the format \"" + *found + "\"; this program reads \"" +
                     std::string(kPlanFormat) + "\"",
                 "run `backplan plan` to write it anew");
  }
  if (!faults.empty()) return faults;
  Plan plan;
  read_head(root, plan);
  read_body(root, plan);
  if (has_error(faults)) return faults;
  return plan;
}

}  // namespace backplan::io
