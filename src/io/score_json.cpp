#include "io/score_json.hpp"

namespace backplan::io {
namespace {

Json event_json(const EventScore& score, const Standard& standard) {
  const Event* found = standard.find_event(score.event);
  const Event event = found == nullptr ? Event{} : *found;
  Json json;
  json["event"] = score.event;
  json["result"] = score.result ? rounded(*score.result, kResultDecimals) : Json(nullptr);
  json["text"] = score.result ? Json(format_result(*score.result, event)) : Json(nullptr);
  json["unit"] = unit_json(event.unit);
  json["points"] = points_json(score.points);
  json["origin"] = score.points ? Json(to_string(score.origin)) : Json(nullptr);
  json["next"] = nullptr;
  if (score.next) {
    Json next;
    next["points"] = points_json(score.next->points);
    next["result"] = rounded(score.next->result, kResultDecimals);
    next["text"] = format_result(score.next->result, event);
    next["origin"] = to_string(score.next->origin);
    json["next"] = std::move(next);
  }
  return json;
}

void add_verdict(const ScoreCard& card, Json& json) {
  json["total"] = points_json(card.total);
  json["pass"] = card.pass ? Json(*card.pass) : Json(nullptr);
  json["reasons"] = card.reasons;
}

}  // namespace

Json score_json(const ScoreCard& card, const std::vector<ScoreCard>& all, const Standard& standard,
                const std::vector<FitReport>& fitted) {
  Json json;
  json["standard"] = card.standard;
  json["category"] = card.category;
  json["column"] = card.column;
  json["age"] = card.age;
  json["age_band"] = to_string(card.band);
  json["events"] = Json::array();
  for (const EventScore& event : card.events) json["events"].push_back(event_json(event, standard));
  add_verdict(card, json);
  json["categories"] = Json::array();
  for (const ScoreCard& other : all) {
    Json verdict;
    verdict["category"] = other.category;
    add_verdict(other, verdict);
    json["categories"].push_back(std::move(verdict));
  }
  for (const FitReport& report : fitted) {
    Json one;
    one["event"] = report.event;
    one["now"] = rounded(report.now_result, kResultDecimals);
    one["now_low80"] = rounded(report.now_low80, kResultDecimals);
    one["now_high80"] = rounded(report.now_high80, kResultDecimals);
    json["fitted"].push_back(std::move(one));
  }
  return json;
}

}  // namespace backplan::io
