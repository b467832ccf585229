#include "support/model_files.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace backplan::test {

std::vector<io::DataFile> replace_in_file(std::vector<io::DataFile> files, const std::string& path,
                                          const std::string& old_text, const std::string& new_text) {
  const auto file =
      std::find_if(files.begin(), files.end(), [&](const io::DataFile& f) { return f.path == path; });
  const auto at = file == files.end() ? std::string::npos : file->text.find(old_text);
  if (at == std::string::npos) {
    ADD_FAILURE() << path << " does not hold " << old_text;
    return files;
  }
  file->text.replace(at, old_text.size(), new_text);
  return files;
}

std::vector<io::DataFile> replace_in_file(const std::string& path, const std::string& old_text,
                                          const std::string& new_text) {
  return replace_in_file(io::embedded_data(), path, old_text, new_text);
}

Diagnostic only_fault(const Diagnostics& faults) {
  EXPECT_EQ(faults.size(), 1U);
  for (const Diagnostic& fault : faults) {
    EXPECT_GT(fault.line, 0) << to_string(fault);
    EXPECT_GT(fault.column, 0) << to_string(fault);
  }
  return faults.empty() ? Diagnostic{} : faults.front();
}

const Assumption* find_assumption(const std::vector<Assumption>& list, const std::string& name) {
  const auto found =
      std::find_if(list.begin(), list.end(), [&](const Assumption& one) { return one.name == name; });
  return found == list.end() ? nullptr : &*found;
}

}  // namespace backplan::test
