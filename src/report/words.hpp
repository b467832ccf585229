// Figures in the words of people: chances, dates, marks, differences.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/plan.hpp"
#include "backplan/points.hpp"
#include "backplan/printable.hpp"
#include "backplan/standard.hpp"
#include "backplan/units.hpp"

namespace backplan::report {

inline constexpr std::size_t kPageWidth = 100;  // columns of a screen

// "8 in 10", "nearly 8 in 10", "95 in 100", "over 99 in 100", "under 1 in 100". Never says
// more than there is: "8 in 10" is at least 0.80 (but for a rounding of 1e-9).
[[nodiscard]] std::string say_chance(double chance);

[[nodiscard]] std::string say_points(double points);  // whole: "452"

// "about 452, 8 in 10 between 430 and 471"; "none" where no test day has every event on its scale.
[[nodiscard]] std::string say_total(const TotalOutlook& total, double p_on_scale);
[[nodiscard]] std::string say_mean_total(const TotalOutlook& total,
                                         double p_on_scale);  // "about 452", "none"
// A total stands for the test days with every event on its scale. Says how many these are; "" where they are
// nearly all, of `p_on_scale` and of `other`, which is of the outlook called `of_other`.
[[nodiscard]] std::string total_note(double p_on_scale);
[[nodiscard]] std::string total_note(double p_on_scale, std::string_view of_other, double other);

// Why today's figures of some events are not those of the score; "" where none differs.
[[nodiscard]] std::string today_note(const Outlook& outlook);

[[nodiscard]] std::string short_date(Date date);  // "Mon 8 Mar"
// The day on which a week starts; with its year where the plan takes eleven months and more, so that a month
// may come twice in it.
[[nodiscard]] std::string week_date(const Plan& plan, Date date);
[[nodiscard]] std::string count(int number, std::string_view thing);  // "1 week", "3 weeks"
[[nodiscard]] std::string count(std::size_t number, std::string_view one,
                                std::string_view many);     // "1 entry", "3 entries"
[[nodiscard]] std::string weeks_until(Date from, Date to);  // "in 14 weeks", "in 5 days", "tomorrow", "today"

// "~" for a figure that rests on a filled row, "?" on a row from memory, "" on a sound one.
[[nodiscard]] std::string mark(Origin origin);

// Explains the marks that were used, one a line; remembers which ones were.
class Marks {
 public:
  // Of a pass-or-fail test points are told as "pass" and "fail".
  explicit Marks(bool pass_or_fail = false) : pass_or_fail_(pass_or_fail) {}

  // The figure with its mark, or with a space where it has none, so that columns stay straight.
  std::string points(const std::optional<Points>& points, Origin origin);
  std::string guess(const std::string& figure, bool measured);  // "*" where it was never measured
  void note(Origin origin);
  [[nodiscard]] std::string legend() const;  // "" when nothing was marked
  // The same in one line.
  [[nodiscard]] std::string short_legend() const;

 private:
  bool pass_or_fail_ = false;
  bool filled_ = false;
  bool remembered_ = false;
  bool guessed_ = false;
};

// How far a result is from a better one: "10 lb more", "12 s faster", "0:20 longer", "2 more"; in steps of
// the event's resolution.
[[nodiscard]] std::string say_step(double from, double to, const Event& event);

// The text in lines of at most `width`, each after `indent`; words longer than a line stay whole.
[[nodiscard]] std::string wrap(std::string_view text, std::size_t width, std::string_view indent,
                               std::string_view first_indent);

// Columns of a terminal that a text takes: its Unicode characters.
[[nodiscard]] std::size_t width_of(std::string_view text);

using backplan::printable;

}  // namespace backplan::report
