#include "io/programme_json.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <optional>

#include "backplan/units.hpp"
#include "io/plan_json.hpp"

namespace backplan::io {
namespace {

// As `show` writes it of a block; a programme that is kept has none.
void note_off(const std::optional<WorkOff>& off, Json& json) {
  if (!off) return;
  json["off"] = off->why;
  json["instead"] = off->instead;
}

Json turn_json(const Turn& turn) {
  Json json;
  json["id"] = turn.id;
  json["from"] = rounded(turn.from, kMinuteDecimals);
  json["to"] = rounded(turn.to, kMinuteDecimals);
  json["prescription"] = turn.prescription;
  if (turn.load) json["load_lb"] = rounded(turn.load->value(), kResultDecimals);
  if (turn.planned_load) json["planned_lb"] = rounded(turn.planned_load->value(), kResultDecimals);
  if (turn.size) json["size"] = to_string(*turn.size);
  if (turn.quarter) json["seconds_400_m"] = rounded(turn.quarter->value(), 1);
  note_off(turn.off, json);
  return json;
}

Json station_json(const Station& station) {
  Json json;
  json["work"] = station.work;
  json["lane"] = station.lane;
  json["equipment"] = station.equipment;
  if (!station.note.empty()) json["note"] = station.note;
  json["turns"] = list_json(station.turns, turn_json);
  return json;
}

Json pooled_json(const PooledEvent& pooled) {
  Json json;
  json["event"] = pooled.event;
  json["people"] = pooled.people;
  json["headroom_shift"] = rounded(pooled.headroom_shift, kChanceDecimals);
  json["headroom_sd"] = rounded(pooled.headroom_sd, kChanceDecimals);
  json["rate_shift"] = rounded(pooled.rate_shift, kChanceDecimals);
  json["rate_sd"] = rounded(pooled.rate_sd, kChanceDecimals);
  return json;
}

Json shortfall_json(const Shortfall& one) {
  return {{"day", kDayKeys.at(static_cast<std::size_t>(one.weekday))},
          {"what", one.what},
          {"remedy", one.remedy}};
}

Json optimality_json(const Programme& programme) {
  const Optimality& optimality = programme.optimality;
  Json json;
  json["value"] = rounded(optimality.value, kOptimalityDecimals);
  json["bound"] = rounded(optimality.bound.value_or(optimality.value), kOptimalityDecimals);
  json["gain"] = rounded(programme.gain, kOptimalityDecimals);
  json["patterns"] = programme.patterns_compared;
  return json;
}

Json squad_outlook_json(const Programme& programme) {
  const SquadOutlook& outlook = programme.outlook;
  const auto number = [&](auto counts) {
    return std::count_if(programme.people.begin(), programme.people.end(), counts);
  };
  Json json;
  json["people"] = number([](const Person& person) { return is_planned(person); });
  json["referred"] = number([](const Person& person) { return !person.refused.empty(); });
  json["done"] = number([](const Person& person) { return person.done; });
  json["mean"] = rounded(outlook.mean.mean, kPointDecimals);
  json["mean_low80"] = rounded(outlook.mean.low80, kPointDecimals);
  json["mean_high80"] = rounded(outlook.mean.high80, kPointDecimals);
  json["expected_failing"] = rounded(outlook.expected_failing, kChanceDecimals);
  json["low80"] = rounded(outlook.low80, kChanceDecimals);
  json["high80"] = rounded(outlook.high80, kChanceDecimals);
  return json;
}

}  // namespace

Json group_json(const Group& group) {
  Json json;
  json["id"] = group.id;
  std::map<std::string, int> blocks;
  Json days = Json::object();
  for (std::size_t d = 0; d < group.pattern.days.size(); ++d) {
    if (group.pattern.days[d].empty()) continue;
    Json day = Json::array();
    for (const PatternBlock& block : group.pattern.days[d]) {
      ++blocks[block.work];
      day.push_back({{"work", block.work}, {"size", to_string(block.size)}});
    }
    days[kDayKeys[d]] = std::move(day);
  }
  json["pattern"] = Json::object();
  for (const auto& [work, count] : blocks) json["pattern"][work] = count;
  json["days"] = std::move(days);
  json["members"] = group.members;
  json["why"] = group.why;
  return json;
}

Json extra_json(const Extra& extra) {
  Json json{{"date", date_json(extra.date)},
            {"work", extra.block.work},
            {"minutes", extra.block.minutes},
            {"prescription", extra.block.prescription}};
  note_off(extra.off, json);
  return json;
}

Json person_json(const Person& person, const Standard& standard) {
  Json json;
  json["id"] = person.id;
  json["display"] = person.display;
  json["group"] = person.group;
  json["test_date"] = date_json(person.test_date);
  const bool planned = is_planned(person);
  json["outlook"] = planned ? outlook_json(person.outlook, standard) : Json(nullptr);
  json["p_fail"] = planned ? rounded(person.p_fail, kChanceDecimals) : Json(nullptr);
  json["weakest"] = nullptr;
  if (person.weakest)
    json["weakest"] = {{"event", person.weakest->event},
                       {"p_minimum", rounded(person.weakest->p_minimum, kChanceDecimals)}};
  json["cheapest"] = nullptr;
  if (person.cheapest)
    json["cheapest"] = {{"work", person.cheapest->work},
                        {"event", person.cheapest->event},
                        {"points_per_hour", rounded(person.cheapest->points_per_hour, kYieldDecimals)}};
  json["extra"] = Json::array();
  for (const Extra& extra : person.extra) json["extra"].push_back(extra_json(extra));
  json["notes"] = person.notes;
  if (!person.refused.empty()) json["refused"] = person.refused;
  if (person.done) json["done"] = true;
  return json;
}

Json morning_json(const Morning& morning) {
  Json json;
  json["date"] = date_json(morning.date);
  json["minutes"] = morning.minutes;
  json["stations"] = list_json(morning.stations, station_json);
  return json;
}

std::string write_programme(const Programme& programme, const Standard& standard,
                            const std::string& tool_version) {
  Json json;
  json["format"] = kProgrammeFormat;
  json["tool_version"] = tool_version;
  json["as_of"] = date_json(programme.as_of);
  json["squad"] = programme.squad;
  json["standard"]["id"] = programme.standard;
  json["standard"]["hash"] = programme.standard_hash;
  json["model"]["hash"] = programme.model_hash;
  json["basis"] = programme.basis;
  if (programme.revision > 0) {
    json["calendar"]["revision"] = programme.revision;
    json["calendar"]["withdrawn"] = list_json(programme.withdrawn, date_json);
  }
  json["test_date"] = date_json(programme.test_date);
  json["goal"] = to_string(programme.goal);
  json["confidence"] = rounded(programme.confidence, kChanceDecimals);
  json["outlook"] = squad_outlook_json(programme);
  json["optimality"] = optimality_json(programme);
  json["groups"] = list_json(programme.groups, group_json);
  json["people"] =
      list_json(programme.people, [&](const Person& person) { return person_json(person, standard); });
  json["mornings"] = list_json(programme.mornings, morning_json);
  json["pooled"] = list_json(programme.pooled, pooled_json);
  json["shortfalls"] = list_json(programme.shortfalls, shortfall_json);
  json["refused"] = programme.refused;
  json["cautions"] = programme.cautions;
  json["assumptions"] = assumptions_json(programme.assumptions);
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace backplan::io
