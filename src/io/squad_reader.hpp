// squad.json and roster.csv to a Squad. Every fault of a file at once, by line and column.
#pragma once

#include <string>
#include <string_view>

#include "backplan/result.hpp"
#include "backplan/squad.hpp"
#include "io/readers.hpp"

namespace backplan::io {

inline constexpr std::size_t kMostMembers = 300;  // of one roster; a battalion is several squads
inline constexpr int kMostGroups = 12;
inline constexpr int kMostKit = 100;  // bars, sleds, pairs of kettlebells

// squad.json: the squad without its people, and what all of them have in common.
struct SquadFrame {
  Squad squad;
  Candidate common;  // mornings, days, fixed work, blocked spells, equipment
};
[[nodiscard]] Result<SquadFrame> read_squad(std::string_view text, const std::string& file,
                                            const Standard& standard, const Model& model, Date as_of,
                                            TestOver over = TestOver::refused);

// roster.csv, as a spreadsheet gives it: comma, semicolon or tab, decimal point or comma, a byte-order mark,
// blank cells for what is not known. Somebody's own test may be over.
[[nodiscard]] Result<Squad> read_roster(std::string_view text, const std::string& file,
                                        const SquadFrame& frame, const Standard& standard, const Model& model,
                                        Date as_of);

// "best up to 3", "3".
[[nodiscard]] std::string groups_text(const Squad& squad);

}  // namespace backplan::io
