// The squad's programme: making it, and reading parts of it.
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <ostream>
#include <utility>

#include "cli/commands.hpp"
#include "cli/finished_programme.hpp"
#include "cli/progress_bar.hpp"
#include "cli/squad_files.hpp"
#include "cli/stored_squad.hpp"
#include "io/json_write.hpp"
#include "io/programme_json.hpp"
#include "io/value_text.hpp"
#include "report/squad_text.hpp"
#include "report/words.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

// The programme that was followed so far; one that cannot be read, or is another squad's, is written over.
std::optional<Programme> followed_programme(const Session& session, const Squad& squad) {
  if (!store::is_file(session.file("programme.json"))) return std::nullopt;
  auto old = read_stored_programme(session);
  if (!old.ok() || old.value().squad != squad.id) return std::nullopt;
  return std::move(old).value();
}

// How the cell "avoid" of a person was taken.
std::string avoided_text(const Candidate& candidate) {
  std::string text;
  for (const Avoid& avoid : candidate.avoid) {
    text += text.empty() ? "" : ", ";
    text += avoid.work + (avoid.until ? " until " + io::say_date(*avoid.until) : " without an end");
  }
  return fmt::format("{} avoids {}", printable(candidate.id), text);
}

// Of a squad without a problem.
io::Json check_json(const Squad& squad) {
  io::Json json;
  json["errors"] = io::Json::array();
  json["people"] = squad.members.size();
  json["defaults"] = squad.defaulted;
  json["avoided"] = io::Json::array();
  for (const Member& member : squad.members) {
    for (const Avoid& avoid : member.candidate.avoid) {
      json["avoided"].push_back({{"id", member.candidate.id},
                                 {"work", avoid.work},
                                 {"until", avoid.until ? io::date_json(*avoid.until) : io::Json(nullptr)}});
    }
  }
  return json;
}

// A week's mornings and what is done at home in it.
io::Json week_json(const Programme& programme, int index) {
  io::Json json;
  json["week"] = index;
  json["mornings"] = io::Json::array();
  for (const Morning& morning : programme.mornings) {
    if (report::squad_week_of(programme, morning.date) == index)
      json["mornings"].push_back(io::morning_json(morning));
  }
  json["extra"] = io::Json::array();
  for (const Person& person : programme.people) {
    for (const Extra& extra : person.extra) {
      if (report::squad_week_of(programme, extra.date) != index) continue;
      io::Json one{{"id", person.id}};
      one.update(io::extra_json(extra));
      json["extra"].push_back(std::move(one));
    }
  }
  return json;
}

}  // namespace

int squad(const Session& session, const SquadOptions& options) {
  const auto read = read_squad_files(session);
  if (!read.ok()) return refuse(read.faults(), session);
  SquadFiles files = *read.value();
  if (options.pooling) files.squad.pooling = *options.pooling;
  const std::optional<Programme> followed = followed_programme(session, files.squad);
  const auto histories = histories_of(session, files, followed);
  if (!histories.ok()) return refuse(histories.faults(), session);
  Programme programme;
  {
    ProgressBar bar(session);
    programme = make_programme(files.squad, files.knowledge(), session.as_of, histories.value(),
                               {bar.teller(), {}, {}});
  }
  programme.basis = squad_basis(session, files);
  if (followed) keep_past(*followed, programme);
  const std::string text = report::programme_text(programme, {files.standard, files.model});
  const std::string bytes = checked_bytes(programme, files, session);
  store::write_atomically(session.file("programme.json"), bytes);
  answer_change(session.json() ? bytes : text, "`backplan squad week` shows what comes next", session);
  return exit_code_of(programme);
}

int squad_check(const Session& session) {
  const auto files = read_squad_files(session);
  Diagnostics problems;
  if (!files.ok()) {
    problems = files.faults();
  } else {
    const auto past = read_squad_past(session, *files.value());
    problems = past.ok() ? past.value().warnings : past.faults();
  }
  if (!problems.empty()) {
    tell_faults(problems, session);
    return kExitAnswerIsNo;
  }
  const Squad& squad = files.value()->squad;
  if (session.json()) {
    session.streams.out << io::pretty(check_json(squad));
    return kExitDone;
  }
  session.streams.out << fmt::format("no problem found: {}, test on {}\n",
                                     report::count(squad.members.size(), "person", "people"),
                                     io::say_date(squad.test_date));
  for (const std::string& text : squad.defaulted) session.streams.out << "  " << printable(text) << '\n';
  for (const Member& member : squad.members) {
    if (!member.candidate.avoid.empty())
      session.streams.out << report::wrap(avoided_text(member.candidate), report::kPageWidth, "    ", "  ");
  }
  return kExitDone;
}

int squad_week(const Session& session, const SquadOptions& options) {
  const auto stored = read_stored_squad(session);
  if (!stored.ok()) return refuse(stored.faults(), session);
  const Programme& programme = stored.value().programme;
  const int index =
      options.week ? known_week(programme, *options.week) : report::squad_week_of(programme, session.as_of);
  if (session.json()) {
    session.streams.out << io::pretty(week_json(programme, index));
  } else if (index < 1) {
    session.streams.out << report::no_week_text(programme, session.as_of);
  } else {
    session.streams.out << report::squad_week_text(programme, index, stored.value().names());
  }
  return kExitDone;
}

int squad_morning(const Session& session, const SquadOptions& options) {
  const auto stored = read_stored_squad(session);
  if (!stored.ok()) return refuse(stored.faults(), session);
  const Programme& programme = stored.value().programme;
  const Date date = options.date.value_or(session.as_of);
  const auto found = std::find_if(programme.mornings.begin(), programme.mornings.end(),
                                  [&](const Morning& morning) { return morning.date == date; });
  if (found == programme.mornings.end()) {
    const auto next = std::find_if(programme.mornings.begin(), programme.mornings.end(),
                                   [&](const Morning& morning) { return morning.date > date; });
    throw UsageError(fmt::format("no common morning on {}", io::say_date(date)),
                     next == programme.mornings.end() ? std::string("there is none after it")
                                                      : "the next one is on " + io::say_date(next->date));
  }
  if (session.json()) {
    session.streams.out << io::pretty(io::morning_json(*found));
  } else {
    session.streams.out << report::morning_text(programme, *found,
                                                {stored.value().standard, stored.value().model});
  }
  return kExitDone;
}

int squad_card(const Session& session, const SquadOptions& options) {
  const auto stored = read_stored_squad(session);
  if (!stored.ok()) return refuse(stored.faults(), session);
  const Programme& programme = stored.value().programme;
  const Person& person = person_of(programme, options.word);
  const Date from = std::max(session.as_of, programme.as_of);
  if (!session.json()) {
    session.streams.out << report::card_text(programme, person, from,
                                             {stored.value().standard, stored.value().model});
    return kExitDone;
  }
  io::Json json = io::person_json(person, stored.value().standard);
  json["mornings"] = io::Json::array();
  for (Morning morning : programme.mornings) {
    if (morning.date < from) continue;
    std::vector<Station> own;
    for (Station station : morning.stations) {
      station.turns.erase(std::remove_if(station.turns.begin(), station.turns.end(),
                                         [&](const Turn& turn) { return turn.id != person.id; }),
                          station.turns.end());
      if (!station.turns.empty()) own.push_back(std::move(station));
    }
    morning.stations = std::move(own);
    if (!morning.stations.empty()) json["mornings"].push_back(io::morning_json(morning));
  }
  session.streams.out << io::pretty(json);
  return kExitDone;
}

}  // namespace backplan::cli
