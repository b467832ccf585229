#include "cli/help_parts.hpp"

namespace backplan::cli {
namespace {

constexpr std::string_view kInit =
    R"(  backplan init                            asks for a dozen facts, checks each answer at once
  backplan init -C A-07                    in another folder, which is made if it is not there
  backplan init --defaults --test-date 2027-03-08 --birth-date 1998-04-17 --column female \
      --target 440 --result "MDL=190 lb" --result HRP=33 --result 2MR=18:05 \
      --week "60 60 0 60 60 45 0"

Writes candidate.json, which every other command reads, and never writes over one. An empty answer
takes what stands in brackets. What an option gives is not asked. What else a candidate can hold is
in data/schema/candidate.schema.json; add it by hand.

  --standard ID         the official test; `backplan standard list` shows them
  --test-date DATE, --birth-date DATE, --results-date DATE   YYYY-MM-DD
  --id TEXT             what sheets print in place of a name
  --column C, --category C     of the standard
  --target N            points in all
  --background B        new, regular or long: how long you have trained
  --result EVENT=VALUE  once for each event, at least one: "MDL=190 lb", 2MR=18:05
  --setting S           of the results: record, practice, single, self or estimate
  --week "M T W T F S S"       minutes of each day, Monday first
  --medical M           none, profile (with --profile-until DATE), pregnant or postpartum
                        (with --cleared-on DATE)
  --defaults            asks nothing: what no option gives takes its default

Options: --standard, --test-date, --id, --birth-date, --column, --category, --target, --background,
  --results-date, --result, --setting, --week, --medical, --profile-until, --cleared-on, --defaults;
  -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kScore = R"(  backplan score                 the candidate of this folder
  backplan score -C A-07         the one of the folder A-07
  backplan score --json          the same for another program

What the latest result in each event scores (candidate.json and the journal), the total, pass or
fail by category and why, and what the next row up of the scale takes. Points are of the age band on
test day. Figures that rest on a doubtful row of the scale are marked. Exit code 1 when the own
category is failed.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kYield =
    R"(  backplan yield                 points that one more hour brings, best first
  backplan yield -C A-07 --json

For each kind of work and each event: the points on test day that another hour brings, once in the
coming week and in every week left. Exit code 1 when there is no advice.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kPlan =
    R"(  backplan plan                            the plan from today, written to plan.json
  backplan plan -C A-07 --as-of 2026-12-07 from another day, in another folder
  backplan plan --json                     what plan.json holds, on standard output too

Reads candidate.json. The smallest one:
  { "format": "backplan-candidate/1", "id": "A-07", "birth_date": "1998-04-17", "column": "female",
    "standard": "us-army-aft", "category": "general", "test_date": "2027-03-08",
    "target": { "total": 440 },
    "results": [
      { "date": "2026-12-01", "event": "MDL", "value": "170 lb", "setting": "practice" } ],
    "week": { "mon": 60, "tue": 60, "wed": 0, "thu": 60, "fri": 60, "sat": 45, "sun": 0 } }

Exit code 1 when the plan is not enough for the target or the pass at the asked confidence; the
nearest plan is written all the same, and the ways out are printed.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kReplan =
    R"(  backplan replan                          from today, by journal.jsonl and plan.json
  backplan replan -C A-07 --as-of 2026-12-20
  backplan replan --json                   what the log taught, the changes and their reasons

Reads candidate.json, journal.jsonl and plan.json, fits your response anew, plans the days ahead and
writes plan.json. Days that are over stay as they were. With no surprise today and the next 2 days
stay too. Exit code 1 when the target or the pass is less likely than asked.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kShow = R"(  backplan show                      the week of today
  backplan show --today              today alone
  backplan show --date 2027-01-12    another day
  backplan show --week 6             the sixth week before the test
  backplan show --all                every week
  backplan show --assumptions        what the plan rests on, with sources

Reads plan.json. Exit code 1 where no plan was made.

Options: --week N, --date DATE, --today, --assumptions, --all (one of them); -C DIR, --as-of DATE,
--json
)";

}  // namespace

std::vector<HelpText> plan_help() {
  return {
      {"init", kInit}, {"score", kScore},   {"yield", kYield},
      {"plan", kPlan}, {"replan", kReplan}, {"show", kShow},
  };
}

}  // namespace backplan::cli
