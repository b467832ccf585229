#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "io/json_text.hpp"

namespace backplan::io {

namespace {

constexpr std::size_t kMostQuotedBytes = 60;
constexpr std::size_t kMostUnknownKeys = 100;  // of one object; more are a wrong file, not slips

// What a value is, for "found ...".
std::string describe(const nlohmann::json& value) {
  switch (value.type()) {
    case nlohmann::json::value_t::object:
      return "an object";
    case nlohmann::json::value_t::array:
      return "a list";
    case nlohmann::json::value_t::null:
      return "null";
    case nlohmann::json::value_t::string: {
      const auto& text = value.get_ref<const std::string&>();
      return text.size() <= kMostQuotedBytes ? fmt::format("the text \"{}\"", text) : "a long text";
    }
    case nlohmann::json::value_t::boolean:
      return value.get<bool>() ? "true" : "false";
    default:
      return fmt::format("the number {}", value.dump());
  }
}

std::string suggestion(std::string_view word, const std::vector<std::string>& words) {
  const auto nearest = nearest_word(word, words);
  return nearest ? fmt::format("did you mean \"{}\"?", *nearest) : std::string();
}

std::vector<std::string> to_strings(std::initializer_list<std::string_view> words) {
  return {words.begin(), words.end()};
}

}  // namespace

JsonCursor::JsonCursor(std::shared_ptr<const JsonFile> file, Diagnostics& faults)
    : file_(std::move(file)), faults_(&faults), value_(&file_->root) {}

JsonCursor::JsonCursor(std::shared_ptr<const JsonFile> file, Diagnostics* faults, const nlohmann::json* value,
                       std::string pointer)
    : file_(std::move(file)), faults_(faults), value_(value), pointer_(std::move(pointer)) {}

bool JsonCursor::is_object() const { return value_ != nullptr && value_->is_object(); }
bool JsonCursor::is_array() const { return value_ != nullptr && value_->is_array(); }
bool JsonCursor::is_text() const { return value_ != nullptr && value_->is_string(); }
bool JsonCursor::is_number() const { return value_ != nullptr && value_->is_number(); }
bool JsonCursor::is_null() const { return value_ != nullptr && value_->is_null(); }

void JsonCursor::report(Severity severity, Position place, std::string message, std::string hint) const {
  faults_->push_back(
      {severity, file_->name, place.line, place.column, pointer_, std::move(message), std::move(hint)});
}

void JsonCursor::fault(std::string message, std::string hint) const {
  const auto place = file_->places.find(pointer_);
  report(Severity::error, place == file_->places.end() ? Position{} : place->second, std::move(message),
         std::move(hint));
}

void JsonCursor::warn(std::string message, std::string hint) const {
  const auto place = file_->places.find(pointer_);
  report(Severity::warning, place == file_->places.end() ? Position{} : place->second, std::move(message),
         std::move(hint));
}

bool JsonCursor::require_type(bool right, std::string_view expected) const {
  if (value_ == nullptr || right) return right;
  std::string message = fmt::format("expected {}, found {}", expected, describe(*value_));
  // A value may be asked several times (allow_only, required, ...); one fault says it.
  const bool known = std::any_of(faults_->begin(), faults_->end(), [&](const Diagnostic& d) {
    return d.field == pointer_ && d.message == message && d.file == file_->name;
  });
  if (!known) fault(std::move(message));
  return false;
}

bool JsonCursor::require_object() const { return require_type(is_object(), "an object"); }

void JsonCursor::allow_only(std::initializer_list<std::string_view> keys) const {
  if (!require_object()) return;
  std::size_t unknown = 0;
  for (const auto& [key, cursor] : members()) {
    if (std::find(keys.begin(), keys.end(), key) != keys.end()) continue;
    if (++unknown > kMostUnknownKeys) continue;
    std::string hint = suggestion(key, to_strings(keys));
    if (hint.empty()) hint = fmt::format("known keys here: {}", fmt::join(keys, ", "));
    cursor.report(Severity::error, file_->keys.at(cursor.pointer()), fmt::format("unknown key \"{}\"", key),
                  std::move(hint));
  }
  if (unknown > kMostUnknownKeys) {
    fault(fmt::format("{} further unknown keys", unknown - kMostUnknownKeys),
          "check that this is the right file");
  }
}

bool JsonCursor::has(std::string_view key) const { return is_object() && value_->contains(std::string(key)); }

JsonCursor JsonCursor::child(std::string_view key) const {
  const nlohmann::json* value = nullptr;
  if (is_object()) {
    const auto found = value_->find(std::string(key));
    if (found != value_->end()) value = &*found;
  }
  return {file_, faults_, value, pointer_ + pointer_step(key)};
}

JsonCursor JsonCursor::required(std::string_view key) const {
  JsonCursor found = child(key);
  if (require_object() && !found.exists()) {
    fault(fmt::format("the key \"{}\" is missing", key), "add it");
    faults_->back().missing_key = std::string(key);
  }
  return found;
}

JsonCursor JsonCursor::optional(std::string_view key) const {
  require_object();
  return child(key);
}

std::vector<JsonCursor> JsonCursor::items() const {
  std::vector<JsonCursor> found;
  if (!require_type(is_array(), "a list")) return found;
  found.reserve(value_->size());
  for (std::size_t i = 0; i < value_->size(); ++i) {
    found.push_back({file_, faults_, &(*value_)[i], fmt::format("{}/{}", pointer_, i)});
  }
  return found;
}

std::vector<std::pair<std::string, JsonCursor>> JsonCursor::members() const {
  std::vector<std::pair<std::string, JsonCursor>> found;
  if (!require_object()) return found;
  for (auto member = value_->begin(); member != value_->end(); ++member) {
    found.emplace_back(member.key(),
                       JsonCursor(file_, faults_, &*member, pointer_ + pointer_step(member.key())));
  }
  return found;
}

std::optional<std::string> JsonCursor::text() const {
  if (!require_type(is_text(), "text in quotes")) return std::nullopt;
  return value_->get<std::string>();
}

std::optional<double> JsonCursor::number(double least, double most) const {
  const std::string expected = fmt::format("a number from {} to {}", least, most);
  if (!require_type(is_number(), expected)) return std::nullopt;
  const double value = value_->get<double>();
  if (!require_type(value >= least && value <= most, expected)) return std::nullopt;
  return value;
}

std::optional<int> JsonCursor::integer(int least, int most) const {
  const std::string expected = fmt::format("a whole number from {} to {}", least, most);
  if (!require_type(is_number(), expected)) return std::nullopt;
  const double value = value_->get<double>();
  if (!require_type(value >= least && value <= most, expected)) return std::nullopt;
  const int whole = static_cast<int>(value);
  // 60.0 is a whole number, 60.5 is none: what the schema's "integer" means.
  if (!require_type(!(value < whole) && !(value > whole), expected)) return std::nullopt;
  return whole;
}

std::optional<bool> JsonCursor::boolean() const {
  if (!require_type(value_ != nullptr && value_->is_boolean(), "true or false")) return std::nullopt;
  return value_->get<bool>();
}

std::optional<std::string> JsonCursor::word(std::initializer_list<std::string_view> words) const {
  const auto found = text();
  if (!found) return std::nullopt;
  if (std::find(words.begin(), words.end(), *found) != words.end()) return found;
  fault(fmt::format("expected one of {}; found \"{}\"", fmt::join(words, ", "), *found),
        suggestion(*found, to_strings(words)));
  return std::nullopt;
}

std::optional<std::string> JsonCursor::one_of(const std::vector<std::string>& words,
                                              std::string_view what) const {
  const auto found = text();
  if (!found) return std::nullopt;
  if (std::find(words.begin(), words.end(), *found) != words.end()) return found;
  fault(fmt::format("unknown {} \"{}\"; expected one of {}", what, *found, fmt::join(words, ", ")),
        suggestion(*found, words));
  return std::nullopt;
}

}  // namespace backplan::io
