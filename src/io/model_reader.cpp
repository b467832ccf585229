#include <fmt/format.h>

#include "io/figure.hpp"
#include "io/json_text.hpp"
#include "io/model_parts.hpp"
#include "io/readers.hpp"

namespace backplan::io {

namespace {

// Ranges that catch slips of the pen; what is inside them is the author's business.
constexpr Range kLogGain{0.0, 3.0};  // e^3: twentyfold, more than any event can gain
constexpr Range kLogShift{-1.0, 1.0};
constexpr Range kRate{0.001, 2.0};  // a week
constexpr Range kDoseRange{0.01, 50.0};
constexpr Range kPointsRange{0.0, 1000.0};
constexpr Range kWeight{1.0, 100.0};
constexpr int kMostStaleDays = 3660;

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
    event_.milestone_word = read_data_words(cursor, "milestone_word");
    event_.run = read_data_flag(cursor, "run");
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
      headroom.above = group.number("above", kUnitRange);
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
    event_.noise_least_units = noise.number("least_units", kUnitRange);
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

std::string read_data_words(const JsonCursor& owner, std::string_view key) {
  const JsonCursor cursor = owner.required(key);
  std::string words = cursor.text().value_or("");
  if (cursor.is_text() && words.empty()) cursor.fault("an empty text", "write what it is called");
  return words;
}

bool read_data_flag(const JsonCursor& owner, std::string_view key) {
  return owner.required(key).boolean().value_or(false);
}

Result<Model> read_model(const std::vector<DataFile>& files) {
  Diagnostics faults;
  Model model;
  if (const auto root = open_data_file(files, "model/events.json", "backplan-events/1", faults)) {
    model.events = read_events(*root, model.assumptions);
  }
  std::vector<std::string> ids;
  for (const auto& [id, event] : model.events) ids.push_back(id);
  if (const auto root = open_data_file(files, "model/work.json", "backplan-work/1", faults)) {
    read_work(*root, std::move(ids), model);
  }
  if (const auto root = open_data_file(files, "model/outlook.json", "backplan-outlook/1", faults)) {
    read_outlook(*root, model);
  }
  if (has_error(faults)) return faults;
  model.content_hash = hash_of_files(files, {"model/events.json", "model/work.json", "model/outlook.json"});
  return model;
}

}  // namespace backplan::io
