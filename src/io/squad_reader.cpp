#include "io/squad_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>

#include "backplan/units.hpp"
#include "io/candidate_parts.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr std::string_view kBestUpTo = "best up to ";
// A usual set of single plates for one bar (common practice), where the file does not say.
const std::vector<double>& common_plates() {
  static const std::vector<double> plates{45, 45, 45, 45, 35, 35, 25, 25, 10, 10, 10, 10, 5, 5};
  return plates;
}

class Reader {
 public:
  Reader(const JsonCursor& root, const CandidateContext& context) : root_(root), context_(context) {}

  SquadFrame run() {
    root_.allow_only({"format", "id", "standard", "test_date", "mornings", "days", "fixed", "equipment",
                      "blocked", "groups", "goal", "confidence", "pooling"});
    static_cast<void>(root_.required("format").word({"backplan-squad/1"}));
    Squad& squad = frame_.squad;
    if (const auto id = label_at(root_.required("id"), kMostIdLength)) squad.id = *id;
    static_cast<void>(root_.required("standard").one_of({context_.standard.id}, "standard"));
    squad.standard = context_.standard.id;
    read_test_date();
    read_mornings();
    read_days(root_, frame_.common);
    read_fixed(root_, context_, frame_.common);
    read_blocked(root_, frame_.common);
    squad.blocked = frame_.common.blocked;
    read_equipment();
    read_groups();
    read_goal();
    finish_common();
    return std::move(frame_);
  }

 private:
  void took(std::string text) { frame_.squad.defaulted.push_back(std::move(text)); }

  void read_test_date() {
    const JsonCursor cursor = root_.required("test_date");
    const auto date = cursor.exists() ? date_at(cursor) : std::nullopt;
    if (!date) return;
    frame_.squad.test_date = *date;
    if (*date < context_.as_of && context_.over == TestOver::refused) {
      cursor.fault(fmt::format("the test on {} is in the past; today is taken as {}", say_date(*date),
                               say_date(context_.as_of)),
                   "correct the date of the test, or give --as-of an earlier day");
    } else if (*date > context_.as_of + Days(kMostDaysAhead)) {
      cursor.fault(fmt::format("the test on {} is more than two years away", say_date(*date)),
                   "check the year; plan for a nearer test");
    }
  }

  void read_mornings() {
    const JsonCursor mornings = root_.required("mornings");
    if (!mornings.exists()) return;
    mornings.allow_only({"mon", "tue", "wed", "thu", "fri", "sat", "sun"});
    if (!mornings.is_object()) return;
    std::string missing;
    for (std::size_t d = 0; d < kDayKeys.size(); ++d) {
      const JsonCursor day = mornings.optional(kDayKeys[d]);
      if (day.exists()) {
        frame_.squad.mornings[d] = day.integer(0, kMostSlotMinutes).value_or(0);
      } else {
        missing += fmt::format("{}{}", missing.empty() ? "" : ", ", kDayKeys[d]);
      }
    }
    if (!missing.empty()) took(fmt::format("minutes of {} not given: taken as 0", missing));
  }

  int kit(const JsonCursor& equipment, std::string_view key) {
    const JsonCursor cursor = equipment.optional(key);
    if (cursor.exists()) return cursor.integer(0, kMostKit).value_or(0);
    took(fmt::format("equipment.{} not given: taken as 0", key));
    return 0;
  }

  bool flag(const JsonCursor& equipment, std::string_view key, bool value) {
    const JsonCursor cursor = equipment.optional(key);
    if (cursor.exists()) return cursor.boolean().value_or(value);
    took(fmt::format("equipment.{} not given: taken as {}", key, value));
    return value;
  }

  void read_equipment() {
    const JsonCursor cursor = root_.required("equipment");
    if (!cursor.exists()) return;
    cursor.allow_only({"hex_bars", "bar_lb", "plates_lb", "sleds", "kettlebell_pairs", "pull_up_bar", "track",
                       "throw_balls"});
    if (!cursor.is_object()) return;
    SquadEquipment& kit_list = frame_.squad.equipment;
    kit_list.hex_bars = kit(cursor, "hex_bars");
    const JsonCursor bar = cursor.optional("bar_lb");
    if (bar.exists()) {
      kit_list.bar_lb = bar.number(1.0, kMostBarPounds).value_or(kit_list.bar_lb);
    } else {
      took(fmt::format("equipment.bar_lb not given: taken as {}", kit_list.bar_lb));
    }
    const JsonCursor plates = cursor.optional("plates_lb");
    if (plates.exists()) {
      for (const JsonCursor& plate : entries_at(plates, kMostPlates * static_cast<std::size_t>(kMostKit)))
        if (const auto weight = plate.number(0.5, kMostPlatePounds)) kit_list.plates_lb.push_back(*weight);
    } else {
      for (int bars = 0; bars < kit_list.hex_bars; ++bars)
        kit_list.plates_lb.insert(kit_list.plates_lb.end(), common_plates().begin(), common_plates().end());
      took(fmt::format("equipment.plates_lb not given: taken as {} for each bar",
                       fmt::join(common_plates(), ", ")));
    }
    kit_list.sleds = kit(cursor, "sleds");
    kit_list.kettlebell_pairs = kit(cursor, "kettlebell_pairs");
    kit_list.throw_balls = cursor.has("throw_balls") ? kit(cursor, "throw_balls") : 0;
    kit_list.pull_up_bar = flag(cursor, "pull_up_bar", true);
    kit_list.track = flag(cursor, "track", true);
  }

  void read_groups() {
    const JsonCursor cursor = root_.optional("groups");
    if (!cursor.exists()) {
      took("groups not given: taken as best up to 3");
      return;
    }
    if (cursor.is_number()) {
      frame_.squad.most_groups = cursor.integer(1, kMostGroups).value_or(frame_.squad.most_groups);
      frame_.squad.exactly = true;
      return;
    }
    const auto text = cursor.text();
    if (!text) return;
    const std::string rest = text->rfind(kBestUpTo, 0) == 0 ? text->substr(kBestUpTo.size()) : "";
    const auto number = read_decimal(rest);
    const bool whole = number && rest.find_first_not_of("0123456789") == std::string::npos;
    if (!whole || *number < 1 || *number > kMostGroups) {
      cursor.fault(
          fmt::format("expected a number from 1 to {} or \"best up to N\", found \"{}\"", kMostGroups, *text),
          "for example \"best up to 3\"");
      return;
    }
    frame_.squad.most_groups = static_cast<int>(*number);
  }

  void read_goal() {
    Squad& squad = frame_.squad;
    const JsonCursor goal = root_.optional("goal");
    if (!goal.exists()) {
      took("goal not given: taken as fewest failing");
    } else if (const auto word = goal.word({"fewest failing", "most at target", "highest mean"})) {
      squad.goal = *word == "most at target" ? SquadGoal::most_at_target
                   : *word == "highest mean" ? SquadGoal::highest_mean
                                             : SquadGoal::fewest_failing;
    }
    const JsonCursor confidence = root_.optional("confidence");
    if (!confidence.exists()) {
      took(fmt::format("confidence not given: taken as {}", squad.confidence));
    } else if (const auto number = confidence.number(0.0, 100.0)) {
      squad.confidence = *number;
      if (!(*number > kLeastConfidence && *number < kMostConfidence))
        confidence.fault(fmt::format("expected a number above {} and below {}, found {}", kLeastConfidence,
                                     kMostConfidence, *number),
                         "0.8 is 8 times in 10");
    }
    const JsonCursor pooling = root_.optional("pooling");
    if (pooling.exists()) squad.pooling = pooling.boolean().value_or(true);
  }

  // What a member's plan sees of it all.
  void finish_common() {
    const Squad& squad = frame_.squad;
    Candidate& common = frame_.common;
    common.standard = squad.standard;
    common.test_date = squad.test_date;
    common.week = squad.mornings;
    common.equipment.hex_bar = squad.equipment.hex_bars > 0;
    common.equipment.bar_lb = squad.equipment.bar_lb;
    common.equipment.plates_lb = squad.equipment.plates_lb;
    common.equipment.sled = squad.equipment.sleds > 0;
    common.equipment.kettlebells = squad.equipment.kettlebell_pairs > 0;
    common.equipment.pull_up_bar = squad.equipment.pull_up_bar;
    common.equipment.track = squad.equipment.track;
    common.equipment.throw_ball = squad.equipment.throw_balls > 0;
    common.target.confidence = squad.confidence;
    common.target.pass_confidence = squad.confidence;
  }

  const JsonCursor& root_;
  const CandidateContext& context_;
  SquadFrame frame_;
};

}  // namespace

Result<SquadFrame> read_squad(std::string_view text, const std::string& file, const Standard& standard,
                              const Model& model, Date as_of, TestOver over) {
  auto parsed = parse_json(text, file);
  if (!parsed.ok()) return parsed.faults();
  Diagnostics faults;
  const JsonCursor root(parsed.value(), faults);
  if (!root.is_object()) {
    root.allow_only({});
    return faults;
  }
  const CandidateContext context{standard, model, as_of, over};
  SquadFrame frame = Reader(root, context).run();
  if (faults.empty()) return frame;
  sort_by_place(faults);
  return faults;
}

std::string groups_text(const Squad& squad) {
  return squad.exactly ? fmt::format("{}", squad.most_groups)
                       : fmt::format("{}{}", kBestUpTo, squad.most_groups);
}

}  // namespace backplan::io
