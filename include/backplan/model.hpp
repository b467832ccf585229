// The planner's defaults: how events respond, what each kind of work does, how sure measurements
// are. Everything is read from data/model/*.json, where each value has a source and a status;
// docs/defaults.md lists them all.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/units.hpp"

namespace backplan {

// How far a default can be trusted.
enum class Status { published, common_practice, memory, derived, judgement };
[[nodiscard]] std::string to_string(Status status);

// One default as the `assumptions` list of a plan prints it.
struct Assumption {
  std::string name;   // "events.MDL.k_per_week", one a figure of data/model
  std::string value;  // "0.12"
  std::string source;
  Status status = Status::judgement;
};

// What the planner may gain in an event: h = clip(share * gap + extra, least, most), in v.
struct Headroom {
  double share = 1.0;
  double extra = 0.0;
  double least = 0.0;
  double most = 1.0;
  // For holds: the cap falls to `most_above` once the result reaches `above` (in the event's unit),
  // with slope -1 in v before it, so that a better result never lowers the ceiling v0 + h.
  std::optional<double> above;
  double most_above = 1.0;
};

// The dose curve g(u) = 1 - exp(-u / u0) and its two marks.
struct Dose {
  double u0 = 1.0;
  double keep = 0.5;       // stimulus a week that holds the level
  double reference = 2.0;  // stimulus a week that adds 1 to S
};

struct Bias {
  double mean = 0.0;  // added to v to reach what the test day would show
  double sd = 0.0;
};

struct EventModel {
  std::string id;
  Headroom headroom;
  double headroom_factor = 1.0;  // what a squad's logs teach of all its people (pooling); 1: nothing
  double k_per_week = 0.1;
  double k_log_sd = 0.35;
  Dose dose;
  double loss_per_week = 0.01;     // in v, once grace is over
  double grace_days = 14;          // of a gap before loss begins
  double loss_cap = 0.12;          // in v
  double noise_sd = 0.03;          // of one result, in v
  double noise_least_units = 0.0;  // at least so many of the event's units
  double first_noise_sd = 0.0;     // on a first or self-timed attempt; 0: as usual
  double first_reads_low = 0.0;    // a first attempt shows this much less, in v
  std::map<Setting, Bias> bias;
  bool run = false;            // counts as running: last 10 days earn nothing
  int earns_nothing_days = 7;  // before the test
  std::string milestone_word;  // "three-repetition maximum"
};

enum class BlockSize { full, shorter, home };
inline constexpr std::array kBlockSizes{BlockSize::full, BlockSize::shorter, BlockSize::home};

struct BlockShape {
  int minutes = 0;
  double stimulus = 0.0;
};

// What a family leaves to the data. Texts are whole phrases; empty: the family's own.
struct WorkWords {
  std::string doing;     // "row"; "60 m sprints"
  std::string each;      // what counts as one: "full hang each time"
  std::string easier;    // how sets are made easier when the maximum is small
  std::string lowering;  // and the slow lowerings after them
  std::string stop;      // when to stop
};

// Sets at a share of the most repetitions (family press).
struct PressShape {
  int few = 10;  // under this maximum the exercise is made easier
};

// Parts of a distance against the clock, or the distance at a steady pace (family pieces).
struct PiecesShape {
  Metres piece{500.0};
  int most = 6;
  double faster = 1.02;  // the speed of a piece, by the speed of the event
  double steady = 0.85;  // and that of steady work
  Seconds rest{90.0};
};

// Something done a number of times with full rests (family drill).
struct DrillShape {
  double minutes_each = 3.0;  // with the rest
  int most = 10;
};

// Transfer from which a kind counts as work for an event.
inline constexpr double kFeeds = 0.4;

// Work that carries over to its run nearly in full is held at threshold; the rest is easy.
inline constexpr double kThresholdTransfer = 0.7;

// A way to train. `family` chooses the prescription: lift, press, shuttle, hold, intervals, steady,
// throw, pieces, drill (code knows how to write each family, data says which kind is of which).
struct WorkKind {
  std::string id;
  std::string name;  // "deadlift day"
  std::string family;
  std::string trains;                 // the event whose ability sets loads and paces
  std::vector<std::string> also_for;  // events for which a plan may place it, by effort
  std::vector<std::string> sports;    // parts of what a watch's file calls it; empty: done on foot, if at all
  std::string stops_like;             // the kind with which pain stops it; empty: the rules name it
  WorkWords words;
  PressShape press;
  PiecesShape pieces;
  DrillShape drill;
  BlockShape full;
  BlockShape shorter;
  std::optional<BlockShape> home;
  bool hard = false;
  bool heavy_lower = false;
  bool running = false;
  int most_a_week = 3;
  std::vector<std::string> needs;          // equipment keys
  std::map<std::string, double> transfer;  // by model event; see kFeeds

  // None: it is nothing to do at home.
  [[nodiscard]] const BlockShape* shape(BlockSize size) const;
};

// Work that a calendar can fix and that is not planned: counts as so much of a work kind.
struct FixedKind {
  std::string id;
  std::string name;
  std::string counts_as;  // a work kind
  double stimulus_per_minute = 0.0;
  bool running = false;            // its distance counts as a continuous run
  bool march = false;              // spaced from runs and deadlifts when long
  double hard_from_metres = 0.0;   // a hard day from this distance on
  double hard_from_minutes = 0.0;  // or this long, where no distance is given; 0: always, the greatest: never

  [[nodiscard]] bool is_hard(double minutes, std::optional<Metres> distance) const;
};

struct CommonFactor {
  double variance_share = 0.25;
};

struct ValueModel {
  double below_minimum_cost = 15.0;  // points
  double own_target_weight = 1.5;    // of an event with a target of its own
};

struct Model {
  std::map<std::string, EventModel> events;
  std::vector<WorkKind> work;  // in a fixed order
  std::vector<FixedKind> fixed;
  CommonFactor common;
  ValueModel value;
  double background_new = 1.0, background_regular = 0.6, background_long = 0.35;
  double headroom_per_decade = 0.9;  // for each decade over 35
  double headroom_sd_share = 0.5;
  double drift_per_sqrt_week = 0.01;
  int stale_after_days = 182;  // a result older than this is no evidence of today
  // In v, of a result from before the clearance after a pregnancy.
  double before_clearance_reads_high = 0.05, before_clearance_sd = 0.08;
  double unlogged_day_share = 0.85;
  // Where an event was never measured: the scale's own percentiles (60 points the 5th, 100 the 96th).
  double band_low_percentile = 0.05, band_high_percentile = 0.96;
  std::vector<Assumption> assumptions;
  std::string content_hash;

  [[nodiscard]] const EventModel* find_event(const std::string& id) const;
  [[nodiscard]] const WorkKind* find_work(const std::string& id) const;
  [[nodiscard]] const FixedKind* find_fixed(const std::string& id) const;
  [[nodiscard]] std::vector<std::string> work_ids() const;  // in the order of `work`
};

}  // namespace backplan
