// Laws every activity model obeys, on random compositions from 1e-9 to 5 mol/kg.

#include "aeruca/activity.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "aeruca/constants.hpp"
#include "catch.hpp"
#include "small_dataset.hpp"

using namespace aeruca;

namespace {

const std::vector<std::string> kSpecies = {"H(+)",    "Na(+)",   "Mg(2+)",  "Cu(2+)",   "Cl(-)",
                                           "SO4(2-)", "CuCl(+)", "CO2(aq)", "Cu2OH(3+)"};

std::vector<double> random_composition(std::mt19937_64& generator) {
  std::uniform_real_distribution<double> exponent(-9.0, 0.7);
  std::vector<double> molality;
  for (std::size_t i = 0; i < kSpecies.size(); ++i)
    molality.push_back(std::pow(10.0, exponent(generator)));
  return molality;
}

ActivityValues at(const Activity& model, std::vector<double> molality) {
  ActivityValues values;
  model.evaluate(molality, values);
  return values;
}

// Fourth-order central difference of a figure by molality j.
template <class Figure>
double difference(const Activity& model, std::vector<double> m, std::size_t j, Figure figure) {
  const double step = 1e-3 * m[j];
  const auto shifted = [&](double by) {
    auto n = m;
    n[j] += by;
    return figure(at(model, n));
  };
  return (8.0 * (shifted(step) - shifted(-step)) - (shifted(2 * step) - shifted(-2 * step))) /
         (12.0 * step);
}

}  // namespace

TEST_CASE("Every model obeys Gibbs-Duhem, is symmetric, and has right derivatives") {
  const auto data = aeruca_test::small_dataset();
  std::mt19937_64 generator(20260101);
  const std::size_t n = kSpecies.size();
  for (const auto kind :
       {ActivityModel::ideal, ActivityModel::dilute, ActivityModel::sit, ActivityModel::pitzer}) {
    for (const double t : {0.0, 25.0, 50.0}) {
      const auto model = make_activity(kind, data, kSpecies, t);
      for (int trial = 0; trial < 40; ++trial) {
        const auto m = random_composition(generator);
        const auto v = at(*model, m);
        INFO(to_string(kind) << " at " << t << " C, trial " << trial);
        for (std::size_t j = 0; j < n; ++j) {
          double sum = v.ln_water_by_molality[j] / kWaterMolarMass + 1.0;
          double size = 1.0;
          for (std::size_t i = 0; i < n; ++i) {
            const double h = v.ln_gamma_by_molality[i * n + j];
            sum += m[i] * h;
            size += std::abs(m[i] * h);
            CHECK(std::abs(h - v.ln_gamma_by_molality[j * n + i]) <= 1e-13 * (1.0 + std::abs(h)));
          }
          CHECK(std::abs(sum) <= 1e-12 * size);
          // The figures themselves, against which the derivatives are checked independently. What a
          // difference can resolve is rounding over the step.
          for (std::size_t i = 0; i < n; ++i) {
            const double numeric =
                difference(*model, m, j, [&](const auto& x) { return x.ln_gamma[i]; });
            const double exact = v.ln_gamma_by_molality[i * n + j];
            const double rounding = 1e-12 * (1.0 + std::abs(v.ln_gamma[i])) / (1e-3 * m[j]);
            CHECK(std::abs(numeric - exact) <= 1e-7 * (1.0 + std::abs(exact)) + rounding);
          }
          const double numeric =
              difference(*model, m, j, [](const auto& x) { return x.ln_water_activity; });
          const double rounding = 1e-13 * (1.0 + std::abs(v.ln_water_activity)) / (1e-3 * m[j]);
          CHECK(std::abs(numeric - v.ln_water_by_molality[j]) <=
                1e-7 * (1.0 + std::abs(v.ln_water_by_molality[j])) + rounding);
        }
      }
    }
  }
}

TEST_CASE("Every model reaches the limiting law when diluted") {
  const auto data = aeruca_test::small_dataset();
  for (const auto kind : {ActivityModel::dilute, ActivityModel::sit, ActivityModel::pitzer}) {
    const auto model = make_activity(kind, data, kSpecies, 25.0);
    for (const double scale : {1e-6, 1e-8}) {
      std::vector<double> m(kSpecies.size(), 0.0);
      m[1] = m[4] = scale;  // sodium chloride
      const auto v = at(*model, m);
      const double law = -0.50978 * std::log(10.0) * std::sqrt(scale);
      CHECK(std::abs(v.ln_gamma[1] / law - 1.0) < 3.0 * std::sqrt(scale) + 1e-3);
      CHECK(std::abs(v.ln_gamma[2] / (4.0 * law) - 1.0) < 30.0 * std::sqrt(scale) + 1e-3);
      CHECK(std::abs(v.ln_water_activity / (-kWaterMolarMass * 2.0 * scale) - 1.0) <
            std::sqrt(scale));
    }
  }
}

TEST_CASE("Pure water has activity 1 and finite figures in every model") {
  const auto data = aeruca_test::small_dataset();
  for (const auto kind :
       {ActivityModel::ideal, ActivityModel::dilute, ActivityModel::sit, ActivityModel::pitzer}) {
    const auto v =
        at(*make_activity(kind, data, kSpecies, 25.0), std::vector<double>(kSpecies.size(), 0.0));
    CHECK(std::abs(v.ln_water_activity) < 1e-20);
    for (const double x : v.ln_gamma) CHECK(std::abs(x) < 1e-9);
    for (const double x : v.ln_gamma_by_molality) CHECK(std::isfinite(x));
    for (const double x : v.ln_water_by_molality) CHECK(std::isfinite(x));
  }
}
