// The words by which values of the core are printed and written to files, each in one place.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <utility>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/plan.hpp"
#include "backplan/points.hpp"
#include "backplan/printable.hpp"
#include "backplan/replan.hpp"
#include "backplan/result.hpp"
#include "backplan/standard.hpp"
#include "backplan/units.hpp"

namespace backplan {

namespace {

// A band up to this age or further has no upper end in print: "62+".
constexpr int kOpenEndedFromAge = 99;

// Reached only when an enum holds a number that is none of its names: memory was overwritten.
[[noreturn]] void no_such_name(const char* kind) {
  throw std::logic_error(fmt::format("a {} without a name", kind));
}

}  // namespace

std::string unit_name(Unit unit) {
  switch (unit) {
    case Unit::pound:
      return "lb";
    case Unit::kilogram:
      return "kg";
    case Unit::repetition:
      return "reps";
    case Unit::second:
      return "mm:ss";
    case Unit::metre:
      return "m";
    case Unit::centimetre:
      return "cm";
    case Unit::kilometre:
      return "km";
    case Unit::go:
      return "go";
  }
  no_such_name("unit");
}

int weekday_index(Date date) { return static_cast<int>(Weekday(date).iso_encoding()) - 1; }

namespace {

// "12 Jan".
std::string day_of_month(Date date) {
  constexpr std::array<std::string_view, 12> kMonths = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::chrono::year_month_day day(date);
  return fmt::format("{} {}", static_cast<unsigned>(day.day()),
                     kMonths.at(static_cast<unsigned>(day.month()) - 1));
}

int year_of(Date date) { return static_cast<int>(std::chrono::year_month_day(date).year()); }

}  // namespace

std::string say_day(Date date) { return fmt::format("{} {}", day_of_month(date), year_of(date)); }

std::string date_words(Date date) {
  return fmt::format("{} {}", kDayNames.at(static_cast<std::size_t>(weekday_index(date))),
                     day_of_month(date));
}

std::string date_words_with_year(Date date) { return fmt::format("{} {}", date_words(date), year_of(date)); }

std::string to_string(Points points) {
  const int tenths = points.tenths();
  const char* sign = tenths < 0 ? "-" : "";
  const int size = std::abs(tenths);
  if (size % 10 == 0) return fmt::format("{}{}", sign, size / 10);
  return fmt::format("{}{}.{}", sign, size / 10, size % 10);
}

std::string to_string(const Diagnostic& diagnostic) {
  std::string place = printable(diagnostic.file);
  if (diagnostic.line > 0) place += fmt::format(":{}", diagnostic.line);
  if (diagnostic.line > 0 && diagnostic.column > 0) place += fmt::format(":{}", diagnostic.column);
  const char* severity = diagnostic.severity == Severity::error ? "error" : "warning";
  std::string text =
      fmt::format("{}{}{}: {}", place, place.empty() ? "" : ": ", severity, printable(diagnostic.message));
  if (!diagnostic.field.empty()) text += fmt::format(" (at {})", printable(diagnostic.field));
  if (!diagnostic.hint.empty()) text += fmt::format("\nhint: {}", printable(diagnostic.hint));
  return text;
}

void sort_by_place(Diagnostics& diagnostics) {
  std::stable_sort(diagnostics.begin(), diagnostics.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::pair(a.line, a.column) < std::pair(b.line, b.column);
  });
}

bool has_error(const Diagnostics& diagnostics) {
  return std::any_of(diagnostics.begin(), diagnostics.end(),
                     [](const Diagnostic& d) { return d.severity == Severity::error; });
}

std::string to_string(Origin origin) {
  switch (origin) {
    case Origin::official:
      return "official";
    case Origin::published:
      return "published";
    case Origin::formula:
      return "formula";
    case Origin::memory:
      return "memory";
    case Origin::interpolated:
      return "interpolated";
  }
  no_such_name("origin");
}

std::string to_string(AgeBand band) {
  if (band.most >= kOpenEndedFromAge) return fmt::format("{}+", band.least);
  return fmt::format("{}-{}", band.least, band.most);
}

std::string to_string(Background background) {
  switch (background) {
    case Background::new_to_training:
      return "new";
    case Background::regular:
      return "regular";
    case Background::long_trained:
      return "long";
  }
  no_such_name("background");
}

std::string to_string(BlockedKind kind) {
  switch (kind) {
    case BlockedKind::rest:
      return "rest";
    case BlockedKind::light:
      return "light";
    case BlockedKind::field:
      return "field";
  }
  no_such_name("blocked spell");
}

std::string to_string(Setting setting) {
  switch (setting) {
    case Setting::record:
      return "record";
    case Setting::practice:
      return "practice";
    case Setting::single:
      return "single";
    case Setting::self:
      return "self";
    case Setting::estimate:
      return "estimate";
  }
  no_such_name("setting");
}

std::string to_string(Status status) {
  switch (status) {
    case Status::published:
      return "published";
    case Status::common_practice:
      return "common practice";
    case Status::memory:
      return "memory";
    case Status::derived:
      return "derived";
    case Status::judgement:
      return "judgement";
  }
  no_such_name("status");
}

std::string to_string(Phase phase) {
  switch (phase) {
    case Phase::build:
      return "build";
    case Phase::deload:
      return "deload";
    case Phase::taper:
      return "taper";
    case Phase::blocked:
      return "blocked";
  }
  no_such_name("phase");
}

std::string to_string(BlockSize size) {
  switch (size) {
    case BlockSize::full:
      return "full";
    case BlockSize::shorter:
      return "short";
    case BlockSize::home:
      return "home";
  }
  no_such_name("block size");
}

std::string to_string(ChangeCause cause) {
  switch (cause) {
    case ChangeCause::test_moved:
      return "test_moved";
    case ChangeCause::calendar:
      return "calendar";
    case ChangeCause::pain:
      return "pain";
    case ChangeCause::off:
      return "off";
    case ChangeCause::figures:
      return "figures";
    case ChangeCause::gap:
      return "gap";
    case ChangeCause::phase:
      return "phase";
    case ChangeCause::recovery:
      return "recovery";
    case ChangeCause::missed:
      return "missed";
    case ChangeCause::yield:
      return "yield";
    case ChangeCause::minutes:
      return "minutes";
    case ChangeCause::moved:
      return "moved";
    case ChangeCause::refilled:
      return "refilled";
  }
  no_such_name("cause of a change");
}

}  // namespace backplan
