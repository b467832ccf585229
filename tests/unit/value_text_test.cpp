#include "io/value_text.hpp"

#include <gtest/gtest.h>

#include "support/small_standard.hpp"

namespace backplan::io {
namespace {

using std::chrono::year;

Event event(const char* id) { return *support::small_standard().find_event(id); }

Event made(const char* id, Unit unit, double resolution, double least, double most) {
  Event e;
  e.id = id;
  e.unit = unit;
  e.resolution = resolution;
  e.least_plausible = least;
  e.most_plausible = most;
  return e;
}

double value(const char* text, const Event& of) {
  const auto reading = read_result(text, of);
  EXPECT_TRUE(reading.value) << text << ": " << reading.problem;
  return reading.value.value_or(-1.0);
}

// "problem | hint" of a text that must not be read.
std::string refusal(const char* text, const Event& of) {
  const auto reading = read_result(text, of);
  EXPECT_FALSE(reading.value) << text;
  return reading.problem + " | " + reading.hint;
}

// International yard and pound agreement of 1959: a pound is exactly 0.45359237 kg.
TEST(Units, ConvertByTheAgreementOf1959) {
  const volatile double hundred = 100.0;  // known only when it runs
  EXPECT_DOUBLE_EQ(to_kilograms(Pounds(hundred)).value(), 45.359237);
  EXPECT_DOUBLE_EQ(to_pounds(Kilograms(45.359237 * hundred)).value(), 10000.0);
}

TEST(ReadDate, TakesExactlyYearMonthDay) {
  EXPECT_EQ(read_date("2027-03-08").value, Date(year(2027) / 3 / 8));
  EXPECT_EQ(read_date("2024-02-29").value, Date(year(2024) / 2 / 29));
  EXPECT_EQ(read_date("2000-02-29").value, Date(year(2000) / 2 / 29));
  for (const char* bad : {"", "2027-3-8", "27-03-08", "+2027-03-08", "2027-03-08 ", " 2027-03-08",
                          "2027/03/08", "08.03.2027", "2027-03-0x", "20270308", "2027-03-08T00:00"}) {
    EXPECT_FALSE(read_date(bad).value) << bad;
    EXPECT_EQ(read_date(bad).hint, "write year-month-day, such as 2027-03-08");
  }
}

TEST(ReadDate, RefusesDaysThatDoNotExist) {
  EXPECT_EQ(read_date("2027-02-29").problem, "2027-02-29 is no day of the calendar");
  EXPECT_EQ(read_date("1900-02-29").problem, "1900-02-29 is no day of the calendar");
  EXPECT_EQ(read_date("2027-13-01").problem, "2027-13-01 is no day of the calendar");
  EXPECT_EQ(read_date("2027-00-10").problem, "2027-00-10 is no day of the calendar");
  EXPECT_EQ(read_date("1899-12-31").problem, "1899-12-31 is outside the years 1900 to 2200");
  EXPECT_EQ(read_date("2201-01-01").problem, "2201-01-01 is outside the years 1900 to 2200");
}

TEST(WriteDate, IsTheInverseOfReading) {
  for (Date d = Date(year(2023) / 12 / 1); d < Date(year(2025) / 3 / 2); d += Days(1)) {
    ASSERT_EQ(read_date(write_date(d)).value, d);
  }
  EXPECT_EQ(say_date(Date(year(2027) / 3 / 8)), "Mon 8 Mar 2027");
  EXPECT_EQ(say_date(Date(year(2026) / 11 / 29)), "Sun 29 Nov 2026");
}

TEST(ReadDecimal, GivesTheNearestDoubleOfPlainDecimals) {
  EXPECT_EQ(read_decimal("8.4"), 8.4);
  EXPECT_EQ(read_decimal("0.1"), 0.1);
  EXPECT_EQ(read_decimal("+62.1371"), 62.1371);
  EXPECT_EQ(read_decimal("-17"), -17.0);
  EXPECT_EQ(read_decimal("123456789.012345"), 123456789.012345);
  EXPECT_EQ(read_decimal("999999999999999"), 999999999999999.0);
}

TEST(ReadDecimal, RefusesAllElse) {
  for (const char* bad : {"", "-", "+", ".", ".5", "5.", "1e3", "1,5", "NaN", "inf", "0x10", " 1", "1 ",
                          "1.2.3", "--1", "1234567890123456", "1.234567890123456"}) {
    EXPECT_EQ(read_decimal(bad), std::nullopt) << bad;
  }
}

TEST(ReadResult, ReadsResultsAsPeopleWriteThem) {
  EXPECT_EQ(value("170 lb", event("MDL")), 170.0);
  EXPECT_EQ(value("170", event("MDL")), 170.0);
  EXPECT_EQ(value(" 170LB ", event("MDL")), 170.0);
  EXPECT_EQ(value("15:32", event("2MR")), 932.0);
  EXPECT_EQ(value("932 s", event("2MR")), 932.0);
  EXPECT_EQ(value("15.5 min", event("2MR")), 930.0);
  EXPECT_EQ(value("41", event("HRP")), 41.0);
  EXPECT_EQ(value("41 reps", event("HRP")), 41.0);
  EXPECT_EQ(value("1 rep", event("HRP")), 1.0);
  EXPECT_EQ(value("8.4 m", made("SPT", Unit::metre, 0.1, 2, 20)), 8.4);
  EXPECT_EQ(value("840 cm", made("SPT", Unit::metre, 0.1, 2, 20)), 8.4);
  EXPECT_EQ(value("1:02:30", made("RUN", Unit::second, 1, 600, 9000)), 3750.0);
  EXPECT_EQ(value("10.43 s", made("DASH", Unit::second, 0.01, 9, 20)), 10.43);
  EXPECT_EQ(value("0:10.43", made("DASH", Unit::second, 0.01, 9, 20)), 10.43);
  EXPECT_EQ(value("Go", made("SWIM", Unit::go, 1, 0, 1)), 1.0);
  EXPECT_EQ(value("no-go", made("SWIM", Unit::go, 1, 0, 1)), 0.0);
}

TEST(ReadResult, ConvertsByTheExactPoundAndFoot) {
  // International yard and pound agreement of 1959: 1 lb = 0.45359237 kg, 1 ft = 0.3048 m.
  EXPECT_DOUBLE_EQ(value("77 kg", event("MDL")), 77.0 / 0.45359237);
  EXPECT_DOUBLE_EQ(value("27.5 ft", made("SPT", Unit::metre, 0.1, 2, 20)), 27.5 * 0.3048);
  EXPECT_DOUBLE_EQ(value("220 lb", made("LIFT", Unit::kilogram, 1, 20, 300)), 220.0 * 0.45359237);
}

TEST(ReadResult, AsksWhereAFigureFitsOnlyAnotherUnit) {
  EXPECT_EQ(
      refusal("77", event("MDL")),
      "\"77\" is no possible result of MDL; expected 80 lb to 600 lb | did you mean \"77 kg\" (169.76 lb)? "
      "then write it with that unit");
  EXPECT_EQ(refusal("840", made("SPT", Unit::metre, 0.1, 2, 20)),
            "\"840\" is no possible result of SPT; expected 2.0 m to 20.0 m | did you mean \"840 cm\" (8.4 "
            "m)? then "
            "write it with that unit");
}

TEST(ReadResult, AsksWhatATimeWithoutAColonMeans) {
  EXPECT_EQ(refusal("15.32", event("2MR")),
            "\"15.32\" may be minutes or seconds | did you mean \"15:32\"? then write it so");
  EXPECT_EQ(refusal("15", event("2MR")),
            "\"15\" may be minutes or seconds | did you mean \"15:00\"? then write it so");
  EXPECT_EQ(refusal("932", event("2MR")),
            "\"932\" may be minutes or seconds | did you mean \"15:32\"? then write it so");
  EXPECT_EQ(refusal("15.75", event("2MR")),
            "\"15.75\" may be minutes or seconds | write minutes and seconds, such as \"15:32\"");
}

TEST(ReadResult, RefusesWhatNobodyCanDo) {
  EXPECT_EQ(
      refusal("900 lb", event("MDL")),
      "\"900 lb\" is no possible result of MDL; expected 80 lb to 600 lb | check the value and the event");
  EXPECT_EQ(refusal("2:00", event("2MR")),
            "\"2:00\" is no possible result of 2MR; expected 9:00 to 45:00 | check the value and the event");
  EXPECT_EQ(refusal("-3", event("HRP")),
            "\"-3\" is no possible result of HRP; expected 0 to 120 | check the value and the event");
}

TEST(ReadResult, RefusesOtherUnitsAndForms) {
  EXPECT_EQ(refusal("170 lbs", event("MDL")),
            "the unit \"lbs\" does not fit MDL; expected one of lb, kg | did you mean \"lb\"?");
  EXPECT_EQ(refusal("41 kg", event("HRP")),
            "the unit \"kg\" does not fit HRP; expected one of reps | HRP is measured in reps");
  EXPECT_EQ(refusal("15:32", event("MDL")),
            "\"15:32\" is a time; MDL is measured in lb | check the value and the event");
  EXPECT_EQ(
      refusal("15:72", event("2MR")),
      "\"15:72\" is not written as a time | write minutes and seconds, such as \"15:32\" or \"1:02:30\"");
  EXPECT_EQ(refusal("41.5", event("HRP")),
            "\"41.5\" is no whole number of repetitions | count whole repetitions only");
  EXPECT_EQ(refusal("170,5 lb", event("MDL")),
            "\"170,5 lb\" is not written as a number | write a point, not a comma");
  EXPECT_EQ(refusal("", event("MDL")), "the value is empty | write the result, or take the entry out");
  EXPECT_EQ(refusal("lots", event("MDL")),
            "\"lots\" is not written as a number | write a number, with the unit lb or without");
  for (const char* bad :
       {"15:3", ":32", "15:", "1:2:30", "1:60:00", "15:32:", "a:32", "15:-3", "1:00:00:00", "NaN"}) {
    EXPECT_NE(refusal(bad, event("2MR")), " | ") << bad;
  }
}

TEST(ReadResult, TakesABareNumberInTheEventsUnit) {
  EXPECT_EQ(read_result(170.0, event("MDL")).value, 170.0);
  EXPECT_EQ(read_result(169.75595443301232, event("MDL")).value, 169.75595443301232);
  EXPECT_EQ(read_result(41.5, event("HRP")).problem, "\"41.5\" is no whole number of repetitions");
  EXPECT_EQ(read_result(77.0, event("MDL")).hint,
            "did you mean \"77 kg\" (169.76 lb)? then write it with that unit");
  EXPECT_EQ(read_result(15.32, event("2MR")).hint, "did you mean \"15:32\"? then write it so");
  EXPECT_FALSE(read_result(1e300, event("HRP")).value);
}

TEST(ReadDistance, WantsItsUnit) {
  EXPECT_EQ(read_distance("2 mi").value, Metres(2 * 1609.344));
  EXPECT_EQ(read_distance("2mi").value, Metres(2 * 1609.344));
  EXPECT_EQ(read_distance("10 km").value, Metres(10'000));
  EXPECT_EQ(read_distance("400 m").value, Metres(400));
  EXPECT_EQ(read_distance("500yd").value, Metres(457.2));
  EXPECT_EQ(read_distance("2.5").problem, "\"2.5\" may be miles or kilometres");
  EXPECT_EQ(read_distance("2.5").hint, "write \"2.5 mi\" or \"2.5 km\"");
  EXPECT_EQ(read_distance("2 miles").problem,
            "\"miles\" is no unit of distance; expected one of m, cm, km, ft, mi, yd");
  EXPECT_EQ(read_distance("-2 mi").problem, "\"-2 mi\" is no possible distance; expected 0 to 200 km");
  EXPECT_EQ(read_distance("300 km").problem, "\"300 km\" is no possible distance; expected 0 to 200 km");
  EXPECT_EQ(read_distance("far").problem, "\"far\" is not written as a distance");
}

}  // namespace
}  // namespace backplan::io
