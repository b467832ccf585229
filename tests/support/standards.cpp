#include "support/standards.hpp"

#include <stdexcept>

namespace backplan::test {

std::vector<io::DataFile> shipped_folder(const std::string& id) {
  const std::string prefix = "standards/" + id + "/";
  std::vector<io::DataFile> folder;
  for (const io::DataFile& file : io::embedded_data()) {
    if (file.path.substr(0, prefix.size()) == prefix) folder.push_back(file);
  }
  return folder;
}

Standard read_or_fail(const std::vector<io::DataFile>& folder) {
  auto standard = io::read_standard(folder);
  if (!standard) throw std::runtime_error(all_messages(standard.faults()));
  return std::move(standard).value();
}

Standard shipped_standard(const std::string& id) { return read_or_fail(shipped_folder(id)); }

std::string all_messages(const Diagnostics& faults) {
  std::string text;
  for (const Diagnostic& fault : faults) text += to_string(fault) + "\n";
  return text;
}

Date day(int year, unsigned month, unsigned day_of_month) {
  return std::chrono::year(year) / std::chrono::month(month) / std::chrono::day(day_of_month);
}

}  // namespace backplan::test
