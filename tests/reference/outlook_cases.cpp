// Prints what the outlooks of invented people rest on, and the outlooks, as JSON Lines, for
// outlook_simulation.py. One argument: the number of people.
#include <fmt/format.h>

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "core/day_chances.hpp"
#include "core/season.hpp"
#include "io/json_write.hpp"
#include "property/shipped_data.hpp"
#include "reference/cases.hpp"
#include "support/random_candidates.hpp"

namespace backplan::testing {
namespace {

constexpr Date kToday = std::chrono::sys_days{std::chrono::year{2026} / 11 / 2};
constexpr AllocationEffort kQuick{.prove = false, .rounds = 3, .nodes = 0, .counting_nodes = 0, .gap = 0.05};

io::Json tenths(const std::optional<Points>& points) {
  return points ? io::Json(points->tenths()) : io::Json(nullptr);
}

io::Json event_json(const EventState& state, const Candidate& candidate, const Standard& standard) {
  io::Json json;
  json["id"] = state.event->id;
  json["more_is_better"] = state.event->direction == Direction::more_is_better;
  json["resolution"] = state.event->resolution;
  json["weight"] = weight_of(standard, state.event->id);
  json["noise_sd"] = state.model->noise_sd;
  json["noise_least_units"] = state.model->noise_least_units;
  json["k"] = state.model->k_per_week;
  json["k_log_sd"] = state.model->k_log_sd;
  json["fixed_loss"] = state.fixed_loss;
  json["var_ahead"] = state.var_ahead;
  const auto own = candidate.target.events.find(state.event->id);
  json["own_target"] = own == candidate.target.events.end() ? io::Json(nullptr) : tenths(own->second);
  json["rows"] = io::Json::array();
  for (const Row& row : state.scale->rows()) json["rows"].push_back({row.result, row.points.tenths()});
  json["nodes"] = io::Json::array();
  for (const auto& node : state.nodes) {
    json["nodes"].push_back({{"k", node.k},
                             {"weight", node.weight},
                             {"v0", node.v0},
                             {"h", node.h},
                             {"var_v0", node.var_v0},
                             {"var_h", node.var_h},
                             {"cov", node.cov}});
  }
  return json;
}

io::Json outlook_json(const Outlook& outlook) {
  io::Json json;
  json["p_on_scale"] = outlook.p_on_scale;
  json["p_pass"] = outlook.p_pass;
  json["p_target"] = outlook.p_target;
  json["mean"] = outlook.total.mean;
  json["low80"] = outlook.total.low80;
  json["high80"] = outlook.total.high80;
  json["events"] = io::Json::array();
  for (const EventOutlook& event : outlook.events) {
    json["events"].push_back({{"p_minimum", event.p_minimum},
                              {"p_own_target", event.p_own_target},
                              {"expected_points", event.expected_points},
                              {"low80", event.test_day_low80},
                              {"high80", event.test_day_high80}});
  }
  return json;
}

// A total that is reached about as often as not, or a little more or less often: a chance that is nearly
// nought or one is no trial.
void set_doubtful_target(RandomSource& random, Candidate& candidate, const SeasonPlanner& planner,
                         const Knowledge& knowledge, const Dosage& dosage) {
  const double total = total_within_reach(planner.states(), candidate, knowledge.standard, knowledge.model,
                                          dosage, random.real(0.1, 0.9));
  candidate.target = {};
  if (total > 0.0) candidate.target.total = Points::whole(static_cast<int>(total));
}

void print_person(int seed) {
  RandomSource random(static_cast<std::uint64_t>(seed));
  const Knowledge knowledge{shipped_standard(seed % 2 == 0 ? "us-army-aft" : "us-army-acft-2022"),
                            shipped_model(), shipped_rules()};
  CandidateKnobs knobs;
  knobs.minutes_a_week = random.integer(6, 16) * 15;
  knobs.weeks_to_test = random.integer(8, 20);
  Candidate candidate = random_candidate(random, knowledge.standard, kToday, knobs);
  const Category& category = *knowledge.standard.find_category(candidate.category);
  SeasonPlanner planner(candidate, knowledge, kToday);
  const Dosage dosage = planner.fill(planner.available_minutes(), kQuick).dosage;
  set_doubtful_target(random, candidate, planner, knowledge, dosage);

  io::Json json;
  json["seed"] = seed;
  json["standard"] = knowledge.standard.id;
  json["common_share"] = knowledge.model.common.variance_share;
  json["s"] = dosage.s;
  json["loss"] = dosage.loss;
  json["pass_each"] = tenths(category.each_minimum);
  json["pass_total"] = tenths(category.total_minimum);
  json["target_each"] = tenths(candidate.target.each);
  json["target_total"] = tenths(candidate.target.total);
  json["events"] = io::Json::array();
  for (const EventState& state : planner.states())
    json["events"].push_back(event_json(state, candidate, knowledge.standard));
  json["outlook"] = outlook_json(planner.outlook(dosage));
  json["bins"] = io::Json::array();
  for (const TotalBin& bin : planner.total_bins(dosage)) json["bins"].push_back({bin.from, bin.to, bin.p});
  print_case(json);
}

}  // namespace
}  // namespace backplan::testing

int main(int argc, char** argv) {
  const auto numbers = backplan::testing::numbers_from(argc, argv, {8}, "outlook_cases [NUMBER OF PEOPLE]");
  if (!numbers) return 2;
  for (int seed = 1; seed <= numbers->front(); ++seed) backplan::testing::print_person(seed);
  return 0;
}
