#include "core/pattern_assignment.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace backplan {
namespace {

constexpr double kCapacitySlack = 1e-9;  // of a capacity
constexpr double kNever = -1e300;
constexpr int kRounds = 120;  // of subgradients

std::vector<double> loads_of(const ChoiceProblem& problem, const std::vector<std::size_t>& pattern_of) {
  std::vector<double> load(problem.lanes, 0.0);
  for (std::size_t i = 0; i < problem.people; ++i) {
    for (std::size_t r = 0; r < problem.lanes; ++r) load[r] += problem.use_of(i, pattern_of[i], r);
  }
  return load;
}

double overload(const ChoiceProblem& problem, const std::vector<double>& load) {
  double over = 0.0;
  for (std::size_t r = 0; r < problem.lanes; ++r)
    over += std::max(0.0, load[r] - problem.capacity[r] - kCapacitySlack);
  return over;
}

double value_of(const ChoiceProblem& problem, const std::vector<std::size_t>& pattern_of) {
  double sum = 0.0;
  for (std::size_t i = 0; i < problem.people; ++i) sum += problem.value_of(i, pattern_of[i]);
  return sum;
}

// The table over the numbers of people who follow each of the chosen patterns but the last.
class CountTable {
 public:
  CountTable(const ChoiceProblem& problem, const std::vector<std::size_t>& chosen)
      : problem_(problem), chosen_(chosen) {
    for (std::size_t i = 0; i < problem.people; ++i) (problem.needs[i] != 0 ? users_ : others_).push_back(i);
    side_ = users_.size() + 1;
    states_ = 1;
    for (std::size_t j = 0; j + 1 < chosen.size(); ++j) states_ *= side_;
  }

  Assignment run() {
    Assignment out;
    out.pattern_of.assign(problem_.people, 0);
    fill();
    fill_others();
    std::size_t best = states_;
    std::size_t best_mask = 0;
    double most = kNever / 2;
    for (std::size_t s = 0; s < states_; ++s) {
      if (value_[s] <= kNever / 2 || !has_room(s)) continue;
      for (std::size_t mask = 0; mask < others_value_.size(); ++mask) {
        if (others_value_[mask] <= kNever / 2 || value_[s] + others_value_[mask] <= most) continue;
        if (problem_.exactly && !all_used(s, mask)) continue;
        most = value_[s] + others_value_[mask];
        best = s;
        best_mask = mask;
      }
    }
    if (best == states_) return out;
    for (std::size_t i = users_.size(); i-- > 0;) {
      const std::size_t j = step_[i * states_ + best];
      out.pattern_of[users_[i]] = chosen_[j];
      best -= stride(j);
    }
    for (std::size_t i = others_.size(); i-- > 0;) {
      const OtherStep step = others_step_[i * others_value_.size() + best_mask];
      out.pattern_of[others_[i]] = chosen_[step.pattern];
      best_mask = step.before;
    }
    out.possible = true;
    out.value = value_of(problem_, out.pattern_of);
    return out;
  }

 private:
  [[nodiscard]] std::size_t stride(std::size_t j) const {
    if (j + 1 == chosen_.size()) return 0;
    std::size_t stride = 1;
    for (std::size_t i = 0; i < j; ++i) stride *= side_;
    return stride;
  }

  [[nodiscard]] std::vector<std::size_t> counts_of(std::size_t state) const {
    std::vector<std::size_t> counts;
    std::size_t rest = users_.size();
    for (std::size_t j = 0; j + 1 < chosen_.size(); ++j) {
      counts.push_back(state % side_);
      rest -= std::min(rest, state % side_);
      state /= side_;
    }
    counts.push_back(rest);
    return counts;
  }

  [[nodiscard]] bool has_room(std::size_t state) const {
    const std::vector<std::size_t> counts = counts_of(state);
    for (std::size_t r = 0; r < problem_.lanes; ++r) {
      double load = 0.0;
      for (std::size_t j = 0; j < chosen_.size(); ++j)
        load += static_cast<double>(counts[j]) * problem_.use[chosen_[j] * problem_.lanes + r];
      if (load > problem_.capacity[r] + kCapacitySlack) return false;
    }
    return true;
  }

  [[nodiscard]] bool all_used(std::size_t state, std::size_t mask) const {
    const std::vector<std::size_t> counts = counts_of(state);
    for (std::size_t j = 0; j < chosen_.size(); ++j) {
      if (counts[j] == 0 && (mask >> j & 1U) == 0) return false;
    }
    return true;
  }

  // Those who use no lane, by the set of patterns that they cover; where not every pattern has to be used,
  // only the best of each counts.
  void fill_others() {
    const std::size_t masks = problem_.exactly ? std::size_t{1} << chosen_.size() : 1;
    others_value_.assign(masks, kNever);
    others_value_[0] = 0.0;
    others_step_.assign(others_.size() * masks, {});
    std::vector<double> next(masks);
    for (std::size_t i = 0; i < others_.size(); ++i) {
      std::fill(next.begin(), next.end(), kNever);
      for (std::size_t mask = 0; mask < masks; ++mask) {
        if (others_value_[mask] <= kNever / 2) continue;
        for (std::size_t j = 0; j < chosen_.size(); ++j) {
          const std::size_t to = problem_.exactly ? mask | std::size_t{1} << j : 0;
          const double value = others_value_[mask] + problem_.value_of(others_[i], chosen_[j]);
          if (value <= next[to]) continue;
          next[to] = value;
          others_step_[i * masks + to] = {j, mask};
        }
      }
      std::swap(others_value_, next);
    }
  }

  void fill() {
    value_.assign(states_, kNever);
    value_[0] = 0.0;
    step_.assign(users_.size() * states_, 0);
    std::vector<double> next(states_);
    for (std::size_t i = 0; i < users_.size(); ++i) {
      std::fill(next.begin(), next.end(), kNever);
      for (std::size_t s = 0; s < states_; ++s) {
        if (value_[s] <= kNever / 2) continue;
        for (std::size_t j = 0; j < chosen_.size(); ++j) {
          const std::size_t to = s + stride(j);
          const double value = value_[s] + problem_.value_of(users_[i], chosen_[j]);
          if (value <= next[to]) continue;
          next[to] = value;
          step_[i * states_ + to] = static_cast<unsigned char>(j);
        }
      }
      std::swap(value_, next);
    }
  }

  const ChoiceProblem& problem_;
  const std::vector<std::size_t>& chosen_;
  std::vector<std::size_t> users_, others_;
  std::size_t side_ = 1, states_ = 1;
  std::vector<double> value_;
  std::vector<unsigned char> step_;  // the last pattern taken, by person and state
  struct OtherStep {
    std::size_t pattern = 0, before = 0;
  };
  std::vector<double> others_value_;
  std::vector<OtherStep> others_step_;
};

}  // namespace

double LanePrices::of_use(const ChoiceProblem& problem, std::size_t person, std::size_t pattern) const {
  double sum = 0.0;
  for (std::size_t r = 0; r < problem.lanes; ++r) sum += price[r] * problem.use_of(person, pattern, r);
  return sum;
}

LanePrices lane_prices(const ChoiceProblem& problem) {
  LanePrices best;
  best.price.assign(problem.lanes, 0.0);
  LanePrices now = best;
  double least = std::numeric_limits<double>::infinity();
  double length = 1.0;
  for (int round = 0; round < kRounds; ++round) {
    std::vector<std::size_t> pattern_of(problem.people, 0);
    double value = now.of_capacity;
    for (std::size_t i = 0; i < problem.people; ++i) {
      double most = kNever;
      for (std::size_t p = 0; p < problem.patterns; ++p) {
        const double here = problem.value_of(i, p) - now.of_use(problem, i, p);
        if (here <= most) continue;
        most = here;
        pattern_of[i] = p;
      }
      value += most;
    }
    if (value < least) {
      least = value;
      best = now;
    } else {
      length *= 0.9;  // no better: shorter steps from here on (judgement)
    }
    const std::vector<double> load = loads_of(problem, pattern_of);
    double square = 0.0;
    for (std::size_t r = 0; r < problem.lanes; ++r) {
      const double over = load[r] - problem.capacity[r];
      square += over > 0.0 || now.price[r] > 0.0 ? over * over : 0.0;
    }
    if (square == 0.0) break;
    now.of_capacity = 0.0;
    for (std::size_t r = 0; r < problem.lanes; ++r) {
      now.price[r] = std::max(0.0, now.price[r] + length * (load[r] - problem.capacity[r]) / square);
      now.of_capacity += now.price[r] * problem.capacity[r];
    }
  }
  return best;
}

Assignment assign_exactly(const ChoiceProblem& problem, const std::vector<std::size_t>& chosen) {
  if (!problem.exactly) {
    // Mostly the lanes have room for what everybody would choose.
    Assignment free = assign_nearly(problem, chosen, {std::vector<double>(problem.lanes, 0.0), 0.0});
    double best = 0.0;
    for (std::size_t i = 0; i < problem.people; ++i) {
      double most = kNever;
      for (const std::size_t p : chosen) most = std::max(most, problem.value_of(i, p));
      best += most;
    }
    if (free.possible && free.value >= best) return free;
  }
  return CountTable(problem, chosen).run();
}

double steps_of_assignment(const ChoiceProblem& problem, std::size_t patterns) {
  double steps = static_cast<double>(problem.people * patterns);
  for (std::size_t j = 0; j + 1 < patterns; ++j) steps *= static_cast<double>(problem.people + 1);
  return steps;
}

namespace {

// People moved one by one: first until every lane is inside its capacity, then while that brings more.
class Mover {
 public:
  Mover(const ChoiceProblem& problem, const std::vector<std::size_t>& chosen, const LanePrices& prices)
      : problem_(problem), chosen_(chosen) {
    for (std::size_t i = 0; i < problem.people; ++i) {
      std::size_t best = chosen.front();
      double most = kNever;
      for (const std::size_t p : chosen) {
        const double here = problem.value_of(i, p) - prices.of_use(problem, i, p);
        if (here <= most) continue;
        most = here;
        best = p;
      }
      out_.pattern_of.push_back(best);
    }
    load_ = loads_of(problem, out_.pattern_of);
  }

  Assignment run() {
    while (over() > kCapacitySlack && relieve()) {
    }
    out_.over = over();
    out_.possible = out_.over <= kCapacitySlack;
    while (out_.possible && improve()) {
    }
    out_.value = value_of(problem_, out_.pattern_of);
    return out_;
  }

 private:
  [[nodiscard]] double over() const { return overload(problem_, load_); }

  // By how much the overload would fall.
  [[nodiscard]] double relief(std::size_t i, std::size_t p) const {
    double sum = 0.0;
    for (std::size_t r = 0; r < problem_.lanes; ++r) {
      const double change = problem_.use_of(i, p, r) - problem_.use_of(i, out_.pattern_of[i], r);
      if (change == 0.0) continue;
      const double room = problem_.capacity[r] + kCapacitySlack;
      sum += std::max(0.0, load_[r] - room) - std::max(0.0, load_[r] + change - room);
    }
    return sum;
  }

  void move(std::size_t i, std::size_t p) {
    for (std::size_t r = 0; r < problem_.lanes; ++r)
      load_[r] += problem_.use_of(i, p, r) - problem_.use_of(i, out_.pattern_of[i], r);
    out_.pattern_of[i] = p;
  }

  // Whoever loses least for the room it makes.
  bool relieve() {
    std::size_t who = problem_.people;
    std::size_t to = 0;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < problem_.people; ++i) {
      for (const std::size_t p : chosen_) {
        if (p == out_.pattern_of[i]) continue;
        const double room = relief(i, p);
        if (room <= kCapacitySlack) continue;
        const double cost = (problem_.value_of(i, out_.pattern_of[i]) - problem_.value_of(i, p)) / room;
        if (cost >= least) continue;
        least = cost;
        who = i;
        to = p;
      }
    }
    if (who == problem_.people) return false;
    move(who, to);
    return true;
  }

  // One person to a better pattern that has room, or two who change places.
  bool improve() {
    for (std::size_t i = 0; i < problem_.people; ++i) {
      const std::size_t own = out_.pattern_of[i];
      for (const std::size_t p : chosen_) {
        const double gain = problem_.value_of(i, p) - problem_.value_of(i, own);
        if (p == own) continue;
        if (gain > kGains && relief(i, p) >= 0.0) {
          move(i, p);
          return true;
        }
        for (std::size_t j = 0; j < i; ++j) {
          if (out_.pattern_of[j] != p || problem_.needs[i] != problem_.needs[j]) continue;
          if (gain + problem_.value_of(j, own) - problem_.value_of(j, p) <= kGains) continue;
          move(i, p);
          move(j, own);
          return true;
        }
      }
    }
    return false;
  }

  static constexpr double kGains = 1e-9;
  const ChoiceProblem& problem_;
  const std::vector<std::size_t>& chosen_;
  Assignment out_;
  std::vector<double> load_;
};

}  // namespace

Assignment assign_nearly(const ChoiceProblem& problem, const std::vector<std::size_t>& chosen,
                         const LanePrices& prices) {
  return Mover(problem, chosen, prices).run();
}

}  // namespace backplan
