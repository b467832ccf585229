#include "io/test_day_json.hpp"

#include "backplan/score.hpp"
#include "io/plan_json.hpp"

namespace backplan::io {
namespace {

constexpr int kShareDecimals = 4;

class EventJson {
 public:
  EventJson(const DayEvent& day, const Event& event) : day_(day), event_(event) {}

  [[nodiscard]] Json json() const {
    Json json;
    json["event"] = day_.event;
    json["kind"] = to_string(day_.kind);
    json["measured"] = day_.measured;
    json["unit"] = unit_json(event_.unit);
    json["forecast"] = forecast();
    json["rule"] = day_.rule ? Json(*day_.rule) : Json(nullptr);
    json["cue"] = day_.cue;
    json["minimum"] = row_or_null(day_.minimum);
    json["asked"] = row_or_null(day_.asked);
    json["step"] = rounded(day_.step, kResultDecimals);
    json["step_worth"] = rounded(day_.step_worth, kPointDecimals);
    json["rows"] = rows(day_.rows);
    json["aim"] = figure(day_.aim);
    json["aim"]["given"] = day_.aim_given;
    add_place(json);
    add_pacing(json);
    return json;
  }

 private:
  [[nodiscard]] Json figure(double result) const {
    Json json;
    json["result"] = rounded(result, kResultDecimals);
    json["text"] = format_result(result, event_);
    return json;
  }

  [[nodiscard]] Json forecast() const {
    Json json = figure(day_.result);
    json["low80"] = rounded(day_.low80, kResultDecimals);
    json["low80_text"] = format_result(day_.low80, event_);
    json["high80"] = rounded(day_.high80, kResultDecimals);
    json["high80_text"] = format_result(day_.high80, event_);
    json["points"] = points_json(day_.points);
    json["origin"] = day_.points ? Json(to_string(day_.origin)) : Json(nullptr);
    json["expected_points"] = rounded(day_.expected_points, kPointDecimals);
    json["p_minimum"] = rounded(day_.p_minimum, kChanceDecimals);
    return json;
  }

  [[nodiscard]] Json row(const Row& one) const {
    Json json = figure(one.result);
    json["points"] = points_json(one.points);
    json["origin"] = to_string(one.origin);
    return json;
  }

  [[nodiscard]] Json row_or_null(const std::optional<Row>& one) const {
    return one ? row(*one) : Json(nullptr);
  }

  [[nodiscard]] Json rows(const std::vector<Row>& all) const {
    Json json = Json::array();
    for (const Row& one : all) json.push_back(row(one));
    return json;
  }

  static Json slowing(const std::optional<Slowing>& by) {
    if (!by) return nullptr;
    Json json;
    json["least"] = rounded(by->least, kShareDecimals);
    json["middle"] = rounded(by->middle, kShareDecimals);
    json["most"] = rounded(by->most, kShareDecimals);
    return json;
  }

  void add_place(Json& json) const {
    json["slower_by_heat"] = slowing(day_.heat);
    json["slower_by_altitude"] = slowing(day_.altitude);
  }

  [[nodiscard]] Json choice(const TryChoice& one) const {
    Json json;
    json["first"] = rounded(one.first, kResultDecimals);
    json["after_good"] = one.after_good ? rounded(*one.after_good, kResultDecimals) : Json(nullptr);
    json["after_failed"] = one.after_failed ? rounded(*one.after_failed, kResultDecimals) : Json(nullptr);
    json["expected_points"] = rounded(one.expected_points, kPointDecimals);
    json["p_first"] = rounded(one.p_first, kChanceDecimals);
    json["p_nothing"] = rounded(one.p_nothing, kChanceDecimals);
    return json;
  }

  [[nodiscard]] static Json marks(const std::vector<ClockMark>& all, bool names) {
    Json json = Json::array();
    for (const ClockMark& one : all) {
      Json mark;
      if (names) {
        mark["leg"] = one.name;
      } else {
        mark["metres"] = rounded(one.at.value(), kResultDecimals);
      }
      mark["split"] = rounded(one.split, kResultDecimals);
      mark["clock"] = rounded(one.clock, kResultDecimals);
      mark["clock_text"] = format_result(one.clock, Unit::second);
      json.push_back(std::move(mark));
    }
    return json;
  }

  void add_pacing(Json& json) const {
    if (day_.tries) {
      json["tries"] = choice(day_.tries->best);
      for (const TryChoice& one : day_.tries->near) json["alternatives"].push_back(choice(one));
      json["warm_up_sets"] = Json::array();
      for (const WarmUpSet& one : day_.warm_up)
        json["warm_up_sets"].push_back(
            {{"load", rounded(one.load, kResultDecimals)}, {"reps", one.repetitions}});
    }
    if (!day_.quarters.empty()) {
      json["seconds"] = day_.seconds;
      json["repetitions_by_quarter"] = day_.quarters;
    }
    if (!day_.legs.empty()) json["legs"] = marks(day_.legs, true);
    if (!day_.hold.empty()) json["marks"] = rows(day_.hold);
    if (day_.even_laps.empty()) return;
    json["even_laps"] = marks(day_.even_laps, false);
    json["faster_second_half_laps"] = marks(day_.faster_laps, false);
    json["even_miles"] = marks(day_.even_miles, false);
  }

  const DayEvent& day_;
  const Event& event_;
};

Json rest_json(const RestPlan& rest) {
  Json json;
  json["between_minutes"] = rest.between ? Json(*rest.between) : Json(nullptr);
  json["before_last_minutes"] = rest.before_last ? Json(*rest.before_last) : Json(nullptr);
  json["published"] = rest.published ? Json(*rest.published) : Json(nullptr);
  json["source"] = rest.source;
  return json;
}

}  // namespace

Json test_day_json(const TestDaySheet& sheet, const Standard& standard, const std::string& basis,
                   const std::vector<Assumption>& assumptions) {
  Json json;
  json["candidate"] = sheet.candidate;
  json["standard"] = sheet.standard;
  json["category"] = sheet.category;
  json["as_of"] = date_json(sheet.as_of);
  json["test_date"] = date_json(sheet.test_date);
  json["refused"] = sheet.refused;
  if (!sheet.refused.empty()) return json;
  json["basis"] = basis;
  json["wbgt_c"] = sheet.place.wbgt_c ? rounded(*sheet.place.wbgt_c, 1) : Json(nullptr);
  json["altitude_m"] = sheet.place.altitude ? rounded(sheet.place.altitude->value(), 0) : Json(nullptr);
  json["heat_category"] = sheet.heat_category ? Json(sheet.heat_category->category) : Json(nullptr);
  json["events"] = Json::array();
  for (const DayEvent& day : sheet.events) {
    const Event* event = standard.find_event(day.event);
    if (event != nullptr) json["events"].push_back(EventJson(day, *event).json());
  }
  json["rest"] = rest_json(sheet.rest);
  json["warm_up"] = sheet.warm_up;
  json["bring"] = sheet.bring;
  json["cautions"] = sheet.cautions;
  json["assumptions"] = assumptions_json(assumptions);
  return json;
}

}  // namespace backplan::io
