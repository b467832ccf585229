// What the log taught, in words and as JSON.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "io/fit_json.hpp"
#include "report/fit_text.hpp"
#include "report/words.hpp"
#include "support/journal_entries.hpp"
#include "support/small_standard.hpp"
#include "support/text.hpp"

namespace backplan {
namespace {

using support::holds;

FitReport deadlift() {
  FitReport report;
  report.event = "MDL";
  report.measured = true;
  report.now_result = 178.0;
  report.now_low80 = 172.0;
  report.now_high80 = 184.0;
  report.rate = {0.12, 0.35, 0.2, 0.2};
  report.headroom = {0.2, 0.1, 0.25, 0.05};
  report.speed_ratio = 2.05;
  report.speed_ratio_sd = 0.4;
  report.conversion = Learnt{0.0, 0.02, 0.03, 0.01};
  report.readings = 7;
  report.share_log = 0.6;
  report.share_results = 0.3;
  report.share_prior = 0.1;
  report.flagged.push_back({support::id_number(5), support::journal_day(12), 440.0, 210.0,
                            "9.3 standard deviations better than everything else says"});
  return report;
}

// On one line, however it was broken.
std::string text_of(const FitReport& report) {
  const Standard standard = support::small_standard();
  const Model model = support::small_model();
  const std::string text = report::fit_text({report}, {standard, model});
  EXPECT_EQ(text.find("\n\n"), std::string::npos);
  EXPECT_EQ(text.back(), '\n');
  return report::wrap(text, 10000, "", "");
}

TEST(FitText, TellsLevelLessonsAndWhereTheyAreFrom) {
  const std::string text = text_of(deadlift());
  EXPECT_TRUE(holds(text, "178 lb now, 8 in 10 between 172 lb and 184 lb")) << text;
  EXPECT_TRUE(holds(text, "answers twice as fast as assumed")) << text;
  EXPECT_TRUE(holds(text, "your sets promise 3 % more than you show")) << text;
  EXPECT_TRUE(holds(text, "60 % of what is known is from the log")) << text;
  EXPECT_TRUE(holds(text, support::id_number(5))) << text;
  EXPECT_TRUE(holds(text, "9.3 standard deviations better")) << text;
}

TEST(FitText, SaysOfAnEventOnlyWhatIsTold) {
  FitReport report = deadlift();
  report.conversion->found_sd = 0.05;
  report.speed_ratio_sd = 1.5;
  report.measured = false;
  const std::string text = text_of(report);
  EXPECT_FALSE(holds(text, "promise")) << text;
  EXPECT_FALSE(holds(text, "as fast")) << text;
  EXPECT_TRUE(holds(text, "never measured")) << text;
}

TEST(FitText, SpeedInWords) {
  const auto said = [](double ratio) {
    FitReport report = deadlift();
    report.speed_ratio = ratio;
    report.speed_ratio_sd = 0.1;
    return report::speed_text(report);
  };
  EXPECT_EQ(said(1.0), "answers about as fast as assumed");
  EXPECT_EQ(said(1.5), "answers 1.5 times as fast as assumed");
  EXPECT_EQ(said(0.5), "answers half as fast as assumed");
  EXPECT_EQ(said(0.7), "answers slower than assumed (70 % of it)");
}

TEST(FitText, NamesEventsOfWhichTheLogTaughtNothing) {
  FitReport report = deadlift();
  report.flagged.clear();
  report.share_log = 0.0;
  const std::string text = text_of(report);
  EXPECT_TRUE(holds(text, "Nothing of deadlift (MDL).")) << text;
  EXPECT_FALSE(holds(text, "178 lb")) << text;
}

TEST(FitText, NothingWithoutReports) {
  const Standard standard = support::small_standard();
  const Model model = support::small_model();
  EXPECT_EQ(report::fit_text({}, {standard, model}), "");
}

TEST(FitJson, HoldsTheFigures) {
  const io::Json json = io::fit_json({deadlift()}, support::small_standard());
  ASSERT_EQ(json.size(), 1U);
  EXPECT_EQ(json[0]["event"], "MDL");
  EXPECT_EQ(json[0]["now"]["result"], 178);
  EXPECT_EQ(json[0]["speed_ratio"], 2.05);
  EXPECT_EQ(json[0]["flagged"][0]["id"], support::id_number(5));
  EXPECT_EQ(json[0]["flagged"][0]["date"], "2027-01-12");
  EXPECT_TRUE(json[0]["distance_exponent"].is_null());
  EXPECT_EQ(json[0]["information"]["log"], 0.6);
}

}  // namespace
}  // namespace backplan
