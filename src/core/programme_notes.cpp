// What the sheets say beside the work: substitutes, referrals, cautions.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>

#include "core/programme_parts.hpp"

namespace backplan {
namespace {

// "Sun 20 Dec 2026".
std::string date_words(Date date) {
  constexpr std::array<const char*, 7> kDays{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  constexpr std::array<const char*, 12> kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::chrono::year_month_day ymd(date);
  return fmt::format("{} {} {} {}", kDays.at(static_cast<std::size_t>(weekday_index(date))),
                     static_cast<unsigned>(ymd.day()), kMonths.at(static_cast<unsigned>(ymd.month()) - 1U),
                     static_cast<int>(ymd.year()));
}

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
    std::string when = one.to_test ? "until the test" : "until " + date_words(one.to);
    if (one.from > person.plan.as_of) when = fmt::format("from {} {}", date_words(one.from), when);
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
