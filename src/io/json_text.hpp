// JSON text to checked values, with the line and column of every value.
//
// nlohmann's own conversions are silent (3.7 becomes 3, true becomes 1, a second key replaces the
// first), so nothing outside this file and the JSON writers calls them. A JsonCursor collects
// faults instead of throwing: a reader asks for all it needs and looks at the faults once.
#pragma once

#include <initializer_list>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "backplan/result.hpp"

namespace backplan::io {

struct Position {
  int line = 0;
  int column = 0;
};

inline constexpr std::size_t kMostJsonBytes = 16U << 20U;  // no file of a candidate comes near
inline constexpr int kMostJsonDepth = 32;
inline constexpr std::size_t kMostJsonValues = 500'000;  // bounds the memory that places take

// A parsed text; keeps the place of each value by its JSON pointer.
struct JsonFile {
  std::string name;
  nlohmann::json root;
  std::map<std::string, Position> places;  // of values, by JSON pointer ("" is the root)
  std::map<std::string, Position> keys;    // of the keys of objects, by the pointer of their value
};

// A key as a step of a JSON pointer (RFC 6901).
[[nodiscard]] std::string pointer_step(std::string_view key);

// Refuses: over kMostJsonBytes or kMostJsonValues, deeper than kMostJsonDepth, not UTF-8, syntax errors,
// duplicate keys, numbers that are no finite double. A byte-order mark is skipped.
[[nodiscard]] Result<std::shared_ptr<const JsonFile>> parse_json(std::string_view text, std::string name);

// A place in a JsonFile. Typed reads return nothing and record a fault when the value is of another
// type or out of range; they never convert.
class JsonCursor {
 public:
  JsonCursor(std::shared_ptr<const JsonFile> file, Diagnostics& faults);

  [[nodiscard]] const std::string& pointer() const { return pointer_; }
  [[nodiscard]] bool exists() const { return value_ != nullptr; }  // false below a missing key
  [[nodiscard]] bool is_object() const;
  [[nodiscard]] bool is_array() const;
  [[nodiscard]] bool is_text() const;
  [[nodiscard]] bool is_number() const;
  [[nodiscard]] bool is_null() const;  // written as null

  // Records a fault for each key that is not listed, with the nearest listed one as a suggestion.
  void allow_only(std::initializer_list<std::string_view> keys) const;
  [[nodiscard]] bool has(std::string_view key) const;
  [[nodiscard]] JsonCursor required(std::string_view key) const;  // a missing key is a fault
  [[nodiscard]] JsonCursor optional(std::string_view key) const;  // a missing key reads as nothing
  [[nodiscard]] std::vector<JsonCursor> items() const;            // of an array
  [[nodiscard]] std::vector<std::pair<std::string, JsonCursor>> members() const;  // of an object, by key

  [[nodiscard]] std::optional<std::string> text() const;
  [[nodiscard]] std::optional<double> number(double least, double most) const;
  [[nodiscard]] std::optional<int> integer(int least, int most) const;
  [[nodiscard]] std::optional<bool> boolean() const;
  // One of the words; otherwise a fault with the list and the nearest.
  [[nodiscard]] std::optional<std::string> word(std::initializer_list<std::string_view> words) const;

  // The same for words that data gives; `what` names them: "event", "work kind".
  [[nodiscard]] std::optional<std::string> one_of(const std::vector<std::string>& words,
                                                  std::string_view what) const;

  // How many faults and warnings the whole list holds by now.
  [[nodiscard]] std::size_t faults_so_far() const { return faults_->size(); }

  void fault(std::string message, std::string hint = {}) const;
  void warn(std::string message, std::string hint = {}) const;

 private:
  JsonCursor(std::shared_ptr<const JsonFile> file, Diagnostics* faults, const nlohmann::json* value,
             std::string pointer);
  void report(Severity severity, Position place, std::string message, std::string hint) const;
  bool require_object() const;  // faults once when the value is something else
  bool require_type(bool right, std::string_view expected) const;
  [[nodiscard]] JsonCursor child(std::string_view key) const;

  std::shared_ptr<const JsonFile> file_;
  Diagnostics* faults_;
  const nlohmann::json* value_;
  std::string pointer_;
};

// The nearest of the words within Damerau-Levenshtein distance 2 and a third of the length; or none.
[[nodiscard]] std::optional<std::string> nearest_word(std::string_view word,
                                                      const std::vector<std::string>& words);

}  // namespace backplan::io
