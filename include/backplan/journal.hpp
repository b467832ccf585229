// What was really done: the entries of a journal and what stands after its corrections.
// docs/journal.md; journal.jsonl is read by io/journal_reader, which has refused everything impossible.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/result.hpp"
#include "backplan/units.hpp"

namespace backplan {

// A figure in its unit with the text that was typed ("70 kg", "2mi", "17:05"), so that the journal keeps it.
template <class T>
struct Typed {
  T value{};
  std::string as_typed;
  friend bool operator==(const Typed&, const Typed&) = default;
};

struct LoggedSet {
  int repetitions = 0;
  std::optional<Typed<Pounds>> load;  // none: without a load (push-ups)
  std::optional<double> in_reserve;   // repetitions that were left
  friend bool operator==(const LoggedSet&, const LoggedSet&) = default;
};

// A session of one work kind, or of a fixed work (march, unit run).
struct WorkDone {
  std::string work;
  std::optional<int> minutes;
  std::vector<LoggedSet> sets;
  std::optional<Typed<Metres>> distance;
  std::optional<Typed<Seconds>> time;  // over the distance; of a whole rehearsal; of the longest hold
  bool hard = false;                   // all out, or a full rehearsal of the event
  std::optional<int> effort;           // 1 to 10
  friend bool operator==(const WorkDone&, const WorkDone&) = default;
};

struct ResultDone {
  std::string event;
  Typed<double> value;  // in the event's unit
  Setting setting = Setting::practice;
  bool first = false;  // a first-ever attempt
  friend bool operator==(const ResultDone&, const ResultDone&) = default;
};

// A day on which nothing of what was planned was done.
struct Missed {
  std::string reason;  // may be empty
  friend bool operator==(const Missed&, const Missed&) = default;
};

struct Pain {
  std::string where;
  int level = 0;  // 0 (gone) to 10
  bool at_night = false;
  bool limp = false;
  friend bool operator==(const Pain&, const Pain&) = default;
};

using Deed = std::variant<WorkDone, ResultDone, Missed, Pain>;

// The entry `of` never happened.
struct Void {
  std::string of;  // an id
  friend bool operator==(const Void&, const Void&) = default;
};

// The entry `of` was really this.
struct Replace {
  std::string of;  // an id
  Deed by;
  friend bool operator==(const Replace&, const Replace&) = default;
};

struct Entry {
  std::string id;  // UUID in lower case
  Date date;       // of the deed; of a void: when it was written
  std::variant<WorkDone, ResultDone, Missed, Pain, Void, Replace> what;
  std::string note;
  std::string batch;  // id of the import it came with; empty: logged by itself
  int line = 0;       // in the file; 0: not from a file
};

// Whether two entries say the same; the line does not count, nor does the import that brought them.
[[nodiscard]] bool same_content(const Entry& a, const Entry& b);

// In the order of the file. Unreadable lines, entries after today and unfinished imports are left out,
// each with a warning.
struct Journal {
  std::string file;  // for messages
  std::vector<Entry> entries;
  Diagnostics warnings;
};

// An entry that stands: what was done on a day, after all corrections.
struct Done {
  std::string id;  // of the entry that says so; a replacement has its own
  Date date;
  Deed what;
  std::string note;
  int line = 0;
};

// The entries that stand, by date and id, so that the order of the lines does not matter. Of several
// corrections of one entry the one with the greatest id (the latest) counts. An entry stands unless a
// correction names it; voiding a replacement does not bring the replaced entry back.
// `faults` (warnings, with file and line): corrections of an unknown id, of a void, in a circle, or
// contradicting each other; one id for two different entries. What is named there does not count.
struct Standing {
  std::vector<Done> entries;
  Diagnostics faults;
};
[[nodiscard]] Standing effective(const Journal& journal);

// The results among them, with their dates.
[[nodiscard]] std::vector<DatedResult> results_in(const std::vector<Done>& entries);

// Where pain was, as data/model/rules.json knows places of the body, and which work it takes off.
struct PainRegion {
  std::string id;                  // "lower leg"
  std::vector<std::string> words;  // any of them in `where` means this region
  std::vector<std::string> stops;  // work kinds
  int stops_from = 4;              // level that stops them at once
  bool watched = false;            // lasting pain under that level stops them too
  bool emergency = false;          // at any level: stop everything, emergency care
};

struct PainRules {
  int refer_from = 4;               // level that takes the work off and refers to licensed staff
  int watch_from = 2;               // level that counts as lasting, in watched regions,
  int watch_entries = 3;            // on so many days,
  int watch_days = 7;               // or over so many days; at night or with a limp at once
  std::vector<PainRegion> regions;  // in order; the first whose word is in `where` counts
  // By work kind: what may stand in for it while it is off, best first.
  std::map<std::string, std::vector<std::string>> substitutes;
};

// Work that is off because of pain, from `since` until an entry says that the place is at level 0.
struct PainStop {
  std::string region;  // its id; the words typed where no region is known
  Date since;
  int level = 0;                  // the highest since then
  std::vector<std::string> work;  // kinds; every kind where the place is unknown or an emergency
  bool refers = false;            // to licensed staff
  bool emergency = false;
  std::string why;  // "level 5 of 10", "level 2 or more on three days"
};

// The stops that hold on `day`, emergencies first, then by region. `all_work`: the ids of every work kind.
[[nodiscard]] std::vector<PainStop> pain_stops(const std::vector<Done>& entries, const PainRules& rules,
                                               const std::vector<std::string>& all_work, Date day);

}  // namespace backplan
