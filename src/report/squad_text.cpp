#include "report/squad_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "backplan/numeric.hpp"
#include "backplan/units.hpp"
#include "io/value_text.hpp"
#include "report/squad_view.hpp"
#include "report/squad_words.hpp"
#include "report/table.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr std::size_t kMostAtRisk = 12;  // of the list in the summary; the week's and the card have all

std::string label_of(const Person& person) {
  return person.display == person.id ? printable(person.id) : printable(person.id + " " + person.display);
}

std::string people_count(std::size_t number) { return count(number, "person", "people"); }

std::string people(double number) { return fmt::format("{:.1f}", number); }

std::string outlook_text(const Programme& programme, const Names& names) {
  const SquadOutlook& outlook = programme.outlook;
  const std::size_t planned = by_risk(programme).size();
  std::string text = "How will it go?\n";
  const std::string others = not_counted_words(programme);
  if (planned == 0) return text + wrap("Nobody is planned." + others, kPageWidth, "  ", "  ");
  text +=
      wrap(fmt::format("{}: {} of {}; 8 in 10 between {:.0f} and {:.0f}.{}", failing_words(names.standard),
                       people(outlook.expected_failing), planned, outlook.low80, outlook.high80, others),
           kPageWidth, "  ", "  ");
  return text + wrap(mean_words(programme, names), kPageWidth, "  ", "  ");
}

std::string pattern_text(const Pattern& pattern, const Names& names) {
  std::string text;
  for (std::size_t d = 0; d < pattern.days.size(); ++d) {
    if (pattern.days[d].empty()) continue;
    std::string day;
    for (const PatternBlock& block : pattern.days[d]) {
      day += (day.empty() ? "" : ", ") + names.work(block.work);
      if (block.size == BlockSize::shorter) day += " (short)";
    }
    text += fmt::format("    {}  {}\n", kDayNames.at(d), day);
  }
  return text.empty() ? "    no common work fits these mornings\n" : text;
}

std::string groups_text(const Programme& programme, const Names& names) {
  std::string text = "\nGroups\n";
  for (const Group& group : programme.groups) {
    std::string members;
    for (const std::string& id : group.members) {
      members += (members.empty() ? "" : ", ") + display_of(programme, id);
    }
    text += wrap(fmt::format("{} ({}): {}", group.id, people_count(group.members.size()), members),
                 kPageWidth, "    ", "  ");
    text += wrap(group.why, kPageWidth, "    ", "    ");
    text += pattern_text(group.pattern, names);
  }
  const double bound = programme.optimality.bound.value_or(programme.optimality.value);
  const double gap = bound - programme.optimality.value;
  if (programme.gain > 0.0) {
    text += wrap(
        gap <= 1e-6 * std::max(1.0, programme.gain)
            ? fmt::format("The best choice of {} weeks compared, counted out.", programme.patterns_compared)
            : fmt::format("Of {} weeks compared; at most {:.2f} % of the gain is left.",
                          programme.patterns_compared, 100.0 * gap / programme.gain),
        kPageWidth, "  ", "  ");
  }
  return text;
}

std::string risk_text(const Programme& programme, const Names& names) {
  const std::vector<const Person*> sorted = by_risk(programme);
  const auto shaky = static_cast<std::size_t>(std::count_if(
      sorted.begin(), sorted.end(), [&](const Person* person) { return is_at_risk(programme, *person); }));
  std::string text = "\nWho is at risk\n";
  if (sorted.empty()) return text + "  Nobody is planned.\n";
  if (shaky == 0)
    text += fmt::format("  Nobody: {} {} with at least {}.\n",
                        sorted.size() == programme.people.size() ? "everybody" : "everybody who is planned",
                        passing_words(names.standard), say_chance(programme.confidence));
  Table table({Align::left, Align::left, Align::left, Align::left, Align::left});
  table.add(
      {"who", "group", passing_words(names.standard), "weakest event", "cheapest: one more hour a week"});
  const std::size_t shown = std::min(sorted.size(), std::max<std::size_t>(shaky, 3));
  for (std::size_t i = 0; i < std::min(shown, kMostAtRisk); ++i) {
    const Person& person = *sorted[i];
    const std::string weakest =
        person.weakest ? fmt::format("{}, {}", person.weakest->event, say_chance(person.weakest->p_minimum))
                       : "";
    const std::string cheapest = person.cheapest ? fmt::format("{}, {}", names.work(person.cheapest->work),
                                                               worth_words(*person.cheapest, names))
                                                 : "";
    table.add({label_of(person), person.group, say_chance(1.0 - person.p_fail), weakest, cheapest});
  }
  text += table.text("  ");
  if (shown > kMostAtRisk) text += fmt::format("  and {} more\n", shown - kMostAtRisk);
  return text;
}

std::string special_text(const Programme& programme) {
  std::string text;
  for (const Person& person : programme.people) {
    if (!person.refused.empty())
      text += wrap(fmt::format("{}: referred; {}", label_of(person), printable(person.refused)), kPageWidth,
                   "    ", "  - ");
    if (person.done)
      text += wrap(fmt::format("{}: {}", label_of(person), done_words(person)), kPageWidth, "    ", "  - ");
    for (const std::string& note : person.notes)
      text += wrap(fmt::format("{}: {}", label_of(person), printable(note)), kPageWidth, "    ", "  - ");
    const auto first = std::find_if(person.extra.begin(), person.extra.end(),
                                    [&](const Extra& extra) { return extra.date >= programme.as_of; });
    if (first != person.extra.end()) {
      text += wrap(
          fmt::format("{}: short extras at home; the first on {}", label_of(person), short_date(first->date)),
          kPageWidth, "    ", "  - ");
    }
  }
  return text.empty() ? text : "\nPeople who need something of their own\n" + text;
}

std::string shortfall_text(const Programme& programme) {
  if (programme.shortfalls.empty()) return {};
  std::string text = "\nWhat does not fit, and what is cheapest\n";
  for (const Shortfall& one : programme.shortfalls)
    text += wrap(fmt::format("{}. Cheapest: {}.", one.what, one.remedy), kPageWidth, "    ", "  - ");
  return text;
}

std::string pooled_text(const Programme& programme, const Names& names) {
  if (programme.pooled.empty()) return {};
  std::string text = "\nWhat the logs teach of the whole squad\n";
  for (const PooledEvent& one : programme.pooled) {
    text += wrap(
        fmt::format("{}: from {}; room to gain ×{:.2f}, rate ×{:.2f}", pooled_name(one, names),
                    count(one.people, "log"), numeric::exp(one.headroom_shift), numeric::exp(one.rate_shift)),
        kPageWidth, "    ", "  ");
  }
  return text +
         "  This moves everybody's starting point; \"pooling\": false in squad.json switches it off.\n";
}

}  // namespace

int squad_week_of(const Programme& programme, Date date) {
  const auto to_test = static_cast<int>((last_test(programme) - date).count());
  return to_test <= 0 ? 0 : (to_test + 6) / 7;
}

const Person* find_person(const Programme& programme, const std::string& id) {
  for (const Person& person : programme.people) {
    if (person.id == id) return &person;
  }
  return nullptr;
}

std::string programme_text(const Programme& programme, const Names& names) {
  std::string text =
      wrap(fmt::format("Programme for {}: {}, {}", printable(programme.squad),
                       people_count(programme.people.size()), squad_test_words(programme, programme.as_of)),
           kPageWidth, "    ", "") +
      "\n";
  text += outlook_text(programme, names);
  text += groups_text(programme, names);
  text += risk_text(programme, names);
  text += special_text(programme);
  text += shortfall_text(programme);
  text += pooled_text(programme, names);
  const auto next = std::find_if(programme.mornings.begin(), programme.mornings.end(),
                                 [&](const Morning& morning) { return morning.date >= programme.as_of; });
  if (next != programme.mornings.end()) {
    const int first = squad_week_of(programme, next->date);
    text += "\n" + squad_week_text(programme, first, names);
  }
  text += "\nCautions\n";
  for (const std::string& one : programme.cautions) text += wrap(one, kPageWidth, "    ", "  - ");
  return text;
}

std::string squad_changes_text(const std::vector<SquadChange>& changes) {
  if (changes.empty()) return "Groups: nobody moves.\n";
  std::string text = "What changed\n";
  for (const SquadChange& one : changes)
    text += wrap(fmt::format("{}: {}{}", printable(one.id), one.what, one.why.empty() ? "" : "; " + one.why),
                 kPageWidth, "    ", "  - ");
  return text;
}

}  // namespace backplan::report
