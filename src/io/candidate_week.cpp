// When and with what a candidate can train: week, single days, fixed work, blocked spells, work to
// avoid, equipment, medical status.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <map>
#include <tuple>

#include "io/candidate_parts.hpp"
#include "io/value_text.hpp"

namespace backplan::io {

namespace {

// A usual set of single plates for one bar: 290 lb beside it (common practice).
std::vector<double> common_plates() { return {45, 45, 45, 45, 35, 35, 25, 25, 10, 10, 10, 10, 5, 5}; }

std::vector<std::string> work_ids(const Model& model) {
  std::vector<std::string> ids;
  for (const WorkKind& work : model.work) ids.push_back(work.id);
  return ids;
}

// A fault when an entry's first day is after its last one.
void require_order(const JsonCursor& last, std::optional<Date> from, std::optional<Date> to) {
  if (!from || !to || *from <= *to) return;
  last.fault(fmt::format("the last day, {}, is before the first, {}", say_date(*to), say_date(*from)),
             "exchange the two or correct one");
}

std::optional<Date> optional_date(const JsonCursor& cursor) {
  return cursor.exists() ? date_at(cursor) : std::nullopt;
}

// An object with these keys, or a fault that says what it is instead.
bool is_entry(const JsonCursor& entry, std::initializer_list<std::string_view> keys) {
  entry.allow_only(keys);
  return entry.is_object();
}

void read_flag(const JsonCursor& equipment, std::string_view key, bool& value, Candidate& candidate) {
  const JsonCursor cursor = equipment.optional(key);
  if (cursor.exists()) {
    value = cursor.boolean().value_or(value);
  } else {
    candidate.defaulted.push_back(fmt::format("equipment.{} not given: taken as {}", key, value));
  }
}

void read_bar_and_plates(const JsonCursor& cursor, Candidate& candidate) {
  Equipment& equipment = candidate.equipment;
  const JsonCursor bar = cursor.optional("bar_lb");
  if (bar.exists()) {
    equipment.bar_lb = bar.number(1.0, kMostBarPounds).value_or(equipment.bar_lb);
  } else {
    candidate.defaulted.push_back(fmt::format("equipment.bar_lb not given: taken as {}", equipment.bar_lb));
  }
  const JsonCursor plates = cursor.optional("plates_lb");
  if (!plates.exists()) {
    candidate.defaulted.push_back(
        fmt::format("equipment.plates_lb not given: taken as {}", fmt::join(equipment.plates_lb, ", ")));
    return;
  }
  equipment.plates_lb.clear();
  for (const JsonCursor& plate : entries_at(plates, kMostPlates)) {
    if (const auto weight = plate.number(0.5, kMostPlatePounds)) equipment.plates_lb.push_back(*weight);
  }
}

MedicalStatus status_of(const std::string& word) {
  if (word == "profile") return MedicalStatus::profile;
  if (word == "pregnant") return MedicalStatus::pregnant;
  return word == "postpartum" ? MedicalStatus::postpartum : MedicalStatus::none;
}

// A key that says something only beside another status is a slip with consequences: name it.
void only_beside(const JsonCursor& cursor, std::string_view key, bool right, std::string_view status) {
  if (!cursor.exists() || right) return;
  cursor.fault(fmt::format("\"{}\" goes with the status {} only", key, status),
               fmt::format("set the status to {}, or take \"{}\" out", status, key));
}

}  // namespace

void read_week(const JsonCursor& root, Candidate& candidate) {
  const JsonCursor week = root.required("week");
  if (!week.exists() || !is_entry(week, {"mon", "tue", "wed", "thu", "fri", "sat", "sun"})) return;
  std::string missing;
  for (std::size_t i = 0; i < kDayKeys.size(); ++i) {
    const JsonCursor day = week.optional(kDayKeys[i]);
    if (day.exists()) {
      candidate.week[i] = day.integer(0, kMostSlotMinutes).value_or(0);
    } else {
      missing += fmt::format("{}{}", missing.empty() ? "" : ", ", kDayKeys[i]);
    }
  }
  if (!missing.empty()) {
    candidate.defaulted.push_back(fmt::format("minutes of {} not given: taken as 0", missing));
  }
}

void read_days(const JsonCursor& root, Candidate& candidate) {
  std::map<Date, std::string> seen;  // by date, where it stands
  for (const JsonCursor& entry : entries_at(root.optional("days"), kMostDays)) {
    if (!is_entry(entry, {"date", "minutes", "after_night_shift"})) continue;
    DayOverride day;
    const JsonCursor date_cursor = entry.required("date");
    const auto date = date_at(date_cursor);
    const JsonCursor minutes = entry.optional("minutes");
    const JsonCursor shift = entry.optional("after_night_shift");
    if (minutes.exists()) day.minutes = minutes.integer(0, kMostSlotMinutes);
    if (shift.exists()) day.after_night_shift = shift.boolean().value_or(false);
    if (!minutes.exists() && !shift.exists()) {
      entry.fault("this day changes nothing", "give \"minutes\" or \"after_night_shift\"");
    }
    if (!date) continue;
    const auto [earlier, is_new] = seen.emplace(*date, entry.pointer());
    if (!is_new) {
      date_cursor.fault(
          fmt::format("{} stands here a second time; the first is {}", say_date(*date), earlier->second),
          "keep one entry for each day");
    }
    day.date = *date;
    candidate.days.push_back(day);
  }
  std::sort(candidate.days.begin(), candidate.days.end(),
            [](const DayOverride& a, const DayOverride& b) { return a.date < b.date; });
}

void read_fixed(const JsonCursor& root, const CandidateContext& context, Candidate& candidate) {
  auto kinds = work_ids(context.model);
  for (const FixedKind& kind : context.model.fixed) kinds.push_back(kind.id);
  std::map<int, std::string> seen;
  for (const JsonCursor& entry : entries_at(root.optional("fixed"), kMostSpells)) {
    if (!is_entry(entry, {"day", "work", "minutes", "distance"})) continue;
    FixedWork fixed;
    const JsonCursor day_cursor = entry.required("day");
    const JsonCursor work = entry.required("work");
    const JsonCursor minutes = entry.required("minutes");
    const JsonCursor distance = entry.optional("distance");
    const auto day = day_cursor.exists() ? weekday_at(day_cursor) : std::nullopt;
    if (work.exists()) fixed.work = work.one_of(kinds, "work").value_or("");
    if (minutes.exists()) fixed.minutes = minutes.integer(1, kMostFixedMinutes).value_or(0);
    if (distance.exists()) fixed.distance = distance_at(distance);
    if (!day) continue;
    const auto [earlier, is_new] = seen.emplace(*day, entry.pointer());
    if (!is_new) {
      day_cursor.fault(fmt::format("{} has fixed work already, in {}",
                                   kDayKeys.at(static_cast<std::size_t>(*day)), earlier->second),
                       "keep one entry for each weekday");
    }
    fixed.weekday = *day;
    candidate.fixed.push_back(std::move(fixed));
  }
  std::sort(candidate.fixed.begin(), candidate.fixed.end(),
            [](const FixedWork& a, const FixedWork& b) { return a.weekday < b.weekday; });
}

void read_blocked(const JsonCursor& root, Candidate& candidate) {
  for (const JsonCursor& entry : entries_at(root.optional("blocked"), kMostSpells)) {
    if (!is_entry(entry, {"from", "to", "kind", "why"})) continue;
    BlockedSpell spell;
    const JsonCursor last = entry.required("to");
    const auto from = date_at(entry.required("from"));
    const auto to = date_at(last);
    require_order(last, from, to);
    const auto kind = entry.required("kind").word({"rest", "light", "field"});
    spell.kind = kind == "light"   ? BlockedKind::light
                 : kind == "field" ? BlockedKind::field
                                   : BlockedKind::rest;
    spell.why = why_at(entry);
    if (!from || !to) continue;
    spell.from = *from;
    spell.to = *to;
    candidate.blocked.push_back(std::move(spell));
  }
  const auto order = [](const BlockedSpell& s) { return std::tie(s.from, s.to, s.kind, s.why); };
  std::sort(candidate.blocked.begin(), candidate.blocked.end(),
            [&](const BlockedSpell& a, const BlockedSpell& b) { return order(a) < order(b); });
}

void read_avoid(const JsonCursor& root, const CandidateContext& context, Candidate& candidate) {
  const auto kinds = work_ids(context.model);
  for (const JsonCursor& entry : entries_at(root.optional("avoid"), kMostSpells)) {
    if (!is_entry(entry, {"work", "from", "until", "why"})) continue;
    Avoid avoid;
    const JsonCursor last = entry.optional("until");
    const auto work = entry.required("work").one_of(kinds, "work");
    avoid.from = optional_date(entry.optional("from"));
    avoid.until = optional_date(last);
    require_order(last, avoid.from, avoid.until);
    avoid.why = why_at(entry);
    if (!work) continue;
    avoid.work = *work;
    candidate.avoid.push_back(std::move(avoid));
  }
  const auto order = [](const Avoid& a) { return std::tie(a.work, a.from, a.until, a.why); };
  std::sort(candidate.avoid.begin(), candidate.avoid.end(),
            [&](const Avoid& a, const Avoid& b) { return order(a) < order(b); });
}

void read_equipment(const JsonCursor& root, Candidate& candidate) {
  Equipment& equipment = candidate.equipment;
  equipment.plates_lb = common_plates();
  const JsonCursor cursor = root.optional("equipment");
  if (!cursor.exists()) {
    candidate.defaulted.push_back(fmt::format(
        "equipment not given: taken as a {} lb hex bar with plates of {} lb, sled, kettlebells, pull-up bar "
        "and track, no throwing ball",
        equipment.bar_lb, fmt::join(equipment.plates_lb, ", ")));
    return;
  }
  if (!is_entry(cursor, {"hex_bar", "bar_lb", "plates_lb", "sled", "kettlebells", "pull_up_bar", "track",
                         "throw_ball"})) {
    return;
  }
  read_flag(cursor, "hex_bar", equipment.hex_bar, candidate);
  read_bar_and_plates(cursor, candidate);
  read_flag(cursor, "sled", equipment.sled, candidate);
  read_flag(cursor, "kettlebells", equipment.kettlebells, candidate);
  read_flag(cursor, "pull_up_bar", equipment.pull_up_bar, candidate);
  read_flag(cursor, "track", equipment.track, candidate);
  read_flag(cursor, "throw_ball", equipment.throw_ball, candidate);
}

void read_medical(const JsonCursor& root, const CandidateContext& context, Candidate& candidate) {
  const JsonCursor cursor = root.optional("medical");
  if (!cursor.exists()) {
    candidate.defaulted.emplace_back("medical not given: taken as none");
    return;
  }
  if (!is_entry(cursor, {"status", "permitted", "since", "until", "cleared_on"})) return;
  Medical& medical = candidate.medical;
  const auto word = cursor.required("status").word({"none", "profile", "pregnant", "postpartum"});
  const JsonCursor permitted = cursor.optional("permitted");
  const JsonCursor since = cursor.optional("since");
  const JsonCursor until = cursor.optional("until");
  const JsonCursor cleared = cursor.optional("cleared_on");
  const auto kinds = work_ids(context.model);
  for (const JsonCursor& kind : entries_at(permitted, kMostSpells)) {
    if (auto id = kind.one_of(kinds, "work")) medical.permitted.insert(*std::move(id));
  }
  medical.since = optional_date(since);
  medical.until = optional_date(until);
  medical.cleared_on = optional_date(cleared);
  require_order(until, medical.since, medical.until);
  if (!word) return;
  medical.status = status_of(*word);
  const bool profile = medical.status == MedicalStatus::profile;
  only_beside(permitted, "permitted", profile, "profile");
  only_beside(since, "since", profile, "profile");
  only_beside(until, "until", profile, "profile");
  only_beside(cleared, "cleared_on", medical.status == MedicalStatus::postpartum, "postpartum");
  if (profile && !until.exists()) {
    cursor.fault("a profile needs its last day", "add \"until\": the date on which the profile ends");
  }
  if (profile && !permitted.exists()) {
    candidate.defaulted.emplace_back("medical.permitted not given: nothing is permitted by the profile");
  }
}

}  // namespace backplan::io
