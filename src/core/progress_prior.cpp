#include "core/progress_prior.hpp"

#include <algorithm>

#include "backplan/numeric.hpp"

namespace backplan {
namespace {

// Minutes a week at which somebody holds every event (the keep doses of data/model/events.json in
// block minutes, with preparation: about two hours). Who does less now holds less.
constexpr double kMinutesThatKeepAll = 120.0;
constexpr double kLeastKeepShare = 0.1;
// Of somebody of whom only the one mark of a pass-or-fail event is known: a fifth either way (judgement).
constexpr double kSpreadAroundOneRow = 0.2;

struct ScaleBand {
  double low = 0.0;   // v of the scale's lowest known row
  double high = 0.0;  // v of its highest
};

// From the easiest row that passes, or the lowest, up to the top.
ScaleBand band_of_scale(const Scale& scale, std::optional<Points> minimum) {
  const auto passing = minimum ? scale.row_for(*minimum) : std::nullopt;
  const Row& low = passing ? *passing : scale.rows().front();
  return {ability_of(std::max(low.result, 1e-3), scale.direction()),
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
  return ability_of(std::max(scale.rows().back().result, 1e-3), scale.direction());
}

const Scale* own_scale(const Event& event, const Candidate& candidate, const Standard& standard) {
  Category own_column = *standard.find_category(candidate.category);
  own_column.column.clear();
  return standard.scale_for(event, candidate.column, age_on(candidate.birth_date, candidate.test_date),
                            own_column);
}

}  // namespace

EventState unfitted(const Event& event, const Candidate& candidate, const Standard& standard,
                    const Model& model) {
  EventState state;
  state.event = &event;
  state.model = model.find_event(event.model_event);
  state.scale = standard.scale_for(event, candidate.column, age_on(candidate.birth_date, candidate.test_date),
                                   *standard.find_category(candidate.category));
  return state;
}

double weeks_until_test(const Candidate& candidate, Date as_of) {
  return std::max(0.0, static_cast<double>((candidate.test_date - as_of).count()) / 7.0);
}

std::vector<EventState> restated(std::vector<EventState> states, const Candidate& candidate,
                                 const Standard& standard, Date as_of) {
  const int age = age_on(candidate.birth_date, candidate.test_date);
  const Category& category = *standard.find_category(candidate.category);
  for (EventState& state : states) {
    state.scale = standard.scale_for(*state.event, candidate.column, age, category);
    state.var_ahead = state.var_a_week * weeks_until_test(candidate, as_of);
  }
  return states;
}

Dose personal_dose(const EventModel& model, const TrainingNow& now) {
  Dose dose = model.dose;
  if (now.minutes) {
    dose.keep *= std::clamp(*now.minutes / kMinutesThatKeepAll, kLeastKeepShare, 1.0);
  }
  return dose;
}

Prior prior_of(const Event& event, const Candidate& candidate, const Standard& standard, const Model& model,
               std::optional<double> v_first) {
  const Scale& own = *own_scale(event, candidate, standard);
  const int age = age_on(candidate.birth_date, candidate.test_date);
  Prior prior;
  const Category& category = *standard.find_category(candidate.category);
  const ScaleBand band = band_of_scale(own, category.minimum_of(event.id));
  const double low = numeric::normal_quantile(model.band_low_percentile);
  const double high = numeric::normal_quantile(model.band_high_percentile);
  prior.v0_sd = std::max(0.05, (band.high - band.low) / (high - low));
  if (own.rows().size() == 1) prior.v0_sd = kSpreadAroundOneRow;
  prior.v0 = band.low - low * (band.high - band.low) / (high - low);
  const double decades = std::max(0, age - 35) / 10.0;
  prior.h =
      model.find_event(event.model_event)->headroom_factor *
      headroom_of(*model.find_event(event.model_event), v_first.value_or(prior.v0), ceiling_of(own), event) *
      background_share(model, candidate.background) * numeric::pow(model.headroom_per_decade, decades);
  prior.h_sd = model.headroom_sd_share * prior.h;
  return prior;
}

}  // namespace backplan
