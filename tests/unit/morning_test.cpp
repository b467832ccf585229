// One morning from minute to minute: rounds on a sled, run groups, loads that plates do not make.
#include "backplan/morning.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <map>
#include <set>
#include <string>
#include <vector>

#include "backplan/programme.hpp"
#include "property/shipped_data.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

class MorningSheet : public ::testing::Test {
 protected:
  void add(const std::string& id, Block block) {
    PlannedDay day;
    day.date = test::day(2026, 12, 3);
    day.blocks.push_back(std::move(block));
    days_.push_back(day);
    ids_.push_back(id);
  }

  static Block block(const std::string& work, int minutes) {
    Block out;
    out.work = work;
    out.minutes = minutes;
    out.prescription = "as written";
    return out;
  }

  // Rounds of so many seconds; the last one without the rest after it.
  static Block shuttle(double every_s, int rounds) {
    Block out = block("shuttle", 35);
    out.sets = rounds;
    out.rounds = LaneRounds{every_s, every_s - 210.0};
    return out;
  }

  static Block run(const std::string& work, double quarter) {
    Block out = block(work, 35);
    out.quarter = Seconds(quarter);
    return out;
  }

  [[nodiscard]] Morning made(int minutes = 60) {
    MorningTask task{test::day(2026, 12, 3), minutes, kit_, equipment_, model_, rules_, {}};
    for (std::size_t i = 0; i < days_.size(); ++i) task.people.push_back({ids_[i], &days_[i]});
    std::vector<Overflow> overflow;
    return schedule_morning(task, overflow);
  }

  SquadEquipment kit_{2, 60.0, {}, 1, 1, true, true, 0};
  Equipment equipment_;
  const Model model_ = testing::shipped_model();
  const Rules rules_ = testing::shipped_rules();
  std::vector<PlannedDay> days_;
  std::vector<std::string> ids_;
};

// 2 rounds 11:48 apart: not spread to the end of the block, a minute between people, and time after the last.
TEST_F(MorningSheet, RoundsOnASledLieAsTheyAreWritten) {
  for (const char* id : {"A", "B", "C", "D"}) add(id, shuttle(708.0, 2));
  const Morning morning = made();
  std::map<std::string, std::vector<double>> starts;
  for (const Turn& turn : morning.stations.front().turns) starts[turn.id].push_back(turn.from);
  ASSERT_EQ(starts.size(), 4U);
  double before = 0.0;
  for (const auto& [id, from] : starts) {
    ASSERT_EQ(from.size(), 2U);
    EXPECT_GE(from[1] - from[0], 708.0 / 60.0);
    EXPECT_LE(from[1] - from[0], 708.0 / 60.0 + 0.25);
    EXPECT_LE(from[1] + (708.0 - 210.0) / 60.0, 10.0 + 35.0);
    if (before > 0.0) {
      EXPECT_NEAR(from[0] - before, 1.0, 1e-9);
    }
    before = from[0];
  }
}

TEST_F(MorningSheet, RunGroupsAreAtMostFourAndAMinuteApart) {
  for (int i = 0; i < 8; ++i) {
    add(fmt::format("T{}", i), run("tempo", 120.0 + 9.0 * i));
    add(fmt::format("I{}", i), run("intervals", 90.0 + 9.0 * i));
  }
  std::set<double> starts;
  const Morning morning = made();
  for (const Station& station : morning.stations) {
    for (const Turn& turn : station.turns) EXPECT_EQ(turn.from, station.turns.front().from);
    EXPECT_TRUE(starts.insert(station.turns.front().from).second) << "two groups start together";
  }
  EXPECT_EQ(starts, (std::set<double>{10.0, 11.0, 12.0, 13.0}));
}

TEST_F(MorningSheet, WhatFollowsARunMovesWithItsGroup) {
  for (int i = 0; i < 4; ++i) {
    add(fmt::format("T{}", i), run("tempo", 120.0 + 9.0 * i));
    days_.back().blocks.push_back(block("trunk", 10));
  }
  std::map<std::string, double> ends;
  for (const Station& station : made(70).stations) {
    for (const Turn& turn : station.turns) {
      if (station.work == "trunk") {
        EXPECT_NEAR(turn.from - ends.at(turn.id), rules_.change_over_minutes, 1e-9);
      }
      ends[turn.id] = turn.to;
    }
  }
  EXPECT_EQ(ends.size(), 4U);
}

TEST_F(MorningSheet, ALoweredLoadStandsFirstWithItsShareOfTheMaximum) {
  equipment_.plates_lb = {25, 25, 10, 10, 5, 5};
  for (const double load : {110.0, 130.0, 120.0, 130.0, 130.0}) {  // five: two bars are needed
    Block lift = block("deadlift", 45);
    lift.sets = 5;
    lift.load = Pounds(load);
    lift.lift = LiftFigures{"",           5,     5,     Pounds(180), Pounds(load),
                            Pounds(load), false, false, "two left",  "rest 2.5 min"};
    add(fmt::format("P{}", days_.size()), lift);
  }
  int lowered = 0;
  for (const Station& station : made(70).stations) {
    std::set<std::string> seen;
    for (const Turn& turn : station.turns) {
      if (!seen.insert(turn.id).second || !turn.planned_load) continue;
      ++lowered;
      EXPECT_EQ(turn.prescription.rfind(fmt::format("5×5 at {:g} lb", turn.load->value()), 0), 0U)
          << turn.prescription;
      EXPECT_NE(turn.prescription.find(fmt::format("{:.0f} % of 1RM", turn.load->value() / 1.8)),
                std::string::npos)
          << turn.prescription;
      EXPECT_NE(turn.prescription.find(fmt::format("{:g} lb as planned", turn.planned_load->value())),
                std::string::npos)
          << turn.prescription;
    }
  }
  EXPECT_EQ(lowered, 1);
}

}  // namespace
}  // namespace backplan
