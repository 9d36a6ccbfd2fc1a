// Specific-ion interaction: Ciavatta 1980, Ann. Chim. (Rome) 70, 551, in the form of the NEA
// reviews:
//   log10 gamma_i = -z_i^2 A sqrt I / (1 + 1.5 sqrt I) + sum_j epsilon(i,j) m_j
// over ions j of opposite sign; the water activity from the osmotic coefficient of the same
// function.

#include <algorithm>

#include "activity/excess.hpp"
#include "activity/models.hpp"
#include "activity/sit_coefficients.hpp"
#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

class SpecificIon : public Activity {
 public:
  SpecificIon(const Dataset& dataset, std::span<const std::string> species, double temperature_c)
      : charge_(charges_of(dataset, species)),
        law_{kLn10 * debye_hueckel_slopes(temperature_c).a_log10, 1.5, 0.0},
        interaction_(species.size() * species.size(), 0.0) {
    for (const double z : charge_) square_.push_back(z * z);
    for (const auto& pair : sit_coefficients(dataset, species)) take(pair, species);
    describe(temperature_c);
  }

  void evaluate(std::span<const double> molality, ActivityValues& out) const override {
    begin(molality, charge_, out);
    const auto law = law_.at(out.ionic_strength);
    const std::size_t n = charge_.size();
    double pairs = 0;  // sum_i sum_j epsilon m m ln 10, each pair twice
    for (std::size_t i = 0; i < n; ++i) {
      const double* row = interaction_.data() + i * n;
      double* slope = out.ln_gamma_by_molality.data() + i * n;
      const double factor = -0.5 * square_[i] * law.slope;
      double sum = 0;
      for (std::size_t j = 0; j < n; ++j) {
        sum += row[j] * molality[j];
        slope[j] = row[j] + factor * square_[j];
      }
      out.ln_gamma[i] = sum - square_[i] * law.d;
      pairs += molality[i] * sum;
    }
    finish_water(molality, 0.5 * pairs - law.f, out);
  }

  [[nodiscard]] double ionic_strength_max() const override { return 3.5; }
  [[nodiscard]] std::vector<std::string> figures() const override { return figures_; }
  [[nodiscard]] std::vector<std::string> remarks() const override { return remarks_; }

 private:
  void take(const PairCoefficient& pair, std::span<const std::string> species) {
    const std::size_t n = charge_.size();
    interaction_[pair.cation * n + pair.anion] = kLn10 * pair.value;
    interaction_[pair.anion * n + pair.cation] = kLn10 * pair.value;
    const std::string label = species[pair.cation] + " with " + species[pair.anion];
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
    remarks_.emplace_back("specific-ion model: neutral species have activity coefficient 1");
    if (temperature_c != 25.0) {
      remarks_.push_back("interaction coefficients of 25 degrees C are used at " +
                         format_number(temperature_c) +
                         " degrees C; only the Debye-Hueckel slope follows it");
    }
    if (!perchlorate_.empty()) {
      remarks_.push_back(
          "interaction coefficient of the perchlorate used, because the complex is counted "
          "as a species: " +
          join(perchlorate_, ", "));
    }
    if (!estimates_.empty()) {
      remarks_.push_back(
          "interaction coefficients estimated by charge, 0.04 + 0.18 (z+ - 1) - 0.14 (|z-| - 1) "
          "+/- 0.06 z+ |z-| kg/mol: " +
          join(estimates_, ", "));
    }
  }

  std::vector<double> charge_, square_;
  LimitingLaw law_;
  std::vector<double> interaction_;  // (n, n), ln 10 epsilon
  std::vector<std::string> figures_, remarks_, perchlorate_, estimates_;
};

}  // namespace

std::unique_ptr<Activity> make_sit(const Dataset& dataset, std::span<const std::string> species,
                                   double temperature_c) {
  return std::make_unique<SpecificIon>(dataset, species, temperature_c);
}

}  // namespace aeruca::detail
