#include "bench/two_years.hpp"

#include "bench/subjects.hpp"
#include "support/histories.hpp"

namespace backplan::bench {
namespace {

WorkDone all_out(const std::string& kind, double seconds) {
  WorkDone work;
  work.work = kind;
  work.hard = true;
  work.time = Typed<Seconds>{Seconds(seconds), "typed"};
  return work;
}

WorkDone push_ups(int repetitions) {
  WorkDone work;
  work.work = "push_up";
  work.sets = {{repetitions, std::nullopt, std::nullopt}};
  return work;
}

}  // namespace

// Every day says something: sets with and without a reserve, runs of two distances, holds, shuttles.
const History& two_years() {
  static const History kHistory = [] {
    const Date begins = demo_day() - Days(kTwoYears);
    support::HistoryMaker maker(begins);
    for (int i = 0; i < kTwoYears; ++i) {
      const Date day = begins + Days(i);
      const double gain = static_cast<double>(i) / kTwoYears;
      if (i % 7 == 0) maker.lift(day, 150.0 + 20.0 * gain, 5, 2.0);
      if (i % 7 == 1) maker.add(day, push_ups(18 + static_cast<int>(8.0 * gain)));
      if (i % 7 == 2) maker.run(day, 2.0, 1150.0 - 60.0 * gain, true);
      if (i % 7 == 3) maker.lift(day, 150.0 + 20.0 * gain, 4, std::nullopt);
      if (i % 7 == 4) maker.add(day, all_out("trunk", 90.0 + 30.0 * gain));
      if (i % 7 == 5) maker.run(day, 3.0, 1850.0 - 100.0 * gain, false);
      if (i % 7 == 6) maker.add(day, all_out("shuttle", 150.0 - 10.0 * gain));
    }
    return maker.made();
  }();
  return kHistory;
}

}  // namespace backplan::bench
