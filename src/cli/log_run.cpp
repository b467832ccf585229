#include "cli/log_run.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "backplan/evidence.hpp"
#include "io/value_text.hpp"
#include "io/watch_file.hpp"
#include "report/log_text.hpp"
#include "report/words.hpp"

namespace backplan::cli {
namespace {

std::string option(const LogOptions& options, const std::string& key) {
  const auto found = options.values.find(key);
  return found == options.values.end() ? std::string() : found->second;
}

bool is_hard(const LogOptions& options) {
  return std::find(options.flags.begin(), options.flags.end(), "hard") != options.flags.end();
}

// Whether the run may read as a result or a bound of one: all out, or from this effort on (docs/journal.md,
// "What is evidence"). A clock does not stop for a pause then.
bool may_be_evidence(const LogOptions& options) {
  constexpr double kTellingEffort = 7.0;
  return is_hard(options) || io::read_decimal(option(options, "effort")).value_or(0.0) >= kTellingEffort;
}

// Work that is done over a distance; a fixed work may be.
std::vector<std::string> recorded_work(const Model& model) {
  std::vector<std::string> known;
  for (const WorkKind& kind : model.work) {
    if (kind.running || kind.family == "pieces") known.push_back(kind.id);
  }
  for (const FixedKind& kind : model.fixed) known.push_back(kind.id);
  return known;
}

std::string known_work(const std::string& work, const Model& model) {
  const std::vector<std::string> known = recorded_work(model);
  if (std::find(known.begin(), known.end(), work) != known.end()) return work;
  const std::string hint = fmt::format("there are: {}", fmt::join(known, ", "));
  if (work.empty()) throw UsageError("it is not said which work this was: --work is missing", hint);
  throw UsageError(fmt::format("--work: \"{}\" is no work that a watch records", work), hint);
}

bool names_sport(const WorkKind& kind, const std::string& sport) {
  return std::any_of(kind.sports.begin(), kind.sports.end(),
                     [&](const std::string& part) { return sport.find(part) != std::string::npos; });
}

// What it was when nobody says: the work of the sport that the file names; else what data takes a run with
// the unit for, where that is trained.
std::string usual_work(const io::WatchRun& run, const Model& model) {
  const auto named = std::find_if(model.work.begin(), model.work.end(),
                                  [&](const WorkKind& kind) { return names_sport(kind, run.sport); });
  if (named != model.work.end()) return named->id;
  const auto with_unit = std::find_if(model.fixed.begin(), model.fixed.end(),
                                      [](const FixedKind& kind) { return kind.running; });
  const bool trained = with_unit != model.fixed.end() && model.find_work(with_unit->counts_as) != nullptr;
  return trained ? with_unit->counts_as : std::string();
}

// "12:00", "1:02:30".
std::string clock_text(Seconds time) {
  const long whole = std::lround(time.value());
  const long hours = whole / 3600;
  const long minutes = whole / 60 % 60;
  if (hours > 0) return fmt::format("{}:{:02}:{:02}", hours, minutes, whole % 60);
  return fmt::format("{}:{:02}", minutes, whole % 60);
}

std::string metres_text(Metres distance) { return fmt::format("{:.0f} m", distance.value()); }

std::string_view source_words(io::DistanceFrom from) {
  switch (from) {
    case io::DistanceFrom::total:
      return "the total that the watch recorded";
    case io::DistanceFrom::points:
      return "what the watch recorded at its last point";
    case io::DistanceFrom::positions:
      break;
  }
  return "reckoned from the positions, and so only near the truth";
}

std::string_view source_id(io::DistanceFrom from) {
  switch (from) {
    case io::DistanceFrom::total:
      return "total";
    case io::DistanceFrom::points:
      return "points";
    case io::DistanceFrom::positions:
      break;
  }
  return "positions";
}

// Which figures of the file are taken.
struct Figures {
  Figures(const io::WatchRun& run, const LogOptions& options)
      : given_time(option(options, "time")),
        given_distance(option(options, "distance")),
        with_pauses(may_be_evidence(options)),
        time(with_pauses ? run.elapsed : run.moving) {
    if (run.distance && run.distance->value() >= 0.5) distance = run.distance;  // less is none
  }
  [[nodiscard]] std::string time_text() const { return given_time.empty() ? clock_text(time) : given_time; }
  [[nodiscard]] std::string distance_text() const {
    if (!given_distance.empty()) return given_distance;
    return distance ? metres_text(*distance) : std::string();
  }

  std::string given_time, given_distance;
  bool with_pauses;
  Seconds time;
  std::optional<Metres> distance;
};

// Where the file names a sport, it is the one of this work.
std::optional<Diagnostic> doubt_of_sport(const io::WatchRun& run, const std::string& work, const Model& model,
                                         const std::string& file) {
  const WorkKind* kind = model.find_work(work);
  const bool on_foot = kind == nullptr || kind->sports.empty();
  if (on_foot ? run.on_foot : run.sport.empty() || names_sport(*kind, run.sport)) return std::nullopt;
  return Diagnostic{
      Severity::error,
      file,
      0,
      0,
      {},
      fmt::format("the file says that this was \"{}\", not a {}", run.sport, on_foot ? "run" : kind->name),
      on_foot ? "if it was on foot all the same, add --sure" : "if it was one all the same, add --sure"};
}

Diagnostics doubts_of(const io::WatchRun& run, const Figures& figures, const std::string& work,
                      const Model& model, const std::string& file) {
  Diagnostics faults;
  const auto fault = [&](std::string message, std::string hint) {
    faults.push_back({Severity::error, file, 0, 0, {}, std::move(message), std::move(hint)});
  };
  if (auto doubt = doubt_of_sport(run, work, model, file)) faults.push_back(*std::move(doubt));
  if (figures.given_distance.empty() && figures.distance &&
      run.distance_from == io::DistanceFrom::positions) {
    fault(fmt::format("the file gives no distance; its positions add up to {}, and such sums are noisy",
                      metres_text(*figures.distance)),
          "if that is near enough, add --sure; or give the true one, such as --distance 2mi");
  }
  return faults;
}

io::EntryWords words_of(const io::WatchRun& run, const Figures& figures, const LogOptions& options,
                        const std::string& work) {
  io::EntryWords words;
  words.fields = {{"kind", "work"},
                  {"work", work},
                  {"date", io::write_date(io::day_of(run))},
                  // One moment, one run: the same from another format of the file.
                  {"id", io::id_of_content(fmt::format("run begun at {}", run.start))},
                  {"minutes", fmt::format("{}", std::max(1L, std::lround(run.moving.value() / 60.0)))}};
  for (const char* key : {"date", "effort", "note"}) {
    if (options.values.count(key) > 0) words.fields[key] = option(options, key);
  }
  if (is_hard(options)) words.fields["hard"] = "true";
  if (!figures.distance_text().empty()) words.fields["distance"] = figures.distance_text();
  // A time is of a distance; without one the minutes say it.
  if (!figures.distance_text().empty()) words.fields["time"] = figures.time_text();
  return words;
}

std::string time_note(const io::WatchRun& run, const Figures& figures) {
  if (!figures.given_time.empty()) return fmt::format("time: {}, as given", figures.given_time);
  const std::string other = clock_text(figures.with_pauses ? run.moving : run.elapsed);
  if (other == figures.time_text()) return fmt::format("time: {}, no pauses", figures.time_text());
  return figures.with_pauses
             ? fmt::format("time: {}, from start to end ({} without the pauses)", figures.time_text(), other)
             : fmt::format("time: {}, without the pauses ({} from start to end)", figures.time_text(), other);
}

std::string distance_note(const io::WatchRun& run, const Figures& figures) {
  if (!figures.given_distance.empty()) return fmt::format("distance: {}, as given", figures.given_distance);
  if (!figures.distance) return "distance: none in the file; --distance 2mi gives it";
  return fmt::format("distance: {}, {}", metres_text(*figures.distance), source_words(run.distance_from));
}

std::string day_note(const io::WatchRun& run, const LogOptions& options) {
  if (options.values.count("date") > 0) return fmt::format("day: {}, as given", option(options, "date"));
  const char* clock = run.utc_offset_s ? "on the clock of the place"
                                       : "UTC; if it was another day where you ran, give --date";
  return fmt::format("begun: {}, {} {}", io::say_date(io::day_of(run)), io::clock_of(run), clock);
}

std::string notes_of(const io::WatchRun& run, const Figures& figures, const LogOptions& options,
                     const Entry& entry, const JournalDesk& desk) {
  std::string text = fmt::format("  read from {}; no position is kept\n", to_string(run.format));
  for (const std::string& note :
       {day_note(run, options), distance_note(run, figures), time_note(run, figures)}) {
    text += report::wrap(note, report::kPageWidth, "    ", "  ");
  }
  return text + report::says_text(as_done(entry), desk.names());
}

io::Json json_of(const io::WatchRun& run, const Figures& figures) {
  io::Json json;
  json["format"] = std::string(to_string(run.format));
  json["start_utc_s"] = run.start;
  json["elapsed_s"] = run.elapsed.value();
  json["moving_s"] = run.moving.value();
  json["distance_m"] = run.distance ? io::Json(std::round(run.distance->value())) : io::Json(nullptr);
  json["distance_from"] = !figures.given_distance.empty() ? io::Json("given")
                          : !figures.distance             ? io::Json(nullptr)
                                              : io::Json(std::string(source_id(run.distance_from)));
  json["time_from"] = !figures.given_time.empty() ? "given" : figures.with_pauses ? "elapsed" : "moving";
  return json;
}

}  // namespace

Result<ImportedRun> read_run(std::string_view bytes, const std::string& file, const LogOptions& options,
                             const JournalDesk& desk) {
  const Model& model = desk.files().model;
  std::string work = option(options, "work");
  if (options.values.count("work") > 0) work = known_work(work, model);
  const auto read = io::read_watch_file(bytes, file);
  if (!read.ok()) return read.faults();
  const io::WatchRun& run = read.value();
  if (options.values.count("work") == 0) work = known_work(usual_work(run, model), model);
  const Figures figures(run, options);
  if (!options.sure) {
    const Diagnostics doubts = doubts_of(run, figures, work, model, file);
    if (!doubts.empty()) return doubts;
  }
  const auto entry = io::read_entry_words(words_of(run, figures, options, work), desk.context());
  if (!entry.ok()) {
    Diagnostics faults = entry.faults();
    for (Diagnostic& fault : faults) {
      fault.file = file;
      if (fault.field != "minutes") continue;
      fault.message = fmt::format("it lasts {:.0f} minutes; an entry holds 1 to {}",
                                  run.moving.value() / 60.0, io::kMostWorkMinutes);
      fault.hint = "log it by hand, as several entries";
    }
    return faults;
  }
  ImportedRun imported;
  imported.row = {entry.value(), 0};
  imported.notes = notes_of(run, figures, options, entry.value(), desk);
  imported.json = json_of(run, figures);
  return imported;
}

void require_table_options(const LogOptions& options) {
  std::vector<std::string> given;
  for (const auto& [key, value] : options.values) given.push_back("--" + key);
  for (const std::string& key : options.flags) given.push_back("--" + key);
  if (given.empty()) return;
  throw UsageError(fmt::format("{} goes with the file of a watch, not with a table", given.front()),
                   "write it into the rows of the table");
}

}  // namespace backplan::cli
