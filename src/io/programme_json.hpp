// programme.json: the squad's programme as a file, written and read back. The keys are a promise to other
// programs (data/schema/programme.schema.json); more may be added, none may change.
#pragma once

#include <string>
#include <string_view>

#include "backplan/programme.hpp"
#include "backplan/result.hpp"
#include "backplan/standard.hpp"
#include "io/json_write.hpp"

namespace backplan::io {

inline constexpr std::string_view kProgrammeFormat = "backplan-programme/1";
inline constexpr int kMinuteDecimals = 2;  // of a morning: turns begin at quarters of a minute

[[nodiscard]] std::string write_programme(const Programme& programme, const Standard& standard,
                                          const std::string& tool_version);

// Parts that other answers share.
[[nodiscard]] Json morning_json(const Morning& morning);
[[nodiscard]] Json person_json(const Person& person, const Standard& standard);
[[nodiscard]] Json extra_json(const Extra& extra);
[[nodiscard]] Json group_json(const Group& group);

// What write_programme wrote, without what it does not keep: plans and candidates. Outlooks of people come
// back with their chances and their total only.
[[nodiscard]] Result<Programme> read_programme(std::string_view text, const std::string& file);

}  // namespace backplan::io
