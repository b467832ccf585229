#include "io/standard_frame.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "backplan/numeric.hpp"
#include "io/json_text.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

constexpr double kMostMeasured = 1e6;  // of any result, in any unit
constexpr int kMostAge = 150;
constexpr double kMostPoints = 10000.0;  // a decathlon has about 9000
constexpr std::size_t kMostIdLength = 40;
constexpr int kMostStep = 100;         // points from one row of a formula to the next
constexpr double kMostLimit = 7200.0;  // seconds that an event may be counted for

// Ids become file names and words of commands.
bool is_id(const std::string& text) {
  const auto fits = [](char c) {
    return ('a' <= c && c <= 'z') || ('A' <= c && c <= 'Z') || ('0' <= c && c <= '9') || c == '-' || c == '_';
  };
  return !text.empty() && text.size() <= kMostIdLength && text.front() != '-' &&
         std::all_of(text.begin(), text.end(), fits);
}

std::string read_id(const JsonCursor& at) {
  const std::string text = at.text().value_or("");
  if (at.is_text() && !is_id(text)) {
    at.fault(fmt::format("\"{}\" cannot be an id", text), "use letters, digits, - and _, 40 at most");
  }
  return text;
}

std::string read_words(const JsonCursor& at) {
  const std::string text = at.text().value_or("");
  if (at.is_text() && text.empty()) at.fault("an empty text", "write something here");
  return text;
}

// A key that must be there and may be null, which says "not known".
std::string read_words_or_null(const JsonCursor& at) {
  if (!at.exists() || at.is_null()) return {};
  return read_words(at);
}

Points read_points_value(const JsonCursor& at) {
  const double value = at.number(-kMostPoints, kMostPoints).value_or(0.0);
  const double tenths = std::floor(value * 10.0 + 0.5);
  constexpr double kSlack = 1e-6;
  if (std::fabs(value * 10.0 - tenths) > kSlack) at.fault("points finer than a tenth", "use whole tenths");
  return Points::from_tenths(static_cast<std::int32_t>(tenths));
}

void refuse_repeats(const std::vector<std::pair<std::string, JsonCursor>>& ids) {
  std::set<std::string> seen;
  for (const auto& [id, at] : ids) {
    if (!seen.insert(id).second) at.fault(fmt::format("\"{}\" is there twice", id), "ids must differ");
  }
}

std::optional<Unit> read_unit(const JsonCursor& at) {
  constexpr std::array<Unit, 8> kUnits{Unit::pound, Unit::kilogram,   Unit::repetition, Unit::second,
                                       Unit::metre, Unit::centimetre, Unit::kilometre,  Unit::go};
  const auto word = at.word({"lb", "kg", "reps", "mm:ss", "m", "cm", "km", "go"});
  for (const Unit unit : kUnits) {
    if (word && *word == unit_name(unit)) return unit;
  }
  return std::nullopt;
}

FormulaRule read_formula(const JsonCursor& at) {
  at.allow_only({"a", "b", "c", "per_unit", "least", "most", "step", "source"});
  constexpr double kSmallest = 1e-9;
  constexpr double kMostExponent = 10.0;
  FormulaRule rule;
  rule.formula.a = at.required("a").number(kSmallest, kMostMeasured).value_or(1.0);
  rule.formula.b = at.required("b").number(-kMostMeasured, kMostMeasured).value_or(0.0);
  rule.formula.c = at.required("c").number(0.1, kMostExponent).value_or(1.0);
  if (at.has("per_unit")) {
    rule.formula.per_unit = at.required("per_unit").number(kSmallest, kMostMeasured).value_or(1.0);
  }
  rule.formula.most = read_points_value(at.required("most"));
  if (at.has("least")) rule.least = read_points_value(at.required("least"));
  if (at.has("step"))
    rule.formula.step = Points::whole(at.required("step").integer(1, kMostStep).value_or(1));
  if (at.has("source")) static_cast<void>(read_words(at.required("source")));
  const bool whole = rule.least.tenths() % 10 == 0 && rule.formula.most.tenths() % 10 == 0;
  if (!whole || rule.least < Points() || rule.formula.most <= rule.least) {
    at.fault("the points of a formula must be whole, from 0, with most above least",
             "put least and most right");
  }
  return rule;
}

// A formula by which the best plausible result earns nothing is a slip in its figures.
void check_formula_reach(const JsonCursor& at, const FramedEvent& framed) {
  const Event& event = framed.event;
  const Scale::Formula& formula = framed.formula->formula;
  const bool more = event.direction == Direction::more_is_better;
  const double best = (more ? event.most_plausible : event.least_plausible) * formula.per_unit;
  const double distance = more ? best - formula.b : formula.b - best;
  const double wanted = std::max(framed.formula->least.value(), 1.0);
  if (distance > 0.0 && formula.a * numeric::pow(distance, formula.c) >= wanted) return;
  at.fault("no plausible result earns points by this formula",
           "check a, b, c, per_unit and the plausible range");
}

FramedEvent read_event(const JsonCursor& at) {
  at.allow_only({"id", "name", "unit", "direction", "resolution", "plausible", "model_event", "distance_m",
                 "formula", "choice", "time_limit_s", "each", "missing_rows"});
  FramedEvent framed;
  Event& event = framed.event;
  event.id = read_id(at.required("id"));
  event.name = read_words(at.required("name"));
  event.unit = read_unit(at.required("unit")).value_or(Unit::repetition);
  const auto direction = at.required("direction").word({"more_is_better", "less_is_better"});
  event.direction = direction == "less_is_better" ? Direction::less_is_better : Direction::more_is_better;
  constexpr double kFinest = 0.001;
  event.resolution = at.required("resolution").number(kFinest, kMostMeasured).value_or(1.0);
  const JsonCursor plausible = at.required("plausible");
  plausible.allow_only({"least", "most"});
  event.least_plausible = plausible.required("least").number(0.0, kMostMeasured).value_or(0.0);
  event.most_plausible = plausible.required("most").number(0.0, kMostMeasured).value_or(kMostMeasured);
  if (event.least_plausible >= event.most_plausible) plausible.fault("least is not below most", "swap them");
  event.model_event = read_words(at.required("model_event"));
  if (at.has("distance_m")) {
    event.distance = Metres(at.required("distance_m").number(1.0, kMostMeasured).value_or(1.0));
  }
  if (at.has("missing_rows")) event.whole_table = at.required("missing_rows").word({"none"}).has_value();
  if (at.has("choice")) event.choice = read_id(at.required("choice"));
  if (at.has("time_limit_s")) {
    event.time_limit = Seconds(at.required("time_limit_s").number(0.0, kMostLimit).value_or(0.0));
  }
  if (at.has("each")) event.each = read_words(at.required("each"));
  if (at.has("formula")) {
    framed.formula = read_formula(at.required("formula"));
    check_formula_reach(at.required("formula"), framed);
  }
  return framed;
}

void read_events(const JsonCursor& at, StandardFrame& frame) {
  std::vector<std::pair<std::string, JsonCursor>> ids;
  for (const JsonCursor& each : at.items()) {
    frame.events.push_back(read_event(each));
    frame.standard.events.push_back(frame.events.back().event);
    ids.emplace_back(frame.events.back().event.id, each);
  }
  if (at.is_array() && ids.empty()) at.fault("no event", "name the events in the order of the test");
  if (ids.size() > kMostEvents) {
    at.fault(fmt::format("{} events; a test has at most {}", ids.size(), kMostEvents),
             "make two standards of it");
  }
  refuse_repeats(ids);
}

void read_columns(const JsonCursor& at, Standard& standard) {
  std::vector<std::pair<std::string, JsonCursor>> ids;
  for (const JsonCursor& each : at.items()) {
    standard.columns.push_back(read_id(each));
    ids.emplace_back(standard.columns.back(), each);
  }
  if (at.is_array() && ids.empty()) at.fault("no column", "write [\"all\"] if one scale holds for everybody");
  refuse_repeats(ids);
}

void read_bands(const JsonCursor& at, Standard& standard) {
  for (const JsonCursor& each : at.items()) {
    each.allow_only({"least", "most"});
    const auto least = each.required("least").integer(0, kMostAge);
    const auto most = each.required("most").integer(0, kMostAge);
    if (!least || !most) continue;
    if (*least > *most) each.fault(fmt::format("the band goes from {} to {}", *least, *most), "swap them");
    if (!standard.bands.empty() && *least != standard.bands.back().most + 1) {
      each.fault(
          fmt::format("the band starts at {}, the one before ends at {}", *least, standard.bands.back().most),
          "bands follow each other without gap or overlap");
    }
    standard.bands.push_back({*least, *most});
  }
  if (at.is_array() && at.items().empty())
    at.fault("no age band", "write one from 0 to 99 if age is nothing");
}

void read_grid(const JsonCursor& at, Standard& standard) {
  PointGrid& grid = standard.points;
  if (at.is_text()) {
    // A passed event counts 1, a failed one 0: sums and chances then count events.
    standard.pass_or_fail = at.word({"pass or fail"}).has_value();
    grid = {Points(), Points::whole(1), Points::whole(1), false, Points()};
    return;
  }
  at.allow_only({"least", "most", "step", "below"});
  if (at.has("below")) grid.below = read_points_value(at.required("below"));
  grid.least = read_points_value(at.required("least"));
  grid.most = read_points_value(at.required("most"));
  grid.step = read_points_value(at.required("step"));
  if (grid.step <= Points()) {
    at.fault("a step of points that is not above 0", "write 1 or 0.5");
    grid.step = Points::whole(1);
  }
  if (grid.least >= grid.most) at.fault("least is not below most", "swap them");
  if (grid.below && *grid.below >= grid.most) at.fault("below is not under most", "write what a miss earns");
}

void read_total(const JsonCursor& at, Standard& standard) {
  at.allow_only({"kind", "weights"});
  const auto kind = at.required("kind").word({"sum", "weighted", "mean"});
  if (kind == "mean") standard.total = TotalKind::mean;
  if (kind != "weighted") {
    if (at.has("weights")) at.fault("weights without a weighted total", "remove them or write kind weighted");
    return;
  }
  standard.total = TotalKind::weighted;
  constexpr double kMostWeight = 100.0;
  const JsonCursor weights = at.required("weights");
  for (const auto& [id, weight] : weights.members()) {
    if (standard.find_event(id) == nullptr) weight.fault(fmt::format("no event \"{}\"", id), "use its id");
    standard.weights[id] = weight.number(0.0, kMostWeight).value_or(1.0);
  }
  for (const Event& event : standard.events) {
    if (!standard.weights.contains(event.id)) {
      weights.fault(fmt::format("no weight for {}", event.id), "give every event its weight");
    }
  }
}

Category read_category(const JsonCursor& at, const Standard& standard) {
  at.allow_only({"id", "name", "column", "each_minimum", "event_minimums", "total_minimum", "source"});
  const auto points_or_null = [&](std::string_view key) -> std::optional<Points> {
    const JsonCursor value = at.optional(key);
    if (!value.exists() || value.is_null()) return std::nullopt;
    return read_points_value(value);
  };
  Category category;
  category.id = read_id(at.required("id"));
  category.name = read_words(at.required("name"));
  category.column = read_words_or_null(at.optional("column"));
  const auto& columns = standard.columns;
  if (!category.column.empty() &&
      std::find(columns.begin(), columns.end(), category.column) == columns.end()) {
    at.optional("column").fault(fmt::format("unknown column \"{}\"", category.column),
                                fmt::format("known: {}", fmt::join(columns, ", ")));
  }
  category.each_minimum = points_or_null("each_minimum");
  if (standard.pass_or_fail && !category.each_minimum) category.each_minimum = Points::whole(1);
  if (at.has("event_minimums")) {
    for (const auto& [id, value] : at.required("event_minimums").members()) {
      if (standard.find_event(id) == nullptr) value.fault(fmt::format("no event \"{}\"", id), "use its id");
      category.event_minimums[id] = read_points_value(value);
    }
  }
  category.total_minimum = points_or_null("total_minimum");
  category.source = read_words(at.required("source"));
  return category;
}

void read_categories(const JsonCursor& at, Standard& standard) {
  std::vector<std::pair<std::string, JsonCursor>> ids;
  for (const JsonCursor& each : at.items()) {
    standard.categories.push_back(read_category(each, standard));
    ids.emplace_back(standard.categories.back().id, each);
  }
  if (at.is_array() && ids.empty()) at.fault("no category", "add one, with the rule of passing");
  refuse_repeats(ids);
}

void read_protocol(const JsonCursor& at, Standard& standard) {
  std::vector<std::pair<std::string, JsonCursor>> topics;
  for (const JsonCursor& each : at.items()) {
    each.allow_only({"topic", "value", "source"});
    standard.protocol.push_back({read_words(each.required("topic")),
                                 read_words_or_null(each.required("value")),
                                 read_words(each.required("source"))});
    topics.emplace_back(standard.protocol.back().topic, each);
  }
  refuse_repeats(topics);
}

void read_effective_from(const JsonCursor& at, Standard& standard) {
  standard.effective_from = read_words_or_null(at);
  if (standard.effective_from.empty()) return;
  const Reading<Date> date = read_date(standard.effective_from);
  if (!date.value) at.fault(date.problem, date.hint);
}

}  // namespace

Result<StandardFrame> read_frame(std::string_view text, const std::string& file) {
  auto json = parse_json(text, file);
  if (!json) return json.faults();
  Diagnostics faults;
  const JsonCursor root(json.value(), faults);
  root.allow_only({"format", "id", "title", "source", "effective_from", "columns", "age_bands", "points",
                   "missing_rows", "total", "categories", "events", "protocol"});
  StandardFrame frame;
  Standard& standard = frame.standard;
  static_cast<void>(root.required("format").word({"backplan-standard/1"}));
  standard.id = read_id(root.required("id"));
  standard.title = read_words(root.required("title"));
  standard.source = read_words(root.required("source"));
  read_effective_from(root.optional("effective_from"), standard);
  read_columns(root.required("columns"), standard);
  read_bands(root.required("age_bands"), standard);
  read_grid(root.required("points"), standard);
  standard.points.fills_missing_rows =
      root.required("missing_rows").word({"interpolated", "none"}) == "interpolated";
  read_events(root.required("events"), frame);
  read_total(root.required("total"), standard);
  read_categories(root.required("categories"), standard);
  if (root.has("protocol")) read_protocol(root.required("protocol"), standard);
  if (has_error(faults)) return faults;
  return frame;
}

}  // namespace backplan::io
