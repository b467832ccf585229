// standard.json: everything of a standard but the cells of its scales.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/result.hpp"
#include "backplan/standard.hpp"

namespace backplan::io {

struct FormulaRule {
  Scale::Formula formula;
  Points least;  // below it a result earns nothing
};

struct FramedEvent {
  Event event;
  std::optional<FormulaRule> formula;  // none: cells score it
};

struct StandardFrame {
  Standard standard;  // without scales and hash
  std::vector<FramedEvent> events;
};

[[nodiscard]] Result<StandardFrame> read_frame(std::string_view text, const std::string& file);

}  // namespace backplan::io
