#include "core/history_evidence.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <variant>

namespace backplan {
namespace {

bool before(const Evidence& a, const Evidence& b) {
  return std::tie(a.date, a.v, a.sd, a.lower_bound, a.id) < std::tie(b.date, b.v, b.sd, b.lower_bound, b.id);
}

struct Reading {
  Evidence evidence;
  bool is_result = false;
};

// Whether `a` says more of its day than `b`: a result before a set, no bound before a bound, then the surer.
bool says_more(const Reading& a, const Reading& b) {
  if (a.is_result != b.is_result) return a.is_result;
  if (a.evidence.lower_bound != b.evidence.lower_bound) return b.evidence.lower_bound;
  if (!a.evidence.lower_bound && a.evidence.sd != b.evidence.sd) return a.evidence.sd < b.evidence.sd;
  if (a.evidence.v != b.evidence.v) return a.evidence.v > b.evidence.v;
  return a.evidence.id < b.evidence.id;
}

bool is_stronger(const Evidence& a, const Evidence& b) {
  if (a.v != b.v) return a.v > b.v;
  return a.sd != b.sd ? a.sd < b.sd : before(a, b);
}

std::vector<Reading> read_entries(const std::vector<Done>& entries, const Event& event,
                                  const Standard& standard, const Model& model, double level) {
  std::vector<Reading> out;
  for (const Done& done : entries) {
    Reading reading;
    if (std::holds_alternative<ResultDone>(done.what)) {
      const DatedResult result = results_in({done}).front();
      if (result.event != event.id) continue;
      reading = {read_result(result, event, *model.find_event(event.model_event), level), true};
    } else {
      const auto found = evidence_of(done, standard, model);
      if (!found || found->event != event.id) continue;
      reading.evidence = *found;
    }
    reading.evidence.id = done.id;
    out.push_back(reading);
  }
  return out;
}

std::vector<Evidence> best_of_each_day(const std::vector<Reading>& readings) {
  std::map<Date, Reading> best;
  for (const Reading& reading : readings) {
    const auto [at, is_new] = best.emplace(reading.evidence.date, reading);
    if (!is_new && says_more(reading, at->second)) at->second = reading;
  }
  std::vector<Evidence> out;
  for (const auto& [date, reading] : best) out.push_back(reading.evidence);
  return out;
}

std::vector<Evidence> strongest_bound_of_each_week(const std::vector<Evidence>& readings) {
  std::vector<Evidence> out;
  std::map<Date, Evidence> bounds;  // by the week's Monday
  for (const Evidence& one : readings) {
    if (!one.lower_bound) {
      out.push_back(one);
      continue;
    }
    const auto [at, is_new] = bounds.emplace(one.date - Days(weekday_index(one.date)), one);
    if (!is_new && is_stronger(one, at->second)) at->second = one;
  }
  for (const auto& [monday, one] : bounds) out.push_back(one);
  return out;
}

}  // namespace

std::vector<Evidence> readings_of(const std::vector<DatedResult>& results, const std::vector<Done>& entries,
                                  const Event& event, const Standard& standard, const Model& model,
                                  Date as_of) {
  const EventModel& event_model = *model.find_event(event.model_event);
  double level = 0.0;
  for (const auto& list : {results, results_in(entries)}) {
    for (const DatedResult& result : list) {
      if (result.event == event.id) level = std::max(level, result.value);
    }
  }
  std::vector<Evidence> out;
  for (const DatedResult& result : results) {
    if (result.event != event.id) continue;
    out.push_back(read_result(result, event, event_model, level));
    out.back().date = result.date;
  }
  const std::vector<Evidence> of_file = out;
  const auto again = [&](const Evidence& one) {
    return std::any_of(of_file.begin(), of_file.end(), [&](const Evidence& known) {
      return known.date == one.date && known.v == one.v && known.sd == one.sd;
    });
  };
  std::vector<Reading> read = read_entries(entries, event, standard, model, level);
  read.erase(std::remove_if(read.begin(), read.end(),
                            [as_of](const Reading& one) { return one.evidence.date > as_of; }),
             read.end());
  const auto of_days = best_of_each_day(read);
  for (const Evidence& one : strongest_bound_of_each_week(of_days)) {
    if (!again(one)) out.push_back(one);
  }
  std::sort(out.begin(), out.end(), before);
  return out;
}

}  // namespace backplan
