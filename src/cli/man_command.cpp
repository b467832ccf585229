// Man pages, made from the help texts word by word: the same text, in the sections that man pages have.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <ostream>
#include <string_view>

#include "cli/commands.hpp"
#include "cli/description.hpp"
#include "cli/help.hpp"

namespace backplan::cli {
namespace {

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    lines.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

std::string page_name(const std::string& command) {
  std::string name = command.empty() ? "backplan" : "backplan-" + command;
  std::replace(name.begin(), name.end(), ' ', '-');
  return name;
}

// A line of text for troff: nothing in it is a request, and every hyphen is one that can be copied.
std::string plain(const std::string& line) {
  std::string out;
  if (!line.empty() && (line.front() == '.' || line.front() == '\'')) out += "\\&";
  for (const char c : line) {
    if (c == '\\') {
      out += "\\e";
    } else if (c == '-') {
      out += "\\-";
    } else {
      out += c;
    }
  }
  return out;
}

// Lines of one section. Those that begin with blanks stand as they are, others flow.
std::string section(const char* title, const std::vector<std::string>& lines) {
  std::string text = fmt::format(".SH {}\n", title);
  bool as_it_is = false;
  bool first = true;
  for (const std::string& line : lines) {
    const bool indented = !line.empty() && line.front() == ' ';
    if (indented != as_it_is && !line.empty()) text += indented ? (first ? ".nf\n" : ".PP\n.nf\n") : ".fi\n";
    if (!line.empty()) as_it_is = indented;
    text += line.empty() ? (as_it_is ? ".fi\n.PP\n" : ".PP\n") : plain(line) + '\n';
    if (line.empty()) as_it_is = false;
    first = false;
  }
  return text + (as_it_is ? ".fi\n" : "");
}

std::vector<std::string> trimmed(std::vector<std::string> part) {
  while (!part.empty() && part.front().empty()) part.erase(part.begin());
  while (!part.empty() && part.back().empty()) part.pop_back();
  return part;
}

// A command lists its options after "Options:", in lines that flow; the program has a table of them.
std::string options_section(std::vector<std::string> lines) {
  const std::string title = "Options:";
  if (!lines.empty() && lines.front().rfind(title, 0) == 0) {
    lines.front().erase(0, title.size());
    for (std::string& line : lines) line.erase(0, line.find_first_not_of(' '));
  }
  return section("OPTIONS", lines);
}

std::string see_also(const std::string& command) {
  std::string text = ".SH SEE ALSO\n";
  std::string between;
  for (const CommandDescription& other : describe_commands()) {
    if (other.name == command) continue;
    // The program names all; a command names the program and those of its own family.
    const std::string family = command.substr(0, command.find(' '));
    const bool kin =
        command.empty() || other.name.empty() || other.name.substr(0, other.name.find(' ')) == family;
    if (!kin) continue;
    text += fmt::format("{}.BR {} (1)", between, plain(page_name(other.name)));
    between = ",\n";
  }
  return text + '\n';
}

std::string page_of(const std::string& command) {
  const auto lines = lines_of(help_for(command));
  const auto blank = std::find(lines.begin(), lines.end(), "");
  const auto options = std::find_if(lines.begin(), lines.end(),
                                    [](const std::string& line) { return line.rfind("Options", 0) == 0; });
  const auto codes = std::find_if(options, lines.end(),
                                  [](const std::string& line) { return line.rfind("Exit codes:", 0) == 0; });
  std::string heading = page_name(command);
  std::transform(heading.begin(), heading.end(), heading.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  std::string text =
      fmt::format(".TH {} 1 \"\" \"backplan {}\" \"backplan\"\n", plain(heading), BACKPLAN_VERSION);
  text += fmt::format(".SH NAME\n{} \\- {}\n", plain(page_name(command)), plain(summary_of(command)));
  text += fmt::format(".SH SYNOPSIS\n.B backplan{}\n[\\fIOPTION\\fR]...\n",
                      command.empty() ? " \\fICOMMAND\\fR" : " " + plain(command));
  text += section("EXAMPLES", {lines.begin(), blank});
  text += section("DESCRIPTION", trimmed({blank, options}));
  text += options_section(trimmed({options, codes}));
  if (codes != lines.end()) text += section("EXIT STATUS", trimmed({codes, lines.end()}));
  return text + see_also(command);
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

}  // namespace

int man(const Session& session, const ManOptions& options) {
  const auto all = describe_commands();
  if (options.list) {
    for (const CommandDescription& one : all)
      session.streams.out << page_name(one.name) << ".1" << (one.name.empty() ? "" : " ") << one.name << '\n';
    return kExitDone;
  }
  const std::string command = joined(options.words);
  const bool known = std::any_of(all.begin(), all.end(),
                                 [&command](const CommandDescription& one) { return one.name == command; });
  if (!known)
    throw UsageError(fmt::format("no page for \"{}\"", command), "`backplan man --list` names the pages");
  session.streams.out << page_of(command);
  return kExitDone;
}

}  // namespace backplan::cli
