#include "lab/person.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "backplan/evidence.hpp"
#include "backplan/numeric.hpp"
#include "backplan/outlook.hpp"
#include "backplan/score.hpp"
#include "core/progress_prior.hpp"
#include "support/random_parts.hpp"
#include "support/random_source.hpp"

namespace backplan::lab {
namespace {

using testing::RandomSource;

constexpr Date kBegins = std::chrono::sys_days{std::chrono::year{2027} / 1 / 4};  // a Monday
constexpr double kMarkSd = 0.2;       // of ln(dose marks) between people
constexpr double kSmallShare = 0.1;   // of the headroom that an event without response has
constexpr double kNoResponse = 0.35;  // chance of it, an event
constexpr double kTransferSd = 0.8;   // of ln(transfer to other events), where it is changed
constexpr double kNoTransfer = 0.3;   // chance that a transfer is not there at all
constexpr int kLeastTarget = 300, kMostTarget = 500;

// Minutes by weekday: sessions of half an hour to an hour.
std::array<int, 7> week_of(int minutes, bool long_days) {
  std::array<int, 7> out{};
  const int each = long_days ? 60 : 45;
  const int days = std::clamp((minutes + each - 1) / each, 1, 6);
  static const std::vector<std::vector<std::size_t>> kDays = {
      {1}, {1, 4}, {0, 2, 4}, {0, 1, 3, 4}, {0, 1, 2, 4, 5}, {0, 1, 2, 3, 4, 5}};
  const auto& chosen = kDays[static_cast<std::size_t>(days - 1)];
  for (const std::size_t day : chosen) out[day] = minutes / days;
  out[chosen.front()] += minutes - days * (minutes / days);
  return out;
}

class Drawing {
 public:
  Drawing(std::uint64_t seed, Family family, const Knowledge& knowledge)
      : random_(seed), family_(family), knowledge_(knowledge) {
    out_.seed = seed;
  }

  Person run(int minutes) {
    describe(minutes);
    const double fitness = random_.real(0.0, 0.55);
    for (const Event& event : knowledge_.standard.events) draw_event(event, fitness);
    draw_ways();
    draw_results();
    set_target();
    return std::move(out_);
  }

 private:
  void describe(int minutes) {
    Candidate& one = out_.candidate;
    one.id = fmt::format("invented-{}", out_.seed % 1000000);
    one.standard = knowledge_.standard.id;
    one.category = knowledge_.standard.categories.front().id;
    one.column = random_.choice(knowledge_.standard.columns);
    const std::vector<int> weeks = {8, 10, 12};
    out_.begins = kBegins;
    one.test_date = kBegins + Days(7 * random_.choice(weeks));
    one.birth_date = testing::born_for(random_.integer(18, 40), one.test_date, random_.integer(0, 364));
    one.background = random_.choice<Background>(
        {Background::new_to_training, Background::regular, Background::regular, Background::long_trained});
    one.aim = Aim::highest;
    one.now.minutes = random_.integer(0, 9) * 10;
    one.now.hard_sessions = random_.integer(1, 2);
    one.now.longest_run = Metres(kMetresPerMile * random_.integer(2, 4));
    one.week = week_of(minutes, random_.chance(0.5));
    one.equipment = testing::full_equipment();
  }

  void draw_event(const Event& event, double fitness) {
    const EventModel& known = *knowledge_.model.find_event(event.model_event);
    const EventState state = unfitted(event, out_.candidate, knowledge_.standard, knowledge_.model);
    const double low = ability_of(state.scale->rows().front().result, event.direction);
    const double high = ability_of(state.scale->rows().back().result, event.direction);
    const double place = std::clamp(fitness + 0.15 * random_.normal(), -0.15, 0.9);
    Traits traits;
    traits.family = family_;
    traits.start = low + place * (high - low);
    const Prior prior = prior_of(event, out_.candidate, knowledge_.standard, knowledge_.model, traits.start);
    traits.h = -1.0;
    while (traits.h < 0.0) traits.h = prior.h + prior.h_sd * random_.normal();
    traits.k = known.k_per_week * numeric::exp(known.k_log_sd * random_.normal());
    traits.dose = personal_dose(known, out_.candidate.now);
    traits.dose.u0 *= numeric::exp(kMarkSd * random_.normal());
    traits.dose.keep *= numeric::exp(kMarkSd * random_.normal());
    traits.loss_per_week = known.loss_per_week * numeric::exp(kMarkSd * random_.normal());
    traits.grace_days = known.grace_days;
    traits.loss_cap = known.loss_cap;
    traits.shows_after_days = known.earns_nothing_days;
    const bool none = random_.chance(kNoResponse);
    if (family_ == Family::non_responder && none) traits.h *= kSmallShare;
    out_.events.emplace_back(traits);
    draw_transfer(event);
  }

  void draw_transfer(const Event& event) {
    std::map<std::string, double> transfer;
    for (const WorkKind& kind : knowledge_.model.work) {
      const auto found = kind.transfer.find(event.model_event);
      if (found == kind.transfer.end()) continue;
      const double own = random_.real(0.7, 1.2);
      const double other = numeric::exp(kTransferSd * random_.normal());
      const bool none = random_.chance(kNoTransfer);
      double share = found->second;
      if (family_ == Family::changed_transfer)
        share *= kind.trains == event.model_event ? own : (none ? 0.0 : other);
      transfer[kind.id] = share;
    }
    out_.transfer.push_back(std::move(transfer));
  }

  void draw_ways() {
    Ways& ways = out_.ways;
    ways.misses = random_.real(0.0, 0.2);
    ways.forgets = random_.real(0.0, 0.15);
    ways.overstates = random_.real(-0.05, 0.25);
    const int days = static_cast<int>((out_.candidate.test_date - out_.begins).count());
    const int from = random_.integer(7, days - 14);
    const int length = random_.integer(3, 10);
    if (random_.chance(0.35)) {
      ways.ill_from = out_.begins + Days(from);
      ways.ill_to = *ways.ill_from + Days(length - 1);
    }
    for (const Event& event : knowledge_.standard.events) {
      ways.setting[event.id] = random_.normal();
      ways.conversion[event.id] = random_.normal();
    }
  }

  // A practice test in the weeks before.
  void draw_results() {
    const Date date = out_.begins - Days(random_.integer(2, 20));
    for (std::size_t e = 0; e < out_.events.size(); ++e) {
      const Event& event = knowledge_.standard.events[e];
      const EventModel& known = *knowledge_.model.find_event(event.model_event);
      const double v = out_.events[e].ability();
      const double y = v + noise_of(known, result_of(v, event.direction)) * random_.normal();
      DatedResult result;
      result.date = date;
      result.event = event.id;
      result.value = std::max(event.resolution,
                              round_harder(result_of(y, event.direction), event.resolution, event.direction));
      result.as_typed = format_result(result.value, event.unit);
      out_.candidate.results.push_back(result);
    }
  }

  // Some tens of points more than today's.
  void set_target() {
    double total = 0.0;
    const Category& category = *knowledge_.standard.find_category(out_.candidate.category);
    for (std::size_t e = 0; e < out_.events.size(); ++e) {
      const Event& event = knowledge_.standard.events[e];
      const EventModel& known = *knowledge_.model.find_event(event.model_event);
      const EventState state = unfitted(event, out_.candidate, knowledge_.standard, knowledge_.model);
      const double v = out_.events[e].ability();
      total += AbilityScale(*state.scale, pass_minimum(category))
                   .expected_points(v, noise_of(known, result_of(v, event.direction)));
    }
    const int wanted = static_cast<int>(std::floor(total)) + random_.integer(8, 60);
    out_.candidate.target.total = Points::whole(std::clamp(wanted, kLeastTarget, kMostTarget));
  }

  RandomSource random_;
  Family family_;
  const Knowledge& knowledge_;
  Person out_;
};

}  // namespace

void Person::pass(const std::map<std::string, double>& stimulus) {
  for (std::size_t e = 0; e < events.size(); ++e) {
    double u = 0.0;
    for (const auto& [work, amount] : stimulus) {
      const auto found = transfer[e].find(work);
      if (found != transfer[e].end()) u += found->second * amount;
    }
    events[e].pass(u);
  }
}

Person draw_person(std::uint64_t seed, Family family, int minutes, const Knowledge& knowledge) {
  return Drawing(seed, family, knowledge).run(minutes);
}

std::uint64_t luck(std::uint64_t seed, Purpose purpose, long day) {
  RandomSource mixed(seed ^ (static_cast<std::uint64_t>(purpose) + 1) * 0x9E3779B97F4A7C15U ^
                     static_cast<std::uint64_t>(day) * 0xD1B54A32D192ED03U);
  return mixed.next();
}

Model true_model(const Model& model, const Person& person, const Standard& standard) {
  Model out = model;
  for (WorkKind& kind : out.work) {
    for (std::size_t e = 0; e < standard.events.size(); ++e) {
      const auto found = person.transfer[e].find(kind.id);
      if (found != person.transfer[e].end()) kind.transfer[standard.events[e].model_event] = found->second;
    }
  }
  return out;
}

}  // namespace backplan::lab
