#include "lab/tables.hpp"

#include <fmt/format.h>

#include "lab/columns.hpp"

namespace backplan::lab {
namespace {

constexpr double kPercent = 100.0;
constexpr double kClearly = 2.0;  // half intervals that the best gain must be away from nothing

std::string with_half(const Estimate& of, double unit, int decimals) {
  return fmt::format("{:.{}f} ± {:.{}f}", of.value * unit, decimals, of.half * unit, decimals);
}

int broken(const Cohort& cohort, const Cells& cells, std::size_t way) {
  int out = 0;
  for (std::size_t f = 0; f < cohort.size().families.size(); ++f) {
    if (cells.family && *cells.family != f) continue;
    for (int person = 0; person < cohort.size().people; ++person)
      out += cohort.at(f, cells.minutes, way, person).broken_rules;
  }
  return out;
}

// Share of the best gain, counted from the first day.
std::string share_of_gain(const Cohort& cohort, const Cells& cells, std::size_t way) {
  const auto ceiling = place_of(cohort, Way::omniscient);
  if (!ceiling) return {};
  const auto best = column(cohort, cells, *ceiling, gained);
  const Estimate most = mean_of(best);
  if (most.value < kClearly * most.half) return "-";  // the best keeps the level at most: no share of it
  return with_half(paired_ratio(column(cohort, cells, way, gained), best), kPercent, 1);
}

// Share of what training is worth to the best: of its points over doing nothing.
std::string share_of_worth(const Cohort& cohort, const Cells& cells, std::size_t way) {
  const auto ceiling = place_of(cohort, Way::omniscient);
  const auto nothing = place_of(cohort, Way::nothing);
  if (!ceiling || !nothing) return {};
  auto own = column(cohort, cells, way, gained);
  auto best = column(cohort, cells, *ceiling, gained);
  const auto none = column(cohort, cells, *nothing, gained);
  for (std::size_t i = 0; i < none.size(); ++i) {
    own[i] -= none[i];
    best[i] -= none[i];
  }
  return with_half(paired_ratio(own, best), kPercent, 1);
}

std::string rows(const Cohort& cohort, const Cells& cells) {
  std::string out;
  const auto equal = place_of(cohort, Way::equal_split);
  for (std::size_t w = 0; w < cohort.size().ways.size(); ++w) {
    const auto gain = column(cohort, cells, w, gained);
    const auto pass = column(cohort, cells, w, passed);
    const auto reach = column(cohort, cells, w, reached);
    const std::string more =
        equal ? with_half(paired_difference(pass, column(cohort, cells, *equal, passed)), kPercent, 1) : "";
    out += fmt::format(
        "{:<15} {:>12} {:>13} {:>13} {:>13} {:>13} {:>13} {:>12} {:>6}\n", to_string(cohort.size().ways[w]),
        with_half(mean_of(gain), 1.0, 1), share_of_gain(cohort, cells, w), share_of_worth(cohort, cells, w),
        with_half(mean_of(pass), kPercent, 1), more, with_half(mean_of(reach), kPercent, 1),
        with_half(mean_of(column(cohort, cells, w, minutes_done)), 1.0, 1), broken(cohort, cells, w));
  }
  return out;
}

std::string head() {
  return fmt::format("{:<15} {:>12} {:>13} {:>13} {:>13} {:>13} {:>13} {:>12} {:>6}\n", "", "gained",
                     "of best %", "over none %", "pass %", "over equal", "target %", "minutes", "broken");
}

std::string by_minutes(const Cohort& cohort) {
  std::string out;
  for (std::size_t m = 0; m < cohort.size().minutes.size(); ++m) {
    out += fmt::format("\n{} minutes a week, all families\n", cohort.size().minutes[m]) + head() +
           rows(cohort, {std::nullopt, m});
  }
  return out;
}

// Share of the best gain, a line a family and a column a number of minutes.
std::string by_family(const Cohort& cohort, Way way, bool from_start) {
  const auto place = place_of(cohort, way);
  if (!place || !place_of(cohort, Way::omniscient)) return {};
  std::string out = fmt::format("\n{}: % of the omniscient {}\n{:<18}", to_string(way),
                                from_start ? "gain" : "points over doing nothing", "");
  for (const int minutes : cohort.size().minutes) out += fmt::format(" {:>13}", minutes);
  out += '\n';
  for (std::size_t f = 0; f < cohort.size().families.size(); ++f) {
    out += fmt::format("{:<18}", to_string(cohort.size().families[f]));
    for (std::size_t m = 0; m < cohort.size().minutes.size(); ++m) {
      const Cells one{f, m};
      const std::string text =
          from_start ? share_of_gain(cohort, one, *place) : share_of_worth(cohort, one, *place);
      out += fmt::format(" {:>13}", text);
    }
    out += '\n';
  }
  return out;
}

// Share of the truths inside, over all numbers of minutes; a person's own go up and down together.
std::string share_inside(const Cohort& cohort, std::size_t family, std::size_t way,
                         Coverage Outcome::*which) {
  std::vector<double> inside;
  std::vector<double> cases;
  for (int person = 0; person < cohort.size().people; ++person) {
    Coverage all;
    for (std::size_t m = 0; m < cohort.size().minutes.size(); ++m)
      all += cohort.at(family, m, way, person).*which;
    inside.push_back(all.inside);
    cases.push_back(all.cases);
  }
  return with_half(paired_ratio(inside, cases), kPercent, 1);
}

std::string coverage(const Cohort& cohort) {
  const auto way = place_of(cohort, Way::replan_weekly);
  if (!way) return {};
  std::string out =
      fmt::format("\n% of the truths inside the 80 % interval of ability\n{:<18} {:>13} {:>13}\n", "",
                  "today", "test day");
  for (std::size_t f = 0; f < cohort.size().families.size(); ++f) {
    out += fmt::format("{:<18} {:>13} {:>13}\n", to_string(cohort.size().families[f]),
                       share_inside(cohort, f, *way, &Outcome::now),
                       share_inside(cohort, f, *way, &Outcome::test_day));
  }
  return out;
}

std::string target_minutes(const Cohort& cohort) {
  const SameTarget same = same_target(cohort);
  if (same.plan.empty()) return "\nThe same target: nobody reaches it both by plan and by equal split\n";
  const Estimate ratio = paired_ratio(same.plan, same.equal);
  return fmt::format(
      "\nThe same target: {} people reach it by both, with {:.0f} minutes a week by plan and {:.0f} by equal "
      "split:\n"
      "{} % fewer; {} more reach it by plan only, {} by equal split only\n",
      same.plan.size(), mean_of(same.plan).value, mean_of(same.equal).value,
      with_half({1.0 - ratio.value, ratio.half}, kPercent, 1), same.only_plan, same.only_equal);
}

}  // namespace

std::string summary(const Cohort& cohort) {
  std::string out = fmt::format("{} people a family, {} families, seed {}\n", cohort.size().people,
                                cohort.size().families.size(), cohort.size().seed);
  out += by_minutes(cohort);
  for (const bool from_start : {true, false}) {
    for (const Way way : {Way::replan_weekly, Way::informed, Way::straighter, Way::equal_split})
      out += by_family(cohort, way, from_start);
  }
  out += coverage(cohort);
  out += target_minutes(cohort);
  return out;
}

std::string cells(const Cohort& cohort) {
  std::string out =
      "family,minutes,way,people,gained,gained_half,share_of_best,share_half,pass,pass_half,"
      "target,target_half,minutes_done,broken_rules\n";
  const auto ceiling = place_of(cohort, Way::omniscient);
  for (std::size_t f = 0; f < cohort.size().families.size(); ++f) {
    for (std::size_t m = 0; m < cohort.size().minutes.size(); ++m) {
      for (std::size_t w = 0; w < cohort.size().ways.size(); ++w) {
        const Cells cell{f, m};
        const auto gain = column(cohort, cell, w, gained);
        const Estimate share =
            ceiling ? paired_ratio(gain, column(cohort, cell, *ceiling, gained)) : Estimate{};
        const Estimate pass = mean_of(column(cohort, cell, w, passed));
        const Estimate reach = mean_of(column(cohort, cell, w, reached));
        const Estimate mean = mean_of(gain);
        out += fmt::format("{},{},{},{},{:.2f},{:.2f},{:.4f},{:.4f},{:.4f},{:.4f},{:.4f},{:.4f},{:.1f},{}\n",
                           to_string(cohort.size().families[f]), cohort.size().minutes[m],
                           to_string(cohort.size().ways[w]), cohort.size().people, mean.value, mean.half,
                           share.value, share.half, pass.value, pass.half, reach.value, reach.half,
                           mean_of(column(cohort, cell, w, minutes_done)).value, broken(cohort, cell, w));
      }
    }
  }
  return out;
}

}  // namespace backplan::lab
