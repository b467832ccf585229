// The sheet for the day of the test. docs/mathematics.md, "Test day".
#include "backplan/test_day.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <numeric>
#include <sstream>
#include <string>
#include <vector>

#include "backplan/evidence.hpp"
#include "backplan/score.hpp"
#include "io/json_write.hpp"
#include "io/test_day_reader.hpp"
#include "report/words.hpp"
#include "support/command.hpp"
#include "support/model_files.hpp"
#include "support/standards.hpp"
#include "support/temporary_folder.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

using support::Answer;
using support::army_candidate;
using support::holds;
using support::run_command;
using test::TemporaryFolder;

const TestDayModel& shipped() {
  static const TestDayModel model = io::read_test_day(io::embedded_data()).value();
  return model;
}

Scale deadlift(const std::string& column) {
  static const Standard standard = test::shipped_standard("us-army-aft");
  return standard.scales.at({"MDL", column, {27, 31}});
}

// ---- Two tries, against brute force: every policy of a first load, a load after a good and one after a
// failed first try (or none), each summed over a fine grid of the ability of the morning.

double cdf(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

struct BruteForce {
  std::vector<double> loads, points;
  std::vector<std::vector<double>> fresh, after_good, after_failed;  // P(good) by load and node
  std::vector<double> weights;

  BruteForce(const Scale& scale, const DaySpread& spread, const TriesModel& model) {
    for (double load = scale.rows().front().result; load <= scale.rows().back().result + 1.0; load += 10.0) {
      loads.push_back(load);
      points.push_back(scale.score(load).points->value());
    }
    const double day = std::sqrt(spread.sd * spread.sd - model.between * model.between);
    constexpr int kNodes = 6001;
    double sum = 0.0;
    std::vector<double> abilities;
    for (int i = 0; i < kNodes; ++i) {
      const double z = -7.0 + 14.0 * i / (kNodes - 1);
      abilities.push_back(spread.mean + z * day);
      weights.push_back(std::exp(-0.5 * z * z));
      sum += weights.back();
    }
    for (double& weight : weights) weight /= sum;
    for (const double load : loads) {
      const auto good = [&](double tired) {
        std::vector<double> p;
        for (const double ability : abilities)
          p.push_back(cdf((ability - tired - std::log(load)) / model.between));
        return p;
      };
      fresh.push_back(good(0.0));
      after_good.push_back(good(model.tired_after_good));
      after_failed.push_back(good(model.tired_after_failed));
    }
  }

  // -1: no second try.
  [[nodiscard]] double worth(int first, int good, int failed) const {
    const auto at = [](const auto& list, int i) -> const auto& { return list[static_cast<std::size_t>(i)]; };
    double sum = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
      const double p = at(fresh, first)[i];
      double if_good = at(points, first);
      if (good >= 0) if_good += at(after_good, good)[i] * std::max(0.0, at(points, good) - at(points, first));
      const double if_failed = failed >= 0 ? at(after_failed, failed)[i] * at(points, failed) : 0.0;
      sum += weights[i] * (p * if_good + (1.0 - p) * if_failed);
    }
    return sum;
  }

  [[nodiscard]] int index_of(const std::optional<double>& load) const {
    if (!load) return -1;
    for (std::size_t i = 0; i < loads.size(); ++i) {
      if (std::fabs(loads[i] - *load) < 1e-9) return static_cast<int>(i);
    }
    return -2;
  }

  // The best of all policies that the rule allows. Its two second tries do not depend on one another, so
  // the best of each is enough: worth(f, g, k) = worth(f, g, none) + worth(f, none, k) - worth(f, none,
  // none).
  [[nodiscard]] double best() const {
    double found = 0.0;
    const int count = static_cast<int>(loads.size());
    for (int first = 0; first < count; ++first) {
      const double alone = worth(first, -1, -1);
      double good = alone;
      double failed = alone;
      for (int next = first + 1; next < count; ++next) good = std::max(good, worth(first, next, -1));
      for (int next = 0; next < first; ++next) failed = std::max(failed, worth(first, -1, next));
      found = std::max(found, good + failed - alone);
    }
    return found;
  }
};

struct Morning {
  std::string column;
  double expected;
  double sd;
};

class Tries : public testing::TestWithParam<Morning> {};

TEST_P(Tries, EarnWhatNoOtherPolicyBeats) {
  const Morning& morning = GetParam();
  const Scale scale = deadlift(morning.column);
  const DaySpread spread{std::log(morning.expected), morning.sd};
  const TriesModel model = shipped().events.at("MDL").tries;
  const TryPlan plan = choose_tries(scale, spread, model);
  const BruteForce brute(scale, spread, model);
  EXPECT_NEAR(plan.best.expected_points, brute.best(), 1e-4);
  for (const TryChoice& one : plan.near) {
    const int first = brute.index_of(one.first);
    const int good = brute.index_of(one.after_good);
    const int failed = brute.index_of(one.after_failed);
    ASSERT_GE(first, 0);
    ASSERT_GE(good, -1);
    ASSERT_GE(failed, -1);
    EXPECT_NEAR(one.expected_points, brute.worth(first, good, failed), 1e-4);
    EXPECT_LE(one.expected_points, plan.best.expected_points + 1e-9);
    // The official rule: heavier after a good try, lighter after a failed one.
    EXPECT_TRUE(!one.after_good || *one.after_good > one.first);
    EXPECT_TRUE(!one.after_failed || *one.after_failed < one.first);
  }
}

INSTANTIATE_TEST_SUITE_P(Mornings, Tries,
                         testing::Values(Morning{"female", 120, 0.03}, Morning{"female", 175, 0.08},
                                         Morning{"female", 216, 0.07}, Morning{"female", 260, 0.05},
                                         Morning{"male", 138, 0.06}, Morning{"male", 255, 0.012},
                                         Morning{"male", 300, 0.15}, Morning{"male", 420, 0.04}));

TEST(TryChoices, BeginAtTheTopWhereItIsSure) {
  const Scale scale = deadlift("female");
  const double top = scale.rows().back().result;
  const TryPlan plan = choose_tries(scale, {std::log(2.0 * top), 0.05}, shipped().events.at("MDL").tries);
  EXPECT_EQ(plan.best.first, top);
  EXPECT_FALSE(plan.best.after_good);
  EXPECT_NEAR(plan.best.expected_points, 100.0, 1e-6);
}

TEST(TryChoices, AreNeverWorthLessWithASecondTry) {
  const Scale scale = deadlift("male");
  TriesModel one = shipped().events.at("MDL").tries;
  one.most = 1;
  for (double expected = 150; expected < 360; expected += 23) {
    const DaySpread spread{std::log(expected), 0.05};
    EXPECT_GT(choose_tries(scale, spread, shipped().events.at("MDL").tries).best.expected_points,
              choose_tries(scale, spread, one).best.expected_points);
  }
}

TEST(TryChoices, AreWorthMoreTheStrongerOneIs) {
  const Scale scale = deadlift("male");
  double before = 0.0;
  for (double expected = 120; expected < 380; expected += 7) {
    const double worth = choose_tries(scale, {std::log(expected), 0.05}, shipped().events.at("MDL").tries)
                             .best.expected_points;
    EXPECT_GT(worth, before) << expected;
    before = worth;
  }
}

// ---- Quarters, legs, laps.

TEST(Quarters, AddUpForEveryTotal) {
  const auto& shares = shipped().events.at("HRP").quarters;
  for (int total = 0; total <= 150; ++total) {
    const auto quarters = pace_quarters(total, shares);
    ASSERT_EQ(quarters.size(), shares.size());
    EXPECT_EQ(std::accumulate(quarters.begin(), quarters.end(), 0), total);
    for (std::size_t i = 0; i < shares.size(); ++i) EXPECT_NEAR(quarters[i], total * shares[i], 1.0 + 1e-9);
  }
}

TEST(Laps, AddUpToTheTargetForEveryTime) {
  const Metres two_miles = to_metres(Miles(2.0));
  for (int total = 600; total <= 2400; ++total) {
    for (const double faster : {0.0, 0.01, 0.05}) {
      const auto laps = lap_marks(total, 1.0, two_miles, Metres(400.0), faster);
      ASSERT_EQ(laps.size(), 9U);  // eight laps and the 18.688 m that two miles are longer
      double sum = 0.0;
      for (const ClockMark& lap : laps) {
        EXPECT_EQ(lap.split, std::floor(lap.split));
        EXPECT_GE(lap.split, 0.0);
        sum += lap.split;
        EXPECT_EQ(lap.clock, sum);
      }
      EXPECT_EQ(sum, total);
      EXPECT_EQ(laps.back().clock, total);
    }
  }
}

TEST(Laps, AreEvenToASecondOrFasterInTheSecondHalf) {
  const Metres distance(3200.0);
  const auto even = lap_marks(960.0, 1.0, distance, Metres(400.0), 0.0);
  ASSERT_EQ(even.size(), 8U);
  for (const ClockMark& lap : even) EXPECT_EQ(lap.split, 120.0);
  const auto faster = lap_marks(1000.0, 1.0, distance, Metres(400.0), 0.01);
  EXPECT_EQ(faster[3].clock, 505.0);  // half of 1000 s and 1 %
  EXPECT_EQ(faster[7].clock, 1000.0);
}

TEST(Laps, OfADistanceShorterThanALapAreOneMark) {
  const auto marks = lap_marks(55.0, 1.0, Metres(300.0), Metres(400.0), 0.01);
  ASSERT_EQ(marks.size(), 1U);
  EXPECT_EQ(marks[0].at, Metres(300.0));
  EXPECT_EQ(marks[0].clock, 55.0);
}

TEST(Legs, AddUpForEveryTime) {
  for (int total = 60; total <= 400; ++total) {
    const auto legs = leg_marks(total, 1.0, shipped().events.at("SDC").legs);
    ASSERT_EQ(legs.size(), 5U);
    double sum = 0.0;
    for (const ClockMark& leg : legs) sum += leg.split;
    EXPECT_EQ(sum, total);
    EXPECT_EQ(legs.back().clock, total);
  }
}

// ---- The place.

// Mantzios 2022 (Med Sci Sports Exerc 54:153): 0.3 to 0.4 % a degree of WBGT outside 7.5 to 15 °C; at 25 °C a
// two-mile run of 15:00 takes 27 to 36 s longer.
TEST(Heat, SlowsByThePublishedShareOfEachDegree) {
  const Slowing warm = slowing_by_heat(25.0, shipped().heat);
  EXPECT_NEAR(900.0 * warm.least, 27.0, 1e-9);
  EXPECT_NEAR(900.0 * warm.most, 36.0, 1e-9);
  EXPECT_NEAR(slowing_by_heat(5.5, shipped().heat).least, 0.006, 1e-12);
  EXPECT_EQ(slowing_by_heat(7.5, shipped().heat).most, 0.0);
  EXPECT_EQ(slowing_by_heat(15.0, shipped().heat).most, 0.0);
}

// 6.3 % of the aerobic maximum a kilometre from 300 m on (Wehrlin & Hallén 2006, from memory) through the
// equations of Daniels & Gilbert: worked out separately, two miles take 6.8 to 7.1 % longer at 1500 m, 8.6 to
// 9.0 % at 1800 m, 10.5 to 11.0 % at 2100 m.
TEST(Height, SlowsAsTheEquationsSay) {
  const Metres two_miles = to_metres(Miles(2.0));
  struct Case {
    double metres, least, most;
  };
  for (const Case& one : {Case{1500, 0.068, 0.071}, Case{1800, 0.086, 0.090}, Case{2100, 0.105, 0.110}}) {
    for (const double time : {780.0, 960.0, 1200.0}) {
      const Slowing slowing =
          slowing_by_altitude(Metres(one.metres), two_miles, Seconds(time), shipped().altitude);
      EXPECT_GT(slowing.most, one.least - 0.001) << one.metres << ' ' << time;
      EXPECT_LT(slowing.most, one.most + 0.001) << one.metres << ' ' << time;
      EXPECT_NEAR(slowing.least, 0.5 * slowing.most, 1e-12);
    }
  }
  EXPECT_EQ(slowing_by_altitude(Metres(300.0), two_miles, Seconds(900.0), shipped().altitude).most, 0.0);
}

// TB MED 507: categories from 78, 82, 85, 88 and 90 °F WBGT.
TEST(Heat, HasItsCategoryByFahrenheit) {
  const auto category = [](const char* text) {
    const auto found = heat_category(*io::read_temperature(text).value, shipped().heat_categories);
    return found ? found->category : 0;
  };
  EXPECT_EQ(category("77.9 F"), 0);
  EXPECT_EQ(category("78F"), 1);
  EXPECT_EQ(category("84.9F"), 2);
  EXPECT_EQ(category("85F"), 3);
  EXPECT_EQ(category("88 f"), 4);
  EXPECT_EQ(category("90F"), 5);
  EXPECT_EQ(category("32.3C"), 5);
}

TEST(Temperatures, AskForTheirUnit) {
  EXPECT_NEAR(*io::read_temperature("29 C").value, 29.0, 1e-12);
  EXPECT_NEAR(*io::read_temperature("68F").value, 20.0, 1e-12);
  for (const char* text : {"29", "", "C", "hot", "29 K", "2 9C", "1e1C", "80 C", "200F", "nan C"}) {
    EXPECT_FALSE(io::read_temperature(text).value) << text;
    EXPECT_FALSE(io::read_temperature(text).hint.empty()) << text;
  }
}

// ---- Spreads.

TEST(Spreads, ComeBackFromAnIntervalThatWasRounded) {
  const Standard standard = test::shipped_standard("us-army-aft");
  const Event& event = *standard.find_event("2MR");
  const Model model = io::read_model(io::embedded_data()).value();
  EventOutlook outlook;
  const DaySpread truth{-std::log(1030.0), 0.043};
  const auto result = [&](double z) {
    return round_harder(std::exp(-(truth.mean + z * truth.sd)), 1.0, Direction::less_is_better);
  };
  outlook.test_day_result = result(0.0);
  outlook.test_day_low80 = result(-1.2815515655446);
  outlook.test_day_high80 = result(1.2815515655446);
  const DaySpread found = spread_of(outlook, std::nullopt, event, *model.find_event("2MR"));
  EXPECT_NEAR(found.mean, truth.mean, 0.001);
  EXPECT_NEAR(found.sd, truth.sd, 0.001);
  const DaySpread exact = spread_of(outlook, 1000.0, event, *model.find_event("2MR"));
  EXPECT_NEAR(exact.mean, -std::log(1000.0), 1e-12);
}

// ---- The data file.

TEST(TestDayData, RefusesSharesThatDoNotAddUp) {
  const auto fault = test::only_fault(
      io::read_test_day(test::replace_in_file("model/test_day.json", "0.10, 0.09]", "0.10, 0.19]")).faults());
  EXPECT_TRUE(holds(fault.message, "add up to 1.1")) << fault.message;
  EXPECT_EQ(fault.field, "/events/HRP/quarters/value");
}

TEST(TestDayData, RefusesCategoriesOutOfOrder) {
  const auto fault = test::only_fault(
      io::read_test_day(test::replace_in_file("model/test_day.json", "\"from_f\": 85", "\"from_f\": 81"))
          .faults());
  EXPECT_EQ(fault.field, "/place/heat_categories/value/2");
}

TEST(TestDayData, NamesWhatItDoesNotKnow) {
  const auto fault =
      test::only_fault(io::read_test_day(test::replace_in_file("model/test_day.json", "\"kind\": \"laps\"",
                                                               "\"kind\": \"lap\""))
                           .faults());
  EXPECT_EQ(fault.field, "/events/2MR/kind");
}

TEST(TestDayData, KnowsEveryEventOfTheModel) {
  const Model model = io::read_model(io::embedded_data()).value();
  for (const auto& [id, event] : model.events) EXPECT_EQ(shipped().events.count(id), 1U) << id;
}

// ---- The command.

io::Json sheet_of(const TemporaryFolder& folder, std::vector<std::string> more) {
  std::vector<std::string> words{"testday", "--json", "-C", folder.path().string()};
  words.insert(words.end(), more.begin(), more.end());
  const Answer answer = run_command(words);
  EXPECT_EQ(answer.code, 0) << answer.err;
  return io::Json::parse(answer.out);
}

const io::Json& event_in(const io::Json& sheet, const std::string& id) {
  for (const auto& one : sheet["events"]) {
    if (one["event"] == id) return one;
  }
  throw std::logic_error("no such event");
}

TEST(TestDay, LapsAndLegsAddUpToTheAim) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const io::Json sheet = sheet_of(folder, {"--aim", "2MR=17:13", "--aim", "HRP=31"});
  const io::Json& run = event_in(sheet, "2MR");
  for (const char* laps : {"even_laps", "faster_second_half_laps", "even_miles"}) {
    double sum = 0.0;
    for (const auto& lap : run[laps]) sum += lap["split"].get<double>();
    EXPECT_EQ(sum, 17 * 60 + 13) << laps;
    EXPECT_EQ(run[laps].back()["clock_text"], "17:13");
  }
  int repetitions = 0;
  for (const auto& quarter : event_in(sheet, "HRP")["repetitions_by_quarter"])
    repetitions += quarter.get<int>();
  EXPECT_EQ(repetitions, 31);
  EXPECT_EQ(event_in(sheet, "SDC")["legs"].back()["clock_text"], event_in(sheet, "SDC")["forecast"]["text"]);
}

TEST(TestDay, TakesTheForecastOfThePlan) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const io::Json without = sheet_of(folder, {});
  EXPECT_TRUE(holds(without["basis"].get<std::string>(), "Without a plan"));
  ASSERT_LE(run_command({"plan", "-C", folder.path().string()}).code, 1);
  const io::Json plan = io::Json::parse(folder.read("plan.json"));
  const io::Json with = sheet_of(folder, {});
  EXPECT_TRUE(holds(with["basis"].get<std::string>(), "Forecast of the plan of Mon 30 Nov"));
  for (std::size_t i = 0; i < 5; ++i) {
    const auto& planned = plan["outlook"]["events"][i]["test_day"];
    const auto& shown = with["events"][i]["forecast"];
    for (const char* key : {"result", "low80", "high80", "points", "expected_points", "p_minimum"})
      EXPECT_EQ(shown[key], planned[key]) << i << ' ' << key;
  }
}

TEST(TestDay, ShiftsOnlyTheRunByHeatAndHeight) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const io::Json cool = sheet_of(folder, {});
  const io::Json hot = sheet_of(folder, {"--heat", "25 C"});
  for (const char* id : {"MDL", "HRP", "SDC", "PLK"})
    EXPECT_EQ(event_in(cool, id)["forecast"], event_in(hot, id)["forecast"]) << id;
  const double before = event_in(cool, "2MR")["forecast"]["result"].get<double>();
  const double after = event_in(hot, "2MR")["forecast"]["result"].get<double>();
  EXPECT_NEAR(after / before, 1.035, 0.002);
  const io::Json high = sheet_of(folder, {"--altitude", "5900 ft"});
  EXPECT_GT(event_in(high, "2MR")["forecast"]["result"].get<double>(), before * 1.04);
  EXPECT_EQ(event_in(high, "2MR")["slower_by_heat"], nullptr);
  EXPECT_EQ(high["altitude_m"], 1798);
}

TEST(TestDay, UsesTheJournal) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const io::Json before = sheet_of(folder, {});
  const std::string where = folder.path().string();
  ASSERT_EQ(run_command({"log", "result", "HRP", "33", "-C", where}).code, 0);
  const io::Json after = sheet_of(folder, {});
  EXPECT_GT(event_in(after, "HRP")["forecast"]["result"], event_in(before, "HRP")["forecast"]["result"]);
}

TEST(TestDay, WarnsOfAPlanThatDoesNotKnowWhatWasDone) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const std::string where = folder.path().string();
  ASSERT_LE(run_command({"plan", "-C", where}).code, 1);
  EXPECT_EQ(run_command({"testday", "-C", where}).err, "");
  ASSERT_EQ(run_command({"log", "result", "HRP", "33", "-C", where}).code, 0);
  EXPECT_TRUE(holds(run_command({"testday", "-C", where}).err, "`backplan replan` takes it in"));
}

TEST(TestDay, TellsPainAndDeclinesInPregnancy) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const std::string where = folder.path().string();
  ASSERT_EQ(run_command({"log", "pain", "lower back", "--level", "5", "-C", where}).code, 0);
  EXPECT_TRUE(holds(run_command({"testday", "-C", where}).out,
                    "Pain (back) has taken work off since Mon 30 Nov: see licensed staff"));
  std::string text = army_candidate();
  text.replace(text.rfind('}'), 1, ", \"medical\": { \"status\": \"pregnant\" } }");
  folder.write("candidate.json", text);
  const Answer declined = run_command({"testday", "-C", where});
  EXPECT_EQ(declined.code, 1);
  EXPECT_TRUE(holds(declined.out, "No sheet: not during pregnancy")) << declined.out;
  EXPECT_FALSE(holds(declined.out, "First try"));
}

TEST(TestDay, RefusesOptionsThatItCannotFollow) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  const std::string where = folder.path().string();
  const std::vector<std::vector<std::string>> bad{
      {"--heat", "29"},   {"--heat", "warm"},  {"--altitude", "1800"},        {"--rest", "five"},
      {"--rest", "2.5"},  {"--rest", "-1"},    {"--rest-before-last", "121"}, {"--aim", "2MR"},
      {"--aim", "XYZ=1"}, {"--aim", "2MR=17"}, {"--aim", "MDL=200 lb"}};
  for (const auto& words : bad) {
    std::vector<std::string> all{"testday", "-C", where};
    all.insert(all.end(), words.begin(), words.end());
    const Answer answer = run_command(all);
    EXPECT_EQ(answer.code, 2) << words.back();
    EXPECT_EQ(answer.out, "");
  }
}

// The worst case of a page: six events, a long name, heat, height, a profile and a pain.
TEST(TestDay, FillsOnePageOfPaperAtMost) {
  const TemporaryFolder folder;
  const std::string where = folder.path().string();
  std::string text = army_candidate();
  text.replace(text.find("A-07"), 4, std::string(64, 'N'));
  text.replace(text.find("us-army-aft"), 11, "us-army-acft-2022");
  text.replace(text.find("\"results\": ["), 12,
               "\"results\": [ { \"date\": \"2026-11-20\", \"event\": \"SPT\", \"value\": \"6.1 m\" },");
  text.replace(text.rfind('}'), 1,
               ", \"medical\": { \"status\": \"profile\", \"permitted\": [\"push_up\"], \"until\": "
               "\"2027-01-01\" } }");
  folder.write("candidate.json", text);
  ASSERT_EQ(run_command({"log", "pain", "lower back", "--level", "5", "-C", where}).code, 0);
  const Answer answer = run_command({"testday", "-C", where, "--heat", "91F", "--altitude", "2100 m",
                                     "--rest", "5", "--rest-before-last", "10", "--aim", "2MR=17:00"});
  ASSERT_EQ(answer.code, 0) << answer.err;
  int lines = 0;
  std::istringstream page(answer.out);
  for (std::string line; std::getline(page, line); ++lines) EXPECT_LE(report::width_of(line), 80U) << line;
  EXPECT_LE(lines, 66);
  for (const char* part : {"SPT", "heat category 5", "No hard run is advised", "2100 m", "profile", "Pain",
                           "10 min before the last"})
    EXPECT_TRUE(holds(answer.out, part)) << part;
}

TEST(TestDay, SaysWhatIsNotKnownOfTheTest) {
  const TemporaryFolder folder;
  folder.write("candidate.json", army_candidate());
  EXPECT_TRUE(holds(run_command({"testday", "-C", folder.path().string()}).out, "Rest: not known"));
}

TEST(TestDay, GivesNoFiguresForAnEventThatWasNeverMeasured) {
  const TemporaryFolder folder;
  std::string text = army_candidate();
  const std::size_t from = text.find("{ \"date\": \"2026-11-20\", \"event\": \"MDL\"");
  text.erase(from, text.find("},", from) + 2 - from);
  folder.write("candidate.json", text);
  const io::Json sheet = sheet_of(folder, {});
  EXPECT_EQ(event_in(sheet, "MDL")["measured"], false);
  EXPECT_FALSE(event_in(sheet, "MDL").contains("tries"));
}

// ---- Advice follows the standard's protocol.

std::string sheet_for(const std::string& candidate) {
  const TemporaryFolder folder;
  folder.write("candidate.json", candidate);
  const Answer answer = run_command({"testday", "-C", folder.path().string()});
  EXPECT_EQ(answer.code, 0) << answer.err;
  return report::wrap(answer.out, 100000, "", "");
}

TEST(TestDayText, GivesNoRestOnTheClockWhereThereIsNoClock) {
  const std::string text = sheet_for(R"({ "format": "backplan-candidate/1", "id": "F",
    "birth_date": "1996-03-03", "column": "male", "standard": "us-fbi-pft", "test_date": "2027-03-08",
    "target": { "each": 1 }, "week": { "mon": 45, "wed": 45, "fri": 45 },
    "results": [{ "date": "2026-11-15", "event": "PUSHUP", "value": "35", "setting": "practice" }] })");
  EXPECT_TRUE(holds(text, "No clock: one steady rhythm")) << text;
  EXPECT_FALSE(holds(text, "The clock runs on")) << text;
}

TEST(TestDayText, PacesASwimByThePoolAndNotByTheMile) {
  const std::string text = sheet_for(R"({ "format": "backplan-candidate/1", "id": "N",
    "birth_date": "2004-03-03", "column": "male", "standard": "us-navy-prt", "test_date": "2027-03-08",
    "target": { "total": 80 }, "week": { "mon": 45, "wed": 45, "fri": 45 },
    "results": [{ "date": "2026-11-15", "event": "SWIM500YD", "value": "10:30", "setting": "practice" }] })");
  EXPECT_TRUE(holds(text, " per 50 yd, ")) << text;
  EXPECT_TRUE(holds(text, " per 100 yd. Clock at each 50 yd")) << text;
  EXPECT_FALSE(holds(text, "mile")) << text;
}

}  // namespace
}  // namespace backplan
