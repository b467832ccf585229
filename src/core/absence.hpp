// When each kind of work was last done, by the record and then by the plan as it is written: a plan may leave
// a kind out for weeks that could have been done, and it returns as gently as one that could not.
#pragma once

#include <optional>
#include <vector>

#include "backplan/history.hpp"
#include "backplan/model.hpp"
#include "backplan/rules.hpp"

namespace backplan {

class Absence {
 public:
  // Of people without a record it is not known what they have done: they are taken to have done all kinds.
  Absence(const std::vector<const WorkKind*>& kinds, const History& history, const Model& model,
          const Rules& rules, Date as_of);

  // A session of the kind, in the order of the dates.
  void done(std::size_t kind, Date date);
  // A practice test: every event, and so what trains it.
  void tested(Date date);

  // Days since its return, were it done on this day: 0 when this is the return. None: it was never away.
  [[nodiscard]] std::optional<int> days_back(std::size_t kind, Date date) const;

 private:
  struct Track {
    Date last;                 // done
    std::optional<Date> back;  // the latest return
  };
  [[nodiscard]] bool is_return(const Track& track, Date date) const;
  void note(Track& track, Date date) const;

  int off_days_;
  std::vector<std::vector<std::size_t>> together_;  // by kind: what is lost and comes back with it
  std::vector<Track> tracks_;
};

}  // namespace backplan
