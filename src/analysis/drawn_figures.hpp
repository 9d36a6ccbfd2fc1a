#pragma once

// The figures of one water that have ranges, by number, and how each is read from an answer.
// Private to the analysis part.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "equilibrium/moved_system.hpp"

namespace aeruca::detail {

enum class FigureKind {
  ph,
  eh_v,
  ionic_strength,
  dissolved,  ///< log10 of all of an element, mol/kg
  molality,   ///< log10 of a species, mol/kg
  index,      ///< of a solid
  solid,      ///< mol/kg of a solid that may form
  fugacity    ///< log10 of a gas, bar
};

class DrawnFigures {
 public:
  DrawnFigures() = default;
  /// What an answer of the system holds, in the order of the system.
  DrawnFigures(const WaterSystem& system, const MovedAnswer& answer);

  [[nodiscard]] std::size_t size() const { return figures_.size(); }
  [[nodiscard]] FigureKind kind(std::size_t number) const { return figures_[number].kind; }
  [[nodiscard]] const std::string& name(std::size_t number) const { return figures_[number].name; }
  [[nodiscard]] double value(std::size_t number, const MovedAnswer& answer) const;
  /// Number of the figure that is the amount of a solid; none where it may not form.
  [[nodiscard]] std::optional<std::size_t> amount_of(const std::string& solid) const;

 private:
  struct Figure {
    FigureKind kind;
    std::string name;
    std::size_t place;  // in its list of the answer; of an element in `holding_`
  };
  void add_elements(const WaterSystem& system, const MovedAnswer& answer);
  void add_solids(const WaterSystem& system, const MovedAnswer& answer);

  std::vector<Figure> figures_;
  // By element the species that hold it, and how much of it one does.
  std::vector<std::vector<std::pair<std::size_t, double>>> holding_;
};

}  // namespace aeruca::detail
