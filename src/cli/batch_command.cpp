#include <fmt/format.h>

#include <exception>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <utility>

#include "backplan/planner.hpp"
#include "backplan/suited.hpp"
#include "cli/commands.hpp"
#include "cli/finished_plan.hpp"
#include "cli/line_answers.hpp"
#include "cli/workspace.hpp"
#include "io/json_text.hpp"
#include "io/plan_json.hpp"

namespace backplan::cli {
namespace {

constexpr LineLimits kLimits{};

// A standard and the defaults that concern it; the standard may hold alternates of which a line chooses.
struct Shelf {
  Result<Standard> standard;
  Model model;
  Rules rules;
};
using SharedShelf = std::shared_ptr<const Shelf>;

// What one line is planned by.
std::shared_ptr<const Shelf> suited(const Result<Standard>& standard, const Model& model,
                                    const Rules& rules) {
  if (!standard.ok()) return std::make_shared<const Shelf>(Shelf{standard, {}, {}});
  const Diagnostics faults = too_much_work(model, standard.value());
  if (!faults.empty()) return std::make_shared<const Shelf>(Shelf{faults, {}, {}});
  Model own = suited_model(model, standard.value());
  Rules own_rules = suited_rules(rules, own);
  return std::make_shared<const Shelf>(Shelf{standard, std::move(own), std::move(own_rules)});
}

// Standards by id, each read once, for all threads. Unknown ids are not kept, so that a stream of
// misspellings does not fill the memory.
class StandardCache {
 public:
  StandardCache(const Library& library, const Model& model, const Rules& rules)
      : library_(library), model_(model), rules_(rules) {}

  // With the choice of this line, where the standard leaves one.
  Result<SharedShelf> get_for(const std::string& text, const std::string& id) {
    const SharedShelf shelf = get(id);
    if (!shelf->standard.ok() || !has_choices(shelf->standard.value())) return shelf;
    Result<Standard> chosen = io::peek_choice(text, "input", shelf->standard.value());
    if (!chosen.ok()) return chosen.faults();
    return suited(chosen, model_, rules_);
  }

 private:
  SharedShelf get(const std::string& id) {
    const std::lock_guard lock(mutex_);
    const auto found = standards_.find(id);
    if (found != standards_.end()) return found->second;
    SharedShelf read = suited(library_.standard(id), model_, rules_);
    if (read->standard.ok()) standards_.emplace(id, read);
    return read;
  }

  const Library& library_;
  const Model& model_;
  const Rules& rules_;
  std::mutex mutex_;
  std::map<std::string, SharedShelf> standards_;
};

// What every line is answered with.
struct Desk {
  StandardCache& standards;
  Date as_of;
};

std::string error_line(const std::optional<std::string>& id, const std::string& error) {
  io::Json json;
  json["id"] = id ? io::Json(*id) : io::Json(nullptr);
  json["error"] = error;
  return io::one_line(json);
}

// The faults of a line as one text: what, where in the line, and what to do.
std::string in_one_line(const Diagnostics& faults) {
  std::string text;
  for (const Diagnostic& fault : faults) {
    if (fault.severity != Severity::error) continue;
    if (!text.empty()) text += "; ";
    if (fault.column > 0) text += fmt::format("column {}: ", fault.column);
    text += fault.message;
    if (!fault.field.empty()) text += fmt::format(" (at {})", fault.field);
    if (!fault.hint.empty()) text += fmt::format(" [{}]", fault.hint);
  }
  return text;
}

// The id of a line that has other faults.
std::optional<std::string> id_of(const std::string& text) {
  const auto parsed = io::parse_json(text, "input");
  if (!parsed.ok()) return std::nullopt;
  Diagnostics ignored;
  const io::JsonCursor root(parsed.value(), ignored);
  if (!root.is_object() || !root.has("id")) return std::nullopt;
  return root.optional("id").text();
}

std::string answer_candidate(const std::string& text, const Desk& desk) {
  const auto standard_id = io::peek_standard(text, "input");
  if (!standard_id.ok()) return error_line(id_of(text), in_one_line(standard_id.faults()));
  const auto found = desk.standards.get_for(text, standard_id.value());
  if (!found.ok()) return error_line(id_of(text), in_one_line(found.faults()));
  const Shelf& shelf = *found.value();
  if (!shelf.standard.ok()) return error_line(id_of(text), in_one_line(shelf.standard.faults()));
  const Standard& standard = shelf.standard.value();
  const auto candidate = io::read_candidate(text, "input", standard, shelf.model, desk.as_of);
  if (!candidate.ok()) return error_line(id_of(text), in_one_line(candidate.faults()));
  const Knowledge knowledge{standard, shelf.model, shelf.rules};
  // Written out, although only a part of it is answered: the checker judges what is on each day.
  const PlanOptions options{.prove = false, .ways_out = false, .write_out = true};
  const Plan made = make_plan(candidate.value(), knowledge, desk.as_of, options);
  const Plan& plan = checked(made, as_seen(candidate.value(), knowledge, desk.as_of, {}), knowledge);
  io::Json json;
  json["id"] = candidate.value().id;
  if (!plan.refused.empty()) json["refused"] = plan.refused;
  json["outlook"] = io::forecast_json(plan.outlook, plan, standard);
  json["time"] = io::time_json(plan);
  return io::one_line(json);
}

std::string answer_line(const Line& line, const Desk& desk) {
  if (!line.text) {
    return error_line(std::nullopt,
                      fmt::format("line {} is longer than {} bytes", line.number, kLimits.most_bytes));
  }
  if (line.text->find_first_not_of(" \t") == std::string::npos) {
    return error_line(std::nullopt, fmt::format("line {} is empty", line.number));
  }
  try {
    return answer_candidate(*line.text, desk);
  } catch (const BrokenPlan& bug) {
    return error_line(id_of(*line.text), fmt::format("line {}: a fault of the program, please report it: {}",
                                                     line.number, bug.what()));
  } catch (const std::exception& fault) {
    // A bug or a full memory for one candidate must not take the answers of the others away.
    return error_line(std::nullopt,
                      fmt::format("line {}: a fault of the program: {}", line.number, fault.what()));
  }
}

}  // namespace

int batch(const Session& session, const BatchOptions& options) {
  const Library library(session.environment);
  const auto model = library.model();
  if (!model.ok()) return refuse(model.faults(), session);
  const auto rules = library.rules();
  if (!rules.ok()) return refuse(rules.faults(), session);
  StandardCache standards(library, model.value(), rules.value());
  const Desk desk{standards, session.as_of};
  LineLimits limits = kLimits;
  limits.jobs = options.jobs;
  answer_lines(session.streams.in, session.streams.out, limits,
               [&desk](const Line& line) { return answer_line(line, desk); });
  return kExitDone;
}

}  // namespace backplan::cli
