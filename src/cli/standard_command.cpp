#include <fmt/format.h>

#include <algorithm>
#include <ostream>
#include <set>

#include "cli/commands.hpp"
#include "cli/workspace.hpp"
#include "io/csv.hpp"
#include "io/json_text.hpp"
#include "io/standard_json.hpp"
#include "io/table_import.hpp"
#include "report/standard_text.hpp"
#include "store/failures.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

std::string listed(const std::vector<std::string>& words, const std::string& word) {
  const auto near = io::nearest_word(word, words);
  return near ? fmt::format("did you mean \"{}\"? there are: {}", *near, fmt::join(words, ", "))
              : fmt::format("there are: {}", fmt::join(words, ", "));
}

const Event& required_event(const Standard& standard, const std::string& id) {
  if (const Event* event = standard.find_event(id)) return *event;
  std::vector<std::string> ids;
  for (const Event& event : standard.events) ids.push_back(event.id);
  throw UsageError(fmt::format("{} has no event \"{}\"", standard.id, id), listed(ids, id));
}

void require_column(const Standard& standard, const std::string& column) {
  const auto& columns = standard.columns;
  if (std::find(columns.begin(), columns.end(), column) != columns.end()) return;
  throw UsageError(fmt::format("{} has no column \"{}\"", standard.id, column), listed(columns, column));
}

// The checked table of a file, against the standard as it was shipped.
Result<io::ImportedTable> read_table(const Library& library, const StandardOptions& options) {
  const auto standard = library.standard(options.id, Imported::without);
  if (!standard.ok()) return standard.faults();
  if (!options.event.empty()) {
    (void)required_event(standard.value(), options.event);
    require_column(standard.value(), options.column);
  }
  const auto text = store::read_file(options.file, io::CsvLimits{}.most_bytes);
  if (!text.ok()) return text.faults();
  return io::import_table(text.value(), {options.file, options.event, options.column, options.trust_file},
                          standard.value());
}

void tell_warnings(const io::ImportedTable& table, std::ostream& err) {
  for (const Diagnostic& warning : table.warnings) err << to_string(warning) << '\n';
}

// The standard as it would read with the new tables in the place of those of the same name. A table
// that is sound by itself may still not fit the rest.
Diagnostics faults_with(const Library& library, const std::string& id, const io::ImportedTable& table) {
  const auto files = library.standard_files(id);
  if (!files.ok()) return files.faults();
  std::set<std::string> replaced;
  std::vector<io::DataFile> all;
  for (const io::ImportedFile& file : table.files) {
    const std::string path = fmt::format("standards/{}/{}", id, file.name);
    replaced.insert(path);
    all.push_back({path, file.text});
  }
  for (const io::DataFile& file : files.value()) {
    if (replaced.count(file.path) == 0) all.push_back(file);
  }
  const auto standard = io::read_standard(all);
  return standard.ok() ? Diagnostics{} : standard.faults();
}

}  // namespace

int standard_list(const Session& session) {
  const Library library(session.environment);
  std::vector<Standard> standards;
  Diagnostics faults;
  for (const std::string& id : library.standard_ids()) {
    auto standard = library.standard(id);
    if (standard.ok()) {
      standards.push_back(std::move(standard).value());
    } else {
      faults.insert(faults.end(), standard.faults().begin(), standard.faults().end());
    }
  }
  if (!faults.empty()) return refuse(faults, session);
  session.streams.out << (session.json() ? io::pretty(io::standard_list_json(standards))
                                         : report::standard_list_text(standards));
  return kExitDone;
}

int standard_show(const Session& session, const StandardOptions& options) {
  const auto read = Library(session.environment).standard(options.id);
  if (!read.ok()) return refuse(read.faults(), session);
  const Standard& standard = read.value();
  if (options.event.empty()) {
    session.streams.out << (session.json() ? io::pretty(io::standard_json(standard))
                                           : report::standard_text(standard));
    return kExitDone;
  }
  const Event& event = required_event(standard, options.event);
  require_column(standard, options.column);
  session.streams.out << (session.json() ? io::pretty(io::scale_json(standard, event, options.column))
                                         : report::scale_text(standard, event, options.column));
  return kExitDone;
}

int standard_check(const Session& session, const StandardOptions& options) {
  const Library library(session.environment);
  const auto table = read_table(library, options);
  Diagnostics faults;
  collect(table, faults);
  if (table.ok()) faults = faults_with(library, options.id, table.value());
  if (!faults.empty()) {
    tell_faults(faults, session);
    return kExitAnswerIsNo;
  }
  tell_warnings(table.value(), session.streams.err);
  session.streams.out << (session.json() ? io::pretty(io::import_json(table.value().summary))
                                         : report::import_text(options.file, table.value().summary));
  return kExitDone;
}

namespace {

std::string import_answer(const io::ImportedTable& table, const std::string& file, const store::Path& folder,
                          const Session& session) {
  if (session.json()) {
    io::Json json = io::import_json(table.summary);
    json["files"] = io::Json::array();
    for (const io::ImportedFile& one : table.files) json["files"].push_back((folder / one.name).string());
    return io::pretty(json);
  }
  std::string text = report::import_text(file, table.summary);
  for (const io::ImportedFile& one : table.files)
    text += fmt::format("written: {}\n", (folder / one.name).string());
  return text;
}

}  // namespace

int standard_import(const Session& session, const StandardOptions& options) {
  const Library library(session.environment);
  if (!library.user_folder()) {
    throw store::CannotCreate("there is no folder for your own data",
                              "set HOME or XDG_DATA_HOME to an absolute path");
  }
  const auto table = read_table(library, options);
  if (!table.ok()) return refuse(table.faults(), session);
  const Diagnostics faults = faults_with(library, options.id, table.value());
  if (!faults.empty()) return refuse(faults, session);
  const store::Path folder = *library.user_folder() / "standards" / options.id;
  const std::string answer = import_answer(table.value(), options.file, folder, session);
  store::make_folders(folder);
  for (const io::ImportedFile& file : table.value().files)
    store::write_atomically(folder / file.name, file.text);
  tell_warnings(table.value(), session.streams.err);
  answer_change(answer, fmt::format("`backplan standard show {}` shows the rows", options.id), session);
  return kExitDone;
}

}  // namespace backplan::cli
