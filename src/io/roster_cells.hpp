// The cells of a roster that hold more than one figure: work to avoid, medical status, absences, a target.
#pragma once

#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "io/value_text.hpp"

namespace backplan::io {

// "deadlift+intervals until 2027-01-10": a date is that of its kind and of those before it that have none;
// kinds after the last date are avoided for good.
[[nodiscard]] Reading<std::vector<Avoid>> read_avoid_cell(const std::string& text, const Model& model);
// "none", "pregnant", "postpartum", "postpartum cleared 2026-11-20",
// "profile until 2027-01-15 permits push_up+trunk", "profile since 2026-11-20 until ...".
[[nodiscard]] Reading<Medical> read_medical_cell(const std::string& text, const Model& model);
// "2027-01-04 to 2027-01-08+2027-02-01".
[[nodiscard]] Reading<std::vector<BlockedSpell>> read_absent_cell(const std::string& text);
// "440", "each 70", "440 each 60".
[[nodiscard]] Reading<Target> read_target_cell(const std::string& text, const Target& otherwise);

// The same values as a cell.
[[nodiscard]] std::string avoid_cell(const std::vector<Avoid>& avoid);
[[nodiscard]] std::string medical_cell(const Medical& medical);
[[nodiscard]] std::string target_cell(const Target& target);
[[nodiscard]] std::string absent_cell(const std::vector<BlockedSpell>& spells);  // of whatever kind

// Spreadsheets are kept from running a text as a formula by an apostrophe before it; it is not part of it.
[[nodiscard]] std::string without_guard(const std::string& text);
// Puts it there where the text begins as a formula does.
[[nodiscard]] std::string with_guard(const std::string& text);

// The parts of a cell, without outer blanks; of an empty cell none.
[[nodiscard]] std::vector<std::string> parts_of(const std::string& text, char separator);

}  // namespace backplan::io
