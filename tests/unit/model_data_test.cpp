// The defaults of data/model: that they read, and that they are the ones that docs/defaults.md and the
// mathematics are written for.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "backplan/model.hpp"
#include "backplan/suited.hpp"
#include "io/readers.hpp"
#include "support/model_files.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using test::only_fault;
using test::replace_in_file;

Model embedded_model() { return io::read_model(io::embedded_data()).value(); }

Diagnostics faults_with(const std::string& path, const std::string& old_text, const std::string& new_text) {
  const auto result = io::read_model(replace_in_file(path, old_text, new_text));
  return result.ok() ? Diagnostics{} : result.faults();
}

TEST(Model, TheProgramsOwnReadsWithoutFault) {
  const auto result = io::read_model(io::embedded_data());
  ASSERT_TRUE(result.ok()) << to_string(result.faults().front());
  EXPECT_EQ(result.value().content_hash.size(), 16U);
}

struct EventRow {
  std::string id;
  double share, extra, least, most, k, u0, keep, reference, loss, grace, noise;
};

class ModelEvents : public ::testing::TestWithParam<EventRow> {};

// The table of the mathematics, once more by hand.
INSTANTIATE_TEST_SUITE_P(
    Table, ModelEvents,
    ::testing::Values(EventRow{"MDL", 1.0, 0.10, 0.05, 0.35, 0.12, 1.0, 0.5, 2, 0.007, 21, 0.025},
                      EventRow{"HRP", 1.0, 0.10, 0.08, 1.3, 0.08, 1.3, 0.6, 3, 0.015, 14, 0.07},
                      EventRow{"SDC", 0.5, 0.05, 0.03, 0.22, 0.10, 1.3, 0.4, 2, 0.010, 21, 0.035},
                      EventRow{"PLK", 1.0, 0.35, 0.15, 0.80, 0.08, 1.3, 0.5, 3, 0.015, 14, 0.07},
                      EventRow{"2MR", 0.6, 0.04, 0.03, 0.20, 0.15, 1.6, 1.3, 3, 0.010, 10, 0.02},
                      EventRow{"SPT", 0.5, 0.05, 0.03, 0.20, 0.09, 1.3, 0.5, 2, 0.007, 21, 0.04}));

TEST_P(ModelEvents, HaveTheFiguresOfTheTable) {
  const EventRow& row = GetParam();
  const Model model = embedded_model();
  const EventModel* event = model.find_event(row.id);
  ASSERT_NE(event, nullptr);
  EXPECT_EQ(event->id, row.id);
  EXPECT_DOUBLE_EQ(event->headroom.share, row.share);
  EXPECT_DOUBLE_EQ(event->headroom.extra, row.extra);
  EXPECT_DOUBLE_EQ(event->headroom.least, row.least);
  EXPECT_DOUBLE_EQ(event->headroom.most, row.most);
  EXPECT_DOUBLE_EQ(event->k_per_week, row.k);
  EXPECT_DOUBLE_EQ(event->k_log_sd, 0.35);
  EXPECT_DOUBLE_EQ(event->dose.u0, row.u0);
  EXPECT_DOUBLE_EQ(event->dose.keep, row.keep);
  EXPECT_DOUBLE_EQ(event->dose.reference, row.reference);
  EXPECT_DOUBLE_EQ(event->loss_per_week, row.loss);
  EXPECT_DOUBLE_EQ(event->grace_days, row.grace);
  EXPECT_DOUBLE_EQ(event->loss_cap, 0.12);
  EXPECT_DOUBLE_EQ(event->noise_sd, row.noise);
  EXPECT_EQ(event->run, row.id == "2MR");
  EXPECT_EQ(event->earns_nothing_days, row.id == "2MR" ? 10 : 7);
  EXPECT_FALSE(event->milestone_word.empty());
}

// Six of the Army's tests of record, and what the other standards brought.
TEST(Model, HasAnEventForEachKindOfTest) {
  std::set<std::string> ids;
  for (const auto& [id, event] : embedded_model().events) ids.insert(id);
  EXPECT_EQ(ids,
            (std::set<std::string>{"2MR",   "BIKE",   "CANLIFT", "COURSE", "FIELDTEST", "HRP", "JUMP",
                                   "MARCH", "MDL",    "PLK",     "PULLUP", "ROW",       "SDC", "SHUTTLERUN",
                                   "SITUP", "SPRINT", "SPT",     "SWIM",   "THROWS",    "WALK"}));
}

TEST(Model, PlankHasALowerCapAboveNinetySecondsAndNoOtherEventDoes) {
  const Model model = embedded_model();
  for (const auto& [id, event] : model.events) EXPECT_EQ(event.headroom.above.has_value(), id == "PLK") << id;
  EXPECT_DOUBLE_EQ(*model.find_event("PLK")->headroom.above, 90.0);
  EXPECT_DOUBLE_EQ(model.find_event("PLK")->headroom.most_above, 0.50);
}

TEST(Model, FirstAttemptsAndPushUpCountsHaveNoiseOfTheirOwn) {
  const Model model = embedded_model();
  EXPECT_DOUBLE_EQ(model.find_event("HRP")->noise_least_units, 2.0);
  EXPECT_DOUBLE_EQ(model.find_event("PLK")->first_noise_sd, 0.12);
  const std::map<std::string, double> low{{"MDL", 0.0},  {"HRP", 0.0}, {"SDC", 0.03},
                                          {"PLK", 0.03}, {"2MR", 0.0}, {"SPT", 0.03}};
  for (const auto& [id, reads_low] : low) {
    EXPECT_DOUBLE_EQ(model.find_event(id)->first_reads_low, reads_low) << id;
  }
}

TEST(Model, FreshAndSelfCountedResultsReadTooWellByTheirBias) {
  const Model model = embedded_model();
  const auto expect_bias = [&](const std::string& id, Setting setting, double mean, double sd) {
    const auto& bias = model.find_event(id)->bias;
    ASSERT_EQ(bias.count(setting), 1U) << id;
    EXPECT_DOUBLE_EQ(bias.at(setting).mean, mean) << id;
    EXPECT_DOUBLE_EQ(bias.at(setting).sd, sd) << id;
  };
  expect_bias("2MR", Setting::single, -0.03, 0.02);
  expect_bias("PLK", Setting::single, -0.08, 0.05);
  expect_bias("SDC", Setting::single, -0.02, 0.02);
  expect_bias("HRP", Setting::self, -0.10, 0.06);
  for (const auto& [id, event] : model.events) expect_bias(id, Setting::estimate, 0.0, 0.08);
  for (const auto& [id, event] : model.events) EXPECT_EQ(event.bias.count(Setting::record), 0U) << id;
}

struct WorkRow {
  std::string id, family, trains;
  int minutes, short_minutes;
  double short_stimulus;
  bool hard, heavy;
  int most_a_week;
};

class ModelWork : public ::testing::TestWithParam<WorkRow> {};

INSTANTIATE_TEST_SUITE_P(
    Table, ModelWork,
    ::testing::Values(WorkRow{"deadlift", "lift", "MDL", 45, 30, 0.65, true, true, 2},
                      WorkRow{"push_up", "press", "HRP", 20, 12, 0.6, false, false, 4},
                      WorkRow{"shuttle", "shuttle", "SDC", 35, 22, 0.6, true, true, 2},
                      WorkRow{"trunk", "hold", "PLK", 15, 10, 0.65, false, false, 4},
                      WorkRow{"intervals", "intervals", "2MR", 35, 25, 0.7, true, false, 2},
                      WorkRow{"tempo", "steady", "2MR", 35, 25, 0.7, false, false, 2},
                      WorkRow{"easy_run", "steady", "2MR", 40, 25, 0.65, false, false, 3},
                      WorkRow{"throw", "throw", "SPT", 20, 12, 0.6, false, false, 2}));

TEST_P(ModelWork, HasTheFiguresOfTheTable) {
  const WorkRow& row = GetParam();
  const Model model = embedded_model();
  const WorkKind* kind = model.find_work(row.id);
  ASSERT_NE(kind, nullptr);
  EXPECT_EQ(kind->family, row.family);
  EXPECT_EQ(kind->trains, row.trains);
  EXPECT_EQ(kind->full.minutes, row.minutes);
  EXPECT_DOUBLE_EQ(kind->full.stimulus, 1.0);
  EXPECT_EQ(kind->shorter.minutes, row.short_minutes);
  EXPECT_DOUBLE_EQ(kind->shorter.stimulus, row.short_stimulus);
  EXPECT_EQ(kind->hard, row.hard);
  EXPECT_EQ(kind->heavy_lower, row.heavy);
  EXPECT_EQ(kind->most_a_week, row.most_a_week);
  EXPECT_EQ(kind->running, row.trains == "2MR");
}

TEST(Model, WorkKindsStandInAFixedOrderUnderTheirPrintedNames) {
  std::vector<std::string> names;
  for (const WorkKind& kind : embedded_model().work) names.push_back(kind.name);
  EXPECT_EQ(names, (std::vector<std::string>{"deadlift day",
                                             "push-ups",
                                             "shuttle",
                                             "trunk",
                                             "intervals",
                                             "tempo run",
                                             "easy run",
                                             "throws",
                                             "pull-ups",
                                             "sit-ups",
                                             "ammunition-can lifts",
                                             "sprints",
                                             "course in parts",
                                             "shuttle runs",
                                             "loaded march",
                                             "row",
                                             "swim",
                                             "ride",
                                             "brisk walk",
                                             "field circuit",
                                             "jumps",
                                             "throws of athletics"}));
}

TEST(Model, OnlyPushUpsAndTrunkCanBeDoneAtHome) {
  const Model model = embedded_model();
  for (const WorkKind& kind : model.work) {
    EXPECT_EQ(kind.home.has_value(), kind.id == "push_up" || kind.id == "trunk") << kind.id;
    EXPECT_EQ(kind.home.value_or(BlockShape{10, 0.0}).minutes, 10) << kind.id;
  }
  EXPECT_DOUBLE_EQ(model.find_work("push_up")->home->stimulus, 0.5);
  EXPECT_DOUBLE_EQ(model.find_work("trunk")->home->stimulus, 0.6);
}

TEST(Model, TransferIsTheWholeMatrix) {
  // Rows by event, columns deadlift .. throw.
  const std::vector<std::string> kinds{"deadlift",  "push_up", "shuttle",  "trunk",
                                       "intervals", "tempo",   "easy_run", "throw"};
  const std::map<std::string, std::vector<double>> matrix{
      {"MDL", {1, .05, .15, .1, 0, 0, 0, .1}},     {"HRP", {.05, 1, .05, .15, 0, 0, 0, .05}},
      {"SDC", {.3, .05, 1, .05, .3, .15, .1, .1}}, {"PLK", {.1, .25, .05, 1, .05, .05, .05, 0}},
      {"2MR", {0, 0, .2, 0, 1, .9, .45, 0}},       {"SPT", {.4, .2, .2, .1, 0, 0, 0, 1}}};
  const Model model = embedded_model();
  for (const auto& [event, row] : matrix) {
    for (std::size_t i = 0; i < kinds.size(); ++i) {
      const auto& transfer = model.find_work(kinds[i])->transfer;
      const auto found = transfer.find(event);
      EXPECT_DOUBLE_EQ(found == transfer.end() ? 0.0 : found->second, row[i]) << event << ' ' << kinds[i];
    }
  }
}

TEST(Model, FixedWorkCountsAsPartOfAWorkKind) {
  const Model model = embedded_model();
  const FixedKind* march = model.find_fixed("march");
  ASSERT_NE(march, nullptr);
  EXPECT_EQ(march->counts_as, "easy_run");
  EXPECT_DOUBLE_EQ(march->stimulus_per_minute, 0.0125);
  EXPECT_TRUE(march->march);
  EXPECT_DOUBLE_EQ(march->hard_from_metres, 5000.0);
  EXPECT_DOUBLE_EQ(march->hard_from_minutes, 60.0);
  const FixedKind* run = model.find_fixed("unit_run");
  ASSERT_NE(run, nullptr);
  EXPECT_TRUE(run->running);
  EXPECT_DOUBLE_EQ(run->stimulus_per_minute * model.find_work("easy_run")->full.minutes, 1.0);
  EXPECT_GT(run->hard_from_metres, 100000.0);
  const FixedKind* circuit = model.find_fixed("circuit");
  ASSERT_NE(circuit, nullptr);
  EXPECT_EQ(circuit->counts_as, "shuttle");
  EXPECT_DOUBLE_EQ(circuit->hard_from_metres, 0.0);
  EXPECT_NEAR(circuit->stimulus_per_minute * model.find_work("shuttle")->full.minutes, 0.5, 0.001);
  EXPECT_NE(model.find_fixed("unit_pt"), nullptr);
}

TEST(Model, HasTheFiguresOfTheOutlook) {
  const Model model = embedded_model();
  EXPECT_DOUBLE_EQ(model.common.variance_share, 0.25);
  EXPECT_DOUBLE_EQ(model.value.below_minimum_cost, 15.0);
  EXPECT_DOUBLE_EQ(model.value.own_target_weight, 1.5);
  EXPECT_DOUBLE_EQ(model.background_new, 1.0);
  EXPECT_DOUBLE_EQ(model.background_regular, 0.6);
  EXPECT_DOUBLE_EQ(model.background_long, 0.35);
  EXPECT_DOUBLE_EQ(model.headroom_per_decade, 0.9);
  EXPECT_DOUBLE_EQ(model.headroom_sd_share, 0.5);
  EXPECT_DOUBLE_EQ(model.drift_per_sqrt_week, 0.01);
  EXPECT_DOUBLE_EQ(model.unlogged_day_share, 0.85);
  // The Army's published questions and answers on the 2022 test: the 5th and the 96th percentile.
  EXPECT_DOUBLE_EQ(model.band_low_percentile, 0.05);
  EXPECT_DOUBLE_EQ(model.band_high_percentile, 0.96);
}

TEST(Model, ListsEachFigureOnceWithItsSource) {
  const Model model = embedded_model();
  std::set<std::string> names;
  for (const Assumption& one : model.assumptions) {
    EXPECT_TRUE(names.insert(one.name).second) << one.name << " is listed twice";
    EXPECT_FALSE(one.value.empty()) << one.name;
    EXPECT_FALSE(one.source.empty()) << one.name;
  }
  const Assumption* k = test::find_assumption(model.assumptions, "events.MDL.k_per_week");
  ASSERT_NE(k, nullptr);
  EXPECT_EQ(k->value, "0.12");
  EXPECT_EQ(k->status, Status::derived);
  EXPECT_TRUE(names.count("work.deadlift.transfer.SPT") == 1 &&
              names.count("outlook.common_factor.variance_share") == 1);
}

// What is not of the Army's tests of record must not move their plans.
TEST(SuitedModel, OfTheFirstEventsIsTheWorkThatWasAlwaysThere) {
  const Model own = suited_model(embedded_model(), test::shipped_standard("us-army-aft"));
  std::vector<std::string> ids;
  for (const WorkKind& kind : own.work) ids.push_back(kind.id);
  EXPECT_EQ(ids, (std::vector<std::string>{"deadlift", "push_up", "shuttle", "trunk", "intervals", "tempo",
                                           "easy_run", "throw"}));
  EXPECT_DOUBLE_EQ(own.value.below_minimum_cost, 15.0);
  for (const Assumption& one : own.assumptions)
    EXPECT_EQ(one.name.find("ROW"), std::string::npos) << one.name;
  EXPECT_NE(test::find_assumption(own.assumptions, "work.throw.transfer.MDL"), nullptr);
}

TEST(SuitedModel, MoreWorkForAStandardThanAPlanWeighsIsAFault) {
  const Standard army = test::shipped_standard("us-army-aft");
  Model model = embedded_model();
  EXPECT_TRUE(too_much_work(model, army).empty());
  WorkKind further = *model.find_work("tempo");
  while (too_much_work(model, army).empty() && model.work.size() < 40) {
    further.id += "x";
    model.work.push_back(further);
  }
  const Diagnostics faults = too_much_work(model, army);
  ASSERT_EQ(faults.size(), 1U);
  EXPECT_EQ(faults.front().message, "13 kinds of work for us-army-aft; a plan weighs at most 12");
}

TEST(SuitedModel, KeepsTheWorkOfTheStandardAndScalesTheCostOfAMissToItsPoints) {
  const Standard row = with_choice(test::shipped_standard("us-army-alternate-aerobic"), {"ROW"});
  const Model own = suited_model(embedded_model(), row);
  ASSERT_EQ(own.work.size(), 1U);
  EXPECT_EQ(own.work.front().id, "row");
  EXPECT_DOUBLE_EQ(own.value.below_minimum_cost, 0.15);
  EXPECT_EQ(test::find_assumption(own.assumptions, "events.MDL.k_per_week"), nullptr);
  const Model field = suited_model(embedded_model(), test::shipped_standard("us-army-combat-field-test"));
  EXPECT_NE(field.find_work("field_circuit"), nullptr);
  EXPECT_NE(field.find_work("easy_run"), nullptr);  // it trains another event, and is for this one too
  EXPECT_EQ(field.find_work("deadlift"), nullptr);
}

TEST(SuitedRules, StopWithPainWhatIsLikeAStoppedKindAndOfferOnlyWhatThereIs) {
  const Standard force = test::shipped_standard("ca-force");
  const Model own = suited_model(embedded_model(), force);
  const Rules rules = suited_rules(io::read_rules(io::embedded_data()).value(), own);
  for (const PainRegion& region : rules.pain.regions) {
    const auto stops = [&](const std::string& work) {
      return std::find(region.stops.begin(), region.stops.end(), work) != region.stops.end();
    };
    EXPECT_EQ(stops("course"), stops("shuttle")) << region.id;
  }
  for (const auto& [work, others] : rules.pain.substitutes) {
    for (const std::string& other : others) EXPECT_NE(own.find_work(other), nullptr) << other;
  }
}

TEST(Model, FindsNothingUnderAnUnknownId) {
  const Model model = embedded_model();
  EXPECT_EQ(model.find_event("XXX"), nullptr);
  EXPECT_EQ(model.find_work("march"), nullptr);
  EXPECT_EQ(model.find_fixed("deadlift"), nullptr);
}

TEST(Model, ItsHashChangesWithAnyOfItsFiles) {
  const std::string own = embedded_model().content_hash;
  for (const auto* path : {"model/events.json", "model/work.json", "model/outlook.json"}) {
    const auto changed = io::read_model(replace_in_file(path, "{\n", "{ \n"));
    ASSERT_TRUE(changed.ok()) << path;
    EXPECT_NE(changed.value().content_hash, own) << path;
  }
}

TEST(ModelReader, NamesAnUnknownKeyWithTheNearestKnownOne) {
  const Diagnostic fault = only_fault(faults_with("model/outlook.json", "\"variance_share\": 0.25",
                                                  "\"variance_share\": 0.25, \"variance_shar\": 0.2"));
  EXPECT_EQ(fault.message, "unknown key \"variance_shar\"");
  EXPECT_EQ(fault.hint, "did you mean \"variance_share\"?");
  EXPECT_EQ(fault.file, "model/outlook.json");
  EXPECT_EQ(fault.line, 4);
}

TEST(ModelReader, NamesAMissingKey) {
  const Diagnostic fault = only_fault(faults_with("model/events.json", "\"u0\": 1.0, ", ""));
  EXPECT_EQ(fault.message, "the key \"u0\" is missing");
  EXPECT_EQ(fault.field, "/events/MDL/dose/value");
}

TEST(ModelReader, WantsASourceForEachFigure) {
  const auto files = replace_in_file("model/outlook.json", "\"source\": \"How far", "\"sauce\": \"How far");
  const auto result = io::read_model(files);
  ASSERT_FALSE(result.ok());
  ASSERT_EQ(result.faults().size(), 2U);  // the unknown key, and the missing one
  EXPECT_EQ(result.faults()[1].message, "the key \"source\" is missing");
}

TEST(ModelReader, RefusesNegativeMinutes) {
  const Diagnostic fault = only_fault(faults_with("model/work.json", "\"minutes\": 45", "\"minutes\": -45"));
  EXPECT_EQ(fault.message, "expected a whole number from 1 to 240, found the number -45");
  EXPECT_EQ(fault.field, "/work/0/full/value/minutes");
}

TEST(ModelReader, RefusesATransferToAnUnknownEvent) {
  const Diagnostic fault = only_fault(faults_with("model/work.json", "{ \"MDL\": 1.0", "{ \"MDX\": 1.0"));
  EXPECT_EQ(fault.message, "unknown event \"MDX\"");
  EXPECT_EQ(fault.field, "/work/0/transfer/value/MDX");
}

TEST(ModelReader, RefusesAMisspeltStatus) {
  const Diagnostic fault =
      only_fault(faults_with("model/outlook.json", "\"status\": \"published\"", "\"status\": \"publishd\""));
  EXPECT_NE(fault.message.find("found \"publishd\""), std::string::npos) << fault.message;
  EXPECT_EQ(fault.hint, "did you mean \"published\"?");
}

TEST(ModelReader, RefusesAKeepDoseThatIsNotBelowTheReference) {
  const Diagnostic fault = only_fault(faults_with("model/events.json", "\"keep\": 0.5", "\"keep\": 2.0"));
  EXPECT_EQ(fault.message, "\"keep\" is not less than \"reference\"");
}

TEST(ModelReader, RefusesAShortBlockLargerThanTheFullOne) {
  const Diagnostic fault = only_fault(faults_with("model/work.json", "\"minutes\": 30", "\"minutes\": 46"));
  EXPECT_EQ(fault.field, "/work/0/short");
}

TEST(ModelReader, RefusesASecondWorkKindOfTheSameId) {
  const Diagnostic fault =
      only_fault(faults_with("model/work.json", "\"id\": \"unit_run\"", "\"id\": \"march\""));
  EXPECT_EQ(fault.message, "the id \"march\" stands here a second time");
}

TEST(ModelReader, RefusesAnotherFormat) {
  const Diagnostic fault = only_fault(faults_with("model/work.json", "backplan-work/1", "backplan-work/2"));
  EXPECT_EQ(fault.field, "/format");
}

TEST(ModelReader, TakesTheUsersFileThatComesAfterItsOwn) {
  auto files = io::embedded_data();
  for (auto& file :
       replace_in_file("model/outlook.json", "\"variance_share\": 0.25", "\"variance_share\": 0.5")) {
    if (file.path == "model/outlook.json") files.push_back(file);
  }
  EXPECT_EQ(io::read_model(files).value().common.variance_share, 0.5);
}

}  // namespace
}  // namespace backplan
