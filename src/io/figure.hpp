// A default in a data file: {"value": ..., "source": "...", "status": "..."}. The value is one figure
// or an object of figures that share a source. Reading one lists it among the assumptions, so that no
// default can be used without being shown.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "backplan/model.hpp"
#include "io/json_text.hpp"
#include "io/readers.hpp"

namespace backplan::io {

struct Range {
  double least = 0.0;
  double most = 0.0;
};

inline constexpr Range kShare{0.0, 1.0};
inline constexpr Range kMetres{0.0, 100000.0};
inline constexpr int kYearOfDays = 366;  // the most of any figure in days

class Figure {
 public:
  // `name` is what the assumptions call it: "events.MDL.dose".
  Figure(const JsonCursor& owner, std::string_view key, std::string name, std::vector<Assumption>& list);

  [[nodiscard]] const JsonCursor& value() const { return value_; }

  // The value itself. A fault of the file reads as the least of the range; the faults tell.
  [[nodiscard]] double number(Range range);
  [[nodiscard]] int integer(int least, int most);
  // One figure of a group.
  [[nodiscard]] double number(std::string_view key, Range range);
  [[nodiscard]] int integer(std::string_view key, int least, int most);
  [[nodiscard]] bool boolean(std::string_view key);
  // Whether all that was read so far was there and in range: comparing figures makes sense only then.
  [[nodiscard]] bool sound() const { return sound_; }
  // A figure that is worked out from more than one JSON value (lists, "never").
  void list_as(std::string_view key, std::string text) const;

 private:
  template <class T>
  T take(std::string_view key, std::optional<T> read, T otherwise);

  JsonCursor value_;
  std::string name_;
  std::string source_;
  Status status_ = Status::judgement;
  std::vector<Assumption>* list_;
  bool sound_ = true;
};

// The root of the data file with this path, its `format` checked; none with a fault where the file is
// missing or no JSON.
[[nodiscard]] std::optional<JsonCursor> open_data_file(const std::vector<DataFile>& files,
                                                       std::string_view path, std::string_view format,
                                                       Diagnostics& faults);

// content_hash of these files together, in the order of the paths.
[[nodiscard]] std::string hash_of_files(const std::vector<DataFile>& files,
                                        const std::vector<std::string>& paths);

}  // namespace backplan::io
