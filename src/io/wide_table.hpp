// The shape that an official table has on paper: rows points, columns age bands.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/result.hpp"
#include "backplan/standard.hpp"
#include "io/cells.hpp"

namespace backplan::io {

// The separated cells of a copied table, whatever parts them.
[[nodiscard]] Result<CsvTable> read_loose_table(std::string_view text, const std::string& file);

// The band that "22-26", "22 – 26", "ages 62+", "over 62" or "62 and over" means among `bands`.
[[nodiscard]] std::optional<AgeBand> read_band(std::string_view text, const std::vector<AgeBand>& bands);

// Every cell of the table, official, for one event and column.
[[nodiscard]] Result<std::vector<ScaleCell>> read_wide_table(const CsvTable& table, const std::string& file,
                                                             const Event& event, const std::string& column,
                                                             const Standard& standard);

}  // namespace backplan::io
