// What the exports of candidates and of squads share.
#pragma once

#include <string>

#include "cli/commands.hpp"

namespace backplan::cli {

// Writes the file whole or not at all, or prints it, and says so.
[[nodiscard]] int hand_out(const std::string& bytes, const Session& session, const ExportOptions& options);

// programme.json as a page, a calendar or a spreadsheet.
[[nodiscard]] int export_squad(const Session& session, const ExportOptions& options);

}  // namespace backplan::cli
