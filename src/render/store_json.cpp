#include "render/describe_store.hpp"
#include "render/enclosure_report.hpp"
#include "render/json.hpp"
#include "render/store_report.hpp"

namespace aeruca::detail {

std::string store_json(const LoggerRecord& record, const StoreAssessment& assessment,
                       const std::optional<TwoLoggers>& two, const std::optional<StoreBox>& box,
                       const Dataset& dataset) {
  Json document{{"record", json_of(record)}, {"assessment", json_of(assessment)}};
  if (two) document["two_loggers"] = json_of(*two);
  if (box) document["box"] = box_json(box->review, box->fit);
  document["data_set"] = data_set_json(dataset);
  return document_text(document);
}

}  // namespace aeruca::detail
