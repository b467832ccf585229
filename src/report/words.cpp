#include "report/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "backplan/outlook.hpp"
#include "backplan/score.hpp"
#include "backplan/units.hpp"
#include "io/value_text.hpp"

namespace backplan::report {
std::string say_chance(double chance) {
  const int step = chance_step(chance);
  if (step < 1) return "under 1 in 100";
  if (step == 99) return "over 99 in 100";
  if (step < 10 || step >= 90) return fmt::format("{} in 100", step);
  return step % 10 == 0 ? fmt::format("{} in 10", step / 10) : fmt::format("nearly {} in 10", step / 10 + 1);
}

std::string say_points(double points) {
  return fmt::format("{}", static_cast<long long>(std::floor(points + 0.5)));
}

std::string say_mean_total(const TotalOutlook& total, double p_on_scale) {
  return !has_total(p_on_scale) ? "none" : "about " + say_points(total.mean);
}

std::string say_total(const TotalOutlook& total, double p_on_scale) {
  const std::string mean = say_mean_total(total, p_on_scale);
  if (!has_total(p_on_scale)) return mean;
  return fmt::format("{}, 8 in 10 between {} and {}", mean, say_points(total.low80),
                     say_points(total.high80));
}

std::string total_note(double p_on_scale) {
  if (p_on_scale >= kNearlyAllDays) return {};
  return fmt::format("A total counts only test days with every event on its scale: {}.",
                     say_chance(p_on_scale));
}

std::string total_note(double p_on_scale, std::string_view of_other, double other) {
  if (std::min(p_on_scale, other) >= kNearlyAllDays) return {};
  return fmt::format("A total counts only test days with every event on its scale: {}, {} {}.",
                     say_chance(p_on_scale), of_other, say_chance(other));
}

std::string today_note(const Outlook& outlook) {
  std::vector<std::string> events;
  for (const EventOutlook& event : outlook.events) {
    if (event.now_differs) events.push_back(event.event);
  }
  if (events.empty()) return {};
  return fmt::format(
      "today: as the test day would show it. For {} that is not the latest result, which is corrected where "
      "it was self-counted, first or alone, and weighed with all else that is known.",
      fmt::join(events, ", "));
}

std::string short_date(Date date) {
  std::string text = io::say_date(date);
  const std::size_t year = text.rfind(' ');
  return year == std::string::npos ? text : text.substr(0, year);
}

std::string week_date(const Plan& plan, Date date) {
  constexpr Days kElevenMonths{334};
  const Date from = plan.weeks.empty() ? plan.as_of : plan.weeks.front().starts;
  return plan.test_date - from >= kElevenMonths ? io::say_date(date) : short_date(date);
}

std::string count(int number, std::string_view thing) {
  return fmt::format("{} {}{}", number, thing, number == 1 ? "" : "s");
}

std::string count(std::size_t number, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", number, number == 1 ? one : many);
}

std::string weeks_until(Date from, Date to) {
  const auto days = static_cast<int>((to - from).count());
  if (days < 0) return "past";
  if (days == 0) return "today";
  if (days == 1) return "tomorrow";
  if (days < 2 * kDaysAWeek) return "in " + count(days, "day");
  const int rest = days % kDaysAWeek;
  const std::string weeks = "in " + count(days / kDaysAWeek, "week");
  return rest == 0 ? weeks : fmt::format("{} and {}", weeks, count(rest, "day"));
}

std::string mark(Origin origin) {
  if (origin == Origin::interpolated) return "~";
  return origin == Origin::memory ? "?" : "";
}

void Marks::note(Origin origin) {
  filled_ = filled_ || origin == Origin::interpolated;
  remembered_ = remembered_ || origin == Origin::memory;
}

std::string Marks::points(const std::optional<Points>& points, Origin origin) {
  if (!points) return "below ";
  note(origin);
  const std::string sign = mark(origin);
  const std::string text = pass_or_fail_ ? (*points > Points() ? "pass" : "fail") : to_string(*points);
  return text + (sign.empty() ? " " : sign);
}

std::string Marks::guess(const std::string& figure, bool measured) {
  guessed_ = guessed_ || !measured;
  return figure + (measured ? " " : "*");
}

std::string Marks::legend() const {
  std::string text;
  if (filled_) text += "~ rests on a row that was filled in between two known rows of the scale\n";
  if (remembered_) text += "? rests on a row of the scale that was written down from memory\n";
  if (filled_ || remembered_) {
    text += "  `backplan standard import` puts the rows of the official table in their place\n";
  }
  if (guessed_) text += "* never measured: a broad guess until there is a result\n";
  return text;
}

std::string Marks::short_legend() const {
  std::string text;
  if (filled_) text += "~ filled-in row of the scale";
  if (remembered_) text += std::string(text.empty() ? "" : ", ") + "? row from memory";
  return text.empty() ? "" : text + ": `backplan standard import`\n";
}

std::string say_step(double from, double to, const Event& event) {
  constexpr double kSlack = 1e-6;  // of a step: decimal steps are not exact in binary
  const double steps = std::ceil(std::fabs(to - from) / event.resolution - kSlack);
  const double step = steps * event.resolution;
  if (event.unit != Unit::second) return format_result(step, event) + " more";
  const char* how = event.direction == Direction::less_is_better ? "faster" : "longer";
  if (step >= kSecondsPerMinute) return fmt::format("{} {}", format_result(step, event), how);
  // Hundredths of a second are as fine as any test measures.
  std::string text = fmt::format("{:.2f}", step);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return fmt::format("{} s {}", text, how);
}

std::string wrap(std::string_view text, std::size_t width, std::string_view indent,
                 std::string_view first_indent) {
  std::string result;
  std::string line(first_indent);
  bool empty = true;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of(" \n"), text.size());
    const std::string_view word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) continue;
    if (!empty && width_of(line) + 1 + width_of(word) > width) {
      result += line + '\n';
      line = indent;
      empty = true;
    }
    if (!empty) line += ' ';
    line += word;
    empty = false;
  }
  return result + line + '\n';
}

std::size_t width_of(std::string_view text) {
  // UTF-8 continuation bytes are 10xxxxxx.
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
  }));
}

}  // namespace backplan::report
