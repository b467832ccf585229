#include "cli/help.hpp"

#include <algorithm>
#include <stdexcept>

#include "cli/description.hpp"

namespace backplan::cli {
namespace {

constexpr std::string_view kProgram =
    R"(  backplan init              asks for the facts and writes candidate.json
  backplan score             what the latest results score, and the next row up
  backplan yield             where the next points are cheapest
  backplan plan              the dated plan for the target, written to plan.json
  backplan replan            the days ahead anew, from what was really done
  backplan show              this week of the plan; a day, another week, all of it
  backplan export html|ics|csv|xlsx -o FILE
                             the plan as a page, a calendar or a spreadsheet
  backplan log               what was really done: a workout, a result, a missed day, pain
  backplan testday           the sheet for the day: tries, pacing, splits, laps
  backplan standard list     the official tests that it knows
  backplan squad             one trainer's squad: groups, shared mornings, everybody's sheet
  backplan batch < FILE      candidates as JSON Lines, one line of JSON out for each
  backplan completion bash   a script that completes commands and options in your shell
  backplan man               man pages

Works back from a target score in a fitness test to a dated training plan.

Options of every command:
  -C DIR          the working folder with candidate.json (default: here)
  --as-of DATE    plan as if today were this day, YYYY-MM-DD
  --json          the answer as JSON
  -h, --help      examples and options; `backplan COMMAND --help` for one command
  -V, --version   the version

No colours are used, so NO_COLOR changes nothing. Answers go to standard output, warnings, faults
and questions to standard error.

Exit codes: 0 done, 1 the answer is no, 2 usage, 65 bad data, 66 missing input, 70 a fault of the
program, 73 cannot create a file, 74 reading or writing failed, 75 busy.

No medical advice: the official manual, your unit and licensed staff come first.
)";

constexpr std::string_view kScore = R"(  backplan score                 the candidate of this folder
  backplan score -C A-07         the one of the folder A-07
  backplan score --json          the same for another program

What the latest result in each event scores, the total, pass or fail by category and why, and what
the next row up of the scale takes. Points are of the age band on test day. Figures that rest on a
doubtful row of the scale are marked. Exit code 1 when the own category is failed.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kYield =
    R"(  backplan yield                 points that one more hour brings, best first
  backplan yield -C A-07 --json

For each kind of work and each event: the points on test day that another hour brings, once in the
coming week and in every week left.

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
    "results": [ { "date": "2026-12-01", "event": "MDL", "value": "170 lb", "setting": "practice" } ],
    "week": { "mon": 60, "tue": 60, "wed": 0, "thu": 60, "fri": 60, "sat": 45, "sun": 0 } }

Exit code 1 when the plan is not enough for the target or the pass at the asked confidence; the
nearest plan is written all the same, and the ways out are printed.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kExport =
    R"(  backplan export html -o plan.html           the whole plan as one page: open it, print it, send it
  backplan export ics -o plan.ics             days of training for a calendar
  backplan export csv -o plan.csv             one block of work a row
  backplan export xlsx -o plan.xlsx           the same, the weeks and the events as sheets
  backplan export html -C larch -o larch.html a squad's programme: the same command in a squad's folder

From plan.json, with the results and the journal beside it; in a folder with squad.json and no candidate.json
from programme.json. `backplan export html --help` and its fellows have more examples and the options.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kExportHtml =
    R"(  backplan export html -o plan.html           the whole plan as one page
  backplan export html --week 6 -o week6.html one week on one sheet of paper
  backplan export html -o - > plan.html       on standard output
  backplan export html -C larch --week 12 -o field.html
                                              a squad's week: mornings and personal sheets to print

The plan as one page that needs no network and runs no scripts: the answer first, then where the points
come from, how likely each total is, where the next points are cheapest, the weeks, and loads and results
over time. For a squad: how many would pass, who is at risk, the groups and their week, the weeks, then the
mornings from minute to minute and everybody's sheet for this week and the next. Light and dark, for phones
and for paper: in print a week is a page, and so is a squad's morning; personal sheets are several to a page.

Options: -o, --output FILE (- is standard output), --week N (this week alone, counted back from the test),
-C DIR, --as-of DATE, --json
)";

constexpr std::string_view kExportIcs =
    R"(  backplan export ics -o plan.ics             whole days
  backplan export ics --at 06:30 --alarms -o plan.ics
  backplan export ics -C larch --at 06:30 -o mornings.ics
  backplan export ics -C larch --person L-07 -o juniper.ics

Days of training for a calendar, and the test; for a squad the common mornings. The events stay the same
over re-plans: the same day has the same UID, a changed plan a higher SEQUENCE, a day without training any
more is cancelled. Calendar programs differ: some take the changes over, some make doubles; then remove the
old calendar and take the new file whole.

Options: -o, --output FILE (- is standard output), --at HH:MM (sessions begin then, wherever you are; without
it they are whole days), --alarms (half an hour before, or at six in the morning of a whole day), --person ID
(of a squad: this one's part, with the short extras at home), -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kExportCsv =
    R"(  backplan export csv -o plan.csv             one block of work a row
  backplan export csv --bom -o plan.csv       for spreadsheets that guess the charset
  backplan export csv -C larch -o larch.csv   a squad: one row a person and station, all the mornings

The plan as a table. A cell that a spreadsheet would run as a formula has an apostrophe in front.

Options: -o, --output FILE (- is standard output), --bom (a byte-order mark first), -C DIR, --as-of DATE,
--json
)";

constexpr std::string_view kExportXlsx =
    R"(  backplan export xlsx -o plan.xlsx           days, weeks and events as sheets of a workbook
  backplan export xlsx -C larch -o larch.xlsx a squad: week, personal sheets, risk list, groups, everything
  backplan export xlsx -C larch --week 8 -o week8.xlsx

The plan for a spreadsheet. Heads stay in view and are repeated in print. The first two sheets of a squad are
of this week and the next.

Options: -o, --output FILE (- is standard output), --week N (of a squad: the first two sheets are of this week,
counted back from the test), -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kReplan =
    R"(  backplan replan                          from today, by journal.jsonl and plan.json
  backplan replan -C A-07 --as-of 2026-12-20
  backplan replan --json                   what the log taught, the changes and their reasons

Reads candidate.json, journal.jsonl and plan.json, fits your response anew, plans the days ahead and writes
plan.json. Days that are over stay as they were. With no surprise the next three days stay too. Exit code 1
when the target or the pass is less likely than asked.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kShow = R"(  backplan show                      the week of today
  backplan show --today              today alone
  backplan show --date 2027-01-12    another day
  backplan show --week 6             the sixth week before the test
  backplan show --all                every week
  backplan show --assumptions        what the plan rests on, with sources

Reads plan.json.

Options: --week N, --date DATE, --today, --assumptions, --all (one of them); -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kLog =
    R"(  backplan log deadlift --set 5@155 --set 5@155 --set 4@165 --in-reserve 2
  backplan log intervals --distance 2mi --time 17:05 --hard
  backplan log push_up --set 20 --set 18 --minutes 20 --effort 7
  backplan log result HRP 31 --setting practice
  backplan log missed --reason duty --date 2027-01-11
  backplan log pain "lower back" --level 4
  backplan log void 01939b0a-5c00              that entry never happened
  backplan log replace 01939b0a-5c00 deadlift --set 5@145
  backplan log --list                          what stands, with ids
  backplan log import history.csv --dry-run    a whole history; without --dry-run it is added
  backplan log import run.fit                  a run from a watch: FIT, GPX or TCX
  backplan log import run.gpx --work tempo --distance 5km

Appends to journal.jsonl and answers what it understood and what that says of the event. Nothing is
ever changed or taken out: corrections are entries too. An id may be cut short to its first 8
characters or more, as long as only one entry begins so.

Work: the work kinds (deadlift, push_up, shuttle, trunk, intervals, tempo, easy_run, throw) and fixed
work (march, unit_run, unit_pt, circuit).
  --set REPS@LOAD   a set, once for each; a bare load is in the event's unit; REPS alone without load
  --in-reserve N    repetitions that were left: once for all sets, or once for each
  --hard            all out: a whole course, hold, throw or run that reads as a result
  --time            of the distance, the course or the longest hold: 17:05; --distance 2mi, 400m, 5km
  --effort N        1 to 10; --minutes N, of the session
Result: --setting record, practice, single, self or estimate; --first for a first-ever attempt.
Pain: --level 0 (gone) to 10, --night, --limp.
All: --date DATE (default: today), --note TEXT, --reason WHY for a missed day.

A load that fits what you have shown only in the other unit is asked about; --sure says it is right.
The columns of a history: date, kind, work, minutes, sets, in_reserve, distance, time, hard, effort,
event, value, setting, first, reason, where, level, night, limp, note; sets parted by "+". Importing a
file twice adds nothing twice.
Of a watch's file only day, distance and time are kept, never a position. It is an easy run unless --work
names another run or a fixed work; --date, --distance and --time set it right. A distance that had to be
reckoned from positions is asked about: --sure takes it. Pauses count where the run may read as a result:
with --hard, or from --effort 7 on.

Options: --date, --minutes, --set, --in-reserve, --distance, --time, --hard, --effort, --setting, --first,
  --reason, --level, --night, --limp, --note, --work, --list, --dry-run, --sure; -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kInit =
    R"(  backplan init                            asks for a dozen facts, checks each answer at once
  backplan init -C A-07                    in another folder, which is made if it is not there
  backplan init --defaults --test-date 2027-03-08 --birth-date 1998-04-17 --column female \
      --target 440 --result "MDL=190 lb" --result HRP=33 --result 2MR=18:05 --week "60 60 0 60 60 45 0"

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

constexpr std::string_view kTestDay =
    R"(  backplan testday                         one page: tries, pacing, splits, laps, warm-up, what to bring
  backplan testday --heat "29 C" --altitude "1800 m"
  backplan testday --aim 2MR=17:00 --aim HRP=40
  backplan testday --rest 5 --rest-before-last 10
  backplan testday -C A-07 --json

The forecast is that of plan.json; without a plan it is the level of today, by candidate.json and
journal.jsonl, held to the day. The tries of the lift are those that earn most points on average;
the others stand beside them. Clocks are for the forecast, or for what --aim asks.

  --heat T              WBGT at the time of the run, as the heat category is given: "29 C", "84 F".
                        It slows the run by published figures, and the sheet says by how much
  --altitude H          height of the place, "1800 m" or "5900 ft", for who comes up from low ground
  --aim EVENT=RESULT    clocks for this result; once for each event
  --rest MIN, --rest-before-last MIN
                        the rest between events and before the last one, where the standard does not
                        give it

Exit code 1 when there is no sheet, for a medical reason.

Options: --heat T, --altitude H, --aim EVENT=RESULT, --rest MIN, --rest-before-last MIN; -C DIR,
  --as-of DATE, --json
)";

constexpr std::string_view kStandard = R"(  backplan standard list
  backplan standard show us-army-aft
  backplan standard show us-army-aft --event 2MR --column female
  backplan standard check run.csv --standard us-army-aft --event 2MR --column female
  backplan standard import run.csv --standard us-army-aft --event 2MR --column female

The official tests, where each row of their scales comes from, and the way to put the rows of an
official table in the place of weaker ones. `backplan standard import --help` says more.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kStandardList = R"(  backplan standard list
  backplan standard list --json

The standards built in and those in your own folder ($XDG_DATA_HOME/backplan/standards).

Options: --json
)";

constexpr std::string_view kStandardShow = R"(  backplan standard show us-army-aft
  backplan standard show us-army-aft --event 2MR --column female

Events, categories and protocol of a standard; with an event and a column its scale, each doubtful
row marked.

Options: --event E, --column C, --json
)";

constexpr std::string_view kStandardCheck =
    R"(  backplan standard check run.csv --standard us-army-aft --event 2MR --column female
  backplan standard check all.csv --standard us-army-aft

Reads a table as it stands in an official document (rows points, columns age bands; one file an
event and column), or the long form with the columns event,column,age_min,age_max,points,result,
and tells every fault. Writes nothing. Exit code 1 when there are faults.

Options: --standard ID, --event E, --column C, --json
)";

constexpr std::string_view kStandardImport =
    R"(  backplan standard import run.csv --standard us-army-aft --event 2MR --column female
  backplan standard import all.csv --standard us-army-aft
  backplan standard import run.csv --standard us-army-aft --event 2MR --column female --trust-file

Checks the table as `standard check` does and, only if it is whole and sound, puts its rows in the
place of weaker ones, in your own folder ($XDG_DATA_HOME/backplan/standards). With --trust-file it
also wins over published rows that it contradicts.

Options: --standard ID, --event E, --column C, --trust-file, --json
)";

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
  { "format": "backplan-squad/1", "id": "larch", "standard": "us-army-aft", "test_date": "2027-02-22",
    "mornings": { "mon": 70, "tue": 60, "wed": 60, "thu": 70, "fri": 60 },
    "equipment": { "hex_bars": 2, "sleds": 1, "kettlebell_pairs": 2 } }

  id,birth_date,column,results_date,MDL,HRP,SDC,PLK,2MR
  L-01,1999-02-11,male,2026-11-24,200 lb,24,2:18,1:55,21:40

Exit code 1 when somebody is less likely to pass than asked, or is referred.

Options: --pooling on|off (what the logs teach of all), -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadCheck = R"(  backplan squad check
  backplan squad check -C larch --json

Lists every problem of squad.json, roster.csv and journal.jsonl by file, line and column, and what was taken
where nothing is given. Exit code 1 when there is a problem.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadWeek = R"(  backplan squad week                      the week of today
  backplan squad week 8                    the eighth week before the test

Each common morning with who does what, and the short extras at home. Reads programme.json.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadMorning = R"(  backplan squad morning                   today
  backplan squad morning 2026-12-03        another day

Stations, who is where from minute to minute, loads and plates by bar, run groups by pace with the leader's
lap time. Reads programme.json.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadCard = R"(  backplan squad card L-07                 two weeks from today

One person's sheet: chances, weakest event, what to do when and on which lane, short extras at home, what is
done instead of forbidden work. Reads programme.json.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadLog = R"(  backplan squad log results.csv
  backplan squad log results.csv --dry-run

One row a person: id, date (default: today), setting, one column an event. Or one row an entry, with the
columns of `backplan log import`: work, sets, distance, time, reason (missed), where and level (pain). All rows
or none are added to journal.jsonl; what is there already is not added twice. A load that fits what the person
has shown only in the other unit is asked about; --sure says it is right.

Options: --dry-run, --sure, -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadReplan = R"(  backplan squad replan
  backplan squad replan --pooling off

The programme from today, by the roster as it is and the journal. Mornings that are over stay. Planned mornings
count as done unless an entry says otherwise. People change groups only when it pays; who moved, joined, left
or is tested on another day is named. Exit code as `backplan squad`.

Options: --pooling on|off, -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadExtract = R"(  backplan squad extract L-07              into the folder L-07
  backplan squad extract L-07 /media/moves/L-07

Writes candidate.json and journal.jsonl of one person: a folder for `backplan plan`, or for `squad take` of
another unit. The roster stays as it is.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kSquadTake = R"(  backplan squad take ../other/L-07

Adds the person of that folder to roster.csv, and what the journal there says to journal.jsonl. From then on
the squad's mornings and kit are the person's.

Options: -C DIR, --as-of DATE, --json
)";

constexpr std::string_view kBatch = R"(  backplan batch < candidates.jsonl > outlooks.jsonl
  backplan batch --jobs 4 --as-of 2026-12-07 < candidates.jsonl

One candidate a line, as in candidate.json; one line of JSON out for each, in the same order:
{"id", "outlook", "time"}, or {"id", "error"} ("id" is null where the line cannot be read). The
number of jobs changes nothing in the output. No proof and no ways out. Exit code 0 when every line
was answered.

Options: --jobs N (1 to 64, default 1), --as-of DATE
)";

constexpr std::string_view kCompletion =
    R"(  backplan completion bash > ~/.local/share/bash-completion/completions/backplan
  backplan completion zsh > ~/.zfunc/_backplan    with ~/.zfunc in fpath, before compinit
  backplan completion fish > ~/.config/fish/completions/backplan.fish

A script that completes commands, options and some values. An installed package has it already.

Options: none of its own
)";

constexpr std::string_view kMan = R"(  backplan man | man -l -                  the page of the program
  backplan man standard import | man -l -  the page of a command
  backplan man --list                      the pages there are: file name, command

The man pages, made from the texts of --help. An installed package has them already.

Options: --list
)";

// What stands behind a line of the program's help that begins with the command, without its blanks.
std::string line_of(const std::string& command) {
  const std::string begin = "\n  backplan " + command + ' ';
  const std::string text = '\n' + std::string(kProgram);
  const std::size_t at = text.find(begin);
  if (at == std::string::npos) return {};
  const std::string line = text.substr(at + 1, text.find('\n', at + 1) - at - 1);
  const std::size_t gap = line.find("  ", begin.size() - 2);
  return gap == std::string::npos ? "" : line.substr(line.find_first_not_of(' ', gap));
}

}  // namespace

std::string summary_of(const std::string& command) {
  if (!command.empty()) {
    if (std::string line = line_of(command); !line.empty()) return line;
  }
  // The first sentence after the examples.
  std::string text(help_for(command));
  const std::size_t from = text.find("\n\n");
  text = from == std::string::npos ? text : text.substr(from + 2);
  text.resize(std::min(text.size(), text.find('.')));
  std::replace(text.begin(), text.end(), '\n', ' ');
  constexpr std::size_t kLongest = 80;  // then what its first part says is enough
  if (text.size() > kLongest) text.resize(std::min(text.size(), text.find_first_of(",(")));
  return text.substr(0, text.find_last_not_of(' ') + 1);
}

const std::vector<HelpText>& help_texts() {
  static const std::vector<HelpText> texts{
      {"", kProgram},
      {"init", kInit},
      {"score", kScore},
      {"yield", kYield},
      {"plan", kPlan},
      {"replan", kReplan},
      {"show", kShow},
      {"export", kExport},
      {"export html", kExportHtml},
      {"export ics", kExportIcs},
      {"export csv", kExportCsv},
      {"export xlsx", kExportXlsx},
      {"log", kLog},
      {"testday", kTestDay},
      {"standard", kStandard},
      {"standard list", kStandardList},
      {"standard show", kStandardShow},
      {"standard check", kStandardCheck},
      {"standard import", kStandardImport},
      {"squad", kSquad},
      {"squad check", kSquadCheck},
      {"squad week", kSquadWeek},
      {"squad morning", kSquadMorning},
      {"squad card", kSquadCard},
      {"squad log", kSquadLog},
      {"squad replan", kSquadReplan},
      {"squad extract", kSquadExtract},
      {"squad take", kSquadTake},
      {"batch", kBatch},
      {"completion", kCompletion},
      {"man", kMan},
  };
  return texts;
}

std::string_view help_for(std::string_view command) {
  for (const HelpText& help : help_texts()) {
    if (help.command == command) return help.text;
  }
  throw std::logic_error("a command without a help text");
}

}  // namespace backplan::cli
