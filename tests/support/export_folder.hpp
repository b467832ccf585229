// A folder whose plan or programme is exported, on a day on which demonstrations begin.
#pragma once

#include <string>
#include <vector>

#include "support/command.hpp"
#include "support/temporary_folder.hpp"

namespace backplan::support {

class ExportFolder {
 protected:
  static constexpr const char* kToday = "2026-12-01";

  [[nodiscard]] std::string where() const { return folder.path().string(); }
  // `backplan export` with these words.
  [[nodiscard]] Answer run(std::vector<std::string> words) const;
  // The export on standard output; fails the test when there is none.
  [[nodiscard]] std::string printed(const std::string& kind, std::vector<std::string> more = {}) const;

  test::TemporaryFolder folder;
};

// Every id of a page stands there once, and every picture is named by one of them.
void expect_sound_ids(const std::string& page);

}  // namespace backplan::support
