// The forecast for test day: results, points, total, chances. docs/mathematics.md, "Outlook".
#pragma once

#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/progress.hpp"
#include "backplan/standard.hpp"

namespace backplan {

// What training adds until the test, by event in the order of the standard.
struct Dosage {
  std::vector<double> s;     // units of S
  std::vector<double> loss;  // in v
};

// A step scale as a function of ability, continued downwards at its mean slope, so that an optimiser
// sees a way up from below it. What is known of the points down there counts beside that slope.
class AbilityScale {
 public:
  AbilityScale(const Scale& scale, std::optional<Points> minimum);

  // E[points] and P(below the minimum) for ability ~ N(mean, sd^2); sd > 0.
  [[nodiscard]] double expected_points(double mean, double sd) const;
  [[nodiscard]] double p_below_minimum(double mean, double sd) const;

  [[nodiscard]] const std::vector<double>& thresholds() const { return v_; }  // ascending
  [[nodiscard]] const std::vector<Points>& points() const { return points_; }

 private:
  std::vector<double> v_;
  std::vector<Points> points_;
  double slope_ = 0.0;      // points a unit of v below the lowest row
  std::size_t lowest_ = 0;  // the lowest row that a result stands for; 1 where points are known below it
  double v_minimum_ = 0.0;
};

// Spread of one test-day result around the mean of one node.
[[nodiscard]] double test_day_sd(const EventState& state, const EventState::Node& node, double s,
                                 double mean);

// The minimum that counts for passing in every event, and in this one.
[[nodiscard]] std::optional<Points> pass_minimum(const Category& category);
[[nodiscard]] std::optional<Points> pass_minimum(const Category& category, const Event& event);

[[nodiscard]] Outlook forecast(const std::vector<EventState>& states, const Candidate& candidate,
                               const Standard& standard, const Model& model, const Dosage& dosage);

// The step of a chance as it is put into words (report/words.hpp): hundredths below 10 and from 90 on, tenths
// and their halves between; never more than the chance. Chances of one step read the same.
[[nodiscard]] int chance_step(double chance);

// The spread of the total in two dozen bins or so, over test days on which every event is on the scale.
[[nodiscard]] std::vector<TotalBin> total_bins(const std::vector<EventState>& states,
                                               const Candidate& candidate, const Standard& standard,
                                               const Model& model, const Dosage& dosage);

// Single figures of the forecast of one person, where many seasons are compared. What is passed must
// outlive it.
class DayFigures {
 public:
  DayFigures(const std::vector<EventState>& states, const Candidate& candidate, const Standard& standard,
             const Model& model);
  [[nodiscard]] double chance_of_passing(const Dosage& dosage) const;
  [[nodiscard]] double chance_of_target(const Dosage& dosage) const;
  // The events' expected points, which below its lowest row go down with each scale's mean slope.
  [[nodiscard]] double expected_total(const Dosage& dosage) const;

 private:
  struct Limits {
    std::vector<std::optional<Points>> points;  // by event
    std::vector<double> v;                      // the easiest ability that earns them
    double total = 0.0;
    bool decide = false;  // the floors together hold the total already
  };
  [[nodiscard]] Limits limits_for(std::vector<std::optional<Points>> points, double total) const;
  [[nodiscard]] double chance_of(const Limits& limits, const Dosage& dosage) const;

  const std::vector<EventState>& states_;
  const Standard& standard_;
  const Category& category_;
  const Model& model_;
  std::vector<AbilityScale> scales_;
  std::vector<double> weights_;
  Limits pass_, target_;
};

// The highest total that is reached, every minimum included, with at least this probability.
[[nodiscard]] double total_within_reach(const std::vector<EventState>& states, const Candidate& candidate,
                                        const Standard& standard, const Model& model, const Dosage& dosage,
                                        double confidence);

}  // namespace backplan
