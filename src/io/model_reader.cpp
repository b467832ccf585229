#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <set>

#include "io/figure.hpp"
#include "io/json_text.hpp"
#include "io/readers.hpp"

namespace backplan::io {

namespace {

// Ranges that catch slips of the pen; what is inside them is the author's business.
constexpr Range kLogGain{0.0, 3.0};  // e^3: twentyfold, more than any event can gain
constexpr Range kLogShift{-1.0, 1.0};
constexpr Range kRate{0.001, 2.0};  // a week
constexpr Range kDoseRange{0.01, 50.0};
constexpr Range kUnits{0.0, 100000.0};
constexpr Range kPointsRange{0.0, 1000.0};
constexpr Range kWeight{1.0, 100.0};
constexpr Range kPerMinute{0.0, 1.0};
constexpr int kMostBlockMinutes = 240;
constexpr int kMostBlocksAWeek = 14;
constexpr int kMostStaleDays = 3660;

// A data file's text that must say something.
std::string read_words(const JsonCursor& owner, std::string_view key) {
  const JsonCursor cursor = owner.required(key);
  std::string words = cursor.text().value_or("");
  if (cursor.is_text() && words.empty()) cursor.fault("an empty text", "write what it is called");
  return words;
}

bool read_flag(const JsonCursor& owner, std::string_view key) {
  return owner.required(key).boolean().value_or(false);
}

// Reads data/model/events.json.
class EventsReader {
 public:
  explicit EventsReader(std::vector<Assumption>& list) : list_(list) {}

  EventModel read(const std::string& id, const JsonCursor& cursor) {
    cursor_ = &cursor;
    event_ = EventModel{};
    event_.id = id;
    cursor.allow_only({"milestone_word", "run", "headroom", "k_per_week", "k_log_sd", "dose", "loss", "noise",
                       "first_attempt", "bias", "earns_nothing_days"});
    event_.milestone_word = read_words(cursor, "milestone_word");
    event_.run = read_flag(cursor, "run");
    read_headroom();
    event_.k_per_week = figure("k_per_week").number(kRate);
    event_.k_log_sd = figure("k_log_sd").number(kRate);
    read_dose();
    read_loss();
    read_noise();
    read_bias();
    event_.earns_nothing_days = figure("earns_nothing_days").integer(0, kYearOfDays);
    return event_;
  }

 private:
  Figure figure(std::string_view key) {
    return {*cursor_, key, fmt::format("events.{}.{}", event_.id, key), list_};
  }

  void read_headroom() {
    Figure group = figure("headroom");
    Headroom& headroom = event_.headroom;
    group.value().allow_only({"share", "extra", "least", "most", "above", "most_above"});
    headroom.share = group.number("share", kShare);
    headroom.extra = group.number("extra", kLogGain);
    headroom.least = group.number("least", kLogGain);
    headroom.most = group.number("most", kLogGain);
    if (group.value().has("above") || group.value().has("most_above")) {
      headroom.above = group.number("above", kUnits);
      headroom.most_above = group.number("most_above", kLogGain);
      if (group.sound() && headroom.most_above > headroom.most) {
        group.value().fault("\"most_above\" is more than \"most\"",
                            "let the cap fall, not rise, with the result");
      }
    }
    if (group.sound() && headroom.least > headroom.most) {
      group.value().fault("\"least\" is more than \"most\"", "let \"least\" be the smaller of the two");
    }
  }

  void read_dose() {
    Figure group = figure("dose");
    group.value().allow_only({"u0", "keep", "reference"});
    event_.dose.u0 = group.number("u0", kDoseRange);
    event_.dose.keep = group.number("keep", kDoseRange);
    event_.dose.reference = group.number("reference", kDoseRange);
    if (group.sound() && event_.dose.keep >= event_.dose.reference) {
      group.value().fault("\"keep\" is not less than \"reference\"",
                          "a dose that improves must be larger than one that holds");
    }
  }

  void read_loss() {
    Figure group = figure("loss");
    group.value().allow_only({"per_week", "grace_days", "cap"});
    event_.loss_per_week = group.number("per_week", kShare);
    event_.grace_days = group.number("grace_days", {0.0, kYearOfDays});
    event_.loss_cap = group.number("cap", kShare);
  }

  void read_noise() {
    Figure noise = figure("noise");
    noise.value().allow_only({"sd", "least_units"});
    constexpr Range kSd{0.001, 1.0};  // a result without any noise would outweigh all others
    event_.noise_sd = noise.number("sd", kSd);
    event_.noise_least_units = noise.number("least_units", kUnits);
    Figure first = figure("first_attempt");
    first.value().allow_only({"noise_sd", "reads_low"});
    event_.first_noise_sd = first.number("noise_sd", kShare);
    event_.first_reads_low = first.number("reads_low", kShare);
  }

  void read_bias() {
    const JsonCursor group = cursor_->required("bias");
    if (!group.exists()) return;
    group.allow_only({"record", "practice", "single", "self", "estimate"});
    for (const Setting setting :
         {Setting::record, Setting::practice, Setting::single, Setting::self, Setting::estimate}) {
      const std::string word = to_string(setting);
      if (!group.has(word)) continue;
      Figure bias(group, word, fmt::format("events.{}.bias.{}", event_.id, word), list_);
      bias.value().allow_only({"mean", "sd"});
      event_.bias[setting] = {bias.number("mean", kLogShift), bias.number("sd", kShare)};
    }
  }

  std::vector<Assumption>& list_;
  const JsonCursor* cursor_ = nullptr;
  EventModel event_;
};

std::map<std::string, EventModel> read_events(const JsonCursor& root, std::vector<Assumption>& list) {
  root.allow_only({"format", "events"});
  std::map<std::string, EventModel> events;
  EventsReader reader(list);
  const JsonCursor group = root.required("events");
  if (!group.exists()) return events;
  for (const auto& [id, cursor] : group.members()) events[id] = reader.read(id, cursor);
  return events;
}

// Reads data/model/work.json. Events that nobody knows are faults, so it wants their ids first; none
// where the events could not be read.
class WorkReader {
 public:
  WorkReader(std::vector<std::string> events, std::vector<Assumption>& list)
      : events_(std::move(events)), list_(list) {}

  void read(const JsonCursor& root, Model& model) {
    root.allow_only({"format", "work", "fixed"});
    const JsonCursor work = root.required("work");
    if (work.exists()) {
      for (const JsonCursor& cursor : work.items()) model.work.push_back(read_kind(cursor));
    }
    for (const WorkKind& kind : model.work) kinds_.push_back(kind.id);
    const JsonCursor fixed = root.required("fixed");
    if (!fixed.exists()) return;
    for (const JsonCursor& cursor : fixed.items()) model.fixed.push_back(read_fixed(cursor));
  }

 private:
  std::string read_id(const JsonCursor& cursor) {
    const std::string id = read_words(cursor, "id");
    if (!id.empty() && !seen_.insert(id).second) {
      cursor.required("id").fault(fmt::format("the id \"{}\" stands here a second time", id), "rename one");
    }
    return id;
  }

  Figure figure(const JsonCursor& cursor, const std::string& owner, std::string_view key) {
    return {cursor, key, fmt::format("{}.{}", owner, key), list_};
  }

  BlockShape read_shape(const JsonCursor& cursor, const std::string& owner, std::string_view key) {
    Figure group = figure(cursor, owner, key);
    group.value().allow_only({"minutes", "stimulus"});
    BlockShape shape;
    shape.minutes = group.integer("minutes", 1, kMostBlockMinutes);
    shape.stimulus = group.number("stimulus", {0.01, 10.0});
    shapes_sound_ = shapes_sound_ && group.sound();
    return shape;
  }

  WorkKind read_kind(const JsonCursor& cursor) {
    cursor.allow_only({"id", "name", "family", "trains", "running", "needs", "full", "short", "home", "load",
                       "most_a_week", "transfer", "also_for", "sports", "stops_like", "words", "press",
                       "pieces", "drill"});
    WorkKind kind;
    kind.id = read_id(cursor);
    const std::string owner = fmt::format("work.{}", kind.id);
    kind.name = read_words(cursor, "name");
    kind.family =
        cursor.required("family")
            .word({"lift", "press", "shuttle", "hold", "intervals", "steady", "throw", "pieces", "drill"})
            .value_or("");
    kind.trains = read_event(cursor.required("trains"));
    kind.running = read_flag(cursor, "running");
    kind.needs = read_needs(cursor.required("needs"));
    read_shapes(cursor, owner, kind);
    Figure load = figure(cursor, owner, "load");
    load.value().allow_only({"hard", "heavy_lower_body"});
    kind.hard = load.boolean("hard");
    kind.heavy_lower = load.boolean("heavy_lower_body");
    kind.most_a_week = figure(cursor, owner, "most_a_week").integer(0, kMostBlocksAWeek);
    kind.transfer = read_transfer(figure(cursor, owner, "transfer"));
    if (cursor.has("also_for")) {
      for (const JsonCursor& event : cursor.required("also_for").items())
        kind.also_for.push_back(read_event(event));
    }
    if (cursor.has("sports")) kind.sports = read_sports(cursor.required("sports"));
    if (cursor.has("stops_like")) read_stops_like(cursor.required("stops_like"), kind);
    read_words_of(cursor, kind);
    read_family_shape(cursor, owner, kind);
    return kind;
  }

  // In lower case, as the name of a sport is read from a watch's file.
  static std::vector<std::string> read_sports(const JsonCursor& cursor) {
    std::vector<std::string> out;
    for (const JsonCursor& sport : cursor.items()) {
      out.push_back(sport.text().value_or(""));
      const bool lower =
          std::all_of(out.back().begin(), out.back().end(), [](char c) { return c >= 'a' && c <= 'z'; });
      if (out.back().empty() || !lower)
        sport.fault("a part of a sport's name is small letters", "write it like \"cycl\"");
    }
    return out;
  }

  // Only kinds that stand before it, whose places in the pain rules are their own.
  void read_stops_like(const JsonCursor& cursor, WorkKind& kind) const {
    const std::vector<std::string> known(seen_.begin(), seen_.end());
    kind.stops_like = cursor.one_of(known, "work kind").value_or("");
    if (kind.stops_like == kind.id) cursor.fault("a kind that stops like itself", "name another one");
  }

  static void read_words_of(const JsonCursor& cursor, WorkKind& kind) {
    const bool described = kind.family == "pieces" || kind.family == "drill";
    if (!described && !cursor.has("words")) return;
    const JsonCursor words = cursor.required("words");
    words.allow_only({"doing", "each", "easier", "lowering", "stop"});
    const auto text = [&words](std::string_view key) {
      return words.has(key) ? io::read_words(words, key) : std::string();
    };
    kind.words = {text("doing"), text("each"), text("easier"), text("lowering"), text("stop")};
    if (described && words.exists() && kind.words.doing.empty()) static_cast<void>(words.required("doing"));
  }

  void read_family_shape(const JsonCursor& cursor, const std::string& owner, WorkKind& kind) {
    if (cursor.has("press")) {
      Figure press = figure(cursor, owner, "press");
      press.value().allow_only({"few"});
      kind.press.few = press.integer("few", 1, 50);
    }
    if (kind.family == "pieces") {
      Figure pieces = figure(cursor, owner, "pieces");
      pieces.value().allow_only({"metres", "most", "faster", "steady", "rest_s"});
      kind.pieces.piece = Metres(pieces.number("metres", {10.0, 5000.0}));
      kind.pieces.most = pieces.integer("most", 1, 20);
      kind.pieces.faster = pieces.number("faster", {0.8, 1.3});
      kind.pieces.steady = pieces.number("steady", {0.5, 1.0});
      kind.pieces.rest = Seconds(pieces.number("rest_s", {10.0, 600.0}));
    }
    if (kind.family == "drill") {
      Figure drill = figure(cursor, owner, "drill");
      drill.value().allow_only({"minutes_each", "most"});
      kind.drill.minutes_each = drill.number("minutes_each", {0.25, 60.0});
      kind.drill.most = drill.integer("most", 1, 50);
    }
  }

  void read_shapes(const JsonCursor& cursor, const std::string& owner, WorkKind& kind) {
    shapes_sound_ = true;
    kind.full = read_shape(cursor, owner, "full");
    kind.shorter = read_shape(cursor, owner, "short");
    if (cursor.has("home")) kind.home = read_shape(cursor, owner, "home");
    if (shapes_sound_ &&
        (kind.shorter.minutes > kind.full.minutes || kind.shorter.stimulus > kind.full.stimulus)) {
      cursor.required("short").fault("the short block is larger than the full one", "swap the two");
    }
  }

  std::string read_event(const JsonCursor& cursor) const {
    if (events_.empty()) return cursor.text().value_or("");
    return cursor.one_of(events_, "event").value_or("");
  }

  static std::vector<std::string> read_needs(const JsonCursor& cursor) {
    std::vector<std::string> needs;
    if (!cursor.exists()) return needs;
    for (const JsonCursor& item : cursor.items()) {
      const auto key = item.word({"hex_bar", "sled", "kettlebells", "pull_up_bar", "track", "throw_ball"});
      if (key) needs.push_back(*key);
    }
    return needs;
  }

  std::map<std::string, double> read_transfer(Figure group) const {
    std::map<std::string, double> transfer;
    if (!group.value().exists()) return transfer;
    for (const auto& [event, cursor] : group.value().members()) {
      const bool known = events_.empty() || std::find(events_.begin(), events_.end(), event) != events_.end();
      if (!known) {
        const auto nearest = nearest_word(event, events_);
        cursor.fault(fmt::format("unknown event \"{}\"", event),
                     nearest ? fmt::format("did you mean \"{}\"?", *nearest) : "add it to model/events.json");
      }
      transfer[event] = group.number(event, {0.0, 2.0});
    }
    return transfer;
  }

  FixedKind read_fixed(const JsonCursor& cursor) {
    cursor.allow_only({"id", "name", "counts_as", "running", "march", "stimulus_per_minute", "hard_from"});
    FixedKind kind;
    kind.id = read_id(cursor);
    const std::string owner = fmt::format("fixed.{}", kind.id);
    kind.name = read_words(cursor, "name");
    kind.counts_as = cursor.required("counts_as").one_of(kinds_, "work kind").value_or("");
    kind.running = read_flag(cursor, "running");
    kind.march = read_flag(cursor, "march");
    kind.stimulus_per_minute = figure(cursor, owner, "stimulus_per_minute").number(kPerMinute);
    read_hard_from(figure(cursor, owner, "hard_from"), kind);
    return kind;
  }

  static void read_hard_from(Figure group, FixedKind& kind) {
    if (group.value().is_text()) {
      static_cast<void>(group.value().word({"never"}));
      group.list_as("", "never");
      kind.hard_from_metres = kind.hard_from_minutes = std::numeric_limits<double>::max();
      return;
    }
    group.value().allow_only({"metres", "minutes"});
    kind.hard_from_metres = group.number("metres", kUnits);
    kind.hard_from_minutes = group.number("minutes", {0.0, 1440.0});  // a day
  }

  std::vector<std::string> events_;
  std::vector<std::string> kinds_;
  std::set<std::string> seen_;
  bool shapes_sound_ = true;  // of the kind that is being read
  std::vector<Assumption>& list_;
};

// Reads data/model/outlook.json.
void read_outlook(const JsonCursor& root, Model& model) {
  root.allow_only({"format", "common_factor", "value", "background_share", "headroom_per_decade",
                   "headroom_sd_share", "drift_per_sqrt_week", "stale_after_days", "before_clearance",
                   "unlogged_day_share", "band_percentiles"});
  const auto figure = [&](std::string_view key) {
    return Figure(root, key, fmt::format("outlook.{}", key), model.assumptions);
  };
  Figure common = figure("common_factor");
  common.value().allow_only({"variance_share"});
  model.common.variance_share = common.number("variance_share", kShare);
  Figure value = figure("value");
  value.value().allow_only({"below_minimum_cost", "own_target_weight"});
  model.value = {value.number("below_minimum_cost", kPointsRange),
                 value.number("own_target_weight", kWeight)};
  Figure background = figure("background_share");
  background.value().allow_only({"new", "regular", "long"});
  model.background_new = background.number("new", kShare);
  model.background_regular = background.number("regular", kShare);
  model.background_long = background.number("long", kShare);
  model.headroom_per_decade = figure("headroom_per_decade").number(kShare);
  model.headroom_sd_share = figure("headroom_sd_share").number({0.01, 2.0});
  model.drift_per_sqrt_week = figure("drift_per_sqrt_week").number(kShare);
  model.stale_after_days = figure("stale_after_days").integer(1, kMostStaleDays);
  Figure before = figure("before_clearance");
  before.value().allow_only({"reads_high", "sd"});
  model.before_clearance_reads_high = before.number("reads_high", kShare);
  model.before_clearance_sd = before.number("sd", kShare);
  model.unlogged_day_share = figure("unlogged_day_share").number(kShare);
  Figure band = figure("band_percentiles");
  band.value().allow_only({"low", "high"});
  constexpr Range kPercentile{0.001, 0.999};
  model.band_low_percentile = band.number("low", kPercentile);
  model.band_high_percentile = band.number("high", kPercentile);
  if (band.sound() && model.band_low_percentile >= model.band_high_percentile) {
    band.value().fault("\"low\" is not less than \"high\"", "swap the two");
  }
}

}  // namespace

Result<Model> read_model(const std::vector<DataFile>& files) {
  Diagnostics faults;
  Model model;
  if (const auto root = open_data_file(files, "model/events.json", "backplan-events/1", faults)) {
    model.events = read_events(*root, model.assumptions);
  }
  std::vector<std::string> ids;
  for (const auto& [id, event] : model.events) ids.push_back(id);
  if (const auto root = open_data_file(files, "model/work.json", "backplan-work/1", faults)) {
    WorkReader(std::move(ids), model.assumptions).read(*root, model);
  }
  if (const auto root = open_data_file(files, "model/outlook.json", "backplan-outlook/1", faults)) {
    read_outlook(*root, model);
  }
  if (has_error(faults)) return faults;
  model.content_hash = hash_of_files(files, {"model/events.json", "model/work.json", "model/outlook.json"});
  return model;
}

}  // namespace backplan::io
