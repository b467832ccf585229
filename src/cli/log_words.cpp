#include "cli/log_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "cli/session.hpp"
#include "io/json_text.hpp"

namespace backplan::cli {
namespace {

constexpr const char* kHelp = "`backplan log --help` has examples";

// The options that go with each kind of entry, by the key of the journal.
const std::map<std::string, std::vector<std::string>>& allowed_keys() {
  static const std::map<std::string, std::vector<std::string>> keys{
      {"work", {"date", "minutes", "sets", "in_reserve", "distance", "time", "hard", "effort", "note"}},
      {"result", {"date", "setting", "first", "note"}},
      {"missed", {"date", "reason", "note"}},
      {"pain", {"date", "level", "night", "limp", "note"}},
      {"void", {"note"}},
      {"import", {"work", "date", "distance", "time", "hard", "effort", "note"}}};
  return keys;
}

void require_fitting(const LogOptions& options, const std::string& kind, const std::string& what) {
  const auto& keys = allowed_keys().at(kind);
  const auto judge = [&](const std::string& key) {
    if (std::find(keys.begin(), keys.end(), key) != keys.end()) return;
    std::vector<std::string> names;
    for (const std::string& one : keys) names.push_back(one == "work" ? "--work" : option_of(one));
    throw UsageError(fmt::format("{} does not go with {}", key == "work" ? "--work" : option_of(key), what),
                     names.empty() ? kHelp : fmt::format("these do: {}", fmt::join(names, ", ")));
  };
  for (const auto& [key, value] : options.values) judge(key);
  for (const std::string& key : options.flags) judge(key);
  if (!options.sets.empty()) judge("sets");
  if (!options.in_reserve.empty()) judge("in_reserve");
}

void require_words(const std::vector<std::string>& words, std::size_t count, const char* form) {
  if (words.size() == count) return;
  throw UsageError(words.size() < count ? fmt::format("something is missing after \"{}\"", words.back())
                                        : fmt::format("unexpected word \"{}\"", words[count]),
                   fmt::format("write `backplan log {}`", form));
}

std::string joined(const std::vector<std::string>& words, std::size_t from) {
  std::string text;
  for (std::size_t i = from; i < words.size(); ++i) text += (i > from ? " " : "") + words[i];
  return text;
}

[[noreturn]] void refuse_first_word(const std::string& word, std::vector<std::string> known) {
  for (const char* verb : {"result", "missed", "pain", "void", "replace", "import"}) known.emplace_back(verb);
  const auto near = io::nearest_word(word, known);
  throw UsageError(fmt::format("unknown work \"{}\"", word),
                   near ? fmt::format("did you mean \"{}\"? {}", *near, kHelp)
                        : fmt::format("there are: {}", fmt::join(known, ", ")));
}

// The words of an entry that is no correction: "deadlift", "result HRP 31", ...
io::EntryWords entry_words(const std::vector<std::string>& words, const LogOptions& options,
                           const std::vector<std::string>& work_words) {
  io::EntryWords entry;
  std::string kind = "work";
  if (words.front() == "result") {
    kind = "result";
    require_words(words, 3, "result EVENT VALUE");
    entry.fields["event"] = words[1];
    entry.fields["value"] = words[2];
  } else if (words.front() == "missed") {
    kind = "missed";
    require_words(words, 1, "missed --reason WHY");
  } else if (words.front() == "pain") {
    kind = "pain";
    if (words.size() < 2) require_words(words, 2, "pain WHERE --level N");
    entry.fields["where"] = joined(words, 1);
  } else {
    const bool known = std::find(work_words.begin(), work_words.end(), words.front()) != work_words.end();
    if (!known) refuse_first_word(words.front(), work_words);
    require_words(words, 1, (words.front() + " --minutes N").c_str());
    entry.fields["work"] = words.front();
  }
  require_fitting(options, kind, kind == "work" ? words.front() : kind);
  entry.fields["kind"] = kind;
  for (const auto& [key, value] : options.values) entry.fields[key] = value;
  for (const std::string& key : options.flags) entry.fields[key] = "true";
  entry.sets = options.sets;
  entry.in_reserve = options.in_reserve;
  return entry;
}

}  // namespace

std::string option_of(const std::string& key) {
  if (key == "sets") return "--set";
  if (key == "in_reserve") return "--in-reserve";
  if (key == "event") return "EVENT";
  if (key == "value") return "VALUE";
  if (key == "where") return "WHERE";
  if (key == "work") return "WORK";
  if (key == "of") return "ID";
  return "--" + key;
}

LogOrder read_order(const LogOptions& options, const std::vector<std::string>& work_words) {
  const auto& words = options.words;
  LogOrder order;
  if (options.list) {
    if (!words.empty()) throw UsageError("--list shows all that is logged; it takes no words", kHelp);
    order.kind = LogOrder::Kind::list;
    return order;
  }
  if (words.empty()) throw UsageError("what was done?", kHelp);
  const bool imports = words.front() == "import";
  if (options.dry_run && !imports) throw UsageError("--dry-run goes with `log import`", kHelp);
  if (words.front() == "void" || imports) {
    require_words(words, 2, imports ? "import FILE" : "void ID");
    require_fitting(options, words.front(), words.front());
    order.kind = imports ? LogOrder::Kind::import : LogOrder::Kind::voids;
    order.target = words[1];
    if (const auto note = options.values.find("note"); note != options.values.end()) {
      order.words.fields["note"] = note->second;
    }
    return order;
  }
  if (words.front() != "replace") {
    order.words = entry_words(words, options, work_words);
    return order;
  }
  if (words.size() < 3) require_words(words, 3, "replace ID WORK ...");
  order.kind = LogOrder::Kind::replaces;
  order.target = words[1];
  const std::vector<std::string> rest(words.begin() + 2, words.end());
  order.words = entry_words(rest, options, work_words);
  order.words.fields["as"] = order.words.fields["kind"];
  order.words.fields["kind"] = "replace";
  return order;
}

}  // namespace backplan::cli
