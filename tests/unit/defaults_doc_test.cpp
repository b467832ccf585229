// docs/defaults.md is made from the data; with UPDATE_GOLDEN=1 in the environment this test writes it.
#include <gtest/gtest.h>

#include <sstream>
#include <string>
#include <vector>

#include "io/readers.hpp"
#include "io/test_day_reader.hpp"
#include "report/defaults_text.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

const char* const kPage = BACKPLAN_SOURCE_DIR "/docs/defaults.md";

std::string page_from_data() {
  return report::defaults_markdown(io::read_model(io::embedded_data()).value(),
                                   io::read_rules(io::embedded_data()).value(),
                                   io::read_test_day(io::embedded_data()).value());
}

TEST(DefaultsPage, IsWhatTheDataSays) {
  const std::string made = page_from_data();
  EXPECT_TRUE(support::stored_answer(kPage, made) == made)
      << "docs/defaults.md is out of date: run this test with UPDATE_GOLDEN=1";
}

// Figures of one source share a row.
bool has_row_with(const std::string& page, const Assumption& one) {
  std::istringstream lines(page);
  for (std::string line; std::getline(lines, line);) {
    if (line.find(one.source) != std::string::npos && line.find(one.value) != std::string::npos) return true;
  }
  return false;
}

TEST(DefaultsPage, HoldsEverySourceBesideItsValue) {
  const std::string page = page_from_data();
  const Model model = io::read_model(io::embedded_data()).value();
  const Rules rules = io::read_rules(io::embedded_data()).value();
  const TestDayModel day = io::read_test_day(io::embedded_data()).value();
  for (const auto* list : {&model.assumptions, &rules.assumptions, &day.assumptions}) {
    for (const Assumption& one : *list) {
      EXPECT_TRUE(has_row_with(page, one)) << one.name;
    }
  }
}

TEST(DefaultsPage, PutsFiguresOfOneSourceIntoOneRow) {
  const std::string page = page_from_data();
  EXPECT_NE(page.find("| `dose` | u0 1, keep 0.5, reference 2 |"), std::string::npos);
  EXPECT_NE(page.find("| `bias.single` | mean -0.03, sd 0.02 |"), std::string::npos);
  EXPECT_NE(page.find("| least 0.4, most 0.6 |"), std::string::npos);
}

TEST(DefaultsPage, EveryRowEndsWithAStatus) {
  const std::string page = page_from_data();
  const std::vector<std::string> statuses{"published", "common practice", "memory", "derived", "judgement"};
  std::size_t rows = 0;
  std::size_t columns = 0;  // of the table that is being read
  std::size_t start = 0;
  while (start < page.size()) {
    const std::size_t end = page.find('\n', start);
    const std::string line = page.substr(start, end - start);
    start = end + 1;
    if (line.rfind("| figure", 0) == 0) columns = line.find("| status |") == std::string::npos ? 0 : 1;
    if (line.rfind("| `", 0) != 0 || columns == 0) continue;
    ++rows;
    bool ends_well = false;
    for (const auto& status : statuses) {
      const std::string ending = "| " + status + " |";
      ends_well = ends_well || (line.size() > ending.size() &&
                                line.compare(line.size() - ending.size(), ending.size(), ending) == 0);
    }
    EXPECT_TRUE(ends_well) << line;
  }
  EXPECT_GT(rows, 100U);
}

}  // namespace
}  // namespace backplan
