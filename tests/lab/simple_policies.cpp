#include "lab/simple_policies.hpp"

#include <algorithm>

#include "backplan/progress.hpp"
#include "core/packs.hpp"
#include "lab/season_plan.hpp"

namespace backplan::lab {
namespace {

using Tally = std::map<std::string, int>;  // by work kind

// A week under construction.
class Filling {
 public:
  Filling(const SeasonPlanner& planner, const Segment& segment)
      : calendar_(planner.calendar()), segment_(segment) {}

  // Adds a block of the kind, a full one if it fits, else a short one.
  bool add(const std::string& work) {
    for (std::size_t k = 0; k < calendar_.kinds().size(); ++k) {
      if (calendar_.kinds()[k]->id != work) continue;
      for (const BlockSize size : {BlockSize::full, BlockSize::shorter}) {
        Pack more = pack_;
        ++more.kinds[k].of(size);
        if (!fits(more, k)) continue;
        pack_ = more;
        added_ = calendar_.block_minutes({static_cast<int>(k), size, false});
        return true;
      }
    }
    return false;
  }

  [[nodiscard]] int added() const { return added_; }  // minutes of the last block
  [[nodiscard]] const Pack& pack() const { return pack_; }

 private:
  [[nodiscard]] bool fits(const Pack& pack, std::size_t k) const {
    const KindCount& n = pack.kinds[k];
    const int sessions = n.full + n.shorter + done_of(segment_, k);
    if (sessions > std::min(kMostOfAKind, calendar_.kinds()[k]->most_a_week)) return false;
    int intervals = 0;
    for (std::size_t i = 0; i < calendar_.kinds().size(); ++i) {
      if (calendar_.traits(static_cast<int>(i)).intervals)
        intervals += pack.kinds[i].full + pack.kinds[i].shorter;
    }
    if (intervals > segment_.most_intervals || calendar_.hard_blocks(pack) > segment_.most_hard) return false;
    return calendar_.place(pack, request_for(segment_)).outcome == Placing::done;
  }

  const Calendar& calendar_;
  const Segment& segment_;
  Pack pack_;
  int added_ = 0;
};

Tally minutes_so_far(const Situation& now) {
  Tally out;
  if (!now.history.plan) return out;
  for (const PlannedWeek& week : now.history.plan->weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date >= now.as_of) continue;
      for (const Block& block : day.blocks) out[block.work] += block.minutes;
    }
  }
  return out;
}

// The kinds that train an event, the least used first.
std::vector<std::string> kinds_for(const Model& model, const std::string& event, const Tally& used) {
  std::vector<std::string> out;
  for (const WorkKind& kind : model.work) {
    if (kind.trains == event) out.push_back(kind.id);
  }
  const auto count = [&](const std::string& id) { return used.count(id) > 0 ? used.at(id) : 0; };
  std::stable_sort(out.begin(), out.end(), [&](const auto& a, const auto& b) { return count(a) < count(b); });
  return out;
}

std::vector<std::string> kinds_in_order(const Situation& now,
                                        std::vector<std::pair<double, std::string>> order,
                                        const Tally& used) {
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> out;
  for (const auto& [key, event] : order) {
    const auto kinds = kinds_for(now.knowledge.model, event, used);
    out.insert(out.end(), kinds.begin(), kinds.end());
  }
  return out;
}

Following same_week(const Pack& pack, std::size_t events) {
  Following out;
  out.pack = pack;
  out.stations.kinds.fill(~0U);
  out.instead.kinds.fill(~0U);
  out.prices.s.assign(events, 1.0);
  out.prices.loss.assign(events, 1.0);
  return out;
}

}  // namespace

Decision WeekByWeek::decide(const Situation& now) {
  if (last_week(now)) return unchanged(now);
  const Candidate seen = as_seen(now.candidate, now.knowledge, now.as_of, now.history);
  SeasonPlanner planner(seen, now.knowledge, now.as_of,
                        fit_progress(seen, now.knowledge.standard, now.knowledge.model, now.as_of),
                        beginning_of(now));
  Tally minutes = minutes_so_far(now);
  Tally blocks;
  Filling filling(planner, planner.segments().front());
  for (bool more = true; more;) {
    more = false;
    for (const std::string& work : wanted(now, minutes, blocks)) {
      if (!filling.add(work)) continue;
      minutes[work] += filling.added();
      ++blocks[work];
      more = true;
      break;
    }
  }
  const Season season = planner.follow(same_week(filling.pack(), planner.states().size()));
  return decision_of(now, seen, planner, season);
}

std::vector<std::string> EqualSplit::wanted(const Situation& now, const Tally& minutes, const Tally& blocks) {
  static_cast<void>(blocks);
  std::vector<std::pair<double, std::string>> order;
  for (const Event& event : now.knowledge.standard.events) {
    int sum = 0;
    for (const WorkKind& kind : now.knowledge.model.work) {
      if (kind.trains == event.model_event && minutes.count(kind.id) > 0) sum += minutes.at(kind.id);
    }
    order.emplace_back(sum, event.model_event);
  }
  return kinds_in_order(now, order, minutes);
}

std::vector<std::string> WeakestFirst::wanted(const Situation& now, const Tally& minutes,
                                              const Tally& blocks) {
  static_cast<void>(blocks);
  const Candidate& candidate = now.candidate;
  std::map<std::string, double> latest;
  for (const DatedResult& result : candidate.results) latest[result.event] = result.value;
  for (const DatedResult& result : results_in(now.history.entries)) latest[result.event] = result.value;
  std::vector<std::pair<double, std::string>> order;
  for (const Event& event : now.knowledge.standard.events) {
    const Scale* scale = now.knowledge.standard.scale_for(
        event, candidate.column, age_on(candidate.birth_date, candidate.test_date),
        *now.knowledge.standard.find_category(candidate.category));
    const auto points = scale->score(latest[event.id]).points;
    order.emplace_back(points ? points->value() : 0.0, event.model_event);
  }
  return kinds_in_order(now, order, minutes);
}

std::vector<std::string> FixedPattern::wanted(const Situation& now, const Tally& minutes,
                                              const Tally& blocks) {
  static_cast<void>(now);
  static_cast<void>(minutes);
  static const std::vector<std::string> kPattern = {
      "deadlift", "tempo",    "push_up", "trunk",    "intervals", "push_up", "easy_run",
      "shuttle",  "deadlift", "trunk",   "easy_run", "push_up",   "trunk"};
  Tally left = blocks;
  std::vector<std::string> out;
  for (const std::string& work : kPattern) {
    if (left.count(work) > 0 && left[work] > 0) {
      --left[work];
    } else {
      out.push_back(work);
    }
  }
  return out;
}

}  // namespace backplan::lab
