// One entry read as evidence of an event.
#include <gtest/gtest.h>

#include <cmath>
#include <optional>
#include <string>

#include "backplan/evidence.hpp"
#include "io/readers.hpp"
#include "property/shipped_data.hpp"
#include "support/journal_entries.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using support::done;

const Standard& army() { return testing::shipped_standard("us-army-aft"); }
const Standard& acft() { return testing::shipped_standard("us-army-acft-2022"); }
const Model& model() { return testing::shipped_model(); }

std::optional<Evidence> reading(const WorkDone& work, const Standard& standard = army()) {
  return evidence_of(done(3, work), standard, model());
}

WorkDone work(const std::string& id) {
  WorkDone one;
  one.work = id;
  return one;
}

LoggedSet set(int reps, double pounds, std::optional<double> left = std::nullopt) {
  return {reps, Typed<Pounds>{Pounds(pounds), ""}, left};
}

WorkDone lifts(std::vector<LoggedSet> sets) {
  WorkDone one = work("deadlift");
  one.sets = std::move(sets);
  return one;
}

WorkDone run(const std::string& id, double miles, double seconds) {
  WorkDone one = work(id);
  one.distance = Typed<Metres>{to_metres(Miles(miles)), ""};
  one.time = Typed<Seconds>{Seconds(seconds), ""};
  return one;
}

double result_in(const std::optional<Evidence>& evidence, Direction direction = Direction::more_is_better) {
  return evidence ? result_of(evidence->v, direction) : 0.0;
}

// FM 7-22 (October 2020), paragraph 4-25: 1RM = w (1 + 0.033 n). 165 lb, four done and two left: n = 6;
// 165 × 1.198 / 1.099 = 179.863. The spread between five (3 %) and eight (5 %) repetitions is a straight
// line.
TEST(JournalEvidence, OfLiftsIsTheSetThatPromisesMost) {
  const auto found = reading(lifts({set(5, 155, 2.0), set(5, 155, 2.0), set(4, 165, 2.0)}));
  ASSERT_TRUE(found);
  EXPECT_EQ(found->event, "MDL");
  EXPECT_EQ(found->date, support::journal_day(3));
  EXPECT_NEAR(result_in(found), 179.863, 0.001);
  EXPECT_NEAR(found->sd, 0.03 + 0.02 / 3.0, 1e-12);
  EXPECT_FALSE(found->lower_bound);
}

TEST(JournalEvidence, OfLiftsWithUnknownOrLargeReserveIsALowerBound) {
  for (const std::optional<double> left : {std::optional<double>(), std::optional<double>(4.0)}) {
    const auto found = reading(lifts({set(3, 170, left)}));
    ASSERT_TRUE(found);
    EXPECT_TRUE(found->lower_bound);
    EXPECT_NEAR(result_in(found), 170.0, 1e-9);  // three repetitions are the maximum of three
  }
  EXPECT_FALSE(reading(lifts({set(3, 170, 0.0)}))->lower_bound);
  EXPECT_FALSE(reading(lifts({set(3, 170), set(3, 170, 0.0)}))->lower_bound);  // of equal ones the sure one
}

TEST(JournalEvidence, OfMoreThanTenRepetitionsIsNone) {
  EXPECT_FALSE(reading(lifts({set(11, 100, 0.0)})));
  EXPECT_FALSE(reading(lifts({set(8, 100, 3.0)})));
  EXPECT_FALSE(reading(lifts({LoggedSet{5, std::nullopt, 2.0}})));
  EXPECT_FALSE(reading(lifts({})));
}

// Riegel 1981: T2 = T1 (D2 / D1)^1.06; 1.5 miles in 12:00 are 976.71 s over two. A fresh run reads 3 % fast.
TEST(JournalEvidence, OfAHardRunIsTheTimeOverTheDistanceOfTheTest) {
  WorkDone hard = run("intervals", 1.5, 720.0);
  hard.hard = true;
  const auto found = reading(hard);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->event, "2MR");
  EXPECT_NEAR(result_in(found, Direction::less_is_better), 976.71 * std::exp(0.03), 0.01);
  EXPECT_FALSE(found->lower_bound);
  WorkDone same = run("intervals", 2.0, 1025.0);
  same.hard = true;
  EXPECT_NEAR(result_in(reading(same), Direction::less_is_better), 1025.0 * std::exp(0.03), 0.01);
  EXPECT_NEAR(reading(same)->sd, std::sqrt(0.02 * 0.02 + 0.02 * 0.02), 1e-12);
  EXPECT_GT(found->sd, reading(same)->sd);  // another distance is less sure
}

TEST(JournalEvidence, GetsLessSureTheFurtherTheDistanceIsFromTheTests) {
  double before = 0.0;
  for (const double miles : {2.0, 3.0, 4.0, 6.0, 7.9}) {
    WorkDone one = run("tempo", miles, miles * 480.0);
    one.hard = true;
    const auto found = reading(one);
    ASSERT_TRUE(found) << miles;
    EXPECT_GT(found->sd, before);
    before = found->sd;
  }
  WorkDone far = run("tempo", 8.1, 8.1 * 480.0);
  far.hard = true;
  EXPECT_FALSE(reading(far));
  WorkDone near = run("intervals", 0.4, 150.0);
  near.hard = true;
  EXPECT_FALSE(reading(near));
}

TEST(JournalEvidence, OfAnEasyRunIsNoneAndOfATellingOneABound) {
  EXPECT_FALSE(reading(run("easy_run", 3.0, 1800.0)));
  WorkDone one = run("tempo", 3.0, 1560.0);
  one.effort = 6;
  EXPECT_FALSE(reading(one));
  one.effort = 7;
  const auto found = reading(one);
  ASSERT_TRUE(found);
  EXPECT_TRUE(found->lower_bound);
  one.distance.reset();
  EXPECT_FALSE(reading(one));
}

TEST(JournalEvidence, OfPushUpsIsTheLargestSetAndABoundUnlessAllOut) {
  WorkDone one = work("push_up");
  one.sets = {{20, std::nullopt, std::nullopt}, {26, std::nullopt, 2.0}, {18, std::nullopt, std::nullopt}};
  auto found = reading(one);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->event, "HRP");
  EXPECT_TRUE(found->lower_bound);
  EXPECT_NEAR(result_in(found), 26.0 * std::exp(-0.10), 1e-9);  // counted by oneself: 10 % fewer on test day
  one.hard = true;
  found = reading(one);
  EXPECT_FALSE(found->lower_bound);
  EXPECT_NEAR(found->sd, std::sqrt(std::pow(2.0 / 26.0, 2) + 0.06 * 0.06), 1e-12);
}

TEST(JournalEvidence, OfHoldsCoursesAndThrowsNeedsThemWholeAndAllOut) {
  WorkDone hold = work("trunk");
  hold.time = Typed<Seconds>{Seconds(150.0), "2:30"};
  EXPECT_FALSE(reading(hold));
  hold.hard = true;
  ASSERT_TRUE(reading(hold));
  EXPECT_EQ(reading(hold)->event, "PLK");
  EXPECT_NEAR(result_in(reading(hold)), 150.0 * std::exp(-0.08), 1e-9);         // fresh: 8 % longer
  EXPECT_NEAR(reading(hold)->sd, std::sqrt(0.12 * 0.12 + 0.05 * 0.05), 1e-12);  // timed by oneself

  WorkDone course = work("shuttle");
  course.time = Typed<Seconds>{Seconds(140.0), "2:20"};
  course.hard = true;
  EXPECT_EQ(reading(course)->event, "SDC");
  EXPECT_NEAR(result_in(reading(course), Direction::less_is_better), 140.0 * std::exp(0.02), 1e-9);
  course.time->value = Seconds(5.0);  // no course takes so little
  EXPECT_FALSE(reading(course));

  WorkDone ball = work("throw");
  ball.distance = Typed<Metres>{Metres(8.4), "8.4 m"};
  ball.hard = true;
  EXPECT_FALSE(reading(ball));  // this test has no throw
  ASSERT_TRUE(reading(ball, acft()));
  EXPECT_NEAR(result_in(reading(ball, acft())), 8.4, 1e-9);
}

const Standard& aerobic() { return testing::shipped_standard("us-army-alternate-aerobic-2020"); }

WorkDone over(const std::string& id, double metres, double seconds) {
  WorkDone one = work(id);
  one.distance = Typed<Metres>{Metres(metres), ""};
  one.time = Typed<Seconds>{Seconds(seconds), ""};
  return one;
}

// Rowers reckon that each doubling of the distance costs five seconds a 500 m: from two minutes a 500 m over
// 2.5 km, 2:05 over 5 km, which are 20:50. Alone and fresh reads 2 % fast.
TEST(JournalEvidence, OfAHardRowIsTheTimeOverTheDistanceOfTheTest) {
  WorkDone hard = over("row", 2500.0, 600.0);
  hard.hard = true;
  const auto found = reading(hard, aerobic());
  ASSERT_TRUE(found);
  EXPECT_EQ(found->event, "ROW");
  EXPECT_FALSE(found->lower_bound);
  EXPECT_NEAR(result_in(found, Direction::less_is_better), 1250.0 * std::exp(0.02), 2.0);
}

// Water, machine and load are not logged: less sure than a run, and half of that is the person's own.
TEST(JournalEvidence, OfWaysOverADistanceIsLessSureThanOfARun) {
  WorkDone swim = over("swim", 1000.0, 1400.0);
  swim.hard = true;
  const auto found = reading(swim, aerobic());
  ASSERT_TRUE(found);
  const double of_a_run = 0.02 * 0.02 + 0.02 * 0.02;  // noise, and the spread of being alone and fresh
  EXPECT_NEAR(found->sd, std::sqrt(of_a_run + 0.03 * 0.03), 1e-12);
  EXPECT_NEAR(found->setting_sd, std::sqrt(0.02 * 0.02 + 0.5 * 0.03 * 0.03), 1e-12);
  WorkDone other = over("swim", 2000.0, 2900.0);
  other.hard = true;
  EXPECT_GT(reading(other, aerobic())->sd, found->sd);
}

TEST(JournalEvidence, OfATellingRideIsABoundAndOfAnEasyOneNone) {
  WorkDone ride = over("bike", 10000.0, 1500.0);
  EXPECT_FALSE(reading(ride, aerobic()));
  ride.effort = kTellingEffort;
  const auto found = reading(ride, aerobic());
  ASSERT_TRUE(found);
  EXPECT_EQ(found->event, "BIKE");
  EXPECT_TRUE(found->lower_bound);
  EXPECT_FALSE(reading(over("bike", 2900.0, 300.0), aerobic()));  // under a quarter of 12 km
  ride.time.reset();
  EXPECT_FALSE(reading(ride, aerobic()));
  WorkDone march = over("loaded_march", 9656.064, 5400.0);
  march.hard = true;
  EXPECT_EQ(reading(march, test::shipped_standard("loaded-march-12-mile"))->event, "MARCH");
  EXPECT_FALSE(reading(march, aerobic()));  // this test has no march
}

TEST(JournalEvidence, OfADrillNeedsTheWholeEventAllOut) {
  const Standard fbi = test::shipped_standard("us-fbi-pft");
  WorkDone sprint = over("sprint", 300.0, 50.0);
  EXPECT_FALSE(reading(sprint, fbi));
  sprint.hard = true;
  const auto found = reading(sprint, fbi);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->event, "SPRINT");
  EXPECT_FALSE(found->lower_bound);
  EXPECT_NEAR(result_in(found, Direction::less_is_better), 50.0 * std::exp(0.01), 1e-9);
  sprint.distance->value = Metres(60.0);  // a part of it
  EXPECT_FALSE(reading(sprint, fbi));

  const Standard field = test::shipped_standard("us-army-combat-field-test");
  WorkDone circuit = work("field_circuit");
  circuit.time = Typed<Seconds>{Seconds(1500.0), "25:00"};
  EXPECT_FALSE(reading(circuit, field));
  circuit.hard = true;
  EXPECT_EQ(reading(circuit, field)->event, "FIELD");

  const Standard air_force = with_choice(test::shipped_standard("us-air-force-pfa"), {"SHUTTLES"});
  WorkDone shuttles = work("shuttle_run");
  shuttles.sets = {{52, std::nullopt, std::nullopt}};
  EXPECT_FALSE(reading(shuttles, air_force));
  shuttles.hard = true;
  EXPECT_EQ(reading(shuttles, air_force)->event, "SHUTTLES");
}

TEST(JournalEvidence, OfADrillOfSeveralEventsIsNone) {
  const Standard decathlon = test::shipped_standard("athletics-decathlon");
  WorkDone shot = work("field_throw");
  shot.distance = Typed<Metres>{Metres(11.0), "11 m"};
  shot.hard = true;
  EXPECT_FALSE(reading(shot, decathlon));
  EXPECT_EQ(event_read_from(*model().find_work("field_throw"), decathlon), nullptr);
  EXPECT_NE(event_read_from(*model().find_work("intervals"), decathlon), nullptr);
}

TEST(JournalEvidence, OfFixedWorkMissedDaysAndPainIsNone) {
  WorkDone march = run("march", 6.0, 6000.0);
  march.hard = true;
  EXPECT_FALSE(reading(march));
  EXPECT_FALSE(evidence_of(done(3, Missed{"duty"}), army(), model()));
  EXPECT_FALSE(evidence_of(done(3, Pain{"shin", 2, false, false}), army(), model()));
}

TEST(JournalEvidence, OfAResultIsThatOfTheSameResultInACandidateFile) {
  ResultDone result;
  result.event = "PLK";
  result.value = {110.0, "1:50"};
  result.setting = Setting::single;
  result.first = true;
  const auto found = evidence_of(done(3, result), army(), model());
  const auto expected =
      evidence_of({{support::journal_day(3), "PLK", 110.0, "1:50", Setting::single, true}}, army(), model());
  ASSERT_TRUE(found);
  ASSERT_EQ(expected.size(), 1U);
  EXPECT_EQ(found->v, expected[0].v);
  EXPECT_EQ(found->sd, expected[0].sd);
  EXPECT_EQ(found->date, expected[0].date);
}

// Loads in the wrong unit.

std::vector<Evidence> known(double pounds) {
  Evidence one;
  one.event = "MDL";
  one.v = std::log(pounds);
  return {one};
}

std::optional<UnitDoubt> doubt(LoggedSet one, double known_pounds) {
  return unit_doubt(done(3, lifts({std::move(one)})), known(known_pounds), army(), model());
}

LoggedSet typed_set(int reps, double pounds, const std::string& typed, std::optional<double> left = 2.0) {
  return {reps, Typed<Pounds>{Pounds(pounds), typed}, left};
}

TEST(UnitDoubt, AsksAboutKilogramsWhereTheHistoryFitsPounds) {
  const auto found = doubt(typed_set(5, to_pounds(Kilograms(155.0)).value(), "155 kg"), 170.0);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->instead, "155 lb");
  EXPECT_EQ(found->event, "MDL");
  EXPECT_NEAR(found->known, 170.0, 1e-9);
}

TEST(UnitDoubt, ReadsTheUnitInAnyCase) {
  for (const char* typed : {"155 Kg", "155KG", "155kG"})
    EXPECT_TRUE(doubt(typed_set(5, to_pounds(Kilograms(155.0)).value(), typed), 170.0)) << typed;
}

TEST(UnitDoubt, AsksAboutPoundsWhereTheHistoryFitsKilograms) {
  const auto found = doubt(typed_set(5, 70.0, "70 lb"), 170.0);
  ASSERT_TRUE(found);
  EXPECT_EQ(found->instead, "70 kg");
}

TEST(UnitDoubt, LetsOrdinarySetsPass) {
  EXPECT_FALSE(doubt(typed_set(5, 155.0, "155 lb"), 170.0));
  EXPECT_FALSE(doubt(typed_set(5, to_pounds(Kilograms(70.0)).value(), "70 kg"), 170.0));
  EXPECT_FALSE(doubt(typed_set(5, 200.0, "200 lb"), 170.0));              // a good week
  EXPECT_FALSE(doubt(typed_set(5, 70.0, "70 lb", std::nullopt), 170.0));  // a warm-up: only a bound
  EXPECT_FALSE(doubt(typed_set(5, 100.0, "100 lb"), 400.0));              // too light in either unit
  EXPECT_FALSE(
      unit_doubt(done(3, lifts({typed_set(5, 342.0, "155 kg")})), {}, army(), model()));  // no history
}

TEST(UnitDoubt, AsksAboutResultsToo) {
  ResultDone result;
  result.event = "MDL";
  result.value = {to_pounds(Kilograms(180.0)).value(), "180kg"};
  const auto found = unit_doubt(done(3, result), known(170.0), army(), model());
  ASSERT_TRUE(found);
  EXPECT_EQ(found->typed, "180kg");
  EXPECT_EQ(found->instead, "180 lb");
}

}  // namespace
}  // namespace backplan
