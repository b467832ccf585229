// Everything a command reads before it can answer: the data of the program, overridden by the user's
// own folder, and the files of the working folder.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/model.hpp"
#include "backplan/planner.hpp"
#include "backplan/result.hpp"
#include "backplan/rules.hpp"
#include "backplan/standard.hpp"
#include "backplan/test_day.hpp"
#include "cli/session.hpp"
#include "io/readers.hpp"
#include "store/files.hpp"

namespace backplan::cli {

// Whether the tables that the user has imported count.
enum class Imported { with, without };

// Standards, model and rules. A folder standards/<id>/ of the user with a standard.json stands in
// for the built-in one; without it, its `<event>-<column>.cells.csv` files strengthen the built-in
// one. A file of the user's folder model/ stands in for the built-in file of that name.
class Library {
 public:
  explicit Library(const Environment& environment);

  [[nodiscard]] std::vector<std::string> standard_ids() const;  // sorted
  // None for an unknown id.
  [[nodiscard]] Result<std::vector<io::DataFile>> standard_files(const std::string& id,
                                                                 Imported imported = Imported::with) const;
  // An unknown id is a fault without a place; the hint lists the known ones.
  [[nodiscard]] Result<Standard> standard(const std::string& id, Imported imported = Imported::with) const;
  [[nodiscard]] Result<Model> model() const;
  [[nodiscard]] Result<Rules> rules() const;
  [[nodiscard]] Result<TestDayModel> test_day() const;
  [[nodiscard]] const std::optional<store::Path>& user_folder() const { return user_folder_; }

 private:
  [[nodiscard]] Result<std::vector<io::DataFile>> model_files() const;
  std::optional<store::Path> user_folder_;
};

// The files of one candidate, read and checked.
struct Workspace {
  Standard standard;
  Model model;
  Rules rules;
  Candidate candidate;

  [[nodiscard]] Knowledge knowledge() const { return {standard, model, rules}; }
};

// Every fault of every file at once. A missing candidate.json throws store::MissingInput.
[[nodiscard]] Result<std::shared_ptr<const Workspace>> read_workspace(
    const Session& session, io::TestOver over = io::TestOver::refused);

}  // namespace backplan::cli
