// Where two forms of copper change places at one pH, whatever the potential.

#include "aeruca/stability.hpp"

namespace aeruca {

PhBoundary ph_boundary(const std::shared_ptr<const Dataset>& dataset, const std::string& one,
                       const std::string& other, FieldOptions held) {
  held.x = {AxisQuantity::ph, "", -2, 16};
  held.y = {AxisQuantity::eh_v, "", -3, 3};
  held.ph.reset();
  held.eh_v.reset();
  held.only = {one, other};
  const FieldDiagram diagram = field_diagram(dataset, held);
  if (diagram.edges.empty()) return {};
  const Edge& edge = diagram.edges.front();
  if (!edge.line.vertical)
    throw InputError("other", other, "a form of the same oxidation state as '" + one + "'");
  return {edge.line.vertical_x, edge.line.uncertainty, edge.figures};
}

}  // namespace aeruca
