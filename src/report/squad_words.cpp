#include "report/squad_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/value_text.hpp"
#include "report/squad_view.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

// An event passed counts one: what an hour adds to the sum is what it adds to the chance.
std::string likelier(double chance) {
  constexpr double kHundred = 100.0, kHalf = 0.5;
  const double hundredths = kHundred * chance;
  return hundredths < kHalf ? "under 1 in 100" : fmt::format("{:.0f} in 100", hundredths);
}

std::string event_line(const EventOutlook& event, const Names& names) {
  const auto text = [&](double result) { return names.estimate(event.event, result); };
  std::string line = fmt::format(
      "{}: today {}{}; on test day {}, 8 in 10 between {} and {}", names.event(event.event),
      event.now_result ? text(*event.now_result) : "not known", event.measured ? "" : " (a guess)",
      text(event.test_day_result), text(event.test_day_low80), text(event.test_day_high80));
  // Of a single event the chance is that of the whole test.
  if (names.standard.events.size() > 1)
    line += fmt::format("; would pass it: {}", say_chance(event.p_minimum));
  return line + ".";
}

}  // namespace

const char* passing_words(const Standard& standard) {
  return has_pass_marks(standard) ? "would pass" : "would be on every scale";
}

const char* failing_words(const Standard& standard) {
  return has_pass_marks(standard) ? "Expected to fail" : "Expected below a scale";
}

std::string mean_words(const Programme& programme, const Names& names) {
  const TotalOutlook& mean = programme.outlook.mean;
  if (names.standard.pass_or_fail)
    return fmt::format("Events passed on test day: about {:.1f} of {} a person.", mean.mean,
                       names.standard.events.size());
  const auto rare = std::count_if(programme.people.begin(), programme.people.end(), [](const Person& person) {
    return is_planned(person) && !total_note(person.outlook.p_on_scale).empty();
  });
  std::string words = fmt::format("Mean total on test day: about {}, 8 in 10 between {} and {}.",
                                  say_points(mean.mean), say_points(mean.low80), say_points(mean.high80));
  if (rare > 0)
    words += fmt::format(
        " A total counts only test days with every event on its scale; for {} these are not nearly all.",
        rare == 1 ? "1 person" : fmt::format("{} people", rare));
  return words;
}

std::string squad_test_words(const Programme& programme, Date from) {
  std::string words = fmt::format("test on {} ({})", io::say_date(programme.test_date),
                                  weeks_until(from, programme.test_date));
  const Date last = last_test(programme);
  if (last != programme.test_date)
    words += fmt::format(", the last make-up test on {} ({})", io::say_date(last), weeks_until(from, last));
  return words;
}

std::string not_counted_words(const Programme& programme) {
  int referred = 0;
  int done = 0;
  for (const Person& person : programme.people) {
    if (!person.refused.empty()) ++referred;
    if (person.done) ++done;
  }
  std::string words;
  if (referred > 0) words += fmt::format(" {} referred to medical staff", referred);
  if (done > 0) words += fmt::format("{} {} tested already", words.empty() ? "" : " and", done);
  return words.empty() ? words : words + ": not counted.";
}

std::string done_words(const Person& person) {
  return fmt::format("the own test was on {}: nothing is planned any more", io::say_date(person.test_date));
}

std::string pooled_name(const PooledEvent& pooled, const Names& names) {
  std::string text;
  for (const Event& known : names.standard.events) {
    if (known.model_event == pooled.event) text += (text.empty() ? "" : ", ") + names.event(known.id);
  }
  return text.empty() ? pooled.event : text;
}

std::string week_words(const Programme& programme, int index) {
  const Date last = last_test(programme);
  if (last == programme.test_date) return fmt::format("Week {} before the test", index);
  return fmt::format("Week {} before the last test, on {}", index, io::say_date(last));
}

std::string chance_words(const Person& person, const Names& names) {
  const char* passing = has_pass_marks(names.standard) ? "Would pass" : "Would be on every scale";
  const std::string chance = fmt::format("{}: {}.", passing, say_chance(1.0 - person.p_fail));
  if (names.standard.pass_or_fail)
    return names.standard.events.size() == 1
               ? chance
               : fmt::format("{} Events passed: about {}.", chance, passed_words(person, names));
  const double on_scale = person.outlook.p_on_scale;
  const std::string note = total_note(on_scale);
  return fmt::format("{} Total {}.{}", chance, say_total(person.outlook.total, on_scale),
                     note.empty() ? "" : ' ' + note);
}

std::vector<std::string> event_lines(const Person& person, const Names& names) {
  std::vector<std::string> lines;
  if (names.standard.pass_or_fail) {
    for (const EventOutlook& event : person.outlook.events) lines.push_back(event_line(event, names));
  } else if (person.weakest) {
    lines.push_back(fmt::format("Weakest event: {}, {} {}.", names.event(person.weakest->event),
                                has_pass_marks(names.standard) ? "its minimum" : "on its scale",
                                say_chance(person.weakest->p_minimum)));
  }
  return lines;
}

std::string worth_words(const Cheapest& cheapest, const Names& names) {
  if (names.standard.pass_or_fail)
    return fmt::format("{} likelier by {}", cheapest.event, likelier(cheapest.points_per_hour));
  return fmt::format("{:.1f} points in {}", cheapest.points_per_hour, cheapest.event);
}

std::string worth_sentence(const Cheapest& cheapest, const Names& names) {
  const std::string event = names.event(cheapest.event);
  if (names.standard.pass_or_fail)
    return fmt::format("makes a pass in {} likelier by about {}", event, likelier(cheapest.points_per_hour));
  return fmt::format("brings about {:.1f} points in {}", cheapest.points_per_hour, event);
}

std::string passed_words(const Person& person, const Names& names) {
  return fmt::format("{:.1f} of {}", person.outlook.total.mean, names.standard.events.size());
}

std::string results_words(const Person& person, const Names& names) {
  std::string text;
  for (const EventOutlook& event : person.outlook.events)
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", event.event,
                        names.estimate(event.event, event.test_day_result));
  return text;
}

}  // namespace backplan::report
