// The words of a command line or the cells of a table as the JSON object of an entry, so that one reader
// judges all of them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "io/characters.hpp"
#include "io/journal_json.hpp"
#include "io/json_syntax.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

// Keys that are numbers and flags in JSON; all others are texts.
constexpr std::string_view kNumbers[] = {"minutes", "effort", "level"};
constexpr std::string_view kFlags[] = {"hard", "first", "night", "limp"};

template <std::size_t N>
bool is_among(std::string_view key, const std::string_view (&keys)[N]) {
  return std::find(std::begin(keys), std::end(keys), key) != std::end(keys);
}

// A number where the text is one; else the text, for the reader to refuse.
Json number_or_text(const std::string& text) {
  const auto number = read_decimal(text);
  if (!number) return text;
  const bool whole = std::floor(*number) == *number;
  if (whole) return static_cast<std::int64_t>(*number);
  return *number;
}

Json flag_or_text(const std::string& text) {
  for (const std::string_view yes : {"true", "yes", "1"}) {
    if (text == yes) return true;
  }
  for (const std::string_view no : {"false", "no", "0"}) {
    if (text == no) return false;
  }
  return text;
}

Diagnostic fault_of(std::string field, std::string message, std::string hint) {
  return {Severity::error, "", 0, 0, std::move(field), std::move(message), std::move(hint)};
}

bool is_whole(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

std::optional<Json> set_json(std::string_view text, Diagnostics& faults) {
  const std::size_t at = text.find('@');
  const std::string_view reps = trimmed(text.substr(0, at));
  const std::string_view load =
      at == std::string_view::npos ? std::string_view() : trimmed(text.substr(at + 1));
  if (!is_whole(reps) || (at != std::string_view::npos && load.empty())) {
    faults.push_back(fault_of("sets", fmt::format("\"{}\" is not written as a set", text),
                              "write repetitions and load as 5@155, 5@70kg, or repetitions alone"));
    return std::nullopt;
  }
  Json json;
  json["reps"] = number_or_text(std::string(reps));
  if (!load.empty()) json["load"] = std::string(load);
  return json;
}

Json sets_json(const EntryWords& words, Diagnostics& faults) {
  Json sets = Json::array();
  const std::size_t reserves = words.in_reserve.size();
  if (reserves > 1 && reserves != words.sets.size()) {
    faults.push_back(fault_of("in_reserve",
                              fmt::format("{} figures for {} sets", reserves, words.sets.size()),
                              "give one for all sets, or one for each"));
  } else if (reserves > 0 && words.sets.empty()) {
    faults.push_back(fault_of("in_reserve", "repetitions in reserve without a set", "give the set too"));
  }
  for (std::size_t i = 0; i < words.sets.size(); ++i) {
    auto set = set_json(words.sets[i], faults);
    if (!set) continue;
    if (reserves == 1) (*set)["in_reserve"] = number_or_text(words.in_reserve.front());
    if (reserves > 1 && i < reserves) (*set)["in_reserve"] = number_or_text(words.in_reserve[i]);
    sets.push_back(*std::move(set));
  }
  return sets;
}

// Words that are no text in UTF-8, which no JSON could hold.
Diagnostics faults_of_bytes(const EntryWords& words) {
  Diagnostics faults;
  const auto judge = [&faults](const std::string& key, std::string_view text) {
    if (find_invalid_utf8(text) == std::string_view::npos && text.find('\0') == std::string_view::npos)
      return;
    faults.push_back(
        fault_of(key, "not a text in UTF-8", "write it with the keyboard, or save the file as UTF-8"));
  };
  for (const auto& [key, text] : words.fields) judge(key, text);
  for (const std::string& set : words.sets) judge("sets", set);
  for (const std::string& reserve : words.in_reserve) judge("in_reserve", reserve);
  return faults;
}

// "/sets/0/in_reserve" is about the words of in_reserve, "/sets/0/load" about those of the sets.
std::string key_of(const std::string& pointer) {
  if (pointer.size() < 2) return {};
  const std::size_t end = pointer.find('/', 1);
  const std::string first = pointer.substr(1, end == std::string::npos ? end : end - 1);
  constexpr std::string_view kReserve = "/in_reserve";
  const bool reserve = pointer.size() > kReserve.size() &&
                       pointer.compare(pointer.size() - kReserve.size(), kReserve.size(), kReserve) == 0;
  return reserve ? "in_reserve" : first;
}

std::string kind_of(const EntryWords& words) {
  for (const char* key : {"as", "kind"}) {
    const auto found = words.fields.find(key);
    if (found != words.fields.end()) return found->second;
  }
  return "this entry";
}

}  // namespace

Result<Entry> read_entry_words(const EntryWords& words, const EntryContext& context) {
  Diagnostics faults = faults_of_bytes(words);
  if (!faults.empty()) return faults;
  Json json;
  for (const auto& [key, text] : words.fields) {
    json[key] = is_among(key, kNumbers) ? number_or_text(text)
                : is_among(key, kFlags) ? flag_or_text(text)
                                        : Json(text);
  }
  Json sets = sets_json(words, faults);
  if (!sets.empty()) json["sets"] = std::move(sets);
  auto parsed = parse_json(json.dump(), "");
  if (!parsed.ok()) return parsed.faults();
  const bool sets_were_wrong = !faults.empty();
  auto entry = read_entry(JsonCursor(parsed.value(), faults), context);
  for (Diagnostic& fault : faults) {
    if (!fault.field.empty() && fault.field.front() == '/') fault.field = key_of(fault.field);
    if (fault.message.rfind("unknown key", 0) == 0) {
      fault.message = fmt::format("\"{}\" does not go with {}", fault.field, kind_of(words));
      fault.hint = "take it out";
    }
    fault.line = fault.column = 0;
  }
  if (!entry || sets_were_wrong) return faults;
  return *std::move(entry);
}

}  // namespace backplan::io
