// Lines of a journal to entries and back; every bad line is a warning with its place, and is kept.
#include "io/journal_reader.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "property/shipped_data.hpp"
#include "support/journal_entries.hpp"
#include "support/random_source.hpp"
#include "support/text.hpp"

namespace backplan::io {
namespace {

using support::holds;
using support::id_number;

const Standard& army() { return testing::shipped_standard("us-army-aft"); }
const Model& model() { return testing::shipped_model(); }
EntryContext context() { return {army(), model(), read_date("2027-02-01").value.value()}; }

Result<Journal> read(const std::string& text) { return read_journal(text, "journal.jsonl", context()); }

// A line with this content, id 1 and a day.
std::string line(const std::string& content) {
  return "{\"id\":\"" + id_number(1) + "\",\"date\":\"2027-01-12\"," + content + "}\n";
}

Entry only_entry(const std::string& text) {
  const auto journal = read(text);
  EXPECT_TRUE(journal.ok());
  EXPECT_TRUE(journal.value().warnings.empty()) << to_string(journal.value().warnings.front());
  EXPECT_EQ(journal.value().entries.size(), 1U);
  return journal.value().entries.empty() ? Entry{} : journal.value().entries.front();
}

// The warning of a journal whose only line counts for nothing.
std::string only_warning(const std::string& text) {
  const auto journal = read(text);
  EXPECT_TRUE(journal.ok());
  EXPECT_TRUE(journal.value().entries.empty());
  EXPECT_EQ(journal.value().warnings.size(), 1U);
  return journal.value().warnings.empty() ? "" : to_string(journal.value().warnings.front());
}

TEST(JournalReader, ReadsTheLinesOfTheDesign) {
  const Entry lift = only_entry(line(
      R"("kind":"work","work":"deadlift","minutes":45,"sets":[{"reps":5,"load":"155 lb","in_reserve":2}],"effort":7)"));
  const auto& work = std::get<WorkDone>(lift.what);
  EXPECT_EQ(work.work, "deadlift");
  EXPECT_EQ(work.minutes, 45);
  ASSERT_EQ(work.sets.size(), 1U);
  EXPECT_EQ(work.sets[0].repetitions, 5);
  EXPECT_EQ(work.sets[0].load->value, Pounds(155.0));
  EXPECT_EQ(work.sets[0].in_reserve, 2.0);
  EXPECT_EQ(work.effort, 7);
  EXPECT_EQ(write_date(lift.date), "2027-01-12");

  const auto run = std::get<WorkDone>(
      only_entry(line(R"("kind":"work","work":"intervals","distance":"2 mi","time":"17:05","hard":true)"))
          .what);
  EXPECT_EQ(run.distance->value, Metres(3218.688));
  EXPECT_EQ(run.time->value, Seconds(1025.0));
  EXPECT_TRUE(run.hard);

  const auto result = std::get<ResultDone>(
      only_entry(line(R"("kind":"result","event":"HRP","value":"31","setting":"single")")).what);
  EXPECT_EQ(result.value.value, 31.0);
  EXPECT_EQ(result.setting, Setting::single);
  EXPECT_EQ(std::get<Missed>(only_entry(line(R"("kind":"missed","reason":"duty")")).what).reason, "duty");
  const auto pain =
      std::get<Pain>(only_entry(line(R"("kind":"pain","where":"lower back","level":4,"night":true)")).what);
  EXPECT_EQ(pain.where, "lower back");
  EXPECT_EQ(pain.level, 4);
  EXPECT_TRUE(pain.at_night);
  EXPECT_FALSE(pain.limp);
  EXPECT_EQ(std::get<Void>(only_entry(line("\"kind\":\"void\",\"of\":\"" + id_number(7) + "\"")).what).of,
            id_number(7));
  const auto replace = std::get<Replace>(only_entry(line("\"kind\":\"replace\",\"of\":\"" + id_number(7) +
                                                         R"(","as":"missed","reason":"leave")"))
                                             .what);
  EXPECT_EQ(std::get<Missed>(replace.by).reason, "leave");
}

TEST(JournalReader, TakesKilogramsExactlyAndBareLoadsInTheUnitOfTheEvent) {
  const auto sets =
      std::get<WorkDone>(
          only_entry(
              line(
                  R"("kind":"work","work":"deadlift","sets":[{"reps":5,"load":"70 kg"},{"reps":5,"load":155}])"))
              .what)
          .sets;
  EXPECT_NEAR(sets[0].load->value.value(), 70.0 / 0.45359237, 1e-9);  // agreement of 1959
  EXPECT_EQ(sets[0].load->as_typed, "70 kg");
  EXPECT_EQ(sets[1].load->value, Pounds(155.0));
  EXPECT_EQ(sets[1].load->as_typed, "155 lb");
}

struct BadLine {
  const char* content;
  const char* message;
};

// Each line counts for nothing and says why.
TEST(JournalReader, RefusesWhatCannotBe) {
  const BadLine lines[] = {
      {R"("kind":"work","work":"deadlift","minuts":45)",
       "unknown key \"minuts\" (at /minuts)\nhint: did you mean \"minutes\"?"},
      {R"("kind":"work","work":"dedlift")", "unknown work \"dedlift\""},
      {R"("kind":"work","work":"deadlift","minutes":0)",
       "expected a whole number from 1 to 720, found the number 0"},
      {R"("kind":"work","work":"deadlift","minutes":"45")", "found the text \"45\""},
      {R"("kind":"work","work":"deadlift","minutes":45.5)", "found the number 45.5"},
      {R"("kind":"work","work":"deadlift","effort":11)", "expected a whole number from 1 to 10"},
      {R"("kind":"work","work":"deadlift","hard":"yes")", "expected true or false"},
      {R"("kind":"work","work":"deadlift","sets":[{"reps":0}])", "expected a whole number from 1 to 500"},
      {R"("kind":"work","work":"deadlift","sets":[{"load":"155 lb"}])", "the key \"reps\" is missing"},
      {R"("kind":"work","work":"deadlift","sets":[{"reps":5,"load":"1550 lb"}])", "expected 1 lb to 1200 lb"},
      {R"("kind":"work","work":"deadlift","sets":[{"reps":5,"load":"155 lbs"}])",
       "hint: did you mean \"lb\"?"},
      {R"("kind":"work","work":"deadlift","sets":[{"reps":5,"load":"155 lb","in_reserve":-1}])",
       "from 0 to 20"},
      {R"("kind":"work","work":"deadlift","sets":[{"reps":5,"in_reserve":1.3}])",
       "whole or half repetitions"},
      {R"("kind":"work","work":"deadlift","sets":[5])", "expected an object, found the number 5"},
      {R"("kind":"work","work":"intervals","distance":"2","time":"17:05")",
       "\"2\" may be miles or kilometres"},
      {R"("kind":"work","work":"intervals","distance":2)", "may be miles or kilometres"},
      {R"("kind":"work","work":"intervals","distance":"0 mi")", "the distance is nothing"},
      {R"("kind":"work","work":"intervals","distance":"2 mi","time":"15.32")",
       "hint: did you mean \"15:32\"? then write it so"},
      {R"("kind":"work","work":"intervals","time":1025)", "\"1025\" may be minutes or seconds"},
      {R"("kind":"work","work":"intervals","time":"17:65")", "not written as a time"},
      {R"("kind":"work","work":"intervals","distance":"2 mi","time":"2:05")",
       "2 mi in 2:05 is faster than anybody runs"},
      {R"("kind":"work","work":"intervals","distance":"2 mi","time":"17:05:00")", "is slower than a walk"},
      {R"("kind":"result","event":"HRX","value":"31")", "unknown event \"HRX\""},
      {R"("kind":"result","event":"HRP","value":"3100")", "no possible result of HRP"},
      {R"("kind":"result","event":"HRP","value":"31.5")", "no whole number of repetitions"},
      {R"("kind":"result","event":"MDL","value":"30")", "did you mean \"30 kg\""},
      {R"("kind":"result","event":"2MR","value":"15.32")", "did you mean \"15:32\""},
      {R"("kind":"result","event":"HRP","value":"31","setting":"practise")", "did you mean \"practice\"?"},
      {R"("kind":"result","event":"HRP")", "the key \"value\" is missing"},
      {R"("kind":"pain","where":"shin","level":11)", "expected a whole number from 0 to 10"},
      {R"("kind":"pain","where":"shin","level":0,"night":true)", "level 0 means that the pain is gone"},
      {R"("kind":"pain","where":"","level":1)", "expected 1 to 60 characters"},
      {R"("kind":"pain","level":1)", "the key \"where\" is missing"},
      {R"("kind":"void","of":"123")", "\"123\" is no id"},
      {R"("kind":"void")", "the key \"of\" is missing"},
      {R"("kind":"replace","of":"01939b0a-5c00-7000-8000-000000000007")", "the key \"as\" is missing"},
      {R"("kind":"replace","of":"01939b0a-5c00-7000-8000-000000000007","as":"void")",
       "expected one of work, result, missed, pain"},
      {R"("kind":"wrk","work":"deadlift")", "did you mean \"work\"?"},
      {R"("work":"deadlift")", "the key \"kind\" is missing"},
      {R"("kind":"missed","kind":"missed")", "stands here a second time"},
      {R"("kind":"missed","note":"a\u0007b")", "found a control character"},
      {R"("kind":"missed","batch":"mine")", "\"mine\" is no id"},
  };
  for (const BadLine& bad : lines) {
    const std::string warning = only_warning(line(bad.content));
    EXPECT_EQ(warning.substr(0, 16), "journal.jsonl:1:") << bad.content;
    EXPECT_TRUE(holds(warning, ": warning: ")) << warning;
    EXPECT_TRUE(holds(warning, bad.message)) << warning;
    EXPECT_TRUE(holds(warning, "hint: ")) << warning;
  }
}

TEST(JournalReader, RefusesEntriesWithoutIdOrDay) {
  EXPECT_TRUE(holds(only_warning(R"({"date":"2027-01-12","kind":"missed"})"), "the key \"id\" is missing"));
  EXPECT_TRUE(holds(only_warning("{\"id\":\"" + id_number(1) + R"(","kind":"missed"})"),
                    "the key \"date\" is missing"));
  EXPECT_TRUE(holds(only_warning("{\"id\":\"" + id_number(1) + R"(","date":"2027-02-30","kind":"missed"})"),
                    "2027-02-30 is no day of the calendar"));
  EXPECT_TRUE(holds(
      only_warning(R"({"id":"01939B0A-5C00-7000-8000-000000000007","date":"2027-01-12","kind":"missed"})"),
      "is no id"));
}

TEST(JournalReader, TellsTheLineAndColumnOfATornLineAndReadsTheRest) {
  const std::string whole = line(R"("kind":"missed")");
  const auto journal = read(whole.substr(0, 40) + "\n" + whole + "garbage\n\n[1]\n");
  ASSERT_TRUE(journal.ok());
  ASSERT_EQ(journal.value().entries.size(), 1U);
  EXPECT_EQ(journal.value().entries[0].line, 2);
  ASSERT_EQ(journal.value().warnings.size(), 3U);
  EXPECT_EQ(journal.value().warnings[0].line, 1);
  EXPECT_GT(journal.value().warnings[0].column, 1);
  EXPECT_EQ(journal.value().warnings[1].line, 3);
  EXPECT_EQ(journal.value().warnings[2].line, 5);
  for (const Diagnostic& warning : journal.value().warnings) EXPECT_EQ(warning.severity, Severity::warning);
}

TEST(JournalReader, ReadsALastLineWithoutItsEndAndLinesOfOtherSystems) {
  std::string text = "\xEF\xBB\xBF" + journal_head() + line(R"("kind":"missed")");
  text.pop_back();
  text.insert(text.find('\n'), "\r");
  EXPECT_TRUE(std::holds_alternative<Missed>(only_entry(text).what));
}

TEST(JournalReader, IgnoresEntriesAfterTodayWithAWarning) {
  const std::string warning =
      only_warning("{\"id\":\"" + id_number(1) + R"(","date":"2027-02-02","kind":"missed"})");
  EXPECT_EQ(warning,
            "journal.jsonl:1:1: warning: dated Tue 2 Feb 2027, after today, Mon 1 Feb 2027: ignored\n"
            "hint: correct the date, or give --as-of a later day");
}

TEST(JournalReader, RefusesAJournalOfAnotherFormatVersion) {
  const auto journal = read(line(R"("kind":"missed")") + "{\"format\":\"backplan-journal/2\"}\n");
  ASSERT_FALSE(journal.ok());
  ASSERT_EQ(journal.faults().size(), 1U);
  EXPECT_EQ(
      to_string(journal.faults()[0]),
      "journal.jsonl:2:1: error: this program reads \"backplan-journal/1\", found \"backplan-journal/2\" (at "
      "/format)\nhint: use the version of the program that wrote it; the file was not changed");
}

TEST(JournalReader, OfNothingIsAnEmptyJournal) {
  EXPECT_TRUE(read("").value().entries.empty());
  EXPECT_TRUE(read("\n \r\n").value().warnings.empty());
  EXPECT_TRUE(read(journal_head()).value().warnings.empty());
}

std::string batch_line(int number) {
  return "{\"id\":\"" + id_number(number) + "\",\"date\":\"2027-01-12\",\"kind\":\"missed\",\"batch\":\"" +
         id_number(99) + "\"}\n";
}

TEST(JournalReader, CountsAnImportOnlyWhenItIsClosed) {
  const std::string two = batch_line(1) + batch_line(2);
  EXPECT_EQ(read(two + closing_line(id_number(99), 2)).value().entries.size(), 2U);
  EXPECT_TRUE(read(two + closing_line(id_number(99), 2)).value().warnings.empty());
  const auto open = read(two);
  EXPECT_TRUE(open.value().entries.empty());
  ASSERT_EQ(open.value().warnings.size(), 1U);
  EXPECT_EQ(open.value().warnings[0].message,
            "an import that was cut off begins here; its 2 entries do not count");
  // Two copies of a journal, one after the other.
  const std::string closed = two + closing_line(id_number(99), 2);
  EXPECT_TRUE(read(closed + closed).value().warnings.empty());
  const auto fewer = read(two + closing_line(id_number(99), 3));
  EXPECT_EQ(fewer.value().entries.size(), 2U);
  ASSERT_EQ(fewer.value().warnings.size(), 1U);
  EXPECT_EQ(fewer.value().warnings[0].line, 3);
}

TEST(JournalReader, RefusesAClosingLineThatSaysNothing) {
  EXPECT_TRUE(holds(only_warning("{\"batch\":\"" + id_number(9) + "\",\"count\":0}\n"), "from 1 to"));
  EXPECT_TRUE(holds(only_warning("{\"count\":1}\n"), "the key \"batch\" is missing"));
}

TEST(EntryLine, IsReadBackToTheSameEntry) {
  const char* contents[] = {
      R"("kind":"work","work":"deadlift","minutes":45,"sets":[{"reps":5,"load":"155 lb","in_reserve":2},{"reps":4,"load":"72.5kg","in_reserve":1.5},{"reps":9}],"effort":7,"note":"grün \"q\" \\")",
      R"("kind":"work","work":"march","distance":"6 mi","time":"1:45:00")",
      R"("kind":"result","event":"2MR","value":"15:32","setting":"record","first":true)",
      R"("kind":"missed")",
      R"("kind":"pain","where":"left shin","level":2,"night":true,"limp":true)",
      R"("kind":"void","of":"01939b0a-5c00-7000-8000-000000000007")",
      R"("kind":"replace","of":"01939b0a-5c00-7000-8000-000000000007","as":"work","work":"tempo","distance":"3 mi")",
      R"("kind":"missed","batch":"01939b0a-5c00-7000-8000-000000000063")",
  };
  for (const char* content : contents) {
    std::string text = line(content);
    if (holds(text, "batch")) text += closing_line(id_number(99), 1);
    const Entry first = only_entry(text);
    std::string again = entry_line(first);
    if (holds(again, "batch")) again += closing_line(id_number(99), 1);
    const Entry second = only_entry(again);
    EXPECT_TRUE(same_content(first, second)) << content;
    EXPECT_EQ(first.batch, second.batch);
    EXPECT_EQ(entry_line(second), entry_line(first));
    EXPECT_EQ(std::count(again.begin(), again.end(), '\n'), holds(again, "batch") ? 2 : 1);
  }
}

TEST(EntryWords, ReadASessionOfSets) {
  EntryWords words;
  words.fields = {
      {"id", id_number(1)}, {"date", "2027-01-12"}, {"kind", "work"}, {"work", "deadlift"}, {"effort", "7"}};
  words.sets = {"5@155", "5 @ 70 kg", "12"};
  words.in_reserve = {"2"};
  const auto entry = read_entry_words(words, context());
  ASSERT_TRUE(entry.ok()) << to_string(entry.faults().front());
  const auto& sets = std::get<WorkDone>(entry.value().what).sets;
  ASSERT_EQ(sets.size(), 3U);
  EXPECT_EQ(sets[0].load->value, Pounds(155.0));
  EXPECT_EQ(sets[1].load->as_typed, "70 kg");
  EXPECT_FALSE(sets[2].load);
  EXPECT_EQ(sets[2].in_reserve, 2.0);
}

TEST(EntryWords, TellAllFaultsByTheirKey) {
  EntryWords words;
  words.fields = {{"id", id_number(1)}, {"date", "12.1.2027"}, {"kind", "work"}, {"work", "deadlift"},
                  {"minutes", "forty"}, {"hard", "maybe"},     {"level", "4"}};
  words.sets = {"5x155", "5@", "@155", "5@155lbs", "5@155"};
  words.in_reserve = {"2", "1"};
  const auto entry = read_entry_words(words, context());
  ASSERT_FALSE(entry.ok());
  std::string all;
  for (const Diagnostic& fault : entry.faults()) all += to_string(fault) + "\n";
  for (const char* part : {"\"5x155\" is not written as a set (at sets)", "\"5@\" is not written as a set",
                           "\"@155\" is not written", "2 figures for 5 sets (at in_reserve)",
                           "\"12.1.2027\" is not written as a date (at date)",
                           "found the text \"forty\" (at minutes)", "expected true or false",
                           "\"level\" does not go with work (at level)", "the unit \"lbs\" does not fit"}) {
    EXPECT_TRUE(holds(all, part)) << part << "\n" << all;
  }
}

TEST(EntryWords, RefuseBytesThatAreNoText) {
  EntryWords words;
  words.fields = {{"id", id_number(1)}, {"date", "2027-01-12"}, {"kind", "missed"}, {"reason", "\xff\xfe"}};
  const auto entry = read_entry_words(words, context());
  ASSERT_FALSE(entry.ok());
  EXPECT_EQ(to_string(entry.faults()[0]).substr(0, 39), "error: not a text in UTF-8 (at reason)\n");
}

TEST(ContentId, IsAVersionEightUuidThatFollowsFromTheBytes) {
  const std::string id = id_of_content("a");
  EXPECT_TRUE(is_id(id));
  EXPECT_EQ(id[14], '8');
  EXPECT_TRUE(id[19] == '8' || id[19] == '9' || id[19] == 'a' || id[19] == 'b');
  EXPECT_EQ(id, id_of_content("a"));
  EXPECT_NE(id, id_of_content("b"));
  std::set<std::string> ids;
  for (int i = 0; i < 20000; ++i) ids.insert(id_of_content(std::to_string(i)).substr(0, 18));
  EXPECT_EQ(ids.size(), 20000U);  // 60 bits each: none alike
}

// Whatever bytes come after good lines, the good lines are read and nothing crashes.
std::string noise(testing::RandomSource& random, const std::string& good) {
  const std::string bits[] = {"{",
                              "}",
                              "\"",
                              "[",
                              ",",
                              ":",
                              "\\",
                              "\n",
                              std::string(1, '\0'),
                              "\xff",
                              "\xc3",
                              "1e999",
                              "null",
                              "true",
                              "\"id\":",
                              "\"kind\":\"work\"",
                              "{\"format\":",
                              "\"sets\":[",
                              "-0"};
  std::string text;
  const int pieces = random.integer(1, 30);
  for (int i = 0; i < pieces; ++i) {
    const int kind = random.integer(0, 3);
    if (kind == 0) text += static_cast<char>(random.integer(0, 255));
    if (kind == 1) text += bits[random.integer(0, static_cast<int>(std::size(bits)) - 1)];
    if (kind == 2)
      text += good.substr(0, static_cast<std::size_t>(random.integer(0, static_cast<int>(good.size()))));
    if (kind == 3) {
      std::string changed = good;
      changed[static_cast<std::size_t>(random.integer(0, static_cast<int>(good.size()) - 1))] =
          static_cast<char>(random.integer(0, 255));
      text += changed;
    }
  }
  return text;
}

TEST(JournalReader, NeverCrashesAndNeverLosesEarlierLinesWhateverFollows) {
  const std::string good = line(
      R"("kind":"work","work":"deadlift","minutes":45,"sets":[{"reps":5,"load":"155 lb","in_reserve":2}],"effort":7)");
  const std::string first = journal_head() + good;
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    testing::RandomSource random(seed);
    const auto journal = read(first + noise(random, good));
    if (!journal.ok()) {  // only for another format
      for (const Diagnostic& fault : journal.faults()) EXPECT_EQ(fault.field, "/format") << "seed " << seed;
      continue;
    }
    ASSERT_GE(journal.value().entries.size(), 1U) << "seed " << seed;
    EXPECT_EQ(entry_line(journal.value().entries.front()), good) << "seed " << seed;
    for (const Diagnostic& warning : journal.value().warnings) EXPECT_GE(warning.line, 1) << "seed " << seed;
    for (const Entry& entry : journal.value().entries) {  // what is accepted is written and read back
      const auto again = read(entry_line(entry));
      ASSERT_EQ(again.value().entries.size(), 1U) << "seed " << seed;
      EXPECT_TRUE(same_content(entry, again.value().entries.front())) << "seed " << seed;
    }
    static_cast<void>(effective(journal.value()));
  }
}

TEST(JournalReader, LosesAtMostTheLastLineWhereverTheFileIsCut) {
  std::string text = journal_head();
  std::vector<std::size_t> ends;
  for (int number = 1; number <= 5; ++number) {
    text += entry_line(support::entry(number, 3, support::missed("reason " + std::to_string(number))));
    ends.push_back(text.size());
  }
  for (std::size_t cut = 0; cut <= text.size(); ++cut) {
    const auto journal = read(text.substr(0, cut));
    ASSERT_TRUE(journal.ok()) << cut;
    const auto whole = static_cast<std::size_t>(
        std::count_if(ends.begin(), ends.end(), [cut](std::size_t end) { return end <= cut + 1; }));
    EXPECT_EQ(journal.value().entries.size(), whole) << cut;  // a line needs its bytes, not its end
  }
}

}  // namespace
}  // namespace backplan::io
