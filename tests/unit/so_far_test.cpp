// What the days before today leave to the rules.
#include "core/so_far.hpp"

#include <gtest/gtest.h>

#include "io/readers.hpp"
#include "support/histories.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

const Date kToday = test::day(2026, 12, 3);
const Date kWeekBegan = test::day(2026, 11, 30);

Model shipped_model() { return io::read_model(io::embedded_data()).value(); }

FixedKind fixed_kind(const Model& model) { return model.fixed.front(); }

WorkDone fixed_work(const FixedKind& kind) {
  WorkDone work;
  work.work = kind.id;
  return work;
}

bool hard_after(const WorkDone& work, const Model& model) {
  support::HistoryMaker maker(kToday - Days(30));
  maker.add(kToday - Days(2), work);
  const SoFar so_far = so_far_of(maker.made(), model, kToday, kWeekBegan);
  return so_far.on(kToday - Days(2)) != nullptr && so_far.on(kToday - Days(2))->hard;
}

TEST(SoFar, FixedWorkIsHardFromItsDistanceOn) {
  const Model model = shipped_model();
  const FixedKind kind = fixed_kind(model);
  WorkDone work = fixed_work(kind);
  work.distance = Typed<Metres>{Metres(kind.hard_from_metres), "typed"};
  EXPECT_TRUE(hard_after(work, model));
  work.distance = Typed<Metres>{Metres(kind.hard_from_metres - 1.0), "typed"};
  EXPECT_FALSE(hard_after(work, model));
}

TEST(SoFar, FixedWorkWithoutADistanceIsHardFromItsMinutesOn) {
  const Model model = shipped_model();
  const FixedKind kind = fixed_kind(model);
  WorkDone work = fixed_work(kind);
  work.minutes = kind.hard_from_minutes;
  EXPECT_TRUE(hard_after(work, model));
  work.minutes = kind.hard_from_minutes - 1;
  EXPECT_FALSE(hard_after(work, model));
}

TEST(SoFar, WorkThatIsHardByItsKindOrAsItWasDoneMakesAHardDay) {
  const Model model = shipped_model();
  WorkDone work;
  work.work = "tempo";
  EXPECT_FALSE(hard_after(work, model));
  work.hard = true;
  EXPECT_TRUE(hard_after(work, model));
  work.hard = false;
  work.work = "intervals";
  EXPECT_TRUE(hard_after(work, model));
}

TEST(SoFar, CountsTheSessionsOfADayByKind) {
  support::HistoryMaker maker(kToday - Days(30));
  maker.work(kToday - Days(2), "trunk").work(kToday - Days(1), "trunk").work(kToday - Days(2), "deadlift");
  maker.work(kToday, "trunk").work(kToday - Days(20), "trunk");  // not before today; too long ago
  const SoFar so_far = so_far_of(maker.made(), shipped_model(), kToday, kWeekBegan);
  ASSERT_EQ(so_far.days.size(), 2U);
  EXPECT_EQ(so_far.days[0].date, kToday - Days(2));
  EXPECT_EQ(so_far.days[0].sessions.at("trunk"), 1);
  EXPECT_EQ(so_far.days[0].sessions.at("deadlift"), 1);
  EXPECT_TRUE(so_far.days[0].lift);
  EXPECT_EQ(so_far.days[1].sessions.size(), 1U);
}

}  // namespace
}  // namespace backplan
