// Invented people whose true response is known: they train, write a journal and are tested at the end. What
// they wrote is read back by the program as anybody's journal is.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/history.hpp"
#include "backplan/model.hpp"
#include "backplan/standard.hpp"

namespace backplan::testing {

// How the true ability answers to work: as the model assumes; with the logarithm of the dose, without a
// ceiling; or as two states, fitness and fatigue, that rise with the work and fade on their own.
enum class Response { as_assumed, logarithmic, fitness_and_fatigue };

struct TrueEvent {
  std::string event;
  double v_now = 0.0;       // ability on the morning of as_of
  double v_test = 0.0;      // on the day of the test
  double s_ahead = 0.0;     // units of S that the work until the test adds
  double loss_ahead = 0.0;  // in v; negative: what comes back
};

struct SimulatedPerson {
  Candidate candidate;
  History history;
  Date as_of;
  std::vector<TrueEvent> truth;  // in the order of the standard
};

[[nodiscard]] SimulatedPerson simulate(std::uint64_t seed, Response response, const Standard& standard,
                                       const Model& model);

}  // namespace backplan::testing
