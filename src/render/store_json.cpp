#include "render/describe_store.hpp"
#include "render/json.hpp"
#include "render/store_report.hpp"

namespace aeruca::detail {

std::string store_json(const LoggerRecord& record, const StoreAssessment& assessment,
                       const Dataset& dataset) {
  return document_text({{"record", json_of(record)},
                        {"assessment", json_of(assessment)},
                        {"data_set", data_set_json(dataset)}});
}

}  // namespace aeruca::detail
