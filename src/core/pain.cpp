// What pain takes off: design of the rules in docs/journal.md, "Pain".
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "backplan/journal.hpp"

namespace backplan {
namespace {

// Lower case, every run of other characters one blank, blanks around: " lower back ". ASCII only.
std::string words_of(const std::string& text) {
  std::string words = " ";
  for (const char c : text) {
    const bool upper = c >= 'A' && c <= 'Z';
    const bool part =
        upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || (static_cast<unsigned char>(c) >= 0x80U);
    if (part) {
      words += upper ? static_cast<char>(c - 'A' + 'a') : c;
    } else if (words.back() != ' ') {
      words += ' ';
    }
  }
  if (words.back() != ' ') words += ' ';
  return words;
}

const PainRegion* region_of(const std::string& where, const PainRules& rules) {
  const std::string words = words_of(where);
  for (const PainRegion& region : rules.regions) {
    for (const std::string& word : region.words) {
      if (words.find(words_of(word)) != std::string::npos) return &region;
    }
  }
  return nullptr;
}

// The entries of one place since it was last at level 0.
struct Spell {
  const PainRegion* region = nullptr;
  std::string name;
  std::vector<std::pair<Date, const Pain*>> entries;
};

class Judge {
 public:
  Judge(const Spell& spell, const PainRules& rules) : spell_(spell), rules_(rules) {}

  std::optional<PainStop> stop(const std::vector<std::string>& all_work) {
    for (const auto& [date, pain] : spell_.entries) take(date, *pain);
    if (!since_) return std::nullopt;
    PainStop stop;
    stop.region = spell_.name;
    stop.since = *since_;
    stop.level = level_;
    stop.emergency = emergency_;
    stop.refers = emergency_ || lasting_ || level_ >= rules_.refer_from;
    const bool everything = spell_.region == nullptr || emergency_;
    stop.work = everything ? all_work : spell_.region->stops;
    stop.why = why_;
    return stop;
  }

 private:
  void take(Date date, const Pain& pain) {
    level_ = std::max(level_, pain.level);
    const PainRegion* region = spell_.region;
    if (region != nullptr && region->emergency) {
      emergency_ = true;
      found(date, fmt::format("{} pain", region->id));
    }
    const bool strong =
        pain.level >= rules_.refer_from || (region != nullptr && pain.level >= region->stops_from);
    if (strong) found(date, fmt::format("level {} of 10", pain.level));
    if (region == nullptr || !region->watched || pain.level < rules_.watch_from) return;
    days_.insert(date);
    const bool many = static_cast<int>(days_.size()) >= rules_.watch_entries;
    const bool for_long = *days_.rbegin() - *days_.begin() >= Days(rules_.watch_days - 1);
    if (pain.at_night) lasts(date, fmt::format("level {} at night", pain.level));
    if (pain.limp) lasts(date, fmt::format("level {} with a limp", pain.level));
    if (many)
      lasts(date, fmt::format("level {} or more on {} days", rules_.watch_from, rules_.watch_entries));
    if (for_long)
      lasts(date, fmt::format("level {} or more over {} days", rules_.watch_from, rules_.watch_days));
  }

  void lasts(Date date, std::string why) {
    lasting_ = true;
    found(date, std::move(why));
  }

  void found(Date date, std::string why) {
    if (since_) return;
    since_ = date;
    why_ = std::move(why);
  }

  const Spell& spell_;
  const PainRules& rules_;
  std::optional<Date> since_;
  std::string why_;
  std::set<Date> days_;  // with a level that counts as lasting
  int level_ = 0;
  bool lasting_ = false;
  bool emergency_ = false;
};

}  // namespace

std::vector<PainStop> pain_stops(const std::vector<Done>& entries, const PainRules& rules,
                                 const std::vector<std::string>& all_work, Date day) {
  std::map<std::string, Spell> spells;
  for (const Done& done : entries) {
    const auto* pain = std::get_if<Pain>(&done.what);
    if (pain == nullptr || done.date > day) continue;
    const PainRegion* region = region_of(pain->where, rules);
    const std::string key = region != nullptr ? region->id : words_of(pain->where);
    Spell& spell = spells[key];
    spell.region = region;
    spell.name = region != nullptr ? region->id : pain->where;
    if (pain->level == 0) {
      spell.entries.clear();
    } else {
      spell.entries.emplace_back(done.date, pain);
    }
  }
  std::vector<PainStop> stops;
  for (const auto& [key, spell] : spells) {
    if (auto stop = Judge(spell, rules).stop(all_work)) stops.push_back(*std::move(stop));
  }
  std::stable_sort(stops.begin(), stops.end(),
                   [](const PainStop& a, const PainStop& b) { return a.emergency && !b.emergency; });
  return stops;
}

}  // namespace backplan
