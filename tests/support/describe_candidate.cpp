// A candidate in words that a failing test can print.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <chrono>

#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

std::string iso(Date date) {
  const std::chrono::year_month_day ymd(date);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(ymd.year()), static_cast<unsigned>(ymd.month()),
                     static_cast<unsigned>(ymd.day()));
}

std::string iso(const std::optional<Date>& date) { return date ? iso(*date) : "-"; }

std::string number(const std::optional<int>& value) { return value ? fmt::format("{}", *value) : "-"; }

std::string metres(const std::optional<Metres>& value) {
  return value ? fmt::format("{:.0f} m", value->value()) : "-";
}

std::string calendar_of(const Candidate& c) {
  std::string text;
  for (const BlockedSpell& spell : c.blocked) {
    text += fmt::format("blocked {} to {} {}\n", iso(spell.from), iso(spell.to), to_string(spell.kind));
  }
  for (const FixedWork& work : c.fixed) {
    text += fmt::format("fixed weekday {} {} {} min {}\n", work.weekday, work.work, work.minutes,
                        metres(work.distance));
  }
  for (const DayOverride& day : c.days) {
    text += fmt::format("day {} minutes {} night {}\n", iso(day.date), number(day.minutes),
                        day.after_night_shift);
  }
  for (const Date date : c.diagnostics) text += fmt::format("diagnostic {}\n", iso(date));
  for (const Avoid& avoid : c.avoid) {
    text += fmt::format("avoid {} {} to {}\n", avoid.work, iso(avoid.from), iso(avoid.until));
  }
  return text;
}

std::string limits_of(const Candidate& c) {
  const Equipment& kit = c.equipment;
  return fmt::format(
      "kit bar {} sled {} kettlebells {} pull-up bar {} track {} ball {} plates {}\n"
      "medical {} permitted {} since {} until {} cleared {}\n",
      kit.hex_bar, kit.sled, kit.kettlebells, kit.pull_up_bar, kit.track, kit.throw_ball,
      kit.plates_lb.size(), static_cast<int>(c.medical.status), fmt::join(c.medical.permitted, "+"),
      iso(c.medical.since), iso(c.medical.until), iso(c.medical.cleared_on));
}

std::string target_of(const Target& target) {
  std::string text = "target";
  if (target.total) text += " total " + to_string(*target.total);
  if (target.each) text += " each " + to_string(*target.each);
  for (const auto& [event, points] : target.events) text += " " + event + " " + to_string(points);
  return text + fmt::format(" at {:.2f}, pass at {:.2f}\n", target.confidence, target.pass_confidence);
}

}  // namespace

std::string describe(const Candidate& c) {
  std::string text = fmt::format(
      "{} born {} {} {} {} test {} {} aim {}\nnow hard {} minutes {} run {}\nweek {} home {}\n", c.id,
      iso(c.birth_date), c.column, c.standard, c.category, iso(c.test_date), to_string(c.background),
      c.aim == Aim::target ? "target" : "highest", number(c.now.hard_sessions), number(c.now.minutes),
      metres(c.now.longest_run), fmt::join(c.week, " "), c.home_blocks);
  text += target_of(c.target);
  for (const DatedResult& result : c.results) {
    text += fmt::format("result {} {} {} {}{}\n", iso(result.date), result.event, result.as_typed,
                        to_string(result.setting), result.first ? " first" : "");
  }
  return text + calendar_of(c) + limits_of(c);
}

}  // namespace backplan::testing
