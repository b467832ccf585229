// Logged things read as estimates of an event's ability, with their uncertainty.
// docs/mathematics.md, "Evidence".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/journal.hpp"
#include "backplan/model.hpp"
#include "backplan/standard.hpp"

namespace backplan {

// v = ln(result) for loads, repetitions, distances and holds; v = -ln(time) for timed events.
[[nodiscard]] double ability_of(double result, Direction direction);
[[nodiscard]] double result_of(double ability, Direction direction);

struct Evidence {
  std::string event;  // of the standard
  Date date;
  double v = 0.0;  // what the test day would have shown
  double sd = 0.0;
  double dose = 0.0;         // S reached by this date since the fit began; 0 without a journal
  bool lower_bound = false;  // the ability was at least about this; how far above is not known
  // Parts of `sd` that the person's readings have in common, so that many of them do not add up to
  // certainty: what counting alone or testing fresh is off, and what turning a set into a maximum is off.
  double setting_sd = 0.0;
  double conversion_sd = 0.0;
  double log_ratio = 0.0;  // of a run: ln(distance of the test / distance run); its spread is in `sd` too
  double loss = 0.0;       // in v, lost by this date; 0 without a journal
  double break_variance = 0.0;  // of the level since, in all readings from before a clearance alike
  std::string id;               // of the journal entry; empty: from candidate.json
};

// Spread of people's own exponents of time over distance around the published 1.06: they range from about
// 1.02 to 1.18, read as two standard deviations on either side.
inline constexpr double kExponentSd = 0.04;

// Spread of one result around the ability, in v, for a result near `result`.
[[nodiscard]] double noise_of(const EventModel& model, double result);

// By event in the order of the standard, then by date. Events that the standard does not have are left out.
[[nodiscard]] std::vector<Evidence> evidence_of(const std::vector<DatedResult>& results,
                                                const Standard& standard, const Model& model);

// Results from before the clearance after a pregnancy tell little of today: they are read lower, and their
// spread is wider, by what the model says.
void mind_clearance(std::vector<Evidence>& evidence, const Medical& medical, const Model& model);

// The latest result of an event that is no evidence of today any more.
struct StaleResult {
  std::string event;
  Date date;
  int weeks = 0;                  // ago
  bool before_clearance = false;  // else only old
};
// In the order of the standard, of candidate.json and the journal together; lower bounds do not make up for a
// result. Events without any result are left out.
[[nodiscard]] std::vector<StaleResult> stale_results(const Candidate& candidate,
                                                     const std::vector<Done>& entries,
                                                     const Standard& standard, const Model& model,
                                                     Date as_of);
// The same for people: a caution for each date.
[[nodiscard]] std::vector<std::string> cautions_of(const std::vector<StaleResult>& stale);

// A run, row, ride, swim or walk at this effort of ten or more, though not all out, proves that the person
// can do at least this (judgement); an easier one says nothing.
inline constexpr int kTellingEffort = 7;

// The event that workouts of a kind are read as; none where the standard has no such event, or has several
// that one drill trains (the throws of a decathlon), for then it is not known which one was done.
[[nodiscard]] const Event* event_read_from(const WorkKind& kind, const Standard& standard);

// What one entry says of one event, at most one event an entry: results as above; of lifts the set that
// promises most; repetitions, holds, courses, drills, throws, runs and other ways over a distance where they
// were all out (`hard`); less sure ones as lower bounds. None where it says nothing (easy runs, too many
// repetitions, missed days, pain).
[[nodiscard]] std::optional<Evidence> evidence_of(const Done& done, const Standard& standard,
                                                  const Model& model);

// A load that fits what the person has shown only in the other unit of mass: 155 kg of somebody whose
// history says 170 lb.
struct UnitDoubt {
  std::string typed;    // "155 kg"
  std::string instead;  // "155 lb"
  std::string event;
  double reads_as = 0.0;  // in the event's unit
  double known = 0.0;     // the best of the history
};
// `history` as it was before this deed. None where it fits, or where there is no history.
[[nodiscard]] std::optional<UnitDoubt> unit_doubt(const Done& done, const std::vector<Evidence>& history,
                                                  const Standard& standard, const Model& model);

}  // namespace backplan
