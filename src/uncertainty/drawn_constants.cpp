#include "uncertainty/drawn_constants.hpp"

#include <algorithm>
#include <cmath>

#include "numerics/normal.hpp"
#include "uncertainty/alternatives.hpp"

namespace aeruca::detail {
namespace {

double or_zero(double uncertainty) {
  return std::isnan(uncertainty) ? 0 : uncertainty;
}

DrawnFigure drawn(const Dataset& dataset, const Figure& chosen) {
  DrawnFigure figure{chosen.id, or_zero(chosen.uncertainty), {}};
  for (const Figure* other : alternatives(dataset, chosen)) {
    figure.others.push_back({other->value - chosen.value, std::isnan(other->uncertainty)
                                                              ? figure.uncertainty
                                                              : other->uncertainty});
  }
  return figure;
}

std::size_t place_of(const std::string& id, const std::vector<DrawnFigure>& figures) {
  const auto found = std::find_if(figures.begin(), figures.end(),
                                  [&](const DrawnFigure& each) { return each.id == id; });
  return static_cast<std::size_t>(found - figures.begin());
}

}  // namespace

DrawnConstants::DrawnConstants(const Dataset& dataset, std::span<const std::size_t> species,
                               double temperature_c)
    : terms_(dataset.species.size()) {
  for (const std::size_t s : species) {
    Terms& terms = terms_[s];
    if (!terms.empty()) continue;
    for (const auto& [id, coefficient] : Dataset::terms_at(dataset.species[s], temperature_c))
      add_term(dataset, id, coefficient, terms);
  }
}

void DrawnConstants::add_term(const Dataset& dataset, const std::string& id, double coefficient,
                              Terms& terms) {
  const std::size_t number = place_of(id, figures_);
  if (number < figures_.size()) {
    terms.emplace_back(number, coefficient);
    return;
  }
  const Figure& chosen = dataset.figure(id);
  DrawnFigure figure = drawn(dataset, chosen);
  if (figure.uncertainty > 0 || !figure.others.empty()) {
    terms.emplace_back(number, coefficient);
    figures_.push_back(std::move(figure));
  } else if (std::isnan(chosen.uncertainty) &&
             std::find(exact_.begin(), exact_.end(), id) == exact_.end()) {
    exact_.push_back(id);
  }
}

void DrawnConstants::changes(std::span<const double> off,
                             std::vector<double>& log10_changes) const {
  log10_changes.assign(terms_.size(), 0);
  for (std::size_t s = 0; s < terms_.size(); ++s) {
    for (const auto& [figure, coefficient] : terms_[s])
      log10_changes[s] += coefficient * off[figure];
  }
}

FigureDraws::FigureDraws(const DrawnConstants& constants, std::size_t draws, std::uint64_t seed)
    : constants_(constants),
      normal_(draws, constants.figures().size(), seed),
      choice_(draws, constants.figures().size(), ~seed) {}

void FigureDraws::off(std::size_t draw, Doubt doubt, std::vector<double>& figures) const {
  const auto normal = normal_.sample(draw);
  const auto choice = choice_.sample(draw);
  figures.resize(normal.size());
  for (std::size_t f = 0; f < figures.size(); ++f) {
    const DrawnFigure& figure = constants_.figures()[f];
    figures[f] = figure.uncertainty * normal[f];
    if (doubt == Doubt::stated || figure.others.empty()) continue;
    // Every published figure alike, the chosen one first.
    const auto published = static_cast<double>(figure.others.size() + 1);
    const double place = std::min(published * normal_below(choice[f]), published - 1);
    if (place < 1) continue;
    const PublishedFigure& other = figure.others[static_cast<std::size_t>(place) - 1];
    figures[f] = other.change + other.uncertainty * normal[f];
  }
}

}  // namespace aeruca::detail
