// A figure over time: expected at the end of each week as a line, what was shown as dots, and the forecast of
// the end with its interval.
#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "report/chart.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr double kCourseTop = 14.0, kCourseBottom = 150.0;
constexpr double kCourseLeft = 52.0, kCourseRight = 300.0;
constexpr double kMargin = 0.08;  // of the range of values, above and below

class CoursePicture {
 public:
  CoursePicture(const Course& course, const std::function<std::string(double)>& say)
      : course_(course), say_(say) {
    for (const auto& [date, value] : course.expected) take_in(value);
    for (const Shown& one : course.shown) {
      take_in(one.value);
      first_ = std::min(first_, one.date);
    }
    if (course.at_end) {
      take_in(course.at_end->low80);
      take_in(course.at_end->high80);
    }
    const double margin = kMargin * std::max(high_ - low_, 1e-3 * std::max(1.0, high_));
    low_ -= margin;
    high_ += margin;
  }

  Picture draw() {
    Picture picture;
    picture.id = course_.id;
    picture.title = course_.title;
    picture.words = words();
    picture.height = kCourseBottom + 24.0;
    if (high_ > low_) picture.shapes = frame() + forecast() + shown();
    return picture;
  }

 private:
  void take_in(double value) {
    low_ = std::min(low_, value);
    high_ = std::max(high_, value);
  }
  [[nodiscard]] double x_of(Date date) const {
    const auto all = static_cast<double>(std::max<long>(1, (course_.ends - first_).count()));
    return kCourseLeft + static_cast<double>((date - first_).count()) / all * (kCourseRight - kCourseLeft);
  }
  // Better is up.
  [[nodiscard]] double y_of(double value) const {
    const double part = (value - low_) / (high_ - low_);
    return course_.less_is_better ? kCourseTop + part * (kCourseBottom - kCourseTop)
                                  : kCourseBottom - part * (kCourseBottom - kCourseTop);
  }

  [[nodiscard]] Markup frame() const {
    Markup out = line("axis", kCourseLeft, kCourseBottom, kCourseRight, kCourseBottom) +
                 line("axis", kCourseLeft, kCourseTop, kCourseLeft, kCourseBottom);
    for (const double part : {0.1, 0.5, 0.9}) {
      const double value = low_ + part * (high_ - low_);
      out += line("hair", kCourseLeft, y_of(value), kCourseRight, y_of(value));
      out += label("quiet", kCourseLeft - 4.0, y_of(value) + 4.0, Anchor::end, say_(value));
    }
    out += label("quiet", kCourseLeft, kCourseBottom + 16.0, Anchor::start, short_date(first_));
    out += label("quiet", kCourseRight + 8.0, kCourseBottom + 16.0, Anchor::end, short_date(course_.ends));
    const double today = x_of(course_.begins);
    if (first_ < course_.begins) out += line("tick", today, kCourseBottom - 5.0, today, kCourseBottom + 5.0);
    return out;
  }

  [[nodiscard]] Markup forecast() const {
    Markup out;
    if (course_.at_end) {
      const double a = y_of(course_.at_end->low80);
      const double b = y_of(course_.at_end->high80);
      out += box("span", kCourseRight - 5.0, std::min(a, b), 10.0,
                 std::max(2.0, std::max(a, b) - std::min(a, b)));
    }
    std::vector<Spot> spots;
    for (const auto& [date, value] : course_.expected) spots.push_back({x_of(date), y_of(value)});
    if (!spots.empty()) out += path("ahead", spots) + diamond("then", spots.back().x, spots.back().y, 5.0);
    return out;
  }

  [[nodiscard]] Markup shown() const {
    Markup out;
    for (const Shown& one : course_.shown) {
      const double x = x_of(one.date);
      const double y = y_of(one.value);
      // A bound is a dash with a stalk towards what is better.
      out += one.bound ? path("tick", {{x - 4.0, y}, {x + 4.0, y}, {x, y}, {x, y - 6.0}})
                       : circle("dot", x, y, 4.0);
    }
    return out;
  }

  [[nodiscard]] std::string words() const {
    std::string text;
    if (!course_.shown.empty()) {
      const Shown& last = course_.shown.back();
      text += fmt::format("Last shown: {} on {}. ", say_(last.value), short_date(last.date));
    }
    if (!course_.expected.empty()) {
      text += fmt::format("From {} on {} to {} on {}.", say_(course_.expected.front().second),
                          short_date(course_.expected.front().first), say_(course_.expected.back().second),
                          short_date(course_.expected.back().first));
    }
    return text;
  }

  const Course& course_;
  const std::function<std::string(double)>& say_;
  Date first_ = course_.begins;
  double low_ = std::numeric_limits<double>::infinity();
  double high_ = -std::numeric_limits<double>::infinity();
};

}  // namespace

Picture course_picture(const Course& course, const std::function<std::string(double)>& say) {
  return CoursePicture(course, say).draw();
}

}  // namespace backplan::report
