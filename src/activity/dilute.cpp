// The ideal and the dilute model.

#include <algorithm>
#include <cmath>

#include "activity/excess.hpp"
#include "activity/models.hpp"
#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"

namespace aeruca::detail {
namespace {

class Ideal : public Activity {
 public:
  explicit Ideal(std::vector<double> charge) : charge_(std::move(charge)) {}

  void evaluate(std::span<const double> molality, ActivityValues& out) const override {
    begin(molality, charge_, out);
    std::fill(out.ln_gamma.begin(), out.ln_gamma.end(), 0.0);
    std::fill(out.ln_gamma_by_molality.begin(), out.ln_gamma_by_molality.end(), 0.0);
    finish_water(molality, 0.0, out);
  }
  [[nodiscard]] double ionic_strength_max() const override { return 0.001; }
  [[nodiscard]] std::vector<std::string> remarks() const override {
    return {
        "ideal model: activity coefficients are 1; 4 % off for single charges at 0.001 mol/kg, "
        "meant for teaching and checks"};
  }

 private:
  std::vector<double> charge_;
};

// Davies 1938 J. Chem. Soc. 2093, with 0.3 I (Davies 1962, Ion Association, p. 41).
class Dilute : public Activity {
 public:
  Dilute(std::vector<double> charge, double a_ln)
      : charge_(std::move(charge)), law_{a_ln, 1.0, 0.3} {}

  void evaluate(std::span<const double> molality, ActivityValues& out) const override {
    begin(molality, charge_, out);
    const auto law = law_.at(out.ionic_strength);
    const std::size_t n = charge_.size();
    for (std::size_t i = 0; i < n; ++i) {
      const double square = charge_[i] * charge_[i];
      out.ln_gamma[i] = -square * law.d;
      for (std::size_t j = 0; j < n; ++j) {
        out.ln_gamma_by_molality[i * n + j] = -0.5 * square * charge_[j] * charge_[j] * law.slope;
      }
    }
    finish_water(molality, -law.f, out);
  }
  [[nodiscard]] double ionic_strength_max() const override { return 0.5; }
  [[nodiscard]] std::vector<std::string> remarks() const override {
    return {
        "dilute model: neutral species have activity coefficient 1, as the water activity demands; "
        "their salting-out, about 0.1 I in log10, is left out"};
  }

 private:
  std::vector<double> charge_;
  LimitingLaw law_;
};

}  // namespace

std::unique_ptr<Activity> make_ideal(const Dataset& dataset, std::span<const std::string> species) {
  return std::make_unique<Ideal>(charges_of(dataset, species));
}

std::unique_ptr<Activity> make_dilute(const Dataset& dataset, std::span<const std::string> species,
                                      double temperature_c) {
  const double a_ln = kLn10 * debye_hueckel_slopes(temperature_c).a_log10;
  return std::make_unique<Dilute>(charges_of(dataset, species), a_ln);
}

}  // namespace aeruca::detail
