// The sheet for the day of the test: tries, pacing, splits, marks, laps, worked out from the outlook.
// docs/mathematics.md, "Test day".
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/progress.hpp"
#include "backplan/standard.hpp"
#include "backplan/units.hpp"

namespace backplan {

// ---- What data/model/test_day.json says.

// How an event is done on the day: tries at loads, repetitions by quarters of a minute, legs of a course,
// a hold, laps of a run, throws, or nothing but a cue.
enum class DayKind { tries, quarters, legs, hold, laps, throws, plain };
[[nodiscard]] std::string to_string(DayKind kind);

// Of the best load of the morning, in v.
struct TriesModel {
  int most = 2;
  double between = 0.01;  // standard deviation of one try around the ability of the morning
  double tired_after_good = 0.01, tired_after_failed = 0.015;  // what the first try takes from the second
};

struct WarmUpShare {
  double share = 0.0;  // of the first try
  int repetitions = 0;
};

struct LegShare {
  std::string name;
  double share = 0.0;  // of the time; the shares of a course sum to 1
};

struct DayEventModel {
  DayKind kind = DayKind::hold;
  std::string topic;  // of the protocol fact that the event rests on; may be empty
  std::string cue;
  std::string cue_without_clock;  // where the standard says that there is none; may be empty
  TriesModel tries;
  std::vector<WarmUpShare> warm_up;
  int seconds = 0;               // that the repetitions may take
  std::vector<double> quarters;  // shares of the repetitions; sum to 1
  std::vector<LegShare> legs;
  Metres lap{400.0};
  double faster_second_half = 0.01;  // pace of each half against the mean
  bool by_mile = true;               // whether a mile is a measure of such an event
};

struct HeatModel {
  double best_from_c = 7.5, best_to_c = 15.0;                // WBGT without loss
  double least_per_degree = 0.003, most_per_degree = 0.004;  // of the time, for each degree outside
  std::string credit;
};

struct AltitudeModel {
  Metres from{300.0}, most{2800.0};
  double loss_per_km = 0.063;                  // of the aerobic maximum
  double least_share = 0.5, most_share = 1.0;  // of what the oxygen-cost equations make of it
  std::string credit;
};

struct HeatCategory {
  int category = 0;
  double from_f = 0.0;  // WBGT
  std::string work_rest;
  double water_qt = 0.0;  // an hour
  bool hard_runs = true;  // false: none is advised
};

// A step of the warm-up; for everybody, or where one of these events of the model is done.
struct WarmUpStep {
  std::string text;
  std::vector<std::string> events;
};

struct TestDayModel {
  std::map<std::string, DayEventModel> events;  // by model event
  HeatModel heat;
  AltitudeModel altitude;
  std::vector<HeatCategory> heat_categories;  // by rising temperature
  std::string rest_topic;
  std::vector<WarmUpStep> warm_up;
  std::vector<std::string> bring, cautions;
  std::vector<Assumption> assumptions;
};

// ---- Pieces of the sheet.

// A result of the day as ln-ability: N(mean, sd^2).
struct DaySpread {
  double mean = 0.0;
  double sd = 0.0;
};

// Of a fitted state after `s` units of work and a loss; the noise of the day is in it.
[[nodiscard]] DaySpread spread_of(const EventState& state, double s, double loss);
// Behind a plan's interval, which was rounded to the harder side: half a step is given back, and the noise of
// the day is the least. `expected`: the unrounded result, where it is known.
[[nodiscard]] DaySpread spread_of(const EventOutlook& outlook, const std::optional<double>& expected,
                                  const Event& event, const EventModel& model);

// One way to use two tries. Loads are in the event's unit.
struct TryChoice {
  double first = 0.0;
  std::optional<double> after_good;    // none: stop, more would earn nothing
  std::optional<double> after_failed;  // none: nothing lighter earns points
  double expected_points = 0.0;        // without any good try: 0
  double p_first = 0.0;                // of a good first try
  double p_nothing = 0.0;              // that no try is good
};

struct TryPlan {
  TryChoice best;
  std::vector<TryChoice> near;  // the best of each first load around it, by load; holds the best too
};

// The two-step decision that earns most points on average, over the loads of the scale. After a good first
// try only a heavier one, after a failed one only a lighter one.
[[nodiscard]] TryPlan choose_tries(const Scale& scale, const DaySpread& spread, const TriesModel& model);

// Repetitions of each quarter; they sum to `total`.
[[nodiscard]] std::vector<int> pace_quarters(int total, const std::vector<double>& shares);

// A place on the way and the clock there.
struct ClockMark {
  std::string name;    // leg, or "" for laps
  Metres at{0.0};      // of laps
  double clock = 0.0;  // seconds from the start
  double split = 0.0;  // since the mark before
};

// The last clock is `total`, a whole number of steps; every split is too.
[[nodiscard]] std::vector<ClockMark> leg_marks(double total, double step, const std::vector<LegShare>& legs);
// Laps of `lap` (a last short piece where they do not fill the distance). `faster`: by how much the pace of
// the second half is under, and that of the first half over, the mean.
[[nodiscard]] std::vector<ClockMark> lap_marks(double total, double step, Metres distance, Metres lap,
                                               double faster);

// What slows a run: heat and height of the place.
struct DayPlace {
  std::optional<double> wbgt_c;
  std::optional<Metres> altitude;
};

// Share of the time that is added: least, middle, most.
struct Slowing {
  double least = 0.0, middle = 0.0, most = 0.0;
  std::string credit;  // who found it
};
[[nodiscard]] Slowing slowing_by_heat(double wbgt_c, const HeatModel& model);
// Of a run of this distance that takes `time` on low ground.
[[nodiscard]] Slowing slowing_by_altitude(Metres altitude, Metres distance, Seconds time,
                                          const AltitudeModel& model);
// The highest category whose temperature is reached; none below the first.
[[nodiscard]] std::optional<HeatCategory> heat_category(double wbgt_c,
                                                        const std::vector<HeatCategory>& categories);

// ---- The sheet.

struct WarmUpSet {
  double load = 0.0;
  int repetitions = 0;
};

struct DayEvent {
  std::string event;
  DayKind kind = DayKind::hold;
  std::string cue;
  std::optional<std::string> rule;                 // the protocol fact; none where it is not known
  bool measured = true;                            // false: a guess, so no figures to act on
  double result = 0.0, low80 = 0.0, high80 = 0.0;  // forecast of the day, the place counted in
  std::optional<Points> points;
  Origin origin = Origin::memory;
  double expected_points = 0.0;
  double p_minimum = 0.0;
  std::optional<Row> minimum;  // what the category asks
  std::optional<Row> asked;    // what the target asks
  std::optional<Slowing> heat, altitude;
  double step = 0.0;        // of the event's results
  double step_worth = 0.0;  // points on average for a result that is one step better
  std::vector<Row> rows;    // of the scale around the forecast, by points
  double aim = 0.0;         // what pacing, splits and marks are for
  bool aim_given = false;   // by the user, otherwise the forecast
  std::optional<TryPlan> tries;
  std::vector<WarmUpSet> warm_up;
  std::vector<int> quarters;
  int seconds = 0;
  std::vector<ClockMark> legs;
  std::vector<Row> hold;  // rows to look for on the clock
  std::vector<ClockMark> even_laps, faster_laps, even_miles;
  bool laps_in_yards = false;   // the course is whole laps of so many yards, and not of metres
  bool may_miss_scale = false;  // a result under the lowest row is within the range
};

struct RestPlan {
  std::optional<int> between, before_last;  // minutes, as the user set them
  std::optional<std::string> published;     // of the standard
  std::string source;
};

struct TestDaySettings {
  DayPlace place;
  std::optional<int> rest_between, rest_before_last;  // minutes
  std::map<std::string, double> aims;                 // by event, in its unit
};

struct TestDaySheet {
  std::string candidate, standard, category;
  Date as_of, test_date;
  std::vector<std::string> refused;  // why there is no sheet; everything below is empty then
  TotalOutlook total;
  double p_on_scale = 0.0;  // test days that the total stands for
  double p_pass = 0.0, p_target = 0.0;
  DayPlace place;
  std::optional<HeatCategory> heat_category;
  std::vector<DayEvent> events;
  RestPlan rest;
  std::vector<std::string> warm_up, bring, cautions;
};

// What is expected of the day: an outlook, and the spread behind each of its events in their order.
struct DayForecast {
  Outlook outlook;
  std::vector<DaySpread> spreads;
};
// Of a plan; of the level of today, held to the day.
[[nodiscard]] DayForecast day_forecast(const Plan& plan, const Standard& standard, const Model& model);
[[nodiscard]] DayForecast day_forecast(const std::vector<EventState>& states, const Candidate& candidate,
                                       const Standard& standard, const Model& model);

// `forecast`: of the test day. The candidate is valid.
// Total and chances are those of the outlook: they do not know the place.
[[nodiscard]] TestDaySheet make_test_day_sheet(const DayForecast& forecast, const Candidate& candidate,
                                               const Standard& standard, const Model& model,
                                               const TestDayModel& day, Date as_of,
                                               const TestDaySettings& settings);

}  // namespace backplan
