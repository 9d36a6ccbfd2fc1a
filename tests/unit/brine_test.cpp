#include "aeruca/brine.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "aeruca/constants.hpp"
#include "aeruca/errors.hpp"
#include "brine/salt_model.hpp"
#include "brine/saturation.hpp"
#include "catch.hpp"

using namespace aeruca;
using aeruca::test::contains;

namespace {

const double kNaN = std::numeric_limits<double>::quiet_NaN();

const Dataset& data() {
  static const auto dataset = default_dataset();
  return *dataset;
}

template <class Call>
std::string message_of(Call call) {
  try {
    call();
  } catch (const Error& error) {
    return error.what();
  }
  return "";
}

bool mentions(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("A salt is found by mineral, formula and anhydrous formula") {
  CHECK(single_salt(data(), "halite", 1).solid == "halite");
  CHECK(single_salt(data(), "NaCl", 1).osmotic_coefficient ==
        single_salt(data(), "halite", 1).osmotic_coefficient);
  CHECK(deliquescence(data(), "MgCl2").solid == "bischofite");
  CHECK(deliquescence(data(), "MgCl2.6H2O").solid == "bischofite");
}

TEST_CASE("A solution without salt is water") {
  const auto water = single_salt(data(), "NaCl", 0);
  CHECK(water.osmotic_coefficient == 1.0);
  CHECK(std::abs(water.water_activity - 1.0) < 1e-15);
  CHECK(std::abs(water.mean_activity_coefficient - 1.0) < 1e-9);
}

TEST_CASE("The osmotic coefficient is that of the water activity") {
  for (const double m : {1e-6, 0.01, 1.0, 6.0}) {
    const auto s = single_salt(data(), "MgCl2", m);
    CHECK(std::abs(s.osmotic_coefficient * kWaterMolarMass * 3 * m + std::log(s.water_activity)) <
          1e-14);
    CHECK(std::abs(s.ionic_strength - 3 * m) < 1e-12);
  }
}

TEST_CASE("Bad input of a single salt is named") {
  CHECK(mentions(message_of([] { static_cast<void>(single_salt(data(), "halit", 1)); }),
                 "nearest is 'halite'"));
  CHECK(mentions(message_of([] { static_cast<void>(single_salt(data(), "NaCl", -1)); }),
                 "molality = -1"));
  CHECK(mentions(message_of([] { static_cast<void>(single_salt(data(), "NaCl", 31)); }),
                 "0 to 30 mol/kg"));
  CHECK(mentions(message_of([] { static_cast<void>(single_salt(data(), "NaCl", 1, 51)); }),
                 "0 to 50"));
  CHECK(mentions(message_of([] { static_cast<void>(single_salt(data(), "NaCl", 1, 25, "Na-Cl")); }),
                 "no Pitzer set named 'Na-Cl'"));
  CHECK(mentions(
      message_of([] { static_cast<void>(single_salt(data(), "NaCl", 1, 25, "K-NO3:fit")); }),
      "a set of the ions of halite"));
  CHECK(mentions(message_of([] { static_cast<void>(single_salt(data(), "carnallite", 1)); }),
                 "one cation and one anion"));
  CHECK(mentions(message_of([] { static_cast<void>(deliquescence(data(), "NaCl", -1)); }),
                 "temperature_c = -1"));
}

TEST_CASE("NaN goes through and comes out") {
  const auto s = single_salt(data(), "NaCl", kNaN);
  CHECK(std::isnan(s.osmotic_coefficient));
  CHECK(std::isnan(s.water_activity));
  CHECK(std::isnan(deliquescence(data(), "NaCl", kNaN).rh_percent));
  CHECK(std::isnan(measured_humidity(data(), "halite", kNaN).rh_percent));
  const std::vector<double> two = {25.0, kNaN};
  const auto curve = deliquescence_curve(data(), "NaCl", two);
  CHECK(std::abs(curve.rh_percent[0] - 75.2) < 0.1);
  CHECK(std::isnan(curve.rh_percent[1]));
  CHECK(curve.not_known_because.empty());
}

TEST_CASE("A curve repeats the single figures") {
  const std::vector<double> molality = {0.0, 0.5, 6.0};
  const auto curve = salt_curve(data(), "NaCl", molality, 10.0);
  for (std::size_t i = 0; i < molality.size(); ++i) {
    const auto one = single_salt(data(), "NaCl", molality[i], 10.0);
    CHECK(curve.osmotic_coefficient[i] == one.osmotic_coefficient);
    CHECK(curve.water_activity[i] == one.water_activity);
    CHECK(curve.mean_activity_coefficient[i] == one.mean_activity_coefficient);
  }
  CHECK(salt_curve(data(), "NaCl", {}).water_activity.empty());
}

TEST_CASE("A set used beyond its range warns and grows its uncertainty") {
  const auto inside = single_salt(data(), "MgCl2", 4.0, 25, "Mg-Cl:HMW84+SP78");
  const auto beyond = single_salt(data(), "MgCl2", 6.0, 25, "Mg-Cl:HMW84+SP78");
  CHECK(beyond.osmotic_uncertainty > inside.osmotic_uncertainty + 0.01);
  CHECK(std::any_of(beyond.warnings.begin(), beyond.warnings.end(),
                    [](const auto& w) { return mentions(w, "above the 4.5 mol/kg"); }));
}

TEST_CASE("What is not known is said with its reason, and measurements are still listed") {
  const auto formate = deliquescence(data(), "sodium formate");
  CHECK(std::isnan(formate.rh_percent));
  CHECK(formate.basis == SaturationBasis::not_known);
  CHECK(mentions(formate.not_known_because, "more than twice"));
  const auto carnallite = deliquescence(data(), "carnallite");
  CHECK(mentions(carnallite.not_known_because, "mixture"));
  const auto hot = deliquescence(data(), "NaCl", 45);
  CHECK(std::isnan(hot.rh_percent));
  CHECK_FALSE(hot.measured.empty());
  const auto cold = deliquescence(data(), "gypsum", 5);
  CHECK(mentions(cold.not_known_because, "shown to hold at 5"));
  CHECK(cold.measured.empty());
}

TEST_CASE("A salt changes its set where the one of its own does not hold") {
  CHECK(deliquescence(data(), "NaCl", 35).pitzer_set == "Na-Cl:HMW84+PPB84");
  CHECK(detail::set_for(data(), data().salt("halite"), 45)->id == "Na-Cl:PPB84");
  CHECK(detail::set_for(data(), data().salt("thermonatrite"), 45) == nullptr);
}

TEST_CASE("Magnesium chloride keeps one set from 0 to 40 degrees C") {
  CHECK(deliquescence(data(), "MgCl2", 25).pitzer_set == "Mg-Cl:fit");
  const auto cold = deliquescence(data(), "MgCl2", 10);
  CHECK(cold.pitzer_set == "Mg-Cl:fit");
  CHECK(std::abs(cold.rh_percent - 33.47) < 1.0);  // Greenspan 1977
}

TEST_CASE("What the fit leaves open grows away from its data, as its covariance says") {
  const auto width = [](const char* salt, double t) {
    return single_salt(data(), salt, 5, t).osmotic_uncertainty;
  };
  // Only changes with temperature are fitted: at 25 degrees C the stated figure alone stands.
  CHECK(std::abs(width("NaNO3", 25) - 0.006) < 1e-12);
  CHECK(width("NaNO3", 8) > width("NaNO3", 20));
  CHECK(width("NaNO3", 8) > 0.006);
}

TEST_CASE("Salts whose humidity was fitted say so and claim no more than the measurement") {
  const auto salt = deliquescence(data(), "eriochalcite");
  CHECK(salt.humidity_in_fit);
  CHECK(salt.rh_uncertainty_percent >= 1.0);
  CHECK(std::any_of(salt.warnings.begin(), salt.warnings.end(),
                    [](const auto& w) { return mentions(w, "no independent test"); }));
}

TEST_CASE("A disagreement with measurement beyond both uncertainties becomes a warning") {
  const auto salt = deliquescence(data(), "NH4Cl");
  CHECK(std::any_of(salt.warnings.begin(), salt.warnings.end(),
                    [](const auto& w) { return mentions(w, "greenspan1977"); }));
  CHECK(std::abs(salt.measured.front().difference_percent + 1.5) < 0.2);
}

TEST_CASE("Measured humidities are interpolated inside their table only") {
  const auto at25 = measured_humidity(data(), "NaCl", 25);
  CHECK(at25.rh_percent == 75.29);
  CHECK(at25.uncertainty_percent == 0.12);
  CHECK(at25.temperature_min_c == 0.0);
  CHECK(at25.temperature_max_c == 50.0);
  const auto between = measured_humidity(data(), "LiCl.H2O", 35);
  CHECK(between.rh_percent < 11.28);
  CHECK(between.rh_percent > 11.21);
  CHECK(mentions(message_of([] { static_cast<void>(measured_humidity(data(), "SrCl2.6H2O", 5)); }),
                 "10 to 30 degrees C"));
  CHECK(mentions(message_of([] { static_cast<void>(measured_humidity(data(), "nantokite", 25)); }),
                 "no solid with an evaluated humidity"));
}

TEST_CASE("Tables are interpolated through their points and never beyond") {
  using Table = std::vector<std::pair<double, double>>;
  const Table four = {{0, 1}, {10, 2}, {20, 4}, {30, 4}};
  for (const auto& [x, y] : four) CHECK(detail::interpolate(four, x) == y);
  CHECK(detail::interpolate(four, 25) <= 4.0);  // monotone: no overshoot
  CHECK(detail::interpolate(four, 15) > 2.0);
  CHECK(std::isnan(detail::interpolate(four, -1)));
  CHECK(std::isnan(detail::interpolate(four, 30.1)));
  CHECK(std::isnan(detail::interpolate(four, kNaN)));
  CHECK(std::isnan(detail::interpolate(Table{}, 1)));
  CHECK(detail::interpolate(Table{{25, 3}}, 25) == 3.0);
  CHECK(detail::interpolate(Table{{20, 2}, {30, 4}}, 25) == 3.0);
}

TEST_CASE("A table of few points is straight between them") {
  const std::vector<std::pair<double, double>> two = {{0, 1}, {10, 3}};
  CHECK(std::abs(detail::interpolate(two, 2.5) - 1.5) < 1e-15);
  const std::vector<std::pair<double, double>> three = {{0, 1}, {10, 3}, {30, 2}};
  CHECK(std::abs(detail::interpolate(three, 15) - 2.75) < 1e-15);
}

TEST_CASE("Of two evaluated tables the longer serves") {
  Dataset hand;
  const auto add = [&](const char* source, double temperature_c, double rh_percent) {
    MeasuredHumidity one;
    one.solid = "x";
    one.equilibrium = "deliquescence";
    one.kind = "evaluated";
    one.source = source;
    one.temperature_c = temperature_c;
    one.rh_percent = rh_percent;
    hand.humidities.push_back(one);
  };
  for (const double t : {0.0, 40.0}) add("a", t, 50);
  for (const double t : {40.0, 10.0, 25.0}) add("b", t, 60);
  for (const double t : {0.0, 40.0}) add("c", t, 70);
  const MeasuredCurvePoint found = measured_humidity(hand, "x", 20);
  CHECK(found.source == "b");
  CHECK(std::abs(found.rh_percent - 60) < 1e-12);
  CHECK(found.temperature_min_c == 10);
}

TEST_CASE("Every salt is answered or refused with a reason, at every temperature") {
  for (const auto& salt : data().salts) {
    for (double t = 0; t <= 50; t += 5) {
      const auto d = deliquescence(data(), salt.solid, t);
      INFO(salt.solid << " at " << t);
      if (std::isnan(d.rh_percent)) {
        CHECK_FALSE(d.not_known_because.empty());
      } else {
        CHECK(d.rh_percent > 5);
        CHECK(d.rh_percent < 100);
        CHECK(d.rh_uncertainty_percent > 0);
        CHECK(d.rh_uncertainty_percent < 5);
        CHECK_FALSE(d.uncertainty_from.empty());
        CHECK_FALSE(d.sources.empty());
      }
    }
  }
}

TEST_CASE("The saturated solution from the constant meets the constant") {
  for (const auto& name : computable_salts(data())) {
    const auto d = deliquescence(data(), name);
    if (std::isnan(d.molality_from_constant)) continue;
    const Salt& salt = data().salt(name);
    const detail::SaltModel model(salt, detail::set_named(data(), salt.pitzer_set), 25.0);
    INFO(name);
    CHECK(std::abs(model.ln_product(d.molality_from_constant) - salt.ln_k_25c) < 1e-10);
  }
}

TEST_CASE("a mixture named in the other order is the same mixture") {
  CHECK_THROWS_WITH(measured_humidity(data(), "thenardite+halite", 25),
                    "solid = thenardite+halite: accepted is a solid with an evaluated table over "
                    "temperature; of this one single values are known: 74.3 % RH at 40 degrees C "
                    "(mutual, aeruca)");
}

TEST_CASE("a mixture with single values only is told so, not sent to its own name") {
  const auto data = default_dataset();
  try {
    static_cast<void>(measured_humidity(*data, "halite+thenardite", 25));
    FAIL("no table was expected");
  } catch (const InputError& problem) {
    CHECK(problem.parameter == "solid");
    CHECK_THAT(std::string(problem.what()), contains("of this one single values are known: "));
    CHECK_THAT(std::string(problem.what()), contains("(mutual, "));
  }
  CHECK_THROWS_AS(measured_humidity(*data, "haliet", 25), UnknownName);
}
