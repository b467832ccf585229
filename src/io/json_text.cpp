#include "io/json_text.hpp"

#include <fmt/format.h>

#include <utility>

#include "io/characters.hpp"
#include "io/json_syntax.hpp"

namespace backplan::io {

namespace {

constexpr std::size_t kMostFaults = 1000;  // duplicate keys in such numbers are a wrong file

// Lines and columns of growing offsets; columns count characters, not bytes.
class PlaceCounter {
 public:
  explicit PlaceCounter(std::string_view text) : text_(text) {}

  // `offset` never falls from call to call.
  Position at(std::size_t offset) {
    for (; offset_ < offset && offset_ < text_.size(); ++offset_) {
      const char c = text_[offset_];
      if (c == '\n') {
        ++place_.line;
        place_.column = 1;
      } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
        ++place_.column;
      }
    }
    return place_;
  }

 private:
  std::string_view text_;
  std::size_t offset_ = 0;
  Position place_{1, 1};
};

Position place_of(std::string_view text, std::size_t offset) { return PlaceCounter(text).at(offset); }

// End of the token that starts at `start`, in a text that the parser has already accepted so far.
std::size_t token_end(std::string_view text, std::size_t start) {
  std::size_t end = start;
  if (text[start] == '"') {
    for (++end; end < text.size() && text[end] != '"'; ++end) {
      if (text[end] == '\\') ++end;
    }
    return end + 1;
  }
  const std::string_view brackets = "{}[]";
  if (brackets.find(text[start]) != std::string_view::npos) return end + 1;
  const std::string_view delimiters = " \t\r\n,:]}";
  while (end < text.size() && delimiters.find(text[end]) == std::string_view::npos) ++end;
  return end;
}

// Receives the parser's events, builds the values and walks over the text in step with them: there
// is one event for each token, and between two tokens only white space, commas and colons.
class Builder {
 public:
  using number_integer_t = nlohmann::json::number_integer_t;
  using number_unsigned_t = nlohmann::json::number_unsigned_t;
  using number_float_t = nlohmann::json::number_float_t;
  using string_t = nlohmann::json::string_t;
  using binary_t = nlohmann::json::binary_t;

  Builder(std::string_view text, JsonFile& file) : text_(text), counter_(text), file_(file) {}

  bool null() { return add(nullptr) != nullptr; }
  bool boolean(bool value) { return add(value) != nullptr; }
  bool number_integer(number_integer_t value) { return add(value) != nullptr; }
  bool number_unsigned(number_unsigned_t value) { return add(value) != nullptr; }
  bool number_float(number_float_t value, const string_t&) { return add(value) != nullptr; }
  bool string(string_t& value) { return add(std::move(value)) != nullptr; }
  bool binary(binary_t&) { return false; }  // no such thing in text
  bool start_object(std::size_t) { return open(nlohmann::json::object(), LastToken::object_start); }
  bool start_array(std::size_t) { return open(nlohmann::json::array(), LastToken::array_start); }
  bool end_object() { return close(); }
  bool end_array() { return close(); }

  bool key(string_t& key) {
    const Position place = advance();
    Level& level = levels_.back();
    level.child = level.pointer + pointer_step(key);
    const auto [earlier, is_new] = file_.keys.emplace(level.child, place);
    if (!is_new) {
      fault(place, level.child,
            fmt::format("the key \"{}\" stands here a second time; the first is in line {}", key,
                        earlier->second.line),
            "keep one of the two");
    }
    level.key = std::move(key);
    state_.last = LastToken::key;
    return faults_.size() < kMostFaults;
  }

  bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception& error) {
    constexpr int kNumberOverflow = 406;  // the parser's own code for a number beyond a double
    state_.number_too_large = error.id == kNumberOverflow;
    if (!levels_.empty()) {
      const Level& level = levels_.back();
      state_.in = level.value->is_object() ? Container::object : Container::array;
      state_.opened_in_line = file_.places.at(level.pointer).line;
      state_.last_key = level.key;
    }
    const SyntaxFault syntax = explain_syntax(text_, state_);
    fault(place_of(text_, syntax.offset), "", syntax.message, syntax.hint);
    return false;
  }

  [[nodiscard]] Diagnostics& faults() { return faults_; }

 private:
  struct Level {
    nlohmann::json* value = nullptr;
    std::string pointer;
    std::string key;    // of the member that comes next
    std::string child;  // its pointer
  };

  // Steps over the token of this event and answers where it starts.
  Position advance() {
    std::size_t start = state_.offset;
    while (start = skip_space(text_, start),
           start < text_.size() && (text_[start] == ',' || text_[start] == ':')) {
      ++start;
    }
    state_.offset = token_end(text_, start);
    return counter_.at(start);
  }

  nlohmann::json* add(nlohmann::json value) {
    const Position place = advance();
    state_.last = LastToken::value;
    if (++values_ > kMostJsonValues) {
      fault(place, "", fmt::format("more than {} values in one text", kMostJsonValues),
            "check that this is the right file");
      return nullptr;
    }
    if (levels_.empty()) {
      file_.places[""] = place;
      file_.root = std::move(value);
      return &file_.root;
    }
    Level& level = levels_.back();
    if (level.value->is_array()) level.child = level.pointer + fmt::format("/{}", level.value->size());
    file_.places.emplace(level.child, place);  // of two members with one key the first counts
    if (level.value->is_array()) {
      level.value->push_back(std::move(value));
      return &level.value->back();
    }
    return &((*level.value)[level.key] = std::move(value));
  }

  bool open(nlohmann::json container, LastToken token) {
    nlohmann::json* added = add(std::move(container));
    if (added == nullptr) return false;
    std::string pointer = levels_.empty() ? std::string() : levels_.back().child;
    if (levels_.size() >= static_cast<std::size_t>(kMostJsonDepth)) {
      fault(file_.places.at(pointer), "", fmt::format("more than {} levels of brackets", kMostJsonDepth),
            "check that this is the right file");
      return false;
    }
    levels_.push_back({added, std::move(pointer), {}, {}});
    state_.last = token;
    return true;
  }

  bool close() {
    advance();
    levels_.pop_back();
    state_.last = LastToken::value;
    return true;
  }

  void fault(Position place, std::string field, std::string message, std::string hint) {
    faults_.push_back({Severity::error, file_.name, place.line, place.column, std::move(field),
                       std::move(message), std::move(hint)});
  }

  std::string_view text_;
  PlaceCounter counter_;
  JsonFile& file_;
  Diagnostics faults_;
  ParserState state_;
  std::vector<Level> levels_;
  std::size_t values_ = 0;
};

// What needs no parser: size, emptiness, bytes that are no text.
std::optional<Diagnostic> refuse_bytes(std::string_view text, const std::string& name) {
  Diagnostic fault{Severity::error, name, 0, 0, "", "", ""};
  if (text.size() > kMostJsonBytes) {
    fault.message = fmt::format("the file has {} bytes; expected at most {}", text.size(), kMostJsonBytes);
    fault.hint = "check that this is the right file";
    return fault;
  }
  if (skip_space(text, 0) == text.size()) {
    fault.message = "the file is empty";
    fault.hint = "put one JSON object into it";
    return fault;
  }
  // The parser would skip it as we skip the first one, and the places of all values would be wrong.
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) {
    fault.line = 1;
    fault.column = 1;
    fault.message = "a second byte-order mark at the beginning";
    fault.hint = "save the file as UTF-8 anew";
    return fault;
  }
  const std::size_t zero = text.find('\0');
  const std::size_t invalid = find_invalid_utf8(text);
  const std::size_t first = std::min(zero, invalid);
  if (first == std::string_view::npos) return std::nullopt;
  const Position place = place_of(text, first);
  fault.line = place.line;
  fault.column = place.column;
  fault.message =
      fmt::format("not a text in UTF-8: found the byte {:#04x}", static_cast<unsigned char>(text[first]));
  fault.hint = "check that this is the right file, and save it as UTF-8";
  return fault;
}

}  // namespace

std::string pointer_step(std::string_view key) {
  std::string step = "/";
  for (const char c : key) {
    if (c == '~') {
      step += "~0";
    } else if (c == '/') {
      step += "~1";
    } else {
      step += c;
    }
  }
  return step;
}

Result<std::shared_ptr<const JsonFile>> parse_json(std::string_view text, std::string name) {
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) text.remove_prefix(kByteOrderMark.size());
  if (auto fault = refuse_bytes(text, name)) return *std::move(fault);
  auto file = std::make_shared<JsonFile>();
  file->name = std::move(name);
  Builder builder(text, *file);
  nlohmann::json::sax_parse(text.begin(), text.end(), &builder);
  if (!builder.faults().empty()) return std::move(builder.faults());
  return std::shared_ptr<const JsonFile>(std::move(file));
}

}  // namespace backplan::io
