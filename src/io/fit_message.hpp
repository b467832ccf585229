// The messages of a FIT file, one after the other, before anybody asks what they mean.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <string_view>
#include <vector>

#include "io/value_text.hpp"

namespace backplan::io {

// A field of a message: its number and its bytes.
struct FitField {
  std::uint8_t number = 0;
  std::uint8_t size = 0;
  std::uint8_t base_type = 0;
};

struct FitDefinition {
  bool known = false;
  bool big_endian = false;
  std::uint16_t message = 0;
  std::vector<FitField> fields;
  std::size_t size = 0;  // bytes of a data message, with the fields that an app of the watch added
};

// One data message. Numbers are asked for by the number of their field.
class FitMessage {
 public:
  FitMessage(const FitDefinition& definition, std::string_view bytes, std::optional<std::uint32_t> clock)
      : definition_(definition), bytes_(bytes), clock_(clock) {}

  [[nodiscard]] std::uint16_t message() const { return definition_.message; }
  // A whole number of 1, 2 or 4 bytes; none where the field is missing, an array, a fraction, or holds the
  // value that stands for "not known".
  [[nodiscard]] std::optional<std::int64_t> number(std::uint8_t field) const;
  // Field 253, or the clock that a compressed header carries: seconds since the end of 1989 in UTC.
  [[nodiscard]] std::optional<std::int64_t> timestamp() const;

 private:
  const FitDefinition& definition_;
  std::string_view bytes_;
  std::optional<std::uint32_t> clock_;
};

// Hands every data message of one file's data (without header and checksum) to `take`. An empty problem when
// all was read; else what is wrong, the value being the byte where.
[[nodiscard]] Reading<std::size_t> read_fit_messages(std::string_view data,
                                                     const std::function<void(const FitMessage&)>& take);

}  // namespace backplan::io
