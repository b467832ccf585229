// What was really shown, which loads and paces may not run ahead of.
#include "core/proven.hpp"

#include <gtest/gtest.h>

#include <string>

#include "io/readers.hpp"
#include "support/histories.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using support::HistoryMaker;

const Date kToday = test::day(2026, 12, 1);

struct Scene {
  Standard standard = test::shipped_standard("us-army-aft");
  Model model = io::read_model(io::embedded_data()).value();
  Candidate candidate;
  HistoryMaker maker{kToday - Days(100)};

  [[nodiscard]] double of(const std::string& event) const {
    const auto all = proven_results(candidate, standard, model, maker.made(), kToday);
    const auto found = all.find(event);
    return found == all.end() ? 0.0 : found->second;
  }
};

TEST(Proven, TheLatestResultCountsWhereverItWasWritten) {
  Scene scene;
  scene.candidate.results = {{kToday - Days(30), "HRP", 33, "33", Setting::practice, false}};
  EXPECT_EQ(scene.of("HRP"), 33);
  scene.maker.result(kToday - Days(3), "HRP", 29);
  EXPECT_EQ(scene.of("HRP"), 29);
  scene.candidate.results.push_back({kToday - Days(1), "HRP", 50, "50", Setting::estimate, false});
  EXPECT_EQ(scene.of("HRP"), 29) << "a guess shows nothing";
}

// FM 7-22 para 4-25: 1RM = w (1 + 0.033 r); a three-repetition maximum is 1RM / 1.099.
TEST(Proven, ASetShowsItsRepetitionsButNotItsReserve) {
  Scene scene;
  scene.maker.lift(kToday - Days(2), 155, 5, 2.0);
  EXPECT_NEAR(scene.of("MDL"), 155 * (1 + 0.033 * 5) / 1.099, 1e-9);
}

TEST(Proven, AnEasierSetDoesNotUnproveABetterResult) {
  Scene scene;
  scene.candidate.results = {{kToday - Days(30), "MDL", 190, "190 lb", Setting::practice, false}};
  scene.maker.lift(kToday - Days(2), 100, 5, 3.0);
  EXPECT_EQ(scene.of("MDL"), 190);
  scene.maker.lift(kToday - Days(1), 200, 3, 0.0);
  EXPECT_NEAR(scene.of("MDL"), 200, 1e-9);
}

TEST(Proven, WorkFromBeforeTheLatestResultOrLongAgoDoesNotCount) {
  Scene scene;
  scene.maker.lift(kToday - Days(90), 250, 3, 0.0);
  EXPECT_EQ(scene.of("MDL"), 0.0) << "more than twelve weeks ago";
  scene.maker.lift(kToday - Days(40), 200, 3, 0.0).result(kToday - Days(20), "MDL", 180);
  EXPECT_EQ(scene.of("MDL"), 180) << "the set was before the result";
}

TEST(Proven, ARunShowsItsPaceOverTheTestWhereItWasAsLong) {
  Scene scene;
  scene.maker.run(kToday - Days(3), 1.0, 400, true);
  EXPECT_EQ(scene.of("2MR"), 0.0) << "a mile shows nothing of two";
  scene.maker.run(kToday - Days(2), 3.0, 1800, false);
  EXPECT_NEAR(scene.of("2MR"), 1200, 1.0);
}

TEST(Proven, ARowShowsItsPaceAsARunDoes) {
  Scene scene;
  scene.standard = test::shipped_standard("us-army-alternate-aerobic-2020");
  const auto row = [&](int days_ago, double metres, double seconds) {
    WorkDone deed;
    deed.work = "row";
    deed.distance = Typed<Metres>{Metres(metres), "typed"};
    deed.time = Typed<Seconds>{Seconds(seconds), "typed"};
    deed.hard = true;
    scene.maker.add(kToday - Days(days_ago), deed);
  };
  row(3, 2000.0, 450.0);
  EXPECT_EQ(scene.of("ROW"), 0.0) << "two kilometres show nothing of five";
  row(2, 6000.0, 1500.0);
  EXPECT_NEAR(scene.of("ROW"), 1250.0, 1e-9);
}

}  // namespace
}  // namespace backplan
