// The weeks of a season before they are filled: what the rules leave of the minutes offered.
#include "core/season.hpp"

#include <gtest/gtest.h>

#include <optional>
#include <vector>

#include "io/readers.hpp"
#include "support/random_candidates.hpp"
#include "support/random_source.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

const Date kToday = test::day(2026, 11, 2);  // a Monday, as is the day of the test

// A plain person with twelve weeks of five equal mornings.
struct TwelveWeeks {
  explicit TwelveWeeks(int minutes_a_morning) {
    testing::RandomSource random(1);
    testing::CandidateKnobs knobs;
    knobs.plain = true;
    knobs.weeks_to_test = 12;
    candidate = testing::random_candidate(random, standard, kToday, knobs);
    candidate.test_date = kToday + Days(7 * 12);
    candidate.week.fill(0);
    for (std::size_t day = 0; day < 5; ++day) candidate.week[day] = minutes_a_morning;
    candidate.home_blocks = 0;
    candidate.now.minutes = 5 * minutes_a_morning;
  }
  [[nodiscard]] SeasonPlanner planner() const { return {candidate, {standard, model, rules}, kToday}; }

  Standard standard = test::shipped_standard("us-army-aft");
  Model model = io::read_model(io::embedded_data()).value();
  Rules rules = io::read_rules(io::embedded_data()).value();
  Candidate candidate;
};

// Minutes that the first weeks may have after so many days off that end today.
std::vector<int> first_weeks_after(int days_off) {
  TwelveWeeks season(60);
  if (days_off > 0) season.candidate.now.off = DaysOff{kToday - Days(days_off), kToday - Days(1)};
  const SeasonPlanner planner = season.planner();
  std::vector<int> out;
  for (std::size_t w = 0; w < 3; ++w) out.push_back(planner.segments()[w].most_minutes);
  return out;
}

// data/model/rules.json, ramp: half a week after 14 days, 60 and 80 % after 21.
TEST(SeasonRamp, BeginsAtTheDaysOffThatTheRulesName) {
  EXPECT_EQ(first_weeks_after(0), (std::vector<int>{300, 300, 300}));
  EXPECT_EQ(first_weeks_after(13), (std::vector<int>{300, 300, 300}));
  EXPECT_EQ(first_weeks_after(14), (std::vector<int>{150, 300, 300}));
  EXPECT_EQ(first_weeks_after(20), (std::vector<int>{150, 300, 300}));
  EXPECT_EQ(first_weeks_after(21), (std::vector<int>{180, 240, 300}));
}

// Minutes of a season that begins in its taper, nine days before the test.
int taper_minutes(std::optional<int> minutes_now) {
  TwelveWeeks season(60);
  season.candidate.test_date = kToday + Days(9);
  season.candidate.now = {};
  season.candidate.now.minutes = minutes_now;
  SeasonPlanner planner = season.planner();
  const AllocationEffort effort{.prove = false, .rounds = 3, .nodes = 0, .counting_nodes = 0, .gap = 0.05};
  int minutes = 0;
  for (const SeasonWeek& week : planner.fill(planner.available_minutes(), effort).weeks)
    minutes += week.minutes;
  return minutes;
}

// Who trains goes on with less of it, at most 59 % of the minutes of nine days (data/model/rules.json,
// taper.cut); who does not has nothing to taper from.
TEST(SeasonTaper, ThinsWhatThePersonSaysWhereThereIsNoJournal) {
  EXPECT_GT(taper_minutes(300), 100);
  EXPECT_LE(taper_minutes(300), 300 * 9 / 7 * 0.59);
  EXPECT_GT(taper_minutes(150), 0);
  EXPECT_LT(taper_minutes(150), taper_minutes(300));
  EXPECT_EQ(taper_minutes(0), 0);
}

// Of the last week before the taper of seven days, days 14 to 8 before the test: runs earn nothing in the
// last ten days, the rest in the last seven (docs/mathematics.md, "The last days hold").
TEST(SeasonWeeks, CountTheDaysThatAreEarlyEnoughForEachEvent) {
  const TwelveWeeks season(40);
  const SeasonPlanner planner = season.planner();
  ASSERT_EQ(planner.segments().size(), 12U);
  int runs = 0;
  for (std::size_t e = 0; e < planner.states().size(); ++e) {
    const bool run = planner.states()[e].model->run;
    runs += run ? 1 : 0;
    EXPECT_NEAR(planner.segments()[10].counted[e], run ? 4.0 / 7.0 : 1.0, 1e-12)
        << planner.states()[e].event->id;
    EXPECT_NEAR(planner.segments()[9].counted[e], 1.0, 1e-12) << planner.states()[e].event->id;
  }
  EXPECT_GT(runs, 0);
}

}  // namespace
}  // namespace backplan
