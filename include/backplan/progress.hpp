// Where a candidate stands in each event and how it responds to work.
//   v = v0 + h (1 - exp(-k S)) - L          docs/mathematics.md, "Progress"
#pragma once

#include <array>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/evidence.hpp"
#include "backplan/model.hpp"
#include "backplan/standard.hpp"

namespace backplan {

inline constexpr int kRateNodes = 5;  // quadrature nodes of the response rate k

// One event as fitted today. Growth, spread and loss are in v.
struct EventState {
  const Event* event = nullptr;
  const EventModel* model = nullptr;
  const Scale* scale = nullptr;  // by which the category scores
  bool measured = false;
  double v0 = 0.0;  // ability today
  struct Node {
    double k = 0.0;  // per unit of S
    double weight = 0.0;
    double v0 = 0.0, h = 0.0;
    double var_v0 = 0.0, var_h = 0.0, cov = 0.0;
  };
  std::array<Node, kRateNodes> nodes;
  Dose dose;                // with the personal keep dose
  double fixed_loss = 0.0;  // of gaps that are already in the calendar

  // Mean and variance of the ability for one node after S units of work and a loss L.
  [[nodiscard]] double mean_at(const Node& node, double s, double loss) const;
  [[nodiscard]] double variance_at(const Node& node, double s) const;
  // Mean over the nodes.
  [[nodiscard]] double mean(double s, double loss) const;
};

// g(u) = 1 - exp(-u / u0); the week's addition to S (0 at the keep dose, 1 at the reference dose)
// and its share of a week's loss (0 from the keep dose on, 1 without any work).
class DoseCurve {
 public:
  explicit DoseCurve(const Dose& dose);
  [[nodiscard]] double gain(double u) const;
  [[nodiscard]] double shortfall(double u) const;

 private:
  [[nodiscard]] double g(double u) const;
  double u0_, g_keep_, g_reference_;
};
[[nodiscard]] double dose_gain(const Dose& dose, double u);
[[nodiscard]] double dose_shortfall(const Dose& dose, double u);

// One state an event, in the order of the standard.
[[nodiscard]] std::vector<EventState> fit_progress(const Candidate& candidate, const Standard& standard,
                                                   const Model& model, Date as_of);

}  // namespace backplan
