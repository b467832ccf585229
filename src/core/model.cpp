#include "backplan/model.hpp"

#include <algorithm>

namespace backplan {

namespace {

template <class T>
const T* find_by_id(const std::vector<T>& list, const std::string& id) {
  const auto found = std::find_if(list.begin(), list.end(), [&](const T& one) { return one.id == id; });
  return found == list.end() ? nullptr : &*found;
}

}  // namespace

const BlockShape* WorkKind::shape(BlockSize size) const {
  if (size == BlockSize::full) return &full;
  if (size == BlockSize::shorter) return &shorter;
  return home ? &*home : nullptr;
}

bool FixedKind::is_hard(double minutes, std::optional<Metres> distance) const {
  if (distance) return distance->value() >= hard_from_metres;
  return minutes >= hard_from_minutes;
}

const EventModel* Model::find_event(const std::string& id) const {
  const auto found = events.find(id);
  return found == events.end() ? nullptr : &found->second;
}

const WorkKind* Model::find_work(const std::string& id) const { return find_by_id(work, id); }

std::vector<std::string> Model::work_ids() const {
  std::vector<std::string> ids;
  for (const WorkKind& kind : work) ids.push_back(kind.id);
  return ids;
}

const FixedKind* Model::find_fixed(const std::string& id) const { return find_by_id(fixed, id); }

}  // namespace backplan
