// Markup that text cannot break, and pictures that stay inside their frame.
#include "report/markup.hpp"

#include <gtest/gtest.h>

#include "report/chart.hpp"
#include "report/html_style.hpp"

namespace backplan::report {
namespace {

TEST(Markup, ShowsTextAsTextWhateverItHolds) {
  EXPECT_EQ(Markup("<script>alert('x')</script> & \"y\"").str(),
            "&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;y&quot;");
  EXPECT_EQ(element("p", {{"title", "a\" onload=\"b"}}, "x").str(),
            "<p title=\"a&quot; onload=&quot;b\">x</p>");
  EXPECT_EQ(Markup(std::string("a\x01\x1b[2Jb")).str(), "a??[2Jb");
}

TEST(Markup, KeepsElementsThatAreElements) {
  EXPECT_EQ(element("p", {}, {"a", element("b", {}, "c<"), "d"}).str(), "<p>a<b>c&lt;</b>d</p>");
  EXPECT_EQ(element("meta", {{"charset", "utf-8"}}).str(), "<meta charset=\"utf-8\">");
  // Hebrew letters must not turn the order of what stands round them.
  EXPECT_EQ(foreign("\u05d0\u05d1").str(), "<bdi>\u05d0\u05d1</bdi>");
}

TEST(Markup, WritesCoordinatesShortAndTheSameEverywhere) {
  EXPECT_EQ(coordinate(1.0), "1");
  EXPECT_EQ(coordinate(2.50), "2.5");
  EXPECT_EQ(coordinate(-0.001), "0");
  EXPECT_EQ(coordinate(33.3333), "33.33");
}

TEST(Labels, AreSpreadOutInTheirOrderAndInsideTheirFrame) {
  const auto places = spread_out({100.0, 102.0, 101.0, 300.0}, 15.0, 0.0, 200.0);
  EXPECT_LE(places[0] + 15.0, places[2]);
  EXPECT_LE(places[2] + 15.0, places[1]);
  EXPECT_DOUBLE_EQ(places[3], 200.0);
  EXPECT_EQ(spread_out({50.0, 90.0}, 15.0, 0.0, 200.0), (std::vector<double>{50.0, 90.0}));
}

// WCAG 2.2, relative luminance and contrast ratio: black on white 21, and the grey that just passes.
TEST(Contrast, IsWhatTheGuidelineDefines) {
  EXPECT_NEAR(contrast("#000000", "#ffffff"), 21.0, 1e-9);
  EXPECT_NEAR(contrast("#ffffff", "#ffffff"), 1.0, 1e-9);
  EXPECT_NEAR(contrast("#767676", "#ffffff"), 4.54, 0.005);
}

TEST(Contrast, OfEveryPairOfColoursInUseIsEnoughInLightAndDark) {
  for (const Palette* palette : {&light_palette(), &dark_palette()}) {
    for (const ColourPair& pair : colour_pairs(*palette)) {
      EXPECT_GE(contrast(pair.front, pair.back), pair.least)
          << pair.what << ": " << pair.front << " on " << pair.back;
    }
  }
}

}  // namespace
}  // namespace backplan::report
