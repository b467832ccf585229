// A new candidate.json. Every answer is judged by the reader of candidate files itself: it is put into a
// draft whose other parts hold for anybody, and what the reader says of its place is what the asker says.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <ostream>

#include "backplan/units.hpp"
#include "cli/commands.hpp"
#include "cli/interview.hpp"
#include "cli/workspace.hpp"
#include "io/json_write.hpp"
#include "io/value_text.hpp"
#include "report/words.hpp"
#include "store/failures.hpp"
#include "store/files.hpp"

namespace backplan::cli {
namespace {

constexpr const char* kFileName = "candidate.json";
// What stands in the draft for facts that are not known yet: a test in four weeks, somebody of 27.
constexpr Days kPlaceholderAhead{28};
constexpr Days kPlaceholderAge{27 * 366};

io::Json number_json(double value) {
  return value == std::floor(value) && std::fabs(value) < 1e9 ? io::Json(static_cast<long long>(value))
                                                              : io::Json(value);
}

std::vector<std::string> words_of(std::string text) {
  for (char& c : text) c = c == ',' ? ' ' : c;
  std::vector<std::string> words;
  for (std::size_t at = 0; (at = text.find_first_not_of(' ', at)) != std::string::npos;) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    words.push_back(text.substr(at, end - at));
    at = end;
  }
  return words;
}

class Draft {
 public:
  // `results_for`: events that results were given for; of alternates they are the chosen ones.
  Draft(const Library& library, Model model, Date as_of, std::vector<std::string> results_for)
      : library_(library), model_(std::move(model)), as_of_(as_of), results_for_(std::move(results_for)) {
    json_["format"] = "backplan-candidate/1";
  }

  std::optional<Objection> set_standard(const std::string& id) {
    auto found = library_.standard(id);
    if (!found.ok()) return Objection{found.faults().front().message, found.faults().front().hint};
    standard_ = with_choice(found.value(), results_for_);
    json_["standard"] = id;
    json_.erase("choose");
    for (const Event& event : standard_.events) {
      const bool named = std::find(results_for_.begin(), results_for_.end(), event.id) != results_for_.end();
      if (named && !event.choice.empty()) json_["choose"].push_back(event.id);
    }
    return std::nullopt;
  }

  // Sets a key below the root, unless the reader objects to it.
  std::optional<Objection> set(const std::string& key, io::Json value) {
    return keep_or_undo([&](io::Json& json) { json[key] = std::move(value); }, "/" + key);
  }

  std::optional<Objection> set_target(const std::string& text) {
    const auto points = io::read_decimal(text);
    if (!points) return Objection{fmt::format("\"{}\" is no number of points", text), "such as 440"};
    return set("target", io::Json{{"total", number_json(*points)}});
  }

  std::optional<Objection> set_week(const std::string& text) {
    const auto words = words_of(text);
    const std::string form = "seven numbers from Monday on, such as \"60 60 0 60 60 45 0\"";
    if (words.size() != static_cast<std::size_t>(kDaysAWeek))
      return Objection{fmt::format("{} numbers", words.size()), form};
    io::Json week;
    const std::array names{"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
    for (std::size_t i = 0; i < names.size(); ++i) {
      const auto minutes = io::read_decimal(words[i]);
      if (!minutes) return Objection{fmt::format("\"{}\" is no number of minutes", words[i]), form};
      week[names[i]] = number_json(*minutes);
    }
    return set("week", week);
  }

  std::optional<Objection> set_results_date(const std::string& text) {
    const auto date = io::read_date(text);
    if (!date.value) return Objection{date.problem, date.hint};
    if (*date.value > as_of_)
      return Objection{fmt::format("{} is in the future", io::say_date(*date.value)),
                       "the day they were done on"};
    // Else every result would be refused, and asked for again without an end.
    const auto birth = io::read_date(json_.value("birth_date", std::string()));
    if (birth.value && *date.value <= *birth.value)
      return Objection{fmt::format("{} is not after the birth date, {}", io::say_date(*date.value),
                                   io::say_date(*birth.value)),
                       "the day they were done on"};
    results_date_ = text;
    return std::nullopt;
  }

  std::optional<Objection> set_setting(const std::string& text) {
    setting_ = text;
    // Judged with a result of today that anybody could have done; only the word matters.
    io::Json trial = json_;
    trial["results"] = io::Json::array({entry("", "1")});
    return objection_to(trial, "/results/0/setting");
  }

  std::optional<Objection> add_result(const std::string& event, const std::string& text) {
    const std::string place =
        fmt::format("/results/{}", json_.contains("results") ? json_["results"].size() : 0);
    return keep_or_undo([&](io::Json& json) { json["results"].push_back(entry(event, text)); }, place);
  }

  std::optional<Objection> set_medical(const std::string& status) {
    io::Json trial = json_;
    trial["medical"] = io::Json{{"status", status}};
    if (const auto objection = objection_to(trial, "/medical/status")) return objection;
    json_ = std::move(trial);
    return std::nullopt;
  }

  std::optional<Objection> set_medical_date(const std::string& key, const std::string& text) {
    return keep_or_undo([&](io::Json& json) { json["medical"][key] = text; }, "/medical");
  }

  [[nodiscard]] const Standard& standard() const { return standard_; }
  [[nodiscard]] const io::Json& json() const { return json_; }
  [[nodiscard]] std::string medical() const { return json_["medical"]["status"].get<std::string>(); }
  [[nodiscard]] bool has_results() const { return json_.contains("results"); }

  // The points in all that the chosen category asks; "" where it asks none.
  [[nodiscard]] std::string total_minimum() const {
    const Category* category = standard_.find_category(json_.value("category", std::string()));
    if (standard_.pass_or_fail) return fmt::format("{}", standard_.events.size());  // all of them
    return category != nullptr && category->total_minimum ? to_string(*category->total_minimum) : "";
  }

  // The finished file, read as every other command will read it.
  [[nodiscard]] Result<Candidate> read(const std::string& text) const {
    return io::read_candidate(text, kFileName, standard_, model_, as_of_);
  }

 private:
  [[nodiscard]] io::Json entry(const std::string& event, const std::string& text) const {
    return io::Json{{"date", results_date_}, {"event", event}, {"value", text}, {"setting", setting_}};
  }

  // What the reader says of this place of a draft, the rest of it filled in.
  [[nodiscard]] std::optional<Objection> objection_to(io::Json trial, const std::string& place) const {
    const Date test = as_of_ + kPlaceholderAhead;
    const auto fill = [&trial](const char* key, const io::Json& value) {
      if (!trial.contains(key)) trial[key] = value;
    };
    fill("test_date", io::date_json(test));
    fill("id", "A-01");
    fill("birth_date", io::date_json(test - kPlaceholderAge));
    fill("column", standard_.columns.front());
    fill("target", io::Json{{"total", 1}});
    fill("results", io::Json::array());
    fill("week", io::Json{{"mon", 0}});
    const auto read = io::read_candidate(io::pretty(trial), kFileName, standard_, model_, as_of_);
    if (read.ok()) return std::nullopt;
    for (const Diagnostic& fault : read.faults()) {
      const bool here = fault.field.rfind(place, 0) == 0 &&
                        (fault.field.size() == place.size() || fault.field[place.size()] == '/');
      if (here && fault.severity == Severity::error) return Objection{fault.message, fault.hint};
    }
    return std::nullopt;
  }

  template <class Change>
  std::optional<Objection> keep_or_undo(const Change& change, const std::string& place) {
    io::Json trial = json_;
    change(trial);
    auto objection = objection_to(trial, place);
    if (!objection) json_ = std::move(trial);
    return objection;
  }

  const Library& library_;
  Model model_;
  Date as_of_;
  std::vector<std::string> results_for_;
  Standard standard_;
  io::Json json_;
  std::string results_date_;
  std::string setting_ = "practice";
};

// The test that came into force last: what most people will want.
std::string newest_standard(const Library& library) {
  std::string newest;
  std::string since;
  for (const std::string& id : library.standard_ids()) {
    const auto standard = library.standard(id);
    if (!standard.ok() || standard.value().effective_from < since) continue;
    newest = id;
    since = standard.value().effective_from;
  }
  return newest;
}

void ask_who(Interview& interview, Draft& draft, const std::string& newest) {
  interview.ask({"standard", "Official test", newest, false,
                 [&](const std::string& text) { return draft.set_standard(text); }});
  const auto plain = [&](const char* option, const char* key, const std::string& words,
                         const std::string& otherwise) {
    interview.ask({option, words, otherwise, false,
                   [&draft, key](const std::string& text) { return draft.set(key, text); }});
  };
  plain("test-date", "test_date", "Day of the test, YYYY-MM-DD", "");
  plain("id", "id", "What sheets print in place of a name", "me");
  plain("birth-date", "birth_date", "Date of birth, YYYY-MM-DD (decides the age band)", "");
  const Standard& standard = draft.standard();
  plain("column", "column", fmt::format("Column of the scale: {}", fmt::join(standard.columns, " or ")), "");
  std::vector<std::string> categories;
  for (const Category& one : standard.categories) categories.push_back(one.id);
  if (categories.empty()) return;
  plain("category", "category", fmt::format("Category: {}", fmt::join(categories, " or ")),
        categories.front());
}

void ask_goal(Interview& interview, Draft& draft) {
  interview.ask(
      {"target",
       draft.standard().pass_or_fail ? "How many events are to be passed" : "Points in all that you want",
       draft.total_minimum(), false, [&](const std::string& text) { return draft.set_target(text); }});
  interview.ask({"background", "Training so far: new, regular or long", "regular", false,
                 [&](const std::string& text) { return draft.set("background", text); }});
}

// "MDL=190 lb" by event; an unknown event is refused.
std::map<std::string, std::string> results_by_event(const std::vector<std::string>& results,
                                                    const Standard& standard) {
  std::map<std::string, std::string> out;
  for (const std::string& text : results) {
    const std::size_t at = text.find('=');
    const std::string event = text.substr(0, at);
    if (at == std::string::npos || standard.find_event(event) == nullptr) {
      std::vector<std::string> ids;
      for (const Event& one : standard.events) ids.push_back(one.id);
      throw UsageError(fmt::format("--result: \"{}\" is not EVENT=VALUE", text),
                       fmt::format("events: {}", fmt::join(ids, ", ")));
    }
    out[event] = text.substr(at + 1);
  }
  return out;
}

std::string example_of(Unit unit) {
  switch (unit) {
    case Unit::pound:
      return "such as 190 lb or 86 kg";
    case Unit::second:
      return "such as 18:05";
    case Unit::metre:
      return "such as 8.4 m";
    default:
      return unit_name(unit);
  }
}

void ask_results(Interview& interview, Draft& draft, Date as_of, const std::vector<std::string>& given) {
  const auto by_event = results_by_event(given, draft.standard());
  interview.ask({"results-date", "Day of your latest results", io::write_date(as_of), false,
                 [&](const std::string& text) { return draft.set_results_date(text); }});
  interview.ask({"setting", "How they were done: record, practice, single, self or estimate", "practice",
                 false, [&](const std::string& text) { return draft.set_setting(text); }});
  do {
    interview.say(
        "Your latest result in each event; an empty answer where there is none. At least one is needed.");
    for (const Event& event : draft.standard().events) {
      const auto found = by_event.find(event.id);
      if (found != by_event.end()) {
        const auto objection = draft.add_result(event.id, found->second);
        if (objection)
          throw UsageError(fmt::format("--result {}: {}", event.id, objection->what), objection->hint);
        continue;
      }
      interview.ask({"result", fmt::format("  {} ({}), {}", event.name, event.id, example_of(event.unit)), "",
                     true, [&](const std::string& text) { return draft.add_result(event.id, text); }});
    }
  } while (!draft.has_results() && !interview.silent());
  if (!draft.has_results()) throw UsageError("--result: not given", "at least one: --result EVENT=VALUE");
}

void ask_rest(Interview& interview, Draft& draft) {
  interview.ask({"week", "Minutes for training on Mon Tue Wed Thu Fri Sat Sun", "", false,
                 [&](const std::string& text) { return draft.set_week(text); }});
  interview.ask({"medical", "Medical status: none, profile, pregnant or postpartum", "none", false,
                 [&](const std::string& text) { return draft.set_medical(text); }});
  if (draft.medical() == "profile") {
    interview.ask({"profile-until", "Last day of the profile, YYYY-MM-DD", "", false,
                   [&](const std::string& text) { return draft.set_medical_date("until", text); }});
  }
  if (draft.medical() == "postpartum") {
    interview.ask({"cleared-on", "Day on which a provider cleared you, empty if not yet", "", true,
                   [&](const std::string& text) { return draft.set_medical_date("cleared_on", text); }});
  }
}

void refuse_if_there(const std::string& name) {
  if (!store::is_file(name) && !store::is_folder(name)) return;
  throw store::CannotCreate(fmt::format("{} is there already", name),
                            "it is unchanged; change it by hand, or name another folder with -C DIR");
}

}  // namespace

int init(const Session& session, const InitOptions& options) {
  const std::string name = session.file(kFileName).string();
  refuse_if_there(name);
  const Library library(session.environment);
  auto model = library.model();
  if (!model.ok()) return refuse(model.faults(), session);
  Interview interview(session.streams, options.values, options.defaults);
  std::vector<std::string> results_for;
  for (const std::string& text : options.results) results_for.push_back(text.substr(0, text.find('=')));
  Draft draft(library, std::move(model).value(), session.as_of, results_for);
  ask_who(interview, draft, newest_standard(library));
  ask_goal(interview, draft);
  ask_results(interview, draft, session.as_of, options.results);
  ask_rest(interview, draft);
  const std::string text = io::pretty(draft.json());
  const auto candidate = draft.read(text);
  if (!candidate.ok()) return refuse(candidate.faults(), session);
  const std::string answer =
      session.json()
          ? text
          : fmt::format(
                "{} is written: {}, test {}.\n`backplan score` says what they score, `backplan plan` "
                "makes the plan.\n",
                name, report::count(static_cast<int>(candidate.value().results.size()), "result"),
                report::weeks_until(session.as_of, candidate.value().test_date));
  store::make_folders(session.folder.lexically_normal());
  store::write_new(name, text);
  answer_change(answer, name + " is written", session);
  return kExitDone;
}

}  // namespace backplan::cli
