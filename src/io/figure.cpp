#include "io/figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <type_traits>

namespace backplan::io {

namespace {

Status read_status(const JsonCursor& cursor) {
  const auto word = cursor.word({"published", "common practice", "memory", "derived", "judgement"});
  if (word) {
    for (const Status status :
         {Status::published, Status::common_practice, Status::memory, Status::derived}) {
      if (*word == to_string(status)) return status;
    }
  }
  return Status::judgement;
}

const DataFile* find_file(const std::vector<DataFile>& files, std::string_view path) {
  // The last of several: a folder of the user's comes after the program's own data.
  const auto found =
      std::find_if(files.rbegin(), files.rend(), [&](const DataFile& f) { return f.path == path; });
  return found == files.rend() ? nullptr : &*found;
}

}  // namespace

Figure::Figure(const JsonCursor& owner, std::string_view key, std::string name, std::vector<Assumption>& list)
    : value_(owner.required(key).optional("value")), name_(std::move(name)), list_(&list) {
  const JsonCursor figure = owner.optional(key);
  if (!figure.exists()) return;
  figure.allow_only({"value", "source", "status"});
  static_cast<void>(figure.required("value"));
  const JsonCursor source = figure.required("source");
  source_ = source.text().value_or("");
  if (source.is_text() && source_.empty()) {
    source.fault("the source is empty", "say where the value comes from, or that it is your own");
  }
  status_ = read_status(figure.required("status"));
}

void Figure::list_as(std::string_view key, std::string text) const {
  list_->push_back(
      {key.empty() ? name_ : fmt::format("{}.{}", name_, key), std::move(text), source_, status_});
}

// Lists what was read; a value that could not be read makes the figure unsound.
template <class T>
T Figure::take(std::string_view key, std::optional<T> read, T otherwise) {
  sound_ = sound_ && read.has_value();
  const T value = read.value_or(otherwise);
  if constexpr (std::is_same_v<T, bool>) {
    list_as(key, value ? "yes" : "no");
  } else {
    list_as(key, fmt::format("{}", value));
  }
  return value;
}

double Figure::number(Range range) {
  return take<double>("", value_.number(range.least, range.most), range.least);
}

int Figure::integer(int least, int most) { return take<int>("", value_.integer(least, most), least); }

double Figure::number(std::string_view key, Range range) {
  return take<double>(key, value_.required(key).number(range.least, range.most), range.least);
}

int Figure::integer(std::string_view key, int least, int most) {
  return take<int>(key, value_.required(key).integer(least, most), least);
}

bool Figure::boolean(std::string_view key) { return take<bool>(key, value_.required(key).boolean(), false); }

std::optional<JsonCursor> open_data_file(const std::vector<DataFile>& files, std::string_view path,
                                         std::string_view format, Diagnostics& faults) {
  const DataFile* file = find_file(files, path);
  if (file == nullptr) {
    faults.push_back({Severity::error, std::string(path), 0, 0, "", "the data file is missing",
                      "put it back, or remove the data folder of your own"});
    return std::nullopt;
  }
  auto parsed = parse_json(file->text, file->path);
  if (!parsed) {
    faults.insert(faults.end(), parsed.faults().begin(), parsed.faults().end());
    return std::nullopt;
  }
  JsonCursor root(parsed.value(), faults);
  static_cast<void>(root.required("format").word({format}));
  return root;
}

std::string hash_of_files(const std::vector<DataFile>& files, const std::vector<std::string>& paths) {
  std::string all;
  for (const std::string& path : paths) {
    if (const DataFile* file = find_file(files, path)) all += file->text;
  }
  return content_hash(all);
}

}  // namespace backplan::io
