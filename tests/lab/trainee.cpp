#include "lab/trainee.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "lab/figures.hpp"
#include "support/journal_entries.hpp"

namespace backplan::lab {
namespace {

using testing::RandomSource;

constexpr double kTellsMissed = 0.6;   // of missed days, that they are marked so
constexpr double kTestsAlone = 0.6;    // of the weeks, one event
constexpr int kWeeksBetweenTests = 4;  // of the whole
constexpr int kDaysInWeek = 7;
constexpr int kStepOfMinutes = 5;  // people round

long day_number(Date date) { return date.time_since_epoch().count(); }

double stimulus_of(const WorkKind& kind, BlockSize size) {
  if (size == BlockSize::shorter) return kind.shorter.stimulus;
  if (size == BlockSize::home && kind.home) return kind.home->stimulus;
  return kind.full.stimulus;
}

bool within(Date date, const std::optional<Date>& from, const std::optional<Date>& to) {
  return from && date >= *from && date <= *to;
}

}  // namespace

Trainee::Trainee(Person person, const Knowledge& knowledge)
    : person_(std::move(person)), knowledge_(knowledge) {}

void Trainee::write(Date date, Deed what) {
  Done one;
  one.id = support::id_number(++written_);
  one.date = date;
  const bool tells = std::holds_alternative<WorkDone>(what) || std::holds_alternative<Missed>(what);
  if (tells && !history_.begins) history_.begins = date;
  one.what = std::move(what);
  history_.entries.push_back(std::move(one));
}

void Trainee::live(const PlannedDay* planned, Date date) {
  const Ways& ways = person_.ways;
  RandomSource fate(luck(person_.seed, Purpose::fate, day_number(date)));
  const bool ill = within(date, ways.ill_from, ways.ill_to);
  const bool missed = fate.chance(ways.misses) || ill;
  const bool forgotten = fate.chance(ways.forgets);
  const bool told = fate.chance(kTellsMissed);
  const double effort = fate.real(0.85, 1.1);
  std::map<std::string, double> stimulus;
  if (planned != nullptr && !planned->blocks.empty()) {
    if (missed) {
      if (told) write(date, Missed{ill ? "ill" : "duty"});
    } else {
      RandomSource random(luck(person_.seed, Purpose::work, day_number(date)));
      minutes_ += planned->session_minutes;
      for (const Block& block : planned->blocks) {
        const WorkKind& kind = *knowledge_.model.find_work(block.work);
        stimulus[kind.id] += effort * stimulus_of(kind, block.size);
        if (forgotten) continue;
        WorkDone work;
        work.work = kind.id;
        const double said = block.minutes * effort * (1.0 + ways.overstates);
        work.minutes =
            std::max(kStepOfMinutes, kStepOfMinutes * static_cast<int>(said / kStepOfMinutes + 0.5));
        write(date, with_figures(work, person_, knowledge_, random));
      }
    }
  }
  person_.pass(stimulus);
}

void Trainee::measure(Date date) {
  RandomSource random(luck(person_.seed, Purpose::measuring, day_number(date)));
  const auto weeks_over = (date - person_.begins).count() / kDaysInWeek + 1;
  const bool alone = random.chance(kTestsAlone);
  const int one = random.integer(0, static_cast<int>(person_.events.size()) - 1);
  const bool self = random.chance(0.5);
  if (within(date, person_.ways.ill_from, person_.ways.ill_to)) return;
  if (weeks_over % kWeeksBetweenTests == 0) {
    for (std::size_t e = 0; e < person_.events.size(); ++e)
      write(date, result_shown(e, Setting::practice, person_, knowledge_, random));
  } else if (alone) {
    const Setting setting = self ? Setting::self : Setting::single;
    write(date, result_shown(static_cast<std::size_t>(one), setting, person_, knowledge_, random));
  }
}

}  // namespace backplan::lab
