// How gently work returns after weeks without it: a week of short blocks, easy running and no rehearsal.
#include <fmt/format.h>

#include <algorithm>

#include "core/check_case.hpp"

namespace backplan::checking {
namespace {

bool holds_on(Date date, const std::optional<Date>& from, const std::optional<Date>& until) {
  return (!from || *from <= date) && (!until || date <= *until);
}

bool may_be_done(const Candidate& candidate, const WorkKind& kind, Date date) {
  const Medical& medical = candidate.medical;
  if (medical.status == MedicalStatus::profile && holds_on(date, medical.since, medical.until) &&
      medical.permitted.count(kind.id) == 0)
    return false;
  return std::none_of(candidate.avoid.begin(), candidate.avoid.end(), [&](const Avoid& avoid) {
    return avoid.work == kind.id && holds_on(date, avoid.from, avoid.until);
  });
}

bool is_off(const Case& c, Date date, const std::vector<const WorkKind*>& work) {
  const auto& off = c.candidate.now.off;
  if (off && off->from <= date && date <= off->to) return true;
  for (const BlockedSpell& spell : c.candidate.blocked) {
    if (spell.from <= date && date <= spell.to) return true;
  }
  return std::none_of(work.begin(), work.end(),
                      [&](const WorkKind* kind) { return may_be_done(c.candidate, *kind, date); });
}

// Time that there usually is and that was taken away.
bool has_no_time(const Case& c, Date date) {
  const DayFacts* day = c.day(date);
  return day != nullptr && day->slot_minutes == 0 && !day->fixed && c.candidate.home_blocks == 0;
}

bool fast(const WorkKind& kind) {
  const auto transfer = kind.transfer.find(kind.trains);
  return kind.hard || (transfer != kind.transfer.end() && transfer->second >= kThresholdTransfer);
}

void judge(const Case& c, const DayFacts& day, const BlockFacts& block, Findings& findings) {
  if (block.block->size == BlockSize::full || block.block->rehearsal) {
    findings.add("coming-back", day.date,
                 fmt::format("a {} of {} within {} days of its return after weeks without it",
                             block.block->rehearsal ? "rehearsal" : "full block", block.kind->id,
                             c.rules.easy_days_back));
  }
  if (block.kind->running && fast(*block.kind)) {
    findings.add(
        "coming-back", day.date,
        fmt::format("{} within {} days of the return to running", block.kind->id, c.rules.easy_days_back));
  }
}

}  // namespace

std::vector<const WorkKind*> all_work(const Case& c) {
  std::vector<const WorkKind*> out;
  for (const WorkKind& kind : c.model.work) out.push_back(&kind);
  return out;
}

std::vector<Span> spells_without(const Case& c, const std::vector<const WorkKind*>& work) {
  std::vector<Span> out;
  bool unbroken = false;
  for (Date date = c.plan.as_of - Days{kLookBackDays}; date < c.candidate.test_date; date += Days{1}) {
    const bool usual = c.candidate.week[static_cast<std::size_t>(weekday_index(date))] > 0;
    if (is_off(c, date, work) || (usual && has_no_time(c, date))) {
      if (!unbroken) out.push_back({date, date});
      out.back().to = date;
      unbroken = true;
    } else if (unbroken && !usual && (c.day(date) == nullptr || c.day(date)->slot_minutes == 0)) {
      out.back().to = date;
    } else if (usual || (c.day(date) != nullptr && c.day(date)->slot_minutes > 0)) {
      unbroken = false;
    }
  }
  return out;
}

void check_return(const Case& c, Findings& findings) {
  for (const WorkKind& kind : c.model.work) {
    std::vector<const WorkKind*> together{&kind};
    for (const WorkKind& other : c.model.work) {
      if (kind.running && other.running && other.id != kind.id) together.push_back(&other);
    }
    for (const Span& spell : spells_without(c, together)) {
      if (spell.days() < c.rules.off_days_for_untrained) continue;
      for (int after = 1; after <= c.rules.easy_days_back; ++after) {
        const DayFacts* day = c.day(spell.to + Days{after});
        if (day == nullptr) continue;
        for (const BlockFacts& block : day->blocks) {
          if (block.kind == &kind) judge(c, *day, block, findings);
        }
      }
    }
  }
}

}  // namespace backplan::checking
