#include "report/squad_view.hpp"

#include <algorithm>

#include "backplan/units.hpp"
#include "report/squad_text.hpp"
#include "report/words.hpp"

namespace backplan::report {
std::string display_of(const Programme& programme, const std::string& id) {
  const Person* person = find_person(programme, id);
  return printable(person == nullptr ? id : person->display);
}

std::vector<std::string> people_at(const Station& station) {
  std::vector<std::string> ids;
  for (const Turn& turn : station.turns) {
    if (std::find(ids.begin(), ids.end(), turn.id) == ids.end()) ids.push_back(turn.id);
  }
  return ids;
}

std::string place_of(const Station& station, const Names& names) {
  std::string text = names.work(station.work);
  if (!station.lane.empty()) text += ", " + station.lane;
  if (!station.equipment.empty()) text += " (" + station.equipment + ")";
  if (!station.note.empty()) text += "; " + station.note;
  return text;
}

bool is_shared(const Station& station) { return people_at(station).size() < station.turns.size(); }

double last_minute(const Station& station) {
  double last = 0.0;
  for (const Turn& turn : station.turns) last = std::max(last, turn.to);
  return last;
}

std::vector<Visit> visits_of(const Morning& morning, const std::string& id) {
  std::vector<Visit> out;
  for (std::size_t i = 0; i < morning.stations.size(); ++i) {
    Visit visit{&morning.stations[i], i + 1, {}};
    for (const Turn& turn : morning.stations[i].turns) {
      if (turn.id == id) visit.turns.push_back(&turn);
    }
    if (!visit.turns.empty()) out.push_back(std::move(visit));
  }
  std::stable_sort(out.begin(), out.end(), [](const Visit& a, const Visit& b) {
    return a.turns.front()->from < b.turns.front()->from;
  });
  return out;
}

std::vector<MorningWork> works_of(const Morning& morning) {
  std::vector<MorningWork> out;
  for (const Station& station : morning.stations) {
    auto found =
        std::find_if(out.begin(), out.end(), [&](const auto& one) { return one.work == station.work; });
    if (found == out.end()) found = out.insert(out.end(), {station.work, {}, {}});
    for (const std::string& id : people_at(station)) {
      if (std::find(found->people.begin(), found->people.end(), id) == found->people.end())
        found->people.push_back(id);
    }
    for (const Turn& turn : station.turns) {
      if (turn.off && std::find(found->off.begin(), found->off.end(), turn.id) == found->off.end())
        found->off.push_back(turn.id);
    }
  }
  return out;
}

std::string off_people(const MorningWork& work, const Programme& programme) {
  std::string text;
  for (const std::string& id : work.off)
    text += (text.empty() ? "; OFF: " : ", ") + display_of(programme, id);
  return text;
}

std::vector<const Person*> absent_from(const Programme& programme, const Morning& morning) {
  std::vector<const Person*> out;
  for (const Person& person : programme.people) {
    if (visits_of(morning, person.id).empty()) out.push_back(&person);
  }
  return out;
}

std::set<Date> active_days(const Programme& programme) {
  std::set<Date> days;
  for (const Morning& morning : programme.mornings) days.insert(morning.date);
  for (const Person& person : programme.people) {
    for (const Extra& extra : person.extra) days.insert(extra.date);
  }
  return days;
}

std::vector<const Person*> by_risk(const Programme& programme) {
  std::vector<const Person*> sorted;
  for (const Person& person : programme.people) {
    if (person.refused.empty()) sorted.push_back(&person);
  }
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Person* a, const Person* b) { return a->p_fail > b->p_fail; });
  return sorted;
}

bool is_at_risk(const Programme& programme, const Person& person) {
  return 1.0 - person.p_fail < programme.confidence;
}

DaySpan week_span(const Programme& programme, int index) {
  const Date from = programme.test_date - Days(kDaysAWeek * index);
  return {from, from + Days(kDaysAWeek - 1)};
}

DaySpan two_weeks_from(const Programme& programme, Date today) {
  const Date from = std::max(today, programme.as_of);
  const auto next = std::find_if(programme.mornings.begin(), programme.mornings.end(),
                                 [&](const Morning& morning) { return morning.date >= from; });
  if (next == programme.mornings.end()) return {from, from - Days(1)};
  const int week = squad_week_of(programme, next->date);
  return {from, week_span(programme, std::max(week - 1, 1)).to};
}

}  // namespace backplan::report
