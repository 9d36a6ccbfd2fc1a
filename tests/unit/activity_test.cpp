#include "aeruca/activity.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "activity/pitzer.hpp"
#include "activity/unsymmetric.hpp"
#include "aeruca/constants.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/water.hpp"
#include "catch.hpp"
#include "small_dataset.hpp"

using namespace aeruca;

namespace {

bool mentions(const std::vector<std::string>& remarks, const std::string& text) {
  return std::any_of(remarks.begin(), remarks.end(),
                     [&](const std::string& r) { return r.find(text) != std::string::npos; });
}

// ln gamma of one ion in a solution
double ln_gamma(const Activity& model, std::vector<double> molality, std::size_t i) {
  ActivityValues values;
  model.evaluate(molality, values);
  return values.ln_gamma[i];
}

}  // namespace

TEST_CASE("Activity models are known by name") {
  for (const auto model :
       {ActivityModel::ideal, ActivityModel::dilute, ActivityModel::sit, ActivityModel::pitzer}) {
    CHECK(activity_model_from(to_string(model)) == model);
  }
  try {
    static_cast<void>(activity_model_from("pitzr"));
    FAIL("accepted");
  } catch (const UnknownName& error) {
    CHECK(error.nearest == "pitzer");
  }
}

TEST_CASE("Making a model refuses bad temperatures, unknown species and solids") {
  const auto data = aeruca_test::small_dataset();
  const std::vector<std::string> salt = {"Na(+)", "Cl(-)"};
  for (const double t : {-0.1, 50.1, std::nan("")}) {
    CHECK_THROWS_AS(make_activity(ActivityModel::sit, data, salt, t), InputError);
  }
  const std::vector<std::string> unknown = {"Na(+)", "Xx(-)"};
  CHECK_THROWS_AS(make_activity(ActivityModel::sit, data, unknown, 25), UnknownName);
  const std::vector<std::string> solid = {"Na(+)", "halite"};
  CHECK_THROWS_AS(make_activity(ActivityModel::ideal, data, solid, 25), InputError);
  const auto model = make_activity(ActivityModel::pitzer, data, salt, 25);
  ActivityValues values;
  const std::vector<double> three = {1, 1, 1};
  CHECK_THROWS_AS(model->evaluate(three, values), InputError);
}

TEST_CASE("A model of no species answers pure water") {
  const auto data = aeruca_test::small_dataset();
  for (const auto kind :
       {ActivityModel::ideal, ActivityModel::dilute, ActivityModel::sit, ActivityModel::pitzer}) {
    ActivityValues values;
    make_activity(kind, data, {}, 25)->evaluate({}, values);
    CHECK(std::abs(values.ln_water_activity) < 1e-20);
  }
}

TEST_CASE("Values and slopes asked for apart are those asked for together") {
  const auto data = default_dataset();
  const std::vector<std::string> sea = {"Na(+)",   "K(+)",  "Mg(2+)", "Ca(2+)",
                                        "SO4(2-)", "Cl(-)", "H(+)",   "OH(-)"};
  for (const auto kind :
       {ActivityModel::ideal, ActivityModel::dilute, ActivityModel::sit, ActivityModel::pitzer}) {
    const auto model = make_activity(kind, *data, sea, 25);
    ActivityValues together;
    ActivityValues apart;
    // Potassium and calcium are not there.
    for (const double m : {1e-3, 0.5, 3.0}) {
      const std::vector<double> molality = {m, 0, 0.1 * m, 0, 0.2 * m, m, 1e-7, 1e-7};
      model->evaluate(molality, together);
      model->evaluate_values(molality, apart);
      CHECK(std::abs(apart.ln_water_activity - together.ln_water_activity) < 1e-15);
      CHECK(apart.ionic_strength == together.ionic_strength);
      for (std::size_t i = 0; i < sea.size(); ++i)
        CHECK(std::abs(apart.ln_gamma[i] - together.ln_gamma[i]) < 1e-14);
      model->evaluate_slopes(molality, apart);
      for (std::size_t i = 0; i < sea.size(); ++i) {
        if (molality[i] == 0) continue;
        CHECK(std::abs(apart.ln_water_by_molality[i] - together.ln_water_by_molality[i]) < 1e-14);
        for (std::size_t j = 0; j < sea.size(); ++j) {
          const std::size_t at = i * sea.size() + j;
          CHECK(apart.ln_gamma_by_molality[at] == together.ln_gamma_by_molality[at]);
        }
      }
    }
  }
}

TEST_CASE("The dilute model is the Davies equation") {
  const auto data = aeruca_test::small_dataset();
  const std::vector<std::string> salt = {"Na(+)", "Cl(-)", "Mg(2+)"};
  const auto model = make_activity(ActivityModel::dilute, data, salt, 25);
  const double i = 0.1;
  const double a = debye_hueckel_slopes(25).a_log10;
  const double law = a * (std::sqrt(i) / (1 + std::sqrt(i)) - 0.3 * i);
  CHECK(std::abs(ln_gamma(*model, {i, i, 0}, 0) + law * std::log(10.0)) < 1e-14);
  CHECK(std::abs(ln_gamma(*model, {i, i, 0}, 2) + 4 * law * std::log(10.0)) < 1e-14);
}

TEST_CASE("The specific-ion model takes the perchlorate coefficient only beside the complex") {
  const auto data = aeruca_test::small_dataset();
  const std::vector<std::string> alone = {"Cu(2+)", "Cl(-)"};
  const std::vector<std::string> with_complex = {"Cu(2+)", "Cl(-)", "CuCl(+)"};
  const auto plain = make_activity(ActivityModel::sit, data, alone, 25);
  const auto counted = make_activity(ActivityModel::sit, data, with_complex, 25);
  const double difference = ln_gamma(*counted, {0.5, 1, 0}, 0) - ln_gamma(*plain, {0.5, 1}, 0);
  CHECK(std::abs(difference - (0.32 - 0.08) * std::log(10.0)) < 1e-12);
  CHECK(mentions(counted->remarks(), "perchlorate"));
  CHECK_FALSE(mentions(plain->remarks(), "perchlorate"));
  const auto figures = counted->figures();
  CHECK(std::count(figures.begin(), figures.end(), "sit-Cu-ClO4") == 1);
  CHECK(std::count(figures.begin(), figures.end(), "sit-Cu-Cl") == 0);
}

TEST_CASE("Only a complex of exactly these ions is counted, not one of the same elements") {
  auto data = aeruca_test::small_dataset();
  data.species.push_back(
      aeruca_test::dissolved("CuHCO3(+)", 1, {{"Cu", 1}, {"H", 1}, {"C", 1}, {"O", 3}}));
  data.species.push_back(aeruca_test::dissolved("HCOO(-)", -1, {{"H", 1}, {"C", 1}, {"O", 2}}));
  data.species.push_back(aeruca_test::dissolved("CuCl2(-)", -1, {{"Cu", 1}, {"Cl", 2}}));
  data.index_names();
  const std::vector<std::string> list = {"Cu(2+)", "HCOO(-)", "CuHCO3(+)", "CuCl2(-)"};
  CHECK_FALSE(
      mentions(make_activity(ActivityModel::sit, data, list, 25)->remarks(), "perchlorate"));
}

TEST_CASE("Missing specific-ion coefficients are estimated by charge and listed") {
  const auto data = aeruca_test::small_dataset();
  const std::vector<std::string> list = {"Cu(2+)", "SO4(2-)", "CuCl(+)", "Cl(-)"};
  const auto model = make_activity(ActivityModel::sit, data, list, 25);
  CHECK(mentions(model->remarks(), "CuCl(+) with Cl(-) 0.04 +/- 0.06"));
  CHECK(mentions(model->remarks(), "Cu(2+) with SO4(2-) 0.08 +/- 0.24"));
  CHECK(mentions(make_activity(ActivityModel::sit, data, list, 10)->remarks(),
                 "25 degrees C are used at 10"));
}

TEST_CASE("Pitzer says which parameters are missing and its range") {
  const auto data = aeruca_test::small_dataset();
  const std::vector<std::string> list = {"Cu(2+)", "Cl(-)", "SO4(2-)"};
  const auto model = make_activity(ActivityModel::pitzer, data, list, 25);
  CHECK(mentions(model->remarks(), "Cu(2+) with SO4(2-)"));
  const std::vector<double> chloride{0.1, 0.2, 1e-3};
  CHECK(model->ionic_strength_max(chloride) == 12.0);  // CuCl2 to 4 mol/kg
  CHECK(mentions(make_activity(ActivityModel::pitzer, data, list, 10)->remarks(),
                 "not shown to hold at 10"));
  const std::vector<std::string> two_two = {"Mg(2+)", "SO4(2-)"};
  const std::vector<double> both{1, 1};
  CHECK(make_activity(ActivityModel::pitzer, data, two_two, 25)->ionic_strength_max(both) == 16.0);
}

// By hand, epsilon 0.08 estimated: beta0 = 1.1513 x 0.08 + 0.042 x 8, beta1 = 2 x 1.65.
TEST_CASE("Pitzer estimates what is missing from the specific-ion coefficient, by charge") {
  const auto system = detail::pitzer_system(aeruca_test::small_dataset(),
                                            std::vector<std::string>{"Cu(2+)", "SO4(2-)"}, 25);
  REQUIRE(system.pairs.size() == 1);
  CHECK(std::abs(system.pairs[0].beta0 - (0.5 * std::log(10.0) * 0.08 + 0.042 * 8)) < 1e-12);
  CHECK(std::abs(system.pairs[0].beta1 - 3.3) < 1e-12);
  REQUIRE(system.estimated.size() == 1);
  CHECK(std::abs(system.estimated[0].uncertainty - 0.24) < 1e-12);
}

TEST_CASE("A complex that a set declares stands beside it, another does not") {
  auto data = aeruca_test::small_dataset();
  const auto contained = [&](ActivityModel model) {
    std::vector<std::string> names;
    for (const auto& each : contained_complexes(model, data)) names.push_back(each.name);
    return names;
  };
  const std::vector<std::string> complex{"CuCl(+)"};
  CHECK(contained(ActivityModel::sit) == complex);
  CHECK(contained(ActivityModel::pitzer) == complex);
  CHECK(contained(ActivityModel::dilute).empty());
  data.pitzer.back().complexes = complex;
  CHECK(contained(ActivityModel::pitzer).empty());
  data.sit.push_back({"Cu(2+)", "Cl(-)", 0.32, 0.05, "beside", false, complex});
  CHECK(contained(ActivityModel::sit) == complex);  // the first of those not chosen
  data.sit.back().chosen = true;
  CHECK(contained(ActivityModel::sit).empty());
}

// NEA reviews (Grenthe and others): the specific-ion equation is held to serve up to 3.5 mol/kg. The
// Davies equation, up to 0.5.
TEST_CASE("The models end where their authors say") {
  const auto data = aeruca_test::small_dataset();
  const std::vector<std::string> salt = {"Na(+)", "Cl(-)"};
  const std::vector<double> one{1, 1};
  CHECK(make_activity(ActivityModel::sit, data, salt, 25)->ionic_strength_max(one) == 3.5);
  CHECK(make_activity(ActivityModel::dilute, data, salt, 25)->ionic_strength_max(one) == 0.5);
}

TEST_CASE("A Pitzer parameter follows the temperature by both its derivatives") {
  auto set = aeruca_test::pitzer_set("own", "Na(+)", "Cl(-)", 0.08, 0.3, 0, 0.002);
  set.beta0_per_k = 1e-3;
  set.beta0_per_k2 = -2e-5;
  set.c_phi_per_k = -1e-5;
  set.c_phi_per_k2 = 1e-6;
  const auto pair = detail::pitzer_pair(set, 0, 1, 1, 35);
  CHECK(std::abs(pair.beta0 - (0.08 + 1e-2 - 2e-3)) < 1e-15);
  CHECK(std::abs(pair.c - 0.5 * (0.002 - 1e-4 + 1e-4)) < 1e-15);
}

// Chebyshev coefficients of Harvie 1981 as printed in Pitzer 1991, Activity Coefficients in
// Electrolyte Solutions, 2nd ed., ch. 3 (recalled, not seen).
double published_j(double x) {
  static constexpr std::array<double, 21> kLow = {
      1.925154014814667,  -0.060076477753119, -0.029779077456514, -0.007299499690937,
      0.000388260636404,  0.000636874599598,  0.000036583601823,  -0.000045036975204,
      -0.000004537895710, 0.000002937706971,  0.000000396566462,  -0.000000202099617,
      -0.000000025267769, 0.000000013522610,  0.000000001229405,  -0.000000000821969,
      -0.000000000050847, 0.000000000046333,  0.000000000001943,  -0.000000000002563,
      -0.000000000010991};
  static constexpr std::array<double, 21> kHigh = {
      0.628023320520852,  0.462762985338493,  0.150044637187895,  -0.028796057604906,
      -0.036552745910311, -0.001668087945272, 0.006519840398744,  0.001130378079086,
      -0.000887171310131, -0.000242107641309, 0.000087294451594,  0.000034682122751,
      -0.000004583768938, -0.000003548684306, -0.000000250453880, 0.000000216991779,
      0.000000080779570,  0.000000004558555,  -0.000000006944757, -0.000000002849257,
      0.000000000237816};
  const auto& a = x <= 1 ? kLow : kHigh;
  const double z = x <= 1 ? 4 * std::pow(x, 0.2) - 2 : 40.0 / 9 * std::pow(x, -0.1) - 22.0 / 9;
  std::array<double, 23> b{};
  for (std::size_t k = 21; k-- > 0;) b[k] = z * b[k + 1] - b[k + 2] + a[k];
  return x / 4 - 1 + 0.5 * (b[0] - b[2]);
}

TEST_CASE("The unsymmetric mixing function agrees with quadrature and with the published series") {
  for (double x = 1.1e-6; x < 9e4; x *= 1.7) {
    const double s = std::log(x);
    const auto j = detail::unsymmetric_j(s);
    INFO("x = " << x);
    CHECK(std::abs(j.h / detail::unsymmetric_j_quadrature(x) - 1) < 1e-11);
    if (x > 1e-3 && x < 1e3) CHECK(std::abs(j.h * x * x - published_j(x)) < 1e-9 * (1 + x));
    const double step = 1e-3;
    const auto up = detail::unsymmetric_j(s + step);
    const auto down = detail::unsymmetric_j(s - step);
    CHECK(std::abs((up.h - down.h) / (2 * step) - j.slope) < 1e-6);
    CHECK(std::abs((up.slope - down.slope) / (2 * step) - j.curvature) < 1e-6);
  }
}

// E-theta = z_i z_j / (4 I) [J(x_ij) - J(x_ii) / 2 - J(x_jj) / 2], x = 6 z z A_phi sqrt I: Pitzer
// 1975, J. Solution Chem. 4, 249, with the published series of J. Two cations alone, so that nothing
// else stands in the excess function but the limiting law.
TEST_CASE("The unsymmetric mixing of unlike charges is that of the published series") {
  detail::PitzerSystem system;
  system.charge = {1, 2};
  system.a_phi = 0.391;
  const detail::Pitzer model(system);
  for (const double m : {0.01, 0.2, 1.5}) {
    const std::vector<double> molality = {m, 0.5 * m};
    ActivityValues values;
    model.evaluate(molality, values);
    const double i = 1.5 * m;
    const double root = std::sqrt(i);
    const double law = -4 * system.a_phi * i / 1.2 * std::log1p(1.2 * root);
    const double x = 6 * system.a_phi * root;
    const double theta =
        2 / (4 * i) * (published_j(2 * x) - 0.5 * published_j(x) - 0.5 * published_j(4 * x));
    const double excess = molality[0] * values.ln_gamma[0] + molality[1] * values.ln_gamma[1];
    const double g = excess + 1.5 * m + values.ln_water_activity / kWaterMolarMass;
    CHECK(std::abs((g - law) / (2 * molality[0] * molality[1]) / theta - 1) < 1e-6);
    CHECK(theta < 0);
  }
}

// 2 lambda_nn m for a neutral with itself (Harvie, Moller and Weare 1984): the pair is one, not two.
TEST_CASE("A neutral species interacts with itself once") {
  const auto data = aeruca_test::small_dataset();
  const std::vector<std::string> alone = {"CO2(aq)"};
  const auto model = make_activity(ActivityModel::pitzer, data, alone, 25);
  CHECK(std::abs(ln_gamma(*model, {0.5}, 0) - 2 * 0.0147 * 0.5) < 1e-15);
  const std::vector<std::string> with_sodium = {"CO2(aq)", "Na(+)"};
  const auto mixed = make_activity(ActivityModel::pitzer, data, with_sodium, 25);
  CHECK(std::abs(ln_gamma(*mixed, {0.5, 0.3}, 0) - 2 * (0.0147 * 0.5 + 0.1 * 0.3)) < 1e-15);
}

// The integral of the definition itself, by the midpoint rule over y: another route than ln y.
TEST_CASE("The quadrature of the mixing function meets its definition") {
  for (const double x : {0.5, 2.0, 20.0}) {
    const double step = 1e-4;
    double sum = 0;
    for (int n = 0; n < 600000; ++n) {
      const double y = step * (n + 0.5);
      sum -= std::expm1(-x / y * std::exp(-y)) * y * y;
    }
    const double direct = x / 4 - 1 + step * sum / x;
    CHECK(std::abs(direct - x * x * detail::unsymmetric_j_quadrature(x)) < 1e-7);
  }
}
