#include <nlohmann/json.hpp>

#include "aeruca/assessment.hpp"

namespace aeruca {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json from_finding(const CaseFinding& finding) {
  return {{"key", finding.key},
          {"label", finding.label},
          {"value", number(finding.value)},
          {"low", number(finding.low)},
          {"high", number(finding.high)},
          {"unit", finding.unit},
          {"text", finding.text},
          {"note", finding.note}};
}

Json from_table(const CaseTable& table) {
  return {{"title", table.title},
          {"columns", table.columns},
          {"rows", table.rows},
          {"note", table.note}};
}

Json from_section(const CaseSection& section) {
  Json findings = Json::array();
  for (const CaseFinding& finding : section.findings) findings.push_back(from_finding(finding));
  Json tables = Json::array();
  for (const CaseTable& table : section.tables) tables.push_back(from_table(table));
  return {{"id", section.id},
          {"title", section.title},
          {"question", section.question},
          {"status", std::string(to_string(section.status))},
          {"answer", section.answer},
          {"findings", findings},
          {"tables", tables},
          {"remarks", section.remarks},
          {"warnings", section.warnings},
          {"missing", section.missing},
          {"figures", section.figures}};
}

Json from_figure(const Figure& figure) {
  return {{"id", figure.id},
          {"subject", figure.subject},
          {"quantity", figure.quantity},
          {"value", number(figure.value)},
          {"unit", figure.unit},
          {"uncertainty", number(figure.uncertainty)},
          {"conditions", figure.conditions},
          {"source", figure.source},
          {"place", figure.place},
          {"basis", std::string(to_string(figure.basis))},
          {"reason", figure.reason},
          {"note", figure.note}};
}

Json from_object(const CaseAssessment& assessment) {
  const CaseObject& object = assessment.file.object;
  Json observations = Json::array();
  for (const CaseObservation& seen : assessment.file.observations) {
    observations.push_back({{"date", seen.date}, {"kind", seen.kind}, {"text", seen.text}});
  }
  return {{"name", object.name},
          {"material", object.material},
          {"mass_g", number(object.mass_g)},
          {"features", object.features},
          {"silver_nitrate_test", object.silver_nitrate_test},
          {"notes", object.notes},
          {"observations", observations}};
}

Json from_point(const CaseWaterPoint& point) {
  return {{"name", point.name},
          {"temperature_c", number(point.temperature_c)},
          {"ph", number(point.ph)},
          {"eh_v", number(point.eh_v)},
          {"eh_uncertainty_v", number(point.eh_uncertainty_v)},
          {"log10_activity", point.log10_activity},
          {"log10_carbonate", number(point.log10_carbonate)}};
}

// The settings the logs were read with, so that a drawing can read them the same way.
Json settings_of(const CaseFile& file) {
  const auto place = [&file](const std::string& log) {
    return log.empty() ? Json(nullptr) : Json(file.resolve(log));
  };
  return {{"store",
           {{"log", place(file.store.log)},
            {"onset", file.store.onset},
            {"sensor_accuracy_rh_percent", number(file.store.sensor_accuracy_rh_percent)},
            {"object_cooler_by_k", file.store.object_cooler_by_k}}},
          {"bath",
           {{"log", place(file.bath.log)},
            {"shape", file.bath.shape},
            {"load", file.bath.load},
            {"stop_mg_per_l", number(file.bath.stop_mg_per_l)},
            {"next_volume_l", number(file.bath.next_volume_l)},
            {"next_days", number(file.bath.next_days)},
            {"reading_error_percent", number(file.bath.reading_error_percent)},
            {"volume_error_percent", number(file.bath.volume_error_percent)}}}};
}

Json lists_of(const CaseAssessment& assessment) {
  Json lists;
  lists["sections"] = Json::array();
  for (const CaseSection& section : assessment.sections)
    lists["sections"].push_back(from_section(section));
  lists["waters"] = Json::array();
  for (const CaseWaterPoint& point : assessment.waters)
    lists["waters"].push_back(from_point(point));
  lists["settings"] = settings_of(assessment.file);
  lists["not_known"] = assessment.not_known;
  lists["next"] = Json::array();
  for (const NextMeasurement& next : assessment.next) {
    lists["next"].push_back({{"what", next.what}, {"why", next.why}});
  }
  lists["cautions"] = Json::array();
  for (const Caution& caution : assessment.cautions) {
    lists["cautions"].push_back({{"subject", caution.subject}, {"text", caution.text}});
  }
  lists["limits"] = assessment.limits;
  lists["constants"] = Json::array();
  for (const Figure& figure : assessment.constants)
    lists["constants"].push_back(from_figure(figure));
  lists["sources"] = Json::array();
  for (const Source& source : assessment.sources) {
    lists["sources"].push_back({{"key", source.key}, {"text", source.text}, {"doi", source.doi}});
  }
  lists["inputs"] = Json::array();
  for (const InputFile& input : assessment.inputs) {
    lists["inputs"].push_back(
        {{"role", input.role}, {"path", input.path}, {"content_hash", input.content_hash}});
  }
  return lists;
}

}  // namespace

std::string to_json(const CaseAssessment& assessment) {
  Json json{{"schema", kCaseSchema},
            {"case_file", assessment.file.path},
            {"invented", assessment.file.invented},
            {"date", assessment.date.empty() ? Json(nullptr) : Json(assessment.date)},
            {"library_version", assessment.library_version},
            {"data_set",
             {{"version", assessment.dataset_version}, {"content_hash", assessment.dataset_hash}}},
            {"complete", assessment.complete()},
            {"object", from_object(assessment)},
            {"verdict", std::string(to_string(assessment.verdict))},
            {"probability", number(assessment.probability)},
            {"probability_of", assessment.probability_of},
            {"odds",
             {{"dormant", number(assessment.odds.dormant)},
              {"borderline", number(assessment.odds.borderline)},
              {"active", number(assessment.odds.active)},
              {"rule", assessment.odds.rule}}},
            {"reason", assessment.reason},
            {"in_short", assessment.in_short},
            {"ask_a_conservator", assessment.ask_a_conservator}};
  json.update(lists_of(assessment));
  // Text that is no UTF-8 comes from the user's file; it is shown with replacement characters.
  return json.dump(2, ' ', false, Json::error_handler_t::replace);
}

}  // namespace aeruca
