#include "backplan/test_day.hpp"

#include <algorithm>
#include <cmath>

#include "backplan/evidence.hpp"
#include "backplan/numeric.hpp"
#include "backplan/outlook.hpp"
#include "backplan/prescription.hpp"
#include "backplan/units.hpp"

namespace backplan {
namespace {

constexpr double kUniformSd = 0.28867513459;  // of a unit interval: 1 / sqrt(12)
constexpr double kLeastSd = 1e-3;             // in v: an interval may have been rounded to nothing
constexpr std::size_t kRowsBelow = 1, kRowsAbove = 3;
constexpr std::size_t kHoldRowsAbove = 3;
constexpr double kRounding = 1e-9;

double better_by(double result, double step, Direction direction) {
  return direction == Direction::more_is_better ? result + step : result - step;
}

// The spread of a run at a place that slows it.
DaySpread slowed(DaySpread spread, const std::optional<Slowing>& slowing) {
  if (!slowing) return spread;
  const double width = numeric::log(1.0 + slowing->most) - numeric::log(1.0 + slowing->least);
  return {spread.mean - numeric::log(1.0 + slowing->middle),
          std::sqrt(spread.sd * spread.sd + kUniformSd * kUniformSd * width * width)};
}

bool whole_laps(Metres distance, Metres lap) {
  const double laps = distance.value() / lap.value();
  return std::fabs(laps - std::floor(laps + 0.5)) < kRounding;
}

std::size_t row_at(const Scale& scale, double result) {
  std::size_t at = 0;
  while (at + 1 < scale.rows().size() && scale.at_least(result, scale.rows()[at + 1].result)) ++at;
  return at;
}

// Rows from just below the one that the result earns to a few above it.
std::vector<Row> rows_around(const Scale& scale, double result) {
  const std::size_t at = row_at(scale, result);
  const std::size_t from = at > kRowsBelow ? at - kRowsBelow : 0;
  const std::size_t to = std::min(scale.rows().size(), at + kRowsAbove + 1);
  return {scale.rows().begin() + static_cast<std::ptrdiff_t>(from),
          scale.rows().begin() + static_cast<std::ptrdiff_t>(to)};
}

class SheetWriter {
 public:
  SheetWriter(const Candidate& candidate, const Standard& standard, const Model& model,
              const TestDayModel& day, const TestDaySettings& settings)
      : candidate_(candidate),
        standard_(standard),
        category_(*standard.find_category(candidate.category)),
        model_(model),
        day_(day),
        settings_(settings),
        age_(age_on(candidate.birth_date, candidate.test_date)) {}

  [[nodiscard]] std::vector<DayEvent> events(const DayForecast& day) const {
    std::vector<DayEvent> out;
    for (std::size_t i = 0; i < day.outlook.events.size(); ++i) {
      const EventOutlook& forecast = day.outlook.events[i];
      const Event* event = standard_.find_event(forecast.event);
      if (event == nullptr) continue;
      const auto model = day_.events.find(event->model_event);
      const Scale* scale = standard_.scale_for(*event, candidate_.column, age_, category_);
      if (model != day_.events.end() && scale != nullptr)
        out.push_back(event_of(forecast, day.spreads[i], *event, model->second, *scale));
    }
    return out;
  }

  [[nodiscard]] const ProtocolFact* fact(const std::string& topic) const {
    for (const ProtocolFact& one : standard_.protocol) {
      if (one.topic == topic) return &one;
    }
    return nullptr;
  }

 private:
  [[nodiscard]] DayEvent event_of(const EventOutlook& forecast, const DaySpread& usual, const Event& event,
                                  const DayEventModel& model, const Scale& scale) const {
    DayEvent out;
    out.event = event.id;
    out.kind = model.kind;
    const bool no_clock = event.time_limit && *event.time_limit <= Seconds(0.0);
    out.cue = no_clock && !model.cue_without_clock.empty() ? model.cue_without_clock : model.cue;
    if (const ProtocolFact* found = fact(model.topic); found != nullptr && !found->value.empty())
      out.rule = found->value;
    out.measured = forecast.measured;
    out.step = event.resolution;
    if (const auto least = category_.minimum_of(event.id)) out.minimum = scale.row_for(*least);
    out.asked = asked_row(event, scale);
    const DaySpread spread = at_the_place(usual, event, out);
    set_forecast(spread, event, scale, out);
    if (!out.heat && !out.altitude) take_over(forecast, out);
    set_aim(event, out);
    if (out.measured || out.aim_given) add_pacing(event, model, scale, spread, out);
    return out;
  }

  // What the target asks of this event; none where that is no more than its minimum.
  [[nodiscard]] std::optional<Row> asked_row(const Event& event, const Scale& scale) const {
    const std::optional<Points> asked = candidate_.target.asked_of(event.id);
    const auto least = category_.minimum_of(event.id);
    if (!asked || (least && *asked <= *least)) return std::nullopt;
    return scale.row_for(*asked);
  }

  [[nodiscard]] DaySpread at_the_place(DaySpread spread, const Event& event, DayEvent& out) const {
    const EventModel* model = model_.find_event(event.model_event);
    const bool run = model != nullptr && model->run && event.distance;
    if (!run || event.direction != Direction::less_is_better) return spread;
    const Seconds time(result_of(spread.mean, event.direction));
    if (settings_.place.wbgt_c) out.heat = slowing_by_heat(*settings_.place.wbgt_c, day_.heat);
    if (settings_.place.altitude)
      out.altitude = slowing_by_altitude(*settings_.place.altitude, *event.distance, time, day_.altitude);
    return slowed(slowed(spread, out.heat), out.altitude);
  }

  void set_forecast(const DaySpread& spread, const Event& event, const Scale& scale, DayEvent& out) const {
    const auto rounded = [&event](double v) {
      return round_harder(result_of(v, event.direction), event.resolution, event.direction);
    };
    out.result = rounded(spread.mean);
    out.low80 = rounded(spread.mean - numeric::kZ80 * spread.sd);
    out.high80 = rounded(spread.mean + numeric::kZ80 * spread.sd);
    const Score score = scale.score(out.result);
    out.points = score.points;
    out.origin = score.origin;
    const AbilityScale by_ability(scale, category_.minimum_of(event.id));
    out.expected_points = by_ability.expected_points(spread.mean, spread.sd);
    out.p_minimum = 1.0 - by_ability.p_below_minimum(spread.mean, spread.sd);
    const double exact = result_of(spread.mean, event.direction);
    const double further = better_by(exact, event.resolution, event.direction);
    if (further > 0.0)
      out.step_worth =
          by_ability.expected_points(ability_of(further, event.direction), spread.sd) - out.expected_points;
    out.rows = rows_around(scale, out.result);
    out.may_miss_scale = !scale.score(out.low80).points;
  }

  // Where the place changes nothing the figures are those of the outlook, so that two sheets never differ.
  static void take_over(const EventOutlook& forecast, DayEvent& out) {
    out.result = forecast.test_day_result;
    out.low80 = forecast.test_day_low80;
    out.high80 = forecast.test_day_high80;
    out.points = forecast.test_day_points;
    out.origin = forecast.test_day_origin;
    out.expected_points = forecast.expected_points;
    out.p_minimum = forecast.p_minimum;
  }

  void set_aim(const Event& event, DayEvent& out) const {
    const auto given = settings_.aims.find(event.id);
    out.aim_given = given != settings_.aims.end();
    out.aim = out.aim_given ? round_harder(given->second, event.resolution, event.direction) : out.result;
  }

  void add_pacing(const Event& event, const DayEventModel& model, const Scale& scale, const DaySpread& spread,
                  DayEvent& out) const {
    switch (model.kind) {
      case DayKind::tries:
        if (out.measured) add_tries(event, model, scale, spread, out);
        break;
      case DayKind::quarters:
        out.seconds = event.time_limit ? static_cast<int>(event.time_limit->value()) : model.seconds;
        if (out.seconds > 0)
          out.quarters = pace_quarters(static_cast<int>(out.aim + kRounding), model.quarters);
        break;
      case DayKind::legs:
        out.legs = leg_marks(out.aim, event.resolution, model.legs);
        break;
      case DayKind::hold:
        add_hold(scale, out);
        break;
      case DayKind::laps:
        if (event.distance) add_laps(event, model, out);
        break;
      case DayKind::throws:
      case DayKind::plain:
        break;
    }
  }

  void add_tries(const Event& event, const DayEventModel& model, const Scale& scale, const DaySpread& spread,
                 DayEvent& out) const {
    out.tries = choose_tries(scale, spread, model.tries);
    for (const WarmUpShare& one : model.warm_up) {
      double load = one.share * out.tries->best.first;
      // Plates are known in pounds only.
      load = event.unit == Unit::pound ? loadable(Pounds(load), Pounds(load), candidate_.equipment).value()
                                       : round_harder(load, event.resolution, event.direction);
      const bool heavier = out.warm_up.empty() || load > out.warm_up.back().load;
      if (heavier && load < out.tries->best.first) out.warm_up.push_back({load, one.repetitions});
    }
  }

  // The minimum, the row that the forecast earns and the next ones: what to look for on the clock.
  static void add_hold(const Scale& scale, DayEvent& out) {
    const std::size_t at = row_at(scale, out.aim);
    if (out.minimum && out.minimum->result < scale.rows()[at].result) out.hold.push_back(*out.minimum);
    for (std::size_t i = at; i < scale.rows().size() && i <= at + kHoldRowsAbove; ++i)
      out.hold.push_back(scale.rows()[i]);
  }

  static void add_laps(const Event& event, const DayEventModel& model, DayEvent& out) {
    const double step = event.resolution;
    const Metres yards(model.lap.value() * kMetresPerYard);
    out.laps_in_yards = !whole_laps(*event.distance, model.lap) && whole_laps(*event.distance, yards);
    const Metres lap = out.laps_in_yards ? yards : model.lap;
    out.even_laps = lap_marks(out.aim, step, *event.distance, lap, 0.0);
    out.faster_laps = lap_marks(out.aim, step, *event.distance, lap, model.faster_second_half);
    if (model.by_mile) out.even_miles = lap_marks(out.aim, step, *event.distance, to_metres(Miles(1.0)), 0.0);
  }

  const Candidate& candidate_;
  const Standard& standard_;
  const Category& category_;
  const Model& model_;
  const TestDayModel& day_;
  const TestDaySettings& settings_;
  int age_;
};

// Why there is no sheet; empty otherwise. As the planner declines.
std::string refusal(const Medical& medical, Date as_of) {
  if (medical.status == MedicalStatus::pregnant) {
    return "not during pregnancy: ask your provider, and the unit what is due";
  }
  if (medical.status == MedicalStatus::postpartum && (!medical.cleared_on || *medical.cleared_on > as_of)) {
    return "not before a provider has cleared you after pregnancy: enter \"cleared_on\" when that is "
           "done";
  }
  return {};
}

RestPlan rest_of(const SheetWriter& writer, const TestDayModel& day, const TestDaySettings& settings) {
  RestPlan rest;
  rest.between = settings.rest_between;
  rest.before_last = settings.rest_before_last;
  const ProtocolFact* fact = writer.fact(day.rest_topic);
  rest.source = fact == nullptr ? "not found for this test" : fact->source;
  if (fact != nullptr && !fact->value.empty()) rest.published = fact->value;
  return rest;
}

}  // namespace

std::string to_string(DayKind kind) {
  switch (kind) {
    case DayKind::tries:
      return "tries";
    case DayKind::quarters:
      return "quarters";
    case DayKind::legs:
      return "legs";
    case DayKind::hold:
      return "hold";
    case DayKind::laps:
      return "laps";
    case DayKind::plain:
      return "plain";
    case DayKind::throws:
      break;
  }
  return "throws";
}

DaySpread spread_of(const EventState& state, double s, double loss) {
  DaySpread out;
  double square = 0.0;
  for (const auto& node : state.nodes) {
    const double mean = state.mean_at(node, s, loss);
    const double sd = test_day_sd(state, node, s, mean);
    out.mean += node.weight * mean;
    square += node.weight * (sd * sd + mean * mean);
  }
  out.sd = std::sqrt(std::max(kLeastSd * kLeastSd, square - out.mean * out.mean));
  return out;
}

DaySpread spread_of(const EventOutlook& outlook, const std::optional<double>& expected, const Event& event,
                    const EventModel& model) {
  const auto ability = [&event](double result) {
    return ability_of(std::max(better_by(result, 0.5 * event.resolution, event.direction), kRounding),
                      event.direction);
  };
  const double low = ability(outlook.test_day_low80);
  const double high = ability(outlook.test_day_high80);
  const double mean = expected ? ability_of(*expected, event.direction) : 0.5 * (low + high);
  const double noise = noise_of(model, result_of(mean, event.direction));
  return {mean, std::max({kLeastSd, noise, (high - low) / (2.0 * numeric::kZ80)})};
}

DayForecast day_forecast(const Plan& plan, const Standard& standard, const Model& model) {
  DayForecast out;
  for (const EventOutlook& one : plan.outlook.events) {
    const Event* event = standard.find_event(one.event);
    const EventModel* known = event == nullptr ? nullptr : model.find_event(event->model_event);
    if (known == nullptr) continue;
    std::optional<double> expected;
    if (!plan.weeks.empty()) {
      for (const Milestone& milestone : plan.weeks.back().milestones) {
        if (milestone.event == one.event && milestone.result > 0.0) expected = milestone.result;
      }
    }
    out.outlook.events.push_back(one);
    out.spreads.push_back(spread_of(one, expected, *event, *known));
  }
  out.outlook.total = plan.outlook.total;
  out.outlook.p_on_scale = plan.outlook.p_on_scale;
  out.outlook.p_pass = plan.outlook.p_pass;
  out.outlook.p_target = plan.outlook.p_target;
  return out;
}

DayForecast day_forecast(const std::vector<EventState>& states, const Candidate& candidate,
                         const Standard& standard, const Model& model) {
  DayForecast out;
  const std::vector<double> nothing(states.size(), 0.0);
  out.outlook = forecast(states, candidate, standard, model, {nothing, nothing});
  for (const EventState& state : states) out.spreads.push_back(spread_of(state, 0.0, 0.0));
  return out;
}

TestDaySheet make_test_day_sheet(const DayForecast& forecast, const Candidate& candidate,
                                 const Standard& standard, const Model& model, const TestDayModel& day,
                                 Date as_of, const TestDaySettings& settings) {
  TestDaySheet sheet;
  sheet.candidate = candidate.id;
  sheet.standard = standard.id;
  sheet.category = candidate.category;
  sheet.as_of = as_of;
  sheet.test_date = candidate.test_date;
  sheet.place = settings.place;
  if (const std::string why = refusal(candidate.medical, as_of); !why.empty()) {
    sheet.refused.push_back(why);
    return sheet;
  }
  sheet.total = forecast.outlook.total;
  sheet.p_on_scale = forecast.outlook.p_on_scale;
  sheet.p_pass = forecast.outlook.p_pass;
  sheet.p_target = forecast.outlook.p_target;
  if (settings.place.wbgt_c) sheet.heat_category = heat_category(*settings.place.wbgt_c, day.heat_categories);
  const SheetWriter writer(candidate, standard, model, day, settings);
  sheet.events = writer.events(forecast);
  sheet.rest = rest_of(writer, day, settings);
  for (const WarmUpStep& step : day.warm_up) {
    const bool wanted = std::any_of(step.events.begin(), step.events.end(), [&](const std::string& event) {
      return standard.first_of_model(event) != nullptr;
    });
    if (step.events.empty() || wanted) sheet.warm_up.push_back(step.text);
  }
  sheet.bring = day.bring;
  sheet.cautions = day.cautions;
  if (sheet.heat_category && !sheet.heat_category->hard_runs)
    sheet.cautions.emplace_back("No hard run is advised in this heat: ask whether the run goes on.");
  if (candidate.medical.status == MedicalStatus::profile)
    sheet.cautions.emplace_back("You are on a profile: do only the events that it permits.");
  return sheet;
}

}  // namespace backplan
