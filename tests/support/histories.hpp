// Histories for tests, an entry a line.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "backplan/history.hpp"
#include "support/journal_entries.hpp"

namespace backplan::support {

// Adds entries with ids in the order of adding.
class HistoryMaker {
 public:
  explicit HistoryMaker(Date begins) { history_.begins = begins; }

  HistoryMaker& add(Date date, Deed deed) {
    Done one;
    one.id = id_number(++number_);
    one.date = date;
    one.what = std::move(deed);
    history_.entries.push_back(std::move(one));
    return *this;
  }
  HistoryMaker& work(Date date, const std::string& kind, std::optional<int> minutes = std::nullopt) {
    WorkDone deed;
    deed.work = kind;
    deed.minutes = minutes;
    return add(date, deed);
  }
  // Every week `times` full sessions, on every second day.
  HistoryMaker& weeks(Date from, int count, const std::string& kind, int times) {
    for (int week = 0; week < count; ++week) {
      for (int i = 0; i < times; ++i) work(from + Days(7 * week + 2 * i), kind);
    }
    return *this;
  }
  HistoryMaker& result(Date date, const std::string& event, double value, Setting setting = Setting::record) {
    return add(date, ResultDone{event, {value, "typed"}, setting, false});
  }
  // A set with repetitions in reserve; none: a lower bound.
  HistoryMaker& lift(Date date, double pounds, int repetitions, std::optional<double> in_reserve,
                     std::optional<int> minutes = std::nullopt) {
    WorkDone deed;
    deed.work = "deadlift";
    deed.minutes = minutes;
    deed.sets = {{repetitions, Typed<Pounds>{Pounds(pounds), "typed"}, in_reserve}};
    return add(date, deed);
  }
  HistoryMaker& run(Date date, double miles, double seconds, bool hard) {
    WorkDone deed;
    deed.work = "intervals";
    deed.distance = Typed<Metres>{Metres(miles * kMetresPerMile), "typed"};
    deed.time = Typed<Seconds>{Seconds(seconds), "typed"};
    deed.hard = hard;
    deed.effort = 7;
    return add(date, deed);
  }

  [[nodiscard]] const History& made() const { return history_; }
  [[nodiscard]] History& made() { return history_; }

 private:
  History history_;
  int number_ = 0;
};

}  // namespace backplan::support
