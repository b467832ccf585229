#include "io/figure.hpp"

#include <fmt/format.h>

#include <algorithm>

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

double Figure::number(Range range) const {
  const double read = value_.number(range.least, range.most).value_or(range.least);
  list_as("", fmt::format("{}", read));
  return read;
}

int Figure::integer(int least, int most) const {
  const int read = value_.integer(least, most).value_or(least);
  list_as("", fmt::format("{}", read));
  return read;
}

double Figure::number(std::string_view key, Range range) const {
  const double read = value_.required(key).number(range.least, range.most).value_or(range.least);
  list_as(key, fmt::format("{}", read));
  return read;
}

int Figure::integer(std::string_view key, int least, int most) const {
  const int read = value_.required(key).integer(least, most).value_or(least);
  list_as(key, fmt::format("{}", read));
  return read;
}

bool Figure::boolean(std::string_view key) const {
  const bool read = value_.required(key).boolean().value_or(false);
  list_as(key, read ? "yes" : "no");
  return read;
}

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
