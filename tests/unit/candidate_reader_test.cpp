#include <gtest/gtest.h>

#include <cstdint>

#include "io/candidate_json.hpp"
#include "io/readers.hpp"
#include "io/value_text.hpp"
#include "support/candidate_text.hpp"
#include "support/small_standard.hpp"
#include "support/standards.hpp"

namespace backplan::io {
namespace {

using support::full_with;
using support::kFullCandidate;
using support::with;

Date date(const char* text) { return read_date(text).value.value(); }

Result<Candidate> read(std::string_view text, const char* as_of = "2026-11-25") {
  static const Standard standard = support::small_standard();
  static const Model model = support::small_model();
  return read_candidate(text, "c.json", standard, model, date(as_of));
}

// All faults as they are printed, parted by line breaks; "" when the text is accepted.
std::string faults(std::string_view text, const char* as_of = "2026-11-25") {
  const auto result = read(text, as_of);
  if (result.ok()) return {};
  std::string all;
  for (const Diagnostic& fault : result.faults()) all += (all.empty() ? "" : "\n") + to_string(fault);
  return all;
}

std::string born(const char* birth) { return full_with("1998-04-17", birth); }

TEST(CandidateReader, ReadsBackWhatIsWritten) {
  const Candidate given = read(kFullCandidate).value();
  const Candidate back = read(write_candidate(given)).value();
  EXPECT_EQ(write_candidate(back), write_candidate(given));
  EXPECT_EQ(back.diagnostics, given.diagnostics);
  EXPECT_EQ(back.target, given.target);
  EXPECT_EQ(back.now.hard_sessions, given.now.hard_sessions);
  EXPECT_EQ(back.now.minutes, given.now.minutes);
  EXPECT_NEAR(back.now.longest_run->value(), given.now.longest_run->value(), 0.5);
}

TEST(CandidateReader, ReadsEveryKey) {
  ASSERT_EQ(faults(kFullCandidate), "");
  const Candidate c = read(kFullCandidate).value();
  EXPECT_EQ(c.id, "A-07");
  EXPECT_EQ(c.birth_date, date("1998-04-17"));
  EXPECT_EQ(c.column, "female");
  EXPECT_EQ(c.standard, "small-test");
  EXPECT_EQ(c.category, "general");
  EXPECT_EQ(c.test_date, date("2027-03-08"));
  EXPECT_EQ(c.diagnostics, std::vector<Date>{date("2027-02-01")});
  EXPECT_EQ(c.target.total, Points::whole(240));
  EXPECT_EQ(c.target.each, Points::whole(60));
  EXPECT_EQ(c.target.events.at("2MR"), Points::whole(70));
  EXPECT_EQ(c.target.confidence, 0.8);
  EXPECT_EQ(c.now.hard_sessions, 2);
  EXPECT_EQ(c.now.minutes, 120);
  EXPECT_EQ(c.now.longest_run, Metres(2.5 * 1609.344));
  ASSERT_EQ(c.results.size(), 1U);
  EXPECT_EQ(c.results[0].value, 170.0);
  EXPECT_EQ(c.results[0].as_typed, "170 lb");
  EXPECT_EQ(c.week, (std::array<int, 7>{60, 60, 0, 60, 60, 45, 0}));
  EXPECT_EQ(c.home_blocks, 2);
  EXPECT_EQ(c.days.at(0).minutes, 90);
  EXPECT_EQ(c.fixed.at(0).weekday, 2);
  EXPECT_EQ(c.fixed.at(0).work, "march");
  EXPECT_EQ(c.blocked.at(0).kind, BlockedKind::field);
  EXPECT_EQ(c.equipment.plates_lb, (std::vector<double>{45, 45, 25, 25}));
  EXPECT_EQ(c.avoid.at(0).until, date("2026-12-20"));
  EXPECT_EQ(c.medical.status, MedicalStatus::none);
  EXPECT_TRUE(c.defaulted.empty());
}

// The least that a file must have.
constexpr std::string_view kLeast =
    R"({ "format": "backplan-candidate/1", "id": "B", "birth_date": "1998-04-17",
  "column": "male", "standard": "small-test", "test_date": "2027-03-08", "target": { "total": 200 },
  "week": { "mon": 60, "wed": 60 }, "results": [ { "date": "2026-11-20", "event": "HRP", "value": 41 } ] })";

TEST(CandidateReader, NamesEveryDefaultThatItTook) {
  ASSERT_EQ(faults(kLeast), "");
  const Candidate c = read(kLeast).value();
  const std::vector<std::string> expected = {
      "category not given: taken as general",
      "background not given: taken as regular",
      "aim not given: taken as target",
      "home_blocks not given: taken as 0",
      "target.confidence not given: taken as 0.8",
      "target.pass_confidence not given: taken as 0.95",
      "setting of 1 result not given: taken as practice",
      "no result is marked as a first attempt: none is taken as one",
      "minutes of tue, thu, fri, sat, sun not given: taken as 0",
      std::string(
          "equipment not given: taken as a 60 lb hex bar with plates of 45, 45, 45, 45, 35, 35, 25, ") +
          "25, 10, 10, 10, 10, 5, 5 lb, sled, kettlebells, pull-up bar and track, no throwing ball",
      "medical not given: taken as none"};
  EXPECT_EQ(c.defaulted, expected);
  EXPECT_EQ(c.category, "general");
  EXPECT_EQ(c.equipment.plates_lb.size(), 14U);
  EXPECT_FALSE(c.now.minutes.has_value());
  EXPECT_FALSE(c.now.longest_run.has_value());
  EXPECT_EQ(c.results[0].as_typed, "41");
}

TEST(CandidateReader, AsksForEveryKeyThatMustBeThere) {
  const auto result = read("{}");
  ASSERT_FALSE(result.ok());
  std::string missing;
  for (const Diagnostic& fault : result.faults()) {
    EXPECT_EQ(fault.line, 1);
    missing += fault.message + "; ";
  }
  EXPECT_EQ(
      missing,
      "the key \"format\" is missing; the key \"id\" is missing; the key \"column\" is missing; the key "
      "\"standard\" is missing; the key \"test_date\" is missing; the key \"birth_date\" is missing; the key "
      "\"target\" is missing; the key \"results\" is missing; the key \"week\" is missing; ");
}

TEST(CandidateReader, FindsAllFaultsAtOnceInTheOrderOfTheFile) {
  std::string text = full_with("\"column\": \"female\"", "\"colum\": \"female\"");
  text = with(text, "170 lb", "900 lb");
  text = with(text, "\"regular\"", "\"regulr\"");
  text = with(text, "\"thu\": 60", "\"thu\": 600");
  text = with(text, "2027-02-01", "2027-02-30");
  EXPECT_EQ(
      faults(text),
      "c.json:1:1: error: the key \"column\" is missing\nhint: add it\n"
      "c.json:5:3: error: unknown key \"colum\" (at /colum)\nhint: did you mean \"column\"?\n"
      "c.json:9:20: error: 2027-02-30 is no day of the calendar (at /diagnostics/0)\n"
      "hint: write year-month-day, such as 2027-03-08\n"
      "c.json:12:17: error: expected one of new, regular, long; found \"regulr\" (at /background)\n"
      "hint: did you mean \"regular\"?\n"
      "c.json:14:65: error: \"900 lb\" is no possible result of MDL; expected 80 lb to 600 lb (at "
      "/results/0/value)\nhint: check the value and the event\n"
      "c.json:15:52: error: expected a whole number from 0 to 240, found the number 600 (at /week/thu)");
}

TEST(CandidateReader, RefusesATestInThePast) {
  EXPECT_EQ(
      faults(kFullCandidate, "2027-03-09"),
      "c.json:8:16: error: the test on Mon 8 Mar 2027 is in the past; today is taken as Tue 9 Mar 2027 (at "
      "/test_date)\nhint: correct the date of the test, or give --as-of an earlier day");
  EXPECT_EQ(faults(kFullCandidate, "2027-03-08"), "");  // a test today is a valid plan without training
  EXPECT_NE(faults(full_with("\"2027-03-08\"", "\"2072-03-08\"")).find("more than two years away"),
            std::string::npos);
}

TEST(CandidateReader, RefusesAgesThatTheTestDoesNotScore) {
  EXPECT_EQ(faults(born("2017-04-17")),
            "c.json:4:17: error: 9 years old on the day of the test; expected at least 17 (at /birth_date)\n"
            "hint: check the year of birth");
  EXPECT_NE(faults(born("2030-01-01")).find("the birth date 2030-01-01 is in the future"), std::string::npos);
  EXPECT_NE(faults(born("1926-01-01")).find("small-test does not score an age of 101"), std::string::npos);
}

TEST(CandidateReader, CountsAgeOnTheDayOfTheTest) {
  EXPECT_EQ(faults(born("2010-03-08")), "");  // 17 on the very day
  EXPECT_NE(faults(born("2010-03-09")).find("16 years old"), std::string::npos);
  EXPECT_EQ(faults(born("1927-03-09")), "");  // 99, the last day of the last band
  EXPECT_NE(faults(born("1927-03-08")).find("age of 100"), std::string::npos);
  // Born on 29 February: a year older on 1 March of a common year.
  const auto on = [](const char* test_day) { return with(born("2008-02-29"), "2027-03-08", test_day); };
  const auto young = [](const char* test_day) { return with(born("2009-02-28"), "2027-03-08", test_day); };
  EXPECT_EQ(faults(on("2027-02-28")), "");
  EXPECT_EQ(age_on(date("2008-02-29"), date("2027-02-28")), 18);
  EXPECT_EQ(age_on(date("2008-02-29"), date("2027-03-01")), 19);
  EXPECT_EQ(age_on(date("2008-02-29"), date("2028-02-28")), 19);
  EXPECT_EQ(age_on(date("2008-02-29"), date("2028-02-29")), 20);
  EXPECT_EQ(faults(young("2027-02-28")), "");
}

TEST(CandidateReader, RefusesWhatTheStandardDoesNotKnow) {
  EXPECT_EQ(faults(full_with("\"female\"", "\"femal\"")),
            "c.json:5:13: error: unknown column \"femal\"; expected one of female, male (at /column)\n"
            "hint: did you mean \"female\"?");
  EXPECT_EQ(
      faults(full_with("\"general\"", "\"combatt\"")),
      "c.json:7:15: error: unknown category \"combatt\"; expected one of general, combat (at /category)\n"
      "hint: did you mean \"combat\"?");
  EXPECT_EQ(
      faults(full_with("\"event\": \"MDL\"", "\"event\": \"MLD\"")),
      "c.json:14:49: error: unknown event \"MLD\"; expected one of MDL, HRP, 2MR (at /results/0/event)\n"
      "hint: did you mean \"MDL\"?");
  EXPECT_NE(faults(full_with("\"small-test\"", "\"other-test\"")).find("unknown standard \"other-test\""),
            std::string::npos);
  EXPECT_NE(faults(full_with("backplan-candidate/1", "backplan-candidate/2"))
                .find("expected one of backplan-candidate/1"),
            std::string::npos);
}

TEST(CandidateReader, RefusesATestWithoutAScaleForThePerson) {
  Standard standard = support::small_standard();
  standard.scales.erase(ScaleKey{"2MR", "female", {27, 99}});
  const auto result =
      read_candidate(kFullCandidate, "c.json", standard, support::small_model(), date("2026-11-25"));
  ASSERT_FALSE(result.ok());
  EXPECT_EQ(result.faults()[0].message,
            "small-test has no scale of 2MR for column female at age 28, category general");
}

TEST(CandidateReader, RefusesImpossibleAndUnclearResults) {
  const auto result_of = [](const char* event, const std::string& value) {
    return faults(with(full_with("\"event\": \"MDL\"", std::string("\"event\": \"") + event + "\""),
                       "\"170 lb\"", value));
  };
  EXPECT_EQ(result_of("2MR", "\"2:00\""),
            "c.json:14:65: error: \"2:00\" is no possible result of 2MR; expected 9:00 to 45:00 (at "
            "/results/0/value)\n"
            "hint: check the value and the event");
  EXPECT_EQ(result_of("2MR", "15.32"),
            "c.json:14:65: error: \"15.32\" may be minutes or seconds (at /results/0/value)\n"
            "hint: did you mean \"15:32\"? then write it so");
  EXPECT_NE(result_of("MDL", "77").find("did you mean \"77 kg\" (169.76 lb)?"), std::string::npos);
  EXPECT_NE(result_of("MDL", "true").find("expected text in quotes, found true"), std::string::npos);
  EXPECT_NE(result_of("MDL", "null").find("expected text in quotes, found null"), std::string::npos);
  EXPECT_NE(result_of("MDL", "\"170 stone\"").find("the unit \"stone\" does not fit MDL"), std::string::npos);
  EXPECT_NE(
      result_of("MDL", "\"" + std::string(1000, '1') + "\"").find("expected 1 to 40 characters, found 1000"),
      std::string::npos);
  EXPECT_EQ(result_of("MDL", "\"77 kg\""), "");
  EXPECT_EQ(result_of("HRP", "41"), "");
}

TEST(CandidateReader, RefusesResultsOfTheFuture) {
  EXPECT_EQ(faults(full_with("2026-11-20", "2026-11-26")),
            "c.json:14:26: error: a result of Thu 26 Nov 2026 lies in the future; today is taken as Wed 25 "
            "Nov 2026 (at "
            "/results/0/date)\nhint: correct the date, or give --as-of a later day");
  EXPECT_EQ(faults(full_with("2026-11-20", "2026-11-25")), "");
  EXPECT_NE(faults(full_with("2026-11-20", "1997-11-20")).find("is not after the birth date"),
            std::string::npos);
}

TEST(CandidateReader, WantsAtLeastOneAndAtMostFiveHundredResults) {
  const std::string entry = "{ \"date\": \"2026-11-20\", \"event\": \"MDL\", \"value\": \"170 lb\" }";
  const std::string whole =
      "{ \"date\": \"2026-11-20\", \"event\": \"MDL\", \"value\": \"170 lb\", \"setting\": \"practice\", "
      "\"first\": false }";
  const auto times = [&](int count) {
    std::string list;
    for (int i = 0; i < count; ++i) list += (i == 0 ? "" : ",") + entry;
    return full_with(whole, list);
  };
  EXPECT_NE(faults(times(0)).find("no result is given"), std::string::npos);
  EXPECT_EQ(faults(times(500)), "");
  EXPECT_NE(faults(times(501)).find("501 entries; expected at most 500 (at /results)"), std::string::npos);
}

TEST(CandidateReader, PutsResultsIntoOneOrderWhateverTheFileHas) {
  const std::string a = R"({ "date": "2026-11-20", "event": "MDL", "value": "170 lb" })";
  const std::string b = R"({ "date": "2026-11-20", "event": "HRP", "value": "30" })";
  const std::string c = R"({ "date": "2026-10-01", "event": "MDL", "value": "160 lb" })";
  const auto order = [&](const std::string& list) {
    const auto text =
        with(std::string(kLeast), R"({ "date": "2026-11-20", "event": "HRP", "value": 41 })", list);
    std::string words;
    const Candidate candidate = read(text).value();
    for (const auto& r : candidate.results) words += write_date(r.date) + r.event + " ";
    return words;
  };
  const std::string expected = "2026-10-01MDL 2026-11-20HRP 2026-11-20MDL ";
  EXPECT_EQ(order(a + "," + b + "," + c), expected);
  EXPECT_EQ(order(c + "," + a + "," + b), expected);
  EXPECT_EQ(order(b + "," + c + "," + a), expected);
}

TEST(CandidateReader, RefusesTargetsThatTheScalesCannotGive) {
  EXPECT_EQ(
      faults(full_with("\"total\": 240", "\"total\": 301")),
      "c.json:10:24: error: a total of 301 is over 300, the most that the 3 events of small-test give (at "
      "/target/total)\nhint: ask for 300 or less");
  EXPECT_EQ(faults(full_with("\"total\": 240", "\"total\": 300")), "");
  EXPECT_NE(faults(full_with("\"2MR\": 70", "\"2MR\": 101"))
                .find("101 points are over 100, the most that 2MR gives (at /target/events/2MR)"),
            std::string::npos);
  EXPECT_NE(
      faults(full_with("\"each\": 60", "\"each\": 100.5")).find("100.5 points in each event are over 100"),
      std::string::npos);
  EXPECT_NE(faults(full_with("\"each\": 60", "\"each\": 60.25")).find("at most one decimal"),
            std::string::npos);
  EXPECT_EQ(faults(full_with("\"2MR\": 70", "\"2MX\": 70")),
            "c.json:10:60: error: small-test has no event \"2MX\"; expected one of MDL, HRP, 2MR (at "
            "/target/events/2MX)\nhint: did you mean \"2MR\"?");
}

TEST(CandidateReader, RefusesATargetThatNamesNothing) {
  for (const char* nothing : {"{}", "{ \"events\": {} }", "{ \"confidence\": 0.9 }"}) {
    EXPECT_EQ(faults(with(std::string(kLeast), "{ \"total\": 200 }", nothing)),
              "c.json:2:84: error: the target names nothing to reach (at /target)\n"
              "hint: give \"total\", \"each\" or \"events\"")
        << nothing;
  }
}

TEST(CandidateReader, KeepsConfidenceBetweenACoinTossAndCertainty) {
  const auto confidence = [](const char* value) {
    return faults(full_with("\"confidence\": 0.8", std::string("\"confidence\": ") + value));
  };
  EXPECT_EQ(
      confidence("80"),
      "c.json:10:80: error: expected a number above 0.5 and below 0.995, found 80 (at /target/confidence)\n"
      "hint: did you mean 0.8?");
  for (const char* bad : {"0.5", "0.995", "1", "0", "-1", "1e9", "\"0.8\""})
    EXPECT_NE(confidence(bad), "") << bad;
  for (const char* good : {"0.51", "0.99"}) EXPECT_EQ(confidence(good), "") << good;
}

TEST(CandidateReader, RefusesDatesOutOfOrder) {
  EXPECT_EQ(faults(full_with("\"to\": \"2027-01-17\"", "\"to\": \"2027-01-07\"")),
            "c.json:19:46: error: the last day, Thu 7 Jan 2027, is before the first, Mon 11 Jan 2027 (at "
            "/blocked/0/to)\nhint: exchange the two or correct one");
  EXPECT_EQ(faults(full_with("\"to\": \"2027-01-17\"", "\"to\": \"2027-01-11\"")), "");  // one day
  EXPECT_NE(
      faults(full_with("\"until\": \"2026-12-20\"", "\"until\": \"2026-11-20\"")).find("(at /avoid/0/until)"),
      std::string::npos);
  for (const char* late : {"2027-03-08", "2027-03-09"}) {
    EXPECT_NE(faults(full_with("2027-02-01", late)).find("is not before the test on Mon 8 Mar 2027"),
              std::string::npos);
  }
}

TEST(CandidateReader, StaysValidWhileTheDaysGoBy) {
  ASSERT_EQ(faults(kFullCandidate, "2027-02-20"), "");
  const Candidate c = read(kFullCandidate, "2027-02-20").value();
  EXPECT_TRUE(c.diagnostics.empty());
  EXPECT_EQ(c.defaulted,
            std::vector<std::string>{"the diagnostic test on Mon 1 Feb 2027 is over: not planned"});
}

TEST(CandidateReader, RefusesUnknownWorkWithASuggestion) {
  EXPECT_EQ(
      faults(full_with("\"work\": \"intervals\"", "\"work\": \"interval\"")),
      "c.json:22:24: error: unknown work \"interval\"; expected one of deadlift, push_up, intervals (at "
      "/avoid/0/work)\nhint: did you mean \"intervals\"?");
  EXPECT_EQ(
      faults(full_with("\"work\": \"march\"", "\"work\": \"marsh\"")),
      "c.json:18:38: error: unknown work \"marsh\"; expected one of deadlift, push_up, intervals, march (at "
      "/fixed/0/work)\nhint: did you mean \"march\"?");
  EXPECT_EQ(faults(full_with("\"work\": \"march\"", "\"work\": \"intervals\"")), "");
  EXPECT_NE(faults(full_with("\"work\": \"intervals\"", "\"work\": \"march\"")), "");  // cannot be avoided
}

TEST(CandidateReader, RefusesASecondEntryForADay) {
  EXPECT_NE(faults(full_with("\"distance\": \"6 mi\" }",
                             "\"distance\": \"6 mi\" }, { \"day\": \"wed\", \"work\": "
                             "\"push_up\", \"minutes\": 20 }"))
                .find("wed has fixed work already, in /fixed/0 (at /fixed/1/day)"),
            std::string::npos);
  EXPECT_NE(faults(full_with("\"after_night_shift\": false }",
                             "\"after_night_shift\": false }, { \"date\": \"2027-01-09\", \"minutes\": 30 }"))
                .find("Sat 9 Jan 2027 stands here a second time; the first is /days/0 (at /days/1/date)"),
            std::string::npos);
  EXPECT_NE(faults(full_with("\"mon\": 60", "\"mon\": 60, \"mon\": 30"))
                .find("the key \"mon\" stands here a second"),
            std::string::npos);
}

TEST(CandidateReader, RefusesMinutesAndCountsOutOfRange) {
  const auto bad = [](const char* from, const char* to) { return !faults(full_with(from, to)).empty(); };
  EXPECT_TRUE(bad("\"mon\": 60", "\"mon\": 241"));
  EXPECT_TRUE(bad("\"mon\": 60", "\"mon\": -1"));
  EXPECT_TRUE(bad("\"mon\": 60", "\"mon\": 60.5"));
  EXPECT_TRUE(bad("\"mon\": 60", "\"mon\": \"60\""));
  EXPECT_TRUE(bad("\"mon\": 60", "\"monday\": 60"));
  EXPECT_FALSE(bad("\"mon\": 60", "\"mon\": 240"));
  EXPECT_TRUE(bad("\"minutes\": 90", "\"minutes\": 241"));
  EXPECT_TRUE(bad("\"home_blocks\": 2", "\"home_blocks\": 8"));
  EXPECT_FALSE(bad("\"home_blocks\": 2", "\"home_blocks\": 7"));
  EXPECT_TRUE(bad("\"hard_sessions\": 2", "\"hard_sessions\": 15"));
  EXPECT_TRUE(bad("\"minutes\": 120, \"longest_run\"", "\"minutes\": 1681, \"longest_run\""));
  EXPECT_TRUE(bad("\"2.5 mi\"", "\"2.5\""));
  EXPECT_TRUE(bad("\"2.5 mi\"", "2.5"));
  EXPECT_TRUE(bad("\"bar_lb\": 60", "\"bar_lb\": 0"));
  EXPECT_TRUE(bad("[45, 45, 25, 25]", "[45, -45]"));
  EXPECT_FALSE(bad("[45, 45, 25, 25]", "[]"));
  EXPECT_TRUE(bad("\"minutes\": 90, \"after_night_shift\": false", "\"why\": \"x\""));
  EXPECT_TRUE(bad("\"field\"", "\"feild\""));
}

TEST(CandidateReader, BoundsTheListsOfDaysAndSpells) {
  const auto days = [](int count) {
    std::string list;
    for (int i = 0; i < count; ++i) {
      list += (i == 0 ? "" : ",") + std::string("{ \"date\": \"") + write_date(date("2026-12-01") + Days(i)) +
              "\", \"minutes\": 30 }";
    }
    return full_with(R"({ "date": "2027-01-09", "minutes": 90, "after_night_shift": false })", list);
  };
  EXPECT_EQ(faults(days(400)), "");
  EXPECT_NE(faults(days(401)).find("401 entries; expected at most 400 (at /days)"), std::string::npos);
  const auto blocked = [](int count) {
    const std::string entry =
        R"({ "from": "2027-01-11", "to": "2027-01-17", "kind": "field", "why": "field exercise" })";
    std::string list = entry;
    for (int i = 1; i < count; ++i) list += "," + entry;
    return full_with(entry, list);
  };
  EXPECT_EQ(faults(blocked(60)), "");
  EXPECT_NE(faults(blocked(61)).find("61 entries; expected at most 60 (at /blocked)"), std::string::npos);
}

TEST(CandidateReader, ReadsAMedicalProfile) {
  const auto medical = [](const char* value) { return full_with("{ \"status\": \"none\" }", value); };
  const std::string profile = medical(
      R"({ "status": "profile", "permitted": ["push_up"], "since": "2026-11-01", "until": "2026-12-31" })");
  ASSERT_EQ(faults(profile), "");
  EXPECT_EQ(read(profile).value().medical.permitted, std::set<std::string>{"push_up"});
  EXPECT_EQ(read(profile).value().medical.since, date("2026-11-01"));
  EXPECT_EQ(faults(medical(R"({ "status": "profile", "permitted": [] })")),
            "c.json:23:14: error: a profile needs its last day (at /medical)\n"
            "hint: add \"until\": the date on which the profile ends");
  const std::string bare = medical(R"({ "status": "profile", "until": "2026-12-31" })");
  ASSERT_EQ(faults(bare), "");
  EXPECT_EQ(read(bare).value().defaulted.back(),
            "medical.permitted not given: nothing is permitted by the profile");
  EXPECT_NE(faults(medical(R"({ "status": "profile", "permitted": ["pushup"], "until": "2026-12-31" })"))
                .find("did you mean \"push_up\"?"),
            std::string::npos);
  EXPECT_NE(faults(medical(R"({ "status": "profile", "since": "2027-01-01", "until": "2026-12-31" })"))
                .find("is before the first"),
            std::string::npos);
  EXPECT_EQ(faults(medical(R"({ "status": "none", "until": "2026-12-31" })")),
            "c.json:23:43: error: \"until\" goes with the status profile only (at /medical/until)\n"
            "hint: set the status to profile, or take \"until\" out");
  EXPECT_EQ(faults(medical(R"({ "status": "postpartum", "cleared_on": "2026-11-01" })")), "");
  EXPECT_EQ(faults(medical(R"({ "status": "pregnant" })")), "");
  EXPECT_NE(faults(medical("{}")).find("the key \"status\" is missing (at /medical)"), std::string::npos);
}

TEST(CandidateReader, WantsAShortPrintableId) {
  const auto id = [](const std::string& value) { return faults(full_with("\"A-07\"", "\"" + value + "\"")); };
  EXPECT_EQ(id(""),
            "c.json:3:9: error: expected 1 to 64 characters, found 0 (at /id)\nhint: write a short text in "
            "one line");
  EXPECT_EQ(id(std::string(64, 'x')), "");
  EXPECT_NE(id(std::string(65, 'x')).find("found 65"), std::string::npos);
  EXPECT_EQ(id("Zoë №7"), "");
  EXPECT_NE(id("a\\u0007").find("control character"), std::string::npos);
  EXPECT_NE(id("a\\u009b").find("control character"), std::string::npos);
}

TEST(CandidateReader, RefusesFilesThatAreNoCandidates) {
  EXPECT_EQ(faults(""), "c.json: error: the file is empty\nhint: put one JSON object into it");
  EXPECT_EQ(faults("[1, 2]"), "c.json:1:1: error: expected an object, found a list");
  EXPECT_EQ(faults("\"text\""), "c.json:1:1: error: expected an object, found the text \"text\"");
  EXPECT_NE(faults(std::string_view("\x50\x4B\x03\x04\x00\xFF", 6)), "");
  EXPECT_NE(faults(std::string(100U << 20U, 'x')).find("the file has 104857600 bytes"), std::string::npos);
  EXPECT_NE(faults(std::string(1'000'000, '[')).find("more than 32 levels"), std::string::npos);
  EXPECT_NE(faults(full_with("\"mon\": 60", "\"mon\": NaN")).find("NaN is no number"), std::string::npos);
  EXPECT_NE(faults(full_with("\"mon\": 60", "\"mon\": 1e999")).find("the number 1e999 is too large"),
            std::string::npos);
}

TEST(CandidateReader, RefusesEveryTruncationOfAFile) {
  for (std::size_t length = 0; length + 1 < kFullCandidate.size(); length += 7) {
    ASSERT_FALSE(read(kFullCandidate.substr(0, length)).ok()) << length;
  }
}

// A byte in a thousand places becomes another one: accepted or refused with words, never a crash.
TEST(CandidateReader, SurvivesAnyByteAnywhere) {
  std::uint64_t state = 20261125;
  const auto draw = [&](std::size_t below) {  // a linear congruential generator with Knuth's constants
    state = state * 6364136223846793005U + 1442695040888963407U;
    return (state >> 33U) % below;
  };
  int refused = 0;
  for (int i = 0; i < 3000; ++i) {
    std::string text(kFullCandidate);
    for (std::size_t k = 0; k <= draw(3); ++k) text[draw(text.size())] = static_cast<char>(draw(256));
    const auto result = read(text);
    if (result.ok()) continue;
    ++refused;
    ASSERT_FALSE(result.faults().empty());
    for (const Diagnostic& fault : result.faults()) ASSERT_FALSE(fault.message.empty());
  }
  EXPECT_GT(refused, 2000);
}

// Every value in turn becomes one of another type: a fault at that value, never a crash or a conversion.
TEST(CandidateReader, RefusesEveryWrongType) {
  const std::string text(kFullCandidate);
  for (std::size_t colon = text.find(": "); colon != std::string::npos; colon = text.find(": ", colon + 1)) {
    const std::size_t start = colon + 2;
    const char first = text[start];
    const bool scalar = first != '{' && first != '[';
    const std::size_t end = scalar ? text.find_first_of(",}\n", start) : start;
    if (!scalar) continue;
    for (const char* other : {"[]", "{}", "null"}) {
      const auto result = read(text.substr(0, start) + other + text.substr(end));
      ASSERT_FALSE(result.ok()) << text.substr(start, 20) << " as " << other;
      EXPECT_GT(result.faults()[0].line, 0);
    }
  }
}

TEST(PeekStandard, FindsTheStandardBeforeAllElse) {
  EXPECT_EQ(peek_standard(kFullCandidate, "c.json").value(), "small-test");
  EXPECT_EQ(to_string(peek_standard("{\"id\": 1}", "c.json").faults().at(0)),
            "c.json:1:1: error: the key \"standard\" is missing\nhint: add it");
  EXPECT_FALSE(peek_standard("{\"standard\": 7}", "c.json").ok());
  EXPECT_FALSE(peek_standard("[]", "c.json").ok());
  EXPECT_FALSE(peek_standard("", "c.json").ok());
}

// What was done last is what somebody trains for now; of one day, the order of the standard decides.
TEST(Choice, IsTheAlternateWithTheLatestResult) {
  const Standard standard = test::shipped_standard("us-army-alternate-aerobic-2020");
  const auto chosen = [&](const std::string& row, const std::string& bike, const std::string& more = "") {
    const std::string text = R"({ "results": [ { "event": "ROW", "date": ")" + row +
                             R"(" }, { "event": "BIKE", "date": ")" + bike + "\" } ]" + more + " }";
    std::string ids;
    const auto taken = peek_choice(text, "c.json", standard);
    for (const Event& event : taken.value().events) ids += event.id;
    return ids;
  };
  EXPECT_EQ(chosen("2026-11-20", "2026-11-02"), "ROW");
  EXPECT_EQ(chosen("2026-11-02", "2026-11-20"), "BIKE");
  EXPECT_EQ(chosen("2026-11-20", "2026-11-20"), "ROW");
  EXPECT_EQ(chosen("someday", "2026-11-20"), "BIKE");
  EXPECT_EQ(chosen("2026-11-02", "2026-11-20", R"(, "choose": ["SWIM"])"), "SWIM");
}

}  // namespace
}  // namespace backplan::io
