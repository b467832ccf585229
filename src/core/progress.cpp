#include "backplan/progress.hpp"

#include <algorithm>
#include <cmath>

#include "backplan/numeric.hpp"
#include "core/linear_algebra.hpp"

namespace backplan {
namespace {

// Gauss-Hermite nodes and weights for a standard normal variable (Abramowitz & Stegun table 25.10,
// scaled by sqrt 2): exact for polynomials up to degree nine.
constexpr std::array<double, kRateNodes> kNormalNodes{-2.856970013872806, -1.355626179974266, 0.0,
                                                      1.355626179974266, 2.856970013872806};
constexpr std::array<double, kRateNodes> kNormalWeights{
    0.011257411327721, 0.222075922005613, 0.533333333333333, 0.222075922005613, 0.011257411327721};

// Minutes a week at which somebody holds every event (the keep doses of data/model/events.json in
// block minutes, with preparation: about two hours). Who does less now holds less.
constexpr double kMinutesThatKeepAll = 120.0;
constexpr double kLeastKeepShare = 0.1;
constexpr double kPointsOfCeiling = 100.0;

struct Band {
  double low = 0.0;   // v of the scale's lowest known row
  double high = 0.0;  // v of its highest
};

Band band_of_scale(const Scale& scale) {
  return {ability_of(scale.rows().front().result, scale.direction()),
          ability_of(std::max(scale.rows().back().result, 1e-3), scale.direction())};
}

double background_share(const Model& model, Background background) {
  switch (background) {
    case Background::new_to_training:
      return model.background_new;
    case Background::regular:
      return model.background_regular;
    case Background::long_trained:
      return model.background_long;
  }
  return model.background_regular;
}

// The prior mean of h: what there is to gain from the first evidence on.
double headroom_of(const EventModel& event, double v_first, double v_ceiling, const Event& kind) {
  const Headroom& headroom = event.headroom;
  double most = headroom.most;
  if (headroom.above) {
    // The cap comes down with slope -1 in v before `above`, so that v + h never falls.
    const double v_above = ability_of(*headroom.above, kind.direction);
    most = std::clamp(headroom.most_above + (v_above - v_first), headroom.most_above, headroom.most);
  }
  const double gap = std::max(0.0, v_ceiling - v_first);
  return std::clamp(headroom.share * gap + headroom.extra, headroom.least, std::max(headroom.least, most));
}

double ceiling_of(const Scale& scale) {
  const auto row = scale.row_for(Points::whole(static_cast<int>(kPointsOfCeiling)));
  return ability_of(std::max(row ? row->result : scale.rows().back().result, 1e-3), scale.direction());
}

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
  for (int i = 0; i < n; ++i) {
    const Evidence& one = evidence[static_cast<std::size_t>(i)];
    for (int j = 0; j < n; ++j) {
      double c = drift * drift * std::min(weeks_ago(i), weeks_ago(j));
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

void add_prior(WhitenedRows& rows, int column, double mean, double sd) {
  rows.design.push_back(column == 0 ? 1.0 / sd : 0.0);
  rows.design.push_back(column == 1 ? 1.0 / sd : 0.0);
  rows.target.push_back(mean / sd);
}

struct Prior {
  double h = 0.0, h_sd = 0.0;
  double v0 = 0.0, v0_sd = 0.0;  // used only without evidence
};

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

Dose personal_dose(const EventModel& model, const TrainingNow& now) {
  Dose dose = model.dose;
  if (now.minutes) {
    dose.keep *= std::clamp(*now.minutes / kMinutesThatKeepAll, kLeastKeepShare, 1.0);
  }
  return dose;
}

Prior prior_of(const EventState& state, const Scale& own, const Candidate& candidate, const Model& model,
               const std::vector<Evidence>& evidence, int age) {
  Prior prior;
  const Band band = band_of_scale(own);
  const double low = numeric::normal_quantile(model.band_low_percentile);
  const double high = numeric::normal_quantile(model.band_high_percentile);
  prior.v0_sd = std::max(0.05, (band.high - band.low) / (high - low));
  prior.v0 = band.low - low * (band.high - band.low) / (high - low);
  // All results so far are from before any planned work: together they are the first evidence.
  const double v_first = evidence.empty() ? prior.v0 : state.v0;
  const double decades = std::max(0, age - 35) / 10.0;
  prior.h = headroom_of(*state.model, v_first, ceiling_of(own), *state.event) *
            background_share(model, candidate.background) * numeric::pow(model.headroom_per_decade, decades);
  prior.h_sd = model.headroom_sd_share * prior.h;
  return prior;
}

}  // namespace

double EventState::mean_at(const Node& node, double s, double loss) const {
  return node.v0 + node.h * (1.0 - numeric::exp(-node.k * s)) - loss - fixed_loss;
}

double EventState::variance_at(const Node& node, double s) const {
  const double growth = 1.0 - numeric::exp(-node.k * s);
  return node.var_v0 + 2.0 * growth * node.cov + growth * growth * node.var_h;
}

double EventState::mean(double s, double loss) const {
  double sum = 0.0;
  for (const Node& node : nodes) sum += node.weight * mean_at(node, s, loss);
  return sum;
}

DoseCurve::DoseCurve(const Dose& dose)
    : u0_(dose.u0), g_keep_(g(dose.keep)), g_reference_(g(dose.reference)) {}

double DoseCurve::g(double u) const { return 1.0 - numeric::exp(-u / u0_); }

double DoseCurve::gain(double u) const { return std::max(0.0, (g(u) - g_keep_) / (g_reference_ - g_keep_)); }

double DoseCurve::shortfall(double u) const { return std::max(0.0, 1.0 - g(u) / g_keep_); }

double dose_gain(const Dose& dose, double u) { return DoseCurve(dose).gain(u); }

double dose_shortfall(const Dose& dose, double u) { return DoseCurve(dose).shortfall(u); }

std::vector<EventState> fit_progress(const Candidate& candidate, const Standard& standard, const Model& model,
                                     Date as_of) {
  const int age = age_on(candidate.birth_date, candidate.test_date);
  const Category& category = *standard.find_category(candidate.category);
  Category own_column = category;
  own_column.column.clear();
  const auto all = evidence_of(candidate.results, standard, model);
  std::vector<EventState> states;
  for (const Event& event : standard.events) {
    EventState state;
    state.event = &event;
    state.model = model.find_event(event.model_event);
    state.scale = standard.scale_for(event, candidate.column, age, category);
    const Scale* own = standard.scale_for(event, candidate.column, age, own_column);
    std::vector<Evidence> evidence;
    std::copy_if(all.begin(), all.end(), std::back_inserter(evidence),
                 [&](const Evidence& e) { return e.event == event.id; });
    state.measured = !evidence.empty();
    state.dose = personal_dose(*state.model, candidate.now);
    // The level first, since the headroom is measured from it.
    if (state.measured)
      fit_nodes(state, evidence, Prior{0.0, 1.0, 0.0, 1.0}, model.drift_per_sqrt_week, as_of);
    fit_nodes(state, evidence, prior_of(state, *own, candidate, model, evidence, age),
              model.drift_per_sqrt_week, as_of);
    states.push_back(state);
  }
  return states;
}

}  // namespace backplan
