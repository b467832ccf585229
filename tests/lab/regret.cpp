#include "lab/regret.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "core/season.hpp"
#include "lab/cohort.hpp"
#include "lab/defaults_off.hpp"
#include "lab/statistics.hpp"
#include "lab/threads.hpp"
#include "property/shipped_data.hpp"

namespace backplan::lab {
namespace {

const AllocationEffort kEffort{.prove = false, .rounds = 6, .nodes = 0, .counting_nodes = 0, .gap = 0.05};
constexpr double kWorthALine = 0.05;  // points; less is listed together

// The packs of a season, week by week.
using Packs = std::vector<Pack>;

Packs packs_of(const Season& season) {
  Packs out;
  for (const SeasonWeek& week : season.weeks) out.push_back(week.column.pack);
  return out;
}

// One person as one model sees them.
class View {
 public:
  View(const Candidate& candidate, const Standard& standard, const Model& model, const Rules& rules)
      : planner_(candidate, {standard, model, rules}, candidate.results.back().date + Days(1)),
        figures_(planner_.states(), candidate, standard, model) {}

  [[nodiscard]] Packs best() { return packs_of(planner_.fill(planner_.available_minutes(), kEffort)); }

  [[nodiscard]] double points(const Packs& packs) const {
    Dosage dosage = planner_.holding();
    for (std::size_t w = 0; w < packs.size(); ++w) {
      const Column column = planner_.search().column_of(packs[w], planner_.segments()[w], 0);
      for (std::size_t e = 0; e < dosage.s.size(); ++e) {
        dosage.s[e] += column.s[e];
        dosage.loss[e] += column.loss[e];
      }
    }
    return figures_.expected_total(dosage);
  }

 private:
  SeasonPlanner planner_;
  DayFigures figures_;
};

// Lost points of one person, by default: the truth lower, the truth higher.
struct Lost {
  double lower = 0.0, higher = 0.0;
};

// All plans that any of the models would make compete, so that what a quick filling misses is missed on both
// sides.
std::vector<Lost> lost_by(const Candidate& candidate, const Standard& standard, const Rules& rules,
                          const std::vector<DefaultOff>& defaults) {
  const Model& shipped = testing::shipped_model();
  View assumed(candidate, standard, shipped, rules);
  std::vector<Packs> plans{assumed.best()};
  const auto view_of = [&](std::size_t i) {
    const Model& model = i % 2 == 0 ? defaults[i / 2].lower : defaults[i / 2].higher;
    return std::make_unique<View>(candidate, standard, model, rules);
  };
  for (std::size_t i = 0; i < 2 * defaults.size(); ++i) {
    Packs found = view_of(i)->best();
    if (std::find(plans.begin(), plans.end(), found) == plans.end()) plans.push_back(std::move(found));
  }
  const auto best_by = [&](const View& view) {
    std::size_t best = 0;
    for (std::size_t p = 1; p < plans.size(); ++p) {
      if (view.points(plans[p]) > view.points(plans[best])) best = p;
    }
    return best;
  };
  const Packs& chosen = plans[best_by(assumed)];
  std::vector<Lost> out(defaults.size());
  for (std::size_t i = 0; i < 2 * defaults.size(); ++i) {
    const auto view = view_of(i);
    const double lost = view->points(plans[best_by(*view)]) - view->points(chosen);
    (i % 2 == 0 ? out[i / 2].lower : out[i / 2].higher) = lost;
  }
  return out;
}

std::string rows(const std::vector<DefaultOff>& defaults, const std::vector<std::vector<Lost>>& lost) {
  struct Line {
    std::string text;
    double worst = 0.0;
  };
  std::vector<Line> lines;
  for (std::size_t d = 0; d < defaults.size(); ++d) {
    std::vector<double> lower;
    std::vector<double> higher;
    double most = 0.0;
    for (const auto& person : lost) {
      lower.push_back(person[d].lower);
      higher.push_back(person[d].higher);
      most = std::max({most, person[d].lower, person[d].higher});
    }
    const Estimate low = mean_of(lower);
    const Estimate high = mean_of(higher);
    lines.push_back(
        {fmt::format("{:<38} {:>8} {:>7.2f} ± {:.2f} {:>7.2f} ± {:.2f} {:>7.2f}\n", defaults[d].name,
                     defaults[d].value, low.value, low.half, high.value, high.half, most),
         std::max(low.value, high.value)});
  }
  std::stable_sort(lines.begin(), lines.end(),
                   [](const Line& a, const Line& b) { return a.worst > b.worst; });
  std::string out;
  int small = 0;
  for (const Line& line : lines) {
    if (line.worst >= kWorthALine) out += line.text;
    small += line.worst < kWorthALine ? 1 : 0;
  }
  return out + fmt::format("{} others: under {:.2f} points either way\n", small, kWorthALine);
}

}  // namespace

std::string regret_table(const RegretSize& size, const Standard& standard, const Rules& rules) {
  const auto defaults = judged_defaults(standard);
  std::vector<std::vector<Lost>> lost(static_cast<std::size_t>(size.people));
  const Knowledge knowledge{standard, testing::shipped_model(), rules};
  in_threads(size.threads, lost.size(), [&](std::size_t i) {
    const Person person = draw_person(seed_of(size.seed, Family::as_assumed, static_cast<int>(i)),
                                      Family::as_assumed, size.minutes, knowledge);
    lost[i] = lost_by(person.candidate, standard, rules, defaults);
  });
  return fmt::format(
             "Points lost by the plan where the truth is a quarter off from one default: {} people, {} "
             "minutes\n"
             "a week, seed {}; {} defaults that are judgements\n\n{:<38} {:>8} {:>14} {:>14} {:>7}\n",
             size.people, size.minutes, size.seed, defaults.size(), "default", "value", "truth -25 %",
             "truth +25 %", "most") +
         rows(defaults, lost);
}

}  // namespace backplan::lab
