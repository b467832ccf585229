#include "support/simulated_history.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <functional>
#include <map>
#include <utility>

#include "backplan/evidence.hpp"
#include "backplan/progress.hpp"
#include "core/dose_history.hpp"
#include "core/fit_record.hpp"
#include "core/progress_prior.hpp"
#include "support/journal_entries.hpp"
#include "support/random_source.hpp"

namespace backplan::testing {
namespace {

constexpr Date kBegins = std::chrono::sys_days{std::chrono::year{2026} / 6 / 1};
constexpr int kDaysInWeek = 7;
constexpr double kMostSlack = 0.15;  // how far a bound may lie under what was possible, in v

// The person's own deviations, in units of their priors.
struct Habits {
  std::map<std::string, double> setting, conversion;  // by event
  double exponent = 0.0;
};

// One entry with a figure that can be scaled: load, time, distance, or result.
struct Draft {
  std::function<Deed(double)> made_of;
  double figure = 0.0;
  double sign = 1.0;  // of v in ln(figure)
  bool whole = false;
};

Typed<Seconds> seconds(double value) { return {Seconds(value), "typed"}; }
Typed<Metres> metres(double value) { return {Metres(value), "typed"}; }

class Simulation {
 public:
  Simulation(std::uint64_t seed, Response response, const Standard& standard, const Model& model)
      : random_(seed), response_(response), standard_(standard), model_(model) {}

  SimulatedPerson run() {
    describe();
    train();
    for (const Event& event : standard_.events) live(event);
    write_journal();
    return std::move(person_);
  }

 private:
  void describe() {
    Candidate& candidate = person_.candidate;
    candidate.id = "invented";
    candidate.birth_date = std::chrono::sys_days{std::chrono::year{random_.integer(1985, 2006)} / 3 / 1};
    candidate.column = random_.chance(0.5) ? "male" : "female";
    candidate.standard = standard_.id;
    candidate.category = "general";
    candidate.background = random_.choice<Background>(
        {Background::new_to_training, Background::regular, Background::long_trained});
    weeks_ = random_.integer(6, 30);
    ahead_ = random_.integer(3, 16);
    person_.as_of = kBegins + Days(kDaysInWeek * weeks_);
    candidate.test_date = person_.as_of + Days(kDaysInWeek * ahead_);
  }

  // Every kind a few times a week, with good and bad weeks and here and there a lost one.
  void train() {
    const double eagerness = random_.real(0.25, 0.85);
    const int days = kDaysInWeek * (weeks_ + ahead_);
    for (int week = 0; week < weeks_ + ahead_; ++week) {
      const bool lost = random_.chance(0.05);
      const double share = lost ? 0.0 : eagerness * random_.real(0.6, 1.2);
      for (const WorkKind& kind : model_.work) {
        if (standard_.find_event(kind.trains) == nullptr) continue;
        for (int i = 0; i < kind.most_a_week; ++i) {
          if (!random_.chance(share)) continue;
          WorkDone work;
          work.work = kind.id;
          work.minutes = random_.integer(kind.shorter.minutes, kind.full.minutes);
          const int day = std::min(days - 1, kDaysInWeek * week + (kDaysInWeek * i) / kind.most_a_week);
          work_[kBegins + Days(day)].push_back(work);
        }
      }
    }
    work_[kBegins].push_back(WorkDone{"easy_run", 10, {}, {}, {}, false, {}});  // the record begins here
    History all;
    int number = 1;
    for (const auto& [date, list] : work_) {
      for (const WorkDone& one : list) all.entries.push_back(done(number++, date, one));
    }
    all.begins = kBegins;
    days_ = days_done(all, model_, person_.candidate.test_date);
  }

  static Done done(int number, Date date, Deed what) {
    Done out;
    out.id = support::id_number(number);
    out.date = date;
    out.what = std::move(what);
    return out;
  }

  void live(const Event& event) {
    const EventModel& known = *model_.find_event(event.model_event);
    const EventState state = unfitted(event, person_.candidate, standard_, model_);
    const double low = ability_of(state.scale->rows().front().result, event.direction);
    const double high = ability_of(state.scale->rows().back().result, event.direction);
    const double start = random_.real(low, low + 0.8 * (high - low));
    const Prior prior = prior_of(event, person_.candidate, standard_, model_, start);
    double h = -1.0;
    while (h < 0.0) h = prior.h + prior.h_sd * random_.normal();
    const double k = known.k_per_week * std::exp(known.k_log_sd * random_.normal());
    const Dose dose = personal_dose(known, person_.candidate.now);
    const DoseHistory history(days_, kBegins, model_, known, dose);
    const auto answer = answers(known, dose, history, h, k);
    std::vector<double> v;
    double stray = 0.0;
    const double strays = response_ == Response::as_assumed ? strays_a_week(model_, prior.h) : 0.0;
    for (std::size_t day = 0; day < answer.size(); ++day) {
      v.push_back(start + answer[day] + stray);
      stray += std::sqrt(strays / kDaysInWeek) * random_.normal();
    }
    const Date as_of = person_.as_of;
    const Date test = person_.candidate.test_date;
    person_.truth.push_back({event.id, v[index(as_of)], v[index(test)],
                             history.s_on(test) - history.s_on(as_of),
                             history.loss_on(test) - history.loss_on(as_of)});
    v_[event.id] = std::move(v);
    habits_.setting[event.id] = random_.normal();
    habits_.conversion[event.id] = random_.normal();
    habits_.exponent = random_.normal();
  }

  static std::size_t index(Date date) { return static_cast<std::size_t>((date - kBegins).count()); }

  // Growth less loss on each morning from the first to the test day.
  std::vector<double> answers(const EventModel& event, const Dose& dose, const DoseHistory& history, double h,
                              double k) {
    constexpr double kWeeksToBend = 6.0;  // of the logarithm
    std::vector<double> out;
    if (response_ == Response::fitness_and_fatigue) return two_states(event, dose, h);
    for (std::size_t day = 0; day <= days_.size(); ++day) {
      const Date date = kBegins + Days(static_cast<int>(day));
      const double s = history.s_on(date);
      const double growth = response_ == Response::as_assumed
                                ? h * (1.0 - std::exp(-k * s))
                                : h * k * kWeeksToBend * std::log1p(s / kWeeksToBend);
      out.push_back(growth - history.loss_on(date));
    }
    return out;
  }

  // Time constants of 45 and 15 days (Morton 1990, customary values). Steady work at the reference dose would
  // bring the headroom in the end and cost two per cent while it lasts.
  std::vector<double> two_states(const EventModel& event, const Dose& dose, double h) {
    constexpr double kFitnessDays = 45.0;
    constexpr double kFatigueDays = 15.0;
    constexpr double kFatigue = 0.02;
    const double extra = (dose.reference - dose.keep) / kDaysInWeek;
    double fitness = 0.0;
    double fatigue = 0.0;
    std::vector<double> out{0.0};
    for (const DayDone& day : days_) {
      double u = -dose.keep / kDaysInWeek;
      for (const auto& [id, stimulus] : day.stimulus) {
        const auto& transfer = model_.find_work(id)->transfer;
        const auto found = transfer.find(event.id);
        if (found != transfer.end()) u += found->second * stimulus;
      }
      fitness = fitness * std::exp(-1.0 / kFitnessDays) + u / (extra * kFitnessDays);
      fatigue = fatigue * std::exp(-1.0 / kFatigueDays) + u / (extra * kFatigueDays);
      out.push_back(h * fitness - kFatigue * fatigue);
    }
    return out;
  }

  // The figure that reads as the truth of the day with the person's deviations and noise.
  Deed as_read(const Draft& draft, const Event& event, Date date, bool slack) {
    Done trial = done(1, date, draft.made_of(draft.figure));
    const auto reading = evidence_of(trial, standard_, model_);
    if (!reading) return Missed{};
    const double shared = reading->setting_sd * habits_.setting[event.id] +
                          reading->conversion_sd * habits_.conversion[event.id] +
                          kExponentSd * reading->log_ratio * habits_.exponent;
    const double own = reading->sd * reading->sd - reading->setting_sd * reading->setting_sd -
                       reading->conversion_sd * reading->conversion_sd -
                       kExponentSd * kExponentSd * reading->log_ratio * reading->log_ratio;
    double y = v_[event.id][index(date)] + shared + std::sqrt(own) * random_.normal();
    if (slack) y -= random_.real(0.0, kMostSlack);
    const double figure = draft.figure * std::exp(draft.sign * (y - reading->v));
    return draft.made_of(draft.whole ? std::floor(figure + 0.5) : figure);
  }

  Draft result_draft(const Event& event, Setting setting, double near) {
    ResultDone result;
    result.event = event.id;
    result.setting = setting;
    const auto made = [result](double value) {
      ResultDone one = result;
      one.value = {value, "typed"};
      return Deed(one);
    };
    return {made, near, event.direction == Direction::more_is_better ? 1.0 : -1.0, false};
  }

  // A session that says something of the event; `hard`: all out. None where the kind says nothing.
  Draft session_draft(const WorkDone& work, const WorkKind& kind, bool hard, double near) {
    WorkDone base = work;
    base.hard = hard;
    if (kind.family == "lift") {
      const int repetitions = random_.integer(2, 7);
      const auto reserve = hard ? std::optional<double>(random_.integer(0, 3)) : std::nullopt;
      base.hard = false;
      return {[=](double load) {
                WorkDone one = base;
                one.sets = {{repetitions, Typed<Pounds>{Pounds(load), "typed"}, reserve}};
                return Deed(one);
              },
              near, 1.0, false};
    }
    if (kind.family == "press") {
      return {[=](double count) {
                WorkDone one = base;
                one.sets = {{std::max(1, static_cast<int>(count)), std::nullopt, std::nullopt}};
                return Deed(one);
              },
              near, 1.0, true};
    }
    if (kind.running) {
      const double miles = random_.choice<double>({1.0, 1.5, 2.0, 3.0});
      if (!hard) base.effort = 7;
      return {[=](double time) {
                WorkDone one = base;
                one.distance = metres(miles * kMetresPerMile);
                one.time = seconds(time);
                return Deed(one);
              },
              near * miles / 2.0, -1.0, false};
    }
    return {[=](double time) {
              WorkDone one = base;
              one.time = seconds(time);
              return Deed(one);
            },
            near, kind.family == "hold" ? 1.0 : -1.0, false};
  }

  void write_journal() {
    int number = 1;
    first_results();
    for (const auto& [date, list] : work_) {
      if (date >= person_.as_of) break;
      for (const WorkDone& work : list) {
        const WorkKind& kind = *model_.find_work(work.work);
        const Event& event = *standard_.find_event(kind.trains);
        Deed deed = work;
        if (random_.chance(0.4)) {
          const bool hard = random_.chance(0.35);
          const double near = result_of(v_[event.id][index(date)], event.direction);
          if (hard || kind.family == "lift" || kind.family == "press" || kind.running) {
            const Deed read = as_read(session_draft(work, kind, hard, near), event, date, !hard);
            if (std::holds_alternative<WorkDone>(read)) deed = read;
          }
        }
        person_.history.entries.push_back(done(number++, date, deed));
      }
    }
    for (Date date = kBegins + Days(20); date < person_.as_of; date += Days(random_.integer(14, 42))) {
      for (const Event& event : standard_.events) {
        const Setting setting =
            random_.choice<Setting>({Setting::practice, Setting::single, Setting::self, Setting::record});
        const double near = result_of(v_[event.id][index(date)], event.direction);
        person_.history.entries.push_back(
            done(number++, date, as_read(result_draft(event, setting, near), event, date, false)));
      }
    }
    person_.history.begins = kBegins;
  }

  // A practice test before the record; the level strays as nobody watches it until the record begins.
  void first_results() {
    const Date date = kBegins - Days(random_.integer(1, 60));
    const double weeks = static_cast<double>((kBegins - date).count()) / kDaysInWeek;
    for (const Event& event : standard_.events) {
      const double near = result_of(v_[event.id][0], event.direction);
      const double sd = noise_of(*model_.find_event(event.model_event), near);
      const double y = v_[event.id][0] + sd * random_.normal() +
                       model_.drift_per_sqrt_week * std::sqrt(weeks) * random_.normal();
      DatedResult result;
      result.date = date;
      result.event = event.id;
      result.value = result_of(y, event.direction);
      person_.candidate.results.push_back(result);
    }
  }

  RandomSource random_;
  Response response_;
  const Standard& standard_;
  const Model& model_;
  SimulatedPerson person_;
  int weeks_ = 0, ahead_ = 0;
  std::map<Date, std::vector<WorkDone>> work_;
  std::vector<DayDone> days_;
  std::map<std::string, std::vector<double>> v_;  // by event: ability on each morning
  Habits habits_;
};

}  // namespace

SimulatedPerson simulate(std::uint64_t seed, Response response, const Standard& standard,
                         const Model& model) {
  return Simulation(seed, response, standard, model).run();
}

}  // namespace backplan::testing
