// The last gate of every programme: the independent checker reads it before anything is written.
#pragma once

#include <string>

#include "backplan/programme.hpp"
#include "cli/squad_files.hpp"

namespace backplan::cli {

// What to write into programme.json: the programme as the next revision of the one that lies there. Throws
// BrokenPlan where it breaks a rule.
[[nodiscard]] std::string checked_bytes(const Programme& programme, const SquadFiles& files,
                                        const Session& session);

// What is over stays as it was: mornings and extras before the new programme's first day.
void keep_past(const Programme& old, Programme& now);

// 1 when somebody who is planned is less likely to pass than asked, or is referred.
[[nodiscard]] int exit_code_of(const Programme& programme);

}  // namespace backplan::cli
