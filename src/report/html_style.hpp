// The looks of the reports: colours, each of them named once, and the style sheet made of them.
#pragma once

#include <string>
#include <vector>

namespace backplan::report {

// What every colour is for. Each marks a thing that also has a shape, a line style or a word of its own.
struct Palette {
  std::string paper, card, ink, quiet, rule;   // backgrounds, text, hairlines
  std::string today, ahead, span, goal, warn;  // today's mark, the forecast, its interval, targets, doubt
};

[[nodiscard]] const Palette& light_palette();
[[nodiscard]] const Palette& dark_palette();

// A colour on another one with the contrast it must have (WCAG 2.2: 4.5 for text, 3 for graphics).
struct ColourPair {
  std::string what;
  std::string front, back;
  double least = 4.5;
};
[[nodiscard]] std::vector<ColourPair> colour_pairs(const Palette& palette);

// Contrast of two colours "#rrggbb", 1 to 21, as WCAG 2.2 defines it.
[[nodiscard]] double contrast(const std::string& a, const std::string& b);

[[nodiscard]] std::string style_sheet();

}  // namespace backplan::report
