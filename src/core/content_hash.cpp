#include "backplan/content_hash.hpp"

#include <fmt/format.h>

#include <cstdint>

namespace backplan {

std::string content_hash(std::string_view bytes) {
  // FNV-1a, 64 bits: offset basis and prime from the published definition (Fowler, Noll, Vo).
  std::uint64_t hash = 0xcbf29ce484222325U;
  for (const char byte : bytes) {
    hash ^= static_cast<unsigned char>(byte);
    hash *= 0x100000001b3U;
  }
  return fmt::format("{:016x}", hash);
}

}  // namespace backplan
