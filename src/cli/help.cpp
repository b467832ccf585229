#include "cli/help.hpp"

#include <algorithm>
#include <stdexcept>

#include "cli/description.hpp"
#include "cli/help_parts.hpp"

namespace backplan::cli {
namespace {

constexpr std::string_view kProgram =
    R"(  backplan init              asks for the facts and writes candidate.json
  backplan score             what the latest results score, and the next row up
  backplan yield             where the next points are cheapest
  backplan plan              the dated plan for the target, written to plan.json
  backplan replan            the days ahead anew, from what was really done
  backplan show              this week of the plan; a day, another week, all of it
  backplan export html|ics|csv|xlsx -o FILE
                             the plan as a page, a calendar or a spreadsheet
  backplan log               what was really done: a workout, a result, a missed day, pain
  backplan testday           the sheet for the day: tries, pacing, splits, laps
  backplan standard list     the official tests that it knows
  backplan squad             one trainer's squad: groups, shared mornings, everybody's sheet
  backplan batch < FILE      candidates as JSON Lines, one line of JSON out for each
  backplan completion bash   a script that completes commands and options in your shell
  backplan man               man pages

Works back from a target score in a fitness test to a dated training plan.

Options of every command:
  -C DIR          the working folder with candidate.json (default: here)
  --as-of DATE    plan as if today were this day, YYYY-MM-DD
  --json          the answer as JSON
  -h, --help      examples and options; `backplan COMMAND --help` for one command
  -V, --version   the version
`batch`, `completion` and `man` read no folder and have one form of answer: there -C and --json
change nothing.

No colours are used, so NO_COLOR changes nothing. Answers go to standard output, warnings, faults
and questions to standard error.

Exit codes: 0 done, 1 the answer is no, 2 usage, 65 bad data, 66 missing input, 70 a fault of the
program, 73 cannot create a file, 74 reading or writing failed, 75 busy.

No medical advice: the official manual, your unit and licensed staff come first.
)";

constexpr std::string_view kBatch = R"(  backplan batch < candidates.jsonl > outlooks.jsonl
  backplan batch --jobs 4 --as-of 2026-12-07 < candidates.jsonl

One candidate a line, as in candidate.json; one line of JSON out for each, in the same order:
{"id", "outlook", "time"}, or {"id", "error"} ("id" is null where the line cannot be read). For whom
no plan is made (pregnancy) "refused" says why and "outlook" is null. The number of jobs changes
nothing in the output. No proof and no ways out. Exit code 0 when every line was answered.

Options: --jobs N (1 to 64, default 1), --as-of DATE
)";

constexpr std::string_view kCompletion =
    R"(  backplan completion bash > ~/.local/share/bash-completion/completions/backplan
  backplan completion zsh > ~/.zfunc/_backplan    with ~/.zfunc in fpath, before compinit
  backplan completion fish > ~/.config/fish/completions/backplan.fish

A script that completes commands, options and some values. An installed package has it already.

Options: none of its own
)";

constexpr std::string_view kMan = R"(  backplan man | man -l -                  the page of the program
  backplan man standard import | man -l -  the page of a command
  backplan man --list                      the pages there are: file name, command

The man pages, made from the texts of --help. An installed package has them already.

Options: --list
)";

// What stands behind a line of the program's help that begins with the command, without its blanks.
std::string line_of(const std::string& command) {
  const std::string begin = "\n  backplan " + command + ' ';
  const std::string text = '\n' + std::string(kProgram);
  const std::size_t at = text.find(begin);
  if (at == std::string::npos) return {};
  const std::string line = text.substr(at + 1, text.find('\n', at + 1) - at - 1);
  const std::size_t gap = line.find("  ", begin.size() - 2);
  return gap == std::string::npos ? "" : line.substr(line.find_first_not_of(' ', gap));
}

}  // namespace

std::string summary_of(const std::string& command) {
  if (!command.empty()) {
    if (std::string line = line_of(command); !line.empty()) return line;
  }
  // The first sentence after the examples.
  std::string text(help_for(command));
  const std::size_t from = text.find("\n\n");
  text = from == std::string::npos ? text : text.substr(from + 2);
  text.resize(std::min(text.size(), text.find('.')));
  std::replace(text.begin(), text.end(), '\n', ' ');
  constexpr std::size_t kLongest = 80;  // then what its first part says is enough
  if (text.size() > kLongest) text.resize(std::min(text.size(), text.find_first_of(",(")));
  return text.substr(0, text.find_last_not_of(' ') + 1);
}

const std::vector<HelpText>& help_texts() {
  static const std::vector<HelpText> texts = [] {
    std::vector<HelpText> all{{"", kProgram}};
    for (const auto part : {plan_help, export_help, log_help, standard_help, squad_help}) {
      const std::vector<HelpText> more = part();
      all.insert(all.end(), more.begin(), more.end());
    }
    all.insert(all.end(), {{"batch", kBatch}, {"completion", kCompletion}, {"man", kMan}});
    return all;
  }();
  return texts;
}

std::string_view help_for(std::string_view command) {
  for (const HelpText& help : help_texts()) {
    if (help.command == command) return help.text;
  }
  throw std::logic_error("a command without a help text");
}

}  // namespace backplan::cli
