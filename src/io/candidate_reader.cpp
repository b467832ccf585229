#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "backplan/printable.hpp"
#include "io/candidate_parts.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"

namespace backplan::io {

namespace {

std::string count_of(int count, std::string_view thing) {
  return fmt::format("{} {}{}", count, thing, count == 1 ? "" : "s");
}

void read_identity(const JsonCursor& root, const CandidateContext& context, Candidate& candidate) {
  static_cast<void>(root.required("format").word({"backplan-candidate/1"}));  // only the fault matters
  if (const auto id = label_at(root.required("id"), kMostIdLength)) candidate.id = *id;
  if (const auto column = root.required("column").one_of(context.standard.columns, "column")) {
    candidate.column = *column;
  }
  static_cast<void>(root.required("standard").one_of({context.standard.id}, "standard"));
  candidate.standard = context.standard.id;
  std::vector<std::string> categories;
  for (const Category& category : context.standard.categories) categories.push_back(category.id);
  const JsonCursor category = root.optional("category");
  if (category.exists()) {
    candidate.category = category.one_of(categories, "category").value_or("");
  } else if (!categories.empty()) {
    candidate.category = categories.front();
    candidate.defaulted.push_back(fmt::format("category not given: taken as {}", candidate.category));
  }
}

void read_choices(const JsonCursor& root, Candidate& candidate) {
  const JsonCursor background = root.optional("background");
  if (!background.exists()) {
    candidate.defaulted.emplace_back("background not given: taken as regular");
  } else if (const auto word = background.word({"new", "regular", "long"})) {
    candidate.background = *word == "new"    ? Background::new_to_training
                           : *word == "long" ? Background::long_trained
                                             : Background::regular;
  }
  const JsonCursor aim = root.optional("aim");
  if (!aim.exists()) {
    candidate.defaulted.emplace_back("aim not given: taken as target");
  } else if (const auto word = aim.word({"target", "highest"})) {
    candidate.aim = *word == "highest" ? Aim::highest : Aim::target;
  }
  const JsonCursor home = root.optional("home_blocks");
  if (!home.exists()) {
    candidate.defaulted.emplace_back("home_blocks not given: taken as 0");
  } else if (const auto blocks = home.integer(0, kMostHomeBlocks)) {
    candidate.home_blocks = *blocks;
  }
}

// The test day, between today and two years ahead.
std::optional<Date> read_test_date(const JsonCursor& root, const CandidateContext& context) {
  const JsonCursor cursor = root.required("test_date");
  const auto date = date_at(cursor);
  if (!date) return std::nullopt;
  if (*date < context.as_of && context.over == TestOver::refused) {
    cursor.fault(fmt::format("the test on {} is in the past; today is taken as {}", say_date(*date),
                             say_date(context.as_of)),
                 "correct the date of the test, or give --as-of an earlier day");
    return std::nullopt;
  }
  if (*date > context.as_of + Days(kMostDaysAhead)) {
    cursor.fault(fmt::format("the test on {} is more than two years away", say_date(*date)),
                 "check the year; plan for a nearer test");
    return std::nullopt;
  }
  return date;
}

// The age on the test day, if the standard scores it.
std::optional<int> read_age(const JsonCursor& root, const CandidateContext& context,
                            std::optional<Date> test_date, Candidate& candidate) {
  const JsonCursor cursor = root.required("birth_date");
  const auto birth = date_at(cursor);
  if (!birth) return std::nullopt;
  candidate.birth_date = *birth;
  if (*birth > context.as_of) {
    cursor.fault(fmt::format("the birth date {} is in the future", write_date(*birth)), "check the year");
    return std::nullopt;
  }
  if (!test_date) return std::nullopt;
  const int age = age_on(*birth, *test_date);
  if (age < kYoungestAge) {
    cursor.fault(fmt::format("{} old on the day of the test; expected at least {}", count_of(age, "year"),
                             kYoungestAge),
                 "check the year of birth");
    return std::nullopt;
  }
  if (!context.standard.band_of(age)) {
    cursor.fault(
        fmt::format("{} does not score an age of {} on the day of the test", context.standard.id, age),
        "check the year of birth");
    return std::nullopt;
  }
  return age;
}

// A test without a scale for this person could not be planned for.
bool require_scales(const JsonCursor& root, const CandidateContext& context, int age,
                    const Candidate& candidate) {
  const Category* category = context.standard.find_category(candidate.category);
  if (category == nullptr || candidate.column.empty()) return false;
  for (const Event& event : context.standard.events) {
    if (context.standard.scale_for(event, candidate.column, age, *category) != nullptr) continue;
    root.optional("column").fault(
        fmt::format("{} has no scale of {} for column {} at age {}, category {}", context.standard.id,
                    event.id, candidate.column, age, category->id),
        "choose another column or category, or complete the standard");
    return false;
  }
  return true;
}

void read_diagnostics(const JsonCursor& root, const CandidateContext& context, std::optional<Date> test_date,
                      Candidate& candidate) {
  for (const JsonCursor& entry : entries_at(root.optional("diagnostics"), kMostSpells)) {
    const auto date = date_at(entry);
    if (!date) continue;
    if (test_date && *date >= *test_date) {
      entry.fault(fmt::format("the diagnostic test on {} is not before the test on {}", say_date(*date),
                              say_date(*test_date)),
                  "give a day between today and the test");
    } else if (std::count(candidate.diagnostics.begin(), candidate.diagnostics.end(), *date) > 0) {
      entry.fault(fmt::format("the diagnostic test on {} stands here twice", say_date(*date)),
                  "keep one of the two");
    } else if (*date < context.as_of) {
      // The file stays valid while its days go by; only what is left is planned.
      candidate.defaulted.push_back(
          fmt::format("the diagnostic test on {} is over: not planned", say_date(*date)));
    } else {
      candidate.diagnostics.push_back(*date);
    }
  }
  std::sort(candidate.diagnostics.begin(), candidate.diagnostics.end());
}

void read_person(const JsonCursor& root, const CandidateContext& context, Candidate& candidate) {
  read_identity(root, context, candidate);
  const auto test_date = read_test_date(root, context);
  if (test_date) candidate.test_date = *test_date;
  const auto age = read_age(root, context, test_date, candidate);
  read_choices(root, candidate);
  read_target(root, context, candidate);
  if (age && require_scales(root, context, *age, candidate)) judge_target(root, context, *age, candidate);
  read_diagnostics(root, context, test_date, candidate);
}

}  // namespace

std::optional<Date> date_at(const JsonCursor& cursor) {
  const auto text = cursor.text();
  if (!text) return std::nullopt;
  Reading<Date> reading = read_date(*text);
  if (!reading.value) cursor.fault(std::move(reading.problem), std::move(reading.hint));
  return reading.value;
}

std::optional<Metres> distance_at(const JsonCursor& cursor) {
  std::optional<std::string> text;
  if (cursor.is_number()) {
    text = fmt::format("{}", cursor.number(-1e300, 1e300).value_or(0.0));  // a question: no unit
  } else {
    text = cursor.text();
  }
  if (!text) return std::nullopt;
  Reading<Metres> reading = read_distance(*text);
  if (!reading.value) cursor.fault(std::move(reading.problem), std::move(reading.hint));
  return reading.value;
}

std::optional<std::string> label_fault(std::string_view text, std::size_t most) {
  if (!is_printable(text)) return "expected printable characters, found a control character";
  const auto length = static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;  // characters, not bytes
  }));
  if (length >= 1 && length <= most) return std::nullopt;
  return fmt::format("expected 1 to {} characters, found {}", most, length);
}

std::optional<std::string> label_at(const JsonCursor& cursor, std::size_t most) {
  auto text = cursor.text();
  if (!text) return std::nullopt;
  auto problem = label_fault(*text, most);
  if (!problem) return text;
  cursor.fault(*std::move(problem), "write a short text in one line");
  return std::nullopt;
}

std::string why_at(const JsonCursor& entry) {
  const JsonCursor why = entry.optional("why");
  return why.exists() ? label_at(why, kMostWhyLength).value_or("") : std::string();
}

std::vector<JsonCursor> entries_at(const JsonCursor& list, std::size_t most) {
  if (!list.exists()) return {};
  auto entries = list.items();
  if (entries.size() <= most) return entries;
  list.fault(fmt::format("{} entries; expected at most {}", entries.size(), most), "take the rest out");
  return {};
}

std::optional<int> weekday_at(const JsonCursor& cursor) {
  const auto word = cursor.word({"mon", "tue", "wed", "thu", "fri", "sat", "sun"});
  if (!word) return std::nullopt;
  const std::string_view days = "mon tue wed thu fri sat sun";
  return static_cast<int>(days.find(*word) / 4);
}

Result<std::string> peek_standard(std::string_view text, const std::string& file) {
  auto parsed = parse_json(text, file);
  if (!parsed.ok()) return parsed.faults();
  Diagnostics faults;
  const JsonCursor root(parsed.value(), faults);
  const auto standard = root.required("standard").text();
  if (!standard) return faults;
  return *standard;
}

Diagnostics placed_at_standard(std::string_view text, const std::string& file, const Diagnostics& faults) {
  const auto parsed = parse_json(text, file);
  if (!parsed.ok()) return parsed.faults();
  Diagnostics out;
  const JsonCursor cursor = JsonCursor(parsed.value(), out).optional("standard");
  for (const Diagnostic& fault : faults) {
    if (fault.file.empty()) {
      cursor.fault(fault.message, fault.hint);
    } else {
      out.push_back(fault);
    }
  }
  return out;
}

namespace {

// The latest day of each event among the results, however the rest of them is written: their faults are told
// when they are read. A day that cannot be read is the oldest.
std::map<std::string, Date> measured_events(const JsonCursor& root) {
  std::map<std::string, Date> out;
  if (!root.is_object() || !root.optional("results").is_array()) return out;
  for (const JsonCursor& one : root.optional("results").items()) {
    if (!one.is_object() || !one.optional("event").is_text()) continue;
    const auto id = one.optional("event").text();
    if (!id) continue;
    const auto day = one.optional("date").is_text() ? one.optional("date").text() : std::nullopt;
    const Date date = read_date(day.value_or("")).value.value_or(Date{});
    const auto [held, first] = out.try_emplace(*id, date);
    if (!first) held->second = std::max(held->second, date);
  }
  return out;
}

}  // namespace

Result<Standard> peek_choice(std::string_view text, const std::string& file, const Standard& standard) {
  auto parsed = parse_json(text, file);
  if (!parsed.ok()) return parsed.faults();
  Diagnostics faults;
  const JsonCursor root(parsed.value(), faults);
  const JsonCursor choose = root.is_object() ? root.optional("choose") : root;
  std::vector<std::string> alternates;
  std::map<std::string, std::string> group_of;
  for (const Event& event : standard.events) {
    if (event.choice.empty()) continue;
    alternates.push_back(event.id);
    group_of[event.id] = event.choice;
  }
  std::vector<std::string> chosen;
  std::map<std::string, std::string> by_group;
  if (root.is_object() && choose.exists()) {
    if (alternates.empty()) choose.fault(fmt::format("{} has no alternate events", standard.id), "remove it");
    for (const JsonCursor& one : alternates.empty() ? std::vector<JsonCursor>() : choose.items()) {
      const auto id = one.one_of(alternates, "alternate event");
      if (!id) continue;
      const auto [held, first] = by_group.try_emplace(group_of[*id], *id);
      if (!first) one.fault(fmt::format("{} and {} stand for each other", held->second, *id), "name one");
      chosen.push_back(*id);
    }
  }
  if (!faults.empty()) return faults;
  // What was measured last chooses where nothing is said; of one day, the first of the standard.
  const std::map<std::string, Date> measured = measured_events(root);
  std::stable_sort(alternates.begin(), alternates.end(), [&](const std::string& a, const std::string& b) {
    const auto one = measured.find(a);
    const auto other = measured.find(b);
    return one != measured.end() && (other == measured.end() || one->second > other->second);
  });
  for (const std::string& id : alternates) {
    if (measured.count(id) > 0 && by_group.try_emplace(group_of[id], id).second) chosen.push_back(id);
  }
  return with_choice(standard, chosen);
}

Result<Candidate> read_candidate(std::string_view text, const std::string& file, const Standard& standard,
                                 const Model& model, Date as_of, TestOver over) {
  auto parsed = parse_json(text, file);
  if (!parsed.ok()) return parsed.faults();
  Diagnostics faults;
  const JsonCursor root(parsed.value(), faults);
  if (!root.is_object()) {
    root.allow_only({});  // says what it is instead
    return faults;
  }
  root.allow_only({"format",    "id",          "birth_date",  "column", "standard",   "category",
                   "test_date", "diagnostics", "target",      "aim",    "background", "now",
                   "results",   "week",        "home_blocks", "days",   "fixed",      "blocked",
                   "equipment", "avoid",       "medical",     "choose"});
  const CandidateContext context{standard, model, as_of, over};
  Candidate candidate;
  read_person(root, context, candidate);
  read_now(root, candidate);
  read_results(root, context, candidate);
  read_week(root, candidate);
  read_days(root, candidate);
  read_fixed(root, context, candidate);
  read_blocked(root, candidate);
  read_avoid(root, context, candidate);
  read_equipment(root, candidate);
  read_medical(root, context, candidate);
  if (faults.empty()) return candidate;
  sort_by_place(faults);
  return faults;
}

}  // namespace backplan::io
