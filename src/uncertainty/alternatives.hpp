#pragma once

// What else was published for the figures that constants rest on.

#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "uncertainty/combination.hpp"

namespace aeruca::detail {

/// Figures that stand beside a chosen one: same subject, quantity, conditions and unit, with a
/// value of their own. They point into the data set.
std::vector<const Figure*> alternatives(const Dataset& dataset, const Figure& chosen);

/// The largest change of a sum of constants at a temperature when one figure gives way to another;
/// 0 where there is none.
double widest_change(const Dataset& dataset, const Balance& balance, double temperature_c);

/// A figure that could stand in place of the chosen one.
struct OtherFigure {
  double change;  ///< from the chosen figure, in its unit
  std::string id;
};

/// The chosen figures of a data set that have others beside them, looked up once for a temperature.
/// One at a time is put in place of the chosen one; what two constants owe to it cancels.
class Alternatives {
 public:
  Alternatives(const Dataset& dataset, double temperature_c);

  /// d (sum of constants) / d figure, by number of the figure.
  using Slopes = std::map<std::size_t, double>;
  /// Adds `count` times the constant of a species, by its place in the data set.
  void add(std::size_t species, double count, Slopes& sum) const;
  [[nodiscard]] const std::vector<OtherFigure>& others(std::size_t number) const {
    return others_[number];
  }

 private:
  using Terms = std::vector<std::pair<std::size_t, double>>;  // number of the figure, coefficient
  std::vector<std::vector<OtherFigure>> others_;              // by number of the chosen figure
  std::vector<Terms> terms_;  // by species of the data set; only figures with others
};

}  // namespace aeruca::detail
