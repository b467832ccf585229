// The chances of the total in bars: full where the target is reached, hollow under it.
#include <fmt/format.h>

#include <algorithm>

#include "report/chart.hpp"
#include "report/words.hpp"

namespace backplan::report {
namespace {

constexpr double kTotalTop = 34.0, kTotalBottom = 150.0;
constexpr double kTotalLeft = 8.0, kTotalRight = 312.0;

// Where the points of a total stand.
double total_x(const TotalOutlook& total, double points) {
  const double low = total.bins.front().from;
  const double high = total.bins.back().to;
  return kTotalLeft + (points - low) / (high - low) * (kTotalRight - kTotalLeft);
}

void draw_bars(const TotalOutlook& total, double goal, Markup& out) {
  double most = 0.0;
  for (const TotalBin& bin : total.bins) most = std::max(most, bin.p);
  for (const TotalBin& bin : total.bins) {
    const double height = bin.p / most * (kTotalBottom - kTotalTop);
    const double from = total_x(total, bin.from);
    out += box(bin.from >= goal ? "bar" : "bar less", from + 0.75, kTotalBottom - height,
               total_x(total, bin.to) - from - 1.5, height);
  }
}

// The axis with 8 in 10 under it.
void draw_foot(const TotalOutlook& total, Markup& out) {
  out += line("axis", kTotalLeft, kTotalBottom, kTotalRight, kTotalBottom);
  const double from = total_x(total, total.low80);
  const double to = total_x(total, total.high80);
  out += line("ahead", from, kTotalBottom + 6.0, to, kTotalBottom + 6.0);
  const auto places =
      spread_out({from, total_x(total, total.mean), to}, 30.0, kTotalLeft + 14.0, kTotalRight - 14.0);
  const double figures[] = {total.low80, total.mean, total.high80};
  for (std::size_t i = 0; i < 3; ++i) {
    out += label(i == 1 ? "b" : "", places[i], kTotalBottom + 22.0, Anchor::middle, say_points(figures[i]));
  }
}

void draw_target(const TotalOutlook& total, Points target, Markup& out) {
  const double x = std::clamp(total_x(total, target.value()), kTotalLeft, kTotalRight);
  out += line("goal", x, kTotalTop - 14.0, x, kTotalBottom);
  const Anchor anchor = x > 0.5 * kChartWidth ? Anchor::end : Anchor::start;
  out += label("b", x + (anchor == Anchor::end ? -6.0 : 6.0), kTotalTop - 18.0, anchor,
               fmt::format("target {}", to_string(target)));
}

}  // namespace

Picture total_spread(const Plan& plan) {
  Picture picture;
  picture.id = "total";
  picture.title = "The total on test day";
  picture.height = kTotalBottom + 36.0;
  const TotalOutlook& total = plan.outlook.total;
  const bool any = has_total(plan.outlook.p_on_scale);
  picture.words = any ? fmt::format("About {}, 8 in 10 between {} and {}.", say_points(total.mean),
                                    say_points(total.low80), say_points(total.high80))
                      : std::string("None.");
  if (const std::string note = total_note(plan.outlook.p_on_scale); !note.empty())
    picture.words += ' ' + note;
  if (total.bins.empty() || !any) return picture;
  const double low = total.bins.front().from;
  draw_bars(total, plan.target.total ? plan.target.total->value() : low, picture.shapes);
  draw_foot(total, picture.shapes);
  if (plan.target.total) {
    draw_target(total, *plan.target.total, picture.shapes);
    picture.words += fmt::format(" The target is {}: full bars reach it, hollow ones do not.",
                                 to_string(*plan.target.total));
  }
  return picture;
}

}  // namespace backplan::report
