// `backplan standard --json`: what is known of the official tests.
#pragma once

#include <vector>

#include "backplan/standard.hpp"
#include "io/json_write.hpp"
#include "io/table_import.hpp"

namespace backplan::io {

[[nodiscard]] Json standard_list_json(const std::vector<Standard>& standards);
[[nodiscard]] Json standard_json(const Standard& standard);
// Rows from the most points down, for each age band, with the origin of each.
[[nodiscard]] Json scale_json(const Standard& standard, const Event& event, const std::string& column);
[[nodiscard]] Json import_json(const ImportSummary& summary);

}  // namespace backplan::io
