// The independent checker of a programme: it reads plans and mornings, and shares nothing with what made
// them.
#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <set>

#include "backplan/check.hpp"
#include "backplan/programme.hpp"

namespace backplan {
namespace {

constexpr double kMinuteSlack = 1e-6;  // minutes
constexpr int kMostAtOnce = 4;         // people who share a lane at one time

struct Span {
  double from = 0.0, to = 0.0;
  std::string where;
};

bool overlap(const Span& a, const Span& b) {
  return a.from < b.to - kMinuteSlack && b.from < a.to - kMinuteSlack;
}

// The kind of a lane ("bar" of "bar 2") and its number; 0: no lane that can be used up.
std::pair<std::string, int> lane_of(const Station& station) {
  for (const std::string word : {"bar", "sled"}) {
    if (station.lane.compare(0, word.size() + 1, word + " ") != 0) continue;
    int number = 0;
    for (const char c : station.lane.substr(word.size() + 1)) number = 10 * number + (c - '0');
    return {word, number};
  }
  return {"", 0};
}

int lanes_there_are(const std::string& word, const SquadEquipment& kit) {
  return word == "bar" ? kit.hex_bars : std::min(kit.sleds, kit.kettlebell_pairs);
}

class MorningChecker {
 public:
  MorningChecker(const Programme& programme, const Squad& squad, const Knowledge& knowledge,
                 std::vector<SquadViolation>& out)
      : programme_(programme), squad_(squad), knowledge_(knowledge), out_(out) {}

  void run(const Morning& morning) {
    morning_ = &morning;
    check_people();
    check_lanes();
    check_plates();
    check_against_plans();
    check_rounds();
  }

 private:
  void add(std::string rule, std::string who, std::string what) {
    out_.push_back({std::move(rule), std::move(who), morning_->date, std::move(what)});
  }

  void check_people() {
    std::map<std::string, std::vector<Span>>
        spans;  // of everybody: stays, and from first to last turn of a lane
    const double bar_rest = knowledge_.rules.squad.bar_rest_seconds / kSecondsPerMinute;
    for (const Station& station : morning_->stations) {
      std::map<std::string, Span> here;
      std::map<std::string, double> last;
      for (const Turn& turn : station.turns) {
        if (turn.from < -kMinuteSlack || turn.to > morning_->minutes + kMinuteSlack || turn.to <= turn.from)
          add("morning-minutes", turn.id,
              fmt::format("{} from {:.2f} to {:.2f} of {} minutes", station.work, turn.from, turn.to,
                          morning_->minutes));
        const auto [at, first] = here.try_emplace(turn.id, Span{turn.from, turn.to, station.work});
        if (first) {
          last[turn.id] = turn.to;
          continue;
        }
        if (lane_of(station).first == "bar" && turn.from - last[turn.id] < bar_rest - kMinuteSlack)
          add("morning-rest", turn.id,
              fmt::format("{:.2f} minutes of rest between two sets", turn.from - last[turn.id]));
        if (turn.from < last[turn.id] - kMinuteSlack) add("morning-place", turn.id, "two turns at one time");
        last[turn.id] = turn.to;
        at->second.to = turn.to;
      }
      for (const auto& [id, span] : here) {
        for (const Span& other : spans[id]) {
          if (overlap(span, other))
            add("morning-place", id, fmt::format("{} and {} at one time", other.where, span.where));
        }
        spans[id].push_back(span);
      }
    }
  }

  void check_lanes() {
    std::map<std::string, std::vector<Span>> turns;
    for (const Station& station : morning_->stations) {
      const auto [word, number] = lane_of(station);
      if (word.empty()) {
        check_kit(station);
        continue;
      }
      if (number < 1 || number > lanes_there_are(word, squad_.equipment))
        add("morning-kit", "",
            fmt::format("{} is used; there are {}", station.lane, lanes_there_are(word, squad_.equipment)));
      std::set<std::string> people;
      for (const Turn& turn : station.turns) {
        people.insert(turn.id);
        const Span span{turn.from, turn.to, turn.id};
        for (const Span& other : turns[station.lane]) {
          if (overlap(span, other))
            add("morning-lane", turn.id,
                fmt::format("{} is used by {} at the same time", station.lane, other.where));
        }
        turns[station.lane].push_back(span);
      }
      if (static_cast<int>(people.size()) > kMostAtOnce)
        add("morning-lane", "", fmt::format("{} people share {}", people.size(), station.lane));
    }
  }

  // Work that needs a shared lane is done on one, or the sheet says what is done instead.
  void check_kit(const Station& station) {
    const WorkKind* kind = knowledge_.model.find_work(station.work);
    if (kind == nullptr || !station.note.empty()) return;
    for (const std::string& need : kind->needs) {
      if (need == "hex_bar" || need == "sled")
        add("morning-kit", "", fmt::format("{} without a lane", station.work));
    }
  }

  [[nodiscard]] const Block* planned_block(const Person& person, const std::string& work) const {
    for (const PlannedWeek& week : person.plan.weeks) {
      for (const PlannedDay& day : week.days) {
        if (day.date != morning_->date) continue;
        for (const Block& block : day.blocks) {
          if (block.work == work && block.size != BlockSize::home) return &block;
        }
      }
    }
    return nullptr;
  }

  // On a sled the rounds lie as far apart as they are written, and the last one is over before what follows.
  void check_rounds() {
    for (const Person& person : programme_.people) {
      for (const Station& station : morning_->stations) {
        const Block* block = planned_block(person, station.work);
        if (lane_of(station).first != "sled" || block == nullptr || !block->rounds) continue;
        const Turn* last = nullptr;
        for (const Turn& turn : station.turns) {
          if (turn.id != person.id) continue;
          if (last != nullptr &&
              turn.from - last->from < block->rounds->every_s / kSecondsPerMinute - kMinuteSlack)
            add("morning-rest", person.id, "a round begins before the rest after the last one is over");
          last = &turn;
        }
        if (last != nullptr)
          check_after(person, *last, last->from + block->rounds->last_s / kSecondsPerMinute);
      }
    }
  }

  void check_after(const Person& person, const Turn& last, double over) {
    for (const Station& station : morning_->stations) {
      for (const Turn& turn : station.turns) {
        if (turn.id == person.id && turn.from > last.from && turn.from < over - kMinuteSlack)
          add("morning-place", person.id, fmt::format("{} before the last round is over", station.work));
      }
    }
    if (over > morning_->minutes + kMinuteSlack)
      add("morning-minutes", person.id, "the last round ends after the morning");
  }

  // All loads that are lifted at one time must be made of the plates that there are.
  void check_plates() {
    std::set<double> starts;
    for (const Station& station : morning_->stations) {
      for (const Turn& turn : station.turns) {
        if (turn.load) starts.insert(turn.from);
      }
    }
    std::map<double, int> pairs;
    for (const double plate : squad_.equipment.plates_lb) ++pairs[plate];
    for (auto& [plate, count] : pairs) count /= 2;
    for (const double at : starts) {
      std::vector<double> sides;
      for (const Station& station : morning_->stations) {
        for (const Turn& turn : station.turns) {
          if (turn.load && turn.from <= at + kMinuteSlack && at < turn.to - kMinuteSlack)
            sides.push_back((turn.load->value() - squad_.equipment.bar_lb) / 2.0);
        }
      }
      std::sort(sides.rbegin(), sides.rend());
      if (!can_load(sides, 0, sides.empty() ? 0.0 : sides.front(), pairs, pairs.rbegin()))
        add("morning-plates", "", fmt::format("too few plates at minute {:.2f}", at));
    }
  }

  using Pairs = std::map<double, int>;
  // `left`: what the side at `lane` still lacks; plates from `plate` on may be added to it.
  bool can_load(const std::vector<double>& sides, std::size_t lane, double left, Pairs& pairs,
                Pairs::reverse_iterator plate) {
    if (lane == sides.size()) return true;
    if (left < kMinuteSlack && left > -kMinuteSlack)
      return lane + 1 == sides.size() || can_load(sides, lane + 1, sides[lane + 1], pairs, pairs.rbegin());
    if (left < 0.0) return false;
    for (; plate != pairs.rend(); ++plate) {
      if (plate->second == 0 || plate->first > left + kMinuteSlack) continue;
      --plate->second;
      if (can_load(sides, lane, left - plate->first, pairs, plate)) {
        ++plate->second;
        return true;
      }
      ++plate->second;
    }
    return false;
  }

  void check_against_plans() {
    for (const Person& person : programme_.people) {
      std::map<std::string, int> wanted;  // turns or stays, by work
      std::map<std::string, int> minutes;
      for (const PlannedWeek& week : person.plan.weeks) {
        for (const PlannedDay& day : week.days) {
          if (day.date != morning_->date) continue;
          for (const Block& block : day.blocks) {
            if (block.size == BlockSize::home) continue;
            wanted[block.work] = block.sets > 0 ? block.sets : knowledge_.rules.squad.usual_turns;
            minutes[block.work] = block.minutes;
          }
        }
      }
      compare(person, wanted, minutes);
    }
  }

  void compare(const Person& person, const std::map<std::string, int>& wanted,
               const std::map<std::string, int>& minutes) {
    std::set<std::string> seen;
    for (const Station& station : morning_->stations) {
      int turns = 0;
      double from = 0.0;
      double to = 0.0;
      for (const Turn& turn : station.turns) {
        if (turn.id != person.id) continue;
        if (turns++ == 0) from = turn.from;
        to = turn.to;
      }
      if (turns == 0) continue;
      const auto planned = wanted.find(station.work);
      if (planned == wanted.end() || !seen.insert(station.work).second) {
        add("morning-plan", person.id, fmt::format("{} is not in the plan of the day", station.work));
        continue;
      }
      const bool lane = !lane_of(station).first.empty();
      const int length = minutes.at(station.work);
      if (lane ? turns != planned->second || to - from > length + kMinuteSlack
               : turns != 1 || to - from < length - kMinuteSlack || to - from > length + kMinuteSlack)
        add("morning-plan", person.id, fmt::format("{} is not as the plan has it", station.work));
    }
    for (const auto& [work, turns] : wanted) {
      if (seen.count(work) == 0)
        add("morning-plan", person.id, fmt::format("{} of the plan is missing", work));
    }
  }

  const Programme& programme_;
  const Squad& squad_;
  const Knowledge& knowledge_;
  std::vector<SquadViolation>& out_;
  const Morning* morning_ = nullptr;
};

void check_members(const Programme& programme, const Knowledge& knowledge, std::vector<SquadViolation>& out) {
  for (const Person& person : programme.people) {
    if (person.done != (person.test_date < programme.as_of))
      out.push_back(
          {"test-over", person.id, programme.as_of, "planned after the own test, or not before it"});
    if (person.done) {
      if (!person.plan.weeks.empty())
        out.push_back({"test-over", person.id, programme.as_of, "training after the own test"});
      continue;
    }
    if (!person.refused.empty()) {
      if (!person.plan.weeks.empty())
        out.push_back({"medical-refused", person.id, programme.as_of, "somebody who is referred has a plan"});
      continue;
    }
    for (const Violation& one :
         check_plan(person.plan, person.candidate, knowledge.standard, knowledge.model, knowledge.rules))
      out.push_back({one.rule, person.id, one.where, one.what});
    for (const PlannedWeek& week : person.plan.weeks) {
      int extras = 0;
      for (const PlannedDay& day : week.days) {
        for (const Block& block : day.blocks) extras += block.size == BlockSize::home ? 1 : 0;
      }
      if (extras > knowledge.rules.squad.extras_a_week)
        out.push_back({"extras", person.id, week.starts, fmt::format("{} short extras in a week", extras)});
    }
  }
}

void check_days_have_mornings(const Programme& programme, std::vector<SquadViolation>& out) {
  std::set<Date> mornings;
  for (const Morning& morning : programme.mornings) {
    if (!mornings.insert(morning.date).second)
      out.push_back({"morning-plan", "", morning.date, "two mornings on one day"});
  }
  for (const Person& person : programme.people) {
    for (const PlannedWeek& week : person.plan.weeks) {
      for (const PlannedDay& day : week.days) {
        if (day.session_minutes > 0 && mornings.count(day.date) == 0)
          out.push_back({"morning-plan", person.id, day.date, "the plan has work, but there is no morning"});
      }
    }
  }
}

}  // namespace

std::vector<SquadViolation> check_programme(const Programme& programme, const Squad& squad,
                                            const Knowledge& knowledge) {
  std::vector<SquadViolation> out;
  check_members(programme, knowledge, out);
  check_days_have_mornings(programme, out);
  MorningChecker checker(programme, squad, knowledge, out);
  for (const Morning& morning : programme.mornings) {
    if (morning.date >= programme.as_of) checker.run(morning);  // what is over stays as it was
  }
  return out;
}

}  // namespace backplan
