#include "stability/system.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

namespace {

using Components = std::set<std::size_t>;

void add_components(Components& components, const Species& species) {
  for (std::size_t j = 0; j < species.components.size(); ++j) {
    if (species.components[j] != 0) components.insert(j);
  }
}

Components components_of(const System& system, const std::vector<Held>& held) {
  Components components;
  for (const Held& each : held) add_components(components, system.dataset->species[each.species]);
  return components;
}

Row row_of(const Species& species, const Components& components) {
  Row row;
  for (const std::size_t j : components) row.push_back(species.components[j]);
  return row;
}

// Coefficients of each row in terms of what is held.
std::vector<Row> in_held(const System& system, const std::vector<Held>& held,
                         const Components& components, const std::vector<Row>& rows) {
  std::vector<Row> basis;
  basis.reserve(held.size());
  for (const Held& each : held)
    basis.push_back(row_of(system.dataset->species[each.species], components));
  auto found = express(rows, basis);
  if (!found) throw InputError("log10_activity", "not independent", "one value for each component");
  return *std::move(found);
}

std::string held_names(const System& system, const std::vector<Held>& held) {
  std::vector<std::string> names;
  names.reserve(held.size());
  for (const Held& each : held) names.push_back(system.dataset->species[each.species].name);
  return join(names, ", ");
}

// As many unknown components as values, or it cannot be solved.
void check_counts(const System& system, const std::vector<Held>& held,
                  const Components& components) {
  if (!components.contains(system.dataset->component_index("e(-)")))
    throw InputError("eh_v", "not given", "an Eh value, Eh as an axis, or O2(g) or H2(g) held");
  if (components.size() == held.size()) return;
  std::vector<std::string> names;
  for (const std::size_t j : components) names.push_back(system.dataset->components[j]);
  throw InputError("held activities", held_names(system, held),
                   "exactly one value for each of the components " + join(names, ", "));
}

// sum_k coefficient_k (log10 a_k - log10 K_k): what the held species contribute.
Plane contribution(const std::vector<Held>& held, const Row& coefficients) {
  Plane sum;
  for (std::size_t k = 0; k < held.size(); ++k) {
    if (coefficients[k] == 0) continue;
    const Plane without_constant = held[k].log10_activity + Plane{-held[k].log10_k, 0, 0};
    sum = sum + coefficients[k] * without_constant;
  }
  return sum;
}

void add_form_planes(System& system, const Components& fixed_components) {
  for (const Ligand& ligand : system.ligands) {
    if (fixed_components.contains(ligand.component)) {
      throw InputError("log10_ligand of " + system.dataset->components[ligand.component], "given",
                       "one place: it is already fixed by a held activity");
    }
    std::vector<Plane> planes;
    for (const Held& form : ligand.forms) {
      const Species& species = system.dataset->species[form.species];
      const Row row = row_of(species, fixed_components);
      const Row coefficients = in_held(system, system.fixed, fixed_components, {row}).front();
      const Plane rest = contribution(system.fixed, coefficients) + Plane{form.log10_k, 0, 0} +
                         -1.0 * form.log10_activity;
      planes.push_back((1 / species.components[ligand.component]) * rest);
    }
    system.form_planes.push_back(std::move(planes));
  }
}

bool named(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

bool left_out(const FieldOptions& options, const std::string& name) {
  return std::any_of(options.left_out.begin(), options.left_out.end(),
                     [&](const LeftOut& each) { return each.name == name; });
}

void fill_reasons(System& system) {
  for (LeftOut& each : system.options.left_out) {
    const Species& species = system.dataset->at(each.name);
    if (!each.reason.empty()) continue;
    each.reason =
        species.slow_to_form.empty() ? say("fields.left_out.by_user") : species.slow_to_form;
  }
}

bool made_of(const Species& species, const Components& components, std::size_t copper) {
  for (std::size_t j = 0; j < species.components.size(); ++j) {
    if (species.components[j] != 0 && j != copper && !components.contains(j)) return false;
  }
  return true;
}

void check_only(const System& system, const Components& components, std::size_t copper) {
  for (const std::string& name : system.options.only) {
    const Species& species = system.dataset->at(name);
    if (!(species.components[copper] > 0))
      throw InputError("only", name, "species and solids that hold copper");
    if (made_of(species, components, copper)) continue;
    throw InputError("only", name,
                     "candidates whose components are all given (an activity is missing)");
  }
}

void leave_out_or_refuse(System& system, const std::vector<std::string>& unknown) {
  if (unknown.empty()) return;
  if (system.options.missing_enthalpy != MissingEnthalpy::leave_out) {
    throw InputError("temperature_c", system.options.temperature_c,
                     "25, or leave out those without an enthalpy: " + join(unknown, ", "));
  }
  for (const std::string& name : unknown) system.options.left_out.push_back({name, no_enthalpy()});
}

void add_candidates(System& system, const Components& components) {
  const Dataset& dataset = *system.dataset;
  const FieldOptions& options = system.options;
  const std::size_t copper = dataset.component_index("Cu(2+)");
  check_only(system, components, copper);
  std::vector<std::string> unknown;
  for (std::size_t i = 0; i < dataset.species.size(); ++i) {
    const Species& species = dataset.species[i];
    if (species.kind != PhaseKind::aqueous && species.kind != PhaseKind::solid) continue;
    if (!(species.components[copper] > 0) || !made_of(species, components, copper)) continue;
    if (left_out(options, species.name)) continue;
    if (!options.only.empty() && !named(options.only, species.name)) continue;
    const auto log10_k = constant_at(system, species);
    if (!log10_k) {
      unknown.push_back(species.name);
      continue;  // refused or left out below, all at once
    }
    system.names.push_back(species.name);
    system.candidates.push_back(
        {i, species.components[copper], *log10_k, species.kind == PhaseKind::aqueous,
         errors_of(dataset, species, options.temperature_c, system.error_names)});
  }
  leave_out_or_refuse(system, unknown);
  if (system.candidates.empty())
    throw InputError("candidates", "none", "at least one that is not left out");
}

Plane copper_plane(const FieldOptions& options) {
  if (options.x.quantity == AxisQuantity::log10_copper) return {0, 1, 0};
  if (options.y.quantity == AxisQuantity::log10_copper) return {0, 0, 1};
  return {options.log10_copper, 0, 0};
}

Regime make_regime(const System& system, std::vector<Held> held) {
  Regime regime;
  const Components components = components_of(system, held);
  std::vector<Row> rows;
  for (const Candidate& candidate : system.candidates)
    rows.push_back(row_of(system.dataset->species[candidate.species], components));
  regime.in_held = in_held(system, held, components, rows);
  const Plane copper = copper_plane(system.options);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Candidate& candidate = system.candidates[i];
    Plane q = contribution(held, regime.in_held[i]) + Plane{candidate.log10_k, 0, 0};
    if (candidate.dissolved) q = q + -1.0 * copper;
    regime.planes.push_back((1 / candidate.copper) * q);
  }
  regime.held = std::move(held);
  return regime;
}

void add_regimes(System& system) {
  std::vector<std::vector<Held>> choices{system.fixed};
  // Last ligand first, so that the form of ligand 0 runs fastest.
  for (std::size_t ligand = system.ligands.size(); ligand-- > 0;) {
    std::vector<std::vector<Held>> longer;
    for (const auto& choice : choices) {
      for (const Held& form : system.ligands[ligand].forms) {
        longer.push_back(choice);
        longer.back().push_back(form);
      }
    }
    choices = std::move(longer);
  }
  for (auto& choice : choices) system.regimes.push_back(make_regime(system, std::move(choice)));
}

}  // namespace

std::optional<double> constant_at(System& system, const Species& species) {
  const double temperature_c = system.options.temperature_c;
  if (!Dataset::log10_k_known_at(species, temperature_c)) return std::nullopt;
  if (system.dataset->rests_on_estimate(species, temperature_c)) {
    if (system.options.missing_enthalpy != MissingEnthalpy::estimate) return std::nullopt;
    system.estimated.insert(species.name);
  }
  return system.dataset->log10_k(species, temperature_c);
}

std::vector<std::string> figures_at(const System& system, const Species& species) {
  if (system.options.temperature_c != 25) return species.figures;
  std::vector<std::string> figures;
  for (const auto& [figure, coefficient] : species.constant_terms) figures.push_back(figure);
  return figures;
}

std::string no_enthalpy() {
  return say("fields.left_out.no_enthalpy");
}

System make_system(std::shared_ptr<const Dataset> dataset, FieldOptions options) {
  if (!(options.temperature_c >= 0 && options.temperature_c <= 50))
    throw InputError("temperature_c", options.temperature_c, "0 to 50");
  if (!(options.coverage > 0)) throw InputError("coverage", options.coverage, "above 0");
  System system;
  system.dataset = std::move(dataset);
  system.options = std::move(options);
  system.volts_per_decade = nernst_slope_v(system.options.temperature_c);
  fill_reasons(system);
  add_held(system);
  const Components fixed = components_of(system, system.fixed);
  check_counts(system, system.fixed, fixed);
  add_form_planes(system, fixed);
  Components all = fixed;
  for (const Ligand& ligand : system.ligands) all.insert(ligand.component);
  add_candidates(system, all);
  add_regimes(system);
  return system;
}

std::size_t regime_at(const System& system, Point2 at) {
  std::size_t number = 0;
  std::size_t stride = 1;
  for (const std::vector<Plane>& planes : system.form_planes) {
    std::size_t best = 0;
    for (std::size_t form = 1; form < planes.size(); ++form) {
      if (planes[form](at) > planes[best](at)) best = form;
    }
    number += stride * best;
    stride *= planes.size();
  }
  return number;
}

}  // namespace aeruca::detail
