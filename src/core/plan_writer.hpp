// A filled season into a written plan: dates, prescriptions, milestones, cautions.
#pragma once

#include "backplan/plan.hpp"
#include "core/season.hpp"

namespace backplan {

void write_weeks(Plan& plan, const Season& season, const SeasonPlanner& planner, const Candidate& candidate,
                 const Knowledge& knowledge, Date as_of, const History& history);
// `most_minutes`: a week, that the season was filled by.
void write_given_up(Plan& plan, const Season& season, int most_minutes, const SeasonPlanner& planner,
                    const Candidate& candidate, const Knowledge& knowledge);
void write_cautions(Plan& plan, const Season& season, const SeasonPlanner& planner,
                    const Candidate& candidate, const Knowledge& knowledge, const History& history);
void write_assumptions(Plan& plan, const Candidate& candidate, const Knowledge& knowledge);

// Ways out when the answer is no; `season` is the nearest plan. `fitted`: the states that the history gave,
// which every change keeps; none: each changed candidate is fitted anew.
[[nodiscard]] WaysOut find_ways_out(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                                    const SeasonPlanner& planner, const Season& season,
                                    const std::vector<EventState>* fitted);
// Whether the chances hold the asked confidence.
[[nodiscard]] bool holds(const Outlook& outlook, const Target& target);

// More of one kind of work a week, by which yields are measured.
inline constexpr int kYieldStepMinutes = 15;
[[nodiscard]] std::vector<YieldRow> yield_rows(const SeasonPlanner& planner, const Candidate& candidate,
                                               const Knowledge& knowledge);

}  // namespace backplan
