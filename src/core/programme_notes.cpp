// What the sheets say beside the work: substitutes, referrals, cautions.
#include <fmt/format.h>

#include <algorithm>

#include "core/programme_parts.hpp"

namespace backplan {

void note_substitutes(Person& person, const std::vector<std::string>& kept_from, const Layout& layout,
                      const Knowledge& knowledge) {
  for (const std::string& work : kept_from) {
    std::vector<std::string> instead;
    for (const PlannedWeek& week : person.plan.weeks) {
      for (const PlannedDay& day : week.days) {
        const auto& common = layout.pattern.days[static_cast<std::size_t>(weekday_index(day.date))];
        const auto has = [&](const std::string& kind) {
          return std::any_of(common.begin(), common.end(),
                             [&](const PatternBlock& block) { return block.work == kind; });
        };
        if (!has(work)) continue;
        for (const Block& block : day.blocks) {
          if (block.size == BlockSize::home || has(block.work)) continue;
          const std::string name = knowledge.model.find_work(block.work)->name;
          if (std::count(instead.begin(), instead.end(), name) == 0) instead.push_back(name);
        }
      }
    }
    const std::string name = knowledge.model.find_work(work)->name;
    if (instead.empty()) {
      person.notes.push_back(fmt::format(
          "not for now: {}; nothing else is permitted on those mornings: ask the medical staff what is",
          name));
    } else {
      std::string list;
      for (const std::string& one : instead) list += (list.empty() ? "" : ", ") + one;
      person.notes.push_back(fmt::format("not for now: {}; on those mornings instead: {}", name, list));
    }
  }
}

std::vector<std::string> squad_cautions(const Squad& squad, const Knowledge& knowledge,
                                        MorningsThere mornings) {
  std::vector<std::string> cautions;
  cautions.emplace_back(
      "This is no medical advice. The official manual, your unit and licensed staff come first.");
  cautions.emplace_back(
      "Pain stops the work. Chest pain, collapse, confusion in heat, a numb leg or dark urine: stop and "
      "get "
      "emergency care.");
  cautions.emplace_back(
      "Heat: follow the unit's heat category; move hard runs to the cool hours and cut repetitions; no "
      "timed "
      "runs in category 4 or 5.");
  const auto lacks = [&](int have, const char* what, const char* work) {
    if (have == 0)
      cautions.push_back(fmt::format("No {}: {} is not trained. One would change that.", what, work));
  };
  const auto trains = [&](const char* need) {
    return std::any_of(knowledge.model.work.begin(), knowledge.model.work.end(), [&](const WorkKind& kind) {
      return std::count(kind.needs.begin(), kind.needs.end(), need) > 0 &&
             std::any_of(knowledge.standard.events.begin(), knowledge.standard.events.end(),
                         [&](const Event& event) { return event.model_event == kind.trains; });
    });
  };
  if (trains("hex_bar")) lacks(squad.equipment.hex_bars, "hex bar", "the deadlift");
  if (trains("sled"))
    lacks(std::min(squad.equipment.sleds, squad.equipment.kettlebell_pairs),
          "sled with a pair of kettlebells", "the shuttle");
  if (mornings == MorningsThere::none) {
    cautions.emplace_back(
        "No common morning holds any training: the mornings are too short, or the test is too near.");
  }
  return cautions;
}

}  // namespace backplan
