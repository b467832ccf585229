#include "backplan/journal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <type_traits>
#include <utility>

namespace backplan {
namespace {

// The id that a correction names; none for what is no correction.
const std::string* corrected_id(const Entry& entry) {
  if (const auto* one = std::get_if<Void>(&entry.what)) return &one->of;
  if (const auto* one = std::get_if<Replace>(&entry.what)) return &one->of;
  return nullptr;
}

bool is_void(const Entry& entry) { return std::holds_alternative<Void>(entry.what); }

std::optional<Deed> deed_of(const Entry& entry) {
  return std::visit(
      [](const auto& what) -> std::optional<Deed> {
        using What = std::decay_t<decltype(what)>;
        if constexpr (std::is_same_v<What, Void>) {
          return std::nullopt;
        } else if constexpr (std::is_same_v<What, Replace>) {
          return what.by;
        } else {
          return Deed(what);
        }
      },
      entry.what);
}

// Corrections form trees over the entries that they change. What stands of a tree is its last leaf.
class Corrections {
 public:
  explicit Corrections(const Journal& journal) : journal_(journal) {
    index_ids();
    find_roots();
  }

  Standing work_out() {
    std::set<std::string> corrected;
    for (auto& [root, tree] : trees_) {
      corrected.insert(root);
      settle(tree);
    }
    for (const auto& [id, entry] : by_id_) {
      const bool correction = corrected_id(*entry) != nullptr;
      if (!correction && corrected.count(id) == 0) stand(*entry);
    }
    tell_ambiguous(corrected);
    const auto order = [](const Done& a, const Done& b) {
      return std::tie(a.date, a.id) < std::tie(b.date, b.id);
    };
    std::sort(standing_.entries.begin(), standing_.entries.end(), order);
    sort_by_place(standing_.faults);
    return std::move(standing_);
  }

 private:
  void fault(const Entry& entry, std::string message, std::string hint) {
    standing_.faults.push_back(
        {Severity::warning, journal_.file, entry.line, 1, "", std::move(message), std::move(hint)});
  }

  // One entry an id. A line that a merge has brought twice is one entry; two different ones with one id
  // are none, since nobody can tell which is right.
  void index_ids() {
    for (const Entry& entry : journal_.entries) {
      const auto [found, is_new] = by_id_.emplace(entry.id, &entry);
      if (!is_new && !same_content(*found->second, entry)) ambiguous_.emplace(entry.id, &entry);
    }
    for (const auto& [id, later] : ambiguous_) {
      earlier_.emplace(id, by_id_.at(id));
      by_id_.erase(id);
    }
  }

  void tell_ambiguous(const std::set<std::string>& corrected) {
    for (const auto& [id, later] : ambiguous_) {
      if (corrected.count(id) > 0) continue;
      fault(*later,
            fmt::format("the id {} stands in line {} too, for another entry; neither counts", id,
                        earlier_.at(id)->line),
            "give one of the two lines another id, or void the id and log both anew");
    }
  }

  bool known(const std::string& id) const { return by_id_.count(id) > 0 || ambiguous_.count(id) > 0; }

  // The entry at the end of the chain of corrections; none (with a fault) where the chain is broken.
  std::optional<std::string> root_of(const Entry& correction) {
    std::set<std::string> seen{correction.id};
    std::string id = *corrected_id(correction);
    if (!known(id)) {
      fault(correction, fmt::format("it corrects {}, but no entry has this id", id),
            "`backplan log --list` shows the ids");
      return std::nullopt;
    }
    for (;;) {
      const auto found = by_id_.find(id);
      if (found == by_id_.end()) return known(id) ? std::optional(id) : std::nullopt;
      const std::string* next = corrected_id(*found->second);
      if (next == nullptr) return id;
      if (is_void(*found->second)) {
        if (seen.size() == 1) {
          fault(correction, fmt::format("it corrects {}, which is a void: a void cannot be undone", id),
                "log the entry anew");
        }
        return std::nullopt;
      }
      if (!seen.insert(id).second) {
        if (id == correction.id) {
          fault(correction, "its corrections go round in a circle; none of them counts",
                "void what is wrong and log it anew");
        }
        return std::nullopt;
      }
      id = *next;
    }
  }

  void find_roots() {
    for (const Entry& entry : journal_.entries) {
      const auto counted = by_id_.find(entry.id);
      if (corrected_id(entry) == nullptr || counted == by_id_.end() || counted->second != &entry) continue;
      if (const auto root = root_of(entry)) trees_[*root].push_back(&entry);
    }
  }

  // Of several last corrections the one with the greatest id counts: ids grow with time.
  void settle(const std::vector<const Entry*>& tree) {
    std::set<std::string> changed;
    for (const Entry* one : tree) changed.insert(*corrected_id(*one));
    std::vector<const Entry*> leaves;
    for (const Entry* one : tree) {
      if (changed.count(one->id) == 0) leaves.push_back(one);
    }
    const auto by_id = [](const Entry* a, const Entry* b) { return a->id < b->id; };
    const Entry* last = *std::max_element(leaves.begin(), leaves.end(), by_id);
    const bool all_voids =
        std::all_of(leaves.begin(), leaves.end(), [](const Entry* e) { return is_void(*e); });
    for (const Entry* one : leaves) {
      if (one == last || all_voids) continue;
      fault(*one,
            fmt::format("another correction of the same entry ({}) is later; this one does not count",
                        last->id),
            fmt::format("void {} if this one is right, and log it anew", last->id));
    }
    if (!is_void(*last)) stand(*last);
  }

  void stand(const Entry& entry) {
    if (auto deed = deed_of(entry)) {
      standing_.entries.push_back({entry.id, entry.date, *std::move(deed), entry.note, entry.line});
    }
  }

  const Journal& journal_;
  std::map<std::string, const Entry*> by_id_;
  std::map<std::string, const Entry*> ambiguous_;  // the later of two
  std::map<std::string, const Entry*> earlier_;
  std::map<std::string, std::vector<const Entry*>> trees_;  // of corrections, by the entry they change
  Standing standing_;
};

}  // namespace

bool same_content(const Entry& a, const Entry& b) {
  return a.id == b.id && a.date == b.date && a.note == b.note && a.what == b.what;
}

Standing effective(const Journal& journal) { return Corrections(journal).work_out(); }

std::vector<DatedResult> results_in(const std::vector<Done>& entries) {
  std::vector<DatedResult> results;
  for (const Done& done : entries) {
    const auto* result = std::get_if<ResultDone>(&done.what);
    if (result == nullptr) continue;
    results.push_back({done.date, result->event, result->value.value, result->value.as_typed, result->setting,
                       result->first});
  }
  return results;
}

}  // namespace backplan
