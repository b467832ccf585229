// Official tables as users copy them out of a document, to cells that replace weaker ones. Text in,
// text out: all or nothing, and no file is touched here.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/result.hpp"
#include "backplan/standard.hpp"

namespace backplan::io {

struct TableRequest {
  std::string file;         // for messages
  std::string event;        // needed for the wide shape; may be empty for the long form
  std::string column;       // likewise
  bool trust_file = false;  // the file beats published cells that say otherwise
};

struct ImportedFile {
  std::string name;  // "MDL-female.cells.csv"
  std::string text;  // long form
};

// Of the cells of the table, against the scales that the standard had.
struct ImportSummary {
  std::size_t cells = 0;                  // with a result
  std::size_t without_row = 0;            // "---"
  std::size_t agree_published = 0;        // published cells that the table confirms
  std::size_t replaced_published = 0;     // differ, and the file is trusted
  std::size_t replaced_memory = 0;        // remembered cells that are now official
  std::size_t replaced_interpolated = 0;  // filled rows that are now official
  std::size_t differ = 0;                 // of the two above: cells that said something else
};

struct ImportedTable {
  std::vector<ImportedFile> files;  // one an event and column
  ImportSummary summary;
  Diagnostics warnings;  // remembered cells that differ
};

// Wide shape: a header of age bands ("17-21", "62+", "over 62") after a first cell of any text but a
// band, then a row for each points value: points, and a result or dashes a band; parted by tabs, commas,
// semicolons, or runs of blanks. Long form: see kLongHeader in io/cells.hpp, dashes where no row is given.
//
// Refused: unknown names; a missing age band; a points value missing between the lowest and the highest of
// the standard's own scale; results off the resolution or the plausible range, or not harder with the
// points; and, unless the file is trusted, a clash with a published cell. `standard` is the shipped one,
// without cells that were imported before.
[[nodiscard]] Result<ImportedTable> import_table(std::string_view text, const TableRequest& request,
                                                 const Standard& standard);

}  // namespace backplan::io
