// The help texts, examples first.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace backplan::cli {

struct HelpText {
  std::string_view command;  // "plan", "standard import"; "" for the program itself
  std::string_view text;
};

[[nodiscard]] const std::vector<HelpText>& help_texts();

// Of a command; throws std::logic_error for an unknown one.
[[nodiscard]] std::string_view help_for(std::string_view command);

}  // namespace backplan::cli
