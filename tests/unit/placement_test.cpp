// A week's blocks on days, against every way to give each block a day.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "core/calendar.hpp"
#include "property/shipped_data.hpp"
#include "support/random_candidates.hpp"
#include "support/random_source.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

using testing::RandomSource;

const Date kToday = test::day(2026, 11, 2);
constexpr int kCases = 1500;
constexpr int kMostWays = 5000;  // that a case may have to be tried
constexpr int kNoLimit = std::numeric_limits<int>::max() / 2;
constexpr int kAtLeastOfEach = kCases / 6;  // possible and impossible: else nothing is tried

const Model& model() { return testing::shipped_model(); }
const Rules& rules() { return testing::shipped_rules(); }
const Standard& standard() { return testing::shipped_standard("us-army-acft-2022"); }

// The blocks of a pack; the first slot block of push-ups is the rehearsal where one is asked for.
std::vector<PlacedBlock> blocks_of(const Pack& pack, const Calendar& calendar, bool rehearse) {
  std::vector<PlacedBlock> out;
  for (std::size_t k = 0; k < calendar.kinds().size(); ++k) {
    for (const BlockSize size : kBlockSizes) {
      for (int i = 0; i < pack.kinds[k].of(size); ++i) {
        const bool first = rehearse && size != BlockSize::home && calendar.kinds()[k]->family == "press";
        out.push_back({static_cast<int>(k), size, first});
        if (first) rehearse = false;
      }
    }
  }
  return out;
}

// The rules of one week, read from the design and not from the placer: what each day holds is worked out from
// the finished assignment.
class Week {
 public:
  Week(const Calendar& calendar, const PlaceRequest& request, const std::vector<PlacedBlock>& blocks)
      : calendar_(calendar), request_(request), blocks_(blocks) {}

  [[nodiscard]] bool allows(const std::vector<int>& day_of) const {
    return days_are_sound(day_of) && training_days(day_of) && hard_days_apart(day_of) &&
           minutes(day_of) <= request_.most_minutes;
  }

  // Sessions and home blocks.
  [[nodiscard]] int minutes(const std::vector<int>& day_of) const {
    int sum = 0;
    for (int day = 0; day < request_.count; ++day) {
      int inner = 0;
      int slots = 0;
      for (const std::size_t b : on(day, day_of)) {
        if (blocks_[b].size == BlockSize::home) {
          sum += calendar_.block_minutes(blocks_[b]);
        } else {
          inner += calendar_.block_minutes(blocks_[b]);
          ++slots;
        }
      }
      sum += session_minutes(rules(), inner, slots);
    }
    return sum;
  }

 private:
  [[nodiscard]] const WorkKind& kind(std::size_t b) const {
    return *calendar_.kinds()[static_cast<std::size_t>(blocks_[b].kind)];
  }
  [[nodiscard]] bool hard(std::size_t b) const { return kind(b).hard || blocks_[b].rehearsal; }
  [[nodiscard]] const CalendarDay& info(int day) const {
    return calendar_.days()[static_cast<std::size_t>(request_.first + day)];
  }
  [[nodiscard]] std::vector<std::size_t> on(int day, const std::vector<int>& day_of) const {
    std::vector<std::size_t> out;
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      if (day_of[b] == day) out.push_back(b);
    }
    return out;
  }

  [[nodiscard]] bool has_place(std::size_t b, int day) const {
    const CalendarDay& here = info(day);
    if (here.closed || (here.allowed >> blocks_[b].kind & 1U) == 0) return false;
    const bool just_back = (here.gentle >> blocks_[b].kind & 1U) != 0;
    if (just_back && (blocks_[b].size == BlockSize::full || blocks_[b].rehearsal)) return false;
    if ((request_.only_days >> day & 1U) == 0) return false;
    if (!request_.stations || blocks_[b].size == BlockSize::home) return true;
    const auto weekday = static_cast<std::size_t>(weekday_index(here.date));
    return (request_.stations->kinds[weekday] >> blocks_[b].kind & 1U) != 0;
  }

  // Every day by itself: places, room, no kind twice, one hard block.
  [[nodiscard]] bool days_are_sound(const std::vector<int>& day_of) const {
    for (int day = 0; day < request_.count; ++day) {
      int inner = 0;
      int slots = 0;
      int hard_blocks = info(day).fixed_hard ? 1 : 0;
      std::vector<int> seen;
      for (const std::size_t b : on(day, day_of)) {
        if (!has_place(b, day)) return false;
        if (std::count(seen.begin(), seen.end(), blocks_[b].kind) > 0) return false;
        seen.push_back(blocks_[b].kind);
        if (hard(b) && (info(day).no_hard || ++hard_blocks > rules().hard_blocks_a_slot)) return false;
        if (blocks_[b].size == BlockSize::home) continue;
        inner += calendar_.block_minutes(blocks_[b]);
        ++slots;
      }
      if (slots > rules().blocks_a_slot) return false;
      if (inner + rules().change_over_minutes * std::max(0, slots - 1) > info(day).usable) return false;
    }
    return true;
  }

  // Days with fixed work count, whether or not anything is added to them.
  [[nodiscard]] bool training_days(const std::vector<int>& day_of) const {
    int fixed = 0;
    int added = 0;
    for (int day = 0; day < request_.count; ++day) {
      if (info(day).fixed_any) {
        ++fixed;
      } else if (!on(day, day_of).empty()) {
        ++added;
      }
    }
    return added == 0 || fixed + added <= request_.most_training_days;
  }

  // With the two days on each side, day -2 first.
  struct Row {
    std::vector<bool> hard, planned_hard, lift, intervals;
  };

  [[nodiscard]] Row row_of(const std::vector<int>& day_of) const {
    const auto length = static_cast<std::size_t>(request_.count + 4);
    Row row{std::vector<bool>(length), std::vector<bool>(length), std::vector<bool>(length),
            std::vector<bool>(length)};
    row.hard[0] = request_.around.hard_two_before;
    row.hard[1] = request_.around.hard_before;
    row.hard[length - 2] = request_.around.hard_after;
    row.hard[length - 1] = request_.around.hard_two_after;
    row.lift[1] = request_.around.lift_before;
    row.intervals[1] = request_.around.intervals_before;
    for (int day = 0; day < request_.count; ++day) {
      const auto at = static_cast<std::size_t>(day + 2);
      row.hard[at] = info(day).fixed_hard;
      for (const std::size_t b : on(day, day_of)) {
        if (!hard(b)) continue;
        row.hard[at] = true;
        row.planned_hard[at] = true;
        row.lift[at] = row.lift[at] || kind(b).family == "lift";
        row.intervals[at] = row.intervals[at] || kind(b).family == "intervals";
      }
    }
    return row;
  }

  // At most two hard days in a row; a day between two deadlift days and two days of intervals; no intervals
  // on the eve of a deadlift.
  [[nodiscard]] bool hard_days_apart(const std::vector<int>& day_of) const {
    const Row row = row_of(day_of);
    for (std::size_t i = 0; i + 2 < row.hard.size(); ++i) {
      const bool planned = row.planned_hard[i] || row.planned_hard[i + 1] || row.planned_hard[i + 2];
      if (planned && row.hard[i] && row.hard[i + 1] && row.hard[i + 2]) return false;
    }
    for (std::size_t i = 1; i + 1 < row.hard.size(); ++i) {
      if (row.lift[i] && row.lift[i + 1]) return false;
      if (row.intervals[i] && (row.intervals[i + 1] || row.lift[i + 1])) return false;
    }
    return true;
  }

  const Calendar& calendar_;
  const PlaceRequest& request_;
  const std::vector<PlacedBlock>& blocks_;
};

// A few days of an invented person, and blocks for them.
struct Case {
  explicit Case(int seed) : random(static_cast<std::uint64_t>(seed)) {
    testing::CandidateKnobs knobs;
    knobs.plain = random.chance(0.6);
    knobs.weeks_to_test = 4;
    knobs.minutes_a_week = random.integer(12, 36) * 10;
    candidate = testing::random_candidate(random, standard(), kToday, knobs);
    calendar.emplace(candidate, Knowledge{standard(), model(), rules()}, kToday);
    request.count = random.integer(3, 7);
    request.first = random.integer(0, static_cast<int>(calendar->days().size()) - request.count);
    draw_limits();
    if (!calendar->kinds().empty()) draw_pack();
    blocks = blocks_of(pack, *calendar, request.rehearse);
    int least = 0;
    for (const PlacedBlock& block : blocks) least += calendar->block_minutes(block);
    request.most_minutes = random.chance(0.3) ? kNoLimit : least + random.integer(0, 80);
  }
  Case(const Case&) = delete;
  Case& operator=(const Case&) = delete;

  void draw_limits() {
    request.most_training_days = random.integer(2, 7);
    request.rehearse = random.chance(0.3);
    if (random.chance(0.1)) request.only_days = static_cast<std::uint32_t>(random.integer(1, 127));
    request.around = {random.chance(0.3), random.chance(0.3), random.chance(0.2),
                      random.chance(0.2), random.chance(0.2), random.chance(0.2)};
    if (!random.chance(0.1)) return;
    request.stations.emplace();
    for (std::uint32_t& kinds : request.stations->kinds)
      kinds = static_cast<std::uint32_t>(random.integer(0, 255));
  }

  void draw_pack() {
    int ways = 1;
    for (int most = random.integer(2, 6); most > 0 && ways * request.count <= kMostWays; --most) {
      const int k = random.integer(0, static_cast<int>(calendar->kinds().size()) - 1);
      KindCount& n = pack.kinds[static_cast<std::size_t>(k)];
      const bool home = calendar->kinds()[static_cast<std::size_t>(k)]->home.has_value();
      (home && random.chance(0.4) ? n.home : (random.chance(0.5) ? n.full : n.shorter)) += 1;
      ways *= request.count;
    }
  }

  // Some assignment that the rules allow; the last block turns fastest.
  [[nodiscard]] bool any_way() const {
    const Week week(*calendar, request, blocks);
    std::vector<int> day_of(blocks.size(), 0);
    while (true) {
      if (week.allows(day_of)) return true;
      std::size_t at = blocks.size();
      while (at > 0 && day_of[at - 1] == request.count - 1) day_of[--at] = 0;
      if (at == 0) return false;
      ++day_of[at - 1];
    }
  }

  RandomSource random;
  Candidate candidate;
  std::optional<Calendar> calendar;
  PlaceRequest request;
  Pack pack;
  std::vector<PlacedBlock> blocks;
};

// The day of each of the case's blocks in the placement; empty where it holds other blocks than these.
std::vector<int> days_in(const Placement& placement, const std::vector<PlacedBlock>& blocks) {
  std::vector<int> day_of(blocks.size(), -1);
  for (std::size_t day = 0; day < placement.days.size(); ++day) {
    for (const PlacedBlock& placed : placement.days[day].blocks) {
      std::size_t b = 0;
      while (b < blocks.size() &&
             (day_of[b] >= 0 || blocks[b].kind != placed.kind || blocks[b].size != placed.size ||
              blocks[b].rehearsal != placed.rehearsal)) {
        ++b;
      }
      if (b == blocks.size()) return {};
      day_of[b] = static_cast<int>(day);
    }
  }
  return std::count(day_of.begin(), day_of.end(), -1) > 0 ? std::vector<int>{} : day_of;
}

TEST(Placement, IsFoundWhereverThereIsOneAndKeepsTheRules) {
  int possible = 0;
  for (int seed = 1; seed <= kCases; ++seed) {
    const Case one(seed);
    const Placement placement = one.calendar->place(one.pack, one.request, kNoLimit);
    ASSERT_NE(placement.outcome, Placing::unknown) << "seed " << seed;
    const bool done = placement.outcome == Placing::done;
    EXPECT_EQ(done, one.any_way()) << "seed " << seed << "\n" << testing::describe(one.candidate);
    if (!done) continue;
    ++possible;
    const auto day_of = days_in(placement, one.blocks);
    ASSERT_EQ(day_of.size(), one.blocks.size()) << "seed " << seed << ": other blocks than asked for";
    const Week week(*one.calendar, one.request, one.blocks);
    EXPECT_TRUE(week.allows(day_of)) << "seed " << seed;
    EXPECT_EQ(placement.minutes, week.minutes(day_of)) << "seed " << seed;
  }
  EXPECT_GE(possible, kAtLeastOfEach);
  EXPECT_GE(kCases - possible, kAtLeastOfEach);
}

// A search that is cut short may say that it does not know, never what is not so.
TEST(Placement, SaysNothingWrongWhenItGivesUp) {
  int given_up = 0;
  for (int seed = 1; seed <= kCases; ++seed) {
    const Case one(seed);
    const Placing all = one.calendar->place(one.pack, one.request, kNoLimit).outcome;
    for (const int steps : {1, 3, 10}) {
      const Placing some = one.calendar->place(one.pack, one.request, steps).outcome;
      if (some == Placing::unknown) {
        ++given_up;
      } else {
        EXPECT_EQ(some, all) << "seed " << seed << ", " << steps << " steps";
      }
    }
  }
  EXPECT_GE(given_up, kAtLeastOfEach);
}

// What each day may hold before anything is placed, back from the test.
TEST(CalendarDays, AreEasyRoundADiagnosticAndWithoutHeavyLegsBeforeTheTest) {
  RandomSource random(1);
  testing::CandidateKnobs knobs;
  knobs.plain = true;
  knobs.weeks_to_test = 4;
  Candidate candidate = testing::random_candidate(random, standard(), kToday, knobs);
  const Date diagnostic = candidate.test_date - Days(14);
  candidate.diagnostics = {diagnostic};
  const Calendar calendar(candidate, Knowledge{standard(), model(), rules()}, kToday);
  int heavy = 0;
  for (const CalendarDay& day : calendar.days()) {
    const auto ahead = (diagnostic - day.date).count();
    const auto left = (candidate.test_date - day.date).count();
    const bool closed = ahead == 0 || left <= rules().no_training_days_before_test;
    EXPECT_EQ(day.closed, closed) << left;
    const bool before = ahead >= 1 && ahead <= rules().easy_days_before_diagnostic;
    const bool after = ahead <= -1 && -ahead <= rules().easy_days_after_diagnostic;
    EXPECT_EQ(day.no_hard, before || after) << left;
    for (std::size_t k = 0; k < calendar.kinds().size(); ++k) {
      const bool legs = calendar.kinds()[k]->heavy_lower;
      heavy += legs ? 1 : 0;
      const bool allowed = !closed && !(legs && left <= rules().no_deadlift_days);
      EXPECT_EQ((day.allowed >> k & 1U) != 0, allowed) << calendar.kinds()[k]->id << " " << left;
    }
  }
  EXPECT_GT(heavy, 0) << "no work that the last days forbid";
}

// Days in a row on which something hard is placed.
int hard_pairs(const Placement& placement, const Calendar& calendar) {
  int pairs = 0;
  bool before = false;
  for (const PlacedDay& day : placement.days) {
    const bool hard = std::any_of(day.blocks.begin(), day.blocks.end(),
                                  [&](const PlacedBlock& block) { return calendar.traits(block.kind).hard; });
    pairs += hard && before ? 1 : 0;
    before = hard;
  }
  return pairs;
}

TEST(Placing, KeepsHardDaysApartWhereTheDaysHaveRoomForIt) {
  RandomSource random(3);
  testing::CandidateKnobs knobs;
  knobs.plain = true;
  knobs.weeks_to_test = 6;
  Candidate candidate = testing::random_candidate(random, standard(), kToday, knobs);
  candidate.week = {60, 60, 60, 60, 60, 0, 0};
  const Calendar calendar(candidate, Knowledge{standard(), model(), rules()}, kToday);
  Pack two_shuttles;
  for (std::size_t k = 0; k < calendar.kinds().size(); ++k) {
    if (calendar.kinds()[k]->id == "shuttle") two_shuttles.kinds[k].full = 2;
  }
  PlaceRequest request;
  request.first = 0;
  request.count = 7;
  request.most_minutes = kNoLimit;
  const Placement apart = calendar.place(two_shuttles, request);
  ASSERT_EQ(apart.outcome, Placing::done);
  EXPECT_EQ(hard_pairs(apart, calendar), 0);
  request.only_days = 0b11;  // no room but in a row
  const Placement tight = calendar.place(two_shuttles, request);
  ASSERT_EQ(tight.outcome, Placing::done);
  EXPECT_EQ(hard_pairs(tight, calendar), 1);
}

}  // namespace
}  // namespace backplan
