// The laboratory: invented people whose response the planner does not know. docs/laboratory.md.
#include <fmt/format.h>

#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "lab/cohort.hpp"
#include "lab/options.hpp"
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
  const Cohort cohort(options->cohort, knowledge);
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
