// What a candidate wants and what was measured: target, results, present training.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "backplan/score.hpp"
#include "io/candidate_parts.hpp"
#include "io/value_text.hpp"

namespace backplan::io {

namespace {

constexpr double kMostPoints = 100'000.0;  // of any test; the scales decide after that
constexpr double kTenthSlack = 1e-6;       // a JSON number with one decimal is this near to its tenths

std::vector<std::string> event_ids(const Standard& standard) {
  std::vector<std::string> ids;
  for (const Event& event : standard.events) ids.push_back(event.id);
  return ids;
}

// Points, whole or with one decimal.
std::optional<Points> points_at(const JsonCursor& cursor) {
  const auto number = cursor.number(0.0, kMostPoints);
  if (!number) return std::nullopt;
  const double tenths = std::floor(*number * 10.0 + 0.5);
  if (std::fabs(*number * 10.0 - tenths) > kTenthSlack) {
    cursor.fault(fmt::format("expected points with at most one decimal, found {}", *number), "round it");
    return std::nullopt;
  }
  return Points::from_tenths(static_cast<std::int32_t>(tenths));
}

void read_confidence(const JsonCursor& target, std::string_view key, double& value, Candidate& candidate) {
  const JsonCursor cursor = target.optional(key);
  if (!cursor.exists()) {
    candidate.defaulted.push_back(fmt::format("target.{} not given: taken as {}", key, value));
    return;
  }
  const auto number = cursor.number(0.0, 100.0);
  if (!number) return;
  if (*number > kLeastConfidence && *number < kMostConfidence) {
    value = *number;
    return;
  }
  const bool percent = *number > 100.0 * kLeastConfidence && *number < 100.0 * kMostConfidence;
  cursor.fault(
      fmt::format("expected a number above {} and below {}, found {}", kLeastConfidence, kMostConfidence,
                  *number),
      percent ? fmt::format("did you mean {}?", *number / 100.0) : std::string("0.8 is 8 times in 10"));
}

void read_event_targets(const JsonCursor& events, const CandidateContext& context, Target& target) {
  if (!events.exists()) return;
  const auto ids = event_ids(context.standard);
  for (const auto& [id, cursor] : events.members()) {
    if (context.standard.find_event(id) == nullptr) {
      const auto nearest = nearest_word(id, ids);
      cursor.fault(fmt::format("{} has no event \"{}\"; expected one of {}", context.standard.id, id,
                               fmt::join(ids, ", ")),
                   nearest ? fmt::format("did you mean \"{}\"?", *nearest) : std::string());
    } else if (const auto points = points_at(cursor)) {
      target.events[id] = *points;
    }
  }
}

Setting setting_of(const std::string& word) {
  for (const Setting setting : {Setting::record, Setting::single, Setting::self, Setting::estimate}) {
    if (to_string(setting) == word) return setting;
  }
  return Setting::practice;
}

// The value in the event's unit; the text as typed is kept beside it.
bool read_value(const JsonCursor& cursor, const Event& event, DatedResult& result) {
  constexpr std::size_t kLongestValue = 40;
  Reading<double> reading;
  if (cursor.is_number()) {
    const double figure = cursor.number(-1e300, 1e300).value_or(0.0);
    result.as_typed = fmt::format("{}", figure);
    reading = read_result(figure, event);
  } else {
    const auto text = label_at(cursor, kLongestValue);
    if (!text) return false;
    result.as_typed = *text;
    reading = read_result(*text, event);
  }
  if (!reading.value) {
    cursor.fault(std::move(reading.problem), std::move(reading.hint));
    return false;
  }
  result.value = *reading.value;
  return true;
}

std::optional<Date> read_past_date(const JsonCursor& cursor, const CandidateContext& context,
                                   const Candidate& candidate) {
  const auto date = date_at(cursor);
  if (!date) return std::nullopt;
  if (*date > context.as_of) {
    cursor.fault(fmt::format("a result of {} lies in the future; today is taken as {}", say_date(*date),
                             say_date(context.as_of)),
                 "correct the date, or give --as-of a later day");
    return std::nullopt;
  }
  const bool birth_known = candidate.birth_date != Date();  // it may have been a fault itself
  if (birth_known && *date <= candidate.birth_date) {
    cursor.fault(fmt::format("a result of {} is not after the birth date", say_date(*date)),
                 "check the year");
    return std::nullopt;
  }
  return date;
}

// What the entries leave out and how often.
struct LeftOut {
  int settings = 0;
  bool any_first = false;
};

std::optional<DatedResult> read_entry(const JsonCursor& entry, const CandidateContext& context,
                                      const Candidate& candidate, LeftOut& left_out) {
  if (!entry.is_object()) {
    entry.allow_only({});
    return std::nullopt;
  }
  entry.allow_only({"date", "event", "value", "setting", "first"});
  DatedResult result;
  const auto date = read_past_date(entry.required("date"), context, candidate);
  const JsonCursor event_at = entry.required("event");
  const auto alternate = [&](const Event& event) { return event_at.exists() && event_at.text() == event.id; };
  const auto& others = context.standard.not_chosen;
  if (event_at.is_text() && std::any_of(others.begin(), others.end(), alternate)) return std::nullopt;
  const auto id = event_at.one_of(event_ids(context.standard), "event");
  const JsonCursor value = entry.required("value");
  const bool valued = id && value.exists() && read_value(value, *context.standard.find_event(*id), result);
  const JsonCursor setting = entry.optional("setting");
  if (!setting.exists()) {
    ++left_out.settings;
  } else if (const auto word = setting.word({"record", "practice", "single", "self", "estimate"})) {
    result.setting = setting_of(*word);
  }
  const JsonCursor first = entry.optional("first");
  if (first.exists()) {
    left_out.any_first = true;
    result.first = first.boolean().value_or(false);
  }
  if (!date || !valued) return std::nullopt;
  result.date = *date;
  result.event = *id;
  return result;
}

std::string tops_in_words(const Standard& standard) {
  return fmt::format("the most that the {} events of {} give", standard.events.size(), standard.id);
}

// An event's top row in points for this person.
using Tops = std::vector<std::pair<std::string, Points>>;

Tops top_points(const CandidateContext& context, int age, const Candidate& candidate) {
  Tops tops;
  const Category& category = *context.standard.find_category(candidate.category);
  for (const Event& event : context.standard.events) {
    const Scale* scale = context.standard.scale_for(event, candidate.column, age, category);
    tops.emplace_back(event.id, scale->rows().back().points);
  }
  return tops;
}

}  // namespace

void read_target(const JsonCursor& root, const CandidateContext& context, Candidate& candidate) {
  const JsonCursor cursor = root.required("target");
  if (!cursor.exists()) return;
  cursor.allow_only({"total", "each", "events", "confidence", "pass_confidence"});
  if (!cursor.is_object()) return;
  Target& target = candidate.target;
  const JsonCursor total = cursor.optional("total");
  const JsonCursor each = cursor.optional("each");
  const JsonCursor events = cursor.optional("events");
  if (total.exists()) target.total = points_at(total);
  if (each.exists()) target.each = points_at(each);
  read_event_targets(events, context, target);
  const bool no_event = !events.exists() || (events.is_object() && events.members().empty());
  if (!total.exists() && !each.exists() && no_event) {
    cursor.fault("the target names nothing to reach", "give \"total\", \"each\" or \"events\"");
  }
  read_confidence(cursor, "confidence", target.confidence, candidate);
  read_confidence(cursor, "pass_confidence", target.pass_confidence, candidate);
}

void judge_target(const JsonCursor& root, const CandidateContext& context, int age,
                  const Candidate& candidate) {
  const JsonCursor cursor = root.optional("target");
  const Target& target = candidate.target;
  const Tops tops = top_points(context, age, candidate);
  const Points most = total_of(context.standard, tops);
  if (target.total && *target.total > most) {
    cursor.optional("total").fault(fmt::format("a total of {} is over {}, {}", to_string(*target.total),
                                               to_string(most), tops_in_words(context.standard)),
                                   fmt::format("ask for {} or less", to_string(most)));
  }
  for (const auto& [event, top] : tops) {
    if (target.each && *target.each > top) {
      cursor.optional("each").fault(fmt::format("{} points in each event are over {}, the most that {} gives",
                                                to_string(*target.each), to_string(top), event),
                                    fmt::format("ask for {} or less", to_string(top)));
    }
    const auto own = target.events.find(event);
    if (own == target.events.end() || own->second <= top) continue;
    cursor.optional("events").optional(event).fault(
        fmt::format("{} points are over {}, the most that {} gives", to_string(own->second), to_string(top),
                    event),
        fmt::format("ask for {} or less", to_string(top)));
  }
}

void read_results(const JsonCursor& root, const CandidateContext& context, Candidate& candidate) {
  const JsonCursor list = root.required("results");
  if (list.is_array() && list.items().empty()) {
    list.fault("no result is given", "add at least one: a date, an event and a value");
  }
  LeftOut left_out;
  const auto entries = entries_at(list, kMostResults);
  for (const JsonCursor& entry : entries) {
    if (auto result = read_entry(entry, context, candidate, left_out)) {
      candidate.results.push_back(*std::move(result));
    }
  }
  // A full order: the plan must not depend on the order in which results were written down.
  const auto order = [](const DatedResult& r) {
    return std::tie(r.date, r.event, r.setting, r.value, r.as_typed, r.first);
  };
  std::sort(candidate.results.begin(), candidate.results.end(),
            [&](const DatedResult& a, const DatedResult& b) { return order(a) < order(b); });
  if (left_out.settings > 0) {
    candidate.defaulted.push_back(fmt::format("setting of {} result{} not given: taken as practice",
                                              left_out.settings, left_out.settings == 1 ? "" : "s"));
  }
  if (!entries.empty() && !left_out.any_first) {
    candidate.defaulted.emplace_back("no result is marked as a first attempt: none is taken as one");
  }
}

void read_now(const JsonCursor& root, Candidate& candidate) {
  const JsonCursor now = root.optional("now");
  if (!now.exists()) return;
  now.allow_only({"hard_sessions", "minutes", "longest_run"});
  const JsonCursor sessions = now.optional("hard_sessions");
  const JsonCursor minutes = now.optional("minutes");
  const JsonCursor run = now.optional("longest_run");
  if (sessions.exists()) candidate.now.hard_sessions = sessions.integer(0, kMostHardSessions);
  if (minutes.exists()) candidate.now.minutes = minutes.integer(0, 7 * kMostSlotMinutes);
  if (run.exists()) candidate.now.longest_run = distance_at(run);
}

}  // namespace backplan::io
