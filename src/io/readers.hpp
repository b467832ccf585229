// The files that users and this project write, from bytes to values that cannot be wrong. Nothing
// here opens a file: texts come in, values or every fault come out.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "backplan/candidate.hpp"
#include "backplan/content_hash.hpp"
#include "backplan/model.hpp"
#include "backplan/result.hpp"
#include "backplan/rules.hpp"
#include "backplan/standard.hpp"

namespace backplan::io {

// One file of data: its path below data/ ("standards/us-army-aft/standard.json") and its bytes.
struct DataFile {
  std::string path;
  std::string text;
};

// The data that is compiled into the program, by path.
[[nodiscard]] const std::vector<DataFile>& embedded_data();

// A standard from the files of its folder: standard.json and cells.csv. `weaker cells replaced by
// the user's own imported cells` come as a further cells file, last wins by origin.
[[nodiscard]] Result<Standard> read_standard(const std::vector<DataFile>& folder);

// The defaults: model/events.json, model/work.json, model/outlook.json.
[[nodiscard]] Result<Model> read_model(const std::vector<DataFile>& files);
// model/rules.json.
[[nodiscard]] Result<Rules> read_rules(const std::vector<DataFile>& files);

// The key `standard` of a candidate file, so that the right standard can be loaded first.
[[nodiscard]] Result<std::string> peek_standard(std::string_view text, const std::string& file);
// Faults about the standard that this file names, in no file so far, at that place of it.
[[nodiscard]] Diagnostics placed_at_standard(std::string_view text, const std::string& file,
                                             const Diagnostics& faults);
// The standard with the alternates that the key `choose` names, else those with the latest result, else the
// first of each group.
[[nodiscard]] Result<Standard> peek_choice(std::string_view text, const std::string& file,
                                           const Standard& standard);
// Whether a candidate may be read whose test is over: a plan needs a test ahead, a journal does not.
enum class TestOver { refused, allowed };
// `as_of`: results dated later are faults; so is a test before it, unless that is allowed.
[[nodiscard]] Result<Candidate> read_candidate(std::string_view text, const std::string& file,
                                               const Standard& standard, const Model& model, Date as_of,
                                               TestOver over = TestOver::refused);

// Names a version of a file, guards nothing.
using backplan::content_hash;

}  // namespace backplan::io
