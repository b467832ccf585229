// The screens of `backplan standard`.
#pragma once

#include <string>
#include <vector>

#include "backplan/standard.hpp"
#include "io/table_import.hpp"

namespace backplan::report {

// One line a standard: id, title, since when, how many of its rows have which origin.
[[nodiscard]] std::string standard_list_text(const std::vector<Standard>& standards);

// Events, categories and protocol of one standard, and where its rows come from.
[[nodiscard]] std::string standard_text(const Standard& standard);

// The scale of one event and column: rows points, columns age bands, every doubtful row marked.
[[nodiscard]] std::string scale_text(const Standard& standard, const Event& event, const std::string& column);

// What a checked table holds, against the scale that there was.
[[nodiscard]] std::string import_text(const std::string& file, const io::ImportSummary& summary);

}  // namespace backplan::report
