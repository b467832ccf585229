#include "core/growth_fit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

#include "backplan/numeric.hpp"
#include "core/one_sided.hpp"
#include "core/progress_prior.hpp"
#include "core/straying_errors.hpp"

namespace backplan {
namespace {

constexpr double kGolden = 0.6180339887498949;  // (sqrt 5 - 1) / 2

constexpr double kTooFarOff = 4.0;  // standard deviations: docs/mathematics.md, "Outliers"
constexpr int kFewestToJudge = 3;   // readings: of two that disagree nobody can tell which is off
constexpr double kModeReach = 4.0;  // of the prior of ln k, in which the mode is looked for
constexpr int kSteps = 32;          // of the search for the mode
constexpr double kWidth = 1e-7;     // in ln k
constexpr double kSettled = 1e-6;   // change of ln k between two rounds of the bounds
constexpr int kMostRounds = 12;
constexpr double kCurvatureStep = 0.05;  // in ln k
constexpr double kNarrowestRate = 0.02;  // spread of ln k that the nodes are laid with

// What does not change with k: the level, what readings have in common, and what was read.
constexpr int kStill = 5;

std::vector<double> design_of(const GrowthTask& task, double k) {
  std::vector<double> out;
  out.reserve(task.rows.size() * kGrowthColumns);
  for (const GrowthRow& row : task.rows) {
    const double growth = row.headroom ? 1.0 : growth_share(k, row.s);
    out.insert(out.end(), {row.headroom ? 0.0 : 1.0, growth, row.setting, row.conversion, row.exponent});
  }
  return out;
}

// The fit of one task while its bounds settle and its outliers are found. Bounds stand as readings with a
// value and a spread of their own (sites), worked out from everything else.
class Fitter {
 public:
  explicit Fitter(GrowthTask task) : task_(std::move(task)), log_k_(task_.log_k) {
    for (const GrowthRow& row : task_.rows) {
      sites_.push_back({kLeastPrecision, row.y});
      given_.push_back(row.variance);
    }
    factor();
  }

  // Bounds and the mode of k together, to a fixed point. The mode is looked for everywhere once; while bounds
  // settle it moves little.
  void settle() {
    bool anywhere = true;
    for (int round = 0; round < kMostRounds; ++round) {
      settle_bounds(numeric::exp(log_k_), kNearlySettled);
      const double found = anywhere ? find_mode() : mode_nearby();
      anywhere = false;
      const double change = std::fabs(found - log_k_);
      log_k_ = found;
      if (change < kSettled) break;
    }
    settle_bounds(numeric::exp(log_k_));
  }

  // For one rate only.
  void settle_bounds(double k, double settled = kSettledSite) {
    const std::vector<double> design = design_of(task_, k);
    double step = kSiteStep;
    double last = std::numeric_limits<double>::infinity();
    for (int round = 0; round < kMostSiteRounds; ++round) {
      const LeftOut others = errors_->leave_one_out(design, targets(), fit_at(k));
      double change = 0.0;
      for (std::size_t i = 0; i < sites_.size(); ++i) {
        const GrowthRow& row = task_.rows[i];
        if (!row.bound) continue;
        const double variance = others.variance[i] - 1.0 / sites_[i].precision;
        const OneSidedSite next =
            site_of(others.mean[i], std::max(variance, kLeastVariance), row.y, row.variance);
        change = std::max(change, approach(sites_[i], next, step));
      }
      factor();
      if (change < settled) break;
      if (change > last) step *= kOvershot;
      last = change;
    }
  }

  [[nodiscard]] LinearFit fit_at(double k) const {
    std::vector<double> growth;
    growth.reserve(task_.rows.size());
    for (const GrowthRow& row : task_.rows) growth.push_back(row.headroom ? 1.0 : growth_share(k, row.s));
    growth = errors_->whiten(growth, 1);
    WhitenedRows rows;
    rows.columns = kGrowthColumns;
    rows.design.reserve((growth.size() + kGrowthColumns) * kGrowthColumns);
    rows.target.reserve(growth.size() + kGrowthColumns);
    for (std::size_t i = 0; i < growth.size(); ++i) {
      const double* still = &still_[i * kStill];
      rows.design.insert(rows.design.end(), {still[0], growth[i], still[1], still[2], still[3]});
      rows.target.push_back(still[4]);
    }
    if (task_.v0) add_prior(rows, kLevel, *task_.v0, task_.v0_sd);
    add_prior(rows, kHeadroom, task_.h, task_.h_sd);
    for (const int shared : {kSetting, kConversion, kExponent}) add_prior(rows, shared, 0.0, 1.0);
    return fit_rows(rows);
  }

  // ln of the posterior of ln k, up to a constant: fit, what the linear parameters leave open, prior.
  [[nodiscard]] double log_posterior(double log_k) const {
    const LinearFit fit = fit_at(numeric::exp(log_k));
    const double off = (log_k - task_.log_k) / task_.log_k_sd;
    return -0.5 * fit.residual_square - fit.log_determinant - 0.5 * off * off;
  }

  [[nodiscard]] double find_mode() const {
    const double reach = kModeReach * task_.log_k_sd;
    return search_minimum([this](double x) { return -log_posterior(x); }, task_.log_k - reach,
                          task_.log_k + reach, kSteps, kWidth);
  }

  // The mode within a step of where it was; looked for everywhere if it has left.
  [[nodiscard]] double mode_nearby() const {
    const double step = 2.0 * kModeReach * task_.log_k_sd / kSteps;
    const double reach = kModeReach * task_.log_k_sd;
    if (log_k_ - step < task_.log_k - reach || log_k_ + step > task_.log_k + reach) return find_mode();
    const double found = search_minimum([this](double x) { return -log_posterior(x); }, log_k_ - step,
                                        log_k_ + step, 2, kWidth);
    return std::fabs(found - log_k_) < 0.5 * step ? found : find_mode();
  }

  // Marks the reading that is furthest off, if it is too far; it then counts with a spread as large as it is
  // off. One at a time, since one outlier makes others look worse.
  bool flag_worst(GrowthFit& out) {
    judge(out);
    std::size_t worst = task_.rows.size();
    for (std::size_t i = 0; i < task_.rows.size(); ++i) {
      if (out.flagged[i] || std::fabs(out.off[i]) <= kTooFarOff) continue;
      if (worst == task_.rows.size() || std::fabs(out.off[i]) > std::fabs(out.off[worst])) worst = i;
    }
    if (worst == task_.rows.size()) return false;
    out.flagged[worst] = true;
    const double off = task_.rows[worst].y - out.expected[worst];
    task_.rows[worst].variance = std::max(task_.rows[worst].variance, off * off);
    factor();
    return true;
  }

  // How far each row is from what all others say.
  void judge(GrowthFit& out) const {
    const double k = numeric::exp(log_k_);
    const LeftOut others = errors_->leave_one_out(design_of(task_, k), targets(), fit_at(k));
    const auto readings =
        std::count_if(task_.rows.begin(), task_.rows.end(), [](const GrowthRow& row) { return !row.bound; });
    out.expected = others.mean;
    out.off.assign(task_.rows.size(), 0.0);
    if (readings < kFewestToJudge) return;
    for (std::size_t i = 0; i < task_.rows.size(); ++i) {
      const GrowthRow& row = task_.rows[i];
      if (row.headroom) continue;
      // By what a reading was trusted with before it was found too far off: by what it counts with since, it
      // would always be about one deviation off.
      double variance = others.variance[i] + given_[i] - row.variance;
      if (row.bound) variance += row.variance - 1.0 / sites_[i].precision;
      const double off = (row.y - others.mean[i]) / std::sqrt(std::max(variance, kLeastVariance));
      out.off[i] = row.bound ? std::max(0.0, off) : off;
    }
  }

  // Shares of the information on level + growth so far: with a^T x the level today and V the covariance,
  // a^T V (A^T C^-1 A) V a is a sum over the rows; what is missing to a^T V a is the priors'.
  void share_out(GrowthFit& out, double s_now) const {
    const double k = numeric::exp(log_k_);
    const LinearFit fit = fit_at(k);
    const double g = growth_share(k, s_now);
    std::vector<double> through(kGrowthColumns);
    for (std::size_t c = 0; c < through.size(); ++c) {
      through[c] = fit.covariance[c * through.size()] + g * fit.covariance[c * through.size() + 1];
    }
    const double whole = through[0] + g * through[1];
    const std::vector<double> design = design_of(task_, k);
    std::vector<double> seen;
    for (std::size_t i = 0; i < task_.rows.size(); ++i) {
      double sum = 0.0;
      for (std::size_t c = 0; c < through.size(); ++c) sum += design[i * through.size() + c] * through[c];
      seen.push_back(sum);
    }
    out.pull = errors_->solve(seen, 1);
    for (std::size_t i = 0; i < seen.size(); ++i) out.pull[i] *= seen[i] / whole;
  }

  // Gauss-Hermite nodes laid around the mode, each weighed by the posterior over the normal they are for.
  void lay_nodes(GrowthFit& out) const {
    const double here = log_posterior(log_k_);
    const double bend =
        (2.0 * here - log_posterior(log_k_ - kCurvatureStep) - log_posterior(log_k_ + kCurvatureStep)) /
        (kCurvatureStep * kCurvatureStep);
    out.log_k = log_k_;
    out.log_k_sd = task_.log_k_sd;
    if (bend > 0.0) out.log_k_sd = std::clamp(1.0 / std::sqrt(bend), kNarrowestRate, task_.log_k_sd);
    double total = 0.0;
    for (std::size_t i = 0; i < kNormalNodes.size(); ++i) {
      const double z = kNormalNodes[i];
      const double log_k = log_k_ + out.log_k_sd * z;
      GrowthNode node;
      node.k = numeric::exp(log_k);
      node.fit = fit_at(node.k);
      node.weight = kNormalWeights[i] * numeric::exp(log_posterior(log_k) - here + 0.5 * z * z);
      total += node.weight;
      out.nodes.push_back(std::move(node));
    }
    for (GrowthNode& node : out.nodes) node.weight /= total;
  }

 private:
  [[nodiscard]] std::vector<double> targets() const {
    std::vector<double> out;
    for (std::size_t i = 0; i < task_.rows.size(); ++i) {
      out.push_back(task_.rows[i].bound ? sites_[i].mean : task_.rows[i].y);
    }
    return out;
  }

  // The errors as they are with the present sites: independent ones, and the straying of the level that
  // readings of the same past share.
  void factor() {
    std::vector<ErrorOf> errors;
    for (std::size_t i = 0; i < task_.rows.size(); ++i) {
      const GrowthRow& row = task_.rows[i];
      errors.push_back({row.bound ? 1.0 / sites_[i].precision : row.variance, row.stray, !row.headroom});
    }
    errors_ = std::make_unique<StrayingErrors>(errors);
    const std::vector<double> y = targets();
    std::vector<double> still;
    still.reserve(y.size() * kStill);
    for (std::size_t i = 0; i < y.size(); ++i) {
      const GrowthRow& row = task_.rows[i];
      still.insert(still.end(), {row.headroom ? 0.0 : 1.0, row.setting, row.conversion, row.exponent, y[i]});
    }
    still_ = errors_->whiten(still, kStill);
  }

  GrowthTask task_;
  std::vector<double> given_;  // the variance of each row as it came
  double log_k_;
  std::vector<OneSidedSite> sites_;  // by row; used for bounds
  std::unique_ptr<StrayingErrors> errors_;
  std::vector<double> still_;  // whitened with them, kStill a row
};

struct Point {
  double x = 0.0, f = 0.0;
};

// From a point between `a` and `b` that is no worse than either.
double bracketed_minimum(const std::function<double(double)>& f, double a, double b, Point best,
                         double width) {
  Point second = best;
  Point third = best;
  double last = 0.0;      // the step taken
  double before = b - a;  // and the one before it: parabolas must halve it
  const double least_step = 0.25 * width;
  while (std::max(best.x - a, b - best.x) > 0.5 * width) {
    const double r = (best.x - second.x) * (best.f - third.f);
    const double q = (best.x - third.x) * (best.f - second.f);
    const double above = (best.x - third.x) * q - (best.x - second.x) * r;
    const double below = 2.0 * (q - r);
    double step = below != 0.0 ? -above / below : 0.0;
    const bool trusted =
        below != 0.0 && std::fabs(step) < 0.5 * std::fabs(before) && best.x + step > a && best.x + step < b;
    const double farther = best.x < 0.5 * (a + b) ? b - best.x : a - best.x;
    before = trusted ? last : farther;
    if (!trusted) step = (1.0 - kGolden) * farther;
    // At the minimum: what is left is to close in from the side that is still open.
    if (std::fabs(step) < least_step) step = farther < 0.0 ? -least_step : least_step;
    last = step;
    const Point tried{best.x + step, f(best.x + step)};
    if (tried.f <= best.f) {
      (step < 0.0 ? b : a) = best.x;
      third = second;
      second = best;
      best = tried;
    } else {
      (step < 0.0 ? a : b) = tried.x;
      if (tried.f <= second.f || second.x == best.x) {
        third = second;
        second = tried;
      } else if (tried.f <= third.f || third.x == best.x || third.x == second.x) {
        third = tried;
      }
    }
  }
  return best.x;
}

}  // namespace

// After the equal steps: the minimum of the parabola through the three best points where that is a step to
// trust, else a golden section (Brent 1973, Algorithms for Minimization without Derivatives, chapter 5).
double search_minimum(const std::function<double(double)>& f, double low, double high, int steps,
                      double width) {
  const double step = (high - low) / steps;
  int best = 0;
  double least = f(low);
  for (int i = 1; i <= steps; ++i) {
    const double value = f(low + i * step);
    if (value < least) {
      least = value;
      best = i;
    }
  }
  const double a = low + std::max(0, best - 1) * step;
  const double b = low + std::min(steps, best + 1) * step;
  return bracketed_minimum(f, a, b, {low + best * step, least}, width);
}

double growth_share(double k, double s) { return 1.0 - numeric::exp(-k * s); }

GrowthFit fit_growth(const GrowthTask& task, double s_now) {
  Fitter fitter(task);
  GrowthFit out;
  out.s_now = s_now;
  out.flagged.assign(task.rows.size(), false);
  do {
    fitter.settle();
  } while (fitter.flag_worst(out));
  fitter.lay_nodes(out);
  fitter.share_out(out, s_now);
  return out;
}

LinearFit fit_growth_at(const GrowthTask& task, double k) {
  Fitter fitter(task);
  fitter.settle_bounds(k);
  return fitter.fit_at(k);
}

}  // namespace backplan
