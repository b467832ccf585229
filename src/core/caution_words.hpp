// What every sheet says of health, of one person and of a squad alike.
#pragma once

namespace backplan {

inline constexpr const char* kNoMedicalAdvice =
    "This is no medical advice. The official manual, your unit and licensed staff come first.";
inline constexpr const char* kPainStopsWork =
    "Pain stops the work. Chest pain, collapse, confusion in heat, a numb leg or dark urine: stop and get "
    "emergency care.";
inline constexpr const char* kMindHeat =
    "Heat: follow the unit's heat category; move hard runs to the cool hours and cut repetitions; no timed "
    "runs in category 4 or 5.";

}  // namespace backplan
