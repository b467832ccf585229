// The words of the command line, and the options of each command read from them. What is wrong with them is a
// UsageError.
#pragma once

#include <string>

#include "backplan/units.hpp"
#include "cli/commands.hpp"

namespace backplan::cli {

// Before they are read as dates and numbers.
struct Words {
  std::string folder = ".";
  std::string as_of;
  bool json = false;
  bool help = false;
  bool version = false;
  std::string week;
  std::string date;
  bool today = false;
  bool assumptions = false;
  bool all = false;
  std::string jobs = "1";
  std::string output;
  std::string at;
  std::string person;
  bool alarms = false;
  bool mark = false;
  StandardOptions standard;
  LogOptions log;
  TestDayOptions test_day;
  InitOptions init;
  std::string shell;
  ManOptions man;
  SquadOptions squad;
  std::string pooling;
};

// `option` is named in the message.
[[nodiscard]] Date date_of(const std::string& text, const std::string& option);

[[nodiscard]] ShowOptions show_options(const Words& words);
[[nodiscard]] BatchOptions batch_options(const Words& words);
// `command` as it was typed: "export html", "standard show", "squad card".
[[nodiscard]] ExportOptions export_options(ExportOptions::Kind kind, const Words& words,
                                           const std::string& command);
[[nodiscard]] StandardOptions standard_options(const Words& words, const std::string& command);
[[nodiscard]] SquadOptions squad_options(const Words& words, const std::string& command);

}  // namespace backplan::cli
