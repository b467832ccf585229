#include "io/plan_json.hpp"

#include <algorithm>

#include "io/estimate_text.hpp"

namespace backplan::io {
namespace {

Json result_or_null(const std::optional<double>& result) {
  if (!result) return nullptr;
  return rounded(*result, kResultDecimals);
}

Json event_outlook_json(const EventOutlook& outlook, const Standard& standard) {
  const Event* found = standard.find_event(outlook.event);
  const Event event = found == nullptr ? Event{} : *found;
  const auto text = [&event](double result) { return estimate_text(result, event); };

  Json now;
  now["result"] = result_or_null(outlook.now_result);
  now["text"] = outlook.now_result ? Json(text(*outlook.now_result)) : Json(nullptr);
  now["points"] = points_json(outlook.now_points);
  now["origin"] = to_string(outlook.now_origin);
  if (outlook.now_differs) now["differs_from_latest_result"] = true;

  Json test_day;
  test_day["result"] = rounded(outlook.test_day_result, kResultDecimals);
  test_day["text"] = text(outlook.test_day_result);
  test_day["low80"] = rounded(outlook.test_day_low80, kResultDecimals);
  test_day["low80_text"] = text(outlook.test_day_low80);
  test_day["high80"] = rounded(outlook.test_day_high80, kResultDecimals);
  test_day["high80_text"] = text(outlook.test_day_high80);
  test_day["points"] = points_json(outlook.test_day_points);
  test_day["origin"] = to_string(outlook.test_day_origin);
  test_day["expected_points"] = rounded(outlook.expected_points, kPointDecimals);
  test_day["p_minimum"] = rounded(outlook.p_minimum, kChanceDecimals);
  test_day["p_own_target"] = rounded(outlook.p_own_target, kChanceDecimals);

  Json json;
  json["event"] = outlook.event;
  json["measured"] = outlook.measured;
  json["now"] = std::move(now);
  json["test_day"] = std::move(test_day);
  return json;
}

Json target_json(const Target& target) {
  Json events = Json::object();
  for (const auto& [event, points] : target.events) events[event] = points_json(points);
  Json json;
  json["total"] = points_json(target.total);
  json["each"] = points_json(target.each);
  json["events"] = std::move(events);
  json["confidence"] = rounded(target.confidence, kChanceDecimals);
  json["pass_confidence"] = rounded(target.pass_confidence, kChanceDecimals);
  return json;
}

Json block_json(const Block& block) {
  Json json;
  json["work"] = block.work;
  json["size"] = to_string(block.size);
  json["minutes"] = block.minutes;
  if (block.rehearsal) json["rehearsal"] = true;
  if (block.load) json["load_lb"] = rounded(block.load->value(), kResultDecimals);
  if (block.continuous_run)
    json["continuous_run_m"] = rounded(block.continuous_run->value(), kResultDecimals);
  json["prescription"] = block.prescription;
  json["why"] = block.why;
  json["stop"] = block.stop;
  return json;
}

Json points_per_hour_json(const std::map<std::string, double>& events) {
  Json json = Json::object();
  for (const auto& [event, points] : events) json[event] = rounded(points, kYieldDecimals);
  return json;
}

Json ways_out_json(const WaysOut& ways) {
  Json json = Json::object();
  if (ways.total_within_reach) json["total_within_reach"] = rounded(*ways.total_within_reach, kPointDecimals);
  if (ways.earliest_date) json["earliest_date"] = date_json(*ways.earliest_date);
  if (ways.minutes_per_week) json["minutes_per_week"] = *ways.minutes_per_week;
  if (!ways.best_change.empty()) {
    json["best_change"] = ways.best_change;
    json["best_change_p_target"] = rounded(ways.best_change_p_target, kChanceDecimals);
  }
  if (ways.last_date_tried) json["last_date_tried"] = date_json(*ways.last_date_tried);
  if (ways.most_minutes_tried) json["most_minutes_tried"] = *ways.most_minutes_tried;
  if (!ways.tried.empty()) json["changes_tried"] = ways.tried;
  return json;
}

Json given_up_json(const std::vector<GivenUp>& given_up) {
  Json json = Json::array();
  for (const GivenUp& one : given_up) {
    json.push_back({{"event", one.event}, {"work", one.work}, {"why", one.why}});
  }
  return json;
}

}  // namespace

Json outlook_json(const Outlook& outlook, const Standard& standard) {
  Json total;
  total["mean"] = rounded(outlook.total.mean, kPointDecimals);
  total["low80"] = rounded(outlook.total.low80, kPointDecimals);
  total["high80"] = rounded(outlook.total.high80, kPointDecimals);
  Json json;
  for (const TotalBin& bin : outlook.total.bins) {
    Json one;
    one["from"] = rounded(bin.from, kPointDecimals);
    one["to"] = rounded(bin.to, kPointDecimals);
    one["p"] = rounded(bin.p, kChanceDecimals);
    total["bins"].push_back(std::move(one));
  }
  json["total"] = std::move(total);
  json["p_target"] = rounded(outlook.p_target, kChanceDecimals);
  json["p_pass"] = rounded(outlook.p_pass, kChanceDecimals);
  json["p_on_scale"] = rounded(outlook.p_on_scale, kChanceDecimals);
  json["events"] = list_json(
      outlook.events, [&standard](const EventOutlook& event) { return event_outlook_json(event, standard); });
  return json;
}

Json forecast_json(const Outlook& outlook, const Plan& plan, const Standard& standard) {
  return plan.refused.empty() ? outlook_json(outlook, standard) : Json(nullptr);
}

Json time_json(const Plan& plan) {
  Json json;
  json["minutes_per_week"] = plan.minutes_per_week;
  json["least_minutes_for_target"] =
      plan.least_minutes_for_target ? Json(*plan.least_minutes_for_target) : Json(nullptr);
  json["minutes_available"] = plan.minutes_available;
  return json;
}

Json day_json(const PlannedDay& day) {
  Json json;
  json["date"] = date_json(day.date);
  json["slot_minutes"] = day.slot_minutes;
  json["session_minutes"] = day.session_minutes;
  json["blocks"] = list_json(day.blocks, block_json);
  if (!day.fixed.empty()) {
    json["fixed"] = day.fixed;
    json["fixed_minutes"] = day.fixed_minutes;
    if (day.fixed_distance) json["fixed_metres"] = rounded(day.fixed_distance->value(), 0);
  }
  if (!day.note.empty()) json["note"] = day.note;
  return json;
}

Json week_json(const PlannedWeek& week) {
  Json json;
  json["index"] = week.index;
  json["starts"] = date_json(week.starts);
  json["days_long"] = week.days_long;
  json["phase"] = to_string(week.phase);
  json["minutes"] = week.minutes;
  json["provisional"] = week.provisional;
  json["days"] = list_json(week.days, day_json);
  // By event id, so that reading (which sorts keys) and writing again changes nothing.
  std::map<std::string, double> milestones;
  for (const Milestone& milestone : week.milestones) milestones[milestone.event] = milestone.result;
  Json& written = json["milestones"] = Json::object();
  for (const auto& [event, result] : milestones) written[event] = rounded(result, kResultDecimals);
  return json;
}

Json assumptions_json(const std::vector<Assumption>& assumptions) {
  return list_json(assumptions, [](const Assumption& one) {
    return Json{
        {"name", one.name}, {"value", one.value}, {"source", one.source}, {"status", to_string(one.status)}};
  });
}

Json yield_json(const std::vector<YieldRow>& rows) {
  return list_json(rows, [](const YieldRow& row) {
    Json json;
    json["work"] = row.work;
    json["events"] = points_per_hour_json(row.weeks_left);
    json["points_per_hour"] = rounded(row.weeks_left_total, kYieldDecimals);
    json["this_week"]["events"] = points_per_hour_json(row.now);
    json["this_week"]["points_per_hour"] = rounded(row.now_total, kYieldDecimals);
    json["why"] = row.why;
    return json;
  });
}

std::string write_plan(const Plan& plan, const Standard& standard, const std::string& tool_version) {
  Json json;
  json["format"] = kPlanFormat;
  json["tool_version"] = tool_version;
  json["as_of"] = date_json(plan.as_of);
  json["standard"]["id"] = plan.standard;
  json["standard"]["hash"] = plan.standard_hash;
  json["model"]["hash"] = plan.model_hash;
  json["candidate"] = plan.candidate;
  json["category"] = plan.category;
  json["age"] = plan.age;
  json["test_date"] = date_json(plan.test_date);
  json["target"] = target_json(plan.target);
  json["enough"] = plan.enough;
  if (!plan.basis.empty()) json["basis"] = plan.basis;
  if (plan.revision > 0) {
    json["calendar"]["revision"] = plan.revision;
    json["calendar"]["withdrawn"] = list_json(plan.withdrawn, date_json);
  }
  json["outlook"] = forecast_json(plan.outlook, plan, standard);
  json["without_training"] = forecast_json(plan.without_training, plan, standard);
  json["yield"] = yield_json(plan.yield);
  json["time"] = time_json(plan);
  json["optimality"]["value"] = rounded(plan.optimality.value, kOptimalityDecimals);
  if (plan.optimality.bound)
    json["optimality"]["bound"] = rounded(*plan.optimality.bound, kOptimalityDecimals);
  json["weeks"] = list_json(plan.weeks, week_json);
  if (plan.ways_out) json["ways_out"] = ways_out_json(*plan.ways_out);
  json["given_up"] = given_up_json(plan.given_up);
  json["refused"] = plan.refused;
  json["cautions"] = plan.cautions;
  json["assumptions"] = assumptions_json(plan.assumptions);
  return pretty(json);
}

}  // namespace backplan::io
