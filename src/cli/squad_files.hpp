// The files of a squad's folder, read and checked.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "backplan/history.hpp"
#include "backplan/programme.hpp"
#include "backplan/squad.hpp"
#include "cli/session.hpp"
#include "cli/workspace.hpp"
#include "io/squad_journal.hpp"

namespace backplan::cli {

inline constexpr std::size_t kMostRosterBytes = 8U << 20U;

struct SquadFiles {
  Standard standard;
  Model model;
  Rules rules;
  Squad squad;

  [[nodiscard]] Knowledge knowledge() const { return {standard, model, rules}; }
  [[nodiscard]] io::EntryContext context(Date as_of) const { return {standard, model, as_of}; }
  // None of this id: a usage error with the nearest one.
  [[nodiscard]] const Member& member(const std::string& id) const;
};

// squad.json and roster.csv; every fault of both at once. A missing file throws store::MissingInput.
[[nodiscard]] Result<std::shared_ptr<const SquadFiles>> read_squad_files(
    const Session& session, io::TestOver over = io::TestOver::refused);

// journal.jsonl by person, with its warnings; empty where there is none.
[[nodiscard]] Result<io::SquadJournal> read_squad_past(const Session& session, const SquadFiles& files);

// The same by the people alone.
[[nodiscard]] Result<io::SquadJournal> read_squad_past(const Session& session,
                                                       const std::vector<Member>& members,
                                                       const io::EntryContext& context);

// programme.json; throws store::MissingInput where there is none.
[[nodiscard]] Result<Programme> read_stored_programme(const Session& session);

// One a member: what the journal says, beside the mornings of the programme that was followed.
[[nodiscard]] Result<std::vector<History>> histories_of(const Session& session, const SquadFiles& files,
                                                        const std::optional<Programme>& followed);

// A hash of squad.json, roster.csv, journal.jsonl and the day.
[[nodiscard]] std::string squad_basis(const Session& session, const SquadFiles& files);

}  // namespace backplan::cli
