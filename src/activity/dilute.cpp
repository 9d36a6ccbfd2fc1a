// The ideal and the dilute model.

#include "activity/models.hpp"
#include "activity/quadratic.hpp"
#include "aeruca/constants.hpp"
#include "aeruca/water.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

class Ideal : public QuadraticExcess {
 public:
  explicit Ideal(std::vector<double> charge) : QuadraticExcess(std::move(charge), {}) {}

  [[nodiscard]] double ionic_strength_max(std::span<const double> /*molality*/) const override {
    return 0.001;
  }
  [[nodiscard]] std::vector<std::string> remarks() const override {
    return {say("activity.ideal")};
  }
};

// Davies 1938 J. Chem. Soc. 2093, with 0.3 I (Davies 1962, Ion Association, p. 41).
class Dilute : public QuadraticExcess {
 public:
  Dilute(std::vector<double> charge, double a_ln)
      : QuadraticExcess(std::move(charge), {a_ln, 1.0, 0.3}) {}

  [[nodiscard]] double ionic_strength_max(std::span<const double> /*molality*/) const override {
    return 0.5;
  }
  [[nodiscard]] std::vector<std::string> remarks() const override {
    return {say("activity.dilute")};
  }
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
