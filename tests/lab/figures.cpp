#include "lab/figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "backplan/evidence.hpp"
#include "backplan/numeric.hpp"

namespace backplan::lab {
namespace {

using testing::RandomSource;

constexpr double kWrong = 0.01;      // figures that are plainly wrong
constexpr double kMostSlack = 0.15;  // how far a session may lie under what was possible, in v
constexpr int kSecondsInMinute = 60;

double whole(double value) { return std::floor(value + 0.5); }

Typed<Pounds> typed_pounds(double value) {
  const double rounded = std::max(5.0, 5.0 * std::floor(value / 5.0 + 0.5));
  return {Pounds(rounded), fmt::format("{:.0f} lb", rounded)};
}

// What one reading of today says, in v: the truth, the person's habits, the noise; now and then nonsense.
double shown(const Evidence& reading, double truth, const Person& person, RandomSource& random, bool slack) {
  const auto habit = [&](const std::map<std::string, double>& of) { return of.at(reading.event); };
  const double shared =
      reading.setting_sd * habit(person.ways.setting) + reading.conversion_sd * habit(person.ways.conversion);
  const double own = reading.sd * reading.sd - reading.setting_sd * reading.setting_sd -
                     reading.conversion_sd * reading.conversion_sd;
  double y = truth + shared + std::sqrt(std::max(0.0, own)) * random.normal();
  if (slack) y -= random.real(0.0, kMostSlack);
  const double nonsense = random.real(0.15, 0.4);
  return random.chance(kWrong) ? y + nonsense : y;
}

Done of_deed(Deed deed) {
  Done out;
  out.what = std::move(deed);
  return out;
}

// The factor on a figure of `work` that makes it read as what was shown.
std::optional<double> factor(const WorkDone& work, double truth, const Person& person,
                             const Knowledge& knowledge, RandomSource& random, bool slack) {
  const auto reading = evidence_of(of_deed(work), knowledge.standard, knowledge.model);
  if (!reading) return std::nullopt;
  return numeric::exp(shown(*reading, truth, person, random, slack) - reading->v);
}

std::size_t index_of(const Standard& standard, const std::string& event) {
  const auto found = std::find_if(standard.events.begin(), standard.events.end(),
                                  [&](const Event& one) { return one.model_event == event; });
  return static_cast<std::size_t>(found - standard.events.begin());
}

}  // namespace

Typed<Seconds> typed_seconds(double value) {
  const int all = std::max(1, static_cast<int>(whole(value)));
  return {Seconds(all), fmt::format("{}:{:02}", all / kSecondsInMinute, all % kSecondsInMinute)};
}

WorkDone with_figures(WorkDone work, const Person& person, const Knowledge& knowledge, RandomSource& random) {
  const WorkKind& kind = *knowledge.model.find_work(work.work);
  const std::size_t e = index_of(knowledge.standard, kind.trains);
  const bool told = random.chance(0.5);
  const bool hard = random.chance(0.25);
  const int repetitions = random.integer(3, 6);
  const int reserve = random.integer(1, 3);
  const double miles = random.choice<double>({1.0, 1.5, 2.0});
  if (!told || e >= person.events.size()) return work;
  const double truth = person.events[e].ability();
  const double near = result_of(truth, knowledge.standard.events[e].direction);
  WorkDone out = work;
  const auto factor_of = [&](bool slack) {
    return factor(out, truth, person, knowledge, random, slack).value_or(1.0);
  };
  if (kind.family == "lift") {
    const auto left = hard ? std::nullopt : std::optional<double>(reserve);
    out.sets = {{repetitions, typed_pounds(near), left}};
    out.sets.front().load = typed_pounds(out.sets.front().load->value.value() * factor_of(hard));
  } else if (kind.family == "press") {
    out.hard = hard;
    const int count = std::max(1, static_cast<int>(whole(near)));
    out.sets = {{count, std::nullopt, std::nullopt}};
    out.sets.front().repetitions = std::max(1, static_cast<int>(whole(count * factor_of(!hard))));
  } else if (kind.running) {
    out.hard = hard;
    if (!hard) out.effort = 7;
    out.distance = Typed<Metres>{Metres(miles * kMetresPerMile), fmt::format("{} mi", miles)};
    out.time = typed_seconds(near * miles / 2.0);
    out.time = typed_seconds(out.time->value.value() / factor_of(!hard));
  } else if (hard) {
    out.hard = true;
    out.time = typed_seconds(near);
    const double f = factor_of(false);
    out.time =
        typed_seconds(kind.family == "hold" ? out.time->value.value() * f : out.time->value.value() / f);
  }
  return out;
}

ResultDone result_shown(std::size_t index, Setting setting, const Person& person, const Knowledge& knowledge,
                        RandomSource& random) {
  const Event& event = knowledge.standard.events[index];
  const double truth = person.events[index].ability();
  ResultDone out;
  out.event = event.id;
  out.setting = setting;
  out.value.value = result_of(truth, event.direction);
  const auto reading = evidence_of(of_deed(out), knowledge.standard, knowledge.model);
  const double off = shown(*reading, truth, person, random, false) - reading->v;
  const double value = result_of(truth + off, event.direction);
  if (event.unit == Unit::second) {
    const auto typed = typed_seconds(value);
    out.value = {typed.value.value(), typed.as_typed};
  } else if (event.unit == Unit::pound) {
    const auto typed = typed_pounds(value);
    out.value = {typed.value.value(), typed.as_typed};
  } else {
    const double rounded = std::max(1.0, whole(value));
    out.value = {rounded, fmt::format("{:.0f}", rounded)};
  }
  return out;
}

}  // namespace backplan::lab
