// A folder that is gone when the test ends.
#pragma once

#include <filesystem>
#include <string>

namespace backplan::test {

class TemporaryFolder {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  // Writes a file below the folder, making folders on the way; returns its path.
  std::filesystem::path write(const std::string& name, const std::string& text) const;
  // The bytes of a file below the folder; "" if there is none.
  [[nodiscard]] std::string read(const std::string& name) const;
  // Names of everything in the folder, hidden files too, joined by spaces in order.
  [[nodiscard]] std::string names() const;

 private:
  std::filesystem::path path_;
};

}  // namespace backplan::test
