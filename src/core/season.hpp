// The weeks between today and the test: what each may hold, and how they are filled.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "backplan/outlook.hpp"
#include "backplan/units.hpp"
#include "core/allocation.hpp"
#include "core/filling.hpp"
#include "core/so_far.hpp"

namespace backplan {

inline constexpr int kOpenDaysOfAWeek = 4;        // fewer open days: the week counts as blocked for the ramp
inline constexpr std::size_t kWeeksCompared = 3;  // build weeks by which deloads and tapers are measured
inline constexpr int kFormFirstWeeks = 2;         // of somebody new: the movement first, nothing timed
inline constexpr int kNoTrainingWeek = 99;        // of the taper: past all limits of the first weeks

struct SeasonWeek {
  int index = 0;             // counted back from the test
  int first = 0, count = 0;  // calendar days
  Phase phase = Phase::build;
  bool full = false;  // seven days, none blocked
  bool kept = false;  // its days stay as an earlier plan has them
  int open = 0;       // days that are not blocked
  int fixed_hard = 0;
  int tests = 0;                // practice tests: hard days that the ramp does not count as training
  std::vector<PlacedDay> days;  // count of them
  int minutes = 0;
  int hard = 0;                   // hard sessions, fixed ones included
  Column column;                  // what it does
  std::optional<Segment> deload;  // the limits of a deload week, from the weeks before it
};

// A filled season and what it brings.
struct Season {
  std::vector<SeasonWeek> weeks;  // in order of time
  Dosage dosage;
  double value = 0.0, bound = 0.0;
  int minutes_per_week = 0;  // median of the full build weeks
};

// Where a plan goes on from an earlier one.
struct Beginning {
  SoFar so_far;
  std::vector<PlannedWeek> kept;  // of the earlier plan; their days from today on stay as they are
  bool goes_on = false;  // from a plan for the same test that was made in time: its taper stays a taper
};

// The week that a group has in common, and what this person would rather keep of it.
struct Following {
  Pack pack;
  Stations stations;
  Stations instead;  // where a block that this person may not do leaves room for another one
  Prices prices;
};

// Names a segment by all that its packs depend on: equal names, equal packs.
void sign(Segment& segment, const Calendar& calendar);

// All that does not change while budgets are compared.
class SeasonPlanner {
 public:
  SeasonPlanner(const Candidate& candidate, const Knowledge& knowledge, Date as_of);
  // From states fitted before, by a history, and what the days before today leave to the rules.
  SeasonPlanner(const Candidate& candidate, const Knowledge& knowledge, Date as_of,
                std::vector<EventState> states, Beginning beginning = {},
                std::shared_ptr<const DoseTables> tables = nullptr);

  // Fills the weeks with at most so many minutes each.
  [[nodiscard]] Season fill(int most_minutes, const AllocationEffort& effort);
  // Fills the weeks with one pack, as far as each may hold it (a squad's common mornings).
  [[nodiscard]] Season follow(const Following& following);
  // Nothing planned: what there is is held by habit, or lost where nothing is done.
  [[nodiscard]] Dosage holding() const;
  [[nodiscard]] Outlook outlook(const Dosage& dosage) const;
  // In v: what spells and gaps that are in the calendar have cost an event by the morning of a day, against
  // today's level. On the test day it is the state's `fixed_loss`.
  [[nodiscard]] double gap_loss(std::size_t event, Date on) const;
  [[nodiscard]] std::vector<TotalBin> total_bins(const Dosage& dosage) const;
  // More than any plan can bring: in every week that counts, every event gets all that it can take in.
  [[nodiscard]] Dosage utmost() const;

  [[nodiscard]] const Calendar& calendar() const { return calendar_; }
  [[nodiscard]] const std::vector<EventState>& states() const { return states_; }
  [[nodiscard]] int available_minutes() const { return available_; }
  [[nodiscard]] int age() const { return age_; }
  [[nodiscard]] bool too_late() const { return too_late_; }  // for training: under eight days
  [[nodiscard]] const std::vector<Segment>& segments() const { return segments_; }
  [[nodiscard]] const PackSearch& search() const { return search_; }

 private:
  [[nodiscard]] Segment segment_of(int week, int first, int count, int training_week) const;
  struct SpanFacts;
  [[nodiscard]] SpanFacts facts_of(int first, int count) const;
  void limit_minutes(Segment& segment, const SpanFacts& here) const;
  // `taper`: the days of it in the same week; null: none.
  void limit_days(Segment& segment, const SpanFacts& here, const SpanFacts* taper, int training_week) const;
  [[nodiscard]] bool wants_rehearsal(const Segment& segment, int training_week) const;
  void lay_out_weeks();
  void count_weeks(Segment& segment) const;
  void add_fixed_work(Segment& segment) const;
  [[nodiscard]] bool is_untrained() const;  // as far as is said; else by the background
  void note_ramps();
  void mark_deloads(AllocationTask& task) const;
  // A whole week in which nothing is blocked and there are no minutes.
  [[nodiscard]] bool is_empty(const SeasonWeek& week) const;
  // An empty week, or one in which a spell of rest ends that is as good as a deload.
  [[nodiscard]] bool resets_deloads(const SeasonWeek& week) const;
  enum class RunEnds { within, before_taper };
  // Weeks of a run of build weeks that are deloads; `run`: the place of each, none where it cannot be one.
  void settle_deloads(AllocationTask& task, const std::vector<std::optional<std::size_t>>& run,
                      RunEnds ends) const;
  void set_fixed_losses();
  // Worked out by the first filling: a planner that is only asked for an outlook does without.
  [[nodiscard]] const std::vector<EventValue>& values();
  [[nodiscard]] AllocationTask task_for(int most_minutes, bool with_deloads) const;
  [[nodiscard]] Season schedule(const AllocationTask& task, const Allocation& allocation);
  [[nodiscard]] bool needs_deload_choice() const;
  // Some build week with so much hard work that deloads are due.
  [[nodiscard]] bool trains_hard(const Season& season) const;
  [[nodiscard]] static bool has_deload(const Season& season);
  // The candidate gives a slot of its own to some day of it.
  [[nodiscard]] bool has_own_slots(const SeasonWeek& week) const;
  [[nodiscard]] Season fill_with_deloads(AllocationTask task, const AllocationEffort& effort);
  // The most hard sessions, fixed ones included, after what the weeks before hold.
  [[nodiscard]] int ramp_limit(const std::vector<SeasonWeek>& weeks, std::size_t week) const;
  // Blocks of the kept days from `first` on, by kind and size.
  [[nodiscard]] Pack kept_pack(int first, int count) const;
  [[nodiscard]] const PlannedDay* kept_day(Date date) const;
  void place_kept(SeasonWeek& week) const;
  void limit_by_done(Segment& segment) const;
  struct Trail;
  struct Wanted {
    const Pack& pack;
    const Prices& prices;
    bool proven = false;  // then a deload's pack is the best one, too, not only a good one
  };
  // A week's limits once the weeks before it are known.
  [[nodiscard]] Segment build_limits(Segment segment, const std::vector<SeasonWeek>& weeks,
                                     std::size_t w) const;
  [[nodiscard]] Segment deload_limits(Segment segment, const SeasonWeek& week, const Trail& trail) const;
  [[nodiscard]] int usual_minutes(const Trail& trail) const;
  // Puts a week's work on its days and says what it is.
  [[nodiscard]] Pack place_week(SeasonWeek& week, Segment segment, const Wanted& wanted, const Trail& trail);
  void fill_up(Filling& filling, int least_minutes) const;
  void note(const SeasonWeek& week, Trail& trail) const;
  [[nodiscard]] std::vector<bool> trained_kinds(const Season& season) const;
  [[nodiscard]] Segment taper_segment(const std::vector<SeasonWeek>& weeks, std::size_t w, int first,
                                      int usual_minutes) const;
  void thin(Filling& filling, const std::vector<bool>& trained) const;
  [[nodiscard]] int minutes_before_taper(const Season& season, const std::vector<int>& build_minutes) const;
  void place_taper(Season& season, const std::vector<int>& build_minutes) const;
  void finish(Season& season);
  [[nodiscard]] Allocation following_columns(AllocationTask& task);
  void name_following(Segment& segment) const;
  [[nodiscard]] Pack lighter_common_week(Segment& segment, const Pack& pack, int least_minutes);
  [[nodiscard]] bool forbids_some(const Segment& segment) const;

  const Candidate& candidate_;
  const Knowledge knowledge_;
  Date as_of_;
  int age_ = 0;
  int available_ = 0;
  int home_minutes_ = 0;  // of the longest block at home; 0: none of that work is for this test
  bool too_late_ = false;
  int taper_days_ = 7;
  Beginning beginning_;
  Calendar calendar_;
  std::vector<EventState> states_;
  std::vector<EventValue> values_;            // made when first asked for
  std::shared_ptr<const DoseTables> tables_;  // of the doses of these states; people share them
  PackSearch search_;
  std::vector<SeasonWeek> weeks_;   // the layout, unfilled
  std::vector<double> week_share_;  // of the minutes, by ramps
  std::optional<Following> following_;
  std::vector<Segment> segments_;  // the part of each week that can be planned freely; may be empty
};

}  // namespace backplan
