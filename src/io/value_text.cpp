#include "io/value_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

#include "backplan/score.hpp"
#include "backplan/units.hpp"
#include "io/characters.hpp"
#include "io/json_text.hpp"

namespace backplan::io {

namespace {

constexpr int kFirstYear = 1900;
constexpr int kLastYear = 2200;
constexpr Metres kMostDistance(200'000.0);  // further than any training week goes in one piece
constexpr double kSecondsPerHour = 3600.0;

enum class Kind { mass, length, time, count };

// A unit that people write, in its kind's base (lb, m, s): base = value * times / over. Two whole
// factors instead of one fraction keep 840 cm exactly the 8.4 m that a scale prints.
struct WrittenUnit {
  std::string_view name;
  Kind kind;
  double times;
  double over;
};

constexpr std::array<WrittenUnit, 12> kUnits = {{{"lb", Kind::mass, 1.0, 1.0},
                                                 {"kg", Kind::mass, 1.0, kKilogramsPerPound},
                                                 {"m", Kind::length, 1.0, 1.0},
                                                 {"cm", Kind::length, 1.0, 100.0},
                                                 {"km", Kind::length, 1000.0, 1.0},
                                                 {"ft", Kind::length, kMetresPerFoot, 1.0},
                                                 {"mi", Kind::length, kMetresPerMile, 1.0},
                                                 {"yd", Kind::length, kMetresPerYard, 1.0},
                                                 {"s", Kind::time, 1.0, 1.0},
                                                 {"min", Kind::time, kSecondsPerMinute, 1.0},
                                                 {"reps", Kind::count, 1.0, 1.0},
                                                 {"rep", Kind::count, 1.0, 1.0}}};

std::string folded(std::string_view text) {
  std::string result(text);
  for (char& c : result) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return result;
}

const WrittenUnit* find_unit(std::string_view name) {
  const std::string wanted = folded(name);
  const auto* found =
      std::find_if(kUnits.begin(), kUnits.end(), [&](const auto& u) { return u.name == wanted; });
  return found == kUnits.end() ? nullptr : found;
}

// How a result of this unit is written; none for events that are only passed or not.
const WrittenUnit* written_unit(Unit unit) {
  if (unit == Unit::second) return find_unit("s");
  return unit == Unit::go ? nullptr : find_unit(unit_name(unit));
}

double convert(double value, const WrittenUnit& from, const WrittenUnit& to) {
  if (&from == &to) return value;
  return value * from.times / from.over * to.over / to.times;
}

std::vector<std::string> unit_names(Kind kind) {
  std::vector<std::string> names;
  for (const WrittenUnit& unit : kUnits) {
    if (unit.kind == kind && unit.name != "rep") names.emplace_back(unit.name);
  }
  return names;
}

// "170 lb" parted into its figure and its unit; either may be empty.
struct Parts {
  std::string_view figure;
  std::string_view unit;
};

Parts part(std::string_view text) {
  text = trimmed(text);
  const auto is_figure = [](char c) { return is_digit(c) || c == '.' || c == '-' || c == '+' || c == ','; };
  const auto end = std::find_if_not(text.begin(), text.end(), is_figure);
  const auto length = static_cast<std::size_t>(end - text.begin());
  return {text.substr(0, length), trimmed(text.substr(length))};
}

template <class T>
Reading<T> problem(std::string what, std::string hint) {
  return {std::nullopt, std::move(what), std::move(hint)};
}

bool has_range(const Event& event) { return event.most_plausible > event.least_plausible; }

bool plausible(double value, const Event& event) {
  if (!has_range(event)) return value >= 0.0;
  return value >= event.least_plausible && value <= event.most_plausible;
}

// Asks about the other unit when the figure would be possible in it: "77" for a deadlift.
std::string ask_other_unit(double figure, const WrittenUnit* written, const Event& event) {
  const WrittenUnit* own = written_unit(event.unit);
  if (own == nullptr || own->kind == Kind::count || own->kind == Kind::time) return {};
  for (const WrittenUnit& other : kUnits) {
    if (other.kind != own->kind || &other == written) continue;
    const double value = convert(figure, other, *own);
    if (!plausible(value, event)) continue;
    return fmt::format("did you mean \"{} {}\" ({})? then write it with that unit", figure, other.name,
                       format_result(value, event));
  }
  return {};
}

Reading<double> in_range(double value, std::string_view typed, std::string question, const Event& event) {
  if (plausible(value, event)) return {value, {}, {}};
  if (question.empty()) question = "check the value and the event";
  if (!has_range(event))
    return problem<double>(fmt::format("\"{}\" is below zero", typed), std::move(question));
  return problem<double>(
      fmt::format("\"{}\" is no possible result of {}; expected {} to {}", typed, event.id,
                  format_result(event.least_plausible, event), format_result(event.most_plausible, event)),
      std::move(question));
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> fields;
  std::size_t start = 0;
  for (std::size_t end = 0; (end = text.find(separator, start)) != std::string_view::npos; start = end + 1) {
    fields.push_back(text.substr(start, end - start));
  }
  fields.push_back(text.substr(start));
  return fields;
}

bool all_digits(std::string_view text, std::size_t least, std::size_t most) {
  return text.size() >= least && text.size() <= most && std::all_of(text.begin(), text.end(), is_digit);
}

// "15:32", "1:02:30", "0:58.4": in seconds; none when it is written in another way.
std::optional<double> read_clock(std::string_view text) {
  const auto fields = split(text, ':');
  if (fields.size() < 2 || fields.size() > 3) return std::nullopt;
  const std::string_view last = fields.back();
  if (last.size() < 2 || !all_digits(last.substr(0, 2), 2, 2) || (last.size() > 2 && last[2] != '.')) {
    return std::nullopt;
  }
  if (!all_digits(fields[0], 1, 3)) return std::nullopt;
  if (fields.size() == 3 && !all_digits(fields[1], 2, 2)) return std::nullopt;
  const auto seconds = read_decimal(last);
  if (!seconds || *seconds >= kSecondsPerMinute) return std::nullopt;
  const double first = *read_decimal(fields[0]);
  if (fields.size() == 2) return first * kSecondsPerMinute + *seconds;
  const double minutes = *read_decimal(fields[1]);
  if (minutes >= kSecondsPerMinute) return std::nullopt;
  return first * kSecondsPerHour + minutes * kSecondsPerMinute + *seconds;
}

// A time without a colon may be minutes, seconds or minutes.seconds: name those that are possible.
Reading<double> ask_about_time(std::string_view text, double figure, const Event& event) {
  std::vector<std::string> readings;
  const auto offer = [&](double seconds) {
    if (has_range(event) && !plausible(seconds, event)) return;
    readings.push_back(fmt::format("\"{}\"", format_result(seconds, Unit::second)));
  };
  const auto point = text.find('.');
  if (point == std::string_view::npos) {
    offer(figure * kSecondsPerMinute);
    offer(figure);
  } else if (const auto clock =
                 read_clock(fmt::format("{}:{}", text.substr(0, point), text.substr(point + 1)))) {
    offer(*clock);
  }
  std::string hint = readings.empty()
                         ? std::string("write minutes and seconds, such as \"15:32\"")
                         : fmt::format("did you mean {}? then write it so", fmt::join(readings, " or "));
  if (event.resolution < 1.0) hint += fmt::format("; seconds alone are written \"{} s\"", text);
  return problem<double>(fmt::format("\"{}\" may be minutes or seconds", text), std::move(hint));
}

// A figure whose unit is settled: converted once, then held against what people can do.
Reading<double> read_measured(std::string_view text, double figure, const WrittenUnit& unit,
                              const Event& event) {
  const WrittenUnit& own = *written_unit(event.unit);
  const double value = convert(figure, unit, own);
  if (own.kind == Kind::count && std::floor(value) < value) {
    return problem<double>(fmt::format("\"{}\" is no whole number of repetitions", text),
                           "count whole repetitions only");
  }
  return in_range(value, text, ask_other_unit(figure, &unit, event), event);
}

Reading<double> read_figure(std::string_view text, const Event& event) {
  const WrittenUnit& own = *written_unit(event.unit);
  const Parts parts = part(text);
  const auto figure = read_decimal(parts.figure);
  if (!figure) {
    const bool comma = parts.figure.find(',') != std::string_view::npos;
    const bool time = own.kind == Kind::time;
    return problem<double>(fmt::format("\"{}\" is not written as a {}", text, time ? "time" : "number"),
                           comma  ? "write a point, not a comma"
                           : time ? "write minutes and seconds, such as \"15:32\""
                                  : fmt::format("write a number, with the unit {} or without", own.name));
  }
  if (parts.unit.empty() && own.kind == Kind::time) return ask_about_time(parts.figure, *figure, event);
  const WrittenUnit* unit = parts.unit.empty() ? &own : find_unit(parts.unit);
  const auto names = unit_names(own.kind);
  if (unit == nullptr || unit->kind != own.kind) {
    const auto nearest = nearest_word(parts.unit, names);
    return problem<double>(fmt::format("the unit \"{}\" does not fit {}; expected one of {}", parts.unit,
                                       event.id, fmt::join(names, ", ")),
                           nearest ? fmt::format("did you mean \"{}\"?", *nearest)
                                   : fmt::format("{} is measured in {}", event.id, unit_name(event.unit)));
  }
  return read_measured(text, *figure, *unit, event);
}

}  // namespace

Reading<Date> read_date(std::string_view text) {
  const std::string form = "write year-month-day, such as 2027-03-08";
  const bool shaped = text.size() == 10 && all_digits(text.substr(0, 4), 4, 4) && text[4] == '-' &&
                      all_digits(text.substr(5, 2), 2, 2) && text[7] == '-' &&
                      all_digits(text.substr(8), 2, 2);
  if (!shaped) return problem<Date>(fmt::format("\"{}\" is not written as a date", text), form);
  const auto number = [&](std::size_t from, std::size_t length) {
    int value = 0;
    for (const char c : text.substr(from, length)) value = value * 10 + (c - '0');
    return value;
  };
  const int year = number(0, 4);
  const std::chrono::year_month_day day(std::chrono::year(year),
                                        std::chrono::month(static_cast<unsigned>(number(5, 2))),
                                        std::chrono::day(static_cast<unsigned>(number(8, 2))));
  if (!day.ok()) return problem<Date>(fmt::format("{} is no day of the calendar", text), form);
  if (year < kFirstYear || year > kLastYear) {
    return problem<Date>(fmt::format("{} is outside the years {} to {}", text, kFirstYear, kLastYear),
                         "check the year");
  }
  return {Date(day), {}, {}};
}

std::string write_date(Date date) {
  const std::chrono::year_month_day day(date);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                     static_cast<unsigned>(day.day()));
}

std::string say_date(Date date) { return date_words_with_year(date); }

std::optional<double> read_decimal(std::string_view text) {
  // 15 digits are below 2^53 and ten to the 15th is exact too, so that one division of two exact
  // numbers gives the double nearest to the decimal.
  constexpr std::size_t kMostDigits = 15;
  const bool negative = !text.empty() && text.front() == '-';
  if (!text.empty() && (text.front() == '-' || text.front() == '+')) text.remove_prefix(1);
  const std::size_t point = text.find('.');
  const std::string_view whole = text.substr(0, point);
  const std::string_view part = point == std::string_view::npos ? std::string_view() : text.substr(point + 1);
  if (!all_digits(whole, 1, kMostDigits)) return std::nullopt;
  if (point != std::string_view::npos && !all_digits(part, 1, kMostDigits - whole.size()))
    return std::nullopt;
  std::int64_t mantissa = 0;
  std::int64_t scale = 1;
  for (const char c : whole) mantissa = mantissa * 10 + (c - '0');
  for (const char c : part) {
    mantissa = mantissa * 10 + (c - '0');
    scale *= 10;
  }
  const double value = static_cast<double>(mantissa) / static_cast<double>(scale);
  return negative ? -value : value;
}

Reading<double> read_result(std::string_view text, const Event& event) {
  text = trimmed(text);
  if (text.empty()) return problem<double>("the value is empty", "write the result, or take the entry out");
  if (event.unit == Unit::go) {
    const std::string word = folded(text);
    if (word == "go") return {1.0, {}, {}};
    if (word == "no go" || word == "no-go") return {0.0, {}, {}};
    return problem<double>(fmt::format("\"{}\" is no result of {}; expected go or no go", text, event.id),
                           "");
  }
  if (text.find(':') == std::string_view::npos) return read_figure(text, event);
  if (event.unit != Unit::second) {
    return problem<double>(
        fmt::format("\"{}\" is a time; {} is measured in {}", text, event.id, unit_name(event.unit)),
        "check the value and the event");
  }
  if (const auto seconds = read_clock(text)) return in_range(*seconds, text, {}, event);
  return problem<double>(fmt::format("\"{}\" is not written as a time", text),
                         "write minutes and seconds, such as \"15:32\" or \"1:02:30\"");
}

Reading<double> read_result(double figure, const Event& event) {
  const std::string text = fmt::format("{}", figure);
  if (event.unit == Unit::go) return read_result(std::string_view(text), event);
  if (event.unit == Unit::second) return ask_about_time(text, figure, event);
  return read_measured(text, figure, *written_unit(event.unit), event);
}

Reading<Metres> read_distance(std::string_view text) {
  text = trimmed(text);
  const std::string form = "write a distance with its unit, such as \"2.5 mi\", \"10 km\" or \"400 m\"";
  const Parts parts = part(text);
  const auto figure = read_decimal(parts.figure);
  if (!figure) return problem<Metres>(fmt::format("\"{}\" is not written as a distance", text), form);
  if (parts.unit.empty()) {
    return problem<Metres>(fmt::format("\"{}\" may be miles or kilometres", text),
                           fmt::format("write \"{} mi\" or \"{} km\"", text, text));
  }
  const WrittenUnit* unit = find_unit(parts.unit);
  if (unit == nullptr || unit->kind != Kind::length) {
    const auto names = unit_names(Kind::length);
    const auto nearest = nearest_word(parts.unit, names);
    return problem<Metres>(
        fmt::format("\"{}\" is no unit of distance; expected one of {}", parts.unit, fmt::join(names, ", ")),
        nearest ? fmt::format("did you mean \"{}\"?", *nearest) : form);
  }
  const Metres distance(convert(*figure, *unit, *find_unit("m")));
  if (distance < Metres(0.0) || distance > kMostDistance) {
    return problem<Metres>(fmt::format("\"{}\" is no possible distance; expected 0 to {} km", text,
                                       kMostDistance.value() / 1000.0),
                           "check the figure and the unit");
  }
  return {distance, {}, {}};
}

}  // namespace backplan::io
