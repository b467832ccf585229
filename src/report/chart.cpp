#include "report/chart.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace backplan::report {

Markup svg_of(const Picture& picture) {
  const std::string title = picture.id + "-title";
  const std::string words = picture.id + "-words";
  return element("svg",
                 {{"viewBox", fmt::format("0 0 {} {}", coordinate(kChartWidth), coordinate(picture.height))},
                  {"role", "img"},
                  {"aria-labelledby", title + " " + words}},
                 {element("title", {{"id", title}}, picture.title),
                  element("desc", {{"id", words}}, picture.words), picture.shapes});
}

Markup line(const std::string& kind, double x1, double y1, double x2, double y2) {
  return element("line", {{"class", kind},
                          {"x1", coordinate(x1)},
                          {"y1", coordinate(y1)},
                          {"x2", coordinate(x2)},
                          {"y2", coordinate(y2)}});
}

Markup box(const std::string& kind, double x, double y, double width, double height) {
  return element("rect", {{"class", kind},
                          {"x", coordinate(x)},
                          {"y", coordinate(y)},
                          {"width", coordinate(std::max(0.0, width))},
                          {"height", coordinate(std::max(0.0, height))}});
}

Markup circle(const std::string& kind, double x, double y, double r) {
  return element("circle",
                 {{"class", kind}, {"cx", coordinate(x)}, {"cy", coordinate(y)}, {"r", coordinate(r)}});
}

Markup diamond(const std::string& kind, double x, double y, double r) {
  return element("path", {{"class", kind},
                          {"d", fmt::format("M{} {}L{} {}L{} {}L{} {}Z", coordinate(x), coordinate(y - r),
                                            coordinate(x + r), coordinate(y), coordinate(x),
                                            coordinate(y + r), coordinate(x - r), coordinate(y))}});
}

Markup label(const std::string& kind, double x, double y, Anchor anchor, const std::string& text) {
  const char* where = anchor == Anchor::start ? "start" : anchor == Anchor::middle ? "middle" : "end";
  return element("text",
                 {{"class", kind}, {"x", coordinate(x)}, {"y", coordinate(y)}, {"text-anchor", where}}, text);
}

Markup path(const std::string& kind, const std::vector<Spot>& spots) {
  std::string d;
  for (const Spot& spot : spots)
    d += fmt::format("{}{} {}", d.empty() ? 'M' : 'L', coordinate(spot.x), coordinate(spot.y));
  return element("path", {{"class", kind}, {"d", d}});
}

std::vector<double> spread_out(std::vector<double> wanted, double apart, double low, double high) {
  std::vector<std::size_t> order(wanted.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return wanted[a] < wanted[b]; });
  double free_from = low;
  for (const std::size_t i : order) {
    wanted[i] = std::max(wanted[i], free_from);
    free_from = wanted[i] + apart;
  }
  double free_to = high;
  for (std::size_t n = order.size(); n-- > 0;) {
    wanted[order[n]] = std::min(wanted[order[n]], free_to);
    free_to = wanted[order[n]] - apart;
  }
  return wanted;
}

}  // namespace backplan::report
