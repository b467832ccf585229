// The squad's programme for people: the summary, a week, the sheet of a morning, one person's card.
#pragma once

#include <string>
#include <vector>

#include "backplan/programme.hpp"
#include "report/names.hpp"

namespace backplan::report {

// Outlook, groups with their week and why, the risk list, what does not fit, the first week.
[[nodiscard]] std::string programme_text(const Programme& programme, const Names& names);
// On the day of the last test and after it: that no week is left, and what there is instead.
[[nodiscard]] std::string no_week_text(const Programme& programme, Date today);
// The week `index` before the test, 1 or more: each morning in one table, and who has a short extra.
[[nodiscard]] std::string squad_week_text(const Programme& programme, int index, const Names& names);
// The trainer's sheet.
[[nodiscard]] std::string morning_text(const Programme& programme, const Morning& morning,
                                       const Names& names);
// Two weeks from `from` on: what, when, on which lane.
[[nodiscard]] std::string card_text(const Programme& programme, const Person& person, Date from,
                                    const Names& names);

// Weeks count back from the squad's test; 0 on the day itself and after it.
[[nodiscard]] int squad_week_of(const Programme& programme, Date date);
[[nodiscard]] const Person* find_person(const Programme& programme, const std::string& id);
// "0:12", minutes from the start of the morning with quarters: "18:15".
[[nodiscard]] std::string minute_text(double minutes);

// What replanning changed.
struct SquadChange {
  std::string id, what, why;
};
[[nodiscard]] std::string squad_changes_text(const std::vector<SquadChange>& changes);

}  // namespace backplan::report
