#include "report/html_squad.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "backplan/numeric.hpp"
#include "backplan/units.hpp"
#include "io/value_text.hpp"
#include "report/chart_squad.hpp"
#include "report/html_report.hpp"
#include "report/squad_text.hpp"
#include "report/squad_words.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

const Morning* next_morning(const SquadInput& input) {
  for (const Morning& morning : input.programme.mornings) {
    if (morning.date >= input.today) return &morning;
  }
  return nullptr;
}

// What a trainer can do about it, the most urgent first.
Markup first_steps(const SquadInput& input) {
  const Programme& programme = input.programme;
  Markup items;
  for (const Shortfall& one : programme.shortfalls)
    items += element("li", {}, {foreign(one.what), ". Cheapest: ", foreign(one.remedy), "."});
  const auto people = by_risk(programme);
  if (!people.empty() && is_at_risk(programme, *people.front()) && people.front()->cheapest) {
    const Person& person = *people.front();
    items += element("li", {},
                     {foreign(name_of(programme, person)),
                      fmt::format(" is least likely to pass ({}). One more hour a week of {} {}.",
                                  say_chance(1.0 - person.p_fail), input.names.work(person.cheapest->work),
                                  worth_sentence(*person.cheapest, input.names))});
  }
  if (const Morning* next = next_morning(input)) {
    std::string works;
    for (const MorningWork& work : works_of(*next))
      works += fmt::format("{}{} ({})", works.empty() ? "" : ", ", input.names.work(work.work),
                           work.people.size());
    items += element(
        "li", {}, fmt::format("Next morning, {}, {} min: {}.", short_date(next->date), next->minutes, works));
  }
  return items.empty() ? items
                       : element("p", {{"class", "lead"}}, element("strong", {}, "Do first")) +
                             element("ul", {}, items);
}

Markup answer_markup(const SquadInput& input) {
  const Programme& programme = input.programme;
  const SquadOutlook& outlook = programme.outlook;
  const auto planned = by_risk(programme);
  const std::string others = not_counted_words(programme);
  const auto shaky = static_cast<std::size_t>(std::count_if(
      planned.begin(), planned.end(), [&](const Person* person) { return is_at_risk(programme, *person); }));
  const bool well = shaky == 0 && programme.refused.empty() && !planned.empty();
  const auto all = planned.size();
  const char* passing = passing_words(input.names.standard);
  Markup out = element(
      "p", {{"class", "verdict"}},
      planned.empty()
          ? std::string("Nobody is planned")
          : fmt::format("About {:.0f} of {} {}",
                        std::floor(static_cast<double>(all) - outlook.expected_failing + 0.5), all, passing));
  if (planned.empty()) {
    out += element("p", {{"class", "lead"}}, others);
  } else {
    out += element(
        "p", {{"class", "lead"}},
        fmt::format("{}: {:.1f}; 8 in 10 between {:.0f} and {:.0f}. {} of {} {} with at least {}, as "
                    "asked.{}",
                    failing_words(input.names.standard), outlook.expected_failing, outlook.low80,
                    outlook.high80, all - shaky, all, passing, say_chance(programme.confidence), others));
    out += paragraph(mean_words(programme, input.names));
  }
  if (!programme.refused.empty()) out += list_markup(programme.refused);
  out += first_steps(input);
  return element("div", {{"class", well ? "answer" : "answer no"}}, out);
}

Markup own_needs(const SquadInput& input) {
  Markup items;
  for (const Person& person : input.programme.people) {
    const auto add = [&](const Markup& what) {
      items += element("li", {}, {foreign(name_of(input.programme, person)), ": ", what});
    };
    if (!person.refused.empty()) add(Markup("referred; ") + foreign(person.refused));
    if (person.done) add(done_words(person));
    for (const std::string& note : person.notes) add(foreign(note));
    const auto first = std::find_if(person.extra.begin(), person.extra.end(),
                                    [&](const Extra& extra) { return extra.date >= input.today; });
    if (first != person.extra.end())
      add(fmt::format("short extras at home; the first on {}", short_date(first->date)));
  }
  return items.empty()
             ? items
             : element("h3", {}, "People who need something of their own") + element("ul", {}, items);
}

Markup name_and_id(const Person& person) {
  if (person.display == person.id) return foreign(person.id);
  return foreign(person.display) + " " + element("span", {{"class", "small quiet"}}, foreign(person.id));
}

Markup risk_table(const SquadInput& input) {
  DataTable table;
  table.caption = "Everybody, the least likely to pass first";
  const bool pass = input.names.standard.pass_or_fail;
  table.head = {"who",
                "group",
                passing_words(input.names.standard),
                pass ? "events passed" : "total",
                pass ? "on test day" : "8 in 10 between",
                "weakest event",
                "one more hour a week"};
  table.numeric = {false, false, false, true, false, false, false};
  for (const Person* person : by_risk(input.programme)) {
    const TotalOutlook& total = person->outlook.total;
    const bool any = has_total(person->outlook.p_on_scale);
    table.rows.push_back({name_and_id(*person), person->group, say_chance(1.0 - person->p_fail),
                          pass  ? passed_words(*person, input.names)
                          : any ? say_points(total.mean)
                                : "none",
                          pass  ? results_words(*person, input.names)
                          : any ? fmt::format("{} and {}", say_points(total.low80), say_points(total.high80))
                                : std::string(),
                          person->weakest ? fmt::format("{}, {}", person->weakest->event,
                                                        say_chance(person->weakest->p_minimum))
                                          : std::string(),
                          person->cheapest ? fmt::format("{}: {}", input.names.work(person->cheapest->work),
                                                         worth_words(*person->cheapest, input.names))
                                           : std::string()});
  }
  return html_table(table);
}

Markup risk_section(const SquadInput& input) {
  const Picture picture = chances_picture(input.programme, input.names.standard);
  const Markup figure = element("figure", {}, {element("figcaption", {}, picture.title), svg_of(picture)});
  // The table first: in print it may go over pages, the picture may not.
  return risk_table(input) + paragraph("Full bars are likely enough, hollow ones are not.") +
         element("div", {{"class", "grid two"}}, {figure, element("div", {}, own_needs(input))});
}

Markup pattern_markup(const Pattern& pattern, const Names& names) {
  Markup days;
  for (std::size_t d = 0; d < pattern.days.size(); ++d) {
    if (pattern.days[d].empty()) continue;
    std::string day;
    for (const PatternBlock& block : pattern.days[d])
      day += fmt::format("{}{}{}", day.empty() ? "" : ", ", names.work(block.work),
                         block.size == BlockSize::shorter ? " (short)" : "");
    days += element("dt", {}, kDayNames.at(d)) + element("dd", {}, day);
  }
  return days.empty() ? paragraph("No common work fits these mornings.") : element("dl", {}, days);
}

Markup group_markup(const SquadInput& input, const Group& group) {
  Markup members;
  for (const std::string& id : group.members)
    members += (members.empty() ? Markup() : Markup(", ")) + foreign(display_of(input.programme, id));
  const auto size = group.members.size();
  return element("article", {{"class", "card"}},
                 {element("h3", {}, fmt::format("Group {}: {}", group.id, count(size, "person", "people"))),
                  element("p", {}, members), pattern_markup(group.pattern, input.names),
                  element("p", {{"class", "small quiet"}}, {"Why: ", foreign(group.why)})});
}

std::string choice_text(const Programme& programme) {
  const double gap =
      programme.optimality.bound.value_or(programme.optimality.value) - programme.optimality.value;
  constexpr double kCountedOut = 1e-6, kPercent = 100.0;
  if (programme.gain <= 0.0) return {};
  return gap <= kCountedOut * std::max(1.0, programme.gain)
             ? fmt::format("The best choice of {} weeks compared, counted out.", programme.patterns_compared)
             : fmt::format("Of {} weeks compared; at most {:.2f} % of the gain is left.",
                           programme.patterns_compared, kPercent * gap / programme.gain);
}

Markup pooled_markup(const SquadInput& input) {
  if (input.programme.pooled.empty()) return {};
  Markup items;
  for (const PooledEvent& one : input.programme.pooled) {
    items += element("li", {},
                     fmt::format("{}: from {}; room to gain ×{:.2f}, rate ×{:.2f}",
                                 pooled_name(one, input.names), count(one.people, "log"),
                                 numeric::exp(one.headroom_shift), numeric::exp(one.rate_shift)));
  }
  return element("h3", {}, "What the logs teach of the whole squad") + element("ul", {}, items) +
         paragraph("This moves everybody's starting point.");
}

Markup groups_section(const SquadInput& input) {
  Markup groups;
  for (const Group& group : input.programme.groups) groups += group_markup(input, group);
  const std::string choice = choice_text(input.programme);
  return element("div", {{"class", "grid"}}, groups) + (choice.empty() ? Markup() : paragraph(choice)) +
         pooled_markup(input);
}

std::string unbroken(std::string text) {
  for (std::size_t at = text.find(' '); at != std::string::npos; at = text.find(' ', at))
    text.replace(at, 1, "\u00a0");
  return text;
}

// The mornings of one week by kind of work: how many people on how many mornings.
std::string works_of_week(const std::vector<const Morning*>& mornings, const Names& names) {
  std::vector<std::pair<std::string, std::size_t>> sums;
  for (const Morning* morning : mornings) {
    for (const MorningWork& work : works_of(*morning)) {
      auto found =
          std::find_if(sums.begin(), sums.end(), [&](const auto& sum) { return sum.first == work.work; });
      if (found == sums.end()) found = sums.insert(sums.end(), {work.work, 0});
      found->second += work.people.size();
    }
  }
  std::string text;
  for (const auto& [work, people] : sums)
    text += (text.empty() ? "" : ", ") + unbroken(fmt::format("{} {}", names.work(work), people));
  return text.empty() ? "no common morning" : text;
}

Markup weeks_section(const SquadInput& input) {
  const Programme& programme = input.programme;
  DataTable table;
  table.caption =
      last_test(programme) == programme.test_date
          ? "Weeks, counted back from the test, with the places taken in each kind of work"
          : "Weeks, counted back from the last make-up test, with the places taken in each kind of work";
  table.head = {"week", "from", "mornings", "min", "minutes as a bar", "places taken"};
  table.numeric = {true, false, true, true, false, false};
  struct Week {
    int index = 0, minutes = 0;
    std::vector<const Morning*> mornings;
  };
  std::vector<Week> weeks;
  int most = 1;
  for (int index = squad_week_of(programme, programme.as_of); index > 0; --index) {
    Week week{index, 0, {}};
    for (const Morning& morning : programme.mornings) {
      if (squad_week_of(programme, morning.date) != index) continue;
      week.mornings.push_back(&morning);
      week.minutes += morning.minutes;
    }
    most = std::max(most, week.minutes);
    weeks.push_back(std::move(week));
  }
  for (const Week& week : weeks)
    table.rows.push_back(
        {fmt::format("{}", week.index), unbroken(short_date(week_span(programme, week.index).from)),
         fmt::format("{}", week.mornings.size()), fmt::format("{}", week.minutes),
         meter(static_cast<double>(week.minutes) / most), works_of_week(week.mornings, input.names)});
  return html_table(table);
}

std::string title_of(const SquadInput& input) {
  const Programme& programme = input.programme;
  return fmt::format("{}: {}, {}; {}", programme.squad, input.names.standard.title,
                     count(programme.people.size(), "person", "people"),
                     squad_test_words(programme, input.today));
}

Markup closing_of(const Programme& programme) {
  return paragraph(fmt::format("Made for {} as of {}. No data of this page has left it.", programme.squad,
                               io::say_date(programme.as_of))) +
         paragraph("No medical advice: the official manual, your unit and licensed staff come first.");
}

std::string heading(const std::string& what, const DaySpan& span) {
  return span.to < span.from ? what
                             : fmt::format("{}, {} to {}", what, short_date(span.from), short_date(span.to));
}

}  // namespace

std::string html_squad(const SquadInput& input) {
  const Programme& programme = input.programme;
  const DaySpan span = two_weeks_from(programme, input.today);
  Page page;
  page.title = title_of(input);
  page.opening = answer_markup(input);
  page.sections = {{"risk", "Who is at risk", risk_section(input)},
                   {"groups", "Groups and their week", groups_section(input)},
                   {"weeks", "The weeks at a glance", weeks_section(input)},
                   {"mornings", heading("Mornings", span), mornings_markup(input, span)},
                   {"sheets", heading("Personal sheets", span), cards_markup(input, span)},
                   {"cautions", "Cautions", list_markup(programme.cautions)}};
  if (!programme.assumptions.empty())
    page.sections.push_back(
        {"assumptions", "What this rests on", assumptions_markup(programme.assumptions), false});
  page.closing = closing_of(programme);
  return html_page(page);
}

std::string html_squad_week(const SquadInput& input, int week) {
  const DaySpan span = week_span(input.programme, week);
  Page page;
  page.title = title_of(input);
  page.alone = true;
  page.sections = {{"mornings", fmt::format("Mornings: {}", week_words(input.programme, week)),
                    mornings_markup(input, span)},
                   {"sheets", heading("Personal sheets", span), cards_markup(input, span)}};
  page.closing = list_markup(input.programme.cautions);
  return html_page(page);
}

}  // namespace backplan::report
