#include "property/shipped_data.hpp"

#include <map>
#include <stdexcept>
#include <utility>

#include "io/readers.hpp"

namespace backplan::testing {
namespace {

std::vector<io::DataFile> files_below(const std::string& folder) {
  std::vector<io::DataFile> files;
  for (const io::DataFile& file : io::embedded_data()) {
    if (file.path.rfind(folder, 0) == 0) files.push_back(file);
  }
  return files;
}

template <class T>
T valid(Result<T> result) {
  if (result.ok()) return std::move(result).value();
  std::string faults;
  for (const Diagnostic& fault : result.faults()) faults += to_string(fault) + "\n";
  throw std::runtime_error(faults);
}

}  // namespace

const Standard& shipped_standard(const std::string& id) {
  static std::map<std::string, Standard> known;
  const auto found = known.find(id);
  if (found != known.end()) return found->second;
  return known.emplace(id, valid(io::read_standard(files_below("standards/" + id + "/")))).first->second;
}

const Model& shipped_model() {
  static const Model kModel = valid(io::read_model(files_below("model/")));
  return kModel;
}

const Rules& shipped_rules() {
  static const Rules kRules = valid(io::read_rules(files_below("model/")));
  return kRules;
}

}  // namespace backplan::testing
