// Pictures for reports. They are drawn 320 units wide, so that their letters can be read on a phone; each
// says in words what it shows, and stands beside a table of the same figures.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "backplan/plan.hpp"
#include "backplan/standard.hpp"
#include "report/markup.hpp"
#include "report/names.hpp"

namespace backplan::report {

inline constexpr double kChartWidth = 320.0;

struct Picture {
  std::string id;     // unique in its page
  std::string title;  // what it is
  std::string words;  // what it says, with its figures
  double height = 200.0;
  Markup shapes;
};
[[nodiscard]] Markup svg_of(const Picture& picture);

// Shapes, by a class of the style sheet.
[[nodiscard]] Markup line(const std::string& kind, double x1, double y1, double x2, double y2);
[[nodiscard]] Markup box(const std::string& kind, double x, double y, double width, double height);
[[nodiscard]] Markup circle(const std::string& kind, double x, double y, double r);
[[nodiscard]] Markup diamond(const std::string& kind, double x, double y, double r);
enum class Anchor { start, middle, end };
[[nodiscard]] Markup label(const std::string& kind, double x, double y, Anchor anchor,
                           const std::string& text);
struct Spot {
  double x = 0.0, y = 0.0;
};
[[nodiscard]] Markup path(const std::string& kind, const std::vector<Spot>& spots);

// Places for labels at least `apart` from each other, in the order given, as near to where they want to be
// as that allows.
[[nodiscard]] std::vector<double> spread_out(std::vector<double> wanted, double apart, double low,
                                             double high);

// The official scale of one event as a ladder, with today, the forecast, its interval and what is asked.
struct LadderAsk {
  std::optional<Points> minimum;  // of the category
  std::optional<Points> target;   // of the candidate
};
[[nodiscard]] Picture ladder(const EventOutlook& event, const Scale& scale, const LadderAsk& ask,
                             const Names& names);

// The chances of the total, with the target in them.
[[nodiscard]] Picture total_spread(const Plan& plan);

// Something over time: what is expected at the end of each week, what was shown, and the forecast.
struct Shown {
  Date date;
  double value = 0.0;
  bool bound = false;  // at least this
};
struct Course {
  std::string id, title;
  std::vector<std::pair<Date, double>> expected;
  std::vector<Shown> shown;
  std::optional<Interval> at_end;  // the forecast's interval, at `ends`
  Date begins, ends;
  bool less_is_better = false;
};
// `say` prints a value.
[[nodiscard]] Picture course_picture(const Course& course, const std::function<std::string(double)>& say);

}  // namespace backplan::report
