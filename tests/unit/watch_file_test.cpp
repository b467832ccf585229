// Files of watches. Those of tests/watch/, and the figures that they must give, come from a script that
// shares nothing with the readers: tests/watch/make_files.py says how it works them out.
#include "io/watch_file.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "io/fit_reader.hpp"
#include "io/json_write.hpp"
#include "io/value_text.hpp"
#include "io/watch_parts.hpp"
#include "io/xml_text.hpp"
#include "support/text.hpp"

namespace backplan::io {
namespace {

using support::bytes_of;
using support::holds;

std::string watch_path(const std::string& name) {
  return std::string(BACKPLAN_SOURCE_DIR) + "/tests/watch/" + name;
}

Result<WatchRun> read(const std::string& name) { return read_watch_file(bytes_of(watch_path(name)), name); }

std::string faults_of_text(const std::string& bytes, const std::string& name) {
  const auto run = read_watch_file(bytes, name);
  EXPECT_FALSE(run.ok()) << name;
  std::string all;
  if (run.ok()) return all;
  for (const Diagnostic& fault : run.faults()) {
    EXPECT_FALSE(fault.hint.empty()) << fault.message;
    all += to_string(fault) + "\n";
  }
  return all;
}

std::string faults_in(const std::string& name) { return faults_of_text(bytes_of(watch_path(name)), name); }

std::string from_word(DistanceFrom from) {
  return from == DistanceFrom::total ? "total" : from == DistanceFrom::points ? "points" : "positions";
}

// A sphere and the ellipsoid differ by up to 0.56 % (the radii of WGS 84 against the mean radius).
constexpr double kSphereError = 0.0057;

TEST(WatchFile, GivesTheFiguresOfTheIndependentScript) {
  const Json expected = Json::parse(bytes_of(watch_path("expected.json")));
  ASSERT_EQ(expected.size(), 8U);
  for (const auto& [name, found] : expected.items()) {
    SCOPED_TRACE(name);
    const auto run = read(name);
    ASSERT_TRUE(run.ok()) << to_string(run.faults().front());
    const WatchRun& got = run.value();
    EXPECT_EQ(to_string(got.format), found["format"].get<std::string>());
    EXPECT_EQ(got.start, found["start"].get<std::int64_t>());
    EXPECT_NEAR(got.elapsed.value(), found["elapsed"].get<double>(), 1e-6);
    EXPECT_NEAR(got.moving.value(), found["moving"].get<double>(), 1e-6);
    EXPECT_EQ(got.sport, found["sport"].get<std::string>());
    EXPECT_EQ(from_word(got.distance_from), found["from"].get<std::string>());
    EXPECT_EQ(got.utc_offset_s.has_value(), !found["offset"].is_null());
    if (got.utc_offset_s) {
      EXPECT_EQ(*got.utc_offset_s, found["offset"].get<int>());
    }
    ASSERT_TRUE(got.distance.has_value());
    const double metres = found["metres"].get<double>();
    const bool reckoned = got.distance_from == DistanceFrom::positions;
    EXPECT_NEAR(got.distance->value(), metres, reckoned ? kSphereError * metres : 1e-6);
  }
}

TEST(WatchFile, RefusesEveryDamagedFileWithThePlaceAndTheReason) {
  const std::vector<std::pair<std::string, std::string>> refused{
      {"cut-off.fit", "byte 0: the header announces 1423 bytes of data, but only 984 follow"},
      {"damaged.fit", "byte 1437: the checksum is wrong"},
      {"no-header.fit", "byte 0: this is not the header of a FIT file"},
      {"course.fit", "a FIT file of another kind than a recorded activity"},
      {"two-sessions.fit", "2 sessions in one file"},
      {"undefined.fit", "byte 30: a message whose definition is missing"},
      {"overlong.fit", "byte 51: a message goes beyond the end of the data"},
      {"backwards.fit", "the time runs backwards in its records"},
      {"too-far.fit", "its distance of 4000000 m is not possible"},
      {"too-long.fit", "it lasts 200000 seconds; expected 1 to 86400"},
      {"no-time.fit", "it lasts 0 seconds"},
      {"odd-pauses.fit", "the time without pauses, 900 s, is longer than the time with them, 600 s"},
      {"bomb.gpx", "the XML declares a document type"},
      {"deep.gpx", "deep.gpx:3:94: error: elements are nested deeper than 32 levels"},
      {"cut-off.gpx", "cut-off.gpx:7:15: error: an attribute is not written as XML writes them"},
      {"backwards.gpx", "backwards.gpx:6:61: error: the time runs backwards here"},
      {"off-earth.gpx", "off-earth.gpx:5:5: error: a position that is missing or nowhere on earth"},
      {"route.gpx", "fewer than two points of the track have a time"},
      {"no-track.gpx", "there is no track in it"},
      {"two-tracks.gpx", "two-tracks.gpx:10:3: error: a second track"},
      {"odd-time.gpx", "odd-time.gpx:6:61: error: \"2026-11-28T06:00:61Z\" is no moment in time"},
      {"two-activities.tcx", "two-activities.tcx:8:3: error: a second activity"},
      {"no-lap.tcx", "there is no lap in it"},
      {"odd-number.tcx", "odd-number.tcx:5:86: error: the DistanceMeters is no number from 0 on"},
      {"course.tcx", "there is no activity in it"},
      {"page.gpx", "page.gpx:1:1: error: the XML is neither GPX nor TCX"}};
  for (const auto& [name, message] : refused) {
    const std::string all = faults_in(name);
    EXPECT_TRUE(holds(all, message)) << all << "wanted: " << message;
  }
}

TEST(WatchFile, IsToldByItsBytesAndNotByItsName) {
  for (const char* name : {"run.fit", "run.gpx", "run.tcx"}) {
    const std::string bytes = bytes_of(watch_path(name));
    EXPECT_TRUE(is_watch_file(bytes, "history.csv"));
    const auto run = read_watch_file(bytes, "history.csv");
    ASSERT_TRUE(run.ok());
    EXPECT_EQ(run.value().start, read(name).value().start);
  }
  EXPECT_FALSE(is_watch_file("date,work\n2026-12-01,deadlift\n", "history.csv"));
  EXPECT_TRUE(is_watch_file("date,work\n", "HISTORY.FIT"));  // the name says what was meant
  EXPECT_TRUE(holds(faults_of_text("date,work\n", "HISTORY.FIT"), "not the header of a FIT file"));
  EXPECT_TRUE(holds(faults_of_text("PK\x03\x04", "run.zip"), "the file is packed"));
  EXPECT_TRUE(holds(faults_of_text("", "run.gpx"), "there is no element in the XML"));
}

TEST(WatchFile, RefusesAFileThatIsCutOffAnywhere) {
  const std::string whole = bytes_of(watch_path("records.fit"));
  ASSERT_GT(whole.size(), 500U);
  for (std::size_t size = 0; size < whole.size(); ++size) {
    EXPECT_FALSE(read_watch_file(whole.substr(0, size), "run.fit").ok()) << size;
  }
  const std::string xml = bytes_of(watch_path("run.tcx"));
  const std::size_t end =
      xml.rfind("</TrainingCenterDatabase>") + std::string("</TrainingCenterDatabase").size();
  for (std::size_t size = 0; size <= end; size += 7) {
    EXPECT_FALSE(read_watch_file(xml.substr(0, size), "run.tcx").ok()) << size;
  }
}

TEST(WatchFile, FindsEveryFlippedBitOfAFitFile) {
  const std::string whole = bytes_of(watch_path("chained.fit"));
  for (std::size_t at = 0; at < whole.size(); ++at) {
    for (int bit = 0; bit < 8; ++bit) {
      std::string damaged = whole;
      damaged[at] =
          static_cast<char>(static_cast<unsigned char>(damaged[at]) ^ (1U << static_cast<unsigned>(bit)));
      EXPECT_FALSE(read_watch_file(damaged, "run.fit").ok()) << at << " " << bit;
    }
  }
}

TEST(WatchFile, DoesNotExpandEntitiesNorTakeMoreXmlThanADayHas) {
  const std::string open = "<gpx><trk><name>";
  EXPECT_TRUE(holds(faults_of_text("<!DOCTYPE gpx SYSTEM \"file:///etc/passwd\"><gpx/>", "run.gpx"),
                    "document type"));
  const std::string many(2 * (kMostXmlTags + 1), '<');
  EXPECT_TRUE(holds(faults_of_text("<gpx>" + many, "run.gpx"), "more elements than any day of recording"));
  EXPECT_TRUE(
      holds(faults_of_text(open + "\xC3\x28", "run.gpx"), "run.gpx:1:17: error: not a text in UTF-8"));
  EXPECT_TRUE(holds(faults_of_text(std::string(kMostWatchBytes + 1, ' '), "run.gpx"), "larger than 32 MB"));
  std::string deep = "<gpx>";
  for (int i = 0; i < 200'000; ++i) deep += "<a>";
  for (int i = 0; i < 200'000; ++i) deep += "</a>";
  EXPECT_TRUE(holds(faults_of_text(deep + "</gpx>", "run.gpx"), "deeper than 32 levels"));
}

TEST(WatchFile, ReadsWhatOthersWriteOtherwise) {
  // A prefix before every name, an offset instead of UTC, exponents, no distance of the lap.
  const std::string text =
      "\xEF\xBB\xBF<?xml version=\"1.0\"?>\n<t:TrainingCenterDatabase xmlns:t=\"x\"><t:Activities>"
      "<t:Activity Sport=\"Biking\"><t:Lap StartTime=\"2026-11-28T23:30:00.250+02:00\">"
      "<t:TotalTimeSeconds>1.2E2</t:TotalTimeSeconds><t:DistanceMeters>4E2</t:DistanceMeters>"
      "</t:Lap></t:Activity></t:Activities></t:TrainingCenterDatabase>";
  const auto run = read_watch_file(text, "run.tcx");
  ASSERT_TRUE(run.ok()) << to_string(run.faults().front());
  EXPECT_EQ(run.value().utc_offset_s, 7200);
  EXPECT_EQ(run.value().moving, Seconds(120.0));
  EXPECT_EQ(run.value().distance, Metres(400.0));
  EXPECT_FALSE(run.value().on_foot);
  EXPECT_EQ(write_date(day_of(run.value())), "2026-11-28");  // of the place
  EXPECT_EQ(clock_of(run.value()), "23:30");
}

TEST(WatchFile, BelongsToTheDayOfThePlaceWhereTheFileKnowsIt) {
  WatchRun run;
  run.start = 1795845600;  // 2026-11-28T06:00:00Z: date -u -d @1795845600
  EXPECT_EQ(write_date(day_of(run)), "2026-11-28");
  run.utc_offset_s = -7 * 3600;
  EXPECT_EQ(write_date(day_of(run)), "2026-11-27");
  EXPECT_EQ(clock_of(run), "23:00");
  run.start = -1;
  run.utc_offset_s.reset();
  EXPECT_EQ(write_date(day_of(run)), "1969-12-31");
}

TEST(WatchFile, ChecksumIsThatOfTheCatalogues) {
  // CRC-16/ARC of "123456789" in the catalogue of parametrised CRC algorithms: 0xBB3D.
  EXPECT_EQ(fit_checksum("123456789"), 0xBB3D);
}

TEST(WatchFile, ReadsNumbersAndMomentsStrictly) {
  EXPECT_EQ(read_xml_number(" 12.5 "), 12.5);
  EXPECT_EQ(read_xml_number("-1.5E-2"), -0.015);
  for (const char* bad : {"", "1,5", "NaN", "INF", "1E", "1E99", "1E1.5", "0x10", "1 2"}) {
    EXPECT_FALSE(read_xml_number(bad)) << bad;
  }
  EXPECT_EQ(read_moment("1970-01-02T00:00:01.5Z").value->utc, 86401.5);
  EXPECT_EQ(read_moment("1970-01-02T05:30:00+05:30").value->utc, 86400.0);
  EXPECT_EQ(read_moment("1970-01-01T19:00:00-0500").value->utc, 86400.0);
  for (const char* bad :
       {"", "1970-01-02", "1970-13-02T00:00:00Z", "1970-01-02T24:00:00Z", "1970-01-02T00:60:00Z",
        "1970-01-02T00:00Z", "1970-01-02T00:00:00.Z", "1970-01-02T00:00:00+2", "1970-01-02 00:00:00Z",
        "1970-01-02T00:00:00Zulu", "1970-01-02T00:00:00+15:00"}) {
    EXPECT_FALSE(read_moment(bad).value) << bad;
  }
}

}  // namespace
}  // namespace backplan::io
