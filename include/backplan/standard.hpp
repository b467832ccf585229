// One official test: events, scales, pass rules, protocol. Everything in it comes from a data
// folder; no event, column or category is named in code.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "backplan/points.hpp"
#include "backplan/units.hpp"

namespace backplan {

// Events of one standard: what the planner's tables have room for; the most of any shipped one is ten.
inline constexpr std::size_t kMostEvents = 16;

// Where a cell of a scale comes from, weakest last.
enum class Origin { official, published, formula, memory, interpolated };
[[nodiscard]] std::string to_string(Origin origin);

enum class Direction { more_is_better, less_is_better };

// The result as the test records it: rounded to whole steps of `resolution` on the harder side (155 lb
// counts as 150 in 10 lb steps, 15:32.4 as 15:33).
[[nodiscard]] double round_harder(double result, double resolution, Direction direction);

// One known or filled row of a step scale: at least `result` earns `points`.
struct Row {
  Points points;
  double result = 0.0;  // in the event's unit
  Origin origin = Origin::memory;
  std::string source;
};

// What a scale says of a result.
struct Score {
  std::optional<Points> points;  // none: below the lowest known row, or not scored
  Origin origin = Origin::memory;
};

// The scale of one event for one column and age band. A step scale gives a result between two rows
// the lower row's points; a formula scale gives floor(a * |b - x|^c).
class Scale {
 public:
  struct Formula {
    double a = 0.0;
    double b = 0.0;
    double c = 0.0;
    double per_unit = 1.0;           // x = result * per_unit (jumps are scored in centimetres)
    Points most;                     // rows are built up to here for planning
    Points step = Points::whole(1);  // and in these steps
  };

  // Rows in any order; they must be strictly monotonic in points and in result (standard_io checks).
  static Scale steps(Direction direction, double resolution, std::vector<Row> rows);
  static Scale formula(Direction direction, double resolution, Formula formula, Points least);
  // The same scale, on which every result under the lowest row earns `points` (they may be negative).
  [[nodiscard]] Scale with_floor(Points points) const;

  [[nodiscard]] Score score(double result) const;
  // The row that the next better score starts at; none at the top of the scale.
  [[nodiscard]] std::optional<Row> next_row(double result) const;
  // The easiest result that earns at least these points; none when the scale does not reach them.
  [[nodiscard]] std::optional<Row> row_for(Points points) const;

  // Rows from the lowest to the highest points. Never empty.
  [[nodiscard]] const std::vector<Row>& rows() const { return rows_; }
  // What a result under the lowest row earns; none where that is not known.
  [[nodiscard]] const std::optional<Points>& floor() const { return floor_; }
  [[nodiscard]] Direction direction() const { return direction_; }
  [[nodiscard]] double resolution() const { return resolution_; }
  // True when `a` is at least as good as `b`.
  [[nodiscard]] bool at_least(double a, double b) const;

 private:
  Direction direction_ = Direction::more_is_better;
  double resolution_ = 1.0;
  std::vector<Row> rows_;
  std::optional<Formula> formula_;
  std::optional<Points> floor_;
};

struct AgeBand {
  int least = 0;  // inclusive
  int most = 0;   // inclusive
  friend auto operator<=>(const AgeBand&, const AgeBand&) = default;
};
[[nodiscard]] std::string to_string(AgeBand band);  // "22-26", "62+"

// A fact of the protocol with its source; `value` is empty when the fact is not known.
struct ProtocolFact {
  std::string topic;
  std::string value;
  std::string source;
};

struct Event {
  std::string id;    // "MDL"
  std::string name;  // "deadlift"
  Unit unit = Unit::repetition;
  Direction direction = Direction::more_is_better;
  double resolution = 1.0;       // smallest step of a result, in the event's unit
  double least_plausible = 0.0;  // results outside are refused as typing slips
  double most_plausible = 0.0;
  std::string model_event;         // whose defaults in data/model/events.json it trains by
  std::optional<Metres> distance;  // of a run, a row, a march
  bool whole_table = false;        // its missing rows do not exist, whatever the standard fills
  std::string choice;              // the group of which only one event is done; empty: always done
  // Of counted events: the clock, 0 s for none at all. None where the standard does not say.
  std::optional<Seconds> time_limit;
  std::string each;  // of counted events: what every repetition must be, in words; may be empty
};

// Who must reach what. `column` empty: the candidate's own column; otherwise everybody is scored on it.
struct Category {
  std::string id;  // "general"
  std::string name;
  std::string column;
  std::optional<Points> each_minimum;
  std::map<std::string, Points> event_minimums;  // where an event has one of its own, by id
  std::optional<Points> total_minimum;
  std::string source;

  // What an event must earn to pass; none if nothing is asked.
  [[nodiscard]] std::optional<Points> minimum_of(const std::string& event) const;
  // Whether anything at all is asked, so that there is a passing.
  [[nodiscard]] bool has_minimum() const { return each_minimum || total_minimum || !event_minimums.empty(); }
};

enum class TotalKind { sum, weighted, mean };

// The points that one event can earn, and whether a points value without a row in the data is only
// unknown (filled by a straight line) or does not exist (levels, cut-scores).
struct PointGrid {
  Points least;
  Points most;
  Points step = Points::whole(1);
  bool fills_missing_rows = false;
  std::optional<Points> below;  // what a result under the lowest row earns
};

struct ScaleKey {
  std::string event;
  std::string column;
  AgeBand band;
  friend auto operator<=>(const ScaleKey&, const ScaleKey&) = default;
};

struct Standard {
  std::string id;
  std::string title;
  std::string source;
  std::string effective_from;     // ISO date or empty
  std::vector<Event> events;      // in the order of the test
  std::vector<Event> not_chosen;  // alternates that this candidate leaves out
  bool pass_or_fail = false;      // no points: a passed event counts 1, a failed one 0
  std::vector<std::string> columns;
  std::vector<AgeBand> bands;
  std::vector<Category> categories;
  PointGrid points;
  TotalKind total = TotalKind::sum;
  std::map<std::string, double> weights;  // by event id, for TotalKind::weighted
  std::vector<ProtocolFact> protocol;
  std::map<ScaleKey, Scale> scales;
  std::string content_hash;  // of the files it was read from

  [[nodiscard]] const Event* find_event(const std::string& id) const;
  // The first event that trains by this event of the model: loads and paces of its work are set by it.
  [[nodiscard]] const Event* first_of_model(const std::string& model_event) const;
  [[nodiscard]] const Category* find_category(const std::string& id) const;
  // The band that holds this age; none when the standard does not score it.
  [[nodiscard]] std::optional<AgeBand> band_of(int age) const;
  // The scale by which a person of this column, age and category is scored; none if unknown.
  [[nodiscard]] const Scale* scale_for(const Event& event, const std::string& own_column, int age,
                                       const Category& category) const;
};

// Whether some events are alternates of which one is chosen.
[[nodiscard]] bool has_choices(const Standard& standard);
// Whether any category asks for something, so that there is a passing.
[[nodiscard]] bool has_pass_marks(const Standard& standard);
// The standard with one event of each group of alternates: the chosen one, or the first.
[[nodiscard]] Standard with_choice(const Standard& standard, const std::vector<std::string>& chosen);

// Completed years on that day. Born on 29 February: a year older on 1 March of common years.
[[nodiscard]] int age_on(Date birth, Date day);

}  // namespace backplan
