#pragma once

// Random constants of many species: the figures that they rest on are drawn, each once in a draw,
// and every constant follows, so that those which share a figure move together.

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/dataset.hpp"
#include "uncertainty/draws.hpp"

namespace aeruca::detail {

/// What is doubted of a figure.
enum class Doubt {
  stated,    ///< its value, as its source states the uncertainty
  published  ///< that, and which of the published figures is the right one
};

/// Another published figure in place of the chosen one.
struct PublishedFigure {
  double change = 0;       ///< from the chosen figure, in its unit
  double uncertainty = 0;  ///< its own, or that of the chosen one where none is stated
};

/// A figure that is drawn.
struct DrawnFigure {
  std::string id;
  double uncertainty = 0;  ///< one standard uncertainty, in its unit; 0: none stated
  std::vector<PublishedFigure> others;
};

class DrawnConstants {
 public:
  /// The constants of the species at these places in the data set, at a temperature: away from 25
  /// degrees C their heats and heat capacities of reaction are drawn too, as far as they move them.
  DrawnConstants(const Dataset& dataset, std::span<const std::size_t> species,
                 double temperature_c);

  [[nodiscard]] const std::vector<DrawnFigure>& figures() const { return figures_; }
  /// Ids of figures that count as exact, for they state no uncertainty and stand alone.
  [[nodiscard]] const std::vector<std::string>& exact() const { return exact_; }

  /// By how much log10 K of every species of the data set changes when the figures are off by this,
  /// each in its unit.
  void changes(std::span<const double> off, std::vector<double>& log10_changes) const;

 private:
  using Terms = std::vector<std::pair<std::size_t, double>>;  // number of the figure, coefficient
  void add_term(const Dataset& dataset, const std::string& id, double coefficient, Terms& terms);

  std::vector<DrawnFigure> figures_;
  std::vector<std::string> exact_;
  std::vector<Terms> terms_;  // by species of the data set
};

/// Seeded draws of those figures: the same for one seed on every platform, and those of fewer draws
/// the first of more.
class FigureDraws {
 public:
  FigureDraws(const DrawnConstants& constants, std::size_t draws, std::uint64_t seed);

  [[nodiscard]] std::size_t draws() const { return normal_.samples(); }
  /// By how much each figure is off, in its unit. Both doubts use the same normal draws, so that
  /// they differ by the choice among published figures alone.
  void off(std::size_t draw, Doubt doubt, std::vector<double>& figures) const;

 private:
  const DrawnConstants& constants_;
  Draws normal_, choice_;
};

}  // namespace aeruca::detail
