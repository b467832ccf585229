#include "lab/options.hpp"

#include <algorithm>
#include <charconv>

namespace backplan::lab {
namespace {

std::optional<int> number(const std::string& text, int least, int most) {
  int value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc{} || end != text.data() + text.size() || value < least || value > most)
    return std::nullopt;
  return value;
}

std::vector<std::string> parts(const std::string& text) {
  std::vector<std::string> out(1);
  for (const char c : text) {
    if (c == ',') {
      out.emplace_back();
    } else {
      out.back() += c;
    }
  }
  return out;
}

bool set_minutes(CohortSize& size, const std::string& text) {
  size.minutes.clear();
  for (const std::string& part : parts(text)) {
    const auto minutes = number(part, 20, 600);
    if (!minutes) return false;
    size.minutes.push_back(*minutes);
  }
  return std::is_sorted(size.minutes.begin(), size.minutes.end());
}

template <class T>
bool set_some(std::vector<T>& into, const std::vector<T>& all, const std::string& text) {
  into.clear();
  for (const std::string& part : parts(text)) {
    const auto found = std::find_if(all.begin(), all.end(), [&](T one) { return to_string(one) == part; });
    if (found == all.end()) return false;
    into.push_back(*found);
  }
  return true;
}

bool set(Options& out, const std::string& name, const std::string& value) {
  CohortSize& size = out.cohort;
  std::vector<Family> families = strange_families();
  families.push_back(Family::as_assumed);
  if (name == "--minutes") return set_minutes(size, value);
  if (name == "--families") return set_some(size.families, families, value);
  if (name == "--ways") return set_some(size.ways, known_ways(), value);
  if (name == "--program") {
    out.program = value;
    return true;
  }
  const auto figure = number(value, 1, 1000000);
  if (!figure) return false;
  if (name == "--people") size.people = *figure;
  if (name == "--seed") size.seed = static_cast<std::uint64_t>(*figure);
  if (name == "--threads") size.threads = std::min(*figure, 64);
  return name == "--people" || name == "--seed" || name == "--threads";
}

}  // namespace

std::optional<Options> read_options(const std::vector<std::string>& words) {
  Options out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (words[i] == "cohort" && i == 0) continue;
    if (words[i] == "regret" && i == 0) {
      out.mode = Mode::regret;
    } else if (words[i] == "agreement" && i == 0) {
      out.mode = Mode::agreement;
    } else if (words[i] == "--cells") {
      out.cells = true;
    } else if (i + 1 >= words.size() || !set(out, words[i], words[i + 1])) {
      return std::nullopt;
    } else {
      ++i;
    }
  }
  return out;
}

std::string usage() {
  return "backplan_lab [cohort|regret|agreement] [--people N] [--seed N] [--threads N] [--minutes "
         "60,90,...]\n"
         "             [--families \"logarithmic,power,...\"] [--ways \"equal split,...\"] [--cells]\n"
         "             [--program FILE]\n"
         "cohort     ways of training over invented people (docs/laboratory.md); --cells: comma-separated\n"
         "regret     what each default that is a judgement costs when it is off by a quarter\n"
         "agreement  the plan made anew every week by library and by the command line (--program)\n";
}

}  // namespace backplan::lab
