#include <fmt/format.h>
#include <gtest/gtest.h>

#include <istream>
#include <ostream>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

#include "backplan/replan.hpp"
#include "cli/description.hpp"
#include "cli/help.hpp"
#include "cli/run.hpp"
#include "io/ical.hpp"
#include "io/json_write.hpp"
#include "report/words.hpp"
#include "support/command.hpp"
#include "support/full_disk.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan::cli {
namespace {

using support::Answer;
using support::army_candidate;
using support::holds;
using support::replaced;
using support::run_command;
using test::TemporaryFolder;

std::string one_line(std::string text) {
  for (char& byte : text) byte = byte == '\n' ? ' ' : byte;
  return text + '\n';
}

TEST(Usage, WithoutACommandIsAnError) {
  const Answer answer = run_command({});
  EXPECT_EQ(answer.code, 2);
  EXPECT_EQ(answer.err, "error: no command was given\nhint: `backplan --help` lists the commands\n");
  EXPECT_EQ(answer.out, "");
}

TEST(Usage, SuggestsTheNearestCommand) {
  const Answer answer = run_command({"scor"});
  EXPECT_EQ(answer.code, 2);
  EXPECT_EQ(answer.err,
            "error: unknown command \"scor\"\nhint: did you mean \"score\"? `backplan --help` lists all\n");
}

TEST(Usage, SuggestsTheNearestOption) {
  const Answer answer = run_command({"plan", "--as-off", "2026-12-01"});
  EXPECT_EQ(answer.code, 2);
  EXPECT_EQ(answer.err,
            "error: unknown option \"--as-off\"\nhint: did you mean \"--as-of\"? `backplan plan --help` "
            "lists all\n");
}

TEST(Usage, RefusesWhatIsLeftOver) {
  EXPECT_EQ(run_command({"score", "plan"}).code, 2);
  EXPECT_EQ(run_command({"standard", "lst"}).code, 2);
  EXPECT_EQ(run_command({"standard"}).code, 2);
  EXPECT_EQ(run_command({"plan", "-C"}).code, 2);
  EXPECT_EQ(run_command({"plan", "--as-of", "2026-2-1"}).code, 2);
  EXPECT_EQ(run_command({"plan", "--as-of", "2026-02-29"}).code, 2);
  EXPECT_EQ(run_command({"show", "--week", "0"}).code, 2);
  EXPECT_EQ(run_command({"show", "--week", "99999999999"}).code, 2);
  EXPECT_EQ(run_command({"show", "--week", "1", "--all"}).code, 2);
  EXPECT_EQ(run_command({"batch", "--jobs", "two"}).code, 2);
  EXPECT_EQ(run_command({"standard", "check", "--standard", "us-army-aft"}).code, 2);
  EXPECT_EQ(run_command({"standard", "check", "x", "--standard", "us-army-aft", "--event", "MDL"}).code, 2);
}

TEST(Usage, AnOptionGivenTwiceIsToldInPlainWords) {
  const Answer twice = run_command({"plan", "--as-of", "2026-12-01", "--as-of", "2026-12-02"});
  EXPECT_EQ(twice.code, 2);
  EXPECT_EQ(twice.err, "error: --as-of was given twice\nhint: give it once\n");
  const Answer deep = run_command({"export", "html", "-o", "a", "--output", "b", "-o", "c"});
  EXPECT_EQ(deep.code, 2);
  EXPECT_EQ(deep.err, "error: --output was given 3 times\nhint: give it once\n");
}

TEST(Usage, SaysWhatToWriteInThePlaceOfAWrongNumberOrWord) {
  for (const auto& words : std::vector<std::vector<std::string>>{{"squad", "week", "0"},
                                                                 {"show", "--week", "0"},
                                                                 {"export", "html", "-o", "-", "--week", "x"},
                                                                 {"squad", "--pooling", "maybe"},
                                                                 {"batch", "--jobs", "0"}}) {
    const Answer answer = run_command(words);
    EXPECT_EQ(answer.code, 2) << words[0];
    EXPECT_TRUE(holds(answer.err, "\nhint: ")) << answer.err;
  }
}

TEST(Help, FitsOnAPageOfAHundredColumns) {
  for (const HelpText& help : help_texts()) {
    std::istringstream lines{std::string(help.text)};
    for (std::string line; std::getline(lines, line);)
      EXPECT_LE(report::width_of(line), report::kPageWidth) << help.command << ": " << line;
  }
}

TEST(Help, SaysTheFiguresThatTheProgramHas) {
  const auto one_line_of = [](const char* command) { return one_line(std::string(help_for(command))); };
  EXPECT_TRUE(holds(one_line_of("export ics"), fmt::format("{} minutes before, or at {} in the morning",
                                                           io::kAlarmMinutesBefore, io::kAlarmHour)));
  EXPECT_TRUE(
      holds(one_line_of("replan"), fmt::format("today and the next {} days stay too", kSteadyDays - 1)));
}

TEST(Help, BeginsWithExamplesForEveryCommand) {
  for (const HelpText& help : help_texts()) {
    std::vector<std::string> arguments;
    std::istringstream words{std::string(help.command)};
    for (std::string word; words >> word;) arguments.push_back(word);
    arguments.emplace_back("--help");
    const Answer answer = run_command(arguments);
    EXPECT_EQ(answer.code, 0) << help.command;
    EXPECT_EQ(answer.out, help.text);
    EXPECT_TRUE(holds(answer.out.substr(0, 80), "  backplan ")) << help.command;
  }
}

// An option that a help text names and the program does not know would be a false promise.
TEST(Help, NamesOnlyOptionsThatThereAre) {
  const std::regex option("--[a-z-]+");
  for (const HelpText& help : help_texts()) {
    if (help.command == "standard" || help.command.empty()) continue;
    const std::string text(help.text.substr(help.text.rfind("Options:")));
    for (std::sregex_iterator found(text.begin(), text.end(), option), end; found != end; ++found) {
      std::vector<std::string> arguments;
      std::istringstream words{std::string(help.command)};
      for (std::string word; words >> word;) arguments.push_back(word);
      arguments.push_back(found->str() + "x");
      EXPECT_TRUE(holds(run_command(arguments).err, "did you mean \"" + found->str() + "\"")) << found->str();
    }
  }
}

// The other way about: an option that no help text names could not be found.
TEST(Help, NamesEveryOption) {
  const auto all = describe_commands();
  ASSERT_GT(all.size(), 10U);
  const std::string program(help_for(""));
  for (const CommandDescription& command : all) {
    const std::string help(help_for(command.name));
    for (const OptionDescription& option : command.options) {
      for (const std::string& name : option.names)
        EXPECT_TRUE(holds(help, name)) << command.name << ' ' << name;
    }
    EXPECT_FALSE(command.summary.empty()) << command.name;
    EXPECT_LE(command.summary.size(), 80U) << command.name;
    EXPECT_TRUE(command.name.empty() || holds(command.name, " ") ||
                holds(program, "backplan " + command.name));
  }
}

// A page without its requests and escapes is the text of --help, word for word.
std::vector<std::string> words_of_page(const std::string& page) {
  std::string text;
  std::istringstream lines(page);
  bool inside = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind(".SH ", 0) == 0)
      inside = line != ".SH NAME" && line != ".SH SYNOPSIS" && line != ".SH SEE ALSO";
    if (!inside || line.front() == '.') continue;
    text += line + '\n';
  }
  text = std::regex_replace(text, std::regex(R"(\\&)"), "");
  text = std::regex_replace(text, std::regex(R"(\\-)"), "-");
  text = std::regex_replace(text, std::regex(R"(\\e)"), "\\");
  std::vector<std::string> words;
  std::istringstream stream(text);
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

TEST(ManPages, SayWhatHelpSays) {
  for (const CommandDescription& command : describe_commands()) {
    std::vector<std::string> arguments{"man"};
    std::istringstream name(command.name);
    for (std::string word; name >> word;) arguments.push_back(word);
    const Answer answer = run_command(arguments);
    ASSERT_EQ(answer.code, 0) << answer.err;
    std::string help(help_for(command.name));
    if (const std::size_t at = help.rfind("\nOptions: "); at != std::string::npos) help.erase(at, 10);
    std::vector<std::string> words;
    std::istringstream stream(help);
    for (std::string word; stream >> word;) words.push_back(word);
    EXPECT_EQ(words_of_page(answer.out), words) << command.name;
    for (const char* section : {".TH BACKPLAN", ".SH NAME", ".SH SYNOPSIS", ".SH EXAMPLES", ".SH OPTIONS"})
      EXPECT_TRUE(holds(answer.out, section)) << command.name;
  }
}

TEST(ManPages, AreListedForWhoInstallsThem) {
  const Answer answer = run_command({"man", "--list"});
  EXPECT_TRUE(holds(answer.out, "backplan.1\n"));
  EXPECT_TRUE(holds(answer.out, "backplan-standard-import.1 standard import\n"));
  EXPECT_EQ(run_command({"man", "nothing"}).code, 2);
}

TEST(Completion, IsForThreeShells) {
  EXPECT_EQ(run_command({"completion"}).code, 2);
  EXPECT_EQ(run_command({"completion", "csh"}).code, 2);
  for (const char* shell : {"bash", "zsh", "fish"}) EXPECT_EQ(run_command({"completion", shell}).code, 0);
}

// https://no-color.org asks for a way to have no colours: there are none at all.
TEST(Output, HasNoColours) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  for (const char* command : {"score", "yield", "testday", "plan", "show"}) {
    const Answer answer = run_command({command, "-C", folder.path().string()});
    EXPECT_EQ((answer.out + answer.err).find('\x1b'), std::string::npos) << command;
  }
}

TEST(Version, IsOneLine) {
  const Answer answer = run_command({"-V"});
  EXPECT_EQ(answer.code, 0);
  EXPECT_TRUE(std::regex_match(answer.out, std::regex("backplan [0-9]+\\.[0-9]+\\.[0-9]+\n")));
}

TEST(MissingFiles, SayWhatToDo) {
  const TemporaryFolder folder;
  for (const std::string command : {"score", "yield", "plan"}) {
    const Answer answer = run_command({command, "-C", folder.path().string()});
    EXPECT_EQ(answer.code, 66) << command;
    EXPECT_TRUE(holds(answer.err, "candidate.json: No such file or directory\nhint: `backplan init` asks"))
        << answer.err;
    EXPECT_EQ(folder.names(), "");
  }
  const Answer answer = run_command({"show", "-C", folder.path().string()});
  EXPECT_EQ(answer.code, 66);
  EXPECT_TRUE(holds(answer.err, "hint: `backplan plan` makes the plan")) << answer.err;
}

TEST(BadData, TellsAllFaultsAtOnceAndWritesNothing) {
  const TemporaryFolder folder;
  std::string text = replaced(army_candidate(), "\"170 lb\"", "\"9000 lb\"");
  text = replaced(text, "\"2:20\"", "\"two\"");
  folder.write("candidate.json", text);
  const Answer answer = run_command({"plan", "-C", folder.path().string()});
  EXPECT_EQ(answer.code, 65);
  EXPECT_EQ(answer.out, "");
  EXPECT_TRUE(std::regex_search(
      answer.err, std::regex("candidate\\.json:4:[0-9]+: error: [^\n]*\\(at /results/0/value\\)\nhint: ")))
      << answer.err;
  EXPECT_TRUE(holds(answer.err, "(at /results/2/value)")) << answer.err;
  EXPECT_EQ(folder.names(), "candidate.json");
}

TEST(BadData, ComesAsJsonTooWhereJsonWasAskedFor) {
  const TemporaryFolder folder;
  folder.write("candidate.json", "{ \"format\": \"backplan-candidate/1\" ");
  const Answer answer = run_command({"score", "--json", "-C", folder.path().string()});
  EXPECT_EQ(answer.code, 65);
  EXPECT_FALSE(io::Json::parse(answer.out)["errors"].empty());
}

TEST(BadData, AnUnknownStandardIsToldAtItsPlaceWithTheKnownOnes) {
  const TemporaryFolder folder;
  folder.write("candidate.json", replaced(army_candidate(), "us-army-aft", "us-army-atf"));
  const Answer answer = run_command({"score", "-C", folder.path().string()});
  EXPECT_EQ(answer.code, 65);
  EXPECT_TRUE(
      holds(answer.err, "candidate.json:2:15: error: unknown standard \"us-army-atf\" (at /standard)"))
      << answer.err;
  EXPECT_TRUE(holds(answer.err, "did you mean \"us-army-aft\"?")) << answer.err;
}

TEST(BadData, AHundredMegabyteFileIsRefusedUnread) {
  const TemporaryFolder folder;
  const auto file = folder.write("candidate.json", "");
  std::filesystem::resize_file(file, 100U << 20U);
  const Answer answer = run_command({"score", "-C", folder.path().string()});
  EXPECT_EQ(answer.code, 65);
  EXPECT_TRUE(holds(answer.err, "the file is larger than 16 MB")) << answer.err;
}

TEST(Score, SaysPointsVerdictAndTheNextRow) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const Answer answer = run_command({"score", "-C", folder.path().string()});
  EXPECT_EQ(answer.err, "");
  EXPECT_EQ(answer.code, 0) << answer.out;
  EXPECT_TRUE(holds(answer.out, "age 28 on Mon 8 Mar 2027")) << answer.out;
  EXPECT_TRUE(holds(answer.out, "(yours): would pass, total ")) << answer.out;
  EXPECT_TRUE(holds(answer.out, " more)")) << answer.out;
}

TEST(Score, OfRecordPassesWithoutAWould) {
  const TemporaryFolder folder;
  folder.write("candidate.json", std::regex_replace(army_candidate(), std::regex("practice"), "record"));
  const Answer answer = run_command({"score", "-C", folder.path().string()});
  EXPECT_TRUE(holds(answer.out, "(yours): passes, total ")) << answer.out;
  EXPECT_FALSE(holds(answer.out, "would"));
}

TEST(Score, CountsResultsOfTheJournalAsTheyStandThatDay) {
  const TemporaryFolder folder;
  const std::string path = folder.path().string();
  folder.write("candidate.json", army_candidate());
  const auto run = [&](std::vector<std::string> words, const std::string& day) {
    words.insert(words.end(), {"-C", path, "--as-of", day});
    return run_command(words, {}, {}, support::Ids::counted);
  };
  const auto row = [&](const std::string& day) {
    const std::string all = run({"score"}, day).out;
    const std::size_t at = all.find("(HRP)");
    return all.substr(at, all.find('\n', at) - at);
  };
  ASSERT_EQ(run({"log", "result", "HRP", "41", "--setting", "record"}, "2026-12-05").code, 0);
  EXPECT_TRUE(holds(row("2026-12-05"), " 41  Sat 5 Dec 2026 ")) << row("2026-12-05");
  EXPECT_TRUE(holds(row("2026-12-05"), " record ")) << row("2026-12-05");
  EXPECT_FALSE(holds(row("2026-12-04"), " 41 ")) << "logged for a later day";
  const std::string id =
      io::Json::parse(run({"log", "--list", "--json"}, "2026-12-05").out)["entries"][0]["id"];
  ASSERT_EQ(run({"log", "void", id}, "2026-12-06").code, 0);
  EXPECT_FALSE(holds(row("2026-12-06"), " 41 ")) << row("2026-12-06");
}

TEST(Score, ExitsWithOneWhenAnEventFails) {
  const TemporaryFolder folder;
  folder.write("candidate.json", replaced(army_candidate(), "\"18:30\"", "\"27:30\""));
  const Answer answer = run_command({"score", "--json", "-C", folder.path().string()});
  EXPECT_EQ(answer.code, 1);
  EXPECT_EQ(io::Json::parse(answer.out)["pass"], false);
}

TEST(Score, OfAnAlternateIsThatWhichHasAResult) {
  const TemporaryFolder folder;
  folder.write("candidate.json", R"({ "format": "backplan-candidate/1", "id": "A", "birth_date": "1984-03-03",
    "column": "female", "standard": "us-army-alternate-aerobic", "test_date": "2027-03-08",
    "target": { "each": 1 }, "week": { "mon": 45, "wed": 45, "fri": 45 },
    "results": [{ "date": "2026-11-15", "event": "ROW", "value": "26:00", "setting": "practice" }] })");
  const Answer answer = run_command({"score", "-C", folder.path().string()});
  EXPECT_TRUE(holds(answer.out, "26:00")) << answer.out << answer.err;
  EXPECT_FALSE(holds(answer.out, "WALK")) << answer.out;
}

TEST(Plan, LeavesOutWhatPainHasTakenOffThoughNothingElseIsLogged) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const std::string path = folder.path().string();
  ASSERT_EQ(run_command({"log", "pain", "lower back", "--level", "5", "-C", path}).code, 0);
  ASSERT_LE(run_command({"plan", "-C", path}).code, 1);
  const std::string plan = folder.read("plan.json");
  EXPECT_TRUE(holds(plan, "\"work\": \"push_up\""));
  const io::Json json = io::Json::parse(plan);
  for (const io::Json& week : json["weeks"]) {
    for (const io::Json& day : week["days"]) {
      for (const io::Json& block : day["blocks"]) EXPECT_NE(block["work"], "deadlift") << day["date"];
    }
  }
}

TEST(Yield, NamesThePainThatTakesWorkOffAndAdvisesOther) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const std::string path = folder.path().string();
  ASSERT_EQ(run_command({"log", "pain", "lower back", "--level", "5", "-C", path}).code, 0);
  const std::string text = one_line(run_command({"yield", "-C", path}).out);
  EXPECT_TRUE(std::regex_search(text, std::regex("not\\s+possible\\s+now\\s+\\(pain:\\s+back\\)"))) << text;
  const std::size_t table = text.find("By event");
  EXPECT_EQ(text.find("deadlift day, ", table), std::string::npos) << "advised against the pain";
}

TEST(Yield, SaysWhenItIsTooLate) {
  const TemporaryFolder folder;
  folder.write("candidate.json", replaced(army_candidate(), "2027-03-08", "2026-12-03"));
  const Answer answer = run_command({"yield", "-C", folder.path().string()});
  EXPECT_TRUE(holds(answer.out, "too late to gain anything by the test")) << answer.out << answer.err;
  EXPECT_FALSE(holds(answer.out, "little left to gain")) << answer.out;
}

std::string pregnant_candidate() {
  return replaced(army_candidate(), "\"week\"", "\"medical\": {\"status\": \"pregnant\"}, \"week\"");
}

// No command contradicts the refusal with a chance, a total or advice.
TEST(Refusal, IsAllThatAnyCommandSaysOfTraining) {
  const TemporaryFolder folder;
  folder.write("candidate.json", pregnant_candidate());
  const std::string where = folder.path().string();
  const std::string why = "no plan during pregnancy";
  const auto judge = [&](std::vector<std::string> words, int code, const std::string& says) {
    const std::string name = words[0] + ' ' + words.back();
    words.insert(words.end(), {"-C", where});
    const Answer answer = run_command(words);
    EXPECT_EQ(answer.code, code) << name;
    EXPECT_EQ(answer.err, "") << name;
    EXPECT_TRUE(holds(answer.out, says)) << name << '\n' << answer.out;
    for (const char* part : {"in 100", "in 10", "Total", "deadlift day", "\"p_pass\"", "points_per_hour\""})
      EXPECT_FALSE(holds(answer.out, part)) << name << ": " << part << '\n' << answer.out;
  };
  for (const char* command : {"plan", "yield", "replan", "show"}) {
    judge({command}, 1, why);
    judge({command, "--json"}, 1, why);
  }
  for (const char* part : {"--today", "--all"}) judge({"show", part}, 1, why);
  judge({"show", "--week", "3"}, 1, why);
  judge({"testday"}, 1, "No sheet: not during pregnancy");
  for (const char* kind : {"html", "csv"}) judge({"export", kind, "-o", "-"}, 0, why);
  judge({"export", "ics", "-o", "-"}, 0, "No plan is made");
  EXPECT_EQ(io::Json::parse(run_command({"show", "--json", "-C", where}).out)["weeks"], io::Json::array());
}

TEST(Refusal, ATestDaySheetAfterwardsSaysThatThereWasNoPlan) {
  const TemporaryFolder folder;
  folder.write("candidate.json", pregnant_candidate());
  const std::string where = folder.path().string();
  static_cast<void>(run_command({"plan", "-C", where}));
  folder.write("candidate.json", army_candidate());
  const Answer sheet = run_command({"testday", "-C", where});
  EXPECT_EQ(sheet.code, 0);
  EXPECT_TRUE(holds(sheet.err, "plan.json is of a day on which no plan was made")) << sheet.err;
}

TEST(Batch, NamesTheRefusalAndForetellsNothing) {
  const Answer answer = run_command({"batch"}, one_line(pregnant_candidate()));
  EXPECT_EQ(answer.code, 0);
  const io::Json line = io::Json::parse(answer.out);
  EXPECT_TRUE(holds(line["refused"][0], "no plan during pregnancy"));
  EXPECT_TRUE(line["outlook"].is_null());
  EXPECT_FALSE(holds(answer.out, "p_pass"));
}

TEST(Batch, AnswersEachLineInOrderWithTheSameBytesForAnyNumberOfJobs) {
  std::string input;
  for (int i = 0; i < 12; ++i) {
    input += one_line(replaced(army_candidate(), "A-07", "A-" + std::to_string(100 + i)));
    if (i % 4 == 0) input += "not json\n\n";
  }
  const Answer one = run_command({"batch", "--jobs", "1"}, input);
  const Answer many = run_command({"batch", "--jobs", "5"}, input);
  EXPECT_EQ(one.code, 0) << one.err;
  EXPECT_EQ(one.out, many.out);
  std::istringstream lines(one.out);
  std::vector<io::Json> answers;
  for (std::string line; std::getline(lines, line);) answers.push_back(io::Json::parse(line));
  ASSERT_EQ(answers.size(), 18U);
  EXPECT_EQ(answers[0]["id"], "A-100");
  EXPECT_TRUE(answers[0].contains("outlook"));
  EXPECT_TRUE(answers[0].contains("time"));
  EXPECT_EQ(answers[1]["id"], nullptr);
  EXPECT_TRUE(answers[1].contains("error"));
  EXPECT_EQ(answers[17]["id"], "A-111");
}

TEST(Batch, NamesTheCandidateWhoseLineHasFaults) {
  const std::string line = one_line(replaced(army_candidate(), "\"170 lb\"", "\"9000 lb\""));
  const Answer answer = run_command({"batch"}, line);
  EXPECT_EQ(answer.code, 0);
  const auto json = io::Json::parse(answer.out);
  EXPECT_EQ(json["id"], "A-07");
  EXPECT_TRUE(holds(json["error"], "(at /results/0/value)")) << json;
}

TEST(Batch, AnswersALineOfTwoMegabytesAndGoesOn) {
  const Answer answer =
      run_command({"batch"}, std::string(2U << 20U, 'x') + "\n" + one_line(army_candidate()));
  std::istringstream lines(answer.out);
  std::string first;
  std::string second;
  std::getline(lines, first);
  std::getline(lines, second);
  EXPECT_EQ(first, "{\"id\":null,\"error\":\"line 1 is longer than 1048576 bytes\"}");
  EXPECT_EQ(io::Json::parse(second)["id"], "A-07");
}

TEST(Plan, WritesAPlanThatShowReads) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const std::string here = folder.path().string();
  const Answer plan = run_command({"plan", "-C", here});
  EXPECT_TRUE(plan.code == 0 || plan.code == 1) << plan.err;
  EXPECT_EQ(plan.err, "");
  EXPECT_EQ(folder.names(), "candidate.json plan.json");
  EXPECT_EQ(io::Json::parse(folder.read("plan.json"))["enough"], plan.code == 0);
  for (const std::string part : {"--all", "--assumptions", "--today"}) {
    const Answer shown = run_command({"show", part, "-C", here});
    EXPECT_EQ(shown.code, 0) << shown.err;
    EXPECT_EQ(shown.err, "");
    EXPECT_EQ(run_command({"show", part, "--json", "-C", here}).code, 0);
  }
  EXPECT_TRUE(holds(run_command({"show", "-C", here}).out, "before the test"));
  EXPECT_EQ(run_command({"show", "--all", "--json", "-C", here}).out, folder.read("plan.json"));
  EXPECT_EQ(run_command({"show", "--week", "900", "-C", here}).code, 2);
  EXPECT_EQ(run_command({"show", "--date", "2027-03-08", "-C", here}).out.substr(0, 37),
            "A-07: Mon 8 Mar 2027\n  The test.\n\nCau");
}

TEST(Plan, GivesTheSameBytesTwice) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const Answer first = run_command({"plan", "--json", "-C", folder.path().string()});
  const Answer second = run_command({"plan", "--json", "-C", folder.path().string()});
  EXPECT_EQ(first.out, second.out);
  EXPECT_EQ(first.out, folder.read("plan.json"));
}

// The same past whichever command plans: what was planned so far counts, and its weeks stay in the file.
TEST(Plan, MadeAfreshRestsOnTheSamePastAsAReplan) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const auto run = [&](std::vector<std::string> words, const std::string& day) {
    for (const std::string& one : {std::string("-C"), folder.path().string(), std::string("--as-of"), day})
      words.push_back(one);
    return run_command(words).out;
  };
  static_cast<void>(run({"plan"}, "2026-12-01"));
  static_cast<void>(run({"log", "push_up", "--set", "15", "--minutes", "15"}, "2026-12-01"));
  const auto learnt = io::Json::parse(run({"replan", "--json"}, "2026-12-15")).at("learnt");
  const auto afresh = io::Json::parse(run({"plan", "--json"}, "2026-12-15"));
  EXPECT_EQ(afresh.at("weeks").front().at("starts"), "2026-12-01");
  EXPECT_EQ(io::Json::parse(run({"replan", "--json"}, "2026-12-15")).at("learnt"), learnt);
}

// `plan` notes what it was made from, as `replan` does: only what is logged later makes it old.
TEST(Plan, KnowsWhatWasDoneBeforeItWasMade) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const auto run = [&](std::vector<std::string> words) {
    for (const std::string& one :
         {std::string("-C"), folder.path().string(), std::string("--as-of"), std::string("2026-12-04")})
      words.push_back(one);
    return run_command(words);
  };
  static_cast<void>(run({"log", "result", "HRP", "35"}));
  static_cast<void>(run({"plan"}));
  EXPECT_EQ(run({"testday"}).err, "");
  EXPECT_TRUE(holds(run({"replan"}).out, "Nothing: there is nothing new since this plan was made."));
  static_cast<void>(run({"log", "result", "HRP", "36"}));
  EXPECT_TRUE(holds(run({"testday"}).err, "does not know what was done since"));
  EXPECT_FALSE(holds(run({"replan"}).out, "Nothing: there is nothing new since this plan was made."));
}

TEST(Show, SaysOnTheDayItselfThatTodayIsTheTest) {
  const TemporaryFolder folder;
  folder.write("candidate.json", support::army_candidate());
  const std::string place = folder.path().string();
  ASSERT_LE(run_command({"plan", "-C", place}).code, 1);
  const Answer today = run_command({"show", "-C", place, "--as-of", "2027-03-08"});
  EXPECT_EQ(today.code, 0) << today.err;
  EXPECT_TRUE(holds(today.out, "Today is the test: nothing else is planned. `backplan testday`"))
      << today.out;
  const Answer json = run_command({"show", "--json", "-C", place, "--as-of", "2027-03-08"});
  EXPECT_EQ(json.code, 0) << json.err;
  EXPECT_TRUE(holds(json.out, "\"weeks\": []")) << json.out;
  const Answer after = run_command({"show", "-C", place, "--as-of", "2027-03-09"});
  EXPECT_EQ(after.code, 2);
  EXPECT_TRUE(holds(after.err, "this plan is over: the test was on Mon 8 Mar 2027")) << after.err;
}

TEST(Show, RefusesAPlanOfAnotherFormat) {
  const TemporaryFolder folder;
  folder.write("plan.json", "{\"format\": \"backplan-plan/9\"}");
  const Answer answer = run_command({"show", "-C", folder.path().string()});
  EXPECT_EQ(answer.code, 65);
  EXPECT_TRUE(holds(answer.err, "this program reads \"backplan-plan/1\"")) << answer.err;
}

TEST(Output, AFullDiskIsAnErrorAndNotSilence) {
  support::FullDisk disk;
  std::istringstream in;
  std::ostream out(&disk);
  std::ostringstream err;
  EXPECT_EQ(run({"--help"}, {in, out, err}, {}), 74);
  EXPECT_EQ(err.str(), "error: cannot write the answer to standard output\n");
}

}  // namespace
}  // namespace backplan::cli
