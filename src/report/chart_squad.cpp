#include "report/chart_squad.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/value_text.hpp"
#include "report/squad_view.hpp"
#include "report/squad_words.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr double kSquadLeft = 98.0, kSquadRight = 308.0;
constexpr double kSquadTop = 22.0, kPitch = 18.0, kThick = 13.0;
constexpr std::size_t kLabelLetters = 12;
constexpr std::size_t kMostLines = 40;    // lines that can be told apart on a page
constexpr std::size_t kMostChances = 24;  // of the least likely
constexpr double kWidthOfADigit = 7.0;    // of 12-unit letters
constexpr double kNarrowestTurn = 1.5;    // so that it is seen

// The first letters, cut between characters.
std::string shortened(const std::string& text, std::size_t letters) {
  if (width_of(text) <= letters) return text;
  std::string out;
  std::size_t n = 0;
  for (const char c : text) {
    const bool begins = (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    if (begins && ++n == letters) break;
    out += c;
  }
  return out + "…";
}

double top_of(std::size_t line) { return kSquadTop + static_cast<double>(line) * kPitch; }
double height_of(std::size_t lines) { return top_of(lines) + 4.0; }

Markup line_head(std::size_t i, const std::string& text) {
  return label("", kSquadLeft - 6.0, top_of(i) + kThick - 2.0, Anchor::end, shortened(text, kLabelLetters));
}

// A stay or a turn on a line, with a number where it has the room.
struct Stretch {
  double from = 0.0, to = 0.0;
  std::string kind;
  std::string text;
};
struct Line {
  std::string head;
  std::vector<Stretch> stretches;
};

std::vector<Stretch> stretches_of(const Visit& visit) {
  const std::string number = fmt::format("{}", visit.number);
  const double from = visit.turns.front()->from;
  if (!is_shared(*visit.station)) return {{from, visit.turns.front()->to, "span", number}};
  std::vector<Stretch> out{{from, visit.turns.back()->to, "bar less", number}};
  for (const Turn* turn : visit.turns) out.push_back({turn->from, turn->to, "bar", ""});
  return out;
}

std::vector<Line> lines_by_person(const Programme& programme, const Morning& morning) {
  std::vector<std::pair<std::size_t, Line>> sorted;
  for (const Person& person : programme.people) {
    Line out{display_of(programme, person), {}};
    const auto visits = visits_of(morning, person.id);
    if (visits.empty()) continue;
    for (const Visit& visit : visits) {
      for (Stretch& stretch : stretches_of(visit)) out.stretches.push_back(std::move(stretch));
    }
    sorted.emplace_back(visits.front().number, std::move(out));
  }
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Line> lines;
  for (auto& [number, one] : sorted) lines.push_back(std::move(one));
  return lines;
}

std::vector<Line> lines_by_station(const Morning& morning, const Names& names) {
  std::vector<Line> lines;
  for (std::size_t i = 0; i < morning.stations.size(); ++i) {
    const Station& station = morning.stations[i];
    lines.push_back({fmt::format("{} {}", i + 1, names.work(station.work)),
                     {{station.turns.front().from, last_minute(station), "span",
                       fmt::format("{}", people_at(station).size())}}});
  }
  return lines;
}

Markup axis(double minutes, std::size_t lines) {
  constexpr int kStep = 10;
  Markup out;
  for (int minute = 0; minute <= static_cast<int>(minutes); minute += kStep) {
    const double x = kSquadLeft + minute / minutes * (kSquadRight - kSquadLeft);
    out += line("hair", x, kSquadTop - 4.0, x, top_of(lines));
    out += label("quiet", x, kSquadTop - 8.0, Anchor::middle, fmt::format("{}", minute));
  }
  return out;
}

}  // namespace

Picture chances_picture(const Programme& programme, const Standard& standard) {
  const std::vector<const Person*> people = by_risk(programme);
  const std::size_t shown = std::min(people.size(), kMostChances);
  Picture picture;
  picture.id = "chances";
  const char* passing = passing_words(standard);
  picture.title = fmt::format("How likely each {}", passing);
  picture.height = height_of(shown);
  const auto enough = static_cast<std::size_t>(std::count_if(
      people.begin(), people.end(), [&](const Person* person) { return !is_at_risk(programme, *person); }));
  picture.words = fmt::format("{} of {} {} with at least {}, as asked.", enough, people.size(), passing,
                              say_chance(programme.confidence));
  const auto x_of = [](double chance) { return kSquadLeft + chance * (kSquadRight - kSquadLeft); };
  for (std::size_t i = 0; i < shown; ++i) {
    const Person& person = *people[i];
    picture.shapes += line_head(i, display_of(programme, person));
    picture.shapes += box(is_at_risk(programme, person) ? "bar less" : "bar", kSquadLeft, top_of(i),
                          (1.0 - person.p_fail) * (kSquadRight - kSquadLeft), kThick);
  }
  picture.shapes += line("axis", kSquadLeft, kSquadTop - 4.0, kSquadLeft, top_of(shown));
  const double asked = x_of(programme.confidence);
  picture.shapes += line("goal", asked, kSquadTop - 6.0, asked, top_of(shown));
  picture.shapes +=
      label("b", asked + 4.0, kSquadTop - 9.0, asked > 0.5 * kChartWidth ? Anchor::end : Anchor::start,
            fmt::format("asked: {}", say_chance(programme.confidence)));
  return picture;
}

Picture rotation_picture(const Programme& programme, const Morning& morning, const Names& names) {
  std::vector<Line> lines = lines_by_person(programme, morning);
  const bool by_person = lines.size() <= kMostLines;
  if (!by_person) lines = lines_by_station(morning, names);
  Picture picture;
  picture.id = "rotation-" + io::write_date(morning.date);
  picture.title = fmt::format("Who is where on {}", short_date(morning.date));
  picture.words = fmt::format("{} over {} minutes: each {}. The same in words stands beside it.",
                              count(static_cast<int>(lines.size()), "line"), morning.minutes,
                              by_person ? "one person, with the numbers of the stations"
                                        : "one station, with the number of its people");
  picture.height = height_of(lines.size());
  const double minutes = std::max(1, morning.minutes);
  const auto x_of = [&](double minute) { return kSquadLeft + minute / minutes * (kSquadRight - kSquadLeft); };
  picture.shapes = axis(minutes, lines.size());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    picture.shapes += line_head(i, lines[i].head);
    for (const Stretch& one : lines[i].stretches) {
      const double width = std::max(kNarrowestTurn, x_of(one.to) - x_of(one.from));
      picture.shapes += box(one.kind, x_of(one.from), top_of(i), width, kThick);
    }
    for (const Stretch& one : lines[i].stretches) {
      const double room = x_of(one.to) - x_of(one.from);
      if (one.text.empty() || room < kWidthOfADigit * static_cast<double>(one.text.size())) continue;
      picture.shapes += label("on", 0.5 * (x_of(one.from) + x_of(one.to)), top_of(i) + kThick - 2.5,
                              Anchor::middle, one.text);
    }
  }
  return picture;
}

}  // namespace backplan::report
