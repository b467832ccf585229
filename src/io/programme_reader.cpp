#include <algorithm>
#include <array>

#include "backplan/units.hpp"
#include "io/json_text.hpp"
#include "io/programme_json.hpp"
#include "io/stored_json.hpp"
#include "io/stored_outlook.hpp"

namespace backplan::io {
namespace {

constexpr std::array kSlotSizes{BlockSize::full, BlockSize::shorter};
constexpr std::array kGoals{SquadGoal::fewest_failing, SquadGoal::most_at_target, SquadGoal::highest_mean};

std::vector<std::string> texts_in(const JsonCursor& object, std::string_view key) {
  return list_in<std::string>(object, key, text_item);
}

Group read_group(const JsonCursor& json) {
  Group group;
  group.id = text_in(json, "id");
  group.members = texts_in(json, "members");
  group.why = text_in(json, "why");
  for (const auto& [name, blocks] : json.required("days").members()) {
    const auto day = std::find(kDayKeys.begin(), kDayKeys.end(), name);
    if (day == kDayKeys.end()) {
      blocks.fault("unknown day \"" + name + "\"");
      continue;
    }
    for (const JsonCursor& block : blocks.items()) {
      group.pattern.days[static_cast<std::size_t>(day - kDayKeys.begin())].push_back(
          {text_in(block, "work"), word_in(block, "size", kSlotSizes)});
    }
  }
  return group;
}

Person read_person(const JsonCursor& json) {
  Person person;
  person.id = text_in(json, "id");
  person.display = text_in(json, "display");
  person.group = text_in(json, "group");
  person.test_date = date_in(json, "test_date");
  person.refused = optional_text_in(json, "refused");
  person.done = json.has("done") && boolean_in(json, "done");
  if (is_planned(person)) {
    person.outlook = outlook_from(json.required("outlook"));
    person.p_fail = number_in(json, "p_fail");
  }
  const JsonCursor weakest = json.optional("weakest");
  if (weakest.exists() && !weakest.is_null())
    person.weakest = Weakest{text_in(weakest, "event"), number_in(weakest, "p_minimum")};
  const JsonCursor cheapest = json.optional("cheapest");
  if (cheapest.exists() && !cheapest.is_null())
    person.cheapest = Cheapest{text_in(cheapest, "work"), text_in(cheapest, "event"),
                               number_in(cheapest, "points_per_hour")};
  for (const JsonCursor& one : json.required("extra").items()) {
    Extra extra;
    extra.date = date_in(one, "date");
    extra.block.work = text_in(one, "work");
    extra.block.size = BlockSize::home;
    extra.block.minutes = integer_in(one, "minutes");
    extra.block.prescription = text_in(one, "prescription");
    person.extra.push_back(std::move(extra));
  }
  person.notes = texts_in(json, "notes");
  return person;
}

Turn read_turn(const JsonCursor& json) {
  Turn turn;
  turn.id = text_in(json, "id");
  turn.from = number_in(json, "from");
  turn.to = number_in(json, "to");
  turn.prescription = text_in(json, "prescription");
  if (json.has("load_lb")) turn.load = Pounds(number_in(json, "load_lb"));
  if (json.has("planned_lb")) turn.planned_load = Pounds(number_in(json, "planned_lb"));
  if (json.has("size")) turn.size = word_in(json, "size", kSlotSizes);
  if (json.has("seconds_400_m")) turn.quarter = Seconds(number_in(json, "seconds_400_m"));
  return turn;
}

Morning read_morning(const JsonCursor& json) {
  Morning morning;
  morning.date = date_in(json, "date");
  morning.minutes = integer_in(json, "minutes");
  for (const JsonCursor& one : json.required("stations").items()) {
    Station station;
    station.work = text_in(one, "work");
    station.lane = text_in(one, "lane");
    station.equipment = text_in(one, "equipment");
    station.note = optional_text_in(one, "note");
    for (const JsonCursor& turn : one.required("turns").items()) station.turns.push_back(read_turn(turn));
    if (station.turns.empty()) one.fault("a station without turns");
    morning.stations.push_back(std::move(station));
  }
  return morning;
}

void read_calendar(const JsonCursor& root, Programme& out) {
  if (!root.has("calendar")) return;
  const JsonCursor calendar = root.required("calendar");
  out.revision = integer_in(calendar, "revision");
  out.withdrawn = list_in<Date>(calendar, "withdrawn", date_item);
}

void read_figures(const JsonCursor& root, Programme& out) {
  const JsonCursor outlook = root.required("outlook");
  out.outlook.mean.mean = number_in(outlook, "mean");
  out.outlook.mean.low80 = number_in(outlook, "mean_low80");
  out.outlook.mean.high80 = number_in(outlook, "mean_high80");
  out.outlook.expected_failing = number_in(outlook, "expected_failing");
  out.outlook.low80 = number_in(outlook, "low80");
  out.outlook.high80 = number_in(outlook, "high80");
  const JsonCursor optimality = root.required("optimality");
  out.optimality.value = number_in(optimality, "value");
  out.optimality.bound = number_in(optimality, "bound");
  out.gain = number_in(optimality, "gain");
  out.patterns_compared = integer_in(optimality, "patterns");
  for (const JsonCursor& one : root.required("pooled").items()) {
    out.pooled.push_back({text_in(one, "event"), integer_in(one, "people"), number_in(one, "headroom_shift"),
                          number_in(one, "headroom_sd"), number_in(one, "rate_shift"),
                          number_in(one, "rate_sd")});
  }
  for (const JsonCursor& one : root.required("shortfalls").items()) {
    const std::string day = text_in(one, "day");
    const auto at = std::find(kDayKeys.begin(), kDayKeys.end(), day);
    if (at == kDayKeys.end()) one.optional("day").fault("unknown day \"" + day + "\"");
    out.shortfalls.push_back(
        {static_cast<int>(at - kDayKeys.begin()), text_in(one, "what"), text_in(one, "remedy")});
  }
}

}  // namespace

Result<Programme> read_programme(std::string_view text, const std::string& file) {
  auto parsed = parse_json(text, file);
  if (!parsed.ok()) return parsed.faults();
  Diagnostics faults;
  const JsonCursor root(parsed.value(), faults);
  if (text_in(root, "format") != kProgrammeFormat) {
    root.optional("format").fault("this is no programme that this version reads",
                                  "make it anew with `backplan squad`");
    return faults;
  }
  Programme out;
  out.as_of = date_in(root, "as_of");
  out.squad = text_in(root, "squad");
  out.test_date = date_in(root, "test_date");
  out.standard = text_in(root.required("standard"), "id");
  out.basis = text_in(root, "basis");
  read_calendar(root, out);
  out.goal = word_in(root, "goal", kGoals);
  out.confidence = number_in(root, "confidence");
  read_figures(root, out);
  for (const JsonCursor& one : root.required("groups").items()) out.groups.push_back(read_group(one));
  for (const JsonCursor& one : root.required("people").items()) out.people.push_back(read_person(one));
  for (const JsonCursor& one : root.required("mornings").items()) out.mornings.push_back(read_morning(one));
  out.refused = texts_in(root, "refused");
  out.cautions = texts_in(root, "cautions");
  out.assumptions = list_in<Assumption>(root, "assumptions", assumption_from);
  if (!faults.empty()) return faults;
  return out;
}

}  // namespace backplan::io
