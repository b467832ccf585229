#include "report/html_style.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

#include "backplan/numeric.hpp"

namespace backplan::report {
namespace {

constexpr double kText = 4.5, kGraphic = 3.0;

int hex_digit(char c) { return c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10; }

// Relative luminance of sRGB, WCAG 2.2.
double luminance(std::string_view colour) {
  constexpr std::array<double, 3> kShares{0.2126, 0.7152, 0.0722};
  double sum = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    const int value = 16 * hex_digit(colour[1 + 2 * i]) + hex_digit(colour[2 + 2 * i]);
    const double c = value / 255.0;
    sum += kShares[i] * (c <= 0.04045 ? c / 12.92 : numeric::pow((c + 0.055) / 1.055, 2.4));
  }
  return sum;
}

std::string variables(const Palette& p) {
  return fmt::format(
      "--paper:{};--card:{};--ink:{};--quiet:{};--rule:{};--today:{};--ahead:{};--span:{};--goal:{};--warn:{"
      "}",
      p.paper, p.card, p.ink, p.quiet, p.rule, p.today, p.ahead, p.span, p.goal, p.warn);
}

constexpr std::string_view kRules = R"css(
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,"Liberation Sans",Arial,sans-serif;
-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:70rem;padding:0 1rem 3rem;background:var(--paper);color:var(--ink)}
h1,h2,h3,h4{line-height:1.2;margin:0 0 .5rem;text-wrap:balance}
body{overflow-wrap:break-word}
h1,h3,h4,bdi,th[scope=row]{overflow-wrap:anywhere}
th[scope=row]:not(.n){min-width:6.5rem}
h1{font-size:1.15rem;font-weight:600;color:var(--quiet)}
h2{font-size:1.5rem;margin-top:2.5rem;padding-top:.75rem;border-top:3px solid var(--ink)}
h3{font-size:1.1rem;margin-top:1.25rem}
h4{font-size:1rem;margin-top:.75rem}
p{margin:.25rem 0 .75rem;max-width:42rem}
a{color:inherit;text-underline-offset:.2em}
a:focus-visible,section:focus-visible{outline:3px solid var(--ahead);outline-offset:2px}
.skip{position:absolute;left:-99rem}
.skip:focus{left:1rem;top:.5rem;background:var(--paper);padding:.5rem}
nav ul{display:flex;flex-wrap:wrap;gap:0 1rem;list-style:none;margin:0;padding:0}
nav a{display:inline-block;min-height:2rem;padding:.25rem 0}
header{padding-top:1.5rem}
.answer{background:var(--card);border-left:.5rem solid var(--ahead);padding:1.25rem;margin:1rem 0}
.answer.no{border-left-style:double;border-left-color:var(--warn)}
.verdict{font-size:2.4rem;line-height:1.1;font-weight:700;margin:0 0 .5rem}
.lead{font-size:1.15rem}
.grid{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,19rem),1fr));gap:1rem}
.two{grid-template-columns:repeat(auto-fit,minmax(min(100%,26rem),1fr));align-items:start}
figure{margin:0;background:var(--card);padding:.75rem;break-inside:avoid}
figure svg{display:block;width:100%;height:auto;max-width:30rem;margin:0 auto}
figcaption{font-weight:600;margin-bottom:.25rem}
svg text{font:12px system-ui,"Liberation Sans",Arial,sans-serif;fill:var(--ink)}
svg text{unicode-bidi:isolate}
svg .quiet{fill:var(--quiet)}
svg .b{font-weight:700}
svg .on{font-weight:700;paint-order:stroke;stroke:var(--card);stroke-width:3;stroke-linejoin:round}
.hair{stroke:var(--rule);stroke-width:1;fill:none}
.axis{stroke:var(--quiet);stroke-width:1;fill:none}
.span{fill:var(--span);stroke:var(--ahead);stroke-width:1}
.bar{fill:var(--ahead)}
.bar.less{fill:var(--card);stroke:var(--ahead);stroke-width:1.5}
.ahead{stroke:var(--ahead);stroke-width:2.5;fill:none}
.then{fill:var(--ahead);stroke:var(--card);stroke-width:1}
.now{fill:var(--card);stroke:var(--today);stroke-width:2.5}
.dot{fill:var(--today);stroke:var(--card);stroke-width:1}
.tick{stroke:var(--today);stroke-width:2;fill:none}
.goal{stroke:var(--goal);stroke-width:2;stroke-dasharray:6 3;fill:none}
.least{stroke:var(--warn);stroke-width:2;stroke-dasharray:2 3;fill:none}
.scroll{overflow-x:auto}
table{border-collapse:collapse;font-variant-numeric:tabular-nums;width:100%;font-size:.9rem}
caption{text-align:left;font-weight:600;padding:.25rem 0}
th,td{text-align:left;padding:.25rem .5rem;border-bottom:1px solid var(--rule);vertical-align:top}
thead th{border-bottom:2px solid var(--ink)}
.n{text-align:right;white-space:nowrap}
.whole{white-space:nowrap}
td:has(bdi){min-width:min(11rem,40vw)}
tr{break-inside:avoid}
.meter{display:block;width:100%;min-width:6rem;height:.8rem}
.quiet{color:var(--quiet)}
.doubt{color:var(--warn);font-weight:600}
.week{background:var(--card);padding:1rem;margin:1rem 0}
.days{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(100%,20rem),1fr));gap:0 1.5rem}
.day{border-top:1px solid var(--rule);padding:.5rem 0;break-inside:avoid}
.mark{border:1px solid var(--quiet);border-radius:.25rem;padding:0 .35rem;font-size:.85rem;font-weight:400}
.block{margin:.35rem 0 .6rem}
.block p{margin:.1rem 0}
.small{font-size:.85rem}
.card,.morning{background:var(--card);padding:1rem}
.card h3,.morning h3{margin-top:0}
.morning{margin:1rem 0}
.morning figure{padding:0 0 .75rem}
.stations,.cards{columns:22rem;column-gap:1.5rem}
.cards .card{margin:0 0 1rem;break-inside:avoid}
.station{border-top:1px solid var(--rule);padding:.4rem 0}
.station h4,.station li,.card li{break-inside:avoid}
.station h4{margin:.1rem 0;break-after:avoid;text-wrap:wrap}
.plain{list-style:none;padding:0;margin:.1rem 0}
.plain li{margin:.15rem 0}
ul{padding-left:1.2rem;max-width:42rem}
dl{display:grid;grid-template-columns:auto 1fr;gap:.1rem .75rem;max-width:42rem}
dd{margin:0}
dt{font-weight:600}
footer{margin-top:2.5rem;border-top:3px solid var(--ink);padding-top:.75rem}
)css";

constexpr std::string_view kPrint = R"css(
html{font-size:9.5pt;line-height:1.3}
body{max-width:none;padding:0 2px}
header{padding-top:0}
p,ul,dl{max-width:none}
footer{margin-top:.75rem;font-size:8pt}
nav,.skip,.screen{display:none}
h2{break-after:avoid;margin-top:1.2rem}
h3,h4,caption,thead{break-after:avoid}
.scroll{overflow:visible}
td:has(bdi){min-width:0}
figure,.week,.answer{border:1px solid var(--rule)}
.grid{grid-template-columns:repeat(3,1fr);gap:.5rem}
.two{grid-template-columns:repeat(2,1fr)}
figure{padding:.4rem}
.alone h2{margin-top:.5rem}
#course{break-before:page}
.week{break-before:page;break-inside:avoid;margin:0;font-size:8.5pt;line-height:1.25}
.card,.morning{border:1px solid var(--rule)}
#mornings,#sheets,.morning{break-before:page}
#mornings+.morning{break-before:auto}
.alone #mornings{break-before:auto}
.morning{break-inside:avoid;margin:0;padding:.5rem;font-size:8.5pt;line-height:1.25}
.morning h3{margin-bottom:.2rem}
.morning p{margin:.1rem 0 .3rem}
.morning figure{border:0;padding:0 0 .3rem}
.stations{columns:2;column-gap:1rem}
.station{padding:.2rem 0}
.plain li{margin:.05rem 0}
.many{font-size:6.5pt;line-height:1.15}
.many .stations{columns:3;column-gap:.75rem}
.cards{columns:3;column-gap:.5rem;font-size:7pt;line-height:1.15}
.cards .card{margin:0 0 .75rem;padding:.5rem}
.card h3,.card h4{margin:.15rem 0}
.card h4,.station h4{font-size:1em}
.many .small{font-size:1em}
.crowd .rest{display:none}
.crowd .station{padding:.1rem 0}
.card p{margin:.1rem 0}
.alone .week{break-before:auto;padding:.4rem}
.alone ul{margin:.25rem 0}
.days{display:block;columns:2;column-gap:1.5rem}
.day{break-inside:auto}
.block{break-inside:avoid}
a{text-decoration:none}
@page{margin:12mm}
)css";

}  // namespace

const Palette& light_palette() {
  static const Palette palette{"#f7f5ef", "#ffffff", "#1c2127", "#51585f", "#b9bcb8",
                               "#7a3c00", "#0a5f66", "#bfe0dd", "#6b2a77", "#a1300f"};
  return palette;
}

const Palette& dark_palette() {
  static const Palette palette{"#15191d", "#1f252b", "#efece4", "#b4b9bd", "#4b545c",
                               "#f2b366", "#6fcdc6", "#21545a", "#d9a3e6", "#ff9d80"};
  return palette;
}

std::vector<ColourPair> colour_pairs(const Palette& p) {
  std::vector<ColourPair> out;
  const std::vector<std::pair<std::string, std::string>> grounds{{"paper", p.paper}, {"card", p.card}};
  for (const auto& [name, ground] : grounds) {
    out.push_back({"text on " + name, p.ink, ground, kText});
    out.push_back({"quiet text on " + name, p.quiet, ground, kText});
    out.push_back({"doubt on " + name, p.warn, ground, kText});
    out.push_back({"the forecast on " + name, p.ahead, ground, kGraphic});
    out.push_back({"today on " + name, p.today, ground, kGraphic});
    out.push_back({"a target on " + name, p.goal, ground, kGraphic});
    out.push_back({"a minimum on " + name, p.warn, ground, kGraphic});
  }
  out.push_back({"the forecast on its interval", p.ahead, p.span, kGraphic});
  out.push_back({"a number on the interval", p.ink, p.span, kText});
  out.push_back({"today on the interval", p.today, p.span, kGraphic});
  out.push_back({"a target on the interval", p.goal, p.span, kGraphic});
  return out;
}

double contrast(const std::string& a, const std::string& b) {
  const auto [dark, light] = std::minmax({luminance(a), luminance(b)});
  return (light + 0.05) / (dark + 0.05);
}

std::string style_sheet() {
  Palette on_white = light_palette();
  on_white.paper = on_white.card;
  return fmt::format(
      ":root{{color-scheme:light dark;{0}}}\n@media (prefers-color-scheme:dark){{:root{{{1}}}}}\n{2}"
      "@media print{{\n:root{{color-scheme:light;{4}}}\n{3}}}\n",
      variables(light_palette()), variables(dark_palette()), kRules, kPrint, variables(on_white));
}

}  // namespace backplan::report
