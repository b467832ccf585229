#include "reference/cases.hpp"

#include <charconv>
#include <cstddef>
#include <cstdio>
#include <string_view>
#include <utility>

namespace backplan::testing {
namespace {

std::optional<int> number_in(std::string_view text) {
  int number = 0;
  const char* last = text.data() + text.size();
  const auto [end, fault] = std::from_chars(text.data(), last, number);
  if (fault != std::errc{} || end != last || number < 1) return std::nullopt;
  return number;
}

std::optional<std::vector<int>> read(int argc, char** argv, std::vector<int> defaults) {
  const auto given = static_cast<std::size_t>(argc > 0 ? argc - 1 : 0);
  if (given > defaults.size()) return std::nullopt;
  for (std::size_t i = 0; i < given; ++i) {
    const auto number = number_in(argv[i + 1]);
    if (!number) return std::nullopt;
    defaults[i] = *number;
  }
  return defaults;
}

}  // namespace

std::optional<std::vector<int>> numbers_from(int argc, char** argv, std::vector<int> defaults,
                                             const char* usage) {
  auto numbers = read(argc, argv, std::move(defaults));
  if (!numbers) static_cast<void>(std::fprintf(stderr, "usage: %s\n", usage));
  return numbers;
}

void print_case(const io::Json& json) { static_cast<void>(std::fputs(io::one_line(json).c_str(), stdout)); }

}  // namespace backplan::testing
