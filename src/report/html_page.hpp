// The frame of every report: one file, whole without scripts and without a network.
#pragma once

#include <string>
#include <vector>

#include "report/markup.hpp"

namespace backplan::report {

struct Section {
  std::string id;
  std::string heading;
  Markup body;
  bool on_paper = true;  // false: left out in print
};

struct Page {
  std::string title;  // of the window; also the h1
  Markup opening;     // after the h1, before the sections
  std::vector<Section> sections;
  Markup closing;
  bool alone = false;  // one sheet: no list of contents, no page of its own for a week
};

[[nodiscard]] std::string html_page(const Page& page);

[[nodiscard]] Markup paragraph(const std::string& text);

// A table with a head, scrolling by itself where it is too wide. Cells of `numeric` columns are set right
// and not broken: they are figures.
struct DataTable {
  std::string caption;
  std::vector<std::string> head;
  std::vector<bool> numeric;
  std::vector<bool> unbroken = {};        // columns of short cells (dates) that keep to one line; empty: none
  std::vector<std::vector<Markup>> rows;  // the first cell is the row's head
};
[[nodiscard]] Markup html_table(const DataTable& table);

}  // namespace backplan::report
