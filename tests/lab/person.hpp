// An invented candidate: what the planner may know, and what it may not.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/planner.hpp"
#include "lab/response.hpp"

namespace backplan::lab {

// What goes wrong between the plan, the day and the journal.
struct Ways {
  double misses = 0.0;                                // of the planned days, besides illness
  double forgets = 0.0;                               // to write, of the days
  double overstates = 0.0;                            // of the minutes done
  std::optional<Date> ill_from, ill_to;               // both inclusive
  std::map<std::string, double> setting, conversion;  // by event, in standard deviations of the model's
};

struct Person {
  std::uint64_t seed = 0;
  Candidate candidate;
  Date begins;
  std::vector<Response> events;                         // in the order of the standard
  std::vector<std::map<std::string, double>> transfer;  // by event: stimulus of a block of each kind
  Ways ways;

  void pass(const std::map<std::string, double>& stimulus);  // one day, by work kind
};

// The same seed gives the same person with any minutes: only the week differs.
[[nodiscard]] Person draw_person(std::uint64_t seed, Family family, int minutes, const Knowledge& knowledge);

// Numbers for one purpose on one day: every policy meets the same luck.
enum class Purpose { fate, work, measuring, test_day };
[[nodiscard]] std::uint64_t luck(std::uint64_t seed, Purpose purpose, long day);

// The model with the transfer and the marks of this person's truth, for who knows them.
[[nodiscard]] Model true_model(const Model& model, const Person& person, const Standard& standard);

}  // namespace backplan::lab
