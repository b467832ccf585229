// Where a candidate stands in each event and how it responds to work.
//   v = v0 + h (1 - exp(-k S)) - L          docs/mathematics.md, "Progress"
#pragma once

#include <array>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/evidence.hpp"
#include "backplan/history.hpp"
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
  double fixed_loss = 0.0;  // of gaps that are already in the calendar; negative: what comes back
  double lost = 0.0;        // of v0: lost in gaps of the journal, comes back at double rate
  double gap_days = 0.0;    // without enough work up to today
  // By which the level may stray, in a week and until the test day; 0 without a journal.
  double var_a_week = 0.0, var_ahead = 0.0;

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
  double u0_, keep_, g_keep_, g_reference_;
};
[[nodiscard]] double dose_gain(const Dose& dose, double u);
[[nodiscard]] double dose_shortfall(const Dose& dose, double u);

// A figure of the model before and after the record. Spreads are standard deviations.
struct Learnt {
  double assumed = 0.0, assumed_sd = 0.0;
  double found = 0.0, found_sd = 0.0;
};

// An entry that is kept but hardly counts, being too far from everything else.
struct FlaggedEntry {
  std::string id;  // empty: a result of candidate.json
  Date date;
  double says = 0.0;      // in the event's unit, as the test day would have shown it
  double expected = 0.0;  // by everything else
  std::string reason;     // "9.3 standard deviations better than everything else says"
};

// What the fit says of one event, for people.
struct FitReport {
  std::string event;
  bool measured = false;                     // by a result or a set that is no bound
  double now_result = 0.0;                   // in the event's unit
  double now_low80 = 0.0, now_high80 = 0.0;  // of the ability; low80 is the worse end in value
  double s = 0.0;                            // units of S since the record began
  double lost = 0.0;                         // in v, of today's level
  Learnt rate;                               // k a week: medians; spreads of ln k
  Learnt headroom;                           // h where the record begins, in v
  double speed_ratio = 1.0;  // found k h over assumed k h: 2 is "answers twice as fast as assumed"
  double speed_ratio_sd = 0.0;
  // In v, mean over the readings that have it: positive reads high. None without such readings.
  std::optional<Learnt> conversion;   // of sets read as a maximum
  std::optional<Learnt> setting;      // of results alone or self-counted, beyond what is usual
  std::optional<Learnt> exponent;     // of time over distance, where runs of other distances are logged
  int readings = 0, bounds = 0;       // that were used, flagged ones included
  std::vector<FlaggedEntry> flagged;  // by date
  double share_log = 0.0, share_results = 0.0, share_prior = 1.0;  // of the information; they sum to 1
};

struct Fit {
  std::vector<EventState> states;  // in the order of the standard
  std::vector<FitReport> reports;  // the same
};

// One state an event, in the order of the standard.
[[nodiscard]] std::vector<EventState> fit_progress(const Candidate& candidate, const Standard& standard,
                                                   const Model& model, Date as_of);

// The same with what was really done. States start from today: growth and loss until now are in v0, and h is
// what is left. `candidate.now` is what was usual before the record. An empty history gives the states above
// and no reports.
[[nodiscard]] Fit fit_history(const Candidate& candidate, const Standard& standard, const Model& model,
                              Date as_of, const History& history);
[[nodiscard]] std::vector<EventState> fit_progress(const Candidate& candidate, const Standard& standard,
                                                   const Model& model, Date as_of, const History& history);

}  // namespace backplan
