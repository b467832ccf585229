#include "io/replan_json.hpp"

#include "io/fit_json.hpp"
#include "io/json_write.hpp"
#include "io/plan_json.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

Json change_json(const SessionChange& change) {
  Json json;
  json["date"] = date_json(change.date);
  json["before"] = change.before;
  json["after"] = change.after;
  if (!change.figures.empty()) json["figures"] = change.figures;
  json["cause"] = to_string(change.cause);
  json["why"] = change.why;
  return json;
}

Json off_json(const WorkOff& off) { return {{"work", off.work}, {"why", off.why}, {"instead", off.instead}}; }

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
  json["refused"] = found.plan.refused;
  json["outlook"] = forecast_json(found.plan.outlook, found.plan, standard);
  json["outlook_before"] = forecast_json(old.outlook, old, standard);
  json["learnt"] = fit_json(found.learnt, standard);
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
    one["why"] = stop.why;
    json["pain_stops"].push_back(std::move(one));
  }
  json["off"] = Json::array();
  for (const WorkOff& off : found.off) json["off"].push_back(off_json(off));
  return pretty(json);
}

}  // namespace backplan::io
