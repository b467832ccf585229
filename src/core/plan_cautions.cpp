// What every sheet of a plan ends with.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "backplan/evidence.hpp"
#include "backplan/suited.hpp"
#include "core/caution_words.hpp"
#include "core/plan_writer.hpp"

namespace backplan {
namespace {

bool has_runs(const Season& season, const Calendar& calendar) {
  const auto runs = [&](const PlacedBlock& block) {
    return calendar.kinds()[static_cast<std::size_t>(block.kind)]->running;
  };
  for (const SeasonWeek& week : season.weeks) {
    for (const PlacedDay& day : week.days) {
      if (std::any_of(day.blocks.begin(), day.blocks.end(), runs)) return true;
    }
  }
  return false;
}

// Work that the unit has fixed where the rules want rest, or nothing hard, before the test.
void caution_of_fixed(const Calendar& calendar, const Candidate& candidate, const Rules& rules,
                      std::vector<std::string>& out) {
  std::string what;
  for (const CalendarDay& day : calendar.days()) {
    const auto to_test = (candidate.test_date - day.date).count();
    const bool test = std::count(candidate.diagnostics.begin(), candidate.diagnostics.end(), day.date) > 0;
    const bool unwanted = to_test <= rules.no_training_days_before_test ||
                          (to_test <= rules.no_deadlift_days && day.fixed_hard && !test);
    if (day.blocked || day.fixed_name.empty() || !unwanted) continue;
    what += fmt::format("{}{} on {}", what.empty() ? "" : ", ", day.fixed_name, date_words(day.date));
  }
  if (what.empty()) return;
  out.push_back(fmt::format(
      "Fixed in the last days before the test, when nothing hard is wanted: {}. Ask the unit to move "
      "it: the forecast does not count the fatigue that it leaves.",
      what));
}

// Where a record test falls in or after a profile.
void caution_of_profile(const Candidate& candidate, const Rules& rules, std::vector<std::string>& out) {
  const Medical& medical = candidate.medical;
  if (!medical.until || candidate.test_date <= *medical.until) {
    out.push_back(
        "The test falls during the profile. Ask whether a record test may be held then; verify the rule.");
    return;
  }
  long recovery = rules.profile_recovery_most_days;
  if (medical.since) {
    const auto length = static_cast<double>((*medical.until - *medical.since).count());
    recovery = std::min(recovery, static_cast<long>(rules.profile_recovery_factor * length));
  }
  if ((candidate.test_date - *medical.until).count() >= recovery) return;
  out.push_back(
      fmt::format("The test falls inside the {} days of recovery after the profile{}. Ask whether a "
                  "record test may be held then; verify the rule.",
                  recovery, medical.since ? "" : " (its start is not known: the longest time is taken)"));
}

void caution_of_medical(const Candidate& candidate, const Rules& rules, Date as_of,
                        std::vector<std::string>& out) {
  const Medical& medical = candidate.medical;
  if (medical.status == MedicalStatus::profile) {
    caution_of_profile(candidate, rules, out);
    if (!medical.until || *medical.until >= as_of)
      out.push_back("Until the profile ends, only what it expressly permits is planned.");
  }
  if (medical.status == MedicalStatus::postpartum) {
    out.push_back(
        "After pregnancy: planned as new to training, without maximal tests. Record tests are exempt for a "
        "year; ask the medical and postpartum programme staff.");
  }
}

// "intervals until 20 Dec 2026 (shin)".
std::string avoided(const Avoid& avoid, const WorkKind& kind) {
  std::string text = kind.name;
  if (avoid.from) text += " from " + say_day(*avoid.from);
  if (avoid.until) text += (avoid.from ? " to " : " until ") + say_day(*avoid.until);
  return avoid.why.empty() ? text : fmt::format("{} ({})", text, avoid.why);
}

// What the plan leaves out because the candidate file or pain says so.
void caution_of_avoided(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                        std::vector<std::string>& out) {
  std::vector<std::string> words;
  for (const Avoid& avoid : candidate.avoid) {
    const WorkKind* kind = knowledge.model.find_work(avoid.work);
    if (kind == nullptr || !is_work_for(*kind, knowledge.standard)) continue;
    if ((avoid.until && *avoid.until < as_of) || (avoid.from && *avoid.from >= candidate.test_date)) continue;
    words.push_back(avoided(avoid, *kind));
  }
  if (!words.empty()) out.push_back(fmt::format("Left out, as work to avoid: {}.", fmt::join(words, "; ")));
}

}  // namespace

void write_cautions(Plan& plan, const Season& season, const SeasonPlanner& planner,
                    const Candidate& candidate, const Knowledge& knowledge, const History& history) {
  auto& out = plan.cautions;
  out.emplace_back(kNoMedicalAdvice);
  out.emplace_back(kPainStopsWork);
  if (has_runs(season, planner.calendar())) out.emplace_back(kMindHeat);
  for (const EventOutlook& event : plan.outlook.events) {
    if (!event.measured) {
      out.push_back(
          fmt::format("{} was never measured: its figures are a broad guess from the scale. One honest "
                      "attempt helps more than any plan.",
                      event.event));
    }
  }
  if (plan.refused.empty()) {
    for (std::string& one : cautions_of(
             stale_results(candidate, history.entries, knowledge.standard, knowledge.model, plan.as_of)))
      out.push_back(std::move(one));
  }
  if (plan.refused.empty()) caution_of_fixed(planner.calendar(), candidate, knowledge.rules, out);
  if (plan.refused.empty()) caution_of_avoided(candidate, knowledge, plan.as_of, out);
  caution_of_medical(candidate, knowledge.rules, plan.as_of, out);
  if (planner.too_late()) {
    out.push_back(
        fmt::format("Fewer than {} days are left: training now costs more than it brings. Rest, one short "
                    "walk-through, the test-day sheet.",
                    knowledge.rules.plan_without_training_under_days));
  }
}

}  // namespace backplan
