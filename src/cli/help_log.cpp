#include "cli/help_parts.hpp"

namespace backplan::cli {
namespace {

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
  backplan log import run.fit                  a run, row, swim or ride from a watch: FIT, GPX, TCX
  backplan log import run.gpx --work tempo --distance 5km

Appends to journal.jsonl and answers what it understood and what that says of the event. Nothing is
ever changed or taken out: corrections are entries too. An id may be cut short to its first 8
characters or more, as long as only one entry begins so.

Work: the work kinds (deadlift, push_up, shuttle, trunk, intervals, tempo, easy_run, throw) and
fixed work (march, unit_run, unit_pt, circuit).
  --set REPS@LOAD   a set, once for each; a bare load is in the event's unit; REPS without load
  --in-reserve N    repetitions that were left: once for all sets, or once for each
  --hard            all out: a whole course, hold, throw, run, row, swim or ride that is a result
  --time            of the distance, the course, the longest hold: 17:05; --distance 2mi, 400m, 5km
  --effort N        1 to 10; --minutes N, of the session
Result: --setting record, practice, single, self or estimate; --first for a first-ever attempt.
Pain: --level 0 (gone) to 10, --night, --limp.
All: --date DATE (default: today), --note TEXT, --reason WHY for a missed day.

A load that fits what you have shown only in the other unit is asked about; --sure says it is right.
The columns of a history: date, kind, work, minutes, sets, in_reserve, distance, time, hard, effort,
event, value, setting, first, reason, where, level, night, limp, note; sets parted by "+". Importing
a file twice adds nothing twice. Of a watch's file only day, distance and time are kept, never a
position. It is an easy run, or the row, swim or ride that the file calls it where you train for
one, unless --work names another; --date, --distance and --time set it right. A distance that had to
be reckoned from positions is asked about: --sure takes it. Pauses count where it may read as a
result: with --hard, or from --effort 7 on.

Options: --date, --minutes, --set, --in-reserve, --distance, --time, --hard, --effort, --setting,
  --first, --reason, --level, --night, --limp, --note, --work, --list, --dry-run, --sure; -C DIR,
  --as-of DATE, --json
)";

constexpr std::string_view kTestDay =
    R"(  backplan testday                         one page: tries, pacing, splits, warm-up, what to bring
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

}  // namespace

std::vector<HelpText> log_help() {
  return {
      {"log", kLog},
      {"testday", kTestDay},
  };
}

}  // namespace backplan::cli
