#include "store/workbook_file.hpp"

#include <fmt/format.h>
#include <stdlib.h>
#include <xlsxwriter.h>

#include <chrono>
#include <filesystem>
#include <system_error>

#include "store/failures.hpp"
#include "store/files.hpp"

namespace backplan::store {
namespace {

constexpr std::size_t kMostBytes = 64U << 20U;

// A folder that only this user can read, gone at the end.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "backplan.XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr)
      throw IoFailure("cannot make a folder for temporary files",
                      "check that there is room where temporary files go (TMPDIR)");
    path_ = name;
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  [[nodiscard]] const Path& path() const { return path_; }

 private:
  Path path_;
};

lxw_datetime datetime_of(Date date) {
  const std::chrono::year_month_day day(date);
  lxw_datetime out{};
  out.year = static_cast<int>(day.year());
  out.month = static_cast<int>(static_cast<unsigned>(day.month()));
  out.day = static_cast<int>(static_cast<unsigned>(day.day()));
  return out;
}

struct Formats {
  lxw_format* head = nullptr;
  lxw_format* text = nullptr;
  lxw_format* date = nullptr;
};

Formats formats_of(lxw_workbook* book) {
  Formats out{workbook_add_format(book), workbook_add_format(book), workbook_add_format(book)};
  format_set_bold(out.head);
  format_set_bottom(out.head, LXW_BORDER_MEDIUM);
  format_set_text_wrap(out.text);
  format_set_align(out.text, LXW_ALIGN_VERTICAL_TOP);
  format_set_num_format(out.date, "yyyy-mm-dd");
  format_set_align(out.date, LXW_ALIGN_LEFT);
  format_set_align(out.date, LXW_ALIGN_VERTICAL_TOP);
  return out;
}

void write_cell(lxw_worksheet* sheet, lxw_row_t row, lxw_col_t column, const io::SheetCell& cell,
                const Formats& formats) {
  if (const auto* figure = std::get_if<double>(&cell)) {
    worksheet_write_number(sheet, row, column, *figure, formats.text);
  } else if (const auto* date = std::get_if<Date>(&cell)) {
    lxw_datetime when = datetime_of(*date);
    worksheet_write_datetime(sheet, row, column, &when, formats.date);
  } else {
    worksheet_write_string(sheet, row, column, std::get<std::string>(cell).c_str(), formats.text);
  }
}

void add_sheet(lxw_workbook* book, const io::Sheet& sheet, const Formats& formats) {
  lxw_worksheet* out = workbook_add_worksheet(book, sheet.name.c_str());
  const auto columns = static_cast<lxw_col_t>(sheet.columns.size());
  for (lxw_col_t c = 0; c < columns; ++c) {
    worksheet_set_column(out, c, c, sheet.columns[c].width, nullptr);
    worksheet_write_string(out, 0, c, sheet.columns[c].head.c_str(), formats.head);
  }
  for (std::size_t r = 0; r < sheet.rows.size(); ++r) {
    for (lxw_col_t c = 0; c < columns; ++c)
      write_cell(out, static_cast<lxw_row_t>(r + 1), c, sheet.rows[r][c], formats);
  }
  worksheet_freeze_panes(out, 1, 1);
  worksheet_repeat_rows(out, 0, 0);
  worksheet_autofilter(out, 0, 0, static_cast<lxw_row_t>(sheet.rows.size()),
                       static_cast<lxw_col_t>(columns - 1));
  if (sheet.landscape) worksheet_set_landscape(out);
  worksheet_fit_to_pages(out, 1, 0);
  worksheet_set_footer(out, "&L&A&RPage &P of &N");
}

}  // namespace

std::string workbook_bytes(const std::vector<io::Sheet>& sheets, Date made) {
  const TemporaryFolder folder;
  const std::string name = (folder.path() / "book.xlsx").string();
  lxw_workbook* book = workbook_new(name.c_str());
  if (book == nullptr) throw IoFailure("cannot make a workbook", "check that there is memory left");
  lxw_doc_properties properties{};
  properties.created = std::chrono::duration_cast<std::chrono::seconds>(made.time_since_epoch()).count();
  workbook_set_properties(book, &properties);
  const Formats formats = formats_of(book);
  for (const io::Sheet& sheet : sheets) add_sheet(book, sheet, formats);
  if (const lxw_error error = workbook_close(book); error != LXW_NO_ERROR) {
    throw IoFailure(fmt::format("cannot write the workbook: {}", lxw_strerror(error)),
                    "check that there is room where temporary files go (TMPDIR)");
  }
  return read_file(name, kMostBytes).value();
}

}  // namespace backplan::store
