// Workbooks for spreadsheet programs (Office Open XML), made by libxlsxwriter.
#pragma once

#include <string>
#include <vector>

#include "io/sheet.hpp"

namespace backplan::store {

// The bytes of the workbook. Heads stay in view and are repeated on each printed page; a page is as wide as
// its sheet. Texts are never run as formulas. `made` is the day that the file says it was made on, so that
// the same sheets give the same bytes. The library writes through a file of its own in the folder for
// temporary files, which is gone afterwards. Throws IoFailure.
[[nodiscard]] std::string workbook_bytes(const std::vector<io::Sheet>& sheets, Date made);

}  // namespace backplan::store
