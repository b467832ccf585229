#include "support/random_candidates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "backplan/numeric.hpp"
#include "backplan/score.hpp"
#include "support/random_parts.hpp"

namespace backplan::testing {
namespace {

// 60 points stand at the 5th and 100 points at the 96th percentile of the people an official scale
// was made for: data/model, design of the scales. A normal v through both gives plausible people.
double plausible_result(RandomSource& random, const Event& event, const Scale& scale, double person) {
  const double low = scale.rows().front().result;
  const double high = scale.rows().back().result;
  const double z_low = numeric::normal_quantile(0.05);
  const double z_high = numeric::normal_quantile(0.96);
  // Around the one mark of a pass-or-fail event people are spread by an eighth.
  const double one_mark = event.direction == Direction::more_is_better ? 0.125 : -0.125;
  const double slope =
      scale.rows().size() == 1 ? one_mark : (numeric::log(high) - numeric::log(low)) / (z_high - z_low);
  // Events of one person go together: a shared part and an own one.
  const double z = 0.6 * person + 0.8 * random.normal();
  const double result = numeric::exp(numeric::log(low) + slope * (z - z_low));
  const double steps = std::floor(result / event.resolution);
  return std::clamp(steps * event.resolution, event.least_plausible, event.most_plausible);
}

double top_result(const Scale& scale, const Event& event) {
  return std::clamp(scale.rows().back().result, event.least_plausible, event.most_plausible);
}

void add_result(RandomSource& random, Candidate& candidate, const Event& event, double value, Date as_of) {
  const std::vector<Setting> settings = {Setting::record, Setting::practice, Setting::single, Setting::self,
                                         Setting::estimate};
  DatedResult result;
  result.date = as_of - Days{random.integer(0, 120)};
  result.event = event.id;
  result.value = value;
  result.as_typed = format_result(value, event.unit);
  result.setting = random.choice(settings);
  result.first = random.chance(0.15);
  candidate.results.push_back(result);
}

void draw_results(RandomSource& random, const Standard& standard, Date as_of, const CandidateKnobs& knobs,
                  Candidate& candidate) {
  const int age = age_on(candidate.birth_date, candidate.test_date);
  const Category& category = *standard.find_category(candidate.category);
  const bool top = !knobs.plain && random.chance(0.06);
  const bool leave_out = !knobs.plain && standard.events.size() > 1 && random.chance(0.25);
  const int unknown = leave_out ? random.integer(0, static_cast<int>(standard.events.size()) - 1) : -1;
  const double person = random.normal();
  for (std::size_t i = 0; i < standard.events.size(); ++i) {
    const Event& event = standard.events[i];
    const Scale* scale = standard.scale_for(event, candidate.column, age, category);
    if (scale == nullptr || static_cast<int>(i) == unknown) continue;
    const int times = knobs.plain || top ? 1 : random.integer(1, 3);
    for (int n = 0; n < times; ++n) {
      const double value = top ? top_result(*scale, event) : plausible_result(random, event, *scale, person);
      add_result(random, candidate, event, value, as_of);
    }
  }
  std::stable_sort(candidate.results.begin(), candidate.results.end(),
                   [](const DatedResult& a, const DatedResult& b) {
                     return a.date != b.date ? a.date < b.date : a.event < b.event;
                   });
}

void draw_target(RandomSource& random, const Standard& standard, Candidate& candidate) {
  const int events = static_cast<int>(standard.events.size());
  Target& target = candidate.target;
  // From just passing to everything at the top, which is out of reach for nearly everybody.
  const double most = standard.points.most.value() / 100.0;
  // Of a hundred, in the points that this standard gives.
  const auto points = [&](int hundredths) {
    return Points::whole(std::max(1, static_cast<int>(most * hundredths)));
  };
  if (random.chance(0.85)) {
    const Points each = points(random.integer(60, 100));
    target.total = standard.total == TotalKind::mean ? each : Points::from_tenths(events * each.tenths());
  }
  if (random.chance(0.4)) target.each = points(random.integer(60, 75));
  if (random.chance(0.25)) {
    const Points wanted = points(random.integer(60, 100));
    target.events[random.choice(standard.events).id] = wanted;
  }
  target.confidence = random.chance(0.7) ? 0.8 : random.real(0.5, 0.95);
  target.pass_confidence = 0.95;
  candidate.aim = random.chance(0.75) ? Aim::target : Aim::highest;
}

void draw_person(RandomSource& random, const Standard& standard, Date as_of, const CandidateKnobs& knobs,
                 Candidate& candidate) {
  const int youngest = std::max(17, standard.bands.front().least);
  const int oldest = std::min(65, standard.bands.back().most);
  const int age = knobs.age.value_or(random.integer(youngest, oldest));
  int days = random.chance(0.15) ? random.integer(0, 12) : random.integer(13, 280);
  if (knobs.weeks_to_test) days = *knobs.weeks_to_test * 7;
  if (knobs.days_to_test) days = *knobs.days_to_test;
  candidate.id = fmt::format("invented-{}", random.integer(1, 99999));
  candidate.test_date = as_of + Days{days};
  candidate.birth_date = born_for(age, candidate.test_date, random.integer(0, 364));
  candidate.standard = standard.id;
  const std::string column = random.choice(standard.columns);
  candidate.column = knobs.column.value_or(column);
  const std::string category = random.choice(standard.categories).id;
  candidate.category = knobs.category.value_or(category);
  const std::vector<Background> backgrounds = {Background::new_to_training, Background::regular,
                                               Background::long_trained};
  const Background background = random.choice(backgrounds);
  candidate.background = knobs.background.value_or(background);
}

}  // namespace

Candidate random_candidate(RandomSource& random, const Standard& standard, Date as_of,
                           const CandidateKnobs& knobs) {
  Candidate candidate;
  draw_person(random, standard, as_of, knobs, candidate);
  draw_week(random, knobs, candidate);
  draw_results(random, standard, as_of, knobs, candidate);
  draw_target(random, standard, candidate);
  draw_now(random, candidate);
  if (!knobs.plain) {
    draw_calendar(random, as_of, knobs, candidate);
    draw_limits(random, as_of, candidate);
  } else {
    candidate.equipment = full_equipment();
  }
  return candidate;
}

}  // namespace backplan::testing
