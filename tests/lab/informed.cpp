#include "lab/informed.hpp"

#include <algorithm>

#include "core/progress_prior.hpp"
#include "lab/omniscient_fit.hpp"

namespace backplan::lab {
namespace {

constexpr double kLeastHeadroom = 1e-3;
constexpr double kSlowest = 0.003, kFastest = 0.5;  // a week, as in the laying of curves

Response middle_of(const Traits& own, const EventModel& known, const Prior& prior, const TrainingNow& usual) {
  Traits traits = own;
  traits.h = prior.h;
  traits.k = known.k_per_week;
  traits.dose = personal_dose(known, usual);
  traits.loss_per_week = known.loss_per_week;
  return Response(traits);
}

}  // namespace

Model model_of_family(const Situation& now) {
  const Standard& standard = now.knowledge.standard;
  const Candidate& candidate = now.candidate;
  Model out = now.knowledge.model;
  const int days = static_cast<int>((candidate.test_date - now.as_of).count());
  for (std::size_t e = 0; e < standard.events.size(); ++e) {
    const Event& event = standard.events[e];
    const EventModel& known = *now.knowledge.model.find_event(event.model_event);
    const Traits& own = now.truth.events[e].traits();
    const Prior prior = prior_of(event, candidate, standard, now.knowledge.model, own.start);
    const Response middle = middle_of(own, known, prior, candidate.now);
    const Linearised fit = linearise(middle, days, known.earns_nothing_days);
    EventModel& model = out.events.at(event.model_event);
    model.dose = fit.dose;
    model.loss_per_week = fit.loss_per_week;
    // The headroom stays that of the priors; the rate is such that the first weeks bring what they bring.
    const double headroom = std::max(prior.h, kLeastHeadroom);
    model.k_per_week = std::clamp(fit.h * fit.k / headroom, kSlowest, kFastest);
  }
  return out;
}

Decision Informed::decide(const Situation& now) {
  if (!model_) model_ = model_of_family(now);
  const Knowledge knowledge{now.knowledge.standard, *model_, now.knowledge.rules};
  return weekly_.decide({now.candidate, knowledge, now.history, now.as_of, now.truth});
}

}  // namespace backplan::lab
