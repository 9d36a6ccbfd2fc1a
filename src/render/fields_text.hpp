#pragma once

// How `aeruca fields` reads: a diagram, or the answer at one point.

#include <string>

#include "aeruca/stability.hpp"

namespace aeruca::detail {

std::string diagram_text(const FieldDiagram& diagram);
std::string diagram_json(const FieldDiagram& diagram);

/// The answer of a model with these options at a point.
std::string point_text(const FieldOptions& options, Point point, const PointAnswer& answer,
                       const Dataset& dataset);
std::string point_json(const FieldOptions& options, Point point, const PointAnswer& answer,
                       const Dataset& dataset);

}  // namespace aeruca::detail
