// Every figure of rules.json at both ends of what its reader takes: what a user may write there, the planner
// must obey. A rule that only the checker knows would end as a fault of the program.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "backplan/check.hpp"
#include "backplan/planner.hpp"
#include "backplan/programme.hpp"
#include "backplan/suited.hpp"
#include "io/json_write.hpp"
#include "io/readers.hpp"
#include "io/squad_reader.hpp"
#include "property/shipped_data.hpp"
#include "store/files.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

const Date kDay = test::day(2026, 12, 1);
constexpr const char* kStandard = "us-army-aft";

std::string shipped_text() {
  for (const io::DataFile& file : io::embedded_data()) {
    if (file.path == "model/rules.json") return file.text;
  }
  return {};
}

Result<Rules> rules_with(const std::string& pointer, const io::Json& value) {
  io::Json json = io::Json::parse(shipped_text());
  json[io::Json::json_pointer(pointer)] = value;
  return io::read_rules({{"model/rules.json", json.dump()}});
}

// A figure as whole steps: of one, or of a hundredth where the file has a fraction.
struct Steps {
  std::string pointer;
  double step = 1.0;
  long now = 0;

  [[nodiscard]] io::Json at(long steps) const {
    return step < 1.0 ? io::Json(static_cast<double>(steps) * step) : io::Json(steps);
  }
  [[nodiscard]] bool taken(long steps) const { return rules_with(pointer, at(steps)).ok(); }
};

std::vector<Steps> figures() {
  std::vector<Steps> out;
  const io::Json flat = io::Json::parse(shipped_text()).flatten();
  for (const auto& [pointer, value] : flat.items()) {
    if (!value.is_number() || pointer.find("/value") == std::string::npos) continue;
    const bool whole = value.is_number_integer();
    const double step = whole ? 1.0 : 0.01;
    out.push_back({pointer, step, std::lround(value.get<double>() / step)});
  }
  return out;
}

// The furthest that is taken in this direction from what is shipped.
long end_of(const Steps& figure, int direction) {
  long inside = figure.now;
  long outside = direction < 0 ? -1 : 20'000'000;
  while (std::labs(outside - inside) > 1) {
    const long middle = inside + (outside - inside) / 2;
    (figure.taken(middle) ? inside : outside) = middle;
  }
  return inside;
}

Candidate demo_candidate(const Standard& standard, const Model& model) {
  const std::string path = std::string(BACKPLAN_SOURCE_DIR) + "/data/demo/rowan/candidate.json";
  const std::string text = store::read_file(path, 1U << 20U).value();
  Candidate candidate = io::read_candidate(text, path, standard, model, kDay).value();
  // Filled up to its limits, with something for the rules about fixed work, nights and practice tests to say.
  candidate.aim = Aim::highest;
  candidate.now.hard_sessions = 3;
  candidate.now.minutes = 240;
  candidate.days.push_back({kDay + Days(8), std::nullopt, true});
  candidate.diagnostics.push_back(kDay + Days(30));
  return candidate;
}

Squad small_squad(const Standard& standard, const Model& model) {
  const std::string text = R"({ "format": "backplan-squad/1", "id": "larch", "standard": "us-army-aft",
    "test_date": "2027-01-25", "mornings": { "mon": 70, "tue": 60, "thu": 60, "fri": 60 },
    "equipment": { "hex_bars": 1, "sleds": 1, "kettlebell_pairs": 1 } })";
  const std::string roster =
      "id,birth_date,column,results_date,MDL,HRP,SDC,PLK,2MR\n"
      "L-01,1999-02-11,male,2026-11-24,200 lb,24,2:18,1:55,21:40\n"
      "L-02,2001-06-30,male,2026-11-24,280 lb,41,1:52,2:45,16:10\n"
      "L-03,1996-09-02,female,2026-11-24,120 lb,12,3:05,1:45,23:20\n";
  const auto frame = io::read_squad(text, "squad.json", standard, model, kDay);
  return io::read_roster(roster, "roster.csv", frame.value(), standard, model, kDay).value();
}

class RulesAtTheirEnds : public ::testing::Test {
 protected:
  void expect_sound(const Steps& figure, long steps) {
    const std::string what = fmt::format("{} = {}", figure.pointer, figure.at(steps).dump());
    const auto read = rules_with(figure.pointer, figure.at(steps));
    ASSERT_TRUE(read.ok()) << what;
    const Rules rules = suited_rules(read.value(), model_);
    const Knowledge knowledge{standard_, model_, rules};
    if (figure.pointer.rfind("/squad", 0) == 0) {
      const Programme programme = make_programme(squad_, knowledge, kDay);
      for (const SquadViolation& one : check_programme(programme, squad_, knowledge))
        ADD_FAILURE() << what << ": " << one.rule << ": " << one.what;
      return;
    }
    PlanOptions quick;
    quick.prove = quick.ways_out = false;
    const Plan plan = make_plan(candidate_, knowledge, kDay, quick);
    for (const Violation& one : check_plan(plan, candidate_, standard_, model_, rules))
      ADD_FAILURE() << what << ": " << one.rule << ": " << one.what;
  }

  const Standard& standard_ = testing::shipped_standard(kStandard);
  Model model_ = suited_model(testing::shipped_model(), standard_);
  Candidate candidate_ = demo_candidate(standard_, model_);
  Squad squad_ = small_squad(standard_, model_);
};

TEST_F(RulesAtTheirEnds, APlanIsSoundWhateverOneOfThemSays) {
  const std::vector<Steps> all = figures();
  EXPECT_GT(all.size(), 60U);
  for (const Steps& figure : all) {
    for (const int direction : {-1, 1}) expect_sound(figure, end_of(figure, direction));
  }
}

}  // namespace
}  // namespace backplan
