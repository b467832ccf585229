#include "lab/scoring.hpp"

#include <cmath>

#include "backplan/evidence.hpp"
#include "backplan/outlook.hpp"
#include "backplan/score.hpp"
#include "core/progress_prior.hpp"
#include "support/random_source.hpp"

namespace backplan::lab {
namespace {

constexpr int kDays = 64;  // test days that are drawn for the chances

// The recorded results of one test day.
std::vector<DatedResult> results_of(const Person& person, const Knowledge& knowledge,
                                    testing::RandomSource& random) {
  const double share = knowledge.model.common.variance_share;
  const double common = random.normal();
  std::vector<DatedResult> out;
  for (std::size_t e = 0; e < person.events.size(); ++e) {
    const Event& event = knowledge.standard.events[e];
    const double v = person.events[e].ability();
    const double sd = noise_of(*knowledge.model.find_event(event.model_event), result_of(v, event.direction));
    const double z = std::sqrt(share) * common + std::sqrt(1.0 - share) * random.normal();
    DatedResult result;
    result.date = person.candidate.test_date;
    result.event = event.id;
    result.value = round_harder(result_of(v + sd * z, event.direction), event.resolution, event.direction);
    out.push_back(result);
  }
  return out;
}

}  // namespace

DayScore score_day(const Person& person, const Knowledge& knowledge) {
  const Candidate& candidate = person.candidate;
  const Category& category = *knowledge.standard.find_category(candidate.category);
  DayScore out;
  for (std::size_t e = 0; e < person.events.size(); ++e) {
    const EventState state =
        unfitted(knowledge.standard.events[e], candidate, knowledge.standard, knowledge.model);
    const double v = person.events[e].ability();
    const double sd = noise_of(*state.model, result_of(v, state.event->direction));
    out.expected += AbilityScale(*state.scale, pass_minimum(category)).expected_points(v, sd);
  }
  const int age = age_on(candidate.birth_date, candidate.test_date);
  for (int day = 0; day < kDays; ++day) {
    testing::RandomSource random(luck(person.seed, Purpose::test_day, day));
    const ScoreCard card = score_results(results_of(person, knowledge, random), knowledge.standard, category,
                                         candidate.column, age);
    const bool passed = card.pass.value_or(false);
    out.p_pass += passed ? 1.0 / kDays : 0.0;
    out.p_target += passed && card.total && *card.total >= *candidate.target.total ? 1.0 / kDays : 0.0;
  }
  return out;
}

}  // namespace backplan::lab
