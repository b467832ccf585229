#include "cli/run.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <functional>
#include <map>
#include <ostream>
#include <utility>

#include "cli/commands.hpp"
#include "cli/description.hpp"
#include "cli/help.hpp"
#include "cli/session.hpp"
#include "cli/words.hpp"
#include "io/json_text.hpp"
#include "store/failures.hpp"

namespace backplan::cli {
namespace {

void add_common(CLI::App& app, Words& words) {
  app.add_option("-C", words.folder);
  app.add_option("--as-of", words.as_of);
  app.add_flag("--json", words.json);
  app.add_flag("-h,--help", words.help);
  app.add_flag("-V,--version", words.version);
}

void add_standard(CLI::App& app, Words& words) {
  CLI::App& standard = *app.add_subcommand("standard");
  standard.require_subcommand(0, 1);
  standard.add_subcommand("list");
  CLI::App& show = *standard.add_subcommand("show");
  show.add_option("id", words.standard.id);
  CLI::App& check = *standard.add_subcommand("check");
  CLI::App& import = *standard.add_subcommand("import");
  import.add_flag("--trust-file", words.standard.trust_file);
  for (CLI::App* command : {&check, &import}) {
    command->add_option("file", words.standard.file);
    command->add_option("--standard", words.standard.id);
  }
  for (CLI::App* command : {&show, &check, &import}) {
    command->add_option("--event", words.standard.event);
    command->add_option("--column", words.standard.column);
  }
}

void add_log(CLI::App& app, Words& words) {
  CLI::App& log = *app.add_subcommand("log");
  log.add_option("words", words.log.words);
  for (const char* name :
       {"date", "minutes", "distance", "time", "effort", "setting", "reason", "level", "note", "work"}) {
    const std::string key = name;
    log.add_option_function<std::string>(
        "--" + key, [&words, key](const std::string& text) { words.log.values[key] = text; });
  }
  for (const char* name : {"hard", "first", "night", "limp"}) {
    const std::string key = name;
    log.add_flag_callback("--" + key, [&words, key] { words.log.flags.push_back(key); });
  }
  // One value each time, so that the next word is not taken for another set.
  log.add_option("--set", words.log.sets)->expected(1)->take_all();
  log.add_option("--in-reserve", words.log.in_reserve)->expected(1)->take_all();
  log.add_flag("--list", words.log.list);
  log.add_flag("--dry-run", words.log.dry_run);
  log.add_flag("--sure", words.log.sure);
}

void add_export(CLI::App& app, Words& words) {
  CLI::App& exports = *app.add_subcommand("export");
  exports.require_subcommand(0, 1);
  CLI::App& html = *exports.add_subcommand("html");
  CLI::App& ics = *exports.add_subcommand("ics");
  ics.add_option("--at", words.at);
  ics.add_flag("--alarms", words.alarms);
  ics.add_option("--person", words.person);
  CLI::App& csv = *exports.add_subcommand("csv");
  csv.add_flag("--bom", words.mark);
  CLI::App& xlsx = *exports.add_subcommand("xlsx");
  for (CLI::App* command : {&html, &xlsx}) command->add_option("--week", words.week);
  for (CLI::App* command : {&html, &ics, &csv, &xlsx}) command->add_option("-o,--output", words.output);
}

void add_testday(CLI::App& app, TestDayOptions& options) {
  CLI::App& testday = *app.add_subcommand("testday");
  testday.add_option("--heat", options.heat);
  testday.add_option("--altitude", options.altitude);
  testday.add_option("--rest", options.rest);
  testday.add_option("--rest-before-last", options.rest_before_last);
  testday.add_option("--aim", options.aims)->expected(1)->take_all();
}

void add_init(CLI::App& app, InitOptions& options) {
  CLI::App& init = *app.add_subcommand("init");
  for (const char* name :
       {"standard", "test-date", "id", "birth-date", "column", "category", "target", "background",
        "results-date", "setting", "week", "medical", "cleared-on", "profile-until"}) {
    const std::string key = name;
    init.add_option_function<std::string>(
        "--" + key, [&options, key](const std::string& text) { options.values[key] = text; });
  }
  init.add_option("--result", options.results)->expected(1)->take_all();
  init.add_flag("--defaults", options.defaults);
}

void add_squad(CLI::App& app, Words& words) {
  CLI::App& squad = *app.add_subcommand("squad");
  squad.require_subcommand(0, 1);
  squad.add_option("--pooling", words.pooling);
  squad.add_subcommand("check");
  squad.add_subcommand("week")->add_option("week", words.week);
  squad.add_subcommand("morning")->add_option("date", words.date);
  squad.add_subcommand("card")->add_option("id", words.squad.word);
  CLI::App& log = *squad.add_subcommand("log");
  log.add_option("file", words.squad.word);
  log.add_flag("--dry-run", words.squad.dry_run);
  log.add_flag("--sure", words.squad.sure);
  squad.add_subcommand("replan")->add_option("--pooling", words.pooling);
  CLI::App& extract = *squad.add_subcommand("extract");
  extract.add_option("id", words.squad.word);
  extract.add_option("folder", words.squad.folder);
  squad.add_subcommand("take")->add_option("folder", words.squad.word);
}

void add_commands(CLI::App& app, Words& words) {
  // Subcommands inherit these two: what they do not know goes up, and what nobody knows is told
  // with a suggestion of our own.
  app.fallthrough();
  app.allow_extras();
  app.require_subcommand(0, 1);
  for (const char* plain : {"score", "yield", "plan", "replan"}) app.add_subcommand(plain);
  CLI::App& show = *app.add_subcommand("show");
  show.add_option("--week", words.week);
  show.add_option("--date", words.date);
  show.add_flag("--today", words.today);
  show.add_flag("--assumptions", words.assumptions);
  show.add_flag("--all", words.all);
  add_export(app, words);
  add_standard(app, words);
  add_log(app, words);
  add_testday(app, words.test_day);
  add_init(app, words.init);
  app.add_subcommand("completion")->add_option("shell", words.shell);
  CLI::App& man = *app.add_subcommand("man");
  man.add_option("words", words.man.words);
  man.add_flag("--list", words.man.list);
  add_squad(app, words);
  app.add_subcommand("batch")->add_option("--jobs", words.jobs);
}

// The deepest command that was named, and its words: "standard import".
std::pair<const CLI::App*, std::string> named_command(const CLI::App& app) {
  const CLI::App* at = &app;
  std::string name;
  while (!at->get_subcommands().empty()) {
    at = at->get_subcommands().front();
    name += (name.empty() ? "" : " ") + at->get_name();
  }
  return {at, name};
}

std::vector<std::string> option_names(const CLI::App* app) {
  std::vector<std::string> names;
  for (; app != nullptr; app = app->get_parent()) {
    for (const CLI::Option* option : app->get_options()) {
      for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
      for (const std::string& name : option->get_snames()) names.push_back("-" + name);
    }
  }
  return names;
}

std::vector<std::string> command_names(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(command->get_name());
  }
  return names;
}

// Refuses the first word that nobody asked for.
void refuse_extras(const CLI::App& app, const CLI::App& command, const std::string& name) {
  const std::vector<std::string> extras = app.remaining(true);
  if (extras.empty()) return;
  const std::string& extra = extras.front();
  const std::string help = name.empty() ? "`backplan --help`" : fmt::format("`backplan {} --help`", name);
  const bool option = extra.front() == '-';
  const std::vector<std::string> known = option ? option_names(&command) : command_names(command);
  const auto near = io::nearest_word(extra, known);
  const std::string hint = near ? fmt::format("did you mean \"{}\"? {} lists all", *near, help)
                                : fmt::format("{} lists what there is", help);
  if (option) throw UsageError(fmt::format("unknown option \"{}\"", extra), hint);
  if (known.empty()) throw UsageError(fmt::format("unexpected word \"{}\"", extra), hint);
  throw UsageError(fmt::format("unknown command \"{}\"", extra), hint);
}

int dispatch(const std::string& command, const Words& words, const Session& session) {
  using Kind = ExportOptions::Kind;
  const std::map<std::string, std::function<int()>> commands{
      {"score", [&] { return score(session); }},
      {"yield", [&] { return yield(session); }},
      {"plan", [&] { return plan(session); }},
      {"replan", [&] { return replan(session); }},
      {"show", [&] { return show(session, show_options(words)); }},
      {"export html", [&] { return export_plan(session, export_options(Kind::html, words, command)); }},
      {"export ics", [&] { return export_plan(session, export_options(Kind::ics, words, command)); }},
      {"export csv", [&] { return export_plan(session, export_options(Kind::csv, words, command)); }},
      {"export xlsx", [&] { return export_plan(session, export_options(Kind::xlsx, words, command)); }},
      {"log", [&] { return log(session, words.log); }},
      {"init", [&] { return init(session, words.init); }},
      {"completion", [&] { return completion(session, words.shell); }},
      {"man", [&] { return man(session, words.man); }},
      {"testday", [&] { return testday(session, words.test_day); }},
      {"standard list", [&] { return standard_list(session); }},
      {"standard show", [&] { return standard_show(session, standard_options(words, command)); }},
      {"standard check", [&] { return standard_check(session, standard_options(words, command)); }},
      {"standard import", [&] { return standard_import(session, standard_options(words, command)); }},
      {"squad", [&] { return squad(session, squad_options(words, command)); }},
      {"squad check", [&] { return squad_check(session); }},
      {"squad week", [&] { return squad_week(session, squad_options(words, command)); }},
      {"squad morning", [&] { return squad_morning(session, squad_options(words, command)); }},
      {"squad card", [&] { return squad_card(session, squad_options(words, command)); }},
      {"squad log", [&] { return squad_log(session, squad_options(words, command)); }},
      {"squad replan", [&] { return squad_replan(session, squad_options(words, command)); }},
      {"squad extract", [&] { return squad_extract(session, squad_options(words, command)); }},
      {"squad take", [&] { return squad_take(session, squad_options(words, command)); }},
      {"batch", [&] { return batch(session, batch_options(words)); }},
  };
  const auto found = commands.find(command);
  if (found != commands.end()) return found->second();
  throw UsageError(
      command.empty() ? "no command was given" : fmt::format("{}: what about it?", command),
      fmt::format("`backplan {}--help` lists the commands", command.empty() ? "" : command + " "));
}

void describe(const CLI::App& app, const std::string& name, std::vector<CommandDescription>& all) {
  CommandDescription out;
  out.name = name;
  out.summary = summary_of(name);
  out.commands = command_names(app);
  for (const CLI::Option* option : app.get_options()) {
    OptionDescription one;
    for (const std::string& word : option->get_snames()) one.names.push_back("-" + word);
    for (const std::string& word : option->get_lnames()) one.names.push_back("--" + word);
    one.takes_value = option->get_items_expected_max() > 0;
    if (one.names.empty()) {
      out.operands.push_back(option->get_name());
    } else {
      out.options.push_back(std::move(one));
    }
  }
  all.push_back(std::move(out));
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    describe(*command, (name.empty() ? "" : name + " ") + command->get_name(), all);
}

// An option that takes one value and has got more; null where none has.
const CLI::Option* given_again(const CLI::App& app) {
  for (const CLI::Option* option : app.get_options()) {
    if (option->get_multi_option_policy() == CLI::MultiOptionPolicy::Throw &&
        option->get_items_expected_max() == 1 && option->count() > 1)
      return option;
  }
  for (const CLI::App* command : app.get_subcommands()) {
    if (const CLI::Option* found = given_again(*command); found != nullptr) return found;
  }
  return nullptr;
}

// What the parser refuses, in our words where we have some.
[[noreturn]] void refuse_words(const CLI::App& app, const CLI::ParseError& fault) {
  const CLI::Option* twice = given_again(app);
  if (twice == nullptr) throw UsageError(fault.what(), "`backplan --help` lists commands and options");
  const std::string times = twice->count() == 2 ? "twice" : fmt::format("{} times", twice->count());
  throw UsageError(fmt::format("{} was given {}", twice->get_name(), times), "give it once");
}

int run_or_throw(const std::vector<std::string>& arguments, Streams streams, const Environment& environment) {
  Words words;
  CLI::App app;
  app.set_help_flag();
  add_common(app, words);
  add_commands(app, words);
  try {
    app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));  // it takes them from the back
  } catch (const CLI::ParseError& fault) {
    refuse_words(app, fault);
  }
  const auto [command, name] = named_command(app);
  refuse_extras(app, *command, name);
  if (words.help) {
    streams.out << help_for(name);
    return kExitDone;
  }
  if (words.version) {
    streams.out << "backplan " << BACKPLAN_VERSION << '\n';
    return kExitDone;
  }
  const Date as_of = words.as_of.empty() ? environment.today : date_of(words.as_of, "--as-of");
  const Session session{words.folder, as_of, words.json ? Output::json : Output::text, streams, environment};
  return dispatch(name, words, session);
}

}  // namespace

std::vector<CommandDescription> describe_commands() {
  Words words;
  CLI::App app;
  app.set_help_flag();
  add_common(app, words);
  add_commands(app, words);
  std::vector<CommandDescription> all;
  describe(app, "", all);
  return all;
}

int run(const std::vector<std::string>& arguments, Streams streams, const Environment& environment) {
  const int code = code_of([&] { return run_or_throw(arguments, streams, environment); }, streams.err);
  streams.out.flush();
  if (streams.out || code == store::kExitIoFailure) return code;  // which has been told
  tell_failure(kCannotAnswer, {}, streams.err);
  return store::kExitIoFailure;
}

}  // namespace backplan::cli
