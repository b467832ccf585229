#include "io/stored_outlook.hpp"

#include <array>

#include "io/stored_json.hpp"

namespace backplan::io {
namespace {

constexpr std::array kOrigins{Origin::official, Origin::published, Origin::formula, Origin::memory,
                              Origin::interpolated};

EventOutlook event_outlook_from(const JsonCursor& object) {
  EventOutlook event;
  event.event = text_in(object, "event");
  event.measured = boolean_in(object, "measured");
  const JsonCursor now = object.required("now");
  event.now_result = optional_number_in(now, "result");
  event.now_points = optional_points_in(now, "points");
  event.now_origin = word_in(now, "origin", kOrigins);
  event.now_differs = now.has("differs_from_latest_result") && boolean_in(now, "differs_from_latest_result");
  const JsonCursor test_day = object.required("test_day");
  event.test_day_result = number_in(test_day, "result");
  event.test_day_low80 = number_in(test_day, "low80");
  event.test_day_high80 = number_in(test_day, "high80");
  event.test_day_points = optional_points_in(test_day, "points");
  event.test_day_origin = word_in(test_day, "origin", kOrigins);
  event.expected_points = number_in(test_day, "expected_points");
  event.p_minimum = number_in(test_day, "p_minimum");
  event.p_own_target = number_in(test_day, "p_own_target");
  return event;
}

}  // namespace

Outlook outlook_from(const JsonCursor& object) {
  Outlook outlook;
  const JsonCursor total = object.required("total");
  outlook.total = {number_in(total, "mean"), number_in(total, "low80"), number_in(total, "high80"), {}};
  if (total.has("bins")) {
    outlook.total.bins = list_in<TotalBin>(total, "bins", [](const JsonCursor& bin) {
      return TotalBin{number_in(bin, "from"), number_in(bin, "to"), number_in(bin, "p")};
    });
  }
  outlook.p_target = number_in(object, "p_target");
  outlook.p_pass = number_in(object, "p_pass");
  outlook.p_on_scale = number_in(object, "p_on_scale");
  outlook.events = list_in<EventOutlook>(object, "events", event_outlook_from);
  return outlook;
}

}  // namespace backplan::io
