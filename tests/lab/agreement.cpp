#include "lab/agreement.hpp"

#include <fmt/format.h>
#include <sys/wait.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "io/candidate_json.hpp"
#include "io/journal_json.hpp"
#include "io/plan_json.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "lab/cohort.hpp"
#include "lab/planner_policies.hpp"
#include "lab/threads.hpp"
#include "support/temporary_folder.hpp"

namespace backplan::lab {
namespace {

constexpr int kDone = 0, kAnswerIsNo = 1;

// What a person is told to do, and what they are told to expect.
std::string said(const Plan& plan) {
  std::string out = fmt::format("expects {:.2f} ({:.4f})\n", plan.outlook.total.mean, plan.outlook.p_target);
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks)
        out += fmt::format("{} {} {} {}: {}\n", io::write_date(day.date), block.work, to_string(block.size),
                           block.minutes, block.prescription);
    }
  }
  return out;
}

// Plans by the program, in a folder of its own.
class ByCommand final : public Policy {
 public:
  explicit ByCommand(std::string program) : program_(std::move(program)) {}

  [[nodiscard]] Decision decide(const Situation& now) override {
    const bool first = !now.history.plan;
    if (first) folder_.write("candidate.json", io::write_candidate(now.candidate));
    if (!now.history.entries.empty()) folder_.write("journal.jsonl", journal_of(now.history));
    run(first ? "plan" : "replan", now.as_of);
    auto plan = io::read_plan(folder_.read("plan.json"), "plan.json");
    if (!plan.ok())
      throw std::runtime_error("a plan that cannot be read: " + to_string(plan.faults().front()));
    Decision out;
    out.seen = now.candidate;
    out.plan = std::move(plan).value();
    return out;
  }

 private:
  static std::string journal_of(const History& history) {
    std::string out = io::journal_head();
    for (const Done& done : history.entries) {
      Entry entry;
      entry.id = done.id;
      entry.date = done.date;
      entry.note = done.note;
      std::visit([&](const auto& deed) { entry.what = deed; }, done.what);
      out += io::entry_line(entry);
    }
    return out;
  }

  void run(const std::string& command, Date as_of) const {
    const std::string line = fmt::format("'{}' {} -C '{}' --as-of {} >/dev/null", program_, command,
                                         folder_.path().string(), io::write_date(as_of));
    const int status =
        std::system(line.c_str());  // NOLINT(cert-env33-c,concurrency-mt-unsafe): our own words
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    if (code != kDone && code != kAnswerIsNo)
      throw std::runtime_error(fmt::format("{} ended with exit code {}", line, code));
  }

  std::string program_;
  test::TemporaryFolder folder_;
};

// Remembers what was said every week.
class Listening final : public Policy {
 public:
  explicit Listening(Policy& to) : to_(to) {}
  [[nodiscard]] Decision decide(const Situation& now) override {
    Decision out = to_.decide(now);
    weeks.push_back(io::write_date(now.as_of) + " " + said(out.plan));
    return out;
  }
  std::vector<std::string> weeks;

 private:
  Policy& to_;
};

// The candidate as the program reads it from its file.
Person as_read(Person person, const Knowledge& knowledge) {
  auto read = io::read_candidate(io::write_candidate(person.candidate), "candidate.json", knowledge.standard,
                                 knowledge.model, person.begins);
  if (!read.ok()) throw std::runtime_error(to_string(read.faults().front()));
  person.candidate = std::move(read).value();
  return person;
}

std::string first_difference(const std::string& a, const std::string& b) {
  std::istringstream left(a);
  std::istringstream right(b);
  std::string one;
  std::string other;
  while (std::getline(left, one)) {
    if (!std::getline(right, other)) other.clear();
    if (one != other) return fmt::format("library: {}\nprogram: {}\n", one, other);
  }
  return {};
}

}  // namespace

Agreement compare_ways(const AgreementSize& size, const Knowledge& knowledge) {
  std::vector<Agreement> found(static_cast<std::size_t>(size.people));
  const auto& families = strange_families();
  in_threads(size.threads, found.size(), [&](std::size_t i) {
    const Family family = families[i % families.size()];
    const Person person =
        as_read(draw_person(seed_of(size.seed, family, static_cast<int>(i)), family, size.minutes, knowledge),
                knowledge);
    ReplanWeekly library(proven_options());
    ByCommand program(size.program);
    Listening to_library(library);
    Listening to_program(program);
    static_cast<void>(run_season(person, to_library, knowledge, false));
    static_cast<void>(run_season(person, to_program, knowledge, false));
    Agreement& out = found[i];
    out.people = 1;
    for (std::size_t week = 0; week < to_library.weeks.size(); ++week) {
      ++out.weeks;
      if (to_library.weeks[week] == to_program.weeks[week]) continue;
      ++out.different_weeks;
      if (out.first_difference.empty())
        out.first_difference = fmt::format("person {}, week {}\n", i, week + 1) +
                               first_difference(to_library.weeks[week], to_program.weeks[week]);
    }
  });
  Agreement all;
  for (const Agreement& one : found) {
    all.people += one.people;
    all.weeks += one.weeks;
    all.different_weeks += one.different_weeks;
    if (all.first_difference.empty()) all.first_difference = one.first_difference;
  }
  return all;
}

std::string to_text(const Agreement& agreement) {
  return fmt::format("{} people, {} weekly plans made by the library and by the program: {} differ\n{}",
                     agreement.people, agreement.weeks, agreement.different_weeks,
                     agreement.first_difference);
}

}  // namespace backplan::lab
