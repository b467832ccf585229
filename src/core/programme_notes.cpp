// What the sheets say beside the work: substitutes, referrals, cautions.
#include <fmt/format.h>

#include <algorithm>

#include "core/caution_words.hpp"
#include "core/programme_parts.hpp"

namespace backplan {
namespace {

bool has_work(const std::vector<PatternBlock>& common, const std::string& work) {
  return std::any_of(common.begin(), common.end(),
                     [&](const PatternBlock& block) { return block.work == work; });
}

// What is done on the mornings of a restriction that have work of it: beside the common work, and of it.
struct Meanwhile {
  std::vector<std::string> instead;
  bool some_common = false;
};

Meanwhile meanwhile(const Plan& plan, const Restriction& restriction, const Layout& layout) {
  Meanwhile out;
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date < restriction.from || day.date > restriction.to) continue;
      const auto& common = layout.pattern.days[static_cast<std::size_t>(weekday_index(day.date))];
      if (std::none_of(restriction.work.begin(), restriction.work.end(),
                       [&](const std::string& work) { return has_work(common, work); }))
        continue;
      for (const Block& block : day.blocks) {
        if (block.size == BlockSize::home) continue;
        if (has_work(common, block.work)) {
          out.some_common = true;
        } else if (std::count(out.instead.begin(), out.instead.end(), block.work) == 0) {
          out.instead.push_back(block.work);
        }
      }
    }
  }
  return out;
}

std::string listed(const std::vector<std::string>& work, const Model& model) {
  std::string text;
  for (const std::string& one : work) text += (text.empty() ? "" : ", ") + model.find_work(one)->name;
  return text;
}

}  // namespace

void note_substitutes(Person& person, const std::vector<Restriction>& restrictions, const Layout& layout,
                      const Knowledge& knowledge) {
  for (const Restriction& one : restrictions) {
    std::string when = one.to_test ? "until the test" : "until " + date_words_with_year(one.to);
    if (one.from > person.plan.as_of) when = fmt::format("from {} {}", date_words_with_year(one.from), when);
    const Meanwhile now = meanwhile(person.plan, one, layout);
    std::string then;
    if (!now.instead.empty()) {
      then = "on those mornings instead: " + listed(now.instead, knowledge.model);
    } else if (now.some_common) {
      then = "the rest of those mornings stays";
    } else if (person.candidate.medical.status == MedicalStatus::profile) {
      then = "nothing else is permitted on those mornings: ask the medical staff what is";
    } else {
      then = "nothing takes its place on those mornings";
    }
    person.notes.push_back(
        fmt::format("not for now: {} ({}); {}", listed(one.work, knowledge.model), when, then));
  }
}

std::vector<std::string> squad_cautions(const Squad& squad, const Knowledge& knowledge) {
  std::vector<std::string> cautions{kNoMedicalAdvice, kPainStopsWork, kMindHeat};
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
  return cautions;
}

}  // namespace backplan
