#include "io/fit_json.hpp"

#include <optional>
#include <string>
#include <utility>

#include "io/estimate_text.hpp"

namespace backplan::io {
namespace {

constexpr int kFitDecimals = 4;

Json learnt_json(const Learnt& learnt) {
  Json json;
  json["assumed"] = rounded(learnt.assumed, kFitDecimals);
  json["assumed_sd"] = rounded(learnt.assumed_sd, kFitDecimals);
  json["found"] = rounded(learnt.found, kFitDecimals);
  json["found_sd"] = rounded(learnt.found_sd, kFitDecimals);
  return json;
}

Json learnt_or_null(const std::optional<Learnt>& learnt) {
  return learnt ? learnt_json(*learnt) : Json(nullptr);
}

Json flagged_json(const FlaggedEntry& entry) {
  Json json;
  json["id"] = entry.id.empty() ? Json(nullptr) : Json(entry.id);
  json["date"] = date_json(entry.date);
  json["says"] = rounded(entry.says, kResultDecimals);
  json["expected"] = rounded(entry.expected, kResultDecimals);
  json["reason"] = entry.reason;
  return json;
}

Json now_json(const FitReport& report, const Standard& standard) {
  Json json;
  json["result"] = rounded(report.now_result, kResultDecimals);
  if (const Event* event = standard.find_event(report.event)) {
    json["text"] = estimate_text(report.now_result, *event);
  }
  json["low80"] = rounded(report.now_low80, kResultDecimals);
  json["high80"] = rounded(report.now_high80, kResultDecimals);
  return json;
}

Json report_json(const FitReport& report, const Standard& standard) {
  Json json;
  json["event"] = report.event;
  json["measured"] = report.measured;
  json["now"] = now_json(report, standard);
  json["lost"] = rounded(report.lost, kFitDecimals);
  json["rate_per_week"] = learnt_json(report.rate);
  json["headroom"] = learnt_json(report.headroom);
  json["speed_ratio"] = rounded(report.speed_ratio, kFitDecimals);
  json["speed_ratio_sd"] = rounded(report.speed_ratio_sd, kFitDecimals);
  json["conversion_bias"] = learnt_or_null(report.conversion);
  json["setting_bias"] = learnt_or_null(report.setting);
  json["distance_exponent"] = learnt_or_null(report.exponent);
  json["readings"] = report.readings;
  json["bounds"] = report.bounds;
  Json flagged = Json::array();
  for (const FlaggedEntry& entry : report.flagged) flagged.push_back(flagged_json(entry));
  json["flagged"] = std::move(flagged);
  Json shares;
  shares["log"] = rounded(report.share_log, kFitDecimals);
  shares["results"] = rounded(report.share_results, kFitDecimals);
  shares["prior"] = rounded(report.share_prior, kFitDecimals);
  json["information"] = std::move(shares);
  return json;
}

}  // namespace

Json fit_json(const std::vector<FitReport>& reports, const Standard& standard) {
  Json json = Json::array();
  for (const FitReport& report : reports) json.push_back(report_json(report, standard));
  return json;
}

}  // namespace backplan::io
