// Results that are no evidence of today, and work that the unit fixes on the eve of the test.
#include <gtest/gtest.h>

#include <string>

#include "backplan/evidence.hpp"
#include "backplan/numeric.hpp"
#include "backplan/progress.hpp"
#include "io/json_write.hpp"
#include "io/readers.hpp"
#include "property/shipped_data.hpp"
#include "support/command.hpp"
#include "support/standards.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

using support::army_candidate;
using support::holds;
using support::replaced;
using support::run_command;

const Date kToday = test::day(2026, 12, 1);

// All results of the candidate of the other tests on this day instead.
std::string shown_on(const std::string& date) {
  std::string text = army_candidate();
  for (int i = 0; i < 5; ++i) text = replaced(text, "2026-11-20", date);
  return text;
}

std::string with(const std::string& text, const std::string& keys) {
  return replaced(text, "\"week\"", keys + "\"week\"");
}

io::Json plan_of(const std::string& candidate) {
  const test::TemporaryFolder folder;
  folder.write("candidate.json", candidate);
  return io::Json::parse(
      run_command({"plan", "--json", "-C", folder.path().string(), "--as-of", "2026-12-01"}).out);
}

std::string cautions_of_plan(const io::Json& plan) {
  std::string out;
  for (const auto& one : plan["cautions"]) out += one.get<std::string>() + '\n';
  return out;
}

double first_load(const io::Json& plan) {
  for (const auto& week : plan["weeks"]) {
    for (const auto& day : week["days"]) {
      for (const auto& block : day["blocks"]) {
        if (block.contains("load_lb")) return block["load_lb"];
      }
    }
  }
  return 0.0;
}

constexpr const char* kAfterBirth =
    R"("medical": { "status": "postpartum", "cleared_on": "2026-11-25" }, "aim": "highest", )";

Candidate candidate_of(const std::string& text) {
  const Model& model = testing::shipped_model();
  return io::read_candidate(text, "candidate.json", testing::shipped_standard("us-army-aft"), model, kToday)
      .value();
}

TEST(StaleResults, AreThoseOlderThanTheModelSays) {
  const Standard& standard = testing::shipped_standard("us-army-aft");
  const Model& model = testing::shipped_model();
  ASSERT_EQ(model.stale_after_days, 182);
  const auto stale = [&](const std::string& date) {
    return stale_results(candidate_of(shown_on(date)), {}, standard, model, kToday);
  };
  EXPECT_TRUE(stale("2026-06-02").empty());  // 182 days
  ASSERT_EQ(stale("2026-06-01").size(), 5U);
  EXPECT_EQ(stale("2026-06-01")[0].weeks, 26);
  EXPECT_FALSE(stale("2026-06-01")[0].before_clearance);
}

TEST(StaleResults, ANewerResultOfTheJournalMakesUpForAnOldOne) {
  const Standard& standard = testing::shipped_standard("us-army-aft");
  const Model& model = testing::shipped_model();
  ResultDone result;
  result.event = "MDL";
  result.value.value = 170.0;
  const std::vector<Done> entries = {Done{"1", test::day(2026, 11, 20), result, {}, 0}};
  std::vector<std::string> events;
  for (const StaleResult& one :
       stale_results(candidate_of(shown_on("2019-05-01")), entries, standard, model, kToday))
    events.push_back(one.event);
  EXPECT_EQ(events, (std::vector<std::string>{"HRP", "SDC", "PLK", "2MR"}));
}

TEST(StaleResults, AreNamedWithTheirDateInTheCautionsOfAPlan) {
  const io::Json plan = plan_of(shown_on("2019-05-01"));
  EXPECT_TRUE(holds(cautions_of_plan(plan),
                    "MDL, HRP, SDC, PLK, 2MR: the latest results are of 1 May 2019, 395 weeks ago: the "
                    "figures of today are doubtful."))
      << cautions_of_plan(plan);
  EXPECT_FALSE(holds(cautions_of_plan(plan_of(army_candidate())), "doubtful"));
}

TEST(StaleResults, GiveLighterLoadsThanNewOnes) {
  const double fresh = first_load(plan_of(army_candidate()));
  const double old = first_load(plan_of(shown_on("2019-05-01")));
  EXPECT_GT(old, 0.0);
  EXPECT_LT(old, 0.9 * fresh);
}

// The very same person: whoever is planned as new to training must not be promised more for it.
TEST(AfterPregnancy, DoesNotRaiseTheForecast) {
  const std::string before = with(shown_on("2026-10-20"), "\"aim\": \"highest\", ");
  const io::Json none = plan_of(before);
  const io::Json after = plan_of(with(shown_on("2026-10-20"), kAfterBirth));
  EXPECT_LT(after["outlook"]["total"]["mean"].get<double>(), none["outlook"]["total"]["mean"].get<double>());
  EXPECT_LE(after["outlook"]["p_target"].get<double>(), none["outlook"]["p_target"].get<double>());
  EXPECT_LT(first_load(after), first_load(none));
  EXPECT_TRUE(holds(cautions_of_plan(after), "are of 20 Oct 2026, from before the clearance: no evidence"))
      << cautions_of_plan(after);
}

TEST(AfterPregnancy, ReadsResultsFromBeforeTheClearanceLowerAndWider) {
  const Standard& standard = testing::shipped_standard("us-army-aft");
  const Model& model = testing::shipped_model();
  const Candidate none = candidate_of(shown_on("2026-10-20"));
  Candidate after = none;
  after.medical.status = MedicalStatus::postpartum;
  after.medical.cleared_on = test::day(2026, 11, 25);
  const EventState was = fit_progress(none, standard, model, kToday)[0];
  const EventState is = fit_progress(after, standard, model, kToday)[0];
  EXPECT_NEAR(was.v0 - is.v0, model.before_clearance_reads_high, 1e-9);
  EXPECT_NEAR(is.nodes[2].var_v0 - was.nodes[2].var_v0, numeric::squared(model.before_clearance_sd), 1e-9);
  // What is shown after the clearance counts as it is.
  after.medical.cleared_on = test::day(2026, 10, 20);
  EXPECT_NEAR(fit_progress(after, standard, model, kToday)[0].v0, was.v0, 1e-12);
}

TEST(AfterPregnancy, TheTestDaySheetSaysHowOldItsResultsAre) {
  const test::TemporaryFolder folder;
  folder.write("candidate.json", with(shown_on("2026-10-20"), kAfterBirth));
  const auto sheet = run_command({"testday", "-C", folder.path().string(), "--as-of", "2026-12-01"});
  EXPECT_TRUE(holds(sheet.out, "no evidence of today")) << sheet.out;
}

// A guess shows nothing: it neither renews a result nor lifts the cap on loads.
TEST(Stale, AGuessOfTodayMakesNoOldResultNew) {
  std::string text = shown_on("2026-01-10");
  const char* guess =
      R"("results": [ { "date": "2026-11-30", "event": "MDL", "value": "190 lb", "setting": "estimate" },)";
  text = replaced(text, "\"results\": [", guess);
  EXPECT_TRUE(holds(cautions_of_plan(plan_of(text)), "MDL")) << cautions_of_plan(plan_of(text));
}

// The test is on a Monday.
TEST(FixedWork, OnTheEveOfTheTestIsACautionAndTheDayDoesNotSayNoTraining) {
  const io::Json plan = plan_of(
      with(army_candidate(),
           R"("fixed": [ { "day": "sun", "work": "march", "minutes": 240, "distance": "20 km" } ], )"));
  EXPECT_TRUE(holds(cautions_of_plan(plan),
                    "Fixed in the last days before the test, when nothing hard is wanted: march on "
                    "Sun 7 Mar. Ask the unit to move it"))
      << cautions_of_plan(plan);
  const auto& last = plan["weeks"].back()["days"].back();
  EXPECT_EQ(last["date"], "2027-03-07");
  EXPECT_EQ(last["fixed_minutes"], 240);
  EXPECT_TRUE(holds(last["note"], "ask the unit to move what is fixed for today")) << last;
  EXPECT_FALSE(holds(last["note"], "no training")) << last;
}

TEST(FixedWork, WeeksBeforeTheTestIsNoCaution) {
  const io::Json plan = plan_of(
      with(army_candidate(),
           R"("fixed": [ { "day": "mon", "work": "march", "minutes": 240, "distance": "20 km" } ], )"));
  EXPECT_FALSE(holds(cautions_of_plan(plan), "Fixed in the last days")) << cautions_of_plan(plan);
}

}  // namespace
}  // namespace backplan
