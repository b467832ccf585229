// Scripts that complete the command line in a shell. Commands and options come from the parser, so that none
// can be missing or invented; the words that a value can take come from data where they are data.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>
#include <ostream>
#include <set>

#include "cli/commands.hpp"
#include "cli/description.hpp"
#include "cli/workspace.hpp"

namespace backplan::cli {
namespace {

enum class Value { none, folder, words, other };

// What follows an option; "other" is a date, a number or a text, which no shell can guess.
struct Follows {
  Value value = Value::other;
  std::string words;
};

Follows follows(const OptionDescription& option) {
  if (!option.takes_value) return {Value::none, {}};
  if (option.names.front() == "-C") return {Value::folder, {}};
  return {option.words.empty() ? Value::other : Value::words, option.words};
}

std::string joined(const std::set<std::string>& words) { return fmt::format("{}", fmt::join(words, " ")); }

// What data says of values: standards and what is in them, work of the model.
class Vocabulary {
 public:
  explicit Vocabulary(const Library& library) {
    std::set<std::string> ids, events, columns, categories;
    for (const std::string& id : library.standard_ids()) {
      const auto standard = library.standard(id);
      if (!standard.ok()) continue;  // a folder of the user's that cannot be read completes nothing
      ids.insert(id);
      for (const Event& event : standard.value().events) events.insert(event.id);
      for (const Category& category : standard.value().categories) categories.insert(category.id);
      columns.insert(standard.value().columns.begin(), standard.value().columns.end());
    }
    options_ = {{"--standard", joined(ids)},
                {"--event", joined(events)},
                {"--column", joined(columns)},
                {"--category", joined(categories)},
                {"--setting", "record practice single self estimate"},
                {"--background", "new regular long"},
                {"--medical", "none profile pregnant postpartum"}};
    std::set<std::string> work;
    if (const auto model = library.model(); model.ok()) {
      for (const WorkKind& kind : model.value().work) work.insert(kind.id);
      for (const FixedKind& kind : model.value().fixed) work.insert(kind.id);
    }
    options_["--work"] = joined(work);
    work.insert({"result", "missed", "pain", "void", "replace", "import"});
    operands_ = {{"log", joined(work)}, {"completion", "bash zsh fish"}, {"standard show", joined(ids)}};
  }

  void put_into(std::vector<CommandDescription>& all) const {
    for (CommandDescription& command : all) {
      if (const auto found = operands_.find(command.name); found != operands_.end())
        command.operand_words = found->second;
      for (OptionDescription& option : command.options) {
        const auto found = options_.find(option.names.front());
        if (option.takes_value && found != options_.end()) option.words = found->second;
      }
    }
  }

 private:
  std::map<std::string, std::string> options_, operands_;
};

bool takes_file(const CommandDescription& command) {
  const auto& all = command.operands;
  return std::find(all.begin(), all.end(), "file") != all.end() || command.name == "log";
}

std::vector<OptionDescription> options_of(const CommandDescription& command,
                                          const std::vector<CommandDescription>& all) {
  std::vector<OptionDescription> options = command.options;
  if (!command.name.empty()) options.insert(options.end(), all[0].options.begin(), all[0].options.end());
  return options;
}

std::string names_of(const std::vector<OptionDescription>& options) {
  std::vector<std::string> names;
  for (const OptionDescription& one : options) names.insert(names.end(), one.names.begin(), one.names.end());
  return fmt::format("{}", fmt::join(names, " "));
}

// What may stand next that is not a command: words of operands, options.
std::string words_of(const CommandDescription& command, const std::vector<CommandDescription>& all) {
  const std::string& operands = command.operand_words;
  return operands + (operands.empty() ? "" : " ") + names_of(options_of(command, all));
}

// Options with a value, each once, with what follows them.
std::map<std::string, Follows> with_values(const std::vector<CommandDescription>& all) {
  std::map<std::string, Follows> out;
  for (const CommandDescription& command : all) {
    for (const OptionDescription& option : command.options) {
      for (const std::string& name : option.names) {
        if (option.takes_value) out.emplace(name, follows(option));
      }
    }
  }
  return out;
}

std::string joined_with(const std::map<std::string, Follows>& options, const char* between) {
  std::vector<std::string> names;
  for (const auto& [name, value] : options) names.push_back(name);
  return fmt::format("{}", fmt::join(names, between));
}

// "command word" of every command but the program: "standard import" is `"standard import"`, "plan" `"
// plan"`.
std::string step_to(const CommandDescription& command) {
  const std::size_t at = command.name.rfind(' ');
  return at == std::string::npos ? " " + command.name : command.name;
}

// The words that have been typed, walked through: bash and zsh say it alike.
std::string walk(const std::vector<CommandDescription>& all, const char* indent) {
  std::string text;
  for (const CommandDescription& command : all) {
    if (!command.name.empty())
      text += fmt::format("{}\"{}\") command=\"{}\" ;;\n", indent, step_to(command), command.name);
  }
  return text;
}

std::string bash_values(const std::map<std::string, Follows>& options) {
  std::string text;
  std::string others;
  for (const auto& [name, value] : options) {
    if (value.value == Value::folder)
      text += fmt::format("    {}) COMPREPLY=($(compgen -d -- \"$current\")); return ;;\n", name);
    if (value.value == Value::words)
      text += fmt::format("    {}) COMPREPLY=($(compgen -W \"{}\" -- \"$current\")); return ;;\n", name,
                          value.words);
    if (value.value == Value::other) others += (others.empty() ? "" : "|") + name;
  }
  return text + fmt::format("    {}) return ;;\n", others);
}

std::string bash_script(const std::vector<CommandDescription>& all) {
  const auto values = with_values(all);
  std::string text =
      "# bash completion for backplan: written by `backplan completion bash`\n"
      "_backplan() {\n"
      "  local current=\"${COMP_WORDS[COMP_CWORD]}\" previous=\"${COMP_WORDS[COMP_CWORD-1]}\"\n"
      "  local command=\"\" words=\"\" files=\"\" i\n"
      "  COMPREPLY=()\n"
      "  for ((i = 1; i < COMP_CWORD; i++)); do\n"
      "    case \"${COMP_WORDS[i]}\" in\n"
      "      " +
      joined_with(values, "|") +
      ") ((i++)); continue ;;\n"
      "    esac\n"
      "    case \"$command ${COMP_WORDS[i]}\" in\n" +
      walk(all, "      ") +
      "    esac\n"
      "  done\n"
      "  case \"$previous\" in\n" +
      bash_values(values) +
      "  esac\n"
      "  case \"$command\" in\n";
  for (const CommandDescription& command : all) {
    text += fmt::format("    \"{}\") words=\"{}{}{}\"{} ;;\n", command.name, fmt::join(command.commands, " "),
                        command.commands.empty() ? "" : " ", words_of(command, all),
                        takes_file(command) ? " files=1" : "");
  }
  return text +
         "  esac\n"
         "  COMPREPLY=($(compgen -W \"$words\" -- \"$current\"))\n"
         "  if [[ -n $files && $current != -* ]]; then COMPREPLY+=($(compgen -f -- \"$current\")); fi\n"
         "}\n"
         "complete -o filenames -F _backplan backplan\n";
}

// For single quotes; a colon parts word and explanation in zsh.
std::string quoted(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\'') {
      out += "'\\''";
    } else {
      out += c;
    }
  }
  return "'" + out + "'";
}

std::string zsh_values(const std::map<std::string, Follows>& options) {
  std::string text;
  std::string others;
  for (const auto& [name, value] : options) {
    if (value.value == Value::folder) text += fmt::format("    ({}) _files -/; return ;;\n", name);
    if (value.value == Value::words)
      text += fmt::format("    ({}) compadd -- {}; return ;;\n", name, value.words);
    if (value.value == Value::other) others += (others.empty() ? "" : "|") + name;
  }
  return text + fmt::format("    ({}) return ;;\n", others);
}

std::string zsh_commands(const CommandDescription& command) {
  std::vector<std::string> entries;
  for (const std::string& word : command.commands) {
    const std::string name = command.name.empty() ? word : command.name + " " + word;
    entries.push_back(quoted(word + ":" + summary_of(name)));
  }
  return entries.empty() ? "" : fmt::format("      described=({})\n", fmt::join(entries, " "));
}

std::string zsh_script(const std::vector<CommandDescription>& all) {
  const auto values = with_values(all);
  std::string text =
      "#compdef backplan\n"
      "# zsh completion for backplan: written by `backplan completion zsh`\n"
      "_backplan() {\n"
      "  local command=\"\" files=\"\"\n"
      "  local -a described plain\n"
      "  local -i i\n"
      "  for ((i = 2; i < CURRENT; i++)); do\n"
      "    case \"${words[i]}\" in\n"
      "      (" +
      joined_with(values, "|") +
      ") ((i++)); continue ;;\n"
      "    esac\n"
      "    case \"$command ${words[i]}\" in\n" +
      walk(all, "      (") +
      "    esac\n"
      "  done\n"
      "  case \"${words[CURRENT-1]}\" in\n" +
      zsh_values(values) +
      "  esac\n"
      "  case \"$command\" in\n";
  for (const CommandDescription& command : all) {
    text += fmt::format("    (\"{}\")\n{}      plain=({}){}\n      ;;\n", command.name, zsh_commands(command),
                        words_of(command, all), takes_file(command) ? "; files=1" : "");
  }
  return text +
         "  esac\n"
         "  (( ${#described} )) && _describe command described\n"
         "  compadd -- $plain\n"
         "  if [[ -n $files && $PREFIX != -* ]]; then _files; fi\n"
         "}\n"
         "if [[ ${zsh_eval_context[-1]:-} == loadautofunc ]]; then _backplan \"$@\"; else compdef _backplan "
         "backplan; "
         "fi\n";
}

std::string fish_option(const OptionDescription& option, const std::string& condition) {
  std::string text = "complete -c backplan -n " + condition;
  for (const std::string& name : option.names) {
    const bool is_long = name.rfind("--", 0) == 0;
    text += fmt::format(" -{} {}", is_long ? "l" : "s", name.substr(is_long ? 2 : 1));
  }
  const Follows after = follows(option);
  if (after.value == Value::folder) text += " -x -a '(__fish_complete_directories)'";
  if (after.value == Value::words) text += fmt::format(" -x -a '{}'", after.words);
  if (after.value == Value::other) text += " -x";
  return text + '\n';
}

std::string fish_command(const CommandDescription& command, const std::vector<CommandDescription>& all) {
  const std::string condition = fmt::format("'__backplan_at \"{}\"'", command.name);
  std::string text;
  for (const std::string& word : command.commands) {
    std::string summary = summary_of(command.name.empty() ? word : command.name + " " + word);
    std::replace(summary.begin(), summary.end(), '\'', ' ');
    text += fmt::format("complete -c backplan -n {} -a {} -d '{}'\n", condition, word, summary);
  }
  if (!command.operand_words.empty())
    text += fmt::format("complete -c backplan -n {} -a '{}'\n", condition, command.operand_words);
  if (takes_file(command)) text += fmt::format("complete -c backplan -n {} -F\n", condition);
  for (const OptionDescription& option : options_of(command, all)) text += fish_option(option, condition);
  return text;
}

std::string fish_script(const std::vector<CommandDescription>& all) {
  std::string walked;
  for (const CommandDescription& command : all) {
    if (!command.name.empty())
      walked += fmt::format("      case '{}'\n        set command '{}'\n", step_to(command), command.name);
  }
  std::string text =
      "# fish completion for backplan: written by `backplan completion fish`\n"
      "function __backplan_at\n"
      "  set -l words (commandline -opc)\n"
      "  set -l command ''\n"
      "  set -l skip 0\n"
      "  for word in $words[2..-1]\n"
      "    if test $skip = 1\n"
      "      set skip 0\n"
      "      continue\n"
      "    end\n"
      "    if contains -- $word " +
      joined_with(with_values(all), " ") +
      "\n"
      "      set skip 1\n"
      "      continue\n"
      "    end\n"
      "    switch \"$command $word\"\n" +
      walked +
      "    end\n"
      "  end\n"
      "  test \"$command\" = \"$argv[1]\"\n"
      "end\n"
      "complete -c backplan -f\n";
  for (const CommandDescription& command : all) text += fish_command(command, all);
  return text;
}

}  // namespace

int completion(const Session& session, const std::string& shell) {
  auto all = describe_commands();
  Vocabulary(Library(session.environment)).put_into(all);
  if (shell == "bash") {
    session.streams.out << bash_script(all);
  } else if (shell == "zsh") {
    session.streams.out << zsh_script(all);
  } else if (shell == "fish") {
    session.streams.out << fish_script(all);
  } else {
    throw UsageError(
        shell.empty() ? std::string("no shell was named") : fmt::format("no script for \"{}\"", shell),
        "`backplan completion bash`, `zsh` or `fish`");
  }
  return kExitDone;
}

}  // namespace backplan::cli
