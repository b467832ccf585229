// What stands after corrections.
#include "backplan/journal.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "support/journal_entries.hpp"
#include "support/random_source.hpp"

namespace backplan {
namespace {

using support::entry;
using support::id_number;
using support::missed;
using support::replace_by;
using support::void_of;

Journal journal_of(std::vector<Entry> entries) {
  Journal journal;
  journal.file = "journal.jsonl";
  journal.entries = std::move(entries);
  return journal;
}

// "4:reason 7:other": number of the id and reason of what stands.
std::string standing(const Journal& journal) {
  std::string text;
  for (const Done& done : effective(journal).entries) {
    text += (text.empty() ? "" : " ") + std::to_string(std::stoi(done.id.substr(24), nullptr, 16)) + ":" +
            std::get<Missed>(done.what).reason;
  }
  return text;
}

std::string only_fault(const Journal& journal) {
  const auto faults = effective(journal).faults;
  EXPECT_EQ(faults.size(), 1U);
  return faults.empty() ? "" : to_string(faults.front());
}

TEST(Effective, KeepsEntriesByDateAndIdWhateverTheirOrder) {
  const Journal journal =
      journal_of({entry(3, 2, missed("c")), entry(2, 9, missed("b")), entry(1, 2, missed("a"))});
  EXPECT_EQ(standing(journal), "1:a 3:c 2:b");
  EXPECT_TRUE(effective(journal).faults.empty());
}

TEST(Effective, TakesOutWhatIsVoidAndPutsReplacementsInTheirPlace) {
  const Journal journal = journal_of({entry(1, 2, missed("a")), entry(2, 3, missed("b")),
                                      entry(3, 4, void_of(1)), entry(4, 3, replace_by(2, "really"))});
  EXPECT_EQ(standing(journal), "4:really");
  EXPECT_TRUE(effective(journal).faults.empty());
}

TEST(Effective, FollowsAReplacementOfAReplacement) {
  EXPECT_EQ(standing(journal_of({entry(1, 2, missed("a")), entry(2, 2, replace_by(1, "b")),
                                 entry(3, 2, replace_by(2, "c"))})),
            "3:c");
}

TEST(Effective, DoesNotBringBackWhatAVoidReplacementHadReplaced) {
  EXPECT_EQ(standing(journal_of(
                {entry(1, 2, missed("a")), entry(2, 2, replace_by(1, "b")), entry(3, 2, void_of(2))})),
            "");
}

TEST(Effective, FaultsAVoidOfAVoidAndLeavesTheFirstVoidInForce) {
  const Journal journal =
      journal_of({entry(1, 2, missed("a")), entry(2, 2, void_of(1)), entry(3, 2, void_of(2))});
  EXPECT_EQ(standing(journal), "");
  EXPECT_EQ(only_fault(journal), "journal.jsonl:3:1: warning: it corrects " + id_number(2) +
                                     ", which is a void: a void cannot be undone\nhint: log the entry anew");
}

TEST(Effective, FaultsAReplacementOfAVoid) {
  const Journal journal =
      journal_of({entry(1, 2, missed("a")), entry(2, 2, void_of(1)), entry(3, 2, replace_by(2, "c"))});
  EXPECT_EQ(standing(journal), "");
  EXPECT_NE(only_fault(journal).find("a void cannot be undone"), std::string::npos);
}

TEST(Effective, FaultsAVoidOfItself) {
  EXPECT_NE(only_fault(journal_of({entry(1, 2, void_of(1))})).find("a void cannot be undone"),
            std::string::npos);
}

TEST(Effective, FaultsCorrectionsOfAnUnknownId) {
  const Journal journal =
      journal_of({entry(1, 2, missed("a")), entry(2, 2, void_of(9)), entry(3, 2, replace_by(8, "c"))});
  EXPECT_EQ(standing(journal), "1:a");
  ASSERT_EQ(effective(journal).faults.size(), 2U);
  EXPECT_EQ(effective(journal).faults[0].message,
            "it corrects " + id_number(9) + ", but no entry has this id");
}

TEST(Effective, FaultsCorrectionsInACircleAndCountsNoneOfThem) {
  const Journal journal =
      journal_of({entry(1, 2, replace_by(2, "a")), entry(2, 2, replace_by(3, "b")),
                  entry(3, 2, replace_by(1, "c")), entry(4, 2, replace_by(4, "d")),
                  entry(5, 2, replace_by(1, "hangs on the circle")), entry(6, 3, missed("e"))});
  EXPECT_EQ(standing(journal), "6:e");
  const auto faults = effective(journal).faults;
  ASSERT_EQ(faults.size(), 4U);
  for (const Diagnostic& fault : faults)
    EXPECT_NE(fault.message.find("round in a circle"), std::string::npos);
}

TEST(Effective, TakesTheLatestOfTwoCorrectionsAndSaysSo) {
  const Journal journal = journal_of(
      {entry(1, 2, missed("a")), entry(3, 2, replace_by(1, "late")), entry(2, 2, replace_by(1, "early"))});
  EXPECT_EQ(standing(journal), "3:late");
  EXPECT_NE(only_fault(journal).find("journal.jsonl:2:1: warning: another correction of the same entry (" +
                                     id_number(3) + ") is later"),
            std::string::npos);
  EXPECT_EQ(standing(journal_of(
                {entry(1, 2, missed("a")), entry(2, 2, replace_by(1, "early")), entry(3, 2, void_of(1))})),
            "");
}

// A merge of two journals may bring two voids of one entry: they agree.
TEST(Effective, TakesTwoVoidsOfOneEntryWithoutAFault) {
  const Journal journal =
      journal_of({entry(1, 2, missed("a")), entry(2, 2, void_of(1)), entry(3, 2, void_of(1))});
  EXPECT_EQ(standing(journal), "");
  EXPECT_TRUE(effective(journal).faults.empty());
}

TEST(Effective, CountsALineThatAMergeBroughtTwiceOnce) {
  Entry again = entry(1, 2, missed("a"));
  again.line = 7;
  const Journal journal = journal_of({entry(1, 2, missed("a")), again});
  EXPECT_EQ(standing(journal), "1:a");
  EXPECT_TRUE(effective(journal).faults.empty());
}

TEST(Effective, CountsNeitherOfTwoDifferentEntriesWithOneIdUntilItIsVoid) {
  Entry other = entry(1, 2, missed("b"));
  other.line = 7;
  Journal journal = journal_of({entry(1, 2, missed("a")), other, entry(2, 3, missed("c"))});
  EXPECT_EQ(standing(journal), "2:c");
  EXPECT_EQ(only_fault(journal).substr(0, 91),
            "journal.jsonl:7:1: warning: the id " + id_number(1) + " stands in line 1 to");
  journal.entries.push_back(entry(3, 3, void_of(1)));
  EXPECT_EQ(standing(journal), "2:c");
  EXPECT_TRUE(effective(journal).faults.empty());
}

TEST(Effective, OfNothingIsNothing) {
  EXPECT_TRUE(effective(journal_of({})).entries.empty());
  EXPECT_TRUE(effective(journal_of({})).faults.empty());
}

// Property: whatever corrections name, the order of the lines changes nothing, and nothing stands twice.
TEST(Effective, GivesTheSameForEveryOrderOfTheLines) {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    testing::RandomSource random(seed);
    std::vector<Entry> entries;
    const int count = random.integer(1, 12);
    for (int number = 1; number <= count; ++number) {
      const int kind = random.integer(0, 3);
      const int target = random.integer(1, count);
      const int day = random.integer(1, 9);
      if (kind == 0) entries.push_back(entry(number, day, void_of(target)));
      if (kind == 1) entries.push_back(entry(number, day, replace_by(target, "r" + std::to_string(number))));
      if (kind >= 2) entries.push_back(entry(number, day, missed("m" + std::to_string(number))));
    }
    const Standing first = effective(journal_of(entries));
    for (std::size_t i = entries.size(); i > 1; --i) {
      std::swap(entries[i - 1],
                entries[static_cast<std::size_t>(random.integer(0, static_cast<int>(i) - 1))]);
    }
    const Journal shuffled = journal_of(entries);
    std::string before;
    for (const Done& done : first.entries) before += done.id + std::get<Missed>(done.what).reason;
    std::string after;
    for (const Done& done : effective(shuffled).entries)
      after += done.id + std::get<Missed>(done.what).reason;
    EXPECT_EQ(before, after) << "seed " << seed;
    EXPECT_EQ(first.faults.size(), effective(shuffled).faults.size()) << "seed " << seed;
  }
}

TEST(ResultsIn, GivesResultsWithTheirDates) {
  ResultDone result;
  result.event = "HRP";
  result.value = {31.0, "31"};
  result.setting = Setting::single;
  result.first = true;
  const auto standing = effective(journal_of({entry(1, 5, result), entry(2, 6, missed())})).entries;
  const auto results = results_in(standing);
  ASSERT_EQ(results.size(), 1U);
  EXPECT_EQ(results[0].event, "HRP");
  EXPECT_EQ(results[0].value, 31.0);
  EXPECT_EQ(results[0].as_typed, "31");
  EXPECT_EQ(results[0].setting, Setting::single);
  EXPECT_TRUE(results[0].first);
  EXPECT_EQ(results[0].date, support::journal_day(5));
}

}  // namespace
}  // namespace backplan
