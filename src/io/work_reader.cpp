// Kinds of work and fixed work.
#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <set>

#include "io/figure.hpp"
#include "io/json_text.hpp"
#include "io/model_parts.hpp"

namespace backplan::io {

namespace {

// Ranges that catch slips of the pen.
constexpr Range kPerMinute{0.0, 1.0};
constexpr int kMostBlockMinutes = 240;
constexpr int kMostBlocksAWeek = 14;

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
    const std::string id = read_data_words(cursor, "id");
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
    kind.name = read_data_words(cursor, "name");
    kind.family =
        cursor.required("family")
            .word({"lift", "press", "shuttle", "hold", "intervals", "steady", "throw", "pieces", "drill"})
            .value_or("");
    kind.trains = read_event(cursor.required("trains"));
    kind.running = read_data_flag(cursor, "running");
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
      return words.has(key) ? read_data_words(words, key) : std::string();
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
    kind.name = read_data_words(cursor, "name");
    kind.counts_as = cursor.required("counts_as").one_of(kinds_, "work kind").value_or("");
    kind.running = read_data_flag(cursor, "running");
    kind.march = read_data_flag(cursor, "march");
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
    kind.hard_from_metres = group.number("metres", kUnitRange);
    kind.hard_from_minutes = group.number("minutes", {0.0, 1440.0});  // a day
  }

  std::vector<std::string> events_;
  std::vector<std::string> kinds_;
  std::set<std::string> seen_;
  bool shapes_sound_ = true;  // of the kind that is being read
  std::vector<Assumption>& list_;
};

}  // namespace

void read_work(const JsonCursor& root, std::vector<std::string> events, Model& model) {
  WorkReader(std::move(events), model.assumptions).read(root, model);
}

}  // namespace backplan::io
