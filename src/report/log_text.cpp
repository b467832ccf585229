#include "report/log_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <iterator>
#include <type_traits>

#include "backplan/strength.hpp"
#include "io/value_text.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr std::size_t kShortId = 13;  // a version 7 id's milliseconds
// 80 % of a normal distribution lie within so many standard deviations.
constexpr double kEighty = 1.2815515655446004;

std::string set_text(const LoggedSet& set, int times) {
  const std::string load = set.load ? " at " + set.load->as_typed : set.repetitions == 1 ? " rep" : " reps";
  const std::string many = times > 1 ? fmt::format("{}×", times) : "";
  const std::string left = set.in_reserve ? fmt::format(", {} left", *set.in_reserve) : "";
  return fmt::format("{}{}{}{}", many, set.repetitions, load, left);
}

// Equal sets that follow each other are told once.
std::string sets_text(const std::vector<LoggedSet>& sets) {
  std::string text;
  for (std::size_t i = 0; i < sets.size();) {
    std::size_t end = i;
    while (end < sets.size() && sets[end] == sets[i]) ++end;
    if (!text.empty()) text += "; ";
    text += set_text(sets[i], static_cast<int>(end - i));
    i = end;
  }
  return text;
}

std::string work_name(const std::string& id, const Names& names) {
  if (const FixedKind* kind = names.model.find_fixed(id)) return kind->name;
  return names.work(id);
}

std::string words_of(const WorkDone& work, const Names& names) {
  std::vector<std::string> parts;
  if (!work.sets.empty()) parts.push_back(sets_text(work.sets));
  if (work.distance && work.time) {
    parts.push_back(fmt::format("{} in {}", work.distance->as_typed, work.time->as_typed));
  } else if (work.distance) {
    parts.push_back(work.distance->as_typed);
  } else if (work.time) {
    parts.push_back(work.time->as_typed);
  }
  if (work.hard) parts.emplace_back("all out");
  if (work.minutes) parts.push_back(fmt::format("{} min", *work.minutes));
  if (work.effort) parts.push_back(fmt::format("effort {} of 10", *work.effort));
  const std::string name = work_name(work.work, names);
  return parts.empty() ? name : fmt::format("{}: {}", name, fmt::join(parts, "; "));
}

std::string words_of(const ResultDone& result, const Names& names) {
  return fmt::format("{}: {}, setting {}{}", names.event(result.event), result.value.as_typed,
                     to_string(result.setting), result.first ? ", first attempt" : "");
}

std::string words_of(const Missed& missed, const Names&) {
  return missed.reason.empty() ? "missed" : "missed: " + missed.reason;
}

std::string words_of(const Pain& pain, const Names&) {
  if (pain.level == 0) return fmt::format("pain, {}: gone", pain.where);
  return fmt::format("pain, {}: level {} of 10{}{}", pain.where, pain.level,
                     pain.at_night ? ", at night" : "", pain.limp ? ", with a limp" : "");
}

std::string note_text(const std::string& note) { return note.empty() ? "" : fmt::format(" ({})", note); }

// What work of a kind must say to be read as a result of its event; the rules are those of `evidence_of`.
std::string what_a_reading_takes(const WorkKind& kind, const Event& event) {
  if (kind.running || kind.family == "pieces") {
    return fmt::format(
        "a distance of a quarter to four times its own with the time, all out or from effort {}",
        kTellingEffort);
  }
  if (kind.family == "lift")
    return fmt::format("sets with loads, of at most {:.0f} repetitions to failure", kMostRepetitions);
  if (kind.family == "press") return "sets";
  if (event.unit == Unit::repetition) return "the most in one set, all out";
  if (event.unit != Unit::second) return "the distance, all out";
  return event.distance ? "its distance and the time, all out" : "the whole of it with the time, all out";
}

std::string training_only_text(const WorkDone& work, const Names& names) {
  const std::string text = "counts as training only";
  const WorkKind* kind = names.model.find_work(work.work);
  const Event* event = kind == nullptr ? nullptr : event_read_from(*kind, names.standard);
  if (event == nullptr) return text;
  return fmt::format("{}; a reading of the {} takes {}", text, names.event(event->id),
                     what_a_reading_takes(*kind, *event));
}

}  // namespace

std::string deed_text(const Deed& deed, const Names& names) {
  return printable(std::visit([&names](const auto& one) { return words_of(one, names); }, deed));
}

ReadingRange range_of(const Evidence& reading, const Names& names) {
  const Event* event = names.standard.find_event(reading.event);
  const Direction direction = event == nullptr ? Direction::more_is_better : event->direction;
  return {result_of(reading.v, direction), result_of(reading.v - kEighty * reading.sd, direction),
          result_of(reading.v + kEighty * reading.sd, direction)};
}

std::string reading_text(const Evidence& reading, const Names& names) {
  const Event* event = names.standard.find_event(reading.event);
  const EventModel* model = event == nullptr ? nullptr : names.model.find_event(event->model_event);
  const bool counted = event != nullptr && event->unit == Unit::repetition;
  // What is counted is called as the test calls it: "push-ups" in one, "hand-release push-ups" in another.
  const std::string what = counted            ? event->name + "s"
                           : model == nullptr ? reading.event
                                              : model->milestone_word;
  const ReadingRange range = range_of(reading, names);
  const std::string result = names.estimate(reading.event, range.result);
  const bool timed = event != nullptr && event->direction == Direction::less_is_better;
  const char* at_least = !reading.lower_bound ? "" : timed ? "or faster" : "or more";
  std::string text =
      counted ? fmt::format("reads as {}", result) : fmt::format("reads as a {} of {}", what, result);
  if (reading.lower_bound) text += fmt::format(" {}", at_least);
  if (counted) text += fmt::format(" {}", what);
  if (reading.lower_bound) return text;
  // The smaller figure first, as people say it.
  const double first = std::min(range.low, range.high);
  const double last = std::max(range.low, range.high);
  return text + fmt::format(", 8 in 10 between {} and {}", names.estimate(reading.event, first),
                            names.estimate(reading.event, last));
}

std::string says_text(const Done& done, const Names& names) {
  if (const auto reading = evidence_of(done, names.standard, names.model)) {
    return fmt::format("  {}\n", reading_text(*reading, names));
  }
  const auto* work = std::get_if<WorkDone>(&done.what);
  return work == nullptr ? "" : wrap(training_only_text(*work, names), kPageWidth, "    ", "  ");
}

std::vector<std::string> stop_notices(const std::vector<PainStop>& stops, const Names& names, JournalOf of) {
  std::vector<std::string> out;
  for (const PainStop& stop : stops) {
    if (stop.emergency) out.emplace_back("STOP: this may be an emergency. Stop now and get emergency care.");
    std::vector<std::string> work;
    for (const std::string& id : stop.work) work.push_back(work_name(id, names));
    out.push_back(fmt::format("Off because of pain ({}; {}, since {}): {}.", printable(stop.region), stop.why,
                              short_date(stop.since), fmt::join(work, ", ")));
    if (stop.refers) out.emplace_back("See licensed medical staff before any of this is done again.");
    const std::string where = printable(stop.region);
    out.push_back(
        of == JournalOf::one
            ? fmt::format(
                  "It stays off until `backplan log pain \"{}\" --level 0` says that the pain is gone.",
                  where)
            : fmt::format(
                  "It stays off until `backplan squad log` takes a row with where \"{}\" and level 0.",
                  where));
  }
  return out;
}

std::string stops_text(const std::vector<PainStop>& stops, const Names& names, JournalOf of) {
  std::string text;
  for (const std::string& notice : stop_notices(stops, names, of)) text += wrap(notice, kPageWidth, "  ", "");
  return text;
}

std::string short_id(const std::string& id, const std::vector<std::string>& ids) {
  std::size_t length = std::min(kShortId, id.size());
  const auto lengthen = [&](const std::string& other) {
    while (length < id.size() && other.compare(0, length, id, 0, length) == 0) ++length;
  };
  // Of sorted ids the neighbours begin most alike.
  const auto range = std::equal_range(ids.begin(), ids.end(), id);
  if (range.first != ids.begin()) lengthen(*std::prev(range.first));
  if (range.second != ids.end()) lengthen(*range.second);
  return id.substr(0, length);
}

std::string list_text(const std::vector<Done>& entries, const Names& names) {
  if (entries.empty()) return "nothing is logged\n";
  std::vector<std::string> ids;
  for (const Done& done : entries) ids.push_back(done.id);
  std::sort(ids.begin(), ids.end());
  std::string text;
  for (const Done& done : entries) {
    const std::string first = fmt::format("{}  {}  ", short_id(done.id, ids), io::say_date(done.date));
    text += wrap(deed_text(done.what, names) + printable(note_text(done.note)), kPageWidth, "    ", first);
    if (const auto reading = evidence_of(done, names.standard, names.model)) {
      text += wrap(reading_text(*reading, names), kPageWidth, "      ", "    ");
    }
  }
  return text;
}

}  // namespace backplan::report
