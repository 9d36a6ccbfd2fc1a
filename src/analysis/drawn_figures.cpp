#include "analysis/drawn_figures.hpp"

#include <algorithm>
#include <cmath>

#include "analysis/words.hpp"

namespace aeruca::detail {

DrawnFigures::DrawnFigures(const WaterSystem& system, const MovedAnswer& answer) {
  figures_ = {{FigureKind::ph, "ph", 0},
              {FigureKind::eh_v, "eh_v", 0},
              {FigureKind::ionic_strength, "ionic_strength", 0}};
  add_elements(system, answer);
  const auto add = [&](FigureKind kind, const Members& members, const std::vector<double>& values) {
    for (std::size_t i = 0; i < values.size(); ++i) {
      if (std::isfinite(values[i])) figures_.push_back({kind, members.names[i], i});
    }
  };
  add(FigureKind::molality, system.species, answer.log10_molality);
  add(FigureKind::index, system.solids, answer.saturation_index);
  add_solids(system, answer);
  add(FigureKind::fugacity, system.gases, answer.log10_fugacity);
}

void DrawnFigures::add_elements(const WaterSystem& system, const MovedAnswer& answer) {
  for (std::size_t j = 0; j < system.columns.size(); ++j) {
    if (is_water_component(system.columns[j])) continue;
    std::vector<std::pair<std::size_t, double>> holding;
    for (std::size_t i = 0; i < answer.molality.size(); ++i) {
      const double holds = system.species.expressions.row(i)[j];
      if (holds != 0 && answer.molality[i] > 0) holding.emplace_back(i, holds);
    }
    if (holding.empty()) continue;
    figures_.push_back(
        {FigureKind::dissolved, ion_word(system.dataset->at(system.columns[j])), holding_.size()});
    holding_.push_back(std::move(holding));
  }
}

// Solids that may form are no fewer for not being there undrawn.
void DrawnFigures::add_solids(const WaterSystem& system, const MovedAnswer& answer) {
  const auto& solids = system.solids.names;
  for (std::size_t p = 0; p < system.phases.names.size(); ++p) {
    const std::string& name = system.phases.names[p];
    const auto place = std::find(solids.begin(), solids.end(), name) - solids.begin();
    if (std::isfinite(answer.saturation_index[static_cast<std::size_t>(place)]))
      figures_.push_back({FigureKind::solid, name, p});
  }
}

double DrawnFigures::value(std::size_t number, const MovedAnswer& answer) const {
  const Figure& figure = figures_[number];
  switch (figure.kind) {
    case FigureKind::ph:
      return answer.ph;
    case FigureKind::eh_v:
      return answer.eh_v;
    case FigureKind::ionic_strength:
      return answer.ionic_strength;
    case FigureKind::molality:
      return answer.log10_molality[figure.place];
    case FigureKind::index:
      return answer.saturation_index[figure.place];
    case FigureKind::solid:
      return answer.solid_mol_per_kg[figure.place];
    case FigureKind::fugacity:
      return answer.log10_fugacity[figure.place];
    case FigureKind::dissolved:
      break;
  }
  double sum = 0;
  for (const auto& [species, holds] : holding_[figure.place])
    sum += holds * answer.molality[species];
  return std::log10(sum);
}

std::optional<std::size_t> DrawnFigures::amount_of(const std::string& solid) const {
  const auto found = std::find_if(figures_.begin(), figures_.end(), [&](const Figure& each) {
    return each.kind == FigureKind::solid && each.name == solid;
  });
  if (found == figures_.end()) return std::nullopt;
  return static_cast<std::size_t>(found - figures_.begin());
}

}  // namespace aeruca::detail
