// The published schema of a journal line and the reader must agree. (tests/support/check_schema.py holds
// the same files against the schema.)
#include <gtest/gtest.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>

#include "io/journal_reader.hpp"
#include "io/readers.hpp"
#include "io/squad_journal.hpp"
#include "io/value_text.hpp"
#include "support/standards.hpp"
#include "support/text.hpp"

namespace backplan::io {
namespace {

using nlohmann::json;
using support::bytes_of;

EntryContext context() {
  static const Standard standard = test::shipped_standard("us-army-aft");
  static const Model model = read_model(embedded_data()).value();
  return {standard, model, read_date("2027-02-01").value.value()};
}

// What the reader says of a line: nothing when it is taken.
Diagnostics faults_of(const std::string& line) {
  const auto journal = read_journal(line, "journal.jsonl", context());
  return journal.ok() ? journal.value().warnings : journal.faults();
}

// The entries that a squad's reader takes of a line for the member whom it names.
std::size_t taken_in_a_squad(const std::string& line) {
  Member member;
  member.candidate.id = json::parse(line).at("who").get<std::string>();
  const auto journal = read_squad_journal(line, "journal.jsonl", {member}, context());
  if (!journal.ok() || journal.value().by_id.count(member.candidate.id) == 0) return 0;
  return journal.value().by_id.at(member.candidate.id).entries.size();
}

TEST(JournalSchema, JudgesTheSampleLinesAsTheReaderDoes) {
  int files = 0;
  for (const std::string folder : {"valid", "refused"}) {
    const auto path = std::filesystem::path(BACKPLAN_SOURCE_DIR) / "tests/schema/journal" / folder;
    for (const auto& entry : std::filesystem::directory_iterator(path)) {
      ++files;
      const Diagnostics faults = faults_of(bytes_of(entry.path()));
      EXPECT_EQ(faults.empty(), folder == "valid")
          << entry.path() << (faults.empty() ? "" : ": " + to_string(faults.front()));
    }
  }
  EXPECT_GE(files, 35);
}

// An entry of a squad says who did it; a single candidate's reader knows no such key.
TEST(JournalSchema, HasEntriesOfASquadThatOnlyItsReaderTakes) {
  int files = 0;
  const auto path = std::filesystem::path(BACKPLAN_SOURCE_DIR) / "tests/schema/journal/squad";
  for (const auto& entry : std::filesystem::directory_iterator(path)) {
    ++files;
    const std::string line = bytes_of(entry.path());
    EXPECT_EQ(taken_in_a_squad(line), 1U) << entry.path();
    EXPECT_FALSE(faults_of(line).empty()) << entry.path();
  }
  EXPECT_GE(files, 5);
}

// Every key of every kind: known to the reader where the schema has it, and the other way round. `who` is for
// the squad's reader.
TEST(JournalSchema, NamesExactlyTheKeysThatTheReaderKnows) {
  const json schema = json::parse(
      bytes_of(std::filesystem::path(BACKPLAN_SOURCE_DIR) / "data/schema/journal-entry.schema.json"));
  for (const auto& [name, shape] : schema.at("$defs").items()) {
    if (!shape.contains("properties") || !shape.at("properties").contains("kind")) continue;
    EXPECT_EQ(shape.at("unevaluatedProperties"), false) << name;
    json probe{{"zzzzzzzzzz", 1}, {"kind", shape["properties"]["kind"]["const"]}};
    if (shape["properties"].contains("as")) probe["as"] = shape["properties"]["as"]["const"];
    std::string hint;
    for (const Diagnostic& warning : faults_of(probe.dump())) {
      if (warning.message.rfind("unknown key", 0) == 0) hint = warning.hint;
    }
    const std::string lead = "known keys here: ";
    ASSERT_EQ(hint.rfind(lead, 0), 0U) << name;
    std::set<std::string> known;
    std::istringstream keys(hint.substr(lead.size()));
    for (std::string key; keys >> key;) {
      if (key.back() == ',') key.pop_back();
      known.insert(key);
    }
    std::set<std::string> named;
    for (const auto& property : shape["properties"].items()) named.insert(property.key());
    EXPECT_EQ(named.erase("who"), 1U) << name;
    EXPECT_EQ(known, named) << name;
  }
}

}  // namespace
}  // namespace backplan::io
