// The laboratory: invented people whose response the planner does not know. docs/laboratory.md.
#include <fmt/format.h>

#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "lab/agreement.hpp"
#include "lab/cohort.hpp"
#include "lab/options.hpp"
#include "lab/regret.hpp"
#include "lab/tables.hpp"
#include "property/shipped_data.hpp"

namespace backplan::lab {
namespace {

void print(const std::string& text) { static_cast<void>(std::fputs(text.c_str(), stdout)); }

int run(const std::vector<std::string>& words) {
  const auto options = read_options(words);
  if (!options) {
    print(usage());
    return 2;
  }
  const Knowledge knowledge{testing::shipped_standard("us-army-aft"), testing::shipped_model(),
                            testing::shipped_rules()};
  const CohortSize& size = options->cohort;
  if (options->mode == Mode::regret) {
    print(regret_table({size.people, size.seed, size.threads, options->middle()}, knowledge.standard,
                       knowledge.rules));
    return 0;
  }
  if (options->mode == Mode::agreement) {
    const Agreement found =
        compare_ways({size.people, size.seed, size.threads, options->middle(), options->program}, knowledge);
    print(to_text(found));
    return found.different_weeks == 0 ? 0 : 1;
  }
  const Cohort cohort(size, knowledge);
  print(options->cells ? cells(cohort) : summary(cohort));
  return 0;
}

}  // namespace
}  // namespace backplan::lab

int main(int count, char** words) {
  try {
    return backplan::lab::run(std::vector<std::string>(words + 1, words + count));
  } catch (const std::exception& failure) {
    static_cast<void>(std::fputs(fmt::format("backplan_lab: {}\n", failure.what()).c_str(), stderr));
    return 70;
  }
}
