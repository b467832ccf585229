#include "report/squad_off.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "backplan/work_off.hpp"
#include "report/log_text.hpp"
#include "report/show_text.hpp"

namespace backplan::report {
namespace {

using OffByPerson = std::map<std::string, std::vector<WorkOff>>;

const WorkOff* off_for(const OffByPerson& off, const std::string& id, const std::string& work) {
  const auto person = off.find(id);
  if (person == off.end()) return nullptr;
  const auto found = std::find_if(person->second.begin(), person->second.end(),
                                  [&](const WorkOff& one) { return one.work == work; });
  return found == person->second.end() ? nullptr : &*found;
}

void take_off(Morning& morning, const OffByPerson& off, const Names& names) {
  for (Station& station : morning.stations) {
    for (Turn& turn : station.turns) {
      const WorkOff* gone = off_for(off, turn.id, station.work);
      if (gone == nullptr) continue;
      turn.off = true;
      turn.prescription = off_words(*gone, names);
      turn.load.reset();
      turn.quarter.reset();
    }
  }
}

void take_off(Extra& extra, const std::string& id, const OffByPerson& off, const Names& names) {
  const WorkOff* gone = off_for(off, id, extra.block.work);
  if (gone == nullptr) return;
  extra.off = true;
  extra.block.prescription = off_words(*gone, names);
  extra.block.load.reset();
}

}  // namespace

Programme with_pain(Programme programme, const std::map<std::string, std::vector<PainStop>>& stops,
                    const Names& names, const PainRules& rules, Date today) {
  OffByPerson off;
  for (const auto& [id, own] : stops) off[id] = work_off(Candidate{}, own, names.model, rules, today);
  for (Morning& morning : programme.mornings) {
    if (morning.date >= today) take_off(morning, off, names);
  }
  for (Person& person : programme.people) {
    for (Extra& extra : person.extra) {
      if (extra.date >= today) take_off(extra, person.id, off, names);
    }
    const auto own = stops.find(person.id);
    if (own == stops.end()) continue;
    // Before the notes of the programme: what holds today comes first.
    const std::vector<std::string> notices = stop_notices(own->second, names, JournalOf::squad);
    person.notes.insert(person.notes.begin(), notices.begin(), notices.end());
  }
  return programme;
}

}  // namespace backplan::report
