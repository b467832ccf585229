#include "core/replan_days.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <variant>
#include <vector>

namespace backplan {
namespace {

std::vector<Block> blocks_of(const PlannedDay* day) {
  return day == nullptr ? std::vector<Block>{} : day->blocks;
}

// A prescription without what stands in brackets: shares, plates, present levels.
std::string without_brackets(const std::string& text) {
  std::string out;
  int depth = 0;
  for (const char c : text) {
    depth += c == '(' ? 1 : 0;
    if (depth == 0) out += c;
    if (c == ')' && depth > 0) --depth;
  }
  return out;
}

bool same_block(const Block& x, const Block& y) {
  return x.work == y.work && x.size == y.size && x.rehearsal == y.rehearsal;
}

}  // namespace

std::vector<std::string> deeds_in(const std::string& prescription) {
  std::vector<std::string> out;
  const std::string text = without_brackets(prescription);
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t to = std::min(text.find_first_of(",;", from), text.size());
    std::string part = text.substr(from, to - from);
    part.erase(0, std::min(part.find_first_not_of(' '), part.size()));
    part.erase(part.find_last_not_of(' ') + 1);
    if (part.compare(0, 5, "then ") == 0) part.erase(0, 5);
    // Shares of a level ("71 % of 1RM") move with the level alone.
    if (!part.empty() && part.find("% of") == std::string::npos) out.push_back(std::move(part));
    from = to + 1;
  }
  return out;
}

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
  return std::equal(before.begin(), before.end(), after.begin(), after.end(),
                    [](const Block& x, const Block& y) {
                      return same_block(x, y) && deeds_in(x.prescription) == deeds_in(y.prescription);
                    });
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

LostDays lost_days(const History& history, const Plan& old, Date as_of) {
  LostDays out;
  for (const PlannedWeek& week : old.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.blocks.empty() || day.date >= as_of) continue;
      if (day.date < std::max(old.as_of, as_of - Days(7)) || trained_on(history, day.date)) continue;
      const bool missed = std::any_of(history.entries.begin(), history.entries.end(), [&](const Done& done) {
        return done.date == day.date && std::holds_alternative<Missed>(done.what);
      });
      (missed ? out.missed : out.unlogged) += 1;
    }
  }
  return out;
}

std::string lost_words(const LostDays& lost, double unlogged_share) {
  std::string text;
  if (lost.missed > 0) {
    text = fmt::format(
        "{} planned day{} of the last seven {} missed and {} not made up: the weeks grow from what was done",
        lost.missed, lost.missed == 1 ? "" : "s", lost.missed == 1 ? "was" : "were",
        lost.missed == 1 ? "is" : "are");
  }
  if (lost.unlogged > 0) {
    text += fmt::format("{}{} planned day{} of the last seven {} not logged and {} as {:.0f} % done",
                        text.empty() ? "" : "; ", lost.unlogged, lost.unlogged == 1 ? "" : "s",
                        lost.unlogged == 1 ? "is" : "are", lost.unlogged == 1 ? "counts" : "count",
                        100.0 * unlogged_share);
  }
  return text;
}

std::string figures_words(const PlannedDay* before, const PlannedDay* after) {
  if (!same_blocks(before, after)) return {};
  const auto then = blocks_of(before);
  const auto now = blocks_of(after);
  std::string text;
  for (std::size_t i = 0; i < now.size(); ++i) {
    const auto old_parts = deeds_in(then[i].prescription);
    const auto new_parts = deeds_in(now[i].prescription);
    if (old_parts == new_parts) continue;
    const auto [a, b] = std::mismatch(old_parts.begin(), old_parts.end(), new_parts.begin(), new_parts.end());
    const std::string was = a == old_parts.end() ? "nothing more" : *a;
    const std::string is = b == new_parts.end() ? "nothing more" : *b;
    const std::size_t colon = is.find(": ");
    const bool same_head = colon != std::string::npos && was.compare(0, colon + 2, is, 0, colon + 2) == 0;
    text +=
        fmt::format("{}{}, was {}", text.empty() ? "" : "; ", is, same_head ? was.substr(colon + 2) : was);
  }
  return text;
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
