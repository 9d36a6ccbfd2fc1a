#pragma once

// The steps from planes to a diagram.

#include <vector>

#include "numerics/subdivision.hpp"
#include "stability/frame.hpp"
#include "stability/system.hpp"
#include "uncertainty/alternatives.hpp"

namespace aeruca::detail {

/// Convex tiles: label is the candidate, tag the regime.
[[nodiscard]] Subdivision tile_frame(const System& system, const Frame& frame);
[[nodiscard]] std::vector<Edge> edges_of(const System& system, const Frame& frame,
                                         const Subdivision& net, const Alternatives& alternatives);
[[nodiscard]] std::vector<WaterLine> water_lines_of(const System& system, const Frame& frame);
[[nodiscard]] std::vector<Rival> rivals_of(const System& system, std::size_t candidate);
[[nodiscard]] std::vector<std::string> warnings_of(const System& system,
                                                   const std::vector<Field>& fields);
[[nodiscard]] FieldDiagram make_diagram(const System& system, const Alternatives& alternatives);

}  // namespace aeruca::detail
