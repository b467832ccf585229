// Work that could have been done and was not for weeks returns as gently as work that could not.
#include "core/absence.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "core/coming_back.hpp"
#include "property/shipped_data.hpp"
#include "support/histories.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

const Date kToday = test::day(2026, 12, 1);

struct Desk {
  std::vector<const WorkKind*> kinds{testing::shipped_model().find_work("deadlift"),
                                     testing::shipped_model().find_work("easy_run"),
                                     testing::shipped_model().find_work("intervals")};
  enum : std::size_t { deadlift, easy_run, intervals };

  [[nodiscard]] Absence absence(const History& history = {}) const {
    return {kinds, history, testing::shipped_model(), testing::shipped_rules(), kToday};
  }
};

// data/model/rules.json: ramp.off_days_for_untrained, 21 days.
TEST(Absence, OfThreeWeeksMakesTheNextSessionAReturn) {
  Absence absence = Desk().absence();
  absence.done(Desk::deadlift, kToday + Days(2));
  EXPECT_FALSE(absence.days_back(Desk::deadlift, kToday + Days(23)));
  EXPECT_EQ(absence.days_back(Desk::deadlift, kToday + Days(24)), 0);
  absence.done(Desk::deadlift, kToday + Days(24));
  EXPECT_EQ(absence.days_back(Desk::deadlift, kToday + Days(29)), 5);
}

TEST(Absence, IsOfAllRunningTogether) {
  Absence absence = Desk().absence();
  absence.done(Desk::easy_run, kToday + Days(15));
  EXPECT_FALSE(absence.days_back(Desk::intervals, kToday + Days(30)));
  EXPECT_EQ(absence.days_back(Desk::deadlift, kToday + Days(30)), 0);
}

TEST(Absence, EndsWithAPracticeTest) {
  Absence absence = Desk().absence();
  absence.tested(kToday + Days(20));
  EXPECT_FALSE(absence.days_back(Desk::deadlift, kToday + Days(30)));
}

TEST(Absence, IsSeenInTheJournalToo) {
  support::HistoryMaker maker(kToday - Days(40));
  maker.work(kToday - Days(40), "deadlift", 45).work(kToday - Days(3), "easy_run", 25);
  const Absence absence = Desk().absence(maker.made());
  EXPECT_EQ(absence.days_back(Desk::deadlift, kToday), 0);
  EXPECT_EQ(absence.days_back(Desk::intervals, kToday), 3) << "running came back three days ago";
}

TEST(Absence, IsNotGuessedOfPeopleWithoutAJournal) {
  EXPECT_FALSE(Desk().absence().days_back(Desk::deadlift, kToday + Days(7)));
}

}  // namespace
}  // namespace backplan
