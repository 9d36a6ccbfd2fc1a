// From planes to fields and corners.

#include "stability/diagram.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

namespace {

struct Cell {
  Polygon2 polygon;
  std::size_t regime = 0;
};

// The frame cut into cells in which each ligand keeps one form.
std::vector<Cell> cells_of(const System& system, const Frame& frame) {
  std::vector<Cell> cells{{kUnitSquare, 0}};
  std::size_t stride = 1;
  for (const std::vector<Plane>& forms : system.form_planes) {
    const std::vector<Plane> planes = frame.to_unit(forms);
    std::vector<Cell> finer;
    for (const Cell& cell : cells) {
      std::vector<Polygon2> parts = upper_envelope(planes, cell.polygon);
      for (std::size_t form = 0; form < parts.size(); ++form) {
        if (!parts[form].empty())
          finer.push_back({std::move(parts[form]), cell.regime + stride * form});
      }
    }
    stride *= forms.size();
    cells = std::move(finer);
  }
  return cells;
}

}  // namespace

Subdivision tile_frame(const System& system, const Frame& frame) {
  std::vector<Piece> pieces;
  for (const Cell& cell : cells_of(system, frame)) {
    std::vector<Polygon2> parts =
        upper_envelope(frame.to_unit(system.regimes[cell.regime].planes), cell.polygon);
    for (std::size_t candidate = 0; candidate < parts.size(); ++candidate) {
      if (!parts[candidate].empty())
        pieces.push_back({std::move(parts[candidate]), candidate, cell.regime});
    }
  }
  return subdivide(pieces);
}

namespace {

// Same make-up per copper atom: parallel wherever they meet.
bool parallel(const System& system, std::size_t a, std::size_t b) {
  const Candidate& ca = system.candidates[a];
  const Candidate& cb = system.candidates[b];
  if (ca.dissolved != cb.dissolved || (ca.dissolved && ca.copper != cb.copper)) return false;
  const std::vector<double>& na = system.species_of(a).components;
  const std::vector<double>& nb = system.species_of(b).components;
  for (std::size_t j = 0; j < na.size(); ++j) {
    const bool water = system.dataset->components[j] == "H2O";
    if (!water && std::abs(na[j] / ca.copper - nb[j] / cb.copper) > 1e-12) return false;
  }
  return true;
}

}  // namespace

std::vector<Rival> rivals_of(const System& system, std::size_t candidate) {
  std::vector<Rival> rivals;
  const Regime& regime = system.regimes.front();
  for (std::size_t other = 0; other < system.candidates.size(); ++other) {
    if (other == candidate || !parallel(system, candidate, other)) continue;
    const double gap = difference(regime.planes[candidate], regime.planes[other]).c;
    const double uncertainty = gap_uncertainty(system, regime, candidate, other);
    if (gap <= system.options.coverage * uncertainty || gap == 0)
      rivals.push_back({system.names[other], gap, uncertainty});
  }
  return rivals;
}

namespace {

Field make_field(const System& system, const Frame& frame, const Subdivision& net,
                 std::size_t candidate) {
  Field field;
  const Species& species = system.species_of(candidate);
  field.species = species.name;
  field.formula = species.formula;
  field.kind = species.kind;
  field.colour = species.colour;
  for (const Piece& piece : net.pieces) {
    if (piece.label != candidate) continue;
    field.area_fraction += signed_area(piece.polygon);
    field.pieces.push_back(frame.to_axes(piece.polygon));
  }
  const std::vector<Polygon2> outlines = net.outlines(candidate);
  for (const Polygon2& outline : outlines) field.outlines.push_back(frame.to_axes(outline));
  const InnerPoint inner = inner_point(outlines);
  field.label = frame.to_axes(inner.at);
  field.label_room = inner.room;
  field.rivals = rivals_of(system, candidate);
  return field;
}

std::vector<Corner> corners_of(const System& system, const Frame& frame, const Subdivision& net) {
  std::vector<Corner> corners;
  for (std::size_t i = 0; i < net.vertices.size(); ++i) {
    if (net.labels_at[i].size() < 3) continue;
    Corner corner{frame.to_axes(net.vertices[i]), {}};
    for (const std::size_t label : net.labels_at[i]) corner.species.push_back(system.names[label]);
    corners.push_back(std::move(corner));
  }
  return corners;
}

std::vector<std::string> figures_of(const System& system) {
  std::set<std::string> figures;
  const auto add = [&](const Species& species) {
    for (const std::string& figure : figures_at(system, species)) figures.insert(figure);
  };
  for (const Candidate& candidate : system.candidates)
    add(system.dataset->species[candidate.species]);
  for (const Regime& regime : system.regimes) {
    for (const Held& held : regime.held) add(system.dataset->species[held.species]);
  }
  return {figures.begin(), figures.end()};
}

bool has_field(const std::vector<Field>& fields, const std::string& name) {
  return std::any_of(fields.begin(), fields.end(),
                     [&](const Field& field) { return field.species == name; });
}

void add_absent(const System& system, std::vector<std::string>& warnings) {
  std::set<std::size_t> given;
  for (const Held& held : system.regimes.front().held) {
    const Species& species = system.dataset->species[held.species];
    for (std::size_t j = 0; j < species.components.size(); ++j) {
      if (species.components[j] != 0) given.insert(j);
    }
  }
  std::vector<std::string> absent;
  for (const char* name : {"Cl(-)", "CO3(2-)", "SO4(2-)"}) {
    const auto& names = system.dataset->components;
    const auto found = std::find(names.begin(), names.end(), name);
    if (found != names.end() && !given.contains(static_cast<std::size_t>(found - names.begin())))
      absent.emplace_back(name);
  }
  if (!absent.empty())
    warnings.push_back(say("fields.warning.not_given", {{"species", join(absent, ", ")}}));
}

std::string listed(const std::set<std::string>& names) {
  return join(std::vector<std::string>(names.begin(), names.end()), ", ");
}

void add_unstated(const System& system, std::vector<std::string>& warnings) {
  std::set<std::string> unstated;
  const auto look = [&](std::size_t number) {
    for (const auto& [figure, coefficient] :
         Dataset::terms_at(system.dataset->species[number], system.options.temperature_c)) {
      if (coefficient != 0 && std::isnan(system.dataset->figure(figure).uncertainty))
        unstated.insert(figure);
    }
  };
  for (const Candidate& candidate : system.candidates) look(candidate.species);
  for (const Regime& regime : system.regimes) {
    for (const Held& held : regime.held) look(held.species);
  }
  if (!unstated.empty())
    warnings.push_back(say("fields.warning.not_stated", {{"figures", listed(unstated)}}));
}

// Of the estimates those that hold a field here; the rest are in FieldDiagram::estimated_heats.
void add_estimated(const System& system, const std::vector<Field>& fields,
                   std::vector<std::string>& warnings) {
  std::vector<std::string> names;
  for (const Field& field : fields) {
    if (system.estimated.contains(field.species)) names.push_back(field.species);
  }
  if (!names.empty())
    warnings.push_back(say("fields.warning.estimated_heat", {{"species", join(names, ", ")}}));
}

// What was left out for want of an enthalpy may hold a field at 25 degrees C: then those beside it
// are too large.
void add_missed(const System& system, std::vector<std::string>& warnings) {
  FieldOptions options = system.options;
  options.temperature_c = 25;
  std::set<std::string> unknown;
  std::erase_if(options.left_out, [&](const LeftOut& each) {
    if (each.reason != no_enthalpy()) return false;
    unknown.insert(each.name);
    return true;
  });
  if (unknown.empty()) return;
  const System warm = make_system(system.dataset, options);
  std::set<std::string> missed;
  for (const Piece& piece : tile_frame(warm, Frame(options)).pieces) {
    if (unknown.contains(warm.names[piece.label])) missed.insert(warm.names[piece.label]);
  }
  if (missed.empty()) return;
  warnings.push_back(say("fields.warning.missed", {{"species", listed(missed)}}));
}

}  // namespace

std::vector<std::string> warnings_of(const System& system, const std::vector<Field>& fields) {
  std::vector<std::string> warnings;
  add_absent(system, warnings);
  add_missed(system, warnings);
  add_estimated(system, fields, warnings);
  for (const Field& field : fields) {
    const Species& species = system.dataset->at(field.species);
    if (!species.slow_to_form.empty())
      warnings.push_back(say("fields.warning.slow_to_form",
                             {{"solid", field.species}, {"reason", species.slow_to_form}}));
    for (const Rival& rival : field.rivals)
      warnings.push_back(say("fields.warning.not_told_apart",
                             {{"one", field.species},
                              {"other", rival.species},
                              {"gap", format_number(rival.gap_log10, 2) + " +/- " +
                                          format_number(rival.gap_uncertainty_log10, 2)}}));
  }
  add_unstated(system, warnings);
  return warnings;
}

FieldDiagram make_diagram(const System& system, const Alternatives& alternatives) {
  const Frame frame(system.options);
  const Subdivision net = tile_frame(system, frame);
  FieldDiagram diagram;
  diagram.options = system.options;
  std::set<std::size_t> labels;
  for (const Piece& piece : net.pieces) labels.insert(piece.label);
  for (const std::size_t label : labels)
    diagram.fields.push_back(make_field(system, frame, net, label));
  diagram.edges = edges_of(system, frame, net, alternatives);
  diagram.corners = corners_of(system, frame, net);
  diagram.water_lines = water_lines_of(system, frame);
  diagram.candidates = system.names;
  for (const std::string& name : system.names) {
    if (!has_field(diagram.fields, name)) diagram.without_field.push_back(name);
  }
  diagram.left_out = system.options.left_out;
  diagram.estimated_heats.assign(system.estimated.begin(), system.estimated.end());
  diagram.warnings = warnings_of(system, diagram.fields);
  diagram.figures = figures_of(system);
  diagram.dataset_version = system.dataset->version;
  diagram.dataset_hash = system.dataset->content_hash;
  return diagram;
}

}  // namespace aeruca::detail
