// roster.csv: one person a row.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "backplan/score.hpp"
#include "io/candidate_parts.hpp"
#include "io/json_text.hpp"
#include "io/named_table.hpp"
#include "io/roster_cells.hpp"
#include "io/squad_reader.hpp"
#include "io/value_text.hpp"

namespace backplan::io {
namespace {

const std::vector<std::string>& plain_columns() {
  static const std::vector<std::string> names{
      "id",      "display", "birth_date", "column",    "category", "background", "results_date",
      "setting", "avoid",   "medical",    "test_date", "target",   "absent"};
  return names;
}

class RosterReader : NamedTable {
 public:
  RosterReader(const CsvTable& table, std::string file, const SquadFrame& frame,
               const CandidateContext& context)
      : NamedTable(table, std::move(file)), frame_(frame), context_(context) {}

  Result<Squad> run() {
    if (!read_header()) return faults_by_place();
    squad_ = frame_.squad;
    for (std::size_t i = 1; i < table_.rows.size(); ++i) read_row(table_.rows[i]);
    if (faults_.empty() && squad_.members.empty())
      fault(table_.rows.front().front(), "", "nobody is in the roster", "add a row for each person");
    if (squad_.members.size() > kMostMembers) {
      faults_.clear();
      fault(table_.rows.back().front(), "",
            fmt::format("{} people; a squad has at most {}", squad_.members.size(), kMostMembers),
            "split the roster: one folder for each unit that trains together");
    }
    if (!faults_.empty()) return faults_by_place();
    return std::move(squad_);
  }

 private:
  // Whether rows can be read at all. Those of a table with an unknown column are, so that one look finds all.
  bool read_header() {
    std::vector<std::string> names = plain_columns();
    for (const Event& event : context_.standard.events) names.push_back(event.id);
    name_columns(names);
    for (const char* needed : {"id", "birth_date", "column"})
      need(needed, "every person needs an id, a birth date and the column of the scale");
    sound_header_ = faults_.empty();
    return has("id") && has("birth_date") && has("column");
  }

  void read_row(const CsvRow& row) {
    if (std::all_of(row.begin(), row.end(), [](const CsvCell& one) { return one.text.empty(); })) return;
    Member member;
    member.line = row.front().line;
    member.candidate = frame_.common;
    read_names(row, member);
    const std::size_t before = faults_.size();
    read_person(row, member.candidate);
    read_choices(row, member.candidate);
    const bool known_person = faults_.size() == before;
    read_results(row, member.candidate);
    read_target(row, member.candidate);
    // What a scale can give depends on the age, the column and the category.
    if (known_person && faults_.size() == before) judge_target(row, member.candidate);
    squad_.members.push_back(std::move(member));
  }

  void read_names(const CsvRow& row, Member& member) {
    const CsvCell* id = cell(row, "id");
    if (id == nullptr) {
      fault(row[columns_.at("id")], "id", "this person has no id", "give a short one, such as L-07");
      return;
    }
    member.candidate.id = without_guard(id->text);
    judge_label(*id, "id", member.candidate.id, kMostIdLength);
    const auto [first, is_new] = ids_.emplace(member.candidate.id, id->line);
    if (!is_new)
      fault(*id, "id",
            fmt::format("the id \"{}\" stands in line {} already", member.candidate.id, first->second),
            "give everybody an id of their own");
    const CsvCell* display = cell(row, "display");
    member.display = display == nullptr ? member.candidate.id : without_guard(display->text);
    if (display != nullptr) judge_label(*display, "display", member.display, kMostDisplayLength);
  }

  void judge_label(const CsvCell& one, const std::string& field, const std::string& text, std::size_t most) {
    if (auto fault_of_it = label_fault(text, most))
      fault(one, field, std::move(*fault_of_it), "write a short text in one line");
  }

  std::optional<Date> date_in(const CsvCell& one, const std::string& field) {
    auto reading = read_date(one.text);
    if (!reading.value) fault(one, field, std::move(reading.problem), std::move(reading.hint));
    return reading.value;
  }

  void read_person(const CsvRow& row, Candidate& candidate) {
    if (const CsvCell* date = cell(row, "test_date")) {
      if (const auto test = date_in(*date, "test_date")) {
        candidate.test_date = *test;
        if (*test > context_.as_of + Days(kMostDaysAhead))
          fault(*date, "test_date",
                fmt::format("the test on {} is more than two years away", say_date(*test)), "check the year");
      }
    }
    const CsvCell* column = cell(row, "column");
    const auto& columns = context_.standard.columns;
    if (column == nullptr || std::find(columns.begin(), columns.end(), column->text) == columns.end()) {
      fault(row[columns_.at("column")], "column",
            fmt::format("expected one of {}, found \"{}\"", fmt::join(columns, ", "),
                        column == nullptr ? "" : column->text),
            "name the column of the official scale");
    } else {
      candidate.column = column->text;
    }
    const CsvCell* birth = cell(row, "birth_date");
    if (birth == nullptr) {
      fault(row[columns_.at("birth_date")], "birth_date", "the birth date is missing",
            "the age band decides the scale: give the date");
      return;
    }
    const auto date = date_in(*birth, "birth_date");
    if (!date) return;
    candidate.birth_date = *date;
    const int age = age_on(*date, candidate.test_date);
    if (*date > context_.as_of || age < kYoungestAge || !context_.standard.band_of(age))
      fault(*birth, "birth_date",
            fmt::format("{} years old on the day of the test: the standard does not score that", age),
            "check the year of birth");
  }

  template <class T>
  std::optional<T> taken(const CsvCell& one, const std::string& field, Reading<T> reading) {
    if (!reading.value) fault(one, field, std::move(reading.problem), std::move(reading.hint));
    return std::move(reading.value);
  }

  void read_choices(const CsvRow& row, Candidate& candidate) {
    std::vector<std::string> categories;
    for (const Category& category : context_.standard.categories) categories.push_back(category.id);
    candidate.category = categories.empty() ? "" : categories.front();
    if (const CsvCell* category = cell(row, "category")) {
      candidate.category = category->text;
      if (std::find(categories.begin(), categories.end(), category->text) == categories.end())
        fault(*category, "category",
              fmt::format("expected one of {}, found \"{}\"", fmt::join(categories, ", "), category->text),
              "leave it empty for the first of them");
    }
    if (const CsvCell* background = cell(row, "background")) {
      const std::string& word = background->text;
      candidate.background = word == "new"    ? Background::new_to_training
                             : word == "long" ? Background::long_trained
                                              : Background::regular;
      if (word != "new" && word != "regular" && word != "long")
        fault(*background, "background",
              fmt::format("expected one of new, regular, long, found \"{}\"", word),
              "leave it empty for regular");
    }
    if (const CsvCell* avoid = cell(row, "avoid")) {
      if (auto list = taken(*avoid, "avoid", read_avoid_cell(avoid->text, context_.model)))
        candidate.avoid = *std::move(list);
    }
    if (const CsvCell* medical = cell(row, "medical")) {
      if (auto status = taken(*medical, "medical", read_medical_cell(medical->text, context_.model)))
        candidate.medical = *std::move(status);
    }
    if (const CsvCell* absent = cell(row, "absent")) {
      if (auto spells = taken(*absent, "absent", read_absent_cell(absent->text)))
        candidate.blocked.insert(candidate.blocked.end(), spells->begin(), spells->end());
      std::stable_sort(candidate.blocked.begin(), candidate.blocked.end(),
                       [](const BlockedSpell& a, const BlockedSpell& b) { return a.from < b.from; });
    }
  }

  std::optional<Date> results_date(const CsvRow& row) {
    const CsvCell* when = cell(row, "results_date");
    if (when == nullptr) return std::nullopt;
    const auto date = date_in(*when, "results_date");
    if (date && *date > context_.as_of)
      fault(*when, "results_date",
            fmt::format("results of {} lie in the future; today is taken as {}", say_date(*date),
                        say_date(context_.as_of)),
            "correct the date, or give --as-of a later day");
    return date;
  }

  Setting setting_of(const CsvRow& row) {
    const CsvCell* word = cell(row, "setting");
    if (word == nullptr) return Setting::practice;
    for (const Setting one :
         {Setting::record, Setting::practice, Setting::single, Setting::self, Setting::estimate}) {
      if (to_string(one) == word->text) return one;
    }
    fault(*word, "setting",
          fmt::format("expected one of record, practice, single, self, estimate, found \"{}\"", word->text),
          "leave it empty for practice");
    return Setting::practice;
  }

  void read_results(const CsvRow& row, Candidate& candidate) {
    const std::optional<Date> date = results_date(row);
    const Setting setting = setting_of(row);
    bool undated = false;  // has been told
    for (const Event& event : context_.standard.events) {
      const CsvCell* value = cell(row, event.id);
      if (value == nullptr) continue;
      const std::string text = value_text(*value);
      auto reading = read_result(text, event);
      if (!reading.value) {
        fault(*value, event.id, std::move(reading.problem), std::move(reading.hint));
        continue;
      }
      if (cell(row, "results_date") == nullptr) {
        // An unknown column may well be this one.
        undated = undated || (!sound_header_ && !has("results_date"));
        if (!undated) fault(*value, event.id, "a result without a date", "fill in results_date for this row");
        undated = true;
        continue;
      }
      if (date) candidate.results.push_back({*date, event.id, *reading.value, text, setting, false});
    }
    std::stable_sort(candidate.results.begin(), candidate.results.end(),
                     [](const DatedResult& a, const DatedResult& b) { return a.event < b.event; });
  }

  // Without a target of its own a person has to pass: the category's minimum in each event.
  void read_target(const CsvRow& row, Candidate& candidate) {
    Target passing = candidate.target;
    if (const Category* category = context_.standard.find_category(candidate.category)) {
      passing.each = category->each_minimum.value_or(Points());
      passing.total = category->total_minimum;
    }
    candidate.target = passing;
    const CsvCell* own = cell(row, "target");
    if (own == nullptr) return;
    if (auto target = taken(*own, "target", read_target_cell(own->text, passing)))
      candidate.target = *std::move(target);
  }

  void judge_target(const CsvRow& row, const Candidate& candidate) {
    const Category* category = context_.standard.find_category(candidate.category);
    if (category == nullptr) return;
    const int age = age_on(candidate.birth_date, candidate.test_date);
    std::vector<std::pair<std::string, Points>> tops;
    for (const Event& event : context_.standard.events) {
      const Scale* scale = context_.standard.scale_for(event, candidate.column, age, *category);
      if (scale == nullptr) {
        fault(row.front(), "",
              fmt::format("{} has no scale of {} for this person", context_.standard.id, event.id),
              "choose another column or category");
        return;
      }
      tops.emplace_back(event.id, scale->rows().back().points);
    }
    const CsvCell* cell_of_target = cell(row, "target");
    if (cell_of_target == nullptr) return;
    const Points most = total_of(context_.standard, tops);
    if (candidate.target.total && *candidate.target.total > most)
      fault(*cell_of_target, "target",
            fmt::format("a total of {} is over {}, the most that the test gives",
                        to_string(*candidate.target.total), to_string(most)),
            fmt::format("ask for {} or less", to_string(most)));
    for (const auto& [event, top] : tops) {
      if (!candidate.target.each || *candidate.target.each <= top) continue;
      fault(*cell_of_target, "target",
            fmt::format("{} points in each event are over {}, the most that {} gives",
                        to_string(*candidate.target.each), to_string(top), event),
            fmt::format("ask for {} or less", to_string(top)));
      return;
    }
  }

  const SquadFrame& frame_;
  const CandidateContext& context_;
  std::map<std::string, int> ids_;
  bool sound_header_ = true;
  Squad squad_;
};

}  // namespace

Result<Squad> read_roster(std::string_view text, const std::string& file, const SquadFrame& frame,
                          const Standard& standard, const Model& model, Date as_of) {
  const auto table = read_csv(text, file);
  if (!table.ok()) return table.faults();
  const CandidateContext context{standard, model, as_of, TestOver::allowed};
  return RosterReader(table.value(), file, frame, context).run();
}

}  // namespace backplan::io
