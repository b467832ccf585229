#include "backplan/progress.hpp"

#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"
#include "core/linear_algebra.hpp"
#include "core/progress_prior.hpp"

namespace backplan {
namespace {

// Rows (1, growth) of all evidence, whitened together: drift since each result is shared between
// results of the same past, so they are correlated.
WhitenedRows rows_of(const std::vector<Evidence>& evidence, double k, double drift, Date as_of) {
  const int n = static_cast<int>(evidence.size());
  std::vector<double> covariance(static_cast<std::size_t>(n) * static_cast<std::size_t>(n));
  std::vector<double> right;
  const auto weeks_ago = [&](int i) {
    return std::max(0.0,
                    static_cast<double>((as_of - evidence[static_cast<std::size_t>(i)].date).count()) / 7.0);
  };
  const auto strayed = [&](int i) {
    return drift * drift * weeks_ago(i) + evidence[static_cast<std::size_t>(i)].break_variance;
  };
  for (int i = 0; i < n; ++i) {
    const Evidence& one = evidence[static_cast<std::size_t>(i)];
    for (int j = 0; j < n; ++j) {
      double c = std::min(strayed(i), strayed(j));
      if (i == j) c += one.sd * one.sd;
      covariance[static_cast<std::size_t>(i * n + j)] = c;
    }
    right.push_back(1.0);
    right.push_back(1.0 - numeric::exp(-k * one.dose));
    right.push_back(one.v);
  }
  const auto white = whiten(covariance, n, right, 3);
  WhitenedRows rows;
  rows.columns = 2;
  for (int i = 0; i < n; ++i) {
    const auto at = static_cast<std::size_t>(3 * i);
    rows.design.push_back(white[at]);
    rows.design.push_back(white[at + 1]);
    rows.target.push_back(white[at + 2]);
  }
  return rows;
}

// Variable projection: with k fixed the model is linear in (v0, h); the nodes of k are weighted by
// their prior and by how well each fits.
void fit_nodes(EventState& state, const std::vector<Evidence>& evidence, const Prior& prior, double drift,
               Date as_of) {
  double total = 0.0;
  for (std::size_t i = 0; i < state.nodes.size(); ++i) {
    auto& node = state.nodes[i];
    node.k = state.model->k_per_week * numeric::exp(state.model->k_log_sd * kNormalNodes[i]);
    WhitenedRows rows;
    rows.columns = 2;
    if (evidence.empty()) {
      add_prior(rows, 0, prior.v0, prior.v0_sd);
    } else {
      rows = rows_of(evidence, node.k, drift, as_of);
    }
    add_prior(rows, 1, prior.h, prior.h_sd);
    const LinearFit fit = fit_rows(rows);
    node.v0 = fit.estimate[0];
    node.h = std::max(0.0, fit.estimate[1]);
    node.var_v0 = fit.covariance[0];
    node.cov = fit.covariance[1];
    node.var_h = fit.covariance[3];
    node.weight = kNormalWeights[i] * numeric::exp(-0.5 * fit.residual_square);
    total += node.weight;
  }
  state.v0 = 0.0;
  for (auto& node : state.nodes) {
    node.weight /= total;
    state.v0 += node.weight * node.v0;
  }
}

}  // namespace

double EventState::mean_at(const Node& node, double s, double loss) const {
  return node.v0 + node.h * (1.0 - numeric::exp(-node.k * s)) - loss - fixed_loss;
}

double EventState::variance_at(const Node& node, double s) const {
  const double growth = 1.0 - numeric::exp(-node.k * s);
  return node.var_v0 + 2.0 * growth * node.cov + growth * growth * node.var_h + var_ahead;
}

double EventState::mean(double s, double loss) const {
  double sum = 0.0;
  for (const Node& node : nodes) sum += node.weight * mean_at(node, s, loss);
  return sum;
}

DoseCurve::DoseCurve(const Dose& dose)
    : u0_(dose.u0), keep_(dose.keep), g_keep_(g(dose.keep)), g_reference_(g(dose.reference)) {}

double DoseCurve::g(double u) const { return 1.0 - numeric::exp(-u / u0_); }

double DoseCurve::gain(double u) const {
  return u > keep_ ? std::max(0.0, (g(u) - g_keep_) / (g_reference_ - g_keep_)) : 0.0;
}

double DoseCurve::shortfall(double u) const { return u < keep_ ? std::max(0.0, 1.0 - g(u) / g_keep_) : 0.0; }

double dose_gain(const Dose& dose, double u) { return DoseCurve(dose).gain(u); }

double dose_shortfall(const Dose& dose, double u) { return DoseCurve(dose).shortfall(u); }

std::vector<EventState> fit_progress(const Candidate& candidate, const Standard& standard, const Model& model,
                                     Date as_of) {
  auto all = evidence_of(candidate.results, standard, model);
  mind_clearance(all, candidate.medical, model);
  std::vector<EventState> states;
  for (const Event& event : standard.events) {
    EventState state = unfitted(event, candidate, standard, model);
    std::vector<Evidence> evidence;
    std::copy_if(all.begin(), all.end(), std::back_inserter(evidence),
                 [&](const Evidence& e) { return e.event == event.id; });
    state.measured = !evidence.empty();
    state.dose = personal_dose(*state.model, candidate.now);
    // The level first, since the headroom is measured from it.
    if (state.measured)
      fit_nodes(state, evidence, Prior{0.0, 1.0, 0.0, 1.0}, model.drift_per_sqrt_week, as_of);
    // All results so far are from before any planned work: together they are the first evidence.
    const std::optional<double> v_first = state.measured ? std::optional<double>(state.v0) : std::nullopt;
    fit_nodes(state, evidence, prior_of(event, candidate, standard, model, v_first),
              model.drift_per_sqrt_week, as_of);
    states.push_back(state);
  }
  return states;
}

}  // namespace backplan
