#include "report/squad_off.hpp"

#include <algorithm>
#include <utility>

#include "backplan/work_off.hpp"
#include "report/log_text.hpp"
#include "report/show_text.hpp"

namespace backplan::report {
namespace {

// What is off for each person, day by day.
class OffOnDays {
 public:
  OffOnDays(const std::map<std::string, SquadNews>& news, const Model& model, const PainRules& rules)
      : news_(news), model_(model), rules_(rules) {}

  [[nodiscard]] std::optional<WorkOff> find(const std::string& id, const std::string& work, Date day) const {
    const auto person = news_.find(id);
    if (person == news_.end()) return std::nullopt;
    const SquadNews& known = person->second;
    const Candidate candidate = known.candidate.value_or(Candidate{});
    for (const WorkOff& one : work_off(candidate, known.stops, model_, rules_, day, "roster.csv")) {
      if (one.work != work) continue;
      WorkOff found = one;
      if (!known.candidate) found.instead.clear();
      return found;
    }
    return std::nullopt;
  }

 private:
  const std::map<std::string, SquadNews>& news_;
  const Model& model_;
  const PainRules& rules_;
};

void take_off(Morning& morning, const OffOnDays& off, const Names& names) {
  for (Station& station : morning.stations) {
    for (Turn& turn : station.turns) {
      turn.off = off.find(turn.id, station.work, morning.date);
      if (!turn.off) continue;
      turn.prescription = off_words(*turn.off, names);
      turn.load.reset();
      turn.quarter.reset();
    }
  }
}

void take_off(Extra& extra, const std::string& id, const OffOnDays& off, const Names& names) {
  extra.off = off.find(id, extra.block.work, extra.date);
  if (!extra.off) return;
  extra.block.prescription = off_words(*extra.off, names);
  extra.block.load.reset();
}

}  // namespace

Programme as_followed(Programme programme, const std::map<std::string, SquadNews>& news, const Names& names,
                      const PainRules& rules, Date today) {
  const OffOnDays off(news, names.model, rules);
  for (Morning& morning : programme.mornings) {
    if (morning.date >= today) take_off(morning, off, names);
  }
  for (Person& person : programme.people) {
    for (Extra& extra : person.extra) {
      if (extra.date >= today) take_off(extra, person.id, off, names);
    }
    const auto own = news.find(person.id);
    if (own == news.end()) continue;
    // Before the notes of the programme: what holds today comes first.
    const std::vector<std::string> notices = stop_notices(own->second.stops, names, JournalOf::squad);
    person.notes.insert(person.notes.begin(), notices.begin(), notices.end());
  }
  return programme;
}

}  // namespace backplan::report
