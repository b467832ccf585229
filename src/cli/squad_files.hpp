// The files of a squad's folder, read and checked.
#pragma once

#include <map>
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
#include "io/squad_reader.hpp"

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

// What a frame of a roster is taken for where squad.json cannot be read, or need not: no cell depends on more
// of it than the day of the test.
[[nodiscard]] io::SquadFrame stand_in_frame(Date test_date);

// journal.jsonl by person; empty where there is none.
struct SquadPast {
  io::SquadJournal journal;
  std::map<std::string, Standing> standing;  // of everybody who has entries, by id
  Diagnostics warnings;                      // of the file and of what does not stand, by line

  [[nodiscard]] Standing of(const std::string& id) const;
};
[[nodiscard]] Result<SquadPast> read_squad_past(const Session& session, const std::vector<Member>& members,
                                                const io::EntryContext& context);
[[nodiscard]] Result<SquadPast> read_squad_past(const Session& session, const SquadFiles& files);

// The first few, on `err`: every command that reads the journal tells them.
void tell_warnings(const SquadPast& past, const Session& session);

// programme.json; throws store::MissingInput where there is none.
[[nodiscard]] Result<Programme> read_stored_programme(const Session& session);

// One a member: what the journal says, beside the mornings of the programme that was followed. Tells the
// warnings of the journal.
[[nodiscard]] Result<std::vector<History>> histories_of(const Session& session, const SquadFiles& files,
                                                        const std::optional<Programme>& followed);

// A hash of squad.json, roster.csv, journal.jsonl, the day, the standard and the defaults.
[[nodiscard]] std::string squad_basis(const Session& session, const SquadFiles& files);

}  // namespace backplan::cli
