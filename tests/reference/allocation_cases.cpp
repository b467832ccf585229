// Prints seasons of invented people as JSON Lines, with our own answers, for allocation_milp.py: which pack
// in which week. One argument: the number of seasons.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>
#include <string>
#include <vector>

#include "core/season.hpp"
#include "io/json_write.hpp"
#include "property/shipped_data.hpp"
#include "reference/cases.hpp"
#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};
// The effort of a plan that is proven (planner.cpp).
constexpr AllocationEffort kProve{
    .prove = true, .rounds = 14, .nodes = 40, .counting_nodes = 3000, .gap = 0.05};
constexpr int kFewestKinds = 6;         // of work, of eight
constexpr int kThorough = 2'000'000;    // steps of a placing: the planner gives up far sooner
constexpr double kDeloadShare = 0.55;   // of the minutes of a build week
constexpr double kBeyondAnyDose = 1e3;  // stimulus at which every dose curve has levelled off

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// The shipped model with some of its kinds of work.
Model some_kinds(RandomSource& random) {
  Model model = shipped_model();
  const auto kept =
      static_cast<std::size_t>(random.integer(kFewestKinds, static_cast<int>(model.work.size())));
  while (model.work.size() > kept)
    model.work.erase(model.work.begin() + random.integer(0, static_cast<int>(model.work.size()) - 1));
  return model;
}

// The value of the seasons of this person, as SeasonPlanner::values has it.
std::vector<EventValue> values_of(const SeasonPlanner& planner, const Candidate& candidate,
                                  const Knowledge& knowledge) {
  const DoseTables tables(planner.states());
  std::vector<EventValue> values;
  for (std::size_t e = 0; e < planner.states().size(); ++e) {
    const EventState& state = planner.states()[e];
    double most_s = 0.0;
    double most_loss = 0.0;
    for (const Segment& segment : planner.segments()) {
      most_s += segment.counted[e] * tables.gain(e, kBeyondAnyDose);
      most_loss += segment.counted[e] * tables.loss(e, 0.0);
    }
    const bool own = candidate.target.events.count(state.event->id) > 0;
    const AbilityScale scale(*state.scale,
                             pass_minimum(*knowledge.standard.find_category(candidate.category)));
    values.emplace_back(state, scale, own ? knowledge.model.value.own_target_weight : 1.0,
                        knowledge.model.value.below_minimum_cost, most_s, most_loss);
  }
  return values;
}

// The weeks as the planner cuts them; where there is room for it, one in the middle is a deload.
AllocationTask task_of(const SeasonPlanner& planner, bool with_deload) {
  AllocationTask task;
  for (Segment segment : planner.segments()) {
    sign(segment, planner.calendar());
    Segment deload = segment;
    deload.rehearse = false;
    deload.most_minutes = static_cast<int>(kDeloadShare * segment.most_minutes);
    sign(deload, planner.calendar());
    task.weeks.push_back(segment);
    task.as_deload.push_back(deload);
  }
  task.is_deload.assign(task.weeks.size(), false);
  if (with_deload) task.is_deload[task.weeks.size() / 2] = true;
  return task;
}

// Every pack that the days of a week can hold, by trying them all: each count of each kind, placed or not.
// A pack without its last kinds must fit as well, or the whole cannot.
class EveryPack {
 public:
  EveryPack(const SeasonPlanner& planner, const Segment& segment, int home_blocks)
      : planner_(planner), segment_(segment), home_blocks_(home_blocks) {
    extend(0, 0);
  }
  [[nodiscard]] const std::vector<Column>& columns() const { return columns_; }

 private:
  void extend(std::size_t kind, int home) {
    const Calendar& calendar = planner_.calendar();
    const Placement placement = calendar.place(pack_, request_for(segment_), kThorough);
    if (placement.outcome == Placing::impossible) return;
    if (kind == calendar.kinds().size()) {
      columns_.push_back(planner_.search().column_of(pack_, segment_, placement.minutes));
      columns_.back().sure = placement.outcome == Placing::done;
      return;
    }
    const WorkKind& work = *calendar.kinds()[kind];
    const int most = work.most_a_week - done_of(segment_, kind);
    const int most_home = work.home ? home_blocks_ - home : 0;
    for (int full = 0; full <= most; ++full) {
      for (int shorter = 0; full + shorter <= most; ++shorter) {
        if (work.family == "intervals" && full + shorter > segment_.most_intervals) continue;
        for (int at_home = 0; at_home <= most_home && full + shorter + at_home <= kMostOfAKind; ++at_home) {
          pack_.kinds[kind] = {static_cast<std::uint8_t>(full), static_cast<std::uint8_t>(shorter),
                               static_cast<std::uint8_t>(at_home)};
          if (calendar.hard_blocks(pack_) <= segment_.most_hard) extend(kind + 1, home + at_home);
        }
      }
    }
    pack_.kinds[kind] = {};
  }

  const SeasonPlanner& planner_;
  const Segment& segment_;
  int home_blocks_;
  Pack pack_;
  std::vector<Column> columns_;
};

// F rises with S and falls with L in every event: a pack that another one beats or equals in all need not be
// handed over.
std::vector<Column> unbeaten(const std::vector<Column>& columns) {
  const auto beats = [](const Column& a, const Column& b) {
    for (std::size_t e = 0; e < a.s.size(); ++e) {
      if (a.s[e] < b.s[e] || a.loss[e] > b.loss[e]) return false;
    }
    return true;
  };
  std::vector<Column> out;
  for (const Column& column : columns) {
    if (std::any_of(out.begin(), out.end(), [&](const Column& other) { return beats(other, column); }))
      continue;
    out.erase(
        std::remove_if(out.begin(), out.end(), [&](const Column& other) { return beats(column, other); }),
        out.end());
    out.push_back(column);
  }
  return out;
}

io::Json grid_of(const EventValue& value) {
  io::Json json;
  json["s"] = io::Json::array();
  json["loss"] = io::Json::array();
  json["f"] = io::Json::array();
  for (int j = 0; j < value.loss_nodes(); ++j) json["loss"].push_back(value.loss_of(j));
  for (int i = 0; i < value.s_nodes(); ++i) {
    json["s"].push_back(value.s_of(i));
    io::Json row = io::Json::array();
    for (int j = 0; j < value.loss_nodes(); ++j) row.push_back(value.node(i, j));
    json["f"].push_back(row);
  }
  return json;
}

io::Json columns_json(const std::vector<Column>& columns) {
  io::Json json = io::Json::array();
  for (const Column& column : columns) json.push_back({column.s, column.loss});
  return json;
}

// Weeks that are alike together, each group with its packs.
io::Json groups_of(const SeasonPlanner& planner, const AllocationTask& task, int home_blocks) {
  struct Group {
    const Segment* segment = nullptr;
    int weeks = 0;
  };
  std::map<std::string, Group> groups;
  for (std::size_t w = 0; w < task.weeks.size(); ++w) {
    const Segment& segment = task.is_deload[w] ? task.as_deload[w] : task.weeks[w];
    Group& group = groups[segment.signature];
    group.segment = &segment;
    ++group.weeks;
  }
  io::Json json = io::Json::array();
  for (const auto& [signature, group] : groups) {
    const EveryPack every(planner, *group.segment, home_blocks);
    const auto unsure = std::count_if(every.columns().begin(), every.columns().end(),
                                      [](const Column& column) { return !column.sure; });
    json.push_back({{"weeks", group.weeks},
                    {"packs", every.columns().size()},
                    {"unsure", unsure},
                    {"columns", columns_json(unbeaten(every.columns()))}});
  }
  return json;
}

void print_season(int seed) {
  RandomSource random(static_cast<std::uint64_t>(seed));
  const std::vector<std::string> ids = {"us-army-aft", "us-army-acft-2022"};
  const Model model = some_kinds(random);
  const Knowledge knowledge{shipped_standard(random.choice(ids)), model, shipped_rules()};
  CandidateKnobs knobs;
  knobs.plain = random.chance(0.7);
  knobs.minutes_a_week = random.integer(6, 18) * 15;
  knobs.weeks_to_test = random.integer(5, 16);
  const Candidate candidate = random_candidate(random, knowledge.standard, kToday, knobs);
  const SeasonPlanner planner(candidate, knowledge, kToday);
  const auto values = values_of(planner, candidate, knowledge);
  const AllocationTask task = task_of(planner, random.chance(0.5));

  io::Json json;
  json["seed"] = seed;
  const auto before_listing = std::chrono::steady_clock::now();
  json["groups"] = groups_of(planner, task, candidate.home_blocks);
  json["listing_seconds"] = seconds_since(before_listing);
  json["events"] = io::Json::array();
  for (const EventValue& value : values) json["events"].push_back(grid_of(value));
  PackSearch search = planner.search();
  const auto start = std::chrono::steady_clock::now();
  const Allocation found = allocate(task, values, search, kProve);
  json["seconds"] = seconds_since(start);
  json["found"] = found.value;
  json["bound"] = found.bound;
  json["weeks"] = columns_json(found.columns);
  print_case(json);
  static_cast<void>(std::fflush(stdout));
}

}  // namespace
}  // namespace backplan::testing

int main(int argc, char** argv) {
  const auto numbers =
      backplan::testing::numbers_from(argc, argv, {200, 1}, "allocation_cases [NUMBER OF SEASONS [FIRST]]");
  if (!numbers) return 2;
  for (int i = 0; i < numbers->front(); ++i) backplan::testing::print_season(numbers->back() + i);
  return 0;
}
