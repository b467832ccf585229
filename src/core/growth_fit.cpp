#include "core/growth_fit.hpp"

#include <algorithm>
#include <cmath>
#include <memory>

#include "backplan/numeric.hpp"
#include "core/one_sided.hpp"
#include "core/progress_prior.hpp"
#include "core/straying_errors.hpp"

namespace backplan {
namespace {

constexpr double kGolden = 0.6180339887498949;  // (sqrt 5 - 1) / 2

constexpr double kTooFarOff = 4.0;  // standard deviations: design, "The fit"
constexpr int kFewestToJudge = 3;   // readings: of two that disagree nobody can tell which is off
constexpr double kReach = 4.0;      // of the prior of ln k, in which the mode is looked for
constexpr int kSteps = 32;          // of the search for the mode
constexpr double kWidth = 1e-7;     // in ln k
constexpr double kSettled = 1e-6;   // change of ln k between two rounds of the bounds
constexpr int kMostRounds = 12;
constexpr double kCurvatureStep = 0.05;  // in ln k
constexpr double kNarrowest = 0.02;      // spread of ln k that the nodes are laid with

std::vector<double> design_of(const GrowthTask& task, double k) {
  std::vector<double> out;
  for (const GrowthRow& row : task.rows) {
    out.push_back(row.headroom ? 0.0 : 1.0);
    out.push_back(row.headroom ? 1.0 : growth_share(k, row.s));
    out.push_back(row.setting);
    out.push_back(row.conversion);
    out.push_back(row.exponent);
  }
  return out;
}

void add_prior(WhitenedRows& rows, int column, double mean, double sd) {
  for (int c = 0; c < rows.columns; ++c) rows.design.push_back(c == column ? 1.0 / sd : 0.0);
  rows.target.push_back(mean / sd);
}

// The fit of one task while its bounds settle and its outliers are found. Bounds stand as readings with a
// value and a spread of their own (sites), worked out from everything else.
class Fitter {
 public:
  explicit Fitter(GrowthTask task) : task_(std::move(task)), log_k_(task_.log_k) {
    for (const GrowthRow& row : task_.rows) sites_.push_back({kLeastPrecision, row.y});
    factor();
  }

  // Bounds and the mode of k together, to a fixed point.
  void settle() {
    for (int round = 0; round < kMostRounds; ++round) {
      settle_bounds(numeric::exp(log_k_));
      const double found = find_mode();
      const double change = std::fabs(found - log_k_);
      log_k_ = found;
      if (change < kSettled) break;
    }
    settle_bounds(numeric::exp(log_k_));
  }

  // For one rate only.
  void settle_bounds(double k) {
    const std::vector<double> design = design_of(task_, k);
    for (int round = 0; round < kMostSiteRounds; ++round) {
      const LeftOut others = errors_->leave_one_out(design, targets(), fit_at(k));
      double change = 0.0;
      for (std::size_t i = 0; i < sites_.size(); ++i) {
        const GrowthRow& row = task_.rows[i];
        if (!row.bound) continue;
        const double variance = others.variance[i] - 1.0 / sites_[i].precision;
        const OneSidedSite next =
            site_of(others.mean[i], std::max(variance, kLeastVariance), row.y, row.variance);
        change = std::max(change, approach(sites_[i], next));
      }
      factor();
      if (change < kSettledSite) break;
    }
  }

  [[nodiscard]] LinearFit fit_at(double k) const {
    std::vector<double> right;
    const std::vector<double> design = design_of(task_, k);
    const std::vector<double> y = targets();
    constexpr auto kColumns = static_cast<std::size_t>(kGrowthColumns);
    for (std::size_t i = 0; i < y.size(); ++i) {
      for (std::size_t c = 0; c < kColumns; ++c) right.push_back(design[i * kColumns + c]);
      right.push_back(y[i]);
    }
    const auto white = errors_->whiten(right, kGrowthColumns + 1);
    WhitenedRows rows;
    rows.columns = kGrowthColumns;
    for (std::size_t i = 0; i < y.size(); ++i) {
      const auto from = white.begin() + static_cast<std::ptrdiff_t>(i * (kColumns + 1));
      rows.design.insert(rows.design.end(), from, from + kGrowthColumns);
      rows.target.push_back(*(from + kGrowthColumns));
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
    const double reach = kReach * task_.log_k_sd;
    return search_minimum([this](double x) { return -log_posterior(x); }, task_.log_k - reach,
                          task_.log_k + reach, kSteps, kWidth);
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
      double variance = others.variance[i];
      if (row.bound) variance += row.variance - 1.0 / sites_[i].precision;
      const double off = (row.y - others.mean[i]) / std::sqrt(variance);
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
    if (bend > 0.0) out.log_k_sd = std::clamp(1.0 / std::sqrt(bend), kNarrowest, task_.log_k_sd);
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
  }

  GrowthTask task_;
  double log_k_;
  std::vector<OneSidedSite> sites_;  // by row; used for bounds
  std::unique_ptr<StrayingErrors> errors_;
};

}  // namespace

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
  double a = low + std::max(0, best - 1) * step;
  double b = low + std::min(steps, best + 1) * step;
  double left = b - kGolden * (b - a);
  double right = a + kGolden * (b - a);
  double f_left = f(left);
  double f_right = f(right);
  while (b - a > width) {
    if (f_left <= f_right) {
      b = right;
      right = left;
      f_right = f_left;
      left = b - kGolden * (b - a);
      f_left = f(left);
    } else {
      a = left;
      left = right;
      f_left = f_right;
      right = a + kGolden * (b - a);
      f_right = f(right);
    }
  }
  return 0.5 * (a + b);
}

ProjectedFit fit_rate(const std::function<WhitenedRows(double)>& rows_at, double lowest_rate,
                      double highest_rate) {
  const double log_rate =
      search_minimum([&](double x) { return fit_rows(rows_at(numeric::exp(x))).residual_square; },
                     numeric::log(lowest_rate), numeric::log(highest_rate), kSteps, kWidth);
  ProjectedFit out;
  out.rate = numeric::exp(log_rate);
  out.linear = fit_rows(rows_at(out.rate));
  return out;
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
