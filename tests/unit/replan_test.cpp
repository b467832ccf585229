// Planning again: what is over stays, what is near stays unless something surprises, the rest follows what
// was really done.
#include "backplan/replan.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "backplan/check.hpp"
#include "core/replan_days.hpp"
#include "io/plan_json.hpp"
#include "io/readers.hpp"
#include "store/files.hpp"
#include "support/standards.hpp"

namespace backplan {
namespace {

constexpr std::size_t kMostBytes = 1U << 20U;
const Date kBegin = test::day(2026, 12, 1);

struct Desk {
  Standard standard = test::shipped_standard("us-army-aft");
  Model model = io::read_model(io::embedded_data()).value();
  Rules rules = io::read_rules(io::embedded_data()).value();
  Candidate candidate = read();
  Plan plan = make_plan(candidate, knowledge(), kBegin);

  [[nodiscard]] Knowledge knowledge() const { return {standard, model, rules}; }

  // The plan's days up to `until`, done as planned, but for those in `missed`.
  [[nodiscard]] History followed(Date until, const std::vector<Date>& missed = {}) const {
    Standing standing;
    int number = 0;
    for (const PlannedWeek& week : plan.weeks) {
      for (const PlannedDay& day : week.days) {
        if (day.date >= until) continue;
        for (const Block& block : day.blocks) {
          Done done;
          done.id = "entry-" + std::to_string(100 + ++number);
          done.date = day.date;
          if (std::count(missed.begin(), missed.end(), day.date) > 0) {
            done.what = Missed{"duty"};
          } else {
            WorkDone work;
            work.work = block.work;
            work.minutes = block.minutes;
            done.what = work;
          }
          standing.entries.push_back(done);
        }
      }
    }
    return history_of(standing, plan);
  }

  [[nodiscard]] Replan again(const History& history, Date as_of) const {
    return replan(candidate, knowledge(), as_of, history);
  }

  void expect_sound(const Replan& found) const {
    for (const Violation& broken : check_plan(found.ahead, found.seen, standard, model, rules))
      ADD_FAILURE() << broken.rule << ": " << broken.what;
  }

 private:
  [[nodiscard]] Candidate read() const {
    const std::string path = std::string(BACKPLAN_SOURCE_DIR) + "/data/demo/rowan/candidate.json";
    return io::read_candidate(store::read_file(path, kMostBytes).value(), path, standard, model, kBegin)
        .value();
  }
};

const Desk& desk() {
  static const Desk one;
  return one;
}

const PlannedDay* day_of(const Plan& plan, Date date) {
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      if (day.date == date) return &day;
    }
  }
  return nullptr;
}

// The hash of the plan names the defaults and the rules.
TEST(DefaultsHash, ChangesWithTheModelAndWithTheRules) {
  Model model = desk().model;
  Rules rules = desk().rules;
  const std::string shipped = defaults_hash(model, rules);
  EXPECT_EQ(shipped.size(), 16U);
  rules.content_hash = "other";
  EXPECT_NE(defaults_hash(model, rules), shipped);
  rules = desk().rules;
  model.content_hash = "other";
  EXPECT_NE(defaults_hash(model, rules), shipped);
}

std::string text_of(const PlannedDay* day) {
  std::string text;
  if (day == nullptr) return text;
  for (const Block& block : day->blocks) text += block.work + " " + block.prescription + "\n";
  return text;
}

bool has_work(const Plan& plan, Date from, const std::string& work) {
  for (const PlannedWeek& week : plan.weeks) {
    for (const PlannedDay& day : week.days) {
      for (const Block& block : day.blocks) {
        if (day.date >= from && block.work == work) return true;
      }
    }
  }
  return false;
}

bool says(const std::vector<std::string>& reasons, const std::string& part) {
  return std::any_of(reasons.begin(), reasons.end(),
                     [&](const std::string& reason) { return reason.find(part) != std::string::npos; });
}

Done pain(Date date, const std::string& where, int level) {
  Done done;
  done.id = "entry-900";
  done.date = date;
  done.what = Pain{where, level, false, false};
  return done;
}

// On any day of the first three weeks, whoever did what was planned finds the next three days unchanged.
TEST(Replan, LeavesTheNextThreeDaysAsTheyWereWhenNothingSurprises) {
  for (int days = 1; days <= 21; days += 4) {
    const Date today = kBegin + Days(days);
    const Replan found = desk().again(desk().followed(today), today);
    EXPECT_TRUE(found.reasons.empty())
        << days << ": " << (found.reasons.empty() ? "" : found.reasons.front());
    for (int ahead = 0; ahead < 3; ++ahead) {
      EXPECT_EQ(text_of(day_of(found.plan, today + Days(ahead))),
                text_of(day_of(desk().plan, today + Days(ahead))))
          << days << " days in, " << ahead << " ahead";
    }
    desk().expect_sound(found);
  }
}

TEST(Replan, LeavesTheDaysThatAreOverAsTheyWere) {
  const Date today = kBegin + Days(24);
  const Replan found = desk().again(desk().followed(today), today);
  for (Date date = kBegin; date < today; date += Days(1))
    EXPECT_EQ(text_of(day_of(found.plan, date)), text_of(day_of(desk().plan, date)));
  EXPECT_EQ(found.plan.weeks.front().starts, kBegin);
  EXPECT_EQ(found.plan.weeks.front().index, desk().plan.weeks.front().index);
}

TEST(Replan, TwiceChangesNothing) {
  for (const auto& missed : {std::vector<Date>{}, {kBegin + Days(9), kBegin + Days(10), kBegin + Days(11)}}) {
    const Date today = kBegin + Days(13);
    History history = desk().followed(today, missed);
    history.basis = "the same files";
    const Replan once = desk().again(history, today);
    history.plan = once.plan;
    const Replan twice = desk().again(history, today);
    EXPECT_TRUE(twice.unchanged);
    EXPECT_EQ(io::write_plan(once.plan, desk().standard, "1"),
              io::write_plan(twice.plan, desk().standard, "1"));
  }
}

// A plan that is made under eight days before the test has no training; one that goes on has its taper.
TEST(Replan, KeepsTheTaperInTheLastWeek) {
  const Date test = desk().candidate.test_date;
  for (const int left : {7, 4, 2}) {
    const Date today = test - Days(left);
    const Replan found = desk().again(desk().followed(today), today);
    for (Date date = today; date < test; date += Days(1)) {
      EXPECT_EQ(text_of(day_of(found.plan, date)), text_of(day_of(desk().plan, date)))
          << left << " days before the test, " << (test - date).count();
    }
    desk().expect_sound(found);
  }
}

TEST(Replan, HasATaperWhereTheLastWeekIsPlannedAnew) {
  const Date test = desk().candidate.test_date;
  const Date today = test - Days(7);
  History history = desk().followed(today, {today - Days(7), today - Days(6), today - Days(5),
                                            today - Days(4), today - Days(3), today - Days(2)});
  const Replan found = desk().again(history, today);
  ASSERT_FALSE(found.reasons.empty());
  bool trains = false;
  for (Date date = today; date < test; date += Days(1))
    trains = trains || !text_of(day_of(found.plan, date)).empty();
  EXPECT_TRUE(trains);
  desk().expect_sound(found);
}

// Deload and taper are measured by the weeks that the new plan still has, as the checker sees them.
TEST(Replan, IsSoundOnEveryDayWithSomeDaysMissed) {
  PlanOptions quick;
  quick.prove = false;
  quick.ways_out = false;
  for (int days = 8; kBegin + Days(days) < desk().candidate.test_date; days += 6) {
    const Date today = kBegin + Days(days);
    std::vector<Date> missed;
    for (int i = 0; i < days; ++i) {
      if (i % 7 == 2 || i % 11 == 5) missed.push_back(kBegin + Days(i));
    }
    desk().expect_sound(
        replan(desk().candidate, desk().knowledge(), today, desk().followed(today, missed), quick));
  }
}

TEST(Replan, GivesNoDayBackThatWasLost) {
  const Date today = kBegin + Days(14);
  std::vector<Date> missed;
  for (int i = 6; i < 14; ++i) missed.push_back(kBegin + Days(i));
  const Replan found = desk().again(desk().followed(today, missed), today);
  EXPECT_TRUE(says(found.reasons, "not made up"));
  desk().expect_sound(found);
  EXPECT_LE(found.plan.outlook.total.mean, desk().plan.outlook.total.mean);
}

TEST(Replan, TakesWorkOffAtOnceWherePainSaysSo) {
  const Date today = kBegin + Days(7);
  History history = desk().followed(today);
  history.entries.push_back(pain(today, "lower back", 5));
  const Replan found = desk().again(history, today);
  ASSERT_FALSE(found.stops.empty());
  EXPECT_TRUE(says(found.reasons, "pain"));
  EXPECT_FALSE(has_work(found.ahead, today, "deadlift"));
  EXPECT_FALSE(has_work(found.ahead, today, "shuttle"));
  desk().expect_sound(found);
}

int minutes_in(const Plan& plan, Date from, int days) {
  int sum = 0;
  for (int i = 0; i < days; ++i) {
    const PlannedDay* day = day_of(plan, from + Days(i));
    sum += day != nullptr ? day->session_minutes : 0;
  }
  return sum;
}

// data/model/rules.json, ramp: after two lost weeks half of the slots, after three 60, 80 and 100 %. The
// slots are 285.
TEST(Replan, ComesBackFromLostWeeksByARamp) {
  const Date monday = kBegin + Days(6);
  for (const int weeks : {2, 3}) {
    const Date today = monday + Days(7 * weeks);
    std::vector<Date> missed;
    for (Date date = monday - Days(1); date < today; date += Days(1)) missed.push_back(date);
    const Replan found = desk().again(desk().followed(today, missed), today);
    desk().expect_sound(found);
    const double share = weeks == 2 ? 0.5 : 0.6;
    EXPECT_LE(minutes_in(found.ahead, today, 7), share * 285);
    EXPECT_GT(minutes_in(found.ahead, today, 7), 0);
    EXPECT_GT(minutes_in(found.ahead, today + Days(7), 7), share * 285) << "and more a week later";
    EXPECT_TRUE(std::any_of(found.changes.begin(), found.changes.end(), [](const SessionChange& change) {
      return change.cause == ChangeCause::gap && change.why.find("without training") != std::string::npos;
    }));
  }
}

// A spell of four weeks that ended the day before the plan still asks for a ramp.
TEST(Replan, AFirstPlanKnowsOfASpellThatIsJustOver) {
  Candidate back = desk().candidate;
  back.blocked = {{kBegin - Days(28), kBegin - Days(1), BlockedKind::rest, "leave"}};
  const Plan plan = make_plan(back, desk().knowledge(), kBegin);
  EXPECT_TRUE(check_plan(plan, back, desk().standard, desk().model, desk().rules).empty());
  back.blocked = {{kBegin - Days(20), kBegin - Days(8), BlockedKind::light, "course"},
                  {kBegin - Days(7), kBegin + Days(3), BlockedKind::rest, "leave"}};
  const Plan touching = make_plan(back, desk().knowledge(), kBegin);
  EXPECT_TRUE(check_plan(touching, back, desk().standard, desk().model, desk().rules).empty());
}

TEST(Replan, FollowsATestThatHasMoved) {
  for (const int shift : {-14, 21}) {
    const Date today = kBegin + Days(10);
    Candidate moved = desk().candidate;
    moved.test_date += Days(shift);
    const Replan found = replan(moved, desk().knowledge(), today, desk().followed(today));
    EXPECT_TRUE(says(found.reasons, "the test has moved"));
    EXPECT_EQ(found.plan.test_date, moved.test_date);
    EXPECT_EQ(text_of(day_of(found.plan, kBegin)), text_of(day_of(desk().plan, kBegin)));
    for (std::size_t w = 1; w < found.plan.weeks.size(); ++w)
      EXPECT_EQ(found.plan.weeks[w].index, found.plan.weeks[w - 1].index - 1);
    desk().expect_sound(found);
  }
}

// Three hard days in the first half of a week leave none for the second.
TEST(Replan, CountsWhatTheWeekHasHadAlready) {
  const Date monday = kBegin + Days(6);
  const Date today = monday + Days(4);
  History history = desk().followed(monday);
  int number = 700;
  for (const int day : {0, 1, 3}) {
    Done done;
    done.id = "entry-" + std::to_string(++number);
    done.date = monday + Days(day);
    WorkDone work;
    work.work = day == 0 ? "deadlift" : "intervals";
    work.minutes = 35;
    work.hard = true;
    done.what = work;
    history.entries.push_back(done);
  }
  const Replan found = desk().again(history, today);
  for (Date date = today; date < monday + Days(7); date += Days(1)) {
    const PlannedDay* day = day_of(found.ahead, date);
    if (day == nullptr) continue;
    for (const Block& block : day->blocks) {
      EXPECT_FALSE(desk().model.find_work(block.work)->hard || block.rehearsal)
          << block.work << " after three hard days";
    }
  }
}

TEST(Replan, SaysWhatChangesOnWhichDayAndWhy) {
  const Date today = kBegin + Days(7);
  History history = desk().followed(today);
  history.entries.push_back(pain(today, "shin", 6));
  const Replan found = desk().again(history, today);
  ASSERT_FALSE(found.changes.empty());
  for (const SessionChange& change : found.changes) {
    EXPECT_GE(change.date, today);
    EXPECT_FALSE(change.why.empty());
    EXPECT_NE(text_of(day_of(desk().plan, change.date)), text_of(day_of(found.plan, change.date)));
  }
}

const SessionChange* change_on(const Replan& found, Date date) {
  const auto at = std::find_if(found.changes.begin(), found.changes.end(),
                               [&](const SessionChange& change) { return change.date == date; });
  return at == found.changes.end() ? nullptr : &*at;
}

bool had(const Plan& plan, Date date, const std::string& work) {
  const PlannedDay* day = day_of(plan, date);
  return day != nullptr && std::any_of(day->blocks.begin(), day->blocks.end(),
                                       [&](const Block& block) { return block.work == work; });
}

// A day that loses deadlifts says so; one of a week that loses none does not.
TEST(Replan, GivesEachChangedSessionTheReasonThatHoldsForIt) {
  const Date today = kBegin + Days(7);
  History history = desk().followed(today);
  history.entries.push_back(pain(today, "lower back", 5));
  const Replan found = desk().again(history, today);
  int lost = 0;
  int others = 0;
  for (const SessionChange& change : found.changes) {
    if (had(desk().plan, change.date, "deadlift")) {
      EXPECT_EQ(change.cause, ChangeCause::pain);
      EXPECT_NE(change.why.find("deadlift day off: pain (back)"), std::string::npos) << change.why;
      ++lost;
    } else {
      others += change.cause == ChangeCause::figures ? 1 : 0;
    }
  }
  EXPECT_GT(lost, 3);
  EXPECT_GT(others, 3);
}

// Nothing in the journal surprises; the profile and the calendar do.
TEST(Replan, AProfileOrABlockedDayTomorrowLeavesNoDayAsItWas) {
  const Date today = kBegin + Days(6);
  Candidate profile = desk().candidate;
  profile.medical.status = MedicalStatus::profile;
  profile.medical.permitted = {"trunk", "push_up"};
  profile.medical.until = today + Days(10);
  const Replan off = replan(profile, desk().knowledge(), today, desk().followed(today));
  EXPECT_TRUE(says(off.reasons, "not among what the profile permits"));
  for (Date date = today; date <= *profile.medical.until; date += Days(1))
    EXPECT_FALSE(had(off.ahead, date, "deadlift") || had(off.ahead, date, "intervals"));
  desk().expect_sound(off);
  Candidate busy = desk().candidate;
  busy.blocked.push_back({today + Days(1), today + Days(1), BlockedKind::light, "range"});
  const Replan blocked = replan(busy, desk().knowledge(), today, desk().followed(today));
  EXPECT_TRUE(says(blocked.reasons, "no longer fit"));
  desk().expect_sound(blocked);
}

TEST(Replan, ABlockedDayIsTheReasonForItsOwnChangeOnly) {
  const Date today = kBegin + Days(7);
  Candidate busy = desk().candidate;
  const Date blocked = kBegin + Days(23);  // Thu 24 Dec
  busy.blocked.push_back({blocked, blocked, BlockedKind::light, "range"});
  const Replan found = replan(busy, desk().knowledge(), today, desk().followed(today));
  const SessionChange* change = change_on(found, blocked);
  ASSERT_NE(change, nullptr);
  EXPECT_EQ(change->cause, ChangeCause::calendar);
  EXPECT_EQ(change->why, "the day is blocked: range");
  for (const SessionChange& other : found.changes) {
    EXPECT_EQ(other.cause == ChangeCause::calendar, other.date == blocked);
  }
}

TEST(Replan, NamesAStallOfThreeWeeks) {
  const Date today = kBegin + Days(24);
  History history = desk().followed(today);
  for (const int day : {5, 13, 21}) {
    Done done;
    done.id = "entry-8" + std::to_string(10 + day);
    done.date = kBegin + Days(day);
    ResultDone result;
    result.event = "HRP";
    result.value.value = 24;
    result.setting = Setting::practice;
    done.what = result;
    history.entries.push_back(done);
  }
  const Replan found = desk().again(history, today);
  ASSERT_EQ(found.stalls.size(), 1U);
  EXPECT_EQ(found.stalls.front().event, "HRP");
  EXPECT_EQ(found.stalls.front().readings, 3);
}

TEST(FiguresWords, NameTheOldAndTheNewAndLeaveOutWhatNobodyDoes) {
  PlannedDay before;
  before.blocks.resize(1);
  before.blocks[0].work = "deadlift";
  before.blocks[0].prescription =
      "5×5 at 190 lb (45+10+10 a side), 71 % of 1RM = 78 % of 3RM, two left; rest 2.5 min";
  PlannedDay after = before;
  after.blocks[0].prescription =
      "5×5 at 190 lb (45+10+10 a side), 70 % of 1RM = 77 % of 3RM, two left; rest 2.5 min";
  EXPECT_TRUE(same_session(&before, &after)) << "only a share of the level has changed";
  EXPECT_EQ(figures_words(&before, &after), "");
  after.blocks[0].prescription =
      "5×5 at 200 lb (45+25 a side), 73 % of 1RM = 80 % of 3RM, two left; rest 2.5 min";
  EXPECT_FALSE(same_session(&before, &after));
  EXPECT_EQ(figures_words(&before, &after), "5×5 at 200 lb, was 5×5 at 190 lb");
}

TEST(LostWords, ClaimThatTheWeeksGrowFromWhatWasDoneOnlyOfDaysThatWereMissed) {
  EXPECT_EQ(lost_words({0, 4}, 0.85),
            "4 planned days of the last seven are not logged and count as 85 % done");
  EXPECT_EQ(
      lost_words({1, 0}, 0.85),
      "1 planned day of the last seven was missed and is not made up: the weeks grow from what was done");
  EXPECT_EQ(lost_words({2, 1}, 0.85),
            "2 planned days of the last seven were missed and are not made up: the weeks grow from what was "
            "done; 1 planned day of the last seven is not logged and counts as 85 % done");
}

TEST(DateWords, ReadAsOnTheScreens) {
  EXPECT_EQ(date_words(test::day(2026, 12, 4)), "Fri 4 Dec");
  EXPECT_EQ(date_words_with_year(test::day(2027, 3, 8)), "Mon 8 Mar 2027");
}

}  // namespace
}  // namespace backplan
