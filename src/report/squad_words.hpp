// What the sheets of a squad say of points, and, of a standard that is passed or failed, of events passed and
// of each event's own results.
#pragma once

#include <string>
#include <vector>

#include "backplan/programme.hpp"
#include "report/names.hpp"

namespace backplan::report {

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

}  // namespace backplan::report
