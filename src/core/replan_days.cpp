#include "core/replan_days.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <variant>
#include <vector>

namespace backplan {
namespace {

std::vector<Block> blocks_of(const PlannedDay* day) {
  return day == nullptr ? std::vector<Block>{} : day->blocks;
}

bool same_block(const Block& x, const Block& y) {
  return x.work == y.work && x.size == y.size && x.rehearsal == y.rehearsal;
}

}  // namespace

const PlannedDay* day_on(const Plan& plan, Date date) {
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date == date) return &day;
    }
  }
  return nullptr;
}

const PlannedWeek* week_of(const Plan& plan, Date date) {
  for (const PlannedWeek& week : plan.weeks) {
    if (date >= week.starts && date < week.starts + Days(week.days_long)) return &week;
  }
  return nullptr;
}

std::optional<double> expected_on(const Plan& plan, const std::string& event, Date date) {
  std::optional<double> out;
  for (const EventOutlook& now : plan.outlook.events) {
    if (now.event == event) out = now.now_result;
  }
  for (const PlannedWeek& week : plan.weeks) {
    if (week.starts + Days(week.days_long) > date) break;
    for (const Milestone& milestone : week.milestones) {
      if (milestone.event == event) out = milestone.result;
    }
  }
  return out;
}

bool trained_on(const History& history, Date date) {
  return std::any_of(history.entries.begin(), history.entries.end(), [&](const Done& done) {
    return done.date == date && !std::holds_alternative<Missed>(done.what) &&
           !std::holds_alternative<Pain>(done.what);
  });
}

Minutes minutes_of(const PlannedDay* day) {
  Minutes out;
  if (day == nullptr) return out;
  for (const Block& block : day->blocks) out[block.work] += block.minutes;
  return out;
}

bool same_blocks(const PlannedDay* a, const PlannedDay* b) {
  const auto before = blocks_of(a);
  const auto after = blocks_of(b);
  return std::equal(before.begin(), before.end(), after.begin(), after.end(), same_block);
}

bool same_session(const PlannedDay* a, const PlannedDay* b) {
  const auto before = blocks_of(a);
  const auto after = blocks_of(b);
  return std::equal(
      before.begin(), before.end(), after.begin(), after.end(),
      [](const Block& x, const Block& y) { return same_block(x, y) && x.prescription == y.prescription; });
}

std::multiset<std::pair<std::string, BlockSize>> blocks_in(const PlannedWeek* week, Date from) {
  std::multiset<std::pair<std::string, BlockSize>> out;
  if (week == nullptr) return out;
  for (const PlannedDay& day : week->days) {
    if (day.date < from) continue;
    for (const Block& block : day.blocks) out.emplace(block.work, block.size);
  }
  return out;
}

std::string date_words(Date date) {
  const std::chrono::year_month_day day(date);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                     static_cast<unsigned>(day.day()));
}

std::string day_words(const PlannedDay* day, const Model& model) {
  std::string text;
  for (const Block& block : blocks_of(day)) {
    const WorkKind* kind = model.find_work(block.work);
    text += fmt::format("{}{} {} min", text.empty() ? "" : ", ", kind != nullptr ? kind->name : block.work,
                        block.minutes);
  }
  return text.empty() ? "rest" : text;
}

}  // namespace backplan
