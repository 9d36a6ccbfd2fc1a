#include "aeruca/render.hpp"
#include "render/describe_case.hpp"
#include "render/enclosure_report.hpp"
#include "render/json.hpp"

namespace aeruca {
namespace {

using detail::Json;
using detail::json_of;
using detail::number_or_null;

Json from_object(const CaseAssessment& assessment) {
  Json object = json_of(assessment.file.object);
  object["observations"] = json_of(assessment.file.observations);
  return object;
}

// The settings the logs were read with.
Json settings_of(const CaseFile& file) {
  const auto place = [&file](const std::string& log) {
    return log.empty() ? Json(nullptr) : Json(file.resolve(log));
  };
  const auto places = [&](const std::vector<std::string>& logs) {
    if (logs.size() < 2) return place(logs.empty() ? "" : logs.front());
    Json list = Json::array();
    for (const std::string& log : logs) list.push_back(place(log));
    return list;
  };
  return {{"store",
           {{"log", places(file.store.log)},
            {"sheet", file.store.reading.sheet},
            {"time_column", file.store.reading.time_column},
            {"clock_column", file.store.reading.clock_column},
            {"temperature_column", file.store.reading.temperature_column},
            {"rh_column", file.store.reading.rh_column},
            {"dew_point_column", file.store.reading.dew_point_column},
            {"absolute_humidity_column", file.store.reading.absolute_humidity_column},
            {"date_order", to_string(file.store.reading.date_order)},
            {"rh_unit", to_string(file.store.reading.rh_unit)},
            {"temperature_unit", to_string(file.store.reading.temperature_unit)},
            {"future_times", to_string(file.store.reading.future_times)},
            {"onset", file.store.onset},
            {"sensor_accuracy_rh_percent", number_or_null(file.store.sensor_accuracy_rh_percent)},
            {"object_cooler_by_k", file.store.object_cooler_by_k}}},
          {"bath",
           {{"log", place(file.bath.log)},
            {"shape", file.bath.shape},
            {"load", file.bath.load},
            {"stop_mg_per_l", number_or_null(file.bath.stop_mg_per_l)},
            {"next_volume_l", number_or_null(file.bath.next_volume_l)},
            {"next_days", number_or_null(file.bath.next_days)},
            {"reading_error_percent", number_or_null(file.bath.reading_error_percent)},
            {"volume_error_percent", number_or_null(file.bath.volume_error_percent)}}}};
}

}  // namespace

std::string to_json(const CaseAssessment& assessment) {
  Json json{{"schema", kCaseSchema},
            {"case_file", assessment.file.path},
            {"invented", assessment.file.invented},
            {"date", assessment.date.empty() ? Json(nullptr) : Json(assessment.date)},
            {"data_set",
             {{"version", assessment.dataset_version}, {"content_hash", assessment.dataset_hash}}},
            {"object", from_object(assessment)},
            {"settings", settings_of(assessment.file)}};
  json.update(json_of(assessment));
  json["box"] =
      assessment.box ? detail::box_json(*assessment.box, assessment.box_exchange) : Json(nullptr);
  return detail::document_text(json);
}

}  // namespace aeruca
