// The commands: one function each, given what it may use. Exit codes as session.hpp and the README list them.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "backplan/units.hpp"
#include "cli/log_words.hpp"
#include "cli/session.hpp"

namespace backplan::cli {

// What the latest result in each event scores. Exit 1 when the candidate's category fails.
[[nodiscard]] int score(const Session& session);

// Where the next points are cheapest.
[[nodiscard]] int yield(const Session& session);

// Writes plan.json and prints the plan. Exit 1 when it is not enough.
[[nodiscard]] int plan(const Session& session);

// Refits by the journal, plans the days ahead anew, writes plan.json. Exit 1 when it is not enough.
[[nodiscard]] int replan(const Session& session);

struct ShowOptions {
  enum class Part { week, day, assumptions, all };
  Part part = Part::week;
  std::optional<int> week;   // counted back from the test; none: the week of the session's date
  std::optional<Date> date;  // of Part::day; none: the session's date
};
// Part of plan.json.
[[nodiscard]] int show(const Session& session, const ShowOptions& options);

struct ExportOptions {
  enum class Kind { html, ics, csv, xlsx };
  Kind kind = Kind::html;
  std::string file;           // "-": standard output
  std::optional<int> week;    // html: this week alone; xlsx of a squad: the week of the first two sheets
  std::string person;         // ics of a squad: the id of the one whose calendar it is; empty: all
  std::optional<int> starts;  // ics: minutes after midnight; none: whole days
  bool alarms = false;        // ics
  bool mark = false;          // csv: a byte-order mark first
};
// plan.json as a page, a calendar or a spreadsheet; in a squad's folder programme.json.
[[nodiscard]] int export_plan(const Session& session, const ExportOptions& options);

// Appends to journal.jsonl what was done, or a correction; lists what stands; imports a history.
[[nodiscard]] int log(const Session& session, const LogOptions& options);

// The options of `testday` as typed; the command reads them, since results are in the standard's units.
struct TestDayOptions {
  std::string heat;                    // WBGT: "28 C"
  std::string altitude;                // of the place: "1800 m"
  std::string rest, rest_before_last;  // minutes
  std::vector<std::string> aims;       // "2MR=17:00"
};
// The sheet for the day of the test. Exit 1 when there is none, for medical reasons.
[[nodiscard]] int testday(const Session& session, const TestDayOptions& options);

// The facts of a new candidate as typed, by the names of the options without "--".
struct InitOptions {
  std::map<std::string, std::string> values;
  std::vector<std::string> results;  // "MDL=190 lb"
  bool defaults = false;             // asks nothing
};
// Asks for the facts that no option gave, checks each answer at once, writes candidate.json. Never writes
// over one.
[[nodiscard]] int init(const Session& session, const InitOptions& options);

// The script that completes the command line in bash, zsh or fish.
[[nodiscard]] int completion(const Session& session, const std::string& shell);

struct ManOptions {
  std::vector<std::string> words;  // of the command; none: the program
  bool list = false;               // of a page a line its name and its command
};
// A man page.
[[nodiscard]] int man(const Session& session, const ManOptions& options);

struct StandardOptions {
  std::string id;
  std::string file;
  std::string event;
  std::string column;
  bool trust_file = false;  // the file wins over published rows that it contradicts
};
[[nodiscard]] int standard_list(const Session& session);
[[nodiscard]] int standard_show(const Session& session, const StandardOptions& options);
// Exit 1 when faults were found.
[[nodiscard]] int standard_check(const Session& session, const StandardOptions& options);
// Writes the checked rows into the user's data folder.
[[nodiscard]] int standard_import(const Session& session, const StandardOptions& options);

struct SquadOptions {
  std::optional<bool> pooling;  // none: as squad.json says
  std::optional<int> week;      // counted back from the test; none: the week of the session's date
  std::optional<Date> date;     // of a morning; none: the session's date
  std::string word;             // a file, an id or a folder, by the command
  std::string folder;           // where `extract` puts the person; empty: a folder named after the id
  bool dry_run = false;
  bool sure = false;  // a load in an odd unit is right
};
// Writes programme.json and prints the programme. Exit 1 when somebody is under the asked confidence.
[[nodiscard]] int squad(const Session& session, const SquadOptions& options);
// Every problem of squad.json, roster.csv and journal.jsonl. Exit 1 when there is one.
[[nodiscard]] int squad_check(const Session& session);
// Parts of programme.json.
[[nodiscard]] int squad_week(const Session& session, const SquadOptions& options);
[[nodiscard]] int squad_morning(const Session& session, const SquadOptions& options);
[[nodiscard]] int squad_card(const Session& session, const SquadOptions& options);
// Appends the results of many people to journal.jsonl, all of them or none.
[[nodiscard]] int squad_log(const Session& session, const SquadOptions& options);
// The programme from today anew; groups change only when it pays.
[[nodiscard]] int squad_replan(const Session& session, const SquadOptions& options);
// One person's own folder, made or taken in.
[[nodiscard]] int squad_extract(const Session& session, const SquadOptions& options);
[[nodiscard]] int squad_take(const Session& session, const SquadOptions& options);

struct BatchOptions {
  int jobs = 1;
};
// Candidates as JSON Lines from standard input, one line of JSON out for each.
[[nodiscard]] int batch(const Session& session, const BatchOptions& options);

}  // namespace backplan::cli
