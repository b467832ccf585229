// The command line as data, read off the parser itself: what completion and man pages are made from.
#pragma once

#include <string>
#include <vector>

namespace backplan::cli {

struct OptionDescription {
  std::vector<std::string> names;  // "--as-of"; "-h" and "--help"
  bool takes_value = false;
  std::string words;  // that the value can be, parted by blanks; empty: not known
};

struct CommandDescription {
  std::string name;                        // "standard import"; "" for the program itself
  std::string summary;                     // one line
  std::vector<OptionDescription> options;  // its own
  std::vector<std::string> commands;       // words that may follow
  std::vector<std::string> operands;       // names of what stands without an option: "file", "words"
  std::string operand_words;               // that may stand for one, parted by blanks
};

// The program first, every command after the one above it. The options of the program go with every command.
[[nodiscard]] std::vector<CommandDescription> describe_commands();

// One line on a command, from the help texts.
[[nodiscard]] std::string summary_of(const std::string& command);

}  // namespace backplan::cli
