// What a file held, in sixteen characters: to see later whether it has changed, never to keep secrets.
#pragma once

#include <string>
#include <string_view>

namespace backplan {

// 16 hexadecimal characters.
[[nodiscard]] std::string content_hash(std::string_view bytes);

}  // namespace backplan
