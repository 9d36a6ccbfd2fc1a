#pragma once

// A diagram or a point as text or JSON.

#include "aeruca/stability.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {

void print_diagram(Context& context, const FieldDiagram& diagram);
void print_point(Context& context, const FieldModel& model, Point point, const PointAnswer& answer);

}  // namespace aeruca::cli
