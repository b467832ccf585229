#include "backplan/standard.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "backplan/numeric.hpp"

namespace backplan {
namespace {

// A result that is a whole number of steps may miss it by the rounding of its decimal digits (8.4/0.1)
// or of one unit conversion: relative 1e-15, so below 1e-9 of a step for any result of under a million
// steps. A millionth of a step is far above that and far below anything a stopwatch or tape can tell.
constexpr double kStepSlack = 1e-6;

// Points of a formula before the cut to whole points. numeric::pow is exact to some 5e-15 of the value, so
// to 5e-11 for scores under ten thousand; a billionth above that error lets exact whole values count as
// reached, and no step of a real mark changes the points by so little.
constexpr double kPointSlack = 1e-9;

// Steps of `resolution` in the result, on the harder side; a whole number kept as double.
double steps_of(double result, double resolution, Direction direction) {
  const double steps = result / resolution;
  return direction == Direction::more_is_better ? std::floor(steps + kStepSlack)
                                                : std::ceil(steps - kStepSlack);
}

double result_of_steps(double steps, double resolution) {
  // 84 steps of a tenth as 84/10: the double nearest to 8.4, the same as reading "8.4".
  const double per_unit = std::floor(1.0 / resolution + 0.5);
  const bool is_fraction = resolution < 1.0 && std::fabs(per_unit * resolution - 1.0) < kStepSlack;
  return is_fraction ? steps / per_unit : steps * resolution;
}

// floor(a * d^c) with d the distance of x on the scoring side of b; 0 on the other side.
Points formula_points(const Scale::Formula& formula, Direction direction, double result) {
  const double x = result * formula.per_unit;
  const double distance = direction == Direction::more_is_better ? x - formula.b : formula.b - x;
  if (!(distance > 0.0)) return Points();
  const double points = std::floor(formula.a * numeric::pow(distance, formula.c) + kPointSlack);
  return Points::whole(static_cast<std::int32_t>(std::min(points, 1e8)));
}

// The easiest result in whole steps that earns `points`: the inverse of the formula, put right by
// single steps where its rounding misses. None when the inverse leaves what doubles can count.
std::optional<double> easiest_result(const Scale::Formula& formula, Direction direction, double resolution,
                                     Points points) {
  const bool more = direction == Direction::more_is_better;
  const double distance =
      points.tenths() <= 0 ? 0.0 : numeric::pow(points.value() / formula.a, 1.0 / formula.c);
  const double x = more ? formula.b + distance : formula.b - distance;
  const double harder = more ? 1.0 : -1.0;
  double steps = steps_of(x / formula.per_unit, resolution, direction);
  const auto earns = [&](double at) {
    return formula_points(formula, direction, result_of_steps(at, resolution)) >= points;
  };
  constexpr int kMostCorrections = 8;  // the inverse misses by one step, or by none
  for (int i = 0; i < kMostCorrections && !earns(steps); ++i) steps += harder;
  for (int i = 0; i < kMostCorrections && points.tenths() > 0 && earns(steps - harder); ++i) steps -= harder;
  if (!earns(steps)) return std::nullopt;
  return result_of_steps(steps, resolution);
}

std::vector<Row> formula_rows(const Scale::Formula& formula, Direction direction, double resolution,
                              Points least) {
  std::vector<Row> rows;
  for (Points points = least; points <= formula.most; points = points + formula.step) {
    const std::optional<double> result = easiest_result(formula, direction, resolution, points);
    if (!result || *result < 0.0) break;  // no time is below zero
    // A step that is worth several points earns the most of them.
    if (!rows.empty() && rows.back().result == *result) rows.pop_back();
    rows.push_back({points, *result, Origin::formula, {}});
  }
  return rows;
}

}  // namespace

double round_harder(double result, double resolution, Direction direction) {
  return result_of_steps(steps_of(result, resolution, direction), resolution);
}

Scale Scale::steps(Direction direction, double resolution, std::vector<Row> rows) {
  if (rows.empty()) throw std::logic_error("a scale needs a row");
  std::sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.points < b.points; });
  Scale scale;
  scale.direction_ = direction;
  scale.resolution_ = resolution;
  scale.rows_ = std::move(rows);
  return scale;
}

Scale Scale::formula(Direction direction, double resolution, Formula formula, Points least) {
  Scale scale;
  scale.direction_ = direction;
  scale.resolution_ = resolution;
  scale.rows_ = formula_rows(formula, direction, resolution, least);
  if (scale.rows_.empty()) throw std::logic_error("a formula scale without rows");
  scale.formula_ = formula;
  return scale;
}

Scale Scale::with_floor(Points points) const {
  Scale scale = *this;
  scale.floor_ = points;
  return scale;
}

bool Scale::at_least(double a, double b) const {
  const double steps_a = steps_of(a, resolution_, direction_);
  const double steps_b = steps_of(b, resolution_, direction_);
  return direction_ == Direction::more_is_better ? steps_a >= steps_b : steps_a <= steps_b;
}

Score Scale::score(double result) const {
  const auto above = std::partition_point(rows_.begin(), rows_.end(),
                                          [&](const Row& row) { return at_least(result, row.result); });
  if (formula_ && (above != rows_.begin() || floor_)) {
    // Beyond the rows that are kept for planning a formula goes on, up and down.
    return {formula_points(*formula_, direction_, round_harder(result, resolution_, direction_)),
            Origin::formula};
  }
  if (above == rows_.begin()) return {floor_, rows_.front().origin};
  const Row& row = *std::prev(above);
  return {row.points, row.origin};
}

std::optional<Row> Scale::next_row(double result) const {
  const auto above = std::partition_point(rows_.begin(), rows_.end(),
                                          [&](const Row& row) { return at_least(result, row.result); });
  if (above == rows_.end()) return std::nullopt;
  return *above;
}

std::optional<Row> Scale::row_for(Points points) const {
  const auto row =
      std::partition_point(rows_.begin(), rows_.end(), [&](const Row& each) { return each.points < points; });
  if (row == rows_.end()) return std::nullopt;
  return *row;
}

const Event* Standard::find_event(const std::string& wanted) const {
  for (const Event& event : events) {
    if (event.id == wanted) return &event;
  }
  return nullptr;
}

const Event* Standard::first_of_model(const std::string& model_event) const {
  for (const Event& event : events) {
    if (event.model_event == model_event) return &event;
  }
  return nullptr;
}

std::optional<Points> Category::minimum_of(const std::string& event) const {
  const auto own = event_minimums.find(event);
  return own == event_minimums.end() ? each_minimum : std::optional<Points>(own->second);
}

bool has_choices(const Standard& standard) {
  return std::any_of(standard.events.begin(), standard.events.end(),
                     [](const Event& event) { return !event.choice.empty(); });
}

bool has_pass_marks(const Standard& standard) {
  return standard.pass_or_fail || std::any_of(standard.categories.begin(), standard.categories.end(),
                                              [](const Category& one) { return one.has_minimum(); });
}

Standard with_choice(const Standard& standard, const std::vector<std::string>& chosen) {
  std::map<std::string, std::string> done;  // by group
  for (const Event& event : standard.events) {
    if (event.choice.empty()) continue;
    const bool named = std::find(chosen.begin(), chosen.end(), event.id) != chosen.end();
    const auto [held, first] = done.try_emplace(event.choice, event.id);
    if (named && !first) held->second = event.id;
  }
  Standard out = standard;
  out.events.clear();
  for (const Event& event : standard.events) {
    const bool kept = event.choice.empty() || done[event.choice] == event.id;
    (kept ? out.events : out.not_chosen).push_back(event);
  }
  return out;
}

const Category* Standard::find_category(const std::string& wanted) const {
  for (const Category& category : categories) {
    if (category.id == wanted) return &category;
  }
  return nullptr;
}

std::optional<AgeBand> Standard::band_of(int age) const {
  for (const AgeBand& band : bands) {
    if (band.least <= age && age <= band.most) return band;
  }
  return std::nullopt;
}

const Scale* Standard::scale_for(const Event& event, const std::string& own_column, int age,
                                 const Category& category) const {
  const std::optional<AgeBand> band = band_of(age);
  if (!band) return nullptr;
  // A standard with one column for everybody scores everybody on it.
  const std::string& own = columns.size() == 1 ? columns.front() : own_column;
  const auto found = scales.find({event.id, category.column.empty() ? own : category.column, *band});
  return found == scales.end() ? nullptr : &found->second;
}

int age_on(Date birth, Date day) {
  const std::chrono::year_month_day born(birth);
  const std::chrono::year_month_day then(day);
  const int years = static_cast<int>(then.year()) - static_cast<int>(born.year());
  // 29 February sorts after 28 February and before 1 March, which is the rule for common years.
  const auto birthday = born.month() / born.day();
  return then.month() / then.day() < birthday ? years - 1 : years;
}

}  // namespace backplan
