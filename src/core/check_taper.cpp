// The last days before the test.
#include <fmt/format.h>

#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

// Minutes a day over the taper against those of the last build weeks. Blocked days are left out of
// both, or a blocked taper would allow as much training as no taper at all.
void check_minutes(const Case& c, Findings& findings) {
  const std::optional<double> usual = usual_minutes(c, c.taper_from);
  if (!usual) return;
  int open = 0;
  int minutes = 0;
  for (const DayFacts& day : c.days) {
    if (day.date < c.taper_from || day.blocked) continue;
    ++open;
    minutes += day.minutes();
  }
  const double most = (1.0 - c.rules.taper_least_cut) * *usual / 7.0 * open;
  if (minutes <= most + kSlack) return;
  findings.add("taper-minutes", c.taper_from,
               fmt::format("{} minutes on the {} open days of the taper; at most {:.1f} after {:.1f} a week",
                           minutes, open, most, *usual));
}

void check_last_days(const Case& c, const DayFacts& day, Findings& findings) {
  const int left = static_cast<int>((c.candidate.test_date - day.date).count());
  if (left <= c.rules.no_deadlift_days && day.has_lift()) {
    findings.add("taper-deadlift", day.date, fmt::format("a deadlift {} days before the test", left));
  }
  if (left <= c.rules.no_training_days_before_test && day.planned()) {
    findings.add("day-before-test", day.date, fmt::format("training {} days before the test", left));
  }
}

// So late that nothing trains any more: at most a short easy go through the movements.
void check_too_late(const Case& c, const DayFacts& day, Findings& findings) {
  for (const BlockFacts& block : day.blocks) {
    if (!block.hard && block.block->size != BlockSize::full) continue;
    findings.add("too-late", day.date,
                 fmt::format("{} is planned, but under {} days to the test there is no training",
                             block.kind->id, c.rules.plan_without_training_under_days));
  }
}

}  // namespace

void check_taper(const Case& c, Findings& findings) {
  check_minutes(c, findings);
  const int left = static_cast<int>(c.days.size());
  for (const DayFacts& day : c.days) {
    check_last_days(c, day, findings);
    if (left < c.rules.plan_without_training_under_days && !c.plan.goes_on) check_too_late(c, day, findings);
  }
}

}  // namespace backplan::checking
