#include "backplan/suited.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string>
#include <string_view>

namespace backplan {
namespace {

// Work that brings an event this share of its stimulus can be logged for it, though no plan places it.
constexpr double kCarriesOver = 0.1;
constexpr double kPointsOfDefaults = 100.0;  // that an event gives where the defaults come from

bool has_model(const Standard& standard, const std::string& model_event) {
  return standard.first_of_model(model_event) != nullptr;
}

bool carries_over(const WorkKind& kind, const Standard& standard) {
  return std::any_of(kind.transfer.begin(), kind.transfer.end(), [&](const auto& part) {
    return part.second >= kCarriesOver && has_model(standard, part.first);
  });
}

// The part of a dotted name at this place: 0 for the first.
std::string part_of(std::string_view name, int place) {
  for (; place > 0 && !name.empty(); --place) {
    const std::size_t dot = name.find('.');
    name = dot == std::string_view::npos ? std::string_view() : name.substr(dot + 1);
  }
  return std::string(name.substr(0, name.find('.')));
}

// Names are "events.MDL.dose.keep", "work.deadlift.transfer.MDL", "fixed.march.hard_from", "outlook...".
bool concerns(const std::string& name, const std::set<std::string>& events,
              const std::set<std::string>& work) {
  const std::string group = part_of(name, 0);
  if (group == "events") return events.count(part_of(name, 1)) > 0;
  if (group != "work") return true;
  const bool of_other_event = part_of(name, 2) == "transfer" && events.count(part_of(name, 3)) == 0;
  return work.count(part_of(name, 1)) > 0 && !of_other_event;
}

}  // namespace

bool is_work_for(const WorkKind& kind, const Standard& standard) {
  return has_model(standard, kind.trains) ||
         std::any_of(kind.also_for.begin(), kind.also_for.end(),
                     [&](const std::string& event) { return has_model(standard, event); });
}

Diagnostics too_much_work(const Model& model, const Standard& standard) {
  const auto kinds =
      static_cast<std::size_t>(std::count_if(model.work.begin(), model.work.end(), [&](const WorkKind& kind) {
        return is_work_for(kind, standard);
      }));
  if (kinds <= kMostKinds) return {};
  Diagnostic fault;
  fault.file = "model/work.json";
  fault.message =
      fmt::format("{} kinds of work for {}; a plan weighs at most {}", kinds, standard.id, kMostKinds);
  fault.hint = "take out kinds that train its events, or events from their \"also_for\"";
  return {fault};
}

Model suited_model(const Model& model, const Standard& standard) {
  Model out = model;
  std::set<std::string> events;
  std::set<std::string> work;
  for (const Event& event : standard.events) events.insert(event.model_event);
  out.work.clear();
  for (const WorkKind& kind : model.work) {
    if (!is_work_for(kind, standard) && !carries_over(kind, standard)) continue;
    out.work.push_back(kind);
    work.insert(kind.id);
    events.insert(kind.trains);
  }
  out.assumptions.clear();
  for (const Assumption& one : model.assumptions) {
    if (concerns(one.name, events, work)) out.assumptions.push_back(one);
  }
  // The cost of a missed minimum is meant for events of a hundred points.
  out.value.below_minimum_cost *= standard.points.most.value() / kPointsOfDefaults;
  return out;
}

Rules suited_rules(const Rules& rules, const Model& model) {
  Rules out = rules;
  for (const WorkKind& kind : model.work) {
    if (kind.stops_like.empty()) continue;
    for (PainRegion& region : out.pain.regions) {
      const auto& stops = region.stops;
      const bool like = std::find(stops.begin(), stops.end(), kind.stops_like) != stops.end();
      if (like && std::find(stops.begin(), stops.end(), kind.id) == stops.end())
        region.stops.push_back(kind.id);
    }
  }
  for (auto& [work, others] : out.pain.substitutes) {
    others.erase(std::remove_if(others.begin(), others.end(),
                                [&](const std::string& other) { return model.find_work(other) == nullptr; }),
                 others.end());
  }
  return out;
}

}  // namespace backplan
