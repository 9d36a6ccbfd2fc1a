#include "render/describe_store.hpp"
#include "render/json.hpp"
#include "render/store_report.hpp"

namespace aeruca::detail {

std::string store_json(const LoggerRecord& record, const StoreAssessment& assessment,
                       const std::optional<TwoLoggers>& two, const Dataset& dataset) {
  Json document{{"record", json_of(record)}, {"assessment", json_of(assessment)}};
  if (two) document["two_loggers"] = json_of(*two);
  document["data_set"] = data_set_json(dataset);
  return document_text(document);
}

}  // namespace aeruca::detail
