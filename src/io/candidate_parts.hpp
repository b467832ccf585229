// The parts of a candidate file, each read by one function. Used by the readers of candidates, squads and
// rosters; a part records its faults at its cursor and goes on, so that one reading finds them all.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/standard.hpp"
#include "io/json_text.hpp"
#include "io/readers.hpp"

namespace backplan::io {

// Limits of a candidate file. They bound the work of one plan and catch slips; none is a rule of
// training (judgement).
inline constexpr int kYoungestAge = 17;        // the lowest age that any of the official scales starts at
inline constexpr int kMostDaysAhead = 731;     // two years: further off a forecast says nothing
inline constexpr int kMostSlotMinutes = 240;   // of one day
inline constexpr int kMostFixedMinutes = 720;  // a long march takes a day
inline constexpr int kMostHomeBlocks = 7;      // a week
inline constexpr int kMostHardSessions = 14;   // a week, two a day
inline constexpr std::size_t kMostResults = 500;
inline constexpr std::size_t kMostDays = 400;
inline constexpr std::size_t kMostSpells = 60;  // blocked, avoided or fixed entries, diagnostics
inline constexpr std::size_t kMostPlates = 100;
inline constexpr std::size_t kMostIdLength = 64;
inline constexpr std::size_t kMostDisplayLength = 100;  // characters of a roster's display name
inline constexpr std::size_t kMostWhyLength = 200;
inline constexpr double kLeastConfidence = 0.5;   // both excluded: less is a coin toss, more is
inline constexpr double kMostConfidence = 0.995;  // beyond what the forecast can know
inline constexpr double kMostBarPounds = 100.0;
inline constexpr double kMostPlatePounds = 100.0;

struct CandidateContext {
  const Standard& standard;
  const Model& model;
  Date as_of;
  TestOver over = TestOver::refused;
};

// A date, or a fault at the cursor. Nothing below a missing key.
[[nodiscard]] std::optional<Date> date_at(const JsonCursor& cursor);
// A distance with its unit.
[[nodiscard]] std::optional<Metres> distance_at(const JsonCursor& cursor);
// What is wrong with a text that must be printable and have 1 to `most` characters; none: nothing.
[[nodiscard]] std::optional<std::string> label_fault(std::string_view text, std::size_t most);
// Printable text of 1 to `most` characters.
[[nodiscard]] std::optional<std::string> label_at(const JsonCursor& cursor, std::size_t most);
// The reason of an entry; empty where none is given.
[[nodiscard]] std::string why_at(const JsonCursor& entry);
// The entries of a list that may be missing and has at most so many.
[[nodiscard]] std::vector<JsonCursor> entries_at(const JsonCursor& list, std::size_t most);
// mon .. sun as 0 .. 6.
[[nodiscard]] std::optional<int> weekday_at(const JsonCursor& cursor);

// The readers of the parts; `root` is the whole file.
void read_results(const JsonCursor& root, const CandidateContext& context, Candidate& candidate);
void read_now(const JsonCursor& root, Candidate& candidate);
void read_target(const JsonCursor& root, const CandidateContext& context, Candidate& candidate);
// Targets that the scales of this person cannot give; asks for a valid person.
void judge_target(const JsonCursor& root, const CandidateContext& context, int age,
                  const Candidate& candidate);
void read_week(const JsonCursor& root, Candidate& candidate);
void read_days(const JsonCursor& root, Candidate& candidate);
void read_fixed(const JsonCursor& root, const CandidateContext& context, Candidate& candidate);
void read_blocked(const JsonCursor& root, Candidate& candidate);
void read_avoid(const JsonCursor& root, const CandidateContext& context, Candidate& candidate);
void read_equipment(const JsonCursor& root, Candidate& candidate);
void read_medical(const JsonCursor& root, const CandidateContext& context, Candidate& candidate);

}  // namespace backplan::io
