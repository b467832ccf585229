// programme.json with the names it is printed with; parts of a programme need no roster.
#pragma once

#include <string>

#include "backplan/programme.hpp"
#include "cli/session.hpp"
#include "report/names.hpp"

namespace backplan::cli {

struct StoredSquad {
  Programme programme;
  Standard standard;
  Model model;

  [[nodiscard]] report::Names names() const { return {standard, model}; }
};

// The programme as it may be followed from today on: work that pain or the roster has taken off since is off
// in it. Tells the warnings of the journal. Throws store::MissingInput where there is no programme.json.
[[nodiscard]] Result<StoredSquad> read_stored_squad(const Session& session);

// The week, whether it has a common morning or not; one that the programme does not have is a usage error.
[[nodiscard]] int known_week(const Programme& programme, int week);

// Nobody of this id: a usage error with the nearest one.
[[nodiscard]] const Person& person_of(const Programme& programme, const std::string& id);

}  // namespace backplan::cli
