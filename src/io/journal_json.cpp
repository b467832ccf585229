#include "io/journal_json.hpp"

#include <fmt/format.h>

#include <cstdint>
#include <type_traits>
#include <utility>

#include "io/value_text.hpp"

namespace backplan::io {
namespace {

Json sets_json(const std::vector<LoggedSet>& sets) {
  Json list = Json::array();
  for (const LoggedSet& set : sets) {
    Json one;
    one["reps"] = set.repetitions;
    if (set.load) one["load"] = set.load->as_typed;
    if (set.in_reserve) one["in_reserve"] = rounded(*set.in_reserve, 1);
    list.push_back(std::move(one));
  }
  return list;
}

void put(Json& json, const WorkDone& work) {
  json["work"] = work.work;
  if (work.minutes) json["minutes"] = *work.minutes;
  if (!work.sets.empty()) json["sets"] = sets_json(work.sets);
  if (work.distance) json["distance"] = work.distance->as_typed;
  if (work.time) json["time"] = work.time->as_typed;
  if (work.hard) json["hard"] = true;
  if (work.effort) json["effort"] = *work.effort;
}

void put(Json& json, const ResultDone& result) {
  json["event"] = result.event;
  json["value"] = result.value.as_typed;
  json["setting"] = to_string(result.setting);
  if (result.first) json["first"] = true;
}

void put(Json& json, const Missed& missed) {
  if (!missed.reason.empty()) json["reason"] = missed.reason;
}

void put(Json& json, const Pain& pain) {
  json["where"] = pain.where;
  json["level"] = pain.level;
  if (pain.at_night) json["night"] = true;
  if (pain.limp) json["limp"] = true;
}

const char* kind_word(const Deed& deed) {
  constexpr const char* kWords[] = {"work", "result", "missed", "pain"};
  static_assert(std::variant_size_v<Deed> == std::size(kWords));
  return kWords[deed.index()];
}

void put(Json& json, const Deed& deed, const char* key) {
  json[key] = kind_word(deed);
  std::visit([&json](const auto& one) { put(json, one); }, deed);
}

constexpr std::uint64_t kFnvBasis = 0xcbf29ce484222325U;
constexpr std::uint64_t kFnvPrime = 0x100000001b3U;

// FNV-1a as in content_hash, from a basis of choice, then the last mixing of the published splitmix64
// generator so that every bit depends on every byte.
std::uint64_t mixed_hash(std::string_view bytes, std::uint64_t basis) {
  std::uint64_t hash = basis;
  for (const char byte : bytes) {
    hash ^= static_cast<unsigned char>(byte);
    hash *= kFnvPrime;
    hash ^= hash >> 29U;  // without it two bases would collide together
  }
  hash = (hash ^ (hash >> 30U)) * 0xbf58476d1ce4e5b9U;
  hash = (hash ^ (hash >> 27U)) * 0x94d049bb133111ebU;
  return hash ^ (hash >> 31U);
}

}  // namespace

Json entry_json(const Entry& entry) {
  Json json;
  json["id"] = entry.id;
  json["date"] = date_json(entry.date);
  std::visit(
      [&json](const auto& what) {
        using What = std::decay_t<decltype(what)>;
        if constexpr (std::is_same_v<What, Void>) {
          json["kind"] = "void";
          json["of"] = what.of;
        } else if constexpr (std::is_same_v<What, Replace>) {
          json["kind"] = "replace";
          json["of"] = what.of;
          put(json, what.by, "as");
        } else {
          put(json, Deed(what), "kind");
        }
      },
      entry.what);
  if (!entry.note.empty()) json["note"] = entry.note;
  if (!entry.batch.empty()) json["batch"] = entry.batch;
  return json;
}

Json done_json(const Done& done) {
  Json json;
  json["id"] = done.id;
  json["date"] = date_json(done.date);
  put(json, done.what, "kind");
  if (!done.note.empty()) json["note"] = done.note;
  return json;
}

std::string entry_line(const Entry& entry) { return one_line(entry_json(entry)); }

std::string journal_head() {
  Json json;
  json["format"] = kJournalFormat;
  return one_line(json);
}

std::string closing_line(const std::string& batch, std::size_t count) {
  Json json;
  json["batch"] = batch;
  json["count"] = count;
  return one_line(json);
}

std::string id_of_content(std::string_view bytes) {
  constexpr std::uint64_t kOtherBasis = kFnvBasis ^ 0x9e3779b97f4a7c15U;  // any other start will do
  std::uint64_t high = mixed_hash(bytes, kFnvBasis);
  std::uint64_t low = mixed_hash(bytes, kOtherBasis);
  high = (high & 0xffffffffffff0fffU) | 0x8000U;            // version 8: made by a rule of one's own
  low = (low & 0x3fffffffffffffffU) | 0x8000000000000000U;  // the variant of RFC 9562
  return fmt::format("{:08x}-{:04x}-{:04x}-{:04x}-{:012x}", high >> 32U, (high >> 16U) & 0xffffU,
                     high & 0xffffU, low >> 48U, low & 0xffffffffffffU);
}

bool is_id(std::string_view text) {
  constexpr std::string_view kShape = "xxxxxxxx-xxxx-xxxx-xxxx-xxxxxxxxxxxx";
  if (text.size() != kShape.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool digit = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
    if (kShape[i] == 'x' ? !digit : c != '-') return false;
  }
  return true;
}

}  // namespace backplan::io
