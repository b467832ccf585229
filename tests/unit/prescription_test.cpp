// What every prescription must keep, whoever it is for; the figures of single families are in
// prescription_strength_test.cpp and prescription_run_test.cpp.
#include "backplan/prescription.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstddef>
#include <functional>
#include <stdexcept>
#include <string>
#include <utility>

#include "backplan/running.hpp"
#include "backplan/strength.hpp"
#include "support/prescription_text.hpp"
#include "support/situations.hpp"

namespace backplan {
namespace {

using support::Case;
using support::clock_seconds;
using support::easy_work;
using support::hold_work;
using support::interval_work;
using support::kSpan;
using support::kTwoMiles;
using support::lift_work;
using support::match_in;
using support::number_at;
using support::paces_of;
using support::press_work;
using support::shuttle_work;
using support::span_after;
using support::span_seconds;
using support::tempo_work;
using support::throw_work;

// Weakest to strongest: deadlift (lb), push-ups, shuttle (s), plank (s), two miles (s), throw (m).
constexpr double kAbilities[][6] = {{60, 3, 300, 30, 1500, 3.5},
                                    {110, 9, 210, 62, 1260, 5},
                                    {220, 30, 130, 121, 960, 8},
                                    {350, 61, 95, 220, 790, 11},
                                    {560, 95, 80, 330, 730, 14}};

void set_abilities(Case& c, const double (&results)[6]) {
  const char* const events[] = {"MDL", "HRP", "SDC", "PLK", "2MR", "SPT"};
  for (std::size_t i = 0; i < 6; ++i) c.measured(events[i], results[i]);
}

// Calls `judge` with every family, size, phase, background, ability and stage of a plan.
void for_every_case(const std::function<void(const Case&, const WorkKind&, const Block&)>& judge) {
  const WorkKind works[] = {lift_work(),     press_work(), shuttle_work(), hold_work(),
                            interval_work(), tempo_work(), easy_work(),    throw_work()};
  const std::pair<int, int> weeks[] = {{14, 0}, {13, 1}, {10, 4}, {8, 3}, {6, 8}, {4, 10}, {2, 0}, {1, 13}};
  for (const Background background :
       {Background::new_to_training, Background::regular, Background::long_trained}) {
    for (const Phase phase : {Phase::build, Phase::deload, Phase::taper}) {
      for (const auto& results : kAbilities) {
        for (const auto& [to_test, training] : weeks) {
          for (int kind = 0; kind < 4; ++kind) {
            Case c(background);
            set_abilities(c, results);
            Situation& s = c.situation;
            s.phase = phase;
            s.weeks_to_test = to_test;
            s.training_week = training;
            s.nth_this_week = kind % 2;
            s.rehearsal = s.graded_hold = s.top_triple = kind >= 2;
            s.form_first = background == Background::new_to_training && training < 2;
            s.expected["MDL"] *= 1.0 + 0.1 * kind;  // the forecast runs ahead of what was shown
            s.expected["2MR"] /= 1.0 + 0.03 * kind;
            s.goal["2MR"] = 0.9 * s.proven["2MR"];
            s.goal_in_reach["2MR"] = true;
            if (kind == 1) s.proven.clear();
            c.candidate.equipment.track = kind != 3;
            for (const WorkKind& work : works) {
              for (const BlockSize size : {BlockSize::full, BlockSize::shorter, BlockSize::home}) {
                if (size == BlockSize::home && !work.home) continue;
                const Block block = c.block(work, size);
                SCOPED_TRACE(block.prescription);
                judge(c, work, block);
              }
            }
          }
        }
      }
    }
  }
}

// Characters, not bytes: "×" is two bytes.
std::size_t characters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

TEST(Prescription, IsOneReadableLineWithAReasonAndAStopRule) {
  for_every_case([](const Case&, const WorkKind& work, const Block& block) {
    EXPECT_EQ(block.work, work.id);
    EXPECT_GT(block.minutes, 0);
    EXPECT_GT(characters(block.prescription), 20U);
    EXPECT_LE(characters(block.prescription), 165U);
    EXPECT_LE(characters(block.stop), 110U);
    EXPECT_FALSE(block.why.empty());
    EXPECT_TRUE(match_in(block.stop, "stop|ends|walk"));
    for (const std::string& text : {block.prescription, block.why, block.stop}) {
      EXPECT_FALSE(match_in(text, "\n|nan|inf|[^0-9]-\\d| 0×|  |\\{|\\}| -")) << text;
    }
  });
}

TEST(Prescription, GivesFiguresOnlyToWhatWasMeasured) {
  for_every_case([](const Case& c, const WorkKind& work, const Block& block) {
    if (c.situation.proven.count(work.trains) != 0) return;
    EXPECT_FALSE(match_in(block.prescription, "a mile|per 400 m|% of \\d|about .* now|1RM"));
    if (block.load) {
      EXPECT_EQ(block.load->value(), c.candidate.equipment.bar_lb);
    }
  });
}

// Minutes that the printed sets, pieces and rests take; 0 where the text leaves them open.
double in_minutes(double count, double work_s, double rest_s) {
  return (count * work_s + (count - 1.0) * rest_s) / 60.0;
}

constexpr double kUnread = 1e9;  // minutes of a text that no pattern here reads: no block is so long

double run_minutes(const std::string& text) {
  if (const auto turns = match_in(text, "(\\d+)× run " + kSpan + " / (?:brisk )?walk " + kSpan)) {
    return in_minutes(number_at(*turns, 1), span_seconds((*turns)[2]), span_seconds((*turns)[3]));
  }
  const auto miles = paces_of(text, "a mile");
  if (const auto metres = match_in(text, "^(\\d+)×(\\d+) m at")) {
    const double work_s = miles.at(0) * number_at(*metres, 2) / kMetresPerMile;
    return in_minutes(number_at(*metres, 1), work_s, span_after(text, "; "));
  }
  if (const auto timed = match_in(text, "^(\\d+)× (\\d+:\\d\\d) at")) {
    return in_minutes(number_at(*timed, 1), clock_seconds((*timed)[2]), span_after(text, "; "));
  }
  if (const auto tempo = match_in(text, "Walk 5 min, then (?:(\\d+)×)?(\\d+) min at")) {
    const double count = (*tempo)[1].empty() ? 1.0 : number_at(*tempo, 1);
    return 5.0 + in_minutes(count, 60.0 * number_at(*tempo, 2), 120.0);
  }
  const double walk = std::max(0.0, span_after(text, "brisk walk ")) / 60.0;
  if (const auto easy = match_in(text, "^Run ([\\d.]+) mi easy")) {
    return number_at(*easy, 1) * miles.at(0) / 60.0 + walk - 1.0;  // the walk's minute is rounded
  }
  const auto by_time = match_in(text, "^Run (\\d+) min");
  return by_time ? number_at(*by_time, 1) + walk : kUnread;
}

double lift_minutes(const std::string& text, BlockSize size) {
  const auto sets = match_in(text, "(\\d+)×(\\d+) (?:at|with)");
  if (!sets && match_in(text, "^Find the load: triples")) {
    const double assistance = size == BlockSize::full ? 8.0 : 5.0;
    return assistance + in_minutes(4.0, 3.0 * 5.0 + 20.0, span_after(text, ", rest "));
  }
  if (!sets) return kUnread;
  const double set_s = number_at(*sets, 2) * 5.0 + 20.0;  // five seconds a repetition, and plates
  const double triple = match_in(text, "One triple") ? 4.0 : 0.0;
  const double around = size == BlockSize::full ? 8.0 + 8.0 : 6.0 + 5.0;  // ramp-up and assistance
  return around + triple + in_minutes(number_at(*sets, 1), set_s, span_after(text, "rest "));
}

double press_minutes(const std::string& text) {
  double minutes = match_in(text, "Rehearsal") ? 2.0 + 4.0 : 0.0;
  if (const auto slow = match_in(text, "then (\\d+) slow"))
    minutes += 1.5 + number_at(*slow, 1) * 15.0 / 60.0;
  if (const auto sets = match_in(text, "(\\d+)×(\\d+)")) {
    minutes += in_minutes(number_at(*sets, 1), 3.0 * number_at(*sets, 2), span_after(text, ", rest "));
  }
  if (const auto open = match_in(text, "^(\\d+) sets of .* (\\d+) at most")) {
    minutes += in_minutes(number_at(*open, 1), 3.0 * number_at(*open, 2), span_after(text, "; rest "));
  }
  return minutes > 0.0 ? minutes : kUnread;
}

double hold_minutes(const std::string& text, double maximum) {
  const double support = std::max(0.0, span_after(text, "bridges ")) / 60.0;
  const auto sets = match_in(text, "(\\d+)×(\\d+:\\d\\d) plank");
  if (!sets && !match_in(text, "One graded")) return support;
  if (!sets) return maximum / 60.0 + (support > 0.0 ? 3.0 + support : 0.0);
  return in_minutes(number_at(*sets, 1), clock_seconds((*sets)[2]), 60.0) + support;
}

double shuttle_minutes(const std::string& text, double whole_run) {
  const auto rounds = match_in(text, "^(\\d+) round");
  if (!rounds) return whole_run / 60.0 + 5.0;
  const double round_s = whole_run + 5.0 * span_after(text, "; rest ");
  return in_minutes(number_at(*rounds, 1), round_s, 120.0);
}

TEST(Prescription, FitsTheMinutesOfTheBlock) {
  for_every_case([](const Case& c, const WorkKind& work, const Block& block) {
    const std::string& text = block.prescription;
    double minutes = kUnread;
    if (work.running) minutes = run_minutes(text);
    if (work.family == "lift") minutes = lift_minutes(text, block.size);
    if (work.family == "press") minutes = press_minutes(text);
    if (work.family == "hold") minutes = hold_minutes(text, c.situation.expected.at("PLK"));
    if (work.family == "shuttle") minutes = shuttle_minutes(text, c.situation.expected.at("SDC"));
    if (const auto throws = match_in(text, "^(\\d+) backward")) minutes = number_at(*throws, 1) * 75.0 / 60.0;
    EXPECT_LE(minutes, block.minutes + 1e-9) << text;
  });
}

TEST(Prescription, KeepsTheRunRule) {
  for_every_case([](const Case& c, const WorkKind& work, const Block& block) {
    if (work.family != "intervals" && work.family != "steady") return;
    ASSERT_TRUE(block.continuous_run);
    const Situation& s = c.situation;
    const double cap = std::max(s.longest_run.value() * s.run_growth, s.run_floor.value());
    EXPECT_LE(block.continuous_run->value(), cap);
    EXPECT_GT(block.continuous_run->value(), 0.0);
  });
}

TEST(Prescription, NeverAsksForAPaceOverThreePercentFasterThanProven) {
  for_every_case([](const Case& c, const WorkKind& work, const Block& block) {
    const auto proven = c.situation.proven.find("2MR");
    if (work.trains != "2MR" || proven == c.situation.proven.end()) return;
    const double index = aerobic_index(kTwoMiles, Seconds(proven->second));
    const bool goal = match_in(block.prescription, "goal pace").has_value();
    const double fastest = goal                         ? proven->second / 2.0
                           : work.family == "intervals" ? interval_pace(index).fast_mile.value()
                           : work.id == "tempo"         ? threshold_pace(index).fast_mile.value()
                                                        : easy_pace(index).fast_mile.value();
    const auto miles = paces_of(block.prescription, "a mile");
    ASSERT_FALSE(miles.empty());
    for (const double mile : miles) EXPECT_GE(mile, 0.97 * fastest - 1e-9);
    for (const double quarter : paces_of(block.prescription, "per 400 m")) {
      EXPECT_GE(quarter, 0.97 * fastest * 400.0 / kMetresPerMile - 1e-9);
    }
    EXPECT_EQ(paces_of(block.prescription, "per 400 m").empty(), !c.candidate.equipment.track);
  });
}

TEST(Prescription, NeverLoadsOverTheProvenSetAndOneStep) {
  for_every_case([](const Case& c, const WorkKind& work, const Block& block) {
    const auto proven = c.situation.proven.find("MDL");
    if (work.family != "lift" || proven == c.situation.proven.end() || !block.load) return;
    const auto sets = match_in(block.prescription, "(\\d+)×(\\d+) (?:at ([\\d.]+) lb|with)");
    ASSERT_TRUE(sets);
    const double one = one_rep_max_from_three(Pounds(proven->second)).value();
    const double set = one / (1.0 + 0.033 * (number_at(*sets, 2) + 2.0));
    const double cap = set + std::max(10.0, 0.05 * set);
    const bool empty_bar = block.load->value() == c.candidate.equipment.bar_lb;
    if (const auto triple = match_in(block.prescription, "One triple at ([\\d.]+)")) {
      EXPECT_EQ(block.load->value(), number_at(*triple, 1));
      EXPECT_LE(block.load->value(), proven->second + std::max(10.0, 0.05 * proven->second) + 1e-9);
      EXPECT_LE(number_at(*sets, 3), cap + 1e-9);
    } else {
      EXPECT_LE(block.load->value(), cap + 1e-9);
      // Two are left in reserve even where the bare bar is more than the day asks for.
      if (empty_bar) {
        EXPECT_LE(block.load->value(), set * 1.05 + 10.0);
      }
    }
  });
}

TEST(Prescription, KeepsPushUpsUnderTwoAndAHalfMaximaADay) {
  for_every_case([](const Case& c, const WorkKind& work, const Block& block) {
    const auto proven = c.situation.proven.find("HRP");
    if (work.family != "press" || proven == c.situation.proven.end()) return;
    const double maximum = proven->second;
    double total = block.rehearsal ? maximum : 0.0;
    if (const auto lowerings = match_in(block.prescription, "then (\\d+) slow")) {
      total += number_at(*lowerings, 1);
      EXPECT_LT(maximum, 10.0);
    } else if (const auto sets = match_in(block.prescription, "(\\d+)×(\\d+)")) {
      EXPECT_GE(maximum, 10.0);
      total += number_at(*sets, 1) * number_at(*sets, 2);
      const double share = number_at(*sets, 2) / maximum;
      EXPECT_GE(share, 0.40);
      EXPECT_LE(share, 0.60);
    }
    EXPECT_GT(total, 0.0);
    EXPECT_LE(total, 2.5 * maximum);
  });
}

TEST(Prescription, HoldsBetweenHalfAndSevenTenthsOfTheMaximum) {
  for_every_case([](const Case& c, const WorkKind& work, const Block& block) {
    const auto proven = c.situation.proven.find("PLK");
    if (work.family != "hold" || proven == c.situation.proven.end()) return;
    const auto hold = match_in(block.prescription, "×(\\d+:\\d\\d) plank");
    ASSERT_NE(hold.has_value(), match_in(block.prescription, "graded hold").has_value());
    if (!hold) return;
    const double share = clock_seconds((*hold)[1]) / proven->second;
    EXPECT_GE(share, 0.50);
    EXPECT_LE(share, 0.70);
  });
}

TEST(Prescription, IsNeverMaximalForABeginnersFirstWeeksOrAfterChildbirth) {
  for (const bool postpartum : {false, true}) {
    Case c(Background::new_to_training);
    c.situation.form_first = !postpartum;
    if (postpartum) c.candidate.medical.status = MedicalStatus::postpartum;
    c.situation.training_week = postpartum ? 5 : 0;
    c.situation.rehearsal = c.situation.graded_hold = c.situation.top_triple = true;
    for (const WorkKind& work : {lift_work(), press_work(), shuttle_work(), hold_work(), throw_work()}) {
      const Block block = c.block(work);
      EXPECT_FALSE(block.rehearsal) << block.prescription;
      EXPECT_FALSE(match_in(block.prescription, "Rehearsal|graded|triple|full effort|full run"))
          << block.prescription;
    }
  }
}

TEST(Prescription, SaysWhichEventsItPaysInBestFirst) {
  Case c;
  c.situation.pays = {{"SDC", 1.2}, {"MDL", 4.13}, {"PLK", 0.01}};
  EXPECT_EQ(c.block(lift_work()).why, "deadlift +4.1, sprint-drag-carry +1.2 points by the test");
  c.situation.pays = {{"MDL", 0.0}, {"SDC", -0.3}};
  EXPECT_EQ(c.block(lift_work()).why, "keeps the deadlift where it is");
}

TEST(Prescription, TakesItsMinutesFromTheSize) {
  const Case c;
  EXPECT_EQ(c.block(press_work(), BlockSize::full).minutes, 20);
  EXPECT_EQ(c.block(press_work(), BlockSize::shorter).minutes, 12);
  EXPECT_EQ(c.block(press_work(), BlockSize::home).minutes, 10);
}

TEST(Prescription, RefusesAnUnknownFamilyAsABug) {
  const Case c;
  WorkKind work = lift_work();
  work.family = "swim";
  EXPECT_THROW((void)c.block(work), std::logic_error);
}

}  // namespace
}  // namespace backplan
