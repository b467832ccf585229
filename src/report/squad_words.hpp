// What the sheets of a squad say of points, and, of a standard that is passed or failed, of events passed and
// of each event's own results.
#pragma once

#include <string>
#include <vector>

#include "backplan/programme.hpp"
#include "report/names.hpp"

namespace backplan::report {

// What the chances of a squad are of: "would pass", "Expected to fail"; without any pass mark they are of
// results on the scale of every event.
[[nodiscard]] const char* passing_words(const Standard& standard);
[[nodiscard]] const char* failing_words(const Standard& standard);

// "Mean total on test day: about 412, 8 in 10 between 377 and 447."; "Events passed on test day: about 2.7 of
// 4 a person."
[[nodiscard]] std::string mean_words(const Programme& programme, const Names& names);
// "Would pass: 8 in 10. Total about 432, 8 in 10 between 401 and 462."
[[nodiscard]] std::string chance_words(const Person& person, const Names& names);
// Below it: the weakest event; of a pass-or-fail standard each event with its results today and on test day.
[[nodiscard]] std::vector<std::string> event_lines(const Person& person, const Names& names);

// What one more hour a week brings: "3.2 points in HRP"; "HRP likelier by 5 in 100".
[[nodiscard]] std::string worth_words(const Cheapest& cheapest, const Names& names);
// "brings about 3.2 points in hand-release push-up (HRP)", and the same of a chance.
[[nodiscard]] std::string worth_sentence(const Cheapest& cheapest, const Names& names);

// The expected number of events passed, "2.7 of 4"; each event on test day, "RUSHES 0:49, LIFT 3:05".
[[nodiscard]] std::string passed_words(const Person& person, const Names& names);
[[nodiscard]] std::string results_words(const Person& person, const Names& names);

// "test on Mon 22 Feb 2027 (in 3 weeks)"; with the last one where somebody's own is later.
[[nodiscard]] std::string squad_test_words(const Programme& programme, Date from);
// " 2 referred to medical staff: not counted."; empty where all are.
[[nodiscard]] std::string not_counted_words(const Programme& programme);
// Of somebody whose own test is over.
[[nodiscard]] std::string done_words(const Person& person);
// The events of the standard that a pooled row is of.
[[nodiscard]] std::string pooled_name(const PooledEvent& pooled, const Names& names);
// "Week 3 before the test"; "the last test" where the squad's own is not the last.
[[nodiscard]] std::string week_words(const Programme& programme, int index);

}  // namespace backplan::report
