// Specific-ion interaction: Ciavatta 1980, Ann. Chim. (Rome) 70, 551, in the form of the NEA
// reviews:
//   log10 gamma_i = -z_i^2 A sqrt I / (1 + 1.5 sqrt I) + sum_j epsilon(i,j) m_j
// over ions j of opposite sign; the water activity from the osmotic coefficient of the same
// function.

#include <algorithm>

#include "activity/models.hpp"
#include "activity/quadratic.hpp"
#include "activity/sit_coefficients.hpp"
#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

std::vector<double> interaction_matrix(std::span<const PairCoefficient> pairs, std::size_t n) {
  std::vector<double> matrix(n * n, 0);
  for (const auto& pair : pairs) {
    matrix[pair.cation * n + pair.anion] = kLn10 * pair.value;
    matrix[pair.anion * n + pair.cation] = kLn10 * pair.value;
  }
  return matrix;
}

class SpecificIon : public QuadraticExcess {
 public:
  SpecificIon(const Dataset& dataset, std::span<const std::string> species,
              std::span<const PairCoefficient> pairs, double temperature_c)
      : QuadraticExcess(charges_of(dataset, species),
                        {kLn10 * debye_hueckel_slopes(temperature_c).a_log10, 1.5, 0.0},
                        interaction_matrix(pairs, species.size())) {
    for (const auto& pair : pairs) tell(pair, species);
    describe(temperature_c);
  }

  [[nodiscard]] double ionic_strength_max(std::span<const double> /*molality*/) const override {
    return 3.5;
  }
  [[nodiscard]] std::vector<std::string> figures() const override { return figures_; }
  [[nodiscard]] std::vector<std::string> remarks() const override { return remarks_; }
  [[nodiscard]] std::vector<EstimatedPair> estimated_pairs() const override { return estimated_; }

 private:
  void tell(const PairCoefficient& pair, std::span<const std::string> species) {
    const std::string label =
        say("activity.pair", {{"one", species[pair.cation]}, {"other", species[pair.anion]}});
    if (pair.origin != PairCoefficient::Origin::tabulated)
      estimated_.push_back({pair.cation, pair.anion, pair.uncertainty});
    if (pair.origin == PairCoefficient::Origin::estimated) {
      estimates_.push_back(label + " " + format_number(pair.value, 2) + " +/- " +
                           format_number(pair.uncertainty, 2));
      return;
    }
    if (pair.origin == PairCoefficient::Origin::perchlorate) perchlorate_.push_back(label);
    if (!pair.figure.empty() &&
        std::find(figures_.begin(), figures_.end(), pair.figure) == figures_.end()) {
      figures_.push_back(pair.figure);
    }
  }

  void describe(double temperature_c) {
    remarks_.push_back(say("activity.sit.neutral"));
    if (temperature_c != 25.0) {
      remarks_.push_back(
          say("activity.sit.temperature", {{"temperature_c", format_number(temperature_c)}}));
    }
    if (!perchlorate_.empty()) {
      remarks_.push_back(say("activity.sit.perchlorate", {{"pairs", join(perchlorate_, ", ")}}));
    }
    if (!estimates_.empty()) {
      remarks_.push_back(say("activity.sit.estimated", {{"pairs", join(estimates_, ", ")}}));
    }
  }

  std::vector<std::string> figures_, remarks_, perchlorate_, estimates_;
  std::vector<EstimatedPair> estimated_;
};

}  // namespace

std::unique_ptr<Activity> make_sit(const Dataset& dataset, std::span<const std::string> species,
                                   double temperature_c) {
  return std::make_unique<SpecificIon>(dataset, species, sit_coefficients(dataset, species),
                                       temperature_c);
}

}  // namespace aeruca::detail
