#include "report/replan_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/value_text.hpp"
#include "report/fit_text.hpp"
#include "report/log_text.hpp"
#include "report/plan_text.hpp"
#include "report/show_text.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr std::size_t kChangesShown = 12;
constexpr Days kDaysShown{7};

std::string verdict_text(const Plan& plan, const Plan& old, const Names& names) {
  if (!plan.refused.empty()) return refused_text(plan);
  std::string text = "Will it be enough?\n";
  const bool had_plan = old.refused.empty();
  const auto before_of = [&](double chance) {
    return had_plan ? say_chance(chance) + " before" : std::string("no plan before");
  };
  text += wrap(
      fmt::format("{} The target ({}): {}, {}; {} asked.", plan.enough ? "Yes." : "No, not by this date.",
                  target_text(plan.target, names), say_chance(plan.outlook.p_target),
                  before_of(old.outlook.p_target), say_chance(plan.target.confidence)),
      kPageWidth, "  ", "  ");
  if (names.has_pass_mark(plan.category))
    text += fmt::format("  Passing the test: {}, {}; {} asked.\n", say_chance(plan.outlook.p_pass),
                        before_of(old.outlook.p_pass), say_chance(plan.target.pass_confidence));
  const TotalOutlook& before = old.outlook.total;
  if (names.standard.pass_or_fail)
    return text + fmt::format("  Events passed on test day: about {:.1f} of {}; before: {}.\n",
                              plan.outlook.total.mean, names.standard.events.size(),
                              had_plan ? fmt::format("about {:.1f}", before.mean) : "no plan");
  const double on_scale_before = had_plan ? old.outlook.p_on_scale : 0.0;
  text += fmt::format(
      "  Total on test day: {}; before: {}.\n", say_total(plan.outlook.total, plan.outlook.p_on_scale),
      has_total(on_scale_before) ? fmt::format("{}, {} to {}", say_points(before.mean),
                                               say_points(before.low80), say_points(before.high80))
                                 : "none");
  const std::string note = had_plan ? total_note(plan.outlook.p_on_scale, "before", on_scale_before)
                                    : total_note(plan.outlook.p_on_scale);
  return note.empty() ? text : text + wrap(note, kPageWidth, "  ", "  ");
}

std::string learnt_text(const Replan& found, const Names& names) {
  if (found.learnt.empty()) {
    return "\nWhat the log taught\n"
           "  Nothing: there is no entry yet. `backplan log --help` shows how to write one.\n";
  }
  std::string text = '\n' + fit_text(found.learnt, names);
  for (const Stall& stall : found.stalls) {
    std::string instead;
    for (const std::string& work : stall.instead) instead += (instead.empty() ? "" : ", ") + names.work(work);
    text += wrap(
        fmt::format("{}: {} readings since {}, all under what the plan expected. An easier week, or other "
                    "work that feeds it ({}), may help; more of the same seldom does.",
                    names.event(stall.event), stall.readings, io::say_date(stall.since), instead),
        kPageWidth, "    ", "  ! ");
  }
  return text;
}

std::string changes_text(const Replan& found) {
  std::string text = "\nWhat changes\n";
  for (const std::string& reason : found.reasons)
    text += wrap(printable(reason) + '.', kPageWidth, "    ", "  - ");
  if (found.unchanged) return text + "  Nothing: there is nothing new since this plan was made.\n";
  if (found.changes.empty()) return text + "  Nothing: the days ahead stay as they are.\n";
  if (found.reasons.empty())
    text += fmt::format("  Today and the next {} stay as they are.\n", count(kSteadyDays - 1, "day"));
  for (std::size_t i = 0; i < std::min(kChangesShown, found.changes.size()); ++i) {
    const SessionChange& change = found.changes[i];
    const std::string what = !change.figures.empty() ? printable(change.figures)
                             : change.before == change.after
                                 ? change.after
                                 : fmt::format("{} instead of {}", change.after, change.before);
    text += wrap(fmt::format("{}: {} ({})", short_date(change.date), what, printable(change.why)), kPageWidth,
                 "    ", "  ");
  }
  if (found.changes.size() > kChangesShown) {
    text += fmt::format("  and {}: `backplan show --all` has every day.\n",
                        count(static_cast<int>(found.changes.size() - kChangesShown), "more day"));
  }
  return text;
}

}  // namespace

std::string replan_text(const Replan& found, const Plan& old, const Names& names, const DayNotes& notes) {
  const Plan& plan = found.plan;
  std::string text = fmt::format("{}: planned again; test on {}, {}\n\n", printable(plan.candidate),
                                 io::say_date(plan.test_date), weeks_until(plan.as_of, plan.test_date));
  text += verdict_text(plan, old, names);
  // Nothing is planned that could change, and nothing follows from what was logged or not.
  if (plan.refused.empty()) text += learnt_text(found, names) + changes_text(found);
  if (!found.stops.empty()) text += '\n' + stops_text(found.stops, names) + instead_text(found.off, names);
  const std::string coming = plan.refused.empty()
                                 ? coming_text(plan, plan.as_of, plan.as_of + kDaysShown, names, notes)
                                 : std::string();
  if (!coming.empty()) text += fmt::format("\nThe next {} days\n\n", kDaysShown.count()) + coming;
  return text + '\n' + cautions_text(plan);
}

}  // namespace backplan::report
