#include "support/random_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "backplan/standard.hpp"

namespace backplan::testing {
namespace {

// Ids of data/model/work.json. A candidate may name only these; a property test with another model
// would have to bring its own.
const std::vector<std::string>& work_ids() {
  static const std::vector<std::string> kIds = {"deadlift",  "push_up", "shuttle",  "trunk",
                                                "intervals", "tempo",   "easy_run", "throw"};
  return kIds;
}

void spread(RandomSource& random, int minutes, Candidate& candidate) {
  const std::vector<std::vector<int>> mornings = {
      {0, 2, 4}, {0, 1, 3, 5}, {0, 1, 3, 4}, {0, 1, 2, 4, 5}, {1, 3, 5}};
  const std::vector<int>& days = random.choice(mornings);
  const int each = minutes / static_cast<int>(days.size());
  for (const int day : days) candidate.week[static_cast<std::size_t>(day)] = each;
  candidate.week[static_cast<std::size_t>(days.front())] += minutes - each * static_cast<int>(days.size());
}

int days_left(const Candidate& candidate, Date as_of) {
  return static_cast<int>((candidate.test_date - as_of).count());
}

void draw_spells(RandomSource& random, Date as_of, Candidate& candidate) {
  const std::vector<BlockedKind> kinds = {BlockedKind::rest, BlockedKind::light, BlockedKind::field};
  const std::vector<int> lengths = {1, 2, 3, 5, 7, 10, 14, 18, 21, 30};
  Date free_from = as_of - Days{10};
  const int spells = random.integer(1, 3);
  for (int n = 0; n < spells; ++n) {
    BlockedSpell spell;
    spell.from = free_from + Days{random.integer(0, 40)};
    spell.to = spell.from + Days{random.choice(lengths) - 1};
    if (spell.to >= candidate.test_date) return;
    spell.kind = random.choice(kinds);
    spell.why = "invented duty";
    candidate.blocked.push_back(spell);
    free_from = spell.to + Days{1};
  }
}

void draw_fixed(RandomSource& random, bool always_hard, Candidate& candidate) {
  FixedWork work;
  work.weekday = random.integer(0, 6);
  const bool march = random.chance(0.6);
  work.work = march ? "march" : "unit_run";
  work.minutes = march ? random.integer(6, 18) * 10 : random.integer(2, 6) * 10;
  if (random.chance(0.8)) {
    work.distance = march ? Metres(random.integer(3, 18) * 1000.0) : Metres(random.integer(2, 8) * 1000.0);
  }
  if (always_hard &&
      random.chance(0.3)) {  // hard from the first minute: a circuit, or a work kind that is fixed
    const std::vector<std::string> hard{"circuit", "intervals", "shuttle"};
    work.work = hard[static_cast<std::size_t>(random.integer(0, 2))];
    work.minutes = random.integer(2, 9) * 10;
    if (work.work != "intervals") work.distance.reset();
  }
  candidate.fixed.push_back(work);
}

void draw_days(RandomSource& random, Date as_of, Candidate& candidate) {
  const int left = days_left(candidate, as_of);
  const int wanted = std::min(random.integer(1, 6), left);
  for (int n = 0; n < wanted; ++n) {
    DayOverride over;
    over.date = as_of + Days{random.integer(0, left - 1)};
    const bool known = std::any_of(candidate.days.begin(), candidate.days.end(),
                                   [&](const DayOverride& each) { return each.date == over.date; });
    if (known) continue;
    over.after_night_shift = random.chance(0.5);
    if (!over.after_night_shift || random.chance(0.3)) over.minutes = random.integer(0, 12) * 10;
    candidate.days.push_back(over);
  }
  std::sort(candidate.days.begin(), candidate.days.end(),
            [](const DayOverride& a, const DayOverride& b) { return a.date < b.date; });
}

void draw_medical(RandomSource& random, Date as_of, Candidate& candidate) {
  Medical& medical = candidate.medical;
  const double kind = random.real();
  if (kind < 0.10) {
    medical.status = MedicalStatus::profile;
    for (const std::string& id : work_ids()) {
      if (random.chance(0.5)) medical.permitted.insert(id);
    }
    medical.since = as_of - Days{random.integer(1, 30)};
    if (random.chance(0.8)) medical.until = as_of + Days{random.integer(1, 60)};
  } else if (kind < 0.13 && candidate.column == "female") {
    medical.status = MedicalStatus::pregnant;
  } else if (kind < 0.20 && candidate.column == "female") {
    medical.status = MedicalStatus::postpartum;
    if (random.chance(0.8)) medical.cleared_on = as_of - Days{random.integer(0, 60)};
  }
}

void draw_avoid(RandomSource& random, Date as_of, Candidate& candidate) {
  Avoid avoid;
  avoid.work = random.choice(work_ids());
  if (random.chance(0.7)) avoid.from = as_of + Days{random.integer(-10, 40)};
  if (random.chance(0.7)) avoid.until = avoid.from.value_or(as_of) + Days{random.integer(5, 40)};
  avoid.why = "invented ache";
  candidate.avoid.push_back(avoid);
}

void draw_equipment(RandomSource& random, Equipment& equipment) {
  equipment = full_equipment();
  const double luck = random.real();
  if (luck < 0.6) {
    equipment.throw_ball = random.chance(0.5);
    return;
  }
  const bool none = luck < 0.75;
  equipment.hex_bar = !none && random.chance(0.7);
  equipment.sled = !none && random.chance(0.6);
  equipment.kettlebells = !none && random.chance(0.6);
  equipment.pull_up_bar = !none && random.chance(0.6);
  equipment.track = !none && random.chance(0.7);
  equipment.throw_ball = !none && random.chance(0.4);
  if (none) equipment.plates_lb.clear();
}

}  // namespace

Date born_for(int age, Date day, int days_after_birthday) {
  const std::chrono::year_month_day ymd(day - Days{days_after_birthday});
  std::chrono::year_month_day born(ymd.year() - std::chrono::years{age}, ymd.month(), ymd.day());
  if (!born.ok()) born = born.year() / born.month() / std::chrono::last;
  Date birth(born);
  while (age_on(birth, day) > age) birth += Days{1};
  while (age_on(birth, day) < age) birth -= Days{1};
  return birth;
}

Equipment full_equipment() {
  Equipment equipment;
  equipment.plates_lb = {45, 45, 45, 45, 45, 45, 35, 35, 25, 25, 10, 10, 10, 10, 5, 5};
  equipment.throw_ball = true;
  return equipment;
}

void draw_week(RandomSource& random, const CandidateKnobs& knobs, Candidate& candidate) {
  if (knobs.minutes_a_week) {
    spread(random, *knobs.minutes_a_week, candidate);
    return;
  }
  if (random.chance(0.1)) {  // one free morning
    candidate.week[static_cast<std::size_t>(random.integer(0, 6))] = random.integer(3, 12) * 10;
  } else {
    const std::vector<int> lengths = {0, 15, 20, 30, 39, 40, 45, 50, 60, 60, 75, 90, 120};
    for (int& minutes : candidate.week) minutes = random.chance(0.65) ? random.choice(lengths) : 0;
  }
  if (random.chance(0.4)) candidate.home_blocks = random.integer(1, 5);
}

void draw_now(RandomSource& random, Candidate& candidate) {
  if (random.chance(0.6)) candidate.now.hard_sessions = random.integer(0, 4);
  if (random.chance(0.6)) candidate.now.minutes = random.integer(0, 30) * 10;
  if (random.chance(0.6)) candidate.now.longest_run = Metres(random.integer(0, 12) * 1000.0);
}

void draw_calendar(RandomSource& random, Date as_of, const CandidateKnobs& knobs, Candidate& candidate) {
  if (random.chance(0.45)) draw_spells(random, as_of, candidate);
  if (random.chance(0.35)) draw_fixed(random, knobs.hard_fixed, candidate);
  if (random.chance(0.1)) draw_fixed(random, knobs.hard_fixed, candidate);
  const int left = days_left(candidate, as_of);
  if (left > 0 && random.chance(0.4)) draw_days(random, as_of, candidate);
  if (left > 10 && random.chance(0.25)) {
    candidate.diagnostics.push_back(as_of + Days{random.integer(3, left - 3)});
  }
}

void draw_limits(RandomSource& random, Date as_of, Candidate& candidate) {
  draw_equipment(random, candidate.equipment);
  if (random.chance(0.2)) draw_avoid(random, as_of, candidate);
  draw_medical(random, as_of, candidate);
}

}  // namespace backplan::testing
