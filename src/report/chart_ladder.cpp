// The ladder: points upwards, a rung for each ten of them with the result that earns it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/chart.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr double kLadderTop = 16.0, kLadderBottom = 214.0;  // of the ladder
constexpr double kLadderLeft = 40.0, kLadderRight = 112.0;  // its rungs
constexpr double kRail = 76.0;                              // where the person is
constexpr double kResults = 118.0, kWords = 186.0;          // columns of text
constexpr double kLineHeight = 15.0;
constexpr double kHalfSpan = 9.0;
constexpr std::int32_t kRungStep = 100;  // tenths of a point

class Ladder {
 public:
  Ladder(const EventOutlook& event, const Scale& scale, const LadderAsk& ask, const Names& names)
      : event_(event), scale_(scale), ask_(ask), names_(names) {
    low_ = scale.rows().front().points.value();
    high_ = scale.rows().back().points.value();
    if (high_ <= low_) high_ = low_ + 1.0;
  }

  Picture draw() {
    Picture picture;
    picture.id = "ladder-" + event_.event;
    picture.title = fmt::format("{}: the official scale", names_.event(event_.event));
    picture.words = words();
    picture.height = kLadderBottom + 16.0;
    picture.shapes = rungs() + interval() + asks() + person();
    return picture;
  }

 private:
  [[nodiscard]] std::string say(double result) const { return names_.estimate(event_.event, result); }

  // Points of a result, part points between rows; never off the ladder.
  [[nodiscard]] double points_of(double result) const {
    const auto& rows = scale_.rows();
    if (!scale_.at_least(result, rows.front().result)) return low_;
    std::size_t i = 0;
    while (i + 1 < rows.size() && scale_.at_least(result, rows[i + 1].result)) ++i;
    if (i + 1 == rows.size()) return high_;
    const double part = (result - rows[i].result) / (rows[i + 1].result - rows[i].result);
    return rows[i].points.value() + part * (rows[i + 1].points - rows[i].points).value();
  }
  // A minimum may lie under the lowest row: it is drawn at the foot.
  [[nodiscard]] double y_of(double points) const {
    return kLadderBottom -
           (std::clamp(points, low_, high_) - low_) / (high_ - low_) * (kLadderBottom - kLadderTop);
  }

  [[nodiscard]] Markup rungs() const {
    Markup out = line("axis", kLadderLeft, kLadderTop, kLadderLeft, kLadderBottom) +
                 line("axis", kLadderRight, kLadderTop, kLadderRight, kLadderBottom);
    double last = kLadderBottom + 2.0 * kLineHeight;
    for (const Row& row : scale_.rows()) {
      const bool end = row.points.value() == low_ || row.points.value() == high_;
      if (!end && row.points.tenths() % kRungStep != 0) continue;
      const double y = y_of(row.points.value());
      if (last - y < kLineHeight) continue;
      last = y;
      out += line("hair", kLadderLeft, y, kLadderRight, y);
      out += label("quiet", kLadderLeft - 6.0, y + 4.0, Anchor::end, to_string(row.points));
      out += label("quiet", kResults, y + 4.0, Anchor::start, say(row.result) + mark(row.origin));
    }
    return out;
  }

  [[nodiscard]] Markup interval() const {
    const double a = y_of(points_of(event_.test_day_low80));
    const double b = y_of(points_of(event_.test_day_high80));
    return box("span", kRail - kHalfSpan, std::min(a, b), 2.0 * kHalfSpan, std::max(2.0, std::fabs(a - b)));
  }

  [[nodiscard]] Markup asks() const {
    Markup out;
    if (ask_.minimum) {
      const double y = y_of(ask_.minimum->value());
      out += line("least", kLadderLeft, y, kLadderRight, y);
    }
    if (ask_.target) {
      const double y = y_of(ask_.target->value());
      out += line("goal", kLadderLeft, y, kLadderRight, y);
    }
    return out;
  }

  [[nodiscard]] Markup person() const {
    struct Note {
      std::string kind, text;
      double y;
    };
    std::vector<Note> notes;
    const double then = y_of(points_of(event_.test_day_result));
    Markup out;
    notes.push_back({"b", "test day " + say(event_.test_day_result), then});
    if (event_.now_result) {
      const double now = y_of(points_of(*event_.now_result));
      out += circle("now", kRail, now, 6.0);
      notes.push_back({"", "today " + say(*event_.now_result), now});
    }
    out += diamond("then", kRail, then, 7.0);
    if (ask_.target)
      notes.push_back({"", fmt::format("target {}", to_string(*ask_.target)), y_of(ask_.target->value())});
    if (ask_.minimum)
      notes.push_back({"", fmt::format("minimum {}", to_string(*ask_.minimum)), y_of(ask_.minimum->value())});
    std::vector<double> wanted;
    for (const Note& note : notes) wanted.push_back(note.y);
    const auto places = spread_out(wanted, kLineHeight, kLadderTop, kLadderBottom);
    for (std::size_t i = 0; i < notes.size(); ++i) {
      out += line("hair", kWords - 10.0, places[i], kWords - 2.0, places[i]);
      out += label(notes[i].kind, kWords, places[i] + 4.0, Anchor::start, notes[i].text);
    }
    return out;
  }

  [[nodiscard]] std::string words() const {
    std::string text;
    if (event_.now_result) text = fmt::format("Today {}. ", say(*event_.now_result));
    text += fmt::format("Test day {}, 8 in 10 between {} and {}.", say(event_.test_day_result),
                        say(event_.test_day_low80), say(event_.test_day_high80));
    if (ask_.minimum) text += fmt::format(" The minimum is {} points.", to_string(*ask_.minimum));
    if (ask_.target) text += fmt::format(" The target is {} points.", to_string(*ask_.target));
    return text;
  }

  const EventOutlook& event_;
  const Scale& scale_;
  LadderAsk ask_;
  const Names& names_;
  double low_ = 0.0, high_ = 0.0;
};

}  // namespace

Picture ladder(const EventOutlook& event, const Scale& scale, const LadderAsk& ask, const Names& names) {
  return Ladder(event, scale, ask, names).draw();
}

}  // namespace backplan::report
