#include "report/defaults_text.hpp"

#include <fmt/format.h>

#include <array>
#include <stdexcept>
#include <string_view>
#include <vector>

namespace backplan::report {

namespace {

struct Meaning {
  std::string_view figure;
  std::string_view text;
};

// In the order of the page. `v` is explained in the page's introduction.
constexpr std::array kEventFigures{
    Meaning{
        "headroom",
        "what may be gained, in v: h = share × gap to the top of the scale + extra, kept between least and "
        "most; from the result `above` on (in the event's unit) at most `most_above`"},
    Meaning{"k_per_week",
            "share of the headroom that is closed in a week at the reference dose, to begin with"},
    Meaning{"k_log_sd", "spread of that rate between people, in its logarithm"},
    Meaning{"dose",
            "stimulus a week: u0 bends the curve 1 − e^(−u/u0), keep holds the level, reference improves it "
            "at the full rate"},
    Meaning{"loss",
            "what is lost in v for each week without training once the grace days are over, up to the cap"},
    Meaning{"noise", "standard deviation of one result, in v, and at least so many of the event's units"},
    Meaning{
        "first_attempt",
        "standard deviation of a first or self-timed attempt (0: as usual), and by how much a first attempt "
        "reads low, in v"},
    Meaning{"bias", "what is added to a result of this setting, in v, to reach what the test day would show"},
    Meaning{"earns_nothing_days", "days before the test in which work holds the level but adds nothing"},
};

constexpr std::array kWorkFigures{
    Meaning{"full", "a full block: minutes, and the stimulus that it counts for"},
    Meaning{"short", "a short block"},
    Meaning{"home", "a block at home, without kit"},
    Meaning{"load", "whether it makes a hard day, and whether it loads hips, back and legs heavily"},
    Meaning{"most_a_week", "blocks in a week at most"},
    Meaning{"transfer", "how much of its stimulus each event gets"},
    Meaning{"press", "under so many repetitions the exercise is made easier"},
    Meaning{
        "pieces",
        "metres of a piece, at most so many, their speed and that of steady work by the speed of the event, "
        "seconds of rest"},
    Meaning{"drill", "minutes that one takes with its rest, at most so many"},
};

constexpr std::array kFixedFigures{
    Meaning{"stimulus_per_minute", "stimulus of the work kind as which it counts, for each minute"},
    Meaning{"hard_from", "from this distance, or where none is given from this length, it is a hard day"},
};

constexpr std::array kOutlookFigures{
    Meaning{"common_factor",
            "share of the variance that all events have in common, and the nodes of the sum over it"},
    Meaning{"value",
            "points that a missed minimum costs where an event gives 100; weight of an event with a target "
            "of its own"},
    Meaning{"background_share", "factor on the headroom, by background"},
    Meaning{"headroom_per_decade", "factor on the headroom for each decade over 35"},
    Meaning{"headroom_sd_share", "standard deviation of the headroom, as a share of it"},
    Meaning{"drift_per_sqrt_week",
            "how far an unrecorded level strays, in v, by the square root of the weeks"},
    Meaning{"stale_after_days", "days after which a result is no evidence of today"},
    Meaning{
        "before_clearance",
        "by how much a result from before the clearance after a pregnancy reads high, and its spread, in v"},
    Meaning{"unlogged_day_share", "share of a planned day that counts as done when nothing was logged"},
    Meaning{
        "band_percentiles",
        "percentiles of the easiest passing result and of the top one, where an event was never measured"},
};

constexpr std::string_view kOff = "work that is off, from this level of pain there on";

constexpr std::array kRuleFigures{
    Meaning{"hard_days.a_week", "hard days in a week at most, by background"},
    Meaning{"hard_days.by_age", "one hard day fewer from this age, but never under the fewest"},
    Meaning{"hard_days.in_a_row", "hard days in a row at most"},
    Meaning{"hard_days.intervals_a_week", "interval sessions in a week at most, by background"},
    Meaning{"hard_days.deadlifts", "deadlift days in a week at most, and the days from one to the next"},
    Meaning{"hard_days.rest_days_a_week", "days without training in a week at least, by background"},
    Meaning{"slot.blocks", "blocks in a slot at most, and hard ones among them"},
    Meaning{"slot.around", "minutes of a slot for preparation and recovery"},
    Meaning{"slot.short", "the same in a slot under so many minutes"},
    Meaning{"slot.change_over_minutes", "minutes between two blocks"},
    Meaning{"slot.home_work", "work kinds that can be done at home"},
    Meaning{"ramp.hard_sessions_at_start",
            "hard sessions a week before the plan, by background, where the candidate does not say"},
    Meaning{"ramp.hard_sessions_step",
            "hard sessions more than in the larger of the last two weeks, at most"},
    Meaning{"ramp.untrained",
            "shares of the minutes in the first weeks; for whom: under so many minutes a week, or so many "
            "days off"},
    Meaning{
        "ramp.coming_back",
        "days of short blocks, easy running and no rehearsal when work returns after weeks without it; days "
        "of the lightest lifts"},
    Meaning{"ramp.after_lost_weeks", "share of the minutes after so many lost days"},
    Meaning{"ramp.longest_run", "continuous running at most so many times the longest of so many days"},
    Meaning{"ramp.longest_run_floor_metres", "a run up to this length is always allowed"},
    Meaning{"deload.after_build_weeks", "build weeks before a deload week at most"},
    Meaning{"deload.share",
            "minutes of a deload week, as a share of the median of the last three build weeks"},
    Meaning{"deload.counts_from_days", "a spell of rest or light duty of so many days is a deload"},
    Meaning{"deload.none_before_taper_weeks", "weeks before the taper without a deload"},
    Meaning{"deload.from_hard_sessions",
            "a plan that never has so many hard sessions a week needs no deload"},
    Meaning{"deload.easy_days_after_field", "easy days after a field exercise or another such spell"},
    Meaning{"taper.short", "days of the taper, under so many minutes a week"},
    Meaning{"taper.middle", "days of the taper, up to so many minutes a week"},
    Meaning{"taper.long", "days of the taper above that"},
    Meaning{"taper.cut", "share of the minutes that the taper takes away"},
    Meaning{"taper.deadlift",
            "last days without a deadlift; the last one wanted between these days before the test"},
    Meaning{"taper.no_training_days_before_test", "days before the test without training"},
    Meaning{"taper.no_plan_under_days", "under so many days to the test there is no training plan any more"},
    Meaning{"taper.easy_days_before_diagnostic", "easy days before a practice test"},
    Meaning{"taper.easy_days_after_diagnostic", "easy days after a practice test"},
    Meaning{"fixed_work.march_spacing_from_metres",
            "a march longer than this keeps runs and deadlifts off its day and the days beside it"},
    Meaning{"fixed_work.night_shift_easy_days", "days after a night shift without anything hard"},
    Meaning{"medical.profile_recovery",
            "days after a profile before a test of record: so many times its length, at most so many days"},
    Meaning{"squad.bar_turn",
            "seconds of one set on a bar with its plates; seconds between two sets of a person"},
    Meaning{"squad.course_turn",
            "seconds of one drag or carry, of a whole course, and between two of a person"},
    Meaning{"squad.usual_turns", "turns on a lane where a block does not say how many sets it has"},
    Meaning{"squad.extras_a_week", "short blocks at home in a week beside the common mornings, at most"},
    Meaning{"squad.moving",
            "expected failures, or points on the mean, that a change of groups must bring to be made"},
    Meaning{"pain.limits",
            "level of pain that takes work off anywhere and refers; level that counts as lasting, on so many "
            "days or over a span of so many"},
    Meaning{"pain.chest", kOff},
    Meaning{"pain.knee", kOff},
    Meaning{"pain.thigh", kOff},
    Meaning{"pain.shin", kOff},
    Meaning{"pain.foot", kOff},
    Meaning{"pain.ankle", kOff},
    Meaning{"pain.hip", kOff},
    Meaning{"pain.groin", kOff},
    Meaning{"pain.back", kOff},
    Meaning{"pain.arm", kOff},
    Meaning{"pain.instead_of", "work that may stand in for a kind that is off, best first"},
};

constexpr std::array kTestDayFigures{
    Meaning{"cue", "what the sheet says beside the figures"},
    Meaning{"cue_without_clock", "the same where the test gives the event no clock"},
    Meaning{"tries", "tries there are; how far one strays, and what the first takes from the second, in v"},
    Meaning{"warm_up", "sets before the first try: repetitions × share of its load"},
    Meaning{"seconds", "that the repetitions may take"},
    Meaning{"quarters", "shares of the repetitions in equal parts of that time"},
    Meaning{"legs", "the legs of the course and their shares of the time"},
    Meaning{"laps",
            "a lap; by how much the pace of the second half is under, and of the first over, the mean"},
};

constexpr std::array kTestDayCommonFigures{
    Meaning{"place.heat",
            "WBGT that costs nothing, and the share of the time of a run for each degree outside"},
    Meaning{
        "place.altitude",
        "heights between which the aerobic maximum falls, and how; shares of what the oxygen-cost equations "
        "make of it"},
    Meaning{"place.heat_categories", "by WBGT in °F: minutes of hard work and rest, water an hour"},
    Meaning{"day.warm_up", "steps, in their order"},
    Meaning{"day.bring", "things"},
    Meaning{"day.cautions", "what every sheet ends with"},
};

// One row of the page: figures that share a source.
struct Entry {
  std::string owner;   // "events.MDL"
  std::string figure;  // "dose", "bias.single"
  std::string values;  // "u0 1, keep 0.5, reference 2"
  const Assumption* origin = nullptr;
};

std::vector<std::string> split(const std::string& name) {
  std::vector<std::string> parts{""};
  for (const char c : name) {
    if (c == '.') {
      parts.emplace_back();
    } else {
      parts.back() += c;
    }
  }
  return parts;
}

std::string join(const std::vector<std::string>& parts, std::size_t from, std::size_t to) {
  std::string joined;
  for (std::size_t i = from; i < to && i < parts.size(); ++i) joined += (i > from ? "." : "") + parts[i];
  return joined;
}

// "events.MDL.dose.keep": owner events.MDL, figure dose, value keep. The outlook has no second level,
// a bias has a third one: its setting.
std::vector<Entry> to_entries(const std::vector<Assumption>& assumptions) {
  std::vector<Entry> entries;
  for (const Assumption& one : assumptions) {
    const auto parts = split(one.name);
    const std::size_t owner_parts = parts[0] == "outlook" ? 1 : 2;
    const bool by_setting = parts.size() > owner_parts && parts[owner_parts] == "bias";
    const std::size_t figure_end = owner_parts + (by_setting ? 2 : 1);
    Entry entry{join(parts, 0, owner_parts), join(parts, owner_parts, figure_end), "", &one};
    const std::string key = join(parts, figure_end, parts.size());
    if (entries.empty() || entries.back().owner != entry.owner || entries.back().figure != entry.figure) {
      entries.push_back(std::move(entry));
    }
    std::string& values = entries.back().values;
    if (!values.empty()) values += ", ";
    values += key.empty() ? one.value : fmt::format("{} {}", key, one.value);
  }
  return entries;
}

std::string cell(std::string_view text) {
  std::string escaped;
  for (const char c : text) {
    if (c == '|') escaped += '\\';
    escaped += c;
  }
  return escaped;
}

template <std::size_t N>
std::string_view meaning_of(const std::array<Meaning, N>& meanings, std::string_view figure) {
  for (const Meaning& one : meanings) {
    if (one.figure == figure) return one.text;
  }
  throw std::logic_error(fmt::format("no words for the default {}", figure));
}

template <std::size_t N>
std::string meanings_table(const std::array<Meaning, N>& meanings) {
  std::string text = "| figure | what it is |\n| --- | --- |\n";
  for (const Meaning& one : meanings) text += fmt::format("| `{}` | {} |\n", one.figure, cell(one.text));
  return text;
}

// The table of one event or work kind; the meanings stand above all of them.
template <std::size_t N>
std::string owner_table(const std::vector<Entry>& entries, const std::string& owner,
                        const std::array<Meaning, N>& meanings) {
  std::string text = "| figure | value | source | status |\n| --- | --- | --- | --- |\n";
  for (const Entry& entry : entries) {
    if (entry.owner != owner) continue;
    static_cast<void>(meaning_of(meanings, split(entry.figure).front()));
    text += fmt::format("| `{}` | {} | {} | {} |\n", entry.figure, cell(entry.values),
                        cell(entry.origin->source), to_string(entry.origin->status));
  }
  return text;
}

// A table with the meaning in each row, where no figure comes twice.
template <std::size_t N>
std::string full_table(const std::vector<Entry>& entries, std::string_view section,
                       const std::array<Meaning, N>& meanings) {
  std::string text = "| figure | what it is | value | source | status |\n| --- | --- | --- | --- | --- |\n";
  for (const Entry& entry : entries) {
    const auto parts = split(entry.owner);
    if (parts[0] != section) continue;
    const std::string figure = parts.size() > 1 ? fmt::format("{}.{}", parts[1], entry.figure) : entry.figure;
    text += fmt::format("| `{}` | {} | {} | {} | {} |\n", figure, cell(meaning_of(meanings, figure)),
                        cell(entry.values), cell(entry.origin->source), to_string(entry.origin->status));
  }
  return text;
}

constexpr std::string_view kIntroduction =
    "# Defaults\n\n"
    "Every figure that the planner assumes, with its source and how far it can be trusted. A plan lists the "
    "same\n"
    "under `assumptions`. The figures are data (`data/model/`); this page is made from them, and a test "
    "fails when\n"
    "it is out of date (`UPDATE_GOLDEN=1` writes it anew).\n\n"
    "`v` is the natural logarithm of a result, with its sign turned for times: a step of 0.01 is 1 % better "
    "in any\n"
    "event. A stimulus of 1 is one full block of the work kind that trains the event.\n\n"
    "| status | meaning |\n| --- | --- |\n"
    "| published | the figure stands in the source |\n"
    "| common practice | what trainers usually do, or a survey of it |\n"
    "| memory | recalled from the source and not read again; check it before relying on it |\n"
    "| derived | worked out from figures of the source |\n"
    "| judgement | chosen by us; the source says what led to it |\n\n"
    "\"ours\" marks what no source gives. The log of a candidate moves most of these figures.\n";

std::string test_day_markdown(const TestDayModel& day) {
  std::string text = "\n## Test day\n\n" + meanings_table(kTestDayFigures);
  std::vector<Entry> common;
  const auto entries = to_entries(day.assumptions);
  for (const auto& [id, event] : day.events) {
    text += fmt::format("\n### {}: {}\n\n", id, to_string(event.kind));
    text += owner_table(entries, "test_day." + id, kTestDayFigures);
  }
  for (const Entry& entry : entries) {
    if (day.events.count(split(entry.owner).back()) == 0) common.push_back(entry);
  }
  return text + "\n### For all events\n\n" + full_table(common, "test_day", kTestDayCommonFigures);
}

}  // namespace

std::string defaults_markdown(const Model& model, const Rules& rules, const TestDayModel& day) {
  const auto entries = to_entries(model.assumptions);
  std::string text(kIntroduction);
  text += "\n## Events\n\n" + meanings_table(kEventFigures);
  for (const auto& [id, event] : model.events) {
    text += fmt::format("\n### {}: {}\n\n", id, event.milestone_word);
    text += owner_table(entries, "events." + id, kEventFigures);
  }
  text += "\n## Work that the planner places\n\n" + meanings_table(kWorkFigures);
  for (const WorkKind& kind : model.work) {
    text += fmt::format("\n### `{}`: {}\n\n", kind.id, kind.name);
    text += owner_table(entries, "work." + kind.id, kWorkFigures);
  }
  text += "\n## Work that the calendar fixes\n\n" + meanings_table(kFixedFigures);
  for (const FixedKind& kind : model.fixed) {
    text += fmt::format("\n### `{}`: {}, counts as `{}`\n\n", kind.id, kind.name, kind.counts_as);
    text += owner_table(entries, "fixed." + kind.id, kFixedFigures);
  }
  text += "\n## Outlook\n\n" + full_table(entries, "outlook", kOutlookFigures);
  text += "\n## Rules that no plan breaks\n\n";
  text += full_table(to_entries(rules.assumptions), "rules", kRuleFigures);
  text += "\n### Of a squad's mornings and groups\n\n";
  text += full_table(to_entries(rules.squad.assumptions), "rules", kRuleFigures);
  return text + test_day_markdown(day);
}

}  // namespace backplan::report
