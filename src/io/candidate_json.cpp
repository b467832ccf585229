#include "io/candidate_json.hpp"

#include <fmt/format.h>

#include <array>

#include "backplan/units.hpp"
#include "io/json_write.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr int kExact = 6;  // decimals that bring every typed figure back

std::string distance_text(Metres distance) { return fmt::format("{:.3f} km", distance.value() / 1000.0); }

Json target_json(const Target& target) {
  Json json = Json::object();
  if (target.total) json["total"] = points_json(target.total);
  if (target.each) json["each"] = points_json(target.each);
  for (const auto& [event, points] : target.events) json["events"][event] = points_json(points);
  json["confidence"] = rounded(target.confidence, kExact);
  json["pass_confidence"] = rounded(target.pass_confidence, kExact);
  return json;
}

Json results_json(const std::vector<DatedResult>& results) {
  Json json = Json::array();
  for (const DatedResult& result : results) {
    Json one{{"date", date_json(result.date)},
             {"event", result.event},
             {"value", result.as_typed},
             {"setting", to_string(result.setting)}};
    if (result.first) one["first"] = true;
    json.push_back(std::move(one));
  }
  return json;
}

Json now_json(const TrainingNow& now) {
  Json json = Json::object();
  if (now.hard_sessions) json["hard_sessions"] = *now.hard_sessions;
  if (now.minutes) json["minutes"] = *now.minutes;
  if (now.longest_run) json["longest_run"] = distance_text(*now.longest_run);
  return json;
}

Json days_json(const Candidate& candidate) {
  Json json = Json::array();
  for (const DayOverride& day : candidate.days) {
    Json one{{"date", date_json(day.date)}};
    if (day.minutes) one["minutes"] = *day.minutes;
    if (day.after_night_shift) one["after_night_shift"] = true;
    json.push_back(std::move(one));
  }
  return json;
}

Json fixed_json(const Candidate& candidate) {
  Json json = Json::array();
  for (const FixedWork& work : candidate.fixed) {
    Json one{{"day", kDayKeys.at(static_cast<std::size_t>(work.weekday))},
             {"work", work.work},
             {"minutes", work.minutes}};
    if (work.distance) one["distance"] = distance_text(*work.distance);
    json.push_back(std::move(one));
  }
  return json;
}

Json blocked_json(const Candidate& candidate) {
  Json json = Json::array();
  for (const BlockedSpell& spell : candidate.blocked) {
    Json one{{"from", date_json(spell.from)}, {"to", date_json(spell.to)}, {"kind", to_string(spell.kind)}};
    if (!spell.why.empty()) one["why"] = spell.why;
    json.push_back(std::move(one));
  }
  return json;
}

Json avoid_json(const Candidate& candidate) {
  Json json = Json::array();
  for (const Avoid& avoid : candidate.avoid) {
    Json one{{"work", avoid.work}};
    if (avoid.from) one["from"] = date_json(*avoid.from);
    if (avoid.until) one["until"] = date_json(*avoid.until);
    if (!avoid.why.empty()) one["why"] = avoid.why;
    json.push_back(std::move(one));
  }
  return json;
}

Json equipment_json(const Equipment& equipment) {
  Json plates = Json::array();
  for (const double plate : equipment.plates_lb) plates.push_back(rounded(plate, kExact));
  return {{"hex_bar", equipment.hex_bar},
          {"bar_lb", rounded(equipment.bar_lb, kExact)},
          {"plates_lb", std::move(plates)},
          {"sled", equipment.sled},
          {"kettlebells", equipment.kettlebells},
          {"pull_up_bar", equipment.pull_up_bar},
          {"track", equipment.track},
          {"throw_ball", equipment.throw_ball}};
}

Json medical_json(const Medical& medical) {
  Json json;
  switch (medical.status) {
    case MedicalStatus::none:
      json["status"] = "none";
      break;
    case MedicalStatus::pregnant:
      json["status"] = "pregnant";
      break;
    case MedicalStatus::postpartum:
      json["status"] = "postpartum";
      if (medical.cleared_on) json["cleared_on"] = date_json(*medical.cleared_on);
      break;
    case MedicalStatus::profile:
      json["status"] = "profile";
      json["permitted"] = medical.permitted;
      if (medical.since) json["since"] = date_json(*medical.since);
      if (medical.until) json["until"] = date_json(*medical.until);
      break;
  }
  return json;
}

}  // namespace

std::string write_candidate(const Candidate& candidate) {
  Json json;
  json["format"] = "backplan-candidate/1";
  json["id"] = candidate.id;
  json["birth_date"] = date_json(candidate.birth_date);
  json["column"] = candidate.column;
  json["standard"] = candidate.standard;
  json["category"] = candidate.category;
  json["test_date"] = date_json(candidate.test_date);
  for (const Date test : candidate.diagnostics) json["diagnostics"].push_back(date_json(test));
  json["target"] = target_json(candidate.target);
  json["aim"] = candidate.aim == Aim::highest ? "highest" : "target";
  json["background"] = to_string(candidate.background);
  if (const Json now = now_json(candidate.now); !now.empty()) json["now"] = now;
  json["results"] = results_json(candidate.results);
  for (std::size_t d = 0; d < kDayKeys.size(); ++d) json["week"][kDayKeys.at(d)] = candidate.week.at(d);
  json["home_blocks"] = candidate.home_blocks;
  if (!candidate.days.empty()) json["days"] = days_json(candidate);
  if (!candidate.fixed.empty()) json["fixed"] = fixed_json(candidate);
  if (!candidate.blocked.empty()) json["blocked"] = blocked_json(candidate);
  json["equipment"] = equipment_json(candidate.equipment);
  if (!candidate.avoid.empty()) json["avoid"] = avoid_json(candidate);
  json["medical"] = medical_json(candidate.medical);
  return pretty(json);
}

}  // namespace backplan::io
