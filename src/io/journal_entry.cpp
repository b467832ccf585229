// From a JSON object to an entry that can be true: every key known, every figure possible.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <utility>

#include "io/candidate_parts.hpp"
#include "io/journal_json.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr std::size_t kLongestValue = 40;
// Nobody has run 100 m in much under 9.6 s, and 2 km/h is slower than any walk.
constexpr double kFastestMetresASecond = 10.5;
constexpr double kSlowestMetresASecond = 0.55;

// Loads and times are read as results of an event with this range.
Event measured(const char* name, Unit unit, double least, double most) {
  Event event;
  event.id = name;
  event.unit = unit;
  event.resolution = 1.0;
  event.least_plausible = least;
  event.most_plausible = most;
  return event;
}

Event load_in(Unit unit) {
  constexpr double kMostPounds = 1200.0;  // no lift of this kind reached it
  const bool kilograms = unit == Unit::kilogram;
  return measured("a set", kilograms ? Unit::kilogram : Unit::pound, 1.0,
                  kilograms ? to_kilograms(Pounds(kMostPounds)).value() : kMostPounds);
}

Event time_of_work() {
  constexpr double kDay = 24.0 * 3600.0;
  return measured("a session", Unit::second, 1.0, kDay);
}

// A value as text or as a bare number, in the event's unit.
std::optional<Typed<double>> value_at(const JsonCursor& cursor, const Event& event) {
  Reading<double> reading;
  std::string typed;
  if (cursor.is_number()) {
    const double figure = cursor.number(-1e300, 1e300).value_or(0.0);
    typed = fmt::format("{}", figure);
    reading = read_result(figure, event);
  } else {
    const auto text = label_at(cursor, kLongestValue);
    if (!text) return std::nullopt;
    typed = *text;
    reading = read_result(*text, event);
  }
  if (!reading.value) {
    cursor.fault(std::move(reading.problem), std::move(reading.hint));
    return std::nullopt;
  }
  return Typed<double>{*reading.value, std::move(typed)};
}

bool is_bare(std::string_view text) { return read_decimal(text).has_value(); }

// The unit in which this kind's loads are written when none is given: that of the event it trains.
Unit load_unit(const std::string& work, const EntryContext& context) {
  const WorkKind* kind = context.model.find_work(work);
  if (kind == nullptr) return Unit::pound;
  for (const Event& event : context.standard.events) {
    if (event.model_event == kind->trains && event.unit == Unit::kilogram) return Unit::kilogram;
  }
  return Unit::pound;
}

std::optional<Typed<Pounds>> load_at(const JsonCursor& cursor, Unit unit) {
  auto value = value_at(cursor, load_in(unit));
  if (!value) return std::nullopt;
  const bool kilograms = unit == Unit::kilogram;
  if (is_bare(value->as_typed)) value->as_typed += kilograms ? " kg" : " lb";
  const Pounds load = kilograms ? to_pounds(Kilograms(value->value)) : Pounds(value->value);
  return Typed<Pounds>{load, std::move(value->as_typed)};
}

std::optional<double> reserve_at(const JsonCursor& cursor) {
  const auto number = cursor.number(0.0, kMostReserve);
  if (!number) return std::nullopt;
  const double halves = *number * 2.0;
  if (halves == static_cast<double>(static_cast<int>(halves))) return number;
  cursor.fault(fmt::format("expected whole or half repetitions, found {}", *number), "round it");
  return std::nullopt;
}

std::vector<LoggedSet> sets_at(const JsonCursor& list, Unit unit) {
  std::vector<LoggedSet> sets;
  for (const JsonCursor& cursor : entries_at(list, kMostSets)) {
    if (!cursor.is_object()) {
      cursor.allow_only({});
      continue;
    }
    cursor.allow_only({"reps", "load", "in_reserve"});
    LoggedSet set;
    set.repetitions = cursor.required("reps").integer(1, kMostRepetitions).value_or(0);
    if (const JsonCursor load = cursor.optional("load"); load.exists()) set.load = load_at(load, unit);
    if (const JsonCursor left = cursor.optional("in_reserve"); left.exists())
      set.in_reserve = reserve_at(left);
    sets.push_back(std::move(set));
  }
  return sets;
}

std::optional<Typed<Metres>> run_distance_at(const JsonCursor& cursor) {
  const auto distance = distance_at(cursor);
  if (!distance) return std::nullopt;
  if (!(distance->value() > 0.0)) {
    cursor.fault("the distance is nothing", "take it out, or write what was covered");
    return std::nullopt;
  }
  return Typed<Metres>{*distance, cursor.text().value_or("")};
}

void judge_speed(const JsonCursor& root, const WorkDone& work, const EntryContext& context) {
  const WorkKind* kind = context.model.find_work(work.work);
  if (kind == nullptr || !kind->running || !work.distance || !work.time) return;
  const double speed = work.distance->value.value() / work.time->value.value();
  if (speed <= kFastestMetresASecond && speed >= kSlowestMetresASecond) return;
  const bool fast = speed > kFastestMetresASecond;
  root.optional("time").fault(fmt::format("{} in {} is {}", work.distance->as_typed, work.time->as_typed,
                                          fast ? "faster than anybody runs" : "slower than a walk"),
                              "check distance, time and their units");
}

std::vector<std::string> work_words(const Model& model) {
  std::vector<std::string> words;
  for (const WorkKind& kind : model.work) words.push_back(kind.id);
  for (const FixedKind& kind : model.fixed) words.push_back(kind.id);
  return words;
}

bool flag_at(const JsonCursor& root, std::string_view key) {
  const JsonCursor cursor = root.optional(key);
  return cursor.exists() && cursor.boolean().value_or(false);
}

std::string text_at(const JsonCursor& root, std::string_view key, std::size_t most) {
  const JsonCursor cursor = root.optional(key);
  return cursor.exists() ? label_at(cursor, most).value_or("") : std::string();
}

std::optional<int> integer_at(const JsonCursor& root, std::string_view key, int least, int most) {
  const JsonCursor cursor = root.optional(key);
  return cursor.exists() ? cursor.integer(least, most) : std::nullopt;
}

WorkDone work_at(const JsonCursor& root, const EntryContext& context) {
  constexpr int kMostEffort = 10;
  WorkDone work;
  work.work = root.required("work").one_of(work_words(context.model), "work").value_or("");
  work.minutes = integer_at(root, "minutes", 1, kMostWorkMinutes);
  if (const JsonCursor sets = root.optional("sets"); sets.exists()) {
    work.sets = sets_at(sets, load_unit(work.work, context));
  }
  if (const JsonCursor distance = root.optional("distance"); distance.exists()) {
    work.distance = run_distance_at(distance);
  }
  if (const JsonCursor time = root.optional("time"); time.exists()) {
    if (const auto value = value_at(time, time_of_work())) {
      work.time = Typed<Seconds>{Seconds(value->value), value->as_typed};
    }
  }
  work.hard = flag_at(root, "hard");
  work.effort = integer_at(root, "effort", 1, kMostEffort);
  judge_speed(root, work, context);
  return work;
}

Setting setting_at(const JsonCursor& cursor) {
  if (!cursor.exists()) return Setting::practice;
  const auto word = cursor.word({"record", "practice", "single", "self", "estimate"});
  for (const Setting one : {Setting::record, Setting::single, Setting::self, Setting::estimate}) {
    if (word && to_string(one) == *word) return one;
  }
  return Setting::practice;
}

ResultDone result_at(const JsonCursor& root, const EntryContext& context) {
  ResultDone result;
  std::vector<std::string> ids;
  for (const Event& event : context.standard.events) ids.push_back(event.id);
  const auto event = root.required("event").one_of(ids, "event");
  const JsonCursor value = root.required("value");
  if (event) {
    result.event = *event;
    if (value.exists()) {
      if (auto typed = value_at(value, *context.standard.find_event(*event)))
        result.value = *std::move(typed);
    }
  }
  result.setting = setting_at(root.optional("setting"));
  result.first = flag_at(root, "first");
  return result;
}

Pain pain_at(const JsonCursor& root) {
  constexpr int kMostLevel = 10;
  Pain pain;
  if (const JsonCursor where = root.required("where"); where.exists()) {
    pain.where = label_at(where, kMostPlaceLength).value_or("");
  }
  pain.level = root.required("level").integer(0, kMostLevel).value_or(0);
  pain.at_night = flag_at(root, "night");
  pain.limp = flag_at(root, "limp");
  if (pain.level == 0 && (pain.at_night || pain.limp)) {
    root.optional("level").fault("level 0 means that the pain is gone",
                                 "give the level, or leave out night and limp");
  }
  return pain;
}

std::optional<std::string> id_at(const JsonCursor& cursor) {
  const auto text = cursor.text();
  if (!text || is_id(*text)) return text;
  cursor.fault(fmt::format("\"{}\" is no id", text->substr(0, kLongestValue)),
               "an id is a UUID in lower case, such as 01939b0a-5c00-7000-8000-000000000000");
  return std::nullopt;
}

// The keys of the deeds; those that every entry has come before them.
void allow_keys(const JsonCursor& root, const std::string& deed, bool replaces) {
  if (deed == "work" && replaces) {
    root.allow_only({"id", "date", "kind", "of", "as", "work", "minutes", "sets", "distance", "time", "hard",
                     "effort", "note", "batch"});
  } else if (deed == "work") {
    root.allow_only({"id", "date", "kind", "work", "minutes", "sets", "distance", "time", "hard", "effort",
                     "note", "batch"});
  } else if (deed == "result" && replaces) {
    root.allow_only(
        {"id", "date", "kind", "of", "as", "event", "value", "setting", "first", "note", "batch"});
  } else if (deed == "result") {
    root.allow_only({"id", "date", "kind", "event", "value", "setting", "first", "note", "batch"});
  } else if (deed == "missed" && replaces) {
    root.allow_only({"id", "date", "kind", "of", "as", "reason", "note", "batch"});
  } else if (deed == "missed") {
    root.allow_only({"id", "date", "kind", "reason", "note", "batch"});
  } else if (deed == "pain" && replaces) {
    root.allow_only({"id", "date", "kind", "of", "as", "where", "level", "night", "limp", "note", "batch"});
  } else if (deed == "pain") {
    root.allow_only({"id", "date", "kind", "where", "level", "night", "limp", "note", "batch"});
  } else {
    root.allow_only({"id", "date", "kind", "of", "note", "batch"});
  }
}

Deed deed_at(const JsonCursor& root, const std::string& deed, const EntryContext& context) {
  if (deed == "work") return work_at(root, context);
  if (deed == "result") return result_at(root, context);
  if (deed == "pain") return pain_at(root);
  return Missed{text_at(root, "reason", kMostReasonLength)};
}

void read_what(const JsonCursor& root, const std::string& kind, const EntryContext& context, Entry& entry) {
  if (kind == "void" || kind == "replace") {
    const std::string of = id_at(root.required("of")).value_or("");
    if (kind == "void") {
      allow_keys(root, kind, false);
      entry.what = Void{of};
      return;
    }
    const auto as = root.required("as").word({"work", "result", "missed", "pain"});
    if (!as) return;
    allow_keys(root, *as, true);
    entry.what = Replace{of, deed_at(root, *as, context)};
    return;
  }
  allow_keys(root, kind, false);
  std::visit([&entry](auto&& deed) { entry.what = std::forward<decltype(deed)>(deed); },
             deed_at(root, kind, context));
}

}  // namespace

std::optional<Entry> read_entry(const JsonCursor& root, const EntryContext& context) {
  if (!root.is_object()) {
    root.allow_only({});
    return std::nullopt;
  }
  // Faults of this entry alone, so that one fault does not condemn what the caller has read before.
  const std::size_t before = root.faults_so_far();
  Entry entry;
  entry.id = id_at(root.required("id")).value_or("");
  entry.date = date_at(root.required("date")).value_or(Date());
  if (const JsonCursor batch = root.optional("batch"); batch.exists())
    entry.batch = id_at(batch).value_or("");
  entry.note = text_at(root, "note", kMostNoteLength);
  const auto kind = root.required("kind").word({"work", "result", "missed", "pain", "void", "replace"});
  if (kind) read_what(root, *kind, context, entry);
  if (root.faults_so_far() > before) return std::nullopt;
  return entry;
}

}  // namespace backplan::io
