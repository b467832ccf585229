// Entries for tests in one line each.
#pragma once

#include <fmt/format.h>

#include <string>
#include <utility>

#include "backplan/journal.hpp"

namespace backplan::support {

// A UUID that ends in this number; greater numbers are greater ids.
inline std::string id_number(int number) { return fmt::format("01939b0a-5c00-7000-8000-{:012x}", number); }

inline Date journal_day(int day_of_january) {
  return Date(std::chrono::year(2027) / std::chrono::January / 1) + Days(day_of_january - 1);
}

template <class What>
Entry entry(int number, int day, What what) {
  Entry one;
  one.id = id_number(number);
  one.date = journal_day(day);
  one.what = std::move(what);
  one.line = number;
  return one;
}

inline Missed missed(std::string reason = {}) { return Missed{std::move(reason)}; }
inline Void void_of(int number) { return Void{id_number(number)}; }
inline Replace replace_by(int number, std::string reason) {
  return Replace{id_number(number), Missed{std::move(reason)}};
}

inline Done done(int day, Deed what) {
  Done one;
  one.id = id_number(day);
  one.date = journal_day(day);
  one.what = std::move(what);
  return one;
}

}  // namespace backplan::support
