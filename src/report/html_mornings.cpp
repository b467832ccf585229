// What a squad takes to the field: mornings, each a page in print, and personal sheets, several to a page.
#include <fmt/format.h>

#include <algorithm>

#include "io/value_text.hpp"
#include "report/chart_squad.hpp"
#include "report/html_squad.hpp"
#include "report/squad_text.hpp"
#include "report/squad_words.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

// A morning of more letters needs small print to stay on its page; one of still more leaves to the personal
// sheets, on paper, what its people do after the main thing.
constexpr std::size_t kManyLetters = 3700, kCrowdLetters = 7000;
constexpr const char* kStops =
    "Stop: the set when the back rounds; the work at any pain. Chest pain, collapse, confusion in heat, a "
    "numb "
    "leg or dark urine: stop everything, emergency care.";

Markup stay_markup(const Programme& programme, const Visit& visit, const std::string& id) {
  std::string when;
  if (is_shared(*visit.station)) {
    when = " at ";
    for (const Turn* turn : visit.turns)
      when += (turn == visit.turns.front() ? "" : ", ") + minute_text(turn->from);
  } else {
    when = own_times(*visit.station, *visit.turns.front());
  }
  const std::string& what = visit.turns.front()->prescription;
  const std::size_t main = std::min(what.find(';'), what.size());
  Markup text = foreign(what.substr(0, main));
  if (main < what.size()) text += element("span", {{"class", "rest"}}, foreign(what.substr(main)));
  return element("li", {}, {element("strong", {}, foreign(display_of(programme, id))), when, ": ", text});
}

Markup station_markup(const Programme& programme, const Morning& morning, std::size_t index,
                      const Names& names) {
  const Station& station = morning.stations[index];
  Markup people;
  for (const std::string& id : people_at(station)) {
    for (const Visit& visit : visits_of(morning, id)) {
      if (visit.number == index + 1) people += stay_markup(programme, visit, id);
    }
  }
  const std::string when =
      fmt::format("{} to {}", minute_text(station.turns.front().from), minute_text(last_minute(station)));
  return element("div", {{"class", "station"}},
                 {element("h4", {},
                          {element("span", {{"class", "mark"}}, fmt::format("{}", index + 1)),
                           Markup(" " + when + " "), foreign(place_of(station, names))}),
                  element("ul", {{"class", "plain"}}, people)});
}

// The picture in words.
Markup rotation_table(const SquadInput& input, const Morning& morning) {
  DataTable table;
  table.caption = fmt::format("Everybody's way through {}", short_date(morning.date));
  table.head = {"who", "stations by their numbers"};
  table.numeric = {false, false};
  for (const Person& person : input.programme.people) {
    std::string way;
    for (const Visit& visit : visits_of(morning, person.id)) {
      way += fmt::format("{}{} to {}: {} {}", way.empty() ? "" : "; ", minute_text(visit.turns.front()->from),
                         minute_text(visit.turns.back()->to), visit.number,
                         input.names.work(visit.station->work));
    }
    if (!way.empty()) table.rows.push_back({foreign(name_of(input.programme, person)), way});
  }
  return html_table(table);
}

Markup absent_markup(const Programme& programme, const Morning& morning) {
  Markup names;
  for (const Person* person : absent_from(programme, morning)) {
    names += Markup(names.empty() ? "Not here today: " : ", ") + foreign(name_of(programme, *person));
    if (!person->refused.empty()) names += " (referred)";
  }
  return names.empty() ? names : element("p", {{"class", "small"}}, names);
}

std::size_t letters_of(const Programme& programme, const Station& station) {
  constexpr std::size_t kHead = 60, kTimes = 12;
  std::size_t letters = kHead;
  for (const std::string& id : people_at(station)) {
    const auto turn = std::find_if(station.turns.begin(), station.turns.end(),
                                   [&](const Turn& one) { return one.id == id; });
    letters += kTimes + width_of(display_of(programme, id)) + width_of(turn->prescription);
  }
  return letters;
}

const char* size_class(std::size_t letters) {
  if (letters > kCrowdLetters) return "morning many crowd";
  return letters > kManyLetters ? "morning many" : "morning";
}

Markup morning_markup(const SquadInput& input, const Morning& morning) {
  const Programme& programme = input.programme;
  std::size_t letters = 0;
  double last = 0.0;
  Markup stations;
  for (std::size_t i = 0; i < morning.stations.size(); ++i) {
    letters += letters_of(programme, morning.stations[i]);
    last = std::max(last, last_minute(morning.stations[i]));
    stations += station_markup(programme, morning, i, input.names);
  }
  const Picture picture = rotation_picture(programme, morning, input.names);
  const Markup figure =
      element("figure", {}, {element("figcaption", {}, "The rotation in minutes"), svg_of(picture)});
  const Markup head =
      element("h3", {{"id", "morning-" + io::write_date(morning.date)}},
              fmt::format("{}, {} min", io::say_date(morning.date), morning.minutes)) +
      element("p", {},
              fmt::format("Minutes and seconds from the start. 0:00 preparation together; {} recovery "
                          "together; done by {}:00.",
                          minute_text(last), morning.minutes));
  return element("article", {{"class", size_class(letters)}},
                 {head, element("div", {{"class", "stations"}}, {figure, stations}),
                  absent_markup(programme, morning), element("p", {{"class", "small"}}, kStops),
                  element("div", {{"class", "screen"}}, rotation_table(input, morning))});
}

Markup day_lines(const SquadInput& input, const Person& person, Date date) {
  Markup lines;
  const auto add = [&](const std::string& head, const std::string& prescription) {
    lines += element("li", {}, {element("strong", {}, head), ": ", foreign(prescription)});
  };
  for (const Morning& morning : input.programme.mornings) {
    if (morning.date != date) continue;
    for (const Visit& visit : visits_of(morning, person.id)) {
      const std::string lane = visit.station->lane.empty() ? "" : ", " + visit.station->lane;
      add(fmt::format("{} {}{}", minute_text(visit.turns.front()->from),
                      input.names.work(visit.station->work), lane),
          visit.turns.front()->prescription);
    }
  }
  for (const Extra& extra : person.extra) {
    if (extra.date == date)
      add(fmt::format("at home, {} min {}", extra.block.minutes, input.names.work(extra.block.work)),
          extra.block.prescription);
  }
  if (lines.empty()) return {};
  return element("h4", {}, short_date(date)) + element("ul", {{"class", "plain"}}, lines);
}

Markup card_markup(const SquadInput& input, const Person& person, const DaySpan& span) {
  const std::string group = person.group.empty() ? "no group" : "group " + person.group;
  Markup out = element("h3", {}, {foreign(name_of(input.programme, person)), Markup(", " + group)});
  out += element("p", {{"class", "small"}},
                 {foreign(person.id), fmt::format("; test on {} ({})", io::say_date(person.test_date),
                                                  weeks_until(input.today, person.test_date))});
  if (person.done)
    return element("article", {{"class", "card"}},
                   out + element("p", {}, "Done: " + done_words(person) + "."));
  if (!person.refused.empty())
    return element("article", {{"class", "card"}},
                   out + element("p", {{"class", "doubt"}}, {"Referred: ", foreign(person.refused)}));
  out += element("p", {}, chance_words(person, input.names));
  for (const std::string& line : event_lines(person, input.names)) out += element("p", {}, line);
  for (const std::string& note : person.notes) out += element("p", {{"class", "small doubt"}}, foreign(note));
  Markup days;
  for (Date date = span.from; date <= span.to; date += Days(1)) days += day_lines(input, person, date);
  out += days.empty() ? element("p", {}, "Nothing planned in these days.") : days;
  return element("article", {{"class", "card"}}, out);
}

}  // namespace

Markup mornings_markup(const SquadInput& input, const DaySpan& span) {
  Markup out;
  for (const Morning& morning : input.programme.mornings) {
    if (span.holds(morning.date)) out += morning_markup(input, morning);
  }
  return out.empty() ? element("p", {}, "No common morning in these days.") : out;
}

Markup cards_markup(const SquadInput& input, const DaySpan& span) {
  Markup cards;
  for (const Person& person : input.programme.people) cards += card_markup(input, person, span);
  return element(
             "p", {{"class", "small"}},
             "Pain stops the work. Chest pain, collapse, confusion in heat, a numb leg or dark urine: stop "
             "and get emergency care. No medical advice.") +
         element("div", {{"class", "cards"}}, cards);
}

}  // namespace backplan::report
