#include "equilibrium/index_balance.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

namespace aeruca::detail {
namespace {

using Index = Eigen::Index;

// The balances of a water, differentiated. With n the molalities, a the components of a species and
// lambda = log10 a(component), a dissolved species has
//   dn = n ln10 (dlog10 K + a dlambda),
// and each free component has one equation: its total stays, or the charge does (pH unknown), or
// the fugacity of a gas held. A solid that is there keeps its saturation, and its amount is one
// more unknown. So  M u = -R dlog10 K,  u = (dlambda, amounts).
class Balances {
 public:
  Balances(const EquilibriumResult& result, const EquilibriumInput& input,
           const EquilibriumOptions& options, const Dataset& dataset)
      : dataset_(dataset), options_(options) {
    for (std::size_t i = 0; i < result.species.size(); ++i) {
      if (result.molality[i] > 0)
        dissolved_.push_back({&at(result.species[i]), result.molality[i]});
    }
    for (std::size_t p = 0; p < result.allowed_solids.size(); ++p) {
      if (result.solid_mol_per_kg[p] > 0) held_.push_back(&at(result.allowed_solids[p]));
    }
    for (const auto& [gas, fugacity] : input.fugacity_bar) held_.push_back(&at(gas));
    if (options.redox == Redox::oxygen) held_.push_back(&at("O2(g)"));
    list_free();
    fill();
  }

  [[nodiscard]] Balance of(const Species& solid) const {
    if (matrix_.rows() == 0) return {{solid.name, 1}};
    Eigen::VectorXd target = Eigen::VectorXd::Zero(matrix_.rows());
    for (std::size_t j = 0; j < free_.size(); ++j)
      target[static_cast<Index>(j)] = solid.components[free_[j]];
    const Eigen::VectorXd weights = -rates_.transpose() * factors_.solve(target);
    Balance balance{{solid.name, 1}};
    for (std::size_t s = 0; s < dissolved_.size() + held_.size(); ++s) {
      const double weight = weights[static_cast<Index>(s)];
      if (std::abs(weight) >= kLeast) balance.emplace_back(source(s).name, weight);
    }
    return balance;
  }

 private:
  struct Dissolved {
    const Species* species;
    double molality;
  };
  static constexpr double kLeast = 1e-6;

  [[nodiscard]] const Species& at(const std::string& name) const { return dataset_.at(name); }
  [[nodiscard]] const Species& source(std::size_t s) const {
    return s < dissolved_.size() ? *dissolved_[s].species : *held_[s - dissolved_.size()];
  }

  // Components whose activity the water decides: not those that are given, nor those not there.
  void list_free() {
    for (std::size_t j = 0; j < dataset_.components.size(); ++j) {
      const std::string& name = dataset_.components[j];
      if (name == "H2O" || (name == "H(+)" && options_.acidity == Acidity::given_ph)) continue;
      if (name == "e(-)" && options_.redox == Redox::eh) continue;
      const bool there =
          std::any_of(dissolved_.begin(), dissolved_.end(),
                      [j](const Dissolved& each) { return each.species->components[j] != 0; });
      if (there) free_.push_back(j);
    }
  }

  // How often a dissolved species counts in the equation of a free component.
  [[nodiscard]] double counted(const Species& species, std::size_t component) const {
    const bool charge = dataset_.components[component] == "H(+)";
    return charge ? species.charge : species.components[component];
  }

  void fill() {
    const auto free = static_cast<Index>(free_.size());
    const auto dissolved = static_cast<Index>(dissolved_.size());
    const auto rows = free + static_cast<Index>(held_.size());
    matrix_ = Eigen::MatrixXd::Zero(rows, rows);
    rates_ = Eigen::MatrixXd::Zero(rows, dissolved + static_cast<Index>(held_.size()));
    for (std::size_t h = 0; h < held_.size(); ++h) {
      const Index row = free + static_cast<Index>(h);
      rates_(row, dissolved + static_cast<Index>(h)) = 1;
      for (Index j = 0; j < free; ++j) {
        matrix_(row, j) = held_[h]->components[free_[static_cast<std::size_t>(j)]];
      }
    }
    for (Index i = 0; i < free; ++i) fill_balance(i);
    // Nothing is free where everything is given, nor in a water without an answer.
    if (rows > 0) factors_.compute(matrix_.transpose());
  }

  void fill_balance(Index i) {
    double whole = 0;
    for (const auto& [species, molality] : dissolved_)
      whole += molality * std::abs(counted(*species, free_[static_cast<std::size_t>(i)]));
    for (std::size_t s = 0; s < dissolved_.size(); ++s) {
      const auto& [species, molality] = dissolved_[s];
      const double rate = molality * counted(*species, free_[static_cast<std::size_t>(i)]) / whole;
      rates_(i, static_cast<Index>(s)) = rate;
      for (std::size_t j = 0; j < free_.size(); ++j)
        matrix_(i, static_cast<Index>(j)) += rate * species->components[free_[j]];
    }
    // A gas that is held is let in or out like a solid that forms, by any amount.
    for (std::size_t h = 0; h < held_.size(); ++h) {
      matrix_(i, static_cast<Index>(free_.size() + h)) =
          counted(*held_[h], free_[static_cast<std::size_t>(i)]) / whole;
    }
  }

  const Dataset& dataset_;
  const EquilibriumOptions& options_;
  std::vector<Dissolved> dissolved_;
  std::vector<const Species*> held_;  // solids that are there, then gases
  std::vector<std::size_t> free_;
  Eigen::MatrixXd matrix_;  // M
  Eigen::MatrixXd rates_;   // R: by equation and constant
  Eigen::FullPivLU<Eigen::MatrixXd> factors_;
};

}  // namespace

std::map<std::string, Balance> index_balances(const EquilibriumResult& result,
                                              const EquilibriumInput& input,
                                              const EquilibriumOptions& options,
                                              const Dataset& dataset) {
  const Balances balances(result, input, options, dataset);
  std::map<std::string, Balance> all;
  for (const auto& [solid, index] : result.saturation_index)
    all.emplace(solid, balances.of(dataset.at(solid)));
  return all;
}

}  // namespace aeruca::detail
