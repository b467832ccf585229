#include "report/test_day_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "backplan/score.hpp"
#include "io/value_text.hpp"
#include "report/table.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr std::string_view kIndent = "   ";
constexpr double kLeastWorth = 0.05;  // points: less prints as nothing

std::string paragraph(std::string_view text) { return wrap(text, kSheetWidth, "     ", kIndent); }

std::string load_or(const std::optional<double>& load, Unit unit, const char* otherwise) {
  return load ? format_result(*load, unit) : otherwise;
}

std::string share_text(double share) { return fmt::format("{:.1f} %", 100.0 * share); }

class EventText {
 public:
  EventText(const DayEvent& day, const Event& event, bool with_cue, bool pass_or_fail, Marks& marks)
      : day_(day), event_(event), with_cue_(with_cue), pass_or_fail_(pass_or_fail), marks_(marks) {}

  [[nodiscard]] std::string text(int number) {
    std::string text = heading(number);
    if (!day_.measured)
      text += paragraph("Never measured: no figures to act on. Do it once before the day, or give --aim.");
    switch (day_.kind) {
      case DayKind::tries:
        text += tries();
        break;
      case DayKind::quarters:
        text += quarters();
        break;
      case DayKind::legs:
        text += legs();
        break;
      case DayKind::hold:
        text += hold();
        break;
      case DayKind::laps:
        text += laps();
        break;
      case DayKind::throws:
      case DayKind::plain:
        break;
    }
    return text + place() + (with_cue_ ? paragraph(day_.cue) : "") + paragraph_of_rows();
  }

 private:
  [[nodiscard]] std::string figure(double result) const { return format_result(result, event_); }

  // Without its unit, where another figure with it follows.
  [[nodiscard]] std::string bare(double result) const {
    const std::string text = figure(result);
    return text.substr(0, text.find(' '));
  }

  std::string points_at(const Row& row) {
    marks_.note(row.origin);
    return to_string(row.points) + mark(row.origin);
  }

  std::string heading(int number) {
    std::string points = "below the scale";
    if (day_.points) {
      marks_.note(day_.origin);
      points = pass_or_fail_ ? std::string(*day_.points > Points() ? "passes" : "fails") + mark(day_.origin)
                             : fmt::format("{}{} points", to_string(*day_.points), mark(day_.origin));
    }
    return wrap(fmt::format("{}. {} ({}): {}, {}; 8 in 10: {} to {}", number, event_.name, event_.id,
                            figure(day_.result), points, bare(day_.low80), figure(day_.high80)),
                kSheetWidth, kIndent, "");
  }

  std::string paragraph_of_rows() {
    const std::string text = rows();
    return text.empty() ? text : paragraph(text);
  }

  // The rows near the forecast, what a further step is worth, the minimum and what the target asks.
  std::string rows() {
    std::vector<std::string> words;
    for (const Row& row : day_.rows)
      words.push_back(fmt::format("{} {}", figure(row.result), points_at(row)));
    // A hold has its rows among the marks already.
    std::vector<std::string> parts;
    if (day_.hold.empty() && !pass_or_fail_) parts.push_back(fmt::format("{}", fmt::join(words, ", ")));
    if (day_.step_worth >= kLeastWorth && !pass_or_fail_)
      parts.push_back(fmt::format("{}: {:+.1f} on average{}", further(), day_.step_worth,
                                  day_.may_miss_scale ? " (reaching the scale counted in)" : ""));
    if (day_.minimum)
      parts.push_back(
          fmt::format("minimum {} ({})", figure(day_.minimum->result), say_chance(day_.p_minimum)));
    if (pass_or_fail_) return parts.empty() ? std::string() : fmt::format("To pass: {}", parts.back());
    if (day_.asked)
      parts.push_back(fmt::format("target {} ({})", figure(day_.asked->result), points_at(*day_.asked)));
    return fmt::format("Points: {}", fmt::join(parts, "; "));
  }

  [[nodiscard]] std::string further() const {
    if (event_.unit == Unit::repetition) return "each further one";
    if (event_.unit == Unit::second && day_.step < 1.0)
      return fmt::format("each {:g} s {}", day_.step,
                         event_.direction == Direction::less_is_better ? "less" : "more");
    if (event_.unit == Unit::second)
      return event_.direction == Direction::less_is_better ? "each second less" : "each second more";
    return "each further " + figure(day_.step);
  }

  [[nodiscard]] std::string tries() const {
    if (!day_.tries) return {};
    const TryChoice& best = day_.tries->best;
    std::string text =
        paragraph(fmt::format("First try {} ({}). Good: {}. Failed: {}.{}", figure(best.first),
                              say_chance(best.p_first), load_or(best.after_good, event_.unit, "stop"),
                              load_or(best.after_failed, event_.unit, "no second one pays"),
                              day_.rule ? "" : " (Two tries assumed: the rule of this test is not known.)"));
    Table table({Align::right, Align::right, Align::right, Align::right, Align::left});
    table.add({"first", "after good", "after failed", "points", "no good try at all"});
    for (const TryChoice& one : day_.tries->near) {
      table.add({figure(one.first), load_or(one.after_good, event_.unit, "stop"),
                 load_or(one.after_failed, event_.unit, "-"), fmt::format("{:.1f}", one.expected_points),
                 say_chance(one.p_nothing) + (one.first == best.first ? "  <- best" : "")});
    }
    return text + table.text(std::string(kIndent)) + warm_up();
  }

  [[nodiscard]] std::string warm_up() const {
    if (day_.warm_up.empty()) return {};
    std::vector<std::string> sets;
    for (const WarmUpSet& one : day_.warm_up)
      sets.push_back(fmt::format("{} × {}", one.repetitions, figure(one.load)));
    return paragraph(fmt::format("Sets before it: {}", fmt::join(sets, ", ")));
  }

  [[nodiscard]] std::string aim() const {
    return figure(day_.aim) + (day_.aim_given ? " (as you asked)" : "");
  }

  [[nodiscard]] std::string quarters() const {
    if (day_.quarters.empty()) return {};
    std::vector<std::string> clocks;
    int done = 0;
    for (std::size_t i = 0; i < day_.quarters.size(); ++i) {
      done += day_.quarters[i];
      const double clock = static_cast<double>(day_.seconds) * static_cast<double>(i + 1) /
                           static_cast<double>(day_.quarters.size());
      clocks.push_back(fmt::format("{} {}", format_result(std::floor(clock), Unit::second), done));
    }
    return paragraph(fmt::format("For {}, have done by: {}", aim(), fmt::join(clocks, ", ")));
  }

  [[nodiscard]] std::string legs() const {
    if (day_.legs.empty()) return {};
    std::vector<std::string> words;
    for (const ClockMark& one : day_.legs)
      words.push_back(
          fmt::format("{} {:g} s ({})", one.name, one.split, format_result(one.clock, Unit::second)));
    return paragraph(fmt::format("For {}, legs and clock at their end: {}", aim(), fmt::join(words, ", ")));
  }

  std::string hold() {
    std::vector<std::string> words;
    for (const Row& row : day_.hold)
      words.push_back(fmt::format("{} ({})", figure(row.result), points_at(row)));
    return day_.hold.empty() ? "" : paragraph(fmt::format("Marks on the clock: {}", fmt::join(words, ", ")));
  }

  [[nodiscard]] static std::string clocks(const std::vector<ClockMark>& marks) {
    std::vector<std::string> words;
    for (const ClockMark& one : marks) words.push_back(format_result(one.clock, Unit::second));
    return fmt::format("{}", fmt::join(words, " "));
  }

  [[nodiscard]] static double lap_of(const std::vector<ClockMark>& marks) { return marks.front().at.value(); }

  // "400 m", "100 yd": so many laps.
  [[nodiscard]] std::string lap_text(int laps) const {
    const double metres = laps * lap_of(day_.even_laps);
    if (day_.laps_in_yards) return fmt::format("{:.0f} yd", metres / kMetresPerYard);
    return fmt::format("{:g} m", metres);
  }

  // The mean over more than a lap: a mile, or two lengths of a pool.
  [[nodiscard]] std::string longer_piece(double mean) const {
    constexpr double kShortLap = 100.0;  // metres
    if (!day_.even_miles.empty())
      return fmt::format(", {} a mile", format_result(std::floor(mean * kMetresPerMile + 0.5), Unit::second));
    const double two = 2.0 * lap_of(day_.even_laps);
    if (two > kShortLap) return {};
    return fmt::format(", {} per {}", format_result(std::floor(mean * two + 0.5), Unit::second), lap_text(2));
  }

  [[nodiscard]] std::string laps() const {
    if (day_.even_laps.empty()) return {};
    const std::string each = lap_text(1);
    // The clock at the end of the mean lap and mile, to the nearest second.
    const double mean = day_.aim / event_.distance->value();
    std::string text =
        paragraph(fmt::format("For {}: {} per {}{}. Clock at each {} and at the end:", aim(),
                              format_result(std::floor(mean * lap_of(day_.even_laps) + 0.5), Unit::second),
                              each, longer_piece(mean), each));
    text += paragraph("even: " + clocks(day_.even_laps));
    text += paragraph("faster second half: " + clocks(day_.faster_laps));
    return day_.even_miles.empty() ? text : text + paragraph("even, by the mile: " + clocks(day_.even_miles));
  }

  [[nodiscard]] std::string place() const {
    std::vector<std::string> parts;
    const auto add = [&parts](const char* what, const std::optional<Slowing>& by) {
      if (by)
        parts.push_back(
            fmt::format("{} {} to {} ({})", what, share_text(by->least), share_text(by->most), by->credit));
    };
    add("heat", day_.heat);
    add("height", day_.altitude);
    return parts.empty() ? "" : paragraph(fmt::format("Counted in, slower by: {}", fmt::join(parts, ", ")));
  }

  const DayEvent& day_;
  const Event& event_;
  bool with_cue_;
  bool pass_or_fail_;
  Marks& marks_;
};

std::string place_text(const TestDaySheet& sheet) {
  std::string text;
  if (sheet.place.wbgt_c) text += fmt::format("WBGT {:.1f} °C", *sheet.place.wbgt_c);
  if (sheet.heat_category) {
    text += fmt::format(" (heat category {}: for hard work {} min work/rest, water {:g} qt an hour)",
                        sheet.heat_category->category, sheet.heat_category->work_rest,
                        sheet.heat_category->water_qt);
  }
  if (sheet.place.altitude)
    text += fmt::format("{}{:.0f} m above the sea", text.empty() ? "" : "; ", sheet.place.altitude->value());
  return text.empty() ? text : wrap("The place: " + text + ".", kSheetWidth, "  ", "");
}

std::string rest_text(const RestPlan& rest) {
  std::string text = "Rest: ";
  if (rest.between) text += fmt::format("{} min between events", *rest.between);
  if (rest.before_last)
    text += fmt::format("{}{} min before the last", rest.between ? ", " : "", *rest.before_last);
  if (rest.between || rest.before_last) {
    text += ", as you gave it";
  } else if (rest.published) {
    text += *rest.published;
  } else {
    text += fmt::format("not known ({}); ask the grader, give --rest", rest.source);
  }
  return wrap(text + ". Walk, sip water, stay warm.", kSheetWidth, "  ", "");
}

// Steps one after the other in as few lines as they take.
std::string list_text(const char* title, const std::vector<std::string>& items) {
  if (items.empty()) return {};
  return wrap(fmt::format("{}: {}.", title, fmt::join(items, "; ")), kSheetWidth, "  ", "");
}

std::string heading(const TestDaySheet& sheet, const Names& names, const std::string& basis) {
  std::string text = wrap(fmt::format("{}: {}, {}; test on {}", printable(sheet.candidate), sheet.standard,
                                      names.category(sheet.category), io::say_date(sheet.test_date)),
                          kSheetWidth, "  ", "");
  if (!sheet.refused.empty()) return text;
  const bool moved = sheet.place.wbgt_c || sheet.place.altitude;
  if (names.standard.pass_or_fail) {
    return text + wrap(fmt::format("{} Events passed: about {:.1f} of {}; the target {}{}.", basis,
                                   sheet.total.mean, names.standard.events.size(), say_chance(sheet.p_target),
                                   moved ? " (heat and height not counted)" : ""),
                       kSheetWidth, "  ", "");
  }
  const std::string note = total_note(sheet.p_on_scale);
  return text +
         wrap(fmt::format("{} Total {}; the target {}{}.{}", basis, say_total(sheet.total, sheet.p_on_scale),
                          say_chance(sheet.p_target), moved ? " (heat and height not counted)" : "",
                          note.empty() ? "" : ' ' + note),
              kSheetWidth, "  ", "");
}

struct Layout {
  bool cues = true;
  bool blank_lines = true;
};

std::string page(const TestDaySheet& sheet, const Names& names, const std::string& beginning,
                 const Layout& layout) {
  const std::string between = layout.blank_lines ? "\n" : "";
  std::string text = beginning + place_text(sheet) + list_text("Warm-up", sheet.warm_up);
  Marks marks;
  int number = 0;
  for (const DayEvent& day : sheet.events) {
    const Event* event = names.standard.find_event(day.event);
    if (event != nullptr)
      text +=
          between + EventText(day, *event, layout.cues, names.standard.pass_or_fail, marks).text(++number);
  }
  text += between + rest_text(sheet.rest) + list_text("Bring", sheet.bring);
  for (const std::string& caution : sheet.cautions) text += wrap(caution, kSheetWidth, "  ", "");
  return text + marks.short_legend();
}

}  // namespace

std::string test_day_text(const TestDaySheet& sheet, const Names& names, const std::string& basis) {
  std::string text = heading(sheet, names, basis);
  for (const std::string& why : sheet.refused) text += wrap("No sheet: " + why + ".", kSheetWidth, "  ", "");
  if (!sheet.refused.empty()) return text;
  std::string whole;
  // What a page does not hold goes: blank lines first, then the words beside the figures.
  for (const Layout& layout : {Layout{true, true}, Layout{true, false}, Layout{false, false}}) {
    whole = page(sheet, names, text, layout);
    if (std::count(whole.begin(), whole.end(), '\n') <= kSheetLines) break;
  }
  return whole;
}

}  // namespace backplan::report
