// The parts of the model's reader: what its files share, and the file of the work.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "backplan/model.hpp"
#include "io/figure.hpp"
#include "io/json_text.hpp"

namespace backplan::io {

inline constexpr Range kUnitRange{0.0, 100000.0};  // of any event

// A data file's text that must say something.
[[nodiscard]] std::string read_data_words(const JsonCursor& owner, std::string_view key);
[[nodiscard]] bool read_data_flag(const JsonCursor& owner, std::string_view key);

// data/model/work.json. Events that nobody knows are faults, so it wants their ids first; none where the
// events could not be read.
void read_work(const JsonCursor& root, std::vector<std::string> events, Model& model);

}  // namespace backplan::io
