// FIT, the binary file of many watches: its sessions, and its records where there is no session. Written from
// the published shape of the format: a header, definitions and data messages, a checksum.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "io/watch_file.hpp"

namespace backplan::io {

// Whether the bytes have the mark of the format, ".FIT" in bytes 8 to 11.
[[nodiscard]] bool is_fit(std::string_view bytes);

// CRC-16 with the polynomial x^16 + x^15 + x^2 + 1, reflected (0xA001), from 0.
[[nodiscard]] std::uint16_t fit_checksum(std::string_view bytes);

// Several files one after the other (as watches chain them) are read as one. The total of the session is
// taken; where there is none, what the records say. Refused with the byte where it went wrong: a wrong
// header, a file cut off, a wrong checksum, data without a definition; and a file of another kind than an
// activity.
[[nodiscard]] Result<WatchRun> read_fit(std::string_view bytes, const std::string& file);

}  // namespace backplan::io
