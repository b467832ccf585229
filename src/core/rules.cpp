#include "backplan/rules.hpp"

#include <algorithm>
#include <stdexcept>

#include "backplan/content_hash.hpp"

namespace backplan {

namespace {

int short_overhead(const Rules& rules) {
  return rules.short_preparation_minutes + rules.short_recovery_minutes;
}

int long_overhead(const Rules& rules) { return rules.preparation_minutes + rules.recovery_minutes; }

}  // namespace

std::string defaults_hash(const Model& model, const Rules& rules) {
  return content_hash(model.content_hash + ' ' + rules.content_hash);
}

int ByBackground::of(Background background) const {
  switch (background) {
    case Background::new_to_training:
      return new_to_training;
    case Background::regular:
      return regular;
    case Background::long_trained:
      return long_trained;
  }
  throw std::logic_error("a background without a name");
}

int hard_day_limit(const Rules& rules, Background background, int age) {
  const int fewer = age >= rules.fewer_hard_days_from_age ? 1 : 0;
  return std::max(rules.hard_days_a_week.of(background) - fewer, rules.fewest_hard_days);
}

int taper_days(const Rules& rules, int minutes_a_week) {
  if (minutes_a_week < rules.taper_short_under_minutes) return rules.taper_short_days;
  if (minutes_a_week <= rules.taper_middle_up_to_minutes) return rules.taper_middle_days;
  return rules.taper_long_days;
}

int usable_minutes(const Rules& rules, int slot_minutes) {
  if (slot_minutes < rules.short_slot_under) return std::max(slot_minutes - short_overhead(rules), 0);
  // The longest short slot leaves more than the shortest long one, so a slot just over the step may
  // be used as that short one.
  const int as_longest_short = rules.short_slot_under - 1 - short_overhead(rules);
  return std::max({slot_minutes - long_overhead(rules), as_longest_short, 0});
}

int session_minutes(const Rules& rules, int block_minutes, int blocks) {
  if (blocks <= 0) return 0;
  const int inner = block_minutes + rules.change_over_minutes * (blocks - 1);
  const int as_short = inner + short_overhead(rules);
  return as_short < rules.short_slot_under ? as_short : inner + long_overhead(rules);
}

}  // namespace backplan
