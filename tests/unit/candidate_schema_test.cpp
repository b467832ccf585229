// The published schema and the reader must know the same keys, ask for the same ones and draw the
// same limits. (The schema itself is judged by tests/support/check_schema.py.)
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "support/candidate_text.hpp"
#include "support/small_standard.hpp"
#include "support/text.hpp"

namespace backplan::io {
namespace {

using nlohmann::json;
using support::bytes_of;

json schema() {
  return json::parse(
      bytes_of(std::filesystem::path(BACKPLAN_SOURCE_DIR) / "data/schema/candidate.schema.json"));
}

json full() { return json::parse(support::kFullCandidate); }

Diagnostics faults_of(const json& candidate) {
  const auto result = read_candidate(candidate.dump(), "c.json", support::small_standard(),
                                     support::small_model(), read_date("2026-11-25").value.value());
  return result.ok() ? Diagnostics() : result.faults();
}

// The objects of a candidate with keys of their own, by their place in the schema and in a file.
struct Shape {
  const char* schema;
  const char* file;
};
constexpr Shape kShapes[] = {{"", ""},
                             {"/properties/target", "/target"},
                             {"/properties/now", "/now"},
                             {"/properties/results/items", "/results/0"},
                             {"/properties/week", "/week"},
                             {"/properties/days/items", "/days/0"},
                             {"/properties/fixed/items", "/fixed/0"},
                             {"/properties/blocked/items", "/blocked/0"},
                             {"/properties/equipment", "/equipment"},
                             {"/properties/avoid/items", "/avoid/0"},
                             {"/properties/medical", "/medical"}};

bool is_unknown_key(const Diagnostic& fault) { return fault.message.rfind("unknown key", 0) == 0; }

TEST(CandidateSchema, NamesExactlyTheKeysThatTheReaderKnows) {
  const json s = schema();
  for (const Shape& shape : kShapes) {
    const json& part = s.at(json::json_pointer(shape.schema));
    EXPECT_EQ(part.at("unevaluatedProperties"), false) << shape.schema;
    // Each key of the schema is known to the reader ...
    json probe = full();
    for (const auto& key : part.at("properties").items())
      probe[json::json_pointer(shape.file)][key.key()] = nullptr;
    for (const Diagnostic& fault : faults_of(probe)) EXPECT_FALSE(is_unknown_key(fault)) << to_string(fault);
    // ... and each key that the reader lists is in the schema.
    json stranger = full();
    stranger[json::json_pointer(shape.file)]["zzzzzzzzzz"] = 1;
    std::string hint;
    for (const Diagnostic& fault : faults_of(stranger)) {
      if (is_unknown_key(fault)) hint = fault.hint;
    }
    const std::string lead = "known keys here: ";
    ASSERT_EQ(hint.rfind(lead, 0), 0U) << shape.file;
    std::istringstream keys(hint.substr(lead.size()));
    std::size_t count = 0;
    for (std::string key; keys >> key; ++count) {
      if (key.back() == ',') key.pop_back();
      EXPECT_TRUE(part.at("properties").contains(key)) << shape.file << " " << key;
    }
    EXPECT_EQ(count, part.at("properties").size()) << shape.file;
  }
}

TEST(CandidateSchema, AsksForExactlyTheKeysThatTheReaderAsksFor) {
  const json s = schema();
  for (const Shape& shape : kShapes) {
    const json& part = s.at(json::json_pointer(shape.schema));
    const json object = full().at(json::json_pointer(shape.file));
    for (const auto& member : object.items()) {
      json probe = full();
      probe[json::json_pointer(shape.file)].erase(member.key());
      bool missing = false;
      for (const Diagnostic& fault : faults_of(probe)) {
        missing = missing || fault.message == "the key \"" + member.key() + "\" is missing";
      }
      const auto wanted = part.value("required", json::array());
      const bool required = std::find(wanted.begin(), wanted.end(), member.key()) != wanted.end();
      EXPECT_EQ(missing, required) << shape.file << "/" << member.key();
    }
  }
}

TEST(CandidateSchema, DrawsTheSameLimitsOfNumbers) {
  const json s = schema();
  const auto check = [&](const char* file_place, const json& part) {
    const auto accepted = [&](const json& value) {
      json probe = full();
      probe[json::json_pointer(file_place)] = value;
      return faults_of(probe).empty();
    };
    ASSERT_TRUE(part.contains("minimum") && part.contains("maximum")) << file_place;
    EXPECT_TRUE(accepted(part.at("minimum"))) << file_place;
    EXPECT_TRUE(accepted(part.at("maximum"))) << file_place;
    EXPECT_FALSE(accepted(part.at("minimum").get<double>() - 0.25)) << file_place;
    EXPECT_FALSE(accepted(part.at("maximum").get<double>() + 1.0)) << file_place;
  };
  const json& p = s.at("properties");
  check("/home_blocks", p.at("home_blocks"));
  check("/week/mon", s.at("$defs").at("minutes"));
  check("/days/0/minutes", s.at("$defs").at("minutes"));
  check("/now/hard_sessions", p.at("now").at("properties").at("hard_sessions"));
  check("/now/minutes", p.at("now").at("properties").at("minutes"));
  check("/fixed/0/minutes", p.at("fixed").at("items").at("properties").at("minutes"));
  check("/equipment/bar_lb", p.at("equipment").at("properties").at("bar_lb"));
  check("/equipment/plates_lb/0", p.at("equipment").at("properties").at("plates_lb").at("items"));
}

TEST(CandidateSchema, OffersTheSameWords) {
  const json s = schema();
  const auto check = [&](const char* file_place, const json& words) {
    for (const auto& word : words.at("enum")) {
      json probe = full();
      probe[json::json_pointer(file_place)] = word;
      for (const Diagnostic& fault : faults_of(probe)) {
        EXPECT_NE(fault.message.rfind("expected one of", 0), 0U) << to_string(fault);
      }
    }
  };
  const json& p = s.at("properties");
  check("/aim", p.at("aim"));
  check("/background", p.at("background"));
  check("/results/0/setting", p.at("results").at("items").at("properties").at("setting"));
  check("/fixed/0/day", p.at("fixed").at("items").at("properties").at("day"));
  check("/blocked/0/kind", p.at("blocked").at("items").at("properties").at("kind"));
  check("/medical/status", p.at("medical").at("properties").at("status"));
}

// The files of tests/schema, which check_schema.py holds against the schema, held against the reader.
TEST(CandidateSchema, JudgesTheSampleFilesAsTheReaderDoes) {
  int files = 0;
  for (const char* folder : {"valid", "refused"}) {
    const auto path = std::filesystem::path(BACKPLAN_SOURCE_DIR) / "tests/schema" / folder;
    for (const auto& entry : std::filesystem::directory_iterator(path)) {
      ++files;
      const Diagnostics faults = faults_of(json::parse(bytes_of(entry.path())));
      EXPECT_EQ(faults.empty(), std::string(folder) == "valid")
          << entry.path() << (faults.empty() ? "" : ": " + to_string(faults.front()));
    }
  }
  EXPECT_GE(files, 30);
}

}  // namespace
}  // namespace backplan::io
