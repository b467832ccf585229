// The commands: one function each, given what it may use. Exit codes as session.hpp and the README list them.
#pragma once

#include <optional>
#include <string>

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

// Appends to journal.jsonl what was done, or a correction; lists what stands; imports a history.
[[nodiscard]] int log(const Session& session, const LogOptions& options);

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
