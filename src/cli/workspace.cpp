#include "cli/workspace.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string_view>

#include "backplan/suited.hpp"
#include "io/json_text.hpp"
#include "io/test_day_reader.hpp"

namespace backplan::cli {
namespace {

constexpr std::string_view kStandards = "standards/";
constexpr std::string_view kModel = "model/";
constexpr std::string_view kCellsSuffix = ".cells.csv";

// The path of a data file after its folder, or nothing when it lies elsewhere or deeper.
std::optional<std::string> name_below(const std::string& path, const std::string& folder) {
  if (path.rfind(folder, 0) != 0) return std::nullopt;
  std::string name = path.substr(folder.size());
  if (name.empty() || name.find('/') != std::string::npos) return std::nullopt;
  return name;
}

bool ends_with(const std::string& text, std::string_view end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

// The bytes, or "" and a fault when the file is too large.
std::string read_data(const store::Path& path, Diagnostics& faults) {
  auto bytes = store::read_file(path, io::kMostJsonBytes);
  if (bytes.ok()) return std::move(bytes).value();
  faults.insert(faults.end(), bytes.faults().begin(), bytes.faults().end());
  return {};
}

constexpr const char* kNoCandidate =
    "`backplan init` asks for the facts and writes one; or name its folder with -C DIR";

}  // namespace

Library::Library(const Environment& environment)
    : user_folder_(store::user_data_folder(environment.variables)) {}

std::vector<std::string> Library::standard_ids() const {
  std::set<std::string> ids;
  for (const io::DataFile& file : io::embedded_data()) {
    if (file.path.rfind(kStandards, 0) != 0) continue;
    ids.insert(
        file.path.substr(kStandards.size(), file.path.find('/', kStandards.size()) - kStandards.size()));
  }
  if (user_folder_) {
    const store::Path folder = *user_folder_ / "standards";
    for (const std::string& id : store::folder_names(folder)) {
      if (store::is_file(folder / id / "standard.json")) ids.insert(id);
    }
  }
  return {ids.begin(), ids.end()};
}

Result<std::vector<io::DataFile>> Library::standard_files(const std::string& id, Imported imported) const {
  const std::string prefix = std::string(kStandards) + id + '/';
  std::vector<io::DataFile> files;
  std::optional<store::Path> own;
  if (user_folder_) own = *user_folder_ / "standards" / id;
  const bool replaced = own && store::is_file(*own / "standard.json");
  if (!replaced) {
    for (const io::DataFile& file : io::embedded_data()) {
      if (name_below(file.path, prefix)) files.push_back(file);
    }
  }
  if (!own || (!replaced && files.empty())) return files;
  Diagnostics faults;
  for (const std::string& name : store::file_names(*own)) {
    const bool table = ends_with(name, kCellsSuffix);
    if (table ? imported == Imported::without : !replaced) continue;
    files.push_back({prefix + name, read_data(*own / name, faults)});
  }
  if (!faults.empty()) return faults;
  return files;
}

Result<Standard> Library::standard(const std::string& id, Imported imported) const {
  const std::vector<std::string> ids = standard_ids();
  if (std::find(ids.begin(), ids.end(), id) != ids.end()) {
    const auto files = standard_files(id, imported);
    if (!files.ok()) return files.faults();
    return io::read_standard(files.value());
  }
  Diagnostic fault;
  fault.message = fmt::format("unknown standard \"{}\"", id);
  const auto near = io::nearest_word(id, ids);
  fault.hint = near ? fmt::format("did you mean \"{}\"? ", *near) : std::string();
  fault.hint += fmt::format("there are: {}", fmt::join(ids, ", "));
  return fault;
}

Result<std::vector<io::DataFile>> Library::model_files() const {
  std::vector<io::DataFile> files;
  Diagnostics faults;
  for (const io::DataFile& file : io::embedded_data()) {
    const auto name = name_below(file.path, std::string(kModel));
    if (!name) continue;
    const bool own = user_folder_ && store::is_file(*user_folder_ / "model" / *name);
    files.push_back(own ? io::DataFile{file.path, read_data(*user_folder_ / "model" / *name, faults)} : file);
  }
  if (!faults.empty()) return faults;
  return files;
}

Result<Model> Library::model() const {
  const auto files = model_files();
  if (!files.ok()) return files.faults();
  return io::read_model(files.value());
}

Result<Rules> Library::rules() const {
  const auto files = model_files();
  if (!files.ok()) return files.faults();
  return io::read_rules(files.value());
}

Result<TestDayModel> Library::test_day() const {
  const auto files = model_files();
  if (!files.ok()) return files.faults();
  return io::read_test_day(files.value());
}

Result<std::shared_ptr<const Workspace>> read_workspace(const Session& session, io::TestOver over) {
  const std::string name = session.file("candidate.json").string();
  const auto text = store::read_file(name, io::kMostJsonBytes, kNoCandidate);
  if (!text.ok()) return text.faults();
  const Library library(session.environment);
  const auto model = library.model();
  const auto rules = library.rules();
  Diagnostics faults;
  collect(model, faults);
  collect(rules, faults);
  const auto id = io::peek_standard(text.value(), name);
  collect(id, faults);
  if (!faults.empty()) return faults;
  auto standard = library.standard(id.value());
  if (!standard.ok()) return io::placed_at_standard(text.value(), name, standard.faults());
  const auto chosen = io::peek_choice(text.value(), name, standard.value());
  collect(chosen, faults);
  // The file is read to its end even where the choice is wrong, so that one look finds all faults.
  const Standard taken = chosen.ok() ? chosen.value() : with_choice(standard.value(), {});
  for (Diagnostic& fault : too_much_work(model.value(), taken)) faults.push_back(std::move(fault));
  const Model own = suited_model(model.value(), taken);
  auto candidate = io::read_candidate(text.value(), name, taken, own, session.as_of, over);
  collect(candidate, faults);
  if (!faults.empty()) return faults;
  return std::make_shared<const Workspace>(
      Workspace{taken, own, suited_rules(rules.value(), own), candidate.value()});
}

}  // namespace backplan::cli
