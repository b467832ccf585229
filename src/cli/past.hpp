// What the working folder says of the past: the journal that stands and the plan that was followed.
#pragma once

#include <memory>
#include <optional>

#include "backplan/history.hpp"
#include "cli/session.hpp"
#include "cli/workspace.hpp"

namespace backplan::cli {

// plan.json; throws store::MissingInput where there is none.
[[nodiscard]] Result<Plan> read_stored_plan(const Session& session);

// What stands in the journal after its corrections; its warnings go to standard error. Empty where there is
// no journal.
[[nodiscard]] Result<Standing> read_standing(const Session& session, const Standard& standard,
                                             const Model& model);

// The journal after its corrections, beside the plan; its warnings go to standard error. Empty where there
// is no journal.
[[nodiscard]] Result<History> read_history(const Session& session,
                                           const std::shared_ptr<const Workspace>& files,
                                           std::optional<Plan> plan = std::nullopt);

}  // namespace backplan::cli
