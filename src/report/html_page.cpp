#include "report/html_page.hpp"

#include "report/html_style.hpp"

namespace backplan::report {
namespace {

// Nothing is fetched and nothing runs.
constexpr const char* kPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

Markup head_of(const std::string& title) {
  return element("head", {},
                 {element("meta", {{"charset", "utf-8"}}),
                  element("meta", {{"http-equiv", "Content-Security-Policy"}, {"content", kPolicy}}),
                  element("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}}),
                  element("meta", {{"name", "color-scheme"}, {"content", "light dark"}}),
                  element("title", {}, title), element("style", {}, Markup::trusted(style_sheet()))});
}

Markup contents_of(const std::vector<Section>& sections) {
  Markup links;
  for (const Section& section : sections) {
    links += element("li", {}, {element("a", {{"href", "#" + section.id}}, section.heading)});
  }
  return element("nav", {{"aria-label", "Contents"}}, {element("ul", {}, links)});
}

Markup section_of(const Section& section) {
  Attributes attributes{{"aria-labelledby", section.id}};
  if (!section.on_paper) attributes.emplace_back("class", "screen");
  return element("section", attributes, {element("h2", {{"id", section.id}}, section.heading), section.body});
}

}  // namespace

Markup paragraph(const std::string& text) { return element("p", {}, text); }

std::string html_page(const Page& page) {
  Markup sections;
  for (const Section& section : page.sections) sections += section_of(section);
  const Markup contents = page.alone ? Markup() : contents_of(page.sections);
  const Markup body = element("body", page.alone ? Attributes{{"class", "alone"}} : Attributes{},
                              {element("a", {{"class", "skip"}, {"href", "#answer"}}, "To the answer"),
                               element("header", {}, {element("h1", {}, page.title)}),
                               element("main", {{"id", "answer"}}, {page.opening, contents, sections}),
                               element("footer", {}, page.closing)});
  return "<!DOCTYPE html>\n" + element("html", {{"lang", "en"}}, {head_of(page.title), body}).str() + '\n';
}

Markup html_table(const DataTable& table) {
  const auto set = [&](std::size_t column) {
    if (table.numeric[column]) return Attributes{{"class", "n"}};
    const bool whole = column < table.unbroken.size() && table.unbroken[column];
    return whole ? Attributes{{"class", "whole"}} : Attributes{};
  };
  Markup head;
  for (std::size_t i = 0; i < table.head.size(); ++i) {
    Attributes attributes = set(i);
    attributes.emplace_back("scope", "col");
    head += element("th", attributes, table.head[i]);
  }
  Markup rows;
  for (const auto& row : table.rows) {
    Markup cells;
    for (std::size_t i = 0; i < row.size(); ++i) {
      Attributes attributes = set(i);
      if (i == 0) attributes.emplace_back("scope", "row");
      cells += element(i == 0 ? "th" : "td", attributes, row[i]);
    }
    rows += element("tr", {}, cells);
  }
  return element("section", {{"class", "scroll"}, {"tabindex", "0"}, {"aria-label", table.caption}},
                 {element("table", {},
                          {element("caption", {}, table.caption),
                           element("thead", {}, {element("tr", {}, head)}), element("tbody", {}, rows)})});
}

}  // namespace backplan::report
