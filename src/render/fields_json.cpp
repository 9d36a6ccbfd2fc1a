#include "render/describe_stability.hpp"
#include "render/fields_text.hpp"
#include "render/json.hpp"

namespace aeruca::detail {

std::string diagram_json(const FieldDiagram& diagram) {
  Json json{{"x", json_of(diagram.options.x)}, {"y", json_of(diagram.options.y)}};
  json.update(json_of(diagram));
  json["left_out"] = json_of(diagram.left_out);
  json["data_set"] = {{"version", diagram.dataset_version}, {"content_hash", diagram.dataset_hash}};
  return document_text(json);
}

std::string point_json(const FieldOptions& options, Point point, const PointAnswer& answer,
                       const Dataset& dataset) {
  Json json{{"x", point.x}, {"y", point.y}, {"conditions", conditions_text(options)}};
  json.update(json_of(answer));
  json["data_set"] = data_set_json(dataset);
  return document_text(json);
}

}  // namespace aeruca::detail
