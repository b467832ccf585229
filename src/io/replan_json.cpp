#include "io/replan_json.hpp"

#include "io/json_write.hpp"
#include "io/plan_json.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr int kDecimals = 4;

Json learnt_json(const Learnt& learnt) {
  Json json;
  json["assumed"] = rounded(learnt.assumed, kDecimals);
  json["assumed_sd"] = rounded(learnt.assumed_sd, kDecimals);
  json["found"] = rounded(learnt.found, kDecimals);
  json["found_sd"] = rounded(learnt.found_sd, kDecimals);
  return json;
}

Json flagged_json(const FlaggedEntry& entry) {
  Json json;
  json["id"] = entry.id.empty() ? Json(nullptr) : Json(entry.id);
  json["date"] = date_json(entry.date);
  json["says"] = rounded(entry.says, kDecimals);
  json["expected"] = rounded(entry.expected, kDecimals);
  json["reason"] = entry.reason;
  return json;
}

Json report_json(const FitReport& report) {
  Json json;
  json["event"] = report.event;
  json["measured"] = report.measured;
  json["now"] = rounded(report.now_result, kDecimals);
  json["now_low80"] = rounded(report.now_low80, kDecimals);
  json["now_high80"] = rounded(report.now_high80, kDecimals);
  json["speed_ratio"] = rounded(report.speed_ratio, kDecimals);
  json["lost"] = rounded(report.lost, kDecimals);
  json["rate_per_week"] = learnt_json(report.rate);
  json["headroom"] = learnt_json(report.headroom);
  if (report.conversion) json["conversion_bias"] = learnt_json(*report.conversion);
  if (report.setting) json["setting_bias"] = learnt_json(*report.setting);
  if (report.exponent) json["run_exponent"] = learnt_json(*report.exponent);
  json["readings"] = report.readings;
  json["bounds"] = report.bounds;
  json["flagged"] = Json::array();
  for (const FlaggedEntry& entry : report.flagged) json["flagged"].push_back(flagged_json(entry));
  json["share_of_information"]["log"] = rounded(report.share_log, kDecimals);
  json["share_of_information"]["results"] = rounded(report.share_results, kDecimals);
  json["share_of_information"]["prior"] = rounded(report.share_prior, kDecimals);
  return json;
}

Json change_json(const SessionChange& change) {
  Json json;
  json["date"] = date_json(change.date);
  json["before"] = change.before;
  json["after"] = change.after;
  json["why"] = change.why;
  return json;
}

Json stall_json(const Stall& stall) {
  Json json;
  json["event"] = stall.event;
  json["readings"] = stall.readings;
  json["since"] = date_json(stall.since);
  json["instead"] = stall.instead;
  return json;
}

}  // namespace

std::string write_replan(const Replan& found, const Plan& old, const Standard& standard) {
  Json json;
  json["candidate"] = found.plan.candidate;
  json["as_of"] = date_json(found.plan.as_of);
  json["test_date"] = date_json(found.plan.test_date);
  json["enough"] = found.plan.enough;
  json["outlook"] = outlook_json(found.plan.outlook, standard);
  json["outlook_before"] = outlook_json(old.outlook, standard);
  json["learnt"] = Json::array();
  for (const FitReport& report : found.learnt) json["learnt"].push_back(report_json(report));
  json["reasons"] = found.reasons;
  json["changes"] = Json::array();
  for (const SessionChange& change : found.changes) json["changes"].push_back(change_json(change));
  json["stalls"] = Json::array();
  for (const Stall& stall : found.stalls) json["stalls"].push_back(stall_json(stall));
  json["pain_stops"] = Json::array();
  for (const PainStop& stop : found.stops) {
    Json one;
    one["region"] = stop.region;
    one["since"] = date_json(stop.since);
    one["work"] = stop.work;
    one["refers"] = stop.refers;
    json["pain_stops"].push_back(std::move(one));
  }
  return pretty(json);
}

}  // namespace backplan::io
