// Ways of training that ask no model: an equal split, the weakest event first, a fixed weekly pattern.
#pragma once

#include <map>

#include "lab/policies.hpp"

namespace backplan::lab {

// Fills each week block by block, as long as one fits the days and the rules.
class WeekByWeek : public Policy {
 public:
  [[nodiscard]] Decision decide(const Situation& now) final;

 protected:
  // Work kinds in the order in which the next block should be tried, after so many minutes a kind (of all
  // weeks so far, this one included) and so many blocks of this week.
  [[nodiscard]] virtual std::vector<std::string> wanted(const Situation& now,
                                                        const std::map<std::string, int>& minutes,
                                                        const std::map<std::string, int>& blocks) = 0;
};

class EqualSplit final : public WeekByWeek {
  [[nodiscard]] std::vector<std::string> wanted(const Situation& now,
                                                const std::map<std::string, int>& minutes,
                                                const std::map<std::string, int>& blocks) override;
};

class WeakestFirst final : public WeekByWeek {
  [[nodiscard]] std::vector<std::string> wanted(const Situation& now,
                                                const std::map<std::string, int>& minutes,
                                                const std::map<std::string, int>& blocks) override;
};

// Strength and endurance in turn, after FM 7-22 and TC 3-22.20: at least two of each where there is time,
// fast running once.
class FixedPattern final : public WeekByWeek {
  [[nodiscard]] std::vector<std::string> wanted(const Situation& now,
                                                const std::map<std::string, int>& minutes,
                                                const std::map<std::string, int>& blocks) override;
};

}  // namespace backplan::lab
