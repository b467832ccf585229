// What the trainer and the people take to the field: a week, a morning, a card.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/value_text.hpp"
#include "report/squad_text.hpp"
#include "report/squad_view.hpp"
#include "report/squad_words.hpp"
#include "report/table.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr int kCardDays = 14;
constexpr std::size_t kMostNamed = 8;  // of one line of a week; the morning's sheet has all

// The turns of a lane as a rotation: who, the first time, how many turns, how far apart.
std::string rotation_text(const Station& station, const Programme& programme) {
  std::string text;
  for (const std::string& id : people_at(station)) {
    std::vector<const Turn*> turns;
    for (const Turn& turn : station.turns) {
      if (turn.id == id) turns.push_back(&turn);
    }
    std::string times = minute_text(turns.front()->from);
    for (std::size_t i = 1; i < turns.size(); ++i) times += ", " + minute_text(turns[i]->from);
    text += wrap(
        fmt::format("{} at {}: {}", display_of(programme, id), times, printable(turns.front()->prescription)),
        kPageWidth, "        ", "    ");
  }
  return text;
}

std::string stays_text(const Station& station, const Programme& programme) {
  std::string text;
  for (const Turn& turn : station.turns)
    text += wrap(fmt::format("{}{}: {}", display_of(programme, turn.id), own_times(station, turn),
                             printable(turn.prescription)),
                 kPageWidth, "        ", "    ");
  return text;
}

std::string morning_line(const Morning& morning, const Programme& programme, const Names& names) {
  const auto expected = static_cast<std::size_t>(std::count_if(
      programme.people.begin(), programme.people.end(),
      [&](const Person& person) { return person.refused.empty() && person.test_date >= morning.date; }));
  std::string text;
  for (const MorningWork& work : works_of(morning)) {
    std::string people;
    if (work.people.size() == expected) {
      people = "all";
    } else if (work.people.size() > kMostNamed) {
      people = fmt::format("{} people", work.people.size());
    } else {
      for (const std::string& id : work.people)
        people += (people.empty() ? "" : ", ") + display_of(programme, id);
    }
    text += wrap(fmt::format("{}: {}{}", names.work(work.work), people, off_people(work, programme)),
                 kPageWidth, "        ", "      ");
  }
  return text;
}

}  // namespace

std::string minute_text(double minutes) {
  const int seconds = static_cast<int>(std::floor(minutes * 60.0 + 0.5));
  return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

std::string no_week_text(const Programme& programme, Date today) {
  if (today > last_test(programme)) return "The test is over: no week is left.\n";
  return "Today is the test: no week is left. `backplan squad extract ID` makes a person's own folder, and\n"
         "`backplan testday` in it the sheet for the day.\n";
}

std::string squad_week_text(const Programme& programme, int index, const Names& names) {
  std::string text = week_words(programme, index) + "\n";
  bool any = false;
  for (const Morning& morning : programme.mornings) {
    if (squad_week_of(programme, morning.date) != index) continue;
    any = true;
    text += fmt::format("  {}, {} min\n", short_date(morning.date), morning.minutes);
    text += morning_line(morning, programme, names);
  }
  if (!any) return text + "  no common morning\n";
  std::string extras;
  for (const Person& person : programme.people) {
    for (const Extra& extra : person.extra) {
      if (squad_week_of(programme, extra.date) != index) continue;
      extras += wrap(
          fmt::format("{}, {}: {} {} min at home{}", display_of(programme, person), short_date(extra.date),
                      names.work(extra.block.work), extra.block.minutes, extra.off ? " (OFF)" : ""),
          kPageWidth, "      ", "    ");
    }
  }
  if (!extras.empty()) text += "  Short extras\n" + extras;
  return text;
}

std::string morning_text(const Programme& programme, const Morning& morning, const Names& names) {
  std::string text = fmt::format("{}: {}, {} min; times are minutes from the start\n",
                                 printable(programme.squad), io::say_date(morning.date), morning.minutes);
  double first = morning.minutes;
  double last = 0.0;
  for (const Station& station : morning.stations) {
    for (const Turn& turn : station.turns) {
      first = std::min(first, turn.from);
      last = std::max(last, turn.to);
    }
  }
  text += fmt::format("  0:00 preparation together\n");
  for (const Station& station : morning.stations) {
    text += wrap(fmt::format("{} to {} {}", minute_text(station.turns.front().from),
                             minute_text(last_minute(station)), place_of(station, names)),
                 kPageWidth, "    ", "  ");
    text += is_shared(station) ? rotation_text(station, programme) : stays_text(station, programme);
  }
  text += fmt::format("  {} recovery together; done by {}:00\n", minute_text(last), morning.minutes);
  std::string missing;
  for (const Person* person : absent_from(programme, morning)) {
    missing += (missing.empty() ? "" : ", ") + display_of(programme, *person);
    if (!person->refused.empty()) missing += " (referred)";
  }
  if (!missing.empty()) text += wrap("Not here today: " + missing, kPageWidth, "    ", "  ");
  text += wrap(
      "Stop: the set when the back rounds; the work at any pain. Chest pain, collapse, confusion in heat, a "
      "numb leg or dark urine: stop everything, emergency care.",
      kPageWidth, "    ", "  ");
  return text;
}

std::string card_text(const Programme& programme, const Person& person, Date from, const Names& names) {
  std::string text = wrap(fmt::format("{}, group {}; test on {} ({})", display_of(programme, person),
                                      person.group.empty() ? "none" : person.group,
                                      io::say_date(person.test_date), weeks_until(from, person.test_date)),
                          kPageWidth, "  ", "");
  if (person.done) return text + wrap("Done: " + done_words(person) + ".", kPageWidth, "  ", "  ");
  if (!person.refused.empty()) return text + wrap("Referred: " + person.refused, kPageWidth, "  ", "  ");
  text += wrap(chance_words(person, names), kPageWidth, "    ", "  ");
  for (const std::string& line : event_lines(person, names)) text += wrap(line, kPageWidth, "    ", "  ");
  for (const std::string& note : person.notes) text += wrap(printable(note), kPageWidth, "    ", "  - ");
  for (Date date = from; date < from + Days(kCardDays); date += Days(1)) {
    std::vector<std::pair<double, std::string>> lines;
    for (const Morning& morning : programme.mornings) {
      if (morning.date != date) continue;
      for (const Visit& visit : visits_of(morning, person.id)) {
        const Turn& mine = *visit.turns.front();
        const std::string lane = visit.station->lane.empty() ? "" : ", " + printable(visit.station->lane);
        lines.emplace_back(mine.from,
                           fmt::format("{} {}{}: {}", minute_text(mine.from), names.work(visit.station->work),
                                       lane, printable(mine.prescription)));
      }
    }
    for (const Extra& extra : person.extra) {
      if (extra.date != date) continue;
      lines.emplace_back(1e6, fmt::format("at home, {} min {}: {}", extra.block.minutes,
                                          names.work(extra.block.work), printable(extra.block.prescription)));
    }
    if (lines.empty()) continue;
    std::stable_sort(lines.begin(), lines.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    text += fmt::format("  {}\n", short_date(date));
    for (const auto& line : lines) text += wrap(line.second, kPageWidth, "        ", "    ");
  }
  return text + wrap(
                    "Pain stops the work. Chest pain, collapse, confusion in heat, a numb leg or dark urine: "
                    "stop and "
                    "get emergency care. No medical advice.",
                    kPageWidth, "    ", "  ");
}

}  // namespace backplan::report
