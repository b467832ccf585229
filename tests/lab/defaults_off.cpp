#include "lab/defaults_off.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>

#include "io/json_write.hpp"
#include "io/readers.hpp"

namespace backplan::lab {
namespace {

using io::Json;

constexpr double kLower = 0.75, kHigher = 1.25;

std::optional<Model> model_with(std::vector<io::DataFile> files, const std::string& path, const Json& json) {
  for (io::DataFile& file : files) {
    if (file.path == path) file.text = json.dump();
  }
  auto model = io::read_model(files);
  if (!model.ok()) return std::nullopt;
  return std::move(model).value();
}

class Finding {
 public:
  explicit Finding(const Standard& standard) {
    for (const Event& event : standard.events) events_.insert(event.model_event);
    for (const io::DataFile& file : io::embedded_data()) {
      if (file.path.rfind("model/", 0) == 0) files_.push_back(file);
    }
  }

  std::vector<DefaultOff> run() {
    for (const io::DataFile& file : io::embedded_data()) {
      const bool concerned = file.path == "model/events.json" || file.path == "model/outlook.json" ||
                             file.path == "model/work.json";
      if (!concerned) continue;
      path_ = file.path;
      json_ = Json::parse(file.text);
      walk(json_, "");
    }
    return std::move(out_);
  }

 private:
  // An entry of the data has a value, its source and its status.
  void walk(Json& at, const std::string& name) {
    if (!at.is_structured()) return;
    if (at.is_object() && at.contains("value") && at.contains("status")) {
      if (at["status"] == "judgement" && !is_size(name)) leaves(at["value"], name);
      return;
    }
    for (auto& [key, child] : at.items()) walk(child, name_of(at, child, name, key));
  }

  static std::string name_of(const Json& owner, const Json& child, const std::string& name,
                             const std::string& key) {
    std::string own = key;
    if (owner.is_array() && child.is_object() && child.contains("id")) own = child["id"].get<std::string>();
    return name.empty() ? own : name + "." + own;
  }

  static bool is_size(const std::string& name) {
    return name.find("most_a_week") != std::string::npos || name.find(".load") != std::string::npos;
  }

  void leaves(Json& at, const std::string& name) {
    if (at.is_structured()) {
      for (auto& [key, child] : at.items()) {
        if (key != "minutes" && key != "nodes") leaves(child, name + "." + key);
      }
      return;
    }
    if (!at.is_number() || at.get<double>() == 0.0 || !concerns(name)) return;
    change(at, name);
  }

  // Not of an event, or transfer to an event, that the standard does not have.
  [[nodiscard]] bool concerns(const std::string& name) const {
    const auto names = [&](const std::string& event) {
      return name.find("." + event + ".") != std::string::npos ||
             (name.size() > event.size() &&
              name.compare(name.size() - event.size() - 1, std::string::npos, "." + event) == 0);
    };
    const std::vector<std::string> others = {"SPT"};
    return std::none_of(
               others.begin(), others.end(),
               [&](const std::string& event) { return events_.count(event) == 0 && names(event); }) &&
           (events_.count("SPT") > 0 || name.find(".throw.") == std::string::npos);
  }

  void change(Json& at, const std::string& name) {
    const Json was = at;
    const bool whole = was.is_number_integer();
    const double value = was.get<double>();
    const auto with = [&](double factor) {
      if (whole) {
        at = static_cast<int>(value * factor + 0.5);
      } else {
        at = value * factor;
      }
      auto model = model_with(files_, path_, json_);
      at = was;
      return model;
    };
    auto lower = with(kLower);
    auto higher = with(kHigher);
    if (!lower || !higher) return;
    out_.push_back({name, value, std::move(*lower), std::move(*higher)});
  }

  std::set<std::string> events_;
  std::vector<io::DataFile> files_;
  std::string path_;
  Json json_;
  std::vector<DefaultOff> out_;
};

}  // namespace

std::vector<DefaultOff> judged_defaults(const Standard& standard) { return Finding(standard).run(); }

}  // namespace backplan::lab
