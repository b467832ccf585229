#include "cli/words.hpp"

#include <fmt/format.h>

#include "cli/session.hpp"
#include "io/value_text.hpp"

namespace backplan::cli {
namespace {

constexpr int kMostJobs = 64;
constexpr int kMostWeek = 1000;

constexpr const char* kWeekHint = "weeks count back from the test: 1 is the last one before it";

int number_of(const std::string& text, const std::string& option, int most, const char* hint) {
  int number = 0;
  for (const char digit : text) {
    if (digit < '0' || digit > '9' || number > most) number = most + 1;
    if (number <= most) number = 10 * number + (digit - '0');
  }
  if (text.empty() || number < 1 || number > most) {
    throw UsageError(fmt::format("{}: \"{}\" is no number from 1 to {}", option, text, most), hint);
  }
  return number;
}

// "06:30" as minutes after midnight.
int minute_of_day(const std::string& text) {
  constexpr int kMinutes = 60, kHours = 24;
  const auto digit = [&](std::size_t i) {
    return text[i] >= '0' && text[i] <= '9' ? text[i] - '0' : kMinutes;
  };
  if (text.size() == 5 && text[2] == ':') {
    const int hour = 10 * digit(0) + digit(1);
    const int minute = 10 * digit(3) + digit(4);
    if (hour < kHours && minute < kMinutes) return kMinutes * hour + minute;
  }
  throw UsageError(fmt::format("--at: \"{}\" is no time of day", text), "write it as 06:30");
}

}  // namespace

Date date_of(const std::string& text, const std::string& option) {
  const auto reading = io::read_date(text);
  if (!reading.value) throw UsageError(fmt::format("{}: {}", option, reading.problem), reading.hint);
  return *reading.value;
}

ShowOptions show_options(const Words& words) {
  const int asked = (words.week.empty() ? 0 : 1) + (words.date.empty() ? 0 : 1) + (words.today ? 1 : 0) +
                    (words.assumptions ? 1 : 0) + (words.all ? 1 : 0);
  if (asked > 1) {
    throw UsageError("--week, --date, --today, --assumptions and --all cannot go together",
                     "give one of them");
  }
  ShowOptions options;
  if (!words.week.empty()) options.week = number_of(words.week, "--week", kMostWeek, kWeekHint);
  if (!words.date.empty()) options.date = date_of(words.date, "--date");
  if (words.today || options.date) options.part = ShowOptions::Part::day;
  if (words.assumptions) options.part = ShowOptions::Part::assumptions;
  if (words.all) options.part = ShowOptions::Part::all;
  return options;
}

BatchOptions batch_options(const Words& words) {
  return {number_of(words.jobs, "--jobs", kMostJobs, "as many as the machine has processors are fastest")};
}

ExportOptions export_options(ExportOptions::Kind kind, const Words& words, const std::string& command) {
  if (words.output.empty()) {
    throw UsageError("no file to write was named",
                     fmt::format("`backplan {} -o FILE` writes it; -o - prints it", command));
  }
  ExportOptions options;
  options.kind = kind;
  options.file = words.output;
  if (!words.week.empty()) options.week = number_of(words.week, "--week", kMostWeek, kWeekHint);
  if (!words.at.empty()) options.starts = minute_of_day(words.at);
  options.person = words.person;
  options.alarms = words.alarms;
  options.mark = words.mark;
  return options;
}

StandardOptions standard_options(const Words& words, const std::string& command) {
  const std::string help = fmt::format("`backplan {} --help` has examples", command);
  if (command != "standard show" && words.standard.file.empty()) throw UsageError("no FILE was given", help);
  if (words.standard.id.empty()) throw UsageError("no standard was named", help);
  if (words.standard.event.empty() != words.standard.column.empty()) {
    throw UsageError("--event and --column go together", help);
  }
  return words.standard;
}

SquadOptions squad_options(const Words& words, const std::string& command) {
  SquadOptions options = words.squad;
  const bool asks = command == "squad card" || command == "squad log" || command == "squad extract" ||
                    command == "squad take";
  if (asks && options.word.empty()) {
    throw UsageError(command == "squad log"    ? "no FILE was given"
                     : command == "squad take" ? "no FOLDER was given"
                                               : "no ID was given",
                     fmt::format("`backplan {} --help` has examples", command));
  }
  if (!words.week.empty()) options.week = number_of(words.week, "the week", kMostWeek, kWeekHint);
  if (!words.date.empty()) options.date = date_of(words.date, "the date");
  if (words.pooling == "on" || words.pooling == "off") {
    options.pooling = words.pooling == "on";
  } else if (!words.pooling.empty()) {
    throw UsageError(fmt::format("--pooling: expected on or off, found \"{}\"", words.pooling),
                     "--pooling off plans everybody by the own log alone");
  }
  return options;
}

}  // namespace backplan::cli
