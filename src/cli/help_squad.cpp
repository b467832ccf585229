#include "cli/help_parts.hpp"

namespace backplan::cli {
namespace {

constexpr std::string_view kSquad =
    R"(  backplan squad                           the programme from today, written to programme.json
  backplan squad check                     every problem of squad.json, roster.csv and journal.jsonl
  backplan squad week 8                    the eighth week before the test
  backplan squad morning 2026-12-03        the trainer's sheet of one morning, minute by minute
  backplan squad card L-07                 one person's sheet for two weeks
  backplan squad log results.csv           a test day or a timed morning of all, in one go
  backplan squad replan                    from today anew; says who moves and why
  backplan squad extract L-07              one person's own folder, for a move to another unit
  backplan squad take ../other/L-07        a person's folder taken in

Reads squad.json and roster.csv. The smallest ones:
  { "format": "backplan-squad/1", "id": "larch", "standard": "us-army-aft",
    "test_date": "2027-02-22",
    "mornings": { "mon": 70, "tue": 60, "wed": 60, "thu": 70, "fri": 60 },
    "equipment": { "hex_bars": 2, "sleds": 1, "kettlebell_pairs": 2 } }

  id,birth_date,column,results_date,MDL,HRP,SDC,PLK,2MR
  L-01,1999-02-11,male,2026-11-24,200 lb,24,2:18,1:55,21:40

Exit code 1 when somebody is less likely to pass than asked, or is referred.

Options: --pooling on|off (what the logs teach of all), -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadCheck = R"(  backplan squad check
  backplan squad check -C larch --json

Lists every problem of squad.json, roster.csv and journal.jsonl by file, line and column, and what
was taken where nothing is given. Exit code 1 when there is a problem.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadWeek = R"(  backplan squad week                      the week of today
  backplan squad week 8                    the eighth week before the last test

Each common morning with who does what, and the short extras at home. Weeks count back from the last
test of anybody: make-up tests may come after the squad's own. Reads programme.json.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadMorning = R"(  backplan squad morning                   today
  backplan squad morning 2026-12-03        another day

Stations, who is where from minute to minute, loads and plates by bar, run groups by pace with the
leader's lap time. Reads programme.json.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadCard = R"(  backplan squad card L-07                 two weeks from today

One person's sheet: chances, weakest event, what to do when and on which lane, short extras at home,
what is done instead of forbidden work. Reads programme.json.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadLog = R"(  backplan squad log results.csv
  backplan squad log results.csv --dry-run

One row a person: id, date (default: today), setting, one column an event. Or one row an entry, with
the columns of `backplan log import`: work, sets, distance, time, reason (missed), where and level
(pain). All rows or none are added to journal.jsonl; what is there already is not added twice. A
load that fits what the person has shown only in the other unit is asked about; --sure says it is
right.

Options: --dry-run, --sure, -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadReplan = R"(  backplan squad replan
  backplan squad replan --pooling off

The programme from today, by the roster as it is and the journal. Mornings that are over stay.
Planned mornings count as done unless an entry says otherwise. People change groups only when it
pays; who moved, joined, left or is tested on another day is named. Exit code as `backplan squad`.

Options: --pooling on|off, -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadExtract = R"(  backplan squad extract L-07              into the folder L-07
  backplan squad extract L-07 /media/moves/L-07

Writes candidate.json and journal.jsonl of one person: a folder for `backplan plan`, or for `squad
take` of another unit. The roster stays as it is.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadTake = R"(  backplan squad take ../other/L-07

Adds the person of that folder to roster.csv, and what the journal there says to journal.jsonl. From
then on the squad's mornings and kit are the person's.

Options: -C DIR, --as-of DATE, --json
)";

}  // namespace

std::vector<HelpText> squad_help() {
  return {
      {"squad", kSquad},
      {"squad check", kSquadCheck},
      {"squad week", kSquadWeek},
      {"squad morning", kSquadMorning},
      {"squad card", kSquadCard},
      {"squad log", kSquadLog},
      {"squad replan", kSquadReplan},
      {"squad extract", kSquadExtract},
      {"squad take", kSquadTake},
  };
}

}  // namespace backplan::cli
