#include "io/standard_json.hpp"

#include "backplan/score.hpp"

namespace backplan::io {
namespace {

Json head_json(const Standard& standard) {
  Json json;
  json["id"] = standard.id;
  json["title"] = standard.title;
  json["source"] = standard.source;
  json["effective_from"] = standard.effective_from.empty() ? Json(nullptr) : Json(standard.effective_from);
  json["hash"] = standard.content_hash;
  return json;
}

// How many rows of the event's scales have which origin.
Json origins_json(const Standard& standard, const std::string& event) {
  std::map<Origin, int> counts;
  for (const auto& [key, scale] : standard.scales) {
    if (key.event != event) continue;
    for (const Row& row : scale.rows()) ++counts[row.origin];
  }
  Json json = Json::object();
  for (const auto& [origin, number] : counts) json[to_string(origin)] = number;
  return json;
}

Json event_json(const Standard& standard, const Event& event) {
  Json json;
  json["event"] = event.id;
  json["name"] = event.name;
  json["unit"] = unit_json(event.unit);
  json["rows"] = origins_json(standard, event.id);
  return json;
}

Json category_json(const Category& category) {
  Json json;
  json["category"] = category.id;
  json["name"] = category.name;
  json["column"] = category.column.empty() ? Json(nullptr) : Json(category.column);
  json["each_minimum"] = points_json(category.each_minimum);
  json["total_minimum"] = points_json(category.total_minimum);
  json["source"] = category.source;
  return json;
}

Json row_json(const Row& row, const Event& event) {
  Json json;
  json["points"] = points_json(row.points);
  json["result"] = rounded(row.result, kResultDecimals);
  json["text"] = format_result(row.result, event);
  json["origin"] = to_string(row.origin);
  return json;
}

}  // namespace

Json standard_list_json(const std::vector<Standard>& standards) {
  Json json;
  json["standards"] = Json::array();
  for (const Standard& standard : standards) json["standards"].push_back(head_json(standard));
  return json;
}

Json standard_json(const Standard& standard) {
  Json json = head_json(standard);
  json["columns"] = standard.columns;
  json["age_bands"] = Json::array();
  for (const AgeBand& band : standard.bands) json["age_bands"].push_back(to_string(band));
  json["events"] = Json::array();
  for (const Event& event : standard.events) json["events"].push_back(event_json(standard, event));
  json["categories"] = Json::array();
  for (const Category& category : standard.categories) json["categories"].push_back(category_json(category));
  json["protocol"] = Json::array();
  for (const ProtocolFact& fact : standard.protocol) {
    Json one;
    one["topic"] = fact.topic;
    one["value"] = fact.value.empty() ? Json(nullptr) : Json(fact.value);
    one["source"] = fact.source;
    json["protocol"].push_back(std::move(one));
  }
  return json;
}

Json scale_json(const Standard& standard, const Event& event, const std::string& column) {
  Json json;
  json["standard"] = standard.id;
  json["event"] = event.id;
  json["column"] = column;
  json["unit"] = unit_json(event.unit);
  json["scales"] = Json::array();
  for (const AgeBand& band : standard.bands) {
    const auto found = standard.scales.find({event.id, column, band});
    if (found == standard.scales.end()) continue;
    Json scale;
    scale["age_band"] = to_string(band);
    scale["rows"] = Json::array();
    const std::vector<Row>& rows = found->second.rows();
    for (auto row = rows.rbegin(); row != rows.rend(); ++row) scale["rows"].push_back(row_json(*row, event));
    json["scales"].push_back(std::move(scale));
  }
  return json;
}

Json import_json(const ImportSummary& summary) {
  Json json;
  json["cells"] = summary.cells;
  json["without_row"] = summary.without_row;
  json["agree_published"] = summary.agree_published;
  json["replaced_published"] = summary.replaced_published;
  json["replaced_memory"] = summary.replaced_memory;
  json["replaced_interpolated"] = summary.replaced_interpolated;
  json["differ"] = summary.differ;
  return json;
}

}  // namespace backplan::io
