#include "io/fit_message.hpp"

#include <fmt/format.h>

#include <utility>

namespace backplan::io {
namespace {

constexpr std::uint8_t kTimestampField = 253;
constexpr std::size_t kLocalTypes = 16;

// The bits of the byte before every message.
constexpr unsigned kCompressed = 0x80U;
constexpr unsigned kDefinition = 0x40U;
constexpr unsigned kAddedFields = 0x20U;
constexpr unsigned kLocalType = 0x0FU;
constexpr unsigned kCompressedTypeShift = 5U;
constexpr unsigned kCompressedType = 0x03U;
constexpr unsigned kClockOffset = 0x1FU;

// Whole numbers among the base types: bytes, sign, and the value that stands for "not known".
struct BaseType {
  std::uint8_t id;
  std::uint8_t size;
  bool is_signed;
  std::uint32_t unknown;
};
constexpr std::array<BaseType, 10> kWholeTypes{{{0x00, 1, false, 0xFF},          // a word out of a list
                                                {0x01, 1, true, 0x7F},           //
                                                {0x02, 1, false, 0xFF},          //
                                                {0x0A, 1, false, 0x00},          // z: nought is not known
                                                {0x83, 2, true, 0x7FFF},         //
                                                {0x84, 2, false, 0xFFFF},        //
                                                {0x8B, 2, false, 0x0000},        // z
                                                {0x85, 4, true, 0x7FFFFFFF},     //
                                                {0x86, 4, false, 0xFFFFFFFF},    //
                                                {0x8C, 4, false, 0x00000000}}};  // z

unsigned byte_at(std::string_view bytes, std::size_t at) { return static_cast<unsigned char>(bytes[at]); }

std::uint32_t unsigned_at(std::string_view bytes, std::size_t size, bool big_endian) {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < size; ++i)
    value = (value << 8U) | byte_at(bytes, big_endian ? i : size - 1 - i);
  return value;
}

std::optional<std::int64_t> whole_number(const FitField& field, std::string_view bytes, bool big_endian) {
  for (const BaseType& type : kWholeTypes) {
    if (type.id != field.base_type) continue;
    if (type.size != field.size) return std::nullopt;  // an array
    const std::uint32_t raw = unsigned_at(bytes, type.size, big_endian);
    if (raw == type.unknown) return std::nullopt;
    const std::int64_t range = std::int64_t{1} << (8U * type.size);
    const auto value = static_cast<std::int64_t>(raw);
    return type.is_signed && value >= range / 2 ? value - range : value;
  }
  return std::nullopt;
}

class MessageReader {
 public:
  MessageReader(std::string_view data, const std::function<void(const FitMessage&)>& take)
      : data_(data), take_(take) {}

  Reading<std::size_t> read() {
    while (at_ < data_.size() && problem_.empty()) {
      started_ = at_;
      read_message();
    }
    if (problem_.empty()) return {at_, {}, {}};
    return {started_, std::move(problem_), "the file may have been cut off or changed; copy it again"};
  }

 private:
  // That many bytes, or none of them and a problem.
  std::string_view take_bytes(std::size_t count) {
    if (data_.size() - at_ < count) {
      problem_ = "a message goes beyond the end of the data";
      at_ = data_.size();
      return {};
    }
    const std::string_view bytes = data_.substr(at_, count);
    at_ += count;
    return bytes;
  }

  void read_message() {
    const unsigned header = byte_at(take_bytes(1), 0);
    if ((header & kCompressed) != 0U) {
      advance_clock(header & kClockOffset);
      read_data((header >> kCompressedTypeShift) & kCompressedType);
    } else if ((header & kDefinition) != 0U) {
      read_definition(header & kLocalType, (header & kAddedFields) != 0U);
    } else {
      read_data(header & kLocalType);
    }
  }

  // The low five bits of the next clock: it has gone on by less than 32 seconds.
  void advance_clock(unsigned offset) {
    if (!clock_) return;
    const std::uint32_t low = *clock_ & kClockOffset;
    *clock_ += (offset - low) & kClockOffset;
  }

  void read_definition(unsigned local, bool added) {
    constexpr std::size_t kHead = 5;  // a spare byte, the order of bytes, the kind, the number of fields
    constexpr std::size_t kFieldSize = 3;
    const std::string_view head = take_bytes(kHead);
    if (head.empty()) return;
    if (byte_at(head, 1) > 1U) {
      problem_ = "an order of bytes that there is not";
      return;
    }
    FitDefinition definition;
    definition.known = true;
    definition.big_endian = byte_at(head, 1) == 1U;
    definition.message = static_cast<std::uint16_t>(unsigned_at(head.substr(2), 2, definition.big_endian));
    const std::string_view fields = take_bytes(kFieldSize * byte_at(head, 4));
    for (std::size_t i = 0; i + kFieldSize <= fields.size(); i += kFieldSize) {
      definition.fields.push_back({static_cast<std::uint8_t>(fields[i]),
                                   static_cast<std::uint8_t>(fields[i + 1]),
                                   static_cast<std::uint8_t>(fields[i + 2])});
      definition.size += definition.fields.back().size;
    }
    if (added && problem_.empty()) definition.size += size_of_added_fields();
    if (problem_.empty()) definitions_[local] = std::move(definition);
  }

  std::size_t size_of_added_fields() {
    constexpr std::size_t kFieldSize = 3;
    const std::string_view count = take_bytes(1);
    if (count.empty()) return 0;
    const std::string_view fields = take_bytes(kFieldSize * byte_at(count, 0));
    std::size_t size = 0;
    for (std::size_t i = 0; i + kFieldSize <= fields.size(); i += kFieldSize) size += byte_at(fields, i + 1);
    return size;
  }

  void read_data(unsigned local) {
    const FitDefinition& definition = definitions_[local];
    if (!definition.known) {
      problem_ = "a message whose definition is missing";
      return;
    }
    const std::string_view bytes = take_bytes(definition.size);
    if (!problem_.empty()) return;
    const FitMessage own(definition, bytes, std::nullopt);
    if (const auto time = own.timestamp()) clock_ = static_cast<std::uint32_t>(*time);
    take_(FitMessage(definition, bytes, clock_));
  }

  std::string_view data_;
  const std::function<void(const FitMessage&)>& take_;
  std::array<FitDefinition, kLocalTypes> definitions_;
  std::optional<std::uint32_t> clock_;
  std::size_t at_ = 0;
  std::size_t started_ = 0;
  std::string problem_;
};

}  // namespace

std::optional<std::int64_t> FitMessage::number(std::uint8_t field) const {
  std::size_t at = 0;
  for (const FitField& one : definition_.fields) {
    if (one.number == field) return whole_number(one, bytes_.substr(at), definition_.big_endian);
    at += one.size;
  }
  return std::nullopt;
}

std::optional<std::int64_t> FitMessage::timestamp() const {
  if (const auto own = number(kTimestampField)) return own;
  return clock_ ? std::optional<std::int64_t>(*clock_) : std::nullopt;
}

Reading<std::size_t> read_fit_messages(std::string_view data,
                                       const std::function<void(const FitMessage&)>& take) {
  return MessageReader(data, take).read();
}

}  // namespace backplan::io
