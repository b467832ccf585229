#include "bench/subjects.hpp"

#include <chrono>
#include <cstddef>
#include <map>
#include <stdexcept>

#include "io/readers.hpp"
#include "property/shipped_data.hpp"
#include "store/files.hpp"

namespace backplan::bench {
namespace {

constexpr std::size_t kMostBytes = 1U << 20U;

Candidate read(const std::string& who) {
  const std::string path = std::string(BACKPLAN_SOURCE_DIR) + "/data/demo/" + who + "/candidate.json";
  const auto text = store::read_file(path, kMostBytes);
  if (!text.ok()) throw std::runtime_error(path + " is too long");
  const Knowledge knowledge = demo_knowledge();
  const auto candidate =
      io::read_candidate(text.value(), path, knowledge.standard, knowledge.model, demo_day());
  if (candidate.ok()) return candidate.value();
  std::string faults;
  for (const Diagnostic& fault : candidate.faults()) faults += to_string(fault) + "\n";
  throw std::runtime_error(faults);
}

}  // namespace

Date demo_day() { return std::chrono::sys_days{std::chrono::year{2026} / 12 / 1}; }

const Candidate& demo_candidate(const std::string& who) {
  static std::map<std::string, Candidate> known;
  const auto found = known.find(who);
  if (found != known.end()) return found->second;
  return known.emplace(who, read(who)).first->second;
}

Knowledge demo_knowledge() {
  return {testing::shipped_standard("us-army-aft"), testing::shipped_model(), testing::shipped_rules()};
}

}  // namespace backplan::bench
