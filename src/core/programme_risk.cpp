#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "backplan/numeric.hpp"
#include "core/programme_parts.hpp"

namespace backplan {
namespace {

constexpr double kLow = 0.1, kHigh = 0.9;

// The distribution of how many of these independent events happen.
std::vector<double> count_distribution(const std::vector<double>& chances) {
  std::vector<double> p{1.0};
  for (const double chance : chances) {
    std::vector<double> next(p.size() + 1, 0.0);
    for (std::size_t i = 0; i < p.size(); ++i) {
      next[i] += p[i] * (1.0 - chance);
      next[i + 1] += p[i] * chance;
    }
    p = std::move(next);
  }
  return p;
}

double quantile(const std::vector<double>& p, double share) {
  double sum = 0.0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    sum += p[i];
    if (sum >= share) return static_cast<double>(i);
  }
  return static_cast<double>(p.size() - 1);
}

}  // namespace

void describe_person(Person& person) {
  // Nothing is foretold of somebody who is referred, and nothing advised on work or attempts.
  if (!person.refused.empty()) return;
  person.outlook = person.plan.outlook;
  person.p_fail = std::clamp(1.0 - person.outlook.p_pass, 0.0, 1.0);
  for (const EventOutlook& event : person.outlook.events) {
    if (!person.weakest || event.p_minimum < person.weakest->p_minimum)
      person.weakest = Weakest{event.event, event.p_minimum};
  }
  if (person.weakest) {
    for (const YieldRow& row : person.plan.yield) {
      const auto found = row.weeks_left.find(person.weakest->event);
      if (found == row.weeks_left.end() || found->second <= 0.0) continue;
      if (!person.cheapest || found->second > person.cheapest->points_per_hour)
        person.cheapest = Cheapest{row.work, person.weakest->event, found->second};
    }
  }
  for (const PlannedWeek& week : person.plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks) {
        if (block.size == BlockSize::home) person.extra.push_back({day.date, block});
      }
    }
  }
  for (const EventOutlook& event : person.outlook.events) {
    if (!event.measured)
      person.notes.push_back(
          fmt::format("{} was never measured: its figures are a broad guess; one honest attempt helps most",
                      event.event));
  }
}

SquadOutlook outlook_of(const std::vector<Person>& people) {
  SquadOutlook out;
  std::vector<double> failing;
  double variance = 0.0;
  double with_total = 0.0;
  for (const Person& person : people) {
    if (!is_planned(person)) continue;
    const TotalOutlook& total = person.outlook.total;
    const double sd = (total.high80 - total.low80) / (2.0 * numeric::kZ80);
    if (has_total(person.outlook.p_on_scale)) {
      out.mean.mean += total.mean;
      variance += sd * sd;
      with_total += 1.0;
    }
    failing.push_back(std::clamp(person.p_fail, 0.0, 1.0));
    out.expected_failing += person.p_fail;
  }
  const double n = std::max(1.0, with_total);
  out.mean.mean /= n;
  const double sd = std::sqrt(variance) / n;
  out.mean.low80 = out.mean.mean - numeric::kZ80 * sd;
  out.mean.high80 = out.mean.mean + numeric::kZ80 * sd;
  const std::vector<double> p = count_distribution(failing);
  out.low80 = quantile(p, kLow);
  out.high80 = quantile(p, kHigh);
  return out;
}

std::string why_of(const Group& group, const std::vector<Person>& people, const Knowledge& knowledge) {
  std::map<std::string, int> weakest;
  int members = 0;
  for (const Person& person : people) {
    if (person.group != group.id || !person.weakest) continue;
    ++members;
    ++weakest[person.weakest->event];
  }
  std::string text;
  std::vector<std::pair<int, std::string>> sorted;
  for (const auto& [event, count] : weakest) sorted.emplace_back(count, event);
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  for (const auto& [count, id] : sorted) {
    const Event* event = knowledge.standard.find_event(id);
    text += fmt::format("{}{} for {}", text.empty() ? "" : ", ", event == nullptr ? id : event->name, count);
  }
  if (members == 0) return "nobody is in it";
  return "weakest event: " + text + "; of all weeks compared this one serves them best";
}

}  // namespace backplan
