#include "io/fit_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "io/fit_message.hpp"
#include "io/watch_parts.hpp"

namespace backplan::io {
namespace {

constexpr std::int64_t kEpoch = 631065600;  // 1989-12-31T00:00:00Z, from which the format counts seconds
constexpr double kMillisecondsInSecond = 1000.0;
constexpr double kCentimetresInMetre = 100.0;
constexpr const char* kCopyAgain = "the file may have been cut off or changed; copy it from the watch again";

// Numbers of messages and fields.
constexpr std::uint16_t kFileMessage = 0;
constexpr std::uint8_t kFileType = 0;
constexpr std::int64_t kActivityFile = 4;
constexpr std::uint16_t kSessionMessage = 18;
constexpr std::uint8_t kSessionStart = 2, kSessionSport = 5, kSessionElapsed = 7, kSessionMoving = 8,
                       kSessionDistance = 9;
constexpr std::uint16_t kRecordMessage = 20;
constexpr std::uint8_t kRecordLatitude = 0, kRecordLongitude = 1, kRecordDistance = 5;
constexpr std::uint16_t kActivityMessage = 34;
constexpr std::uint8_t kActivityLocalTime = 5;

struct Sport {
  std::int64_t number;
  const char* name;
};
constexpr std::array<Sport, 8> kSports{{{1, "running"},
                                        {2, "cycling"},
                                        {5, "swimming"},
                                        {11, "walking"},
                                        {12, "skiing"},
                                        {13, "skiing"},
                                        {15, "rowing"},
                                        {17, "hiking"}}};

std::uint32_t little_endian(std::string_view bytes, std::size_t at, std::size_t size) {
  std::uint32_t value = 0;
  for (std::size_t i = size; i-- > 0;) value = (value << 8U) | static_cast<unsigned char>(bytes[at + i]);
  return value;
}

class FitReader {
 public:
  FitReader(std::string_view bytes, std::string file) : bytes_(bytes), file_(std::move(file)) {
    run_.format = WatchFormat::fit;
  }

  Result<WatchRun> read() {
    do {
      if (auto fault = read_one_file()) return *std::move(fault);
    } while (!bytes_.empty());
    if (file_type_ && *file_type_ != kActivityFile) {
      return watch_fault(file_, "a FIT file of another kind than a recorded activity",
                         "export the run itself, not a course, a workout or the settings of the watch");
    }
    if (backwards_) return watch_fault(file_, "the time runs backwards in its records", kCopyAgain);
    if (sessions_ > 1) {
      return watch_fault(file_, fmt::format("{} sessions in one file", sessions_),
                         "export each run as a file of its own");
    }
    if (sessions_ == 0 && (!first_ || *first_ == last_)) {
      return watch_fault(file_, "there is no run in it: no session, and no records with times", kCopyAgain);
    }
    complete();
    return std::move(run_);
  }

 private:
  std::optional<Diagnostic> fault_at(std::size_t byte, std::string message) const {
    return watch_fault(file_, fmt::format("byte {}: {}", done_ + byte, message), kCopyAgain);
  }

  // The first file of a chain; it is taken off.
  std::optional<Diagnostic> read_one_file() {
    constexpr std::size_t kLeastHeader = 12, kFullHeader = 14, kChecksumSize = 2;
    constexpr std::size_t kSizeAt = 4, kHeaderChecksumAt = 12;
    const std::size_t header = bytes_.empty() ? 0 : static_cast<unsigned char>(bytes_.front());
    if (!is_fit(bytes_) || (header != kLeastHeader && header != kFullHeader) || bytes_.size() < header) {
      return fault_at(0, "this is not the header of a FIT file");
    }
    const std::size_t size = little_endian(bytes_, kSizeAt, 4);
    const std::size_t there = bytes_.size() - header;
    if (there < kChecksumSize || there - kChecksumSize < size) {
      return fault_at(
          0, fmt::format("the header announces {} bytes of data, but only {} follow: the file is cut off",
                         size, there < kChecksumSize ? 0 : there - kChecksumSize));
    }
    if (header == kFullHeader) {
      const std::uint32_t own = little_endian(bytes_, kHeaderChecksumAt, kChecksumSize);
      // 0: the watch did not work it out.
      if (own != 0 && own != fit_checksum(bytes_.substr(0, kHeaderChecksumAt))) {
        return fault_at(0, "the checksum of the header is wrong: the file is damaged");
      }
    }
    const std::size_t end = header + size;
    if (little_endian(bytes_, end, kChecksumSize) != fit_checksum(bytes_.substr(0, end))) {
      return fault_at(end, "the checksum is wrong: the file is damaged");
    }
    const auto all =
        read_fit_messages(bytes_.substr(header, size), [this](const FitMessage& message) { take(message); });
    if (!all.problem.empty()) return fault_at(header + all.value.value_or(0), all.problem);
    done_ += end + kChecksumSize;
    bytes_.remove_prefix(end + kChecksumSize);
    return std::nullopt;
  }

  void take(const FitMessage& message) {
    switch (message.message()) {
      case kFileMessage:
        if (const auto type = message.number(kFileType)) file_type_ = type;
        break;
      case kSessionMessage:
        take_session(message);
        break;
      case kRecordMessage:
        take_record(message);
        break;
      case kActivityMessage:
        take_local_time(message);
        break;
      default:
        break;
    }
  }

  void take_session(const FitMessage& session) {
    ++sessions_;
    start_ = session.number(kSessionStart);
    if (const auto sport = session.number(kSessionSport)) {
      const auto known = std::find_if(kSports.begin(), kSports.end(),
                                      [&sport](const Sport& one) { return one.number == *sport; });
      if (known != kSports.end()) name_sport(run_, known->name);
    }
    const auto scaled = [&session](std::uint8_t field, double scale) -> std::optional<double> {
      const auto number = session.number(field);
      return number ? std::optional(static_cast<double>(*number) / scale) : std::nullopt;
    };
    elapsed_ = scaled(kSessionElapsed, kMillisecondsInSecond);
    moving_ = scaled(kSessionMoving, kMillisecondsInSecond);
    distance_ = scaled(kSessionDistance, kCentimetresInMetre);
  }

  void take_record(const FitMessage& record) {
    if (const auto time = record.timestamp()) {
      if (first_ && *time < last_) backwards_ = true;
      if (!first_) first_ = time;
      last_ = *time;
    }
    if (const auto distance = record.number(kRecordDistance)) {
      point_distance_ = static_cast<double>(*distance) / kCentimetresInMetre;
    }
    constexpr double kDegreesPerUnit = 180.0 / 2147483648.0;  // half a turn in 2^31 parts
    const auto latitude = record.number(kRecordLatitude);
    const auto longitude = record.number(kRecordLongitude);
    if (!latitude || !longitude) return;
    const GeoPoint point{static_cast<double>(*latitude) * kDegreesPerUnit,
                         static_cast<double>(*longitude) * kDegreesPerUnit};
    if (is_on_earth(point)) way_.add(point);
  }

  // The watch's own clock beside UTC. Offsets are whole quarters of an hour, up to 14 hours.
  void take_local_time(const FitMessage& activity) {
    constexpr std::int64_t kQuarter = 900;
    constexpr std::int64_t kMostOffset = 14 * std::int64_t{3600};
    const auto local = activity.number(kActivityLocalTime);
    const auto utc = activity.timestamp();
    if (!local || !utc) return;
    const std::int64_t offset = *local - *utc;
    if (offset < -kMostOffset || offset > kMostOffset || offset % kQuarter != 0) return;
    run_.utc_offset_s = static_cast<int>(offset);
  }

  void complete() {
    const std::int64_t start = start_ ? *start_ : first_.value_or(0);
    const double recorded = first_ ? static_cast<double>(last_ - *first_) : 0.0;
    run_.start = start + kEpoch;
    run_.elapsed = Seconds(elapsed_ ? *elapsed_ : moving_.value_or(recorded));
    run_.moving = Seconds(moving_ ? *moving_ : run_.elapsed.value());
    if (distance_) {
      run_.distance = Metres(*distance_);
    } else if (point_distance_) {
      run_.distance = Metres(*point_distance_);
      run_.distance_from = DistanceFrom::points;
    } else {
      run_.distance = way_.total();
      run_.distance_from = DistanceFrom::positions;
    }
  }

  std::string_view bytes_;  // what is left to read
  std::size_t done_ = 0;    // bytes of the files before
  std::string file_;
  WatchRun run_;
  WayBetween way_;
  std::optional<std::int64_t> file_type_;
  int sessions_ = 0;
  std::optional<std::int64_t> start_;
  std::optional<double> elapsed_, moving_, distance_, point_distance_;
  std::optional<std::int64_t> first_;
  std::int64_t last_ = 0;
  bool backwards_ = false;
};

}  // namespace

bool is_fit(std::string_view bytes) {
  constexpr std::size_t kMarkAt = 8;
  constexpr std::string_view kMark = ".FIT";
  return bytes.size() >= kMarkAt + kMark.size() && bytes.substr(kMarkAt, kMark.size()) == kMark;
}

std::uint16_t fit_checksum(std::string_view bytes) {
  constexpr unsigned kPolynomial = 0xA001U;
  unsigned sum = 0;
  for (const char byte : bytes) {
    sum ^= static_cast<unsigned char>(byte);
    for (int bit = 0; bit < 8; ++bit) sum = (sum & 1U) != 0U ? (sum >> 1U) ^ kPolynomial : sum >> 1U;
  }
  return static_cast<std::uint16_t>(sum);
}

Result<WatchRun> read_fit(std::string_view bytes, const std::string& file) {
  return FitReader(bytes, file).read();
}

}  // namespace backplan::io
