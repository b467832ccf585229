#include "io/test_day_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "io/figure.hpp"
#include "io/json_text.hpp"

namespace backplan::io {
namespace {

// Ranges that catch slips of the pen.
constexpr Range kSpread{0.0, 0.2};  // in v
constexpr Range kCelsius{-40.0, 60.0};
constexpr Range kFahrenheit{-40.0, 140.0};
constexpr int kMostTries = 2;  // the decision is one of two steps
constexpr int kMostRepetitions = 20;
constexpr int kMostSeconds = 3600;
constexpr int kMostCategory = 9;
constexpr double kSumSlack = 1e-6;

class DayReader {
 public:
  DayReader(const JsonCursor& root, TestDayModel& model) : root_(root), model_(model) {}

  void read() {
    root_.allow_only({"format", "events", "place", "rest_topic", "day"});
    const JsonCursor events = root_.required("events");
    if (events.exists()) {
      for (const auto& [id, cursor] : events.members()) model_.events[id] = event(id, cursor);
    }
    read_place(root_.required("place"));
    model_.rest_topic = root_.required("rest_topic").text().value_or("");
    const JsonCursor day = root_.required("day");
    if (!day.exists()) return;
    day.allow_only({"warm_up", "bring", "cautions"});
    read_steps(figure(day, "day", "warm_up"));
    model_.bring = texts(figure(day, "day", "bring"));
    model_.cautions = texts(figure(day, "day", "cautions"));
  }

 private:
  Figure figure(const JsonCursor& owner, const std::string& name, std::string_view key) {
    return {owner, key, fmt::format("test_day.{}.{}", name, key), model_.assumptions};
  }

  static std::vector<std::string> texts(const Figure& list) {
    std::vector<std::string> out;
    if (!list.value().exists()) return out;
    for (const JsonCursor& item : list.value().items()) {
      if (const auto text = item.text()) out.push_back(*text);
    }
    list.list_as("", fmt::format("{}", fmt::join(out, "; ")));
    return out;
  }

  // Steps for everybody are texts; those for some events name them.
  void read_steps(const Figure& list) {
    if (!list.value().exists()) return;
    std::vector<std::string> words;
    for (const JsonCursor& item : list.value().items()) {
      WarmUpStep step;
      if (item.is_text()) {
        step.text = item.text().value_or("");
      } else {
        item.allow_only({"step", "for"});
        step.text = item.required("step").text().value_or("");
        for (const JsonCursor& event : item.required("for").items()) {
          if (const auto id = event.text()) step.events.push_back(*id);
        }
      }
      words.push_back(step.text);
      model_.warm_up.push_back(std::move(step));
    }
    list.list_as("", fmt::format("{}", fmt::join(words, "; ")));
  }

  DayEventModel event(const std::string& id, const JsonCursor& cursor) {
    cursor.allow_only({"kind", "topic", "cue", "cue_without_clock", "tries", "warm_up", "seconds", "quarters",
                       "legs", "laps"});
    DayEventModel out;
    const auto kind =
        cursor.required("kind").word({"tries", "quarters", "legs", "hold", "laps", "throws", "plain"});
    for (const DayKind one :
         {DayKind::tries, DayKind::quarters, DayKind::legs, DayKind::laps, DayKind::throws, DayKind::plain}) {
      if (kind && *kind == to_string(one)) out.kind = one;
    }
    out.topic = cursor.required("topic").text().value_or("");
    const Figure cue = figure(cursor, id, "cue");
    out.cue = cue.value().exists() ? cue.value().text().value_or("") : "";
    cue.list_as("", out.cue);
    if (cursor.has("cue_without_clock")) {
      const Figure other = figure(cursor, id, "cue_without_clock");
      out.cue_without_clock = other.value().exists() ? other.value().text().value_or("") : "";
      other.list_as("", out.cue_without_clock);
    }
    if (out.kind == DayKind::tries) read_tries(id, cursor, out);
    if (out.kind == DayKind::quarters) read_quarters(id, cursor, out);
    if (out.kind == DayKind::legs) read_legs(figure(cursor, id, "legs"), out);
    if (out.kind == DayKind::laps) read_laps(figure(cursor, id, "laps"), out);
    return out;
  }

  void read_tries(const std::string& id, const JsonCursor& cursor, DayEventModel& out) {
    Figure tries = figure(cursor, id, "tries");
    tries.value().allow_only({"most", "between", "tired_after_good", "tired_after_failed"});
    out.tries.most = tries.integer("most", 1, kMostTries);
    out.tries.between = tries.number("between", kSpread);
    out.tries.tired_after_good = tries.number("tired_after_good", kSpread);
    out.tries.tired_after_failed = tries.number("tired_after_failed", kSpread);
    const Figure sets = figure(cursor, id, "warm_up");
    if (!sets.value().exists()) return;
    std::vector<std::string> words;
    for (const JsonCursor& item : sets.value().items()) {
      item.allow_only({"share", "reps"});
      const auto share = item.required("share").number(kShare.least, kShare.most);
      const auto reps = item.required("reps").integer(1, kMostRepetitions);
      if (!share || !reps) continue;
      out.warm_up.push_back({*share, *reps});
      words.push_back(fmt::format("{} × {}", *reps, *share));
    }
    sets.list_as("", fmt::format("{}", fmt::join(words, ", ")));
  }

  void read_quarters(const std::string& id, const JsonCursor& cursor, DayEventModel& out) {
    out.seconds = figure(cursor, id, "seconds").integer(1, kMostSeconds);
    const Figure shares = figure(cursor, id, "quarters");
    if (!shares.value().exists()) return;
    double sum = 0.0;
    for (const JsonCursor& item : shares.value().items()) {
      const auto share = item.number(kShare.least, kShare.most);
      out.quarters.push_back(share.value_or(0.0));
      sum += out.quarters.back();
    }
    require_whole(sum, shares.value());
    shares.list_as("", fmt::format("{}", fmt::join(out.quarters, ", ")));
  }

  static void read_legs(const Figure& legs, DayEventModel& out) {
    if (!legs.value().exists()) return;
    double sum = 0.0;
    std::vector<std::string> words;
    for (const JsonCursor& item : legs.value().items()) {
      item.allow_only({"name", "share"});
      const std::string name = item.required("name").text().value_or("");
      const double share = item.required("share").number(kShare.least, kShare.most).value_or(0.0);
      out.legs.push_back({name, share});
      words.push_back(fmt::format("{} {}", name, share));
      sum += share;
    }
    require_whole(sum, legs.value());
    legs.list_as("", fmt::format("{}", fmt::join(words, ", ")));
  }

  static void require_whole(double sum, const JsonCursor& list) {
    if (std::fabs(sum - 1.0) > kSumSlack)
      list.fault(fmt::format("the shares add up to {:.4g}; expected 1", sum), "correct the shares");
  }

  static void read_laps(Figure laps, DayEventModel& out) {
    laps.value().allow_only({"metres", "faster_second_half", "by_mile"});
    out.lap = Metres(laps.number("metres", {50.0, 5000.0}));
    out.faster_second_half = laps.number("faster_second_half", {0.0, 0.1});
    if (laps.value().exists() && laps.value().has("by_mile"))
      out.by_mile = laps.value().required("by_mile").boolean().value_or(true);
  }

  // Who found it, in the few words that fit a sheet.
  static std::string credit(const Figure& figure) {
    return figure.value().exists() ? figure.value().required("credit").text().value_or("") : "";
  }

  void read_place(const JsonCursor& place) {
    if (!place.exists()) return;
    place.allow_only({"heat", "altitude", "heat_categories"});
    Figure heat = figure(place, "place", "heat");
    heat.value().allow_only({"best_from_c", "best_to_c", "least_per_degree", "most_per_degree", "credit"});
    model_.heat = {heat.number("best_from_c", kCelsius), heat.number("best_to_c", kCelsius),
                   heat.number("least_per_degree", kShare), heat.number("most_per_degree", kShare),
                   credit(heat)};
    if (heat.sound() && (model_.heat.best_from_c > model_.heat.best_to_c ||
                         model_.heat.least_per_degree > model_.heat.most_per_degree))
      heat.value().fault("a lower end is above its upper end", "swap the two");
    read_altitude(figure(place, "place", "altitude"));
    read_categories(figure(place, "place", "heat_categories"));
  }

  void read_altitude(Figure height) {
    height.value().allow_only({"from_m", "most_m", "loss_per_km", "least_share", "most_share", "credit"});
    AltitudeModel& out = model_.altitude;
    out.from = Metres(height.number("from_m", kMetres));
    out.most = Metres(height.number("most_m", kMetres));
    out.loss_per_km = height.number("loss_per_km", {0.0, 0.3});
    out.least_share = height.number("least_share", kShare);
    out.most_share = height.number("most_share", kShare);
    out.credit = credit(height);
    if (height.sound() && (out.from > out.most || out.least_share > out.most_share))
      height.value().fault("a lower end is above its upper end", "swap the two");
  }

  void read_categories(const Figure& list) {
    if (!list.value().exists()) return;
    std::vector<std::string> words;
    for (const JsonCursor& item : list.value().items()) {
      item.allow_only({"category", "from_f", "work_rest", "water_qt", "hard_runs"});
      HeatCategory one;
      one.category = item.required("category").integer(1, kMostCategory).value_or(1);
      one.from_f = item.required("from_f").number(kFahrenheit.least, kFahrenheit.most).value_or(0.0);
      one.work_rest = item.required("work_rest").text().value_or("");
      one.water_qt = item.required("water_qt").number(0.0, 1.5).value_or(0.0);
      one.hard_runs = item.required("hard_runs").boolean().value_or(true);
      const bool rising = model_.heat_categories.empty() || model_.heat_categories.back().from_f < one.from_f;
      if (!rising) item.fault("a category is not above the one before it", "put them in order");
      model_.heat_categories.push_back(one);
      words.push_back(
          fmt::format("{} from {}: {}, {} qt", one.category, one.from_f, one.work_rest, one.water_qt));
    }
    list.list_as("", fmt::format("{}", fmt::join(words, "; ")));
  }

  JsonCursor root_;
  TestDayModel& model_;
};

}  // namespace

Result<TestDayModel> read_test_day(const std::vector<DataFile>& files) {
  Diagnostics faults;
  TestDayModel model;
  if (const auto root = open_data_file(files, "model/test_day.json", "backplan-test-day/1", faults)) {
    DayReader(*root, model).read();
  }
  if (has_error(faults)) return faults;
  return model;
}

Reading<double> read_temperature(std::string_view text) {
  const std::string form = "write it with its unit, such as \"28 C\" or \"84 F\"";
  std::size_t end = text.size();
  while (end > 0 && text[end - 1] == ' ') --end;
  const char unit = end > 0 ? text[end - 1] : '\0';
  const bool celsius = unit == 'C' || unit == 'c';
  const bool fahrenheit = unit == 'F' || unit == 'f';
  std::string_view figure = text.substr(0, celsius || fahrenheit ? end - 1 : end);
  while (!figure.empty() && figure.back() == ' ') figure.remove_suffix(1);
  const auto number = read_decimal(figure);
  if (!number) return {std::nullopt, fmt::format("\"{}\" is not written as a temperature", text), form};
  if (!celsius && !fahrenheit)
    return {std::nullopt, fmt::format("\"{}\" may be degrees Celsius or Fahrenheit", text), form};
  const double degrees = celsius ? *number : (*number - 32.0) * 5.0 / 9.0;
  if (degrees < kCelsius.least || degrees > kCelsius.most)
    return {std::nullopt, fmt::format("\"{}\" is no possible temperature of a test", text), form};
  return {degrees, {}, {}};
}

}  // namespace backplan::io
