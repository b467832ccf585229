// In the place of workbook_file.cpp where everything is linked into the program: the distribution has no
// archive of libxlsxwriter.
#include "store/failures.hpp"
#include "store/workbook_file.hpp"

namespace backplan::store {

std::string workbook_bytes(const std::vector<io::Sheet>& /*sheets*/, Date /*made*/) {
  throw CannotCreate("this build of the program cannot write workbooks",
                     "`backplan export csv` writes the same rows; the Debian package writes workbooks too");
}

}  // namespace backplan::store
