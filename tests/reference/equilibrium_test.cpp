// Waters beside published solubilities, buffers and speciations; see equilibrium.csv.

#include "aeruca/equilibrium.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "catch.hpp"
#include "water_rows.hpp"

using namespace aeruca;
using aeruca_test::largest;
using aeruca_test::Row;
using aeruca_test::share;
using aeruca_test::solve;
using aeruca_test::total;

namespace {

double ours(const Row& row) {
  const EquilibriumResult result = solve(row);
  const auto words = detail::split(row.at("quantity"), ' ');
  const auto word = [&](std::size_t k) { return std::string(words.at(k)); };
  if (word(0) == "ph") return result.ph;
  if (word(0) == "total") return total(result, word(1));
  if (word(0) == "log10_total") return std::log10(total(result, word(1)));
  if (word(0) == "molality") return result.molality_of(word(1));
  if (word(0) == "share") return share(result, word(1), word(3));
  if (word(0) == "largest") return largest(result, word(1), word(3));
  if (word(0) == "absent") {
    return result.formed().contains(word(1)) ? 0 : 1;
  }
  throw std::runtime_error("unknown quantity " + word(0));
}

}  // namespace

TEST_CASE("Waters agree with published values") {
  for (const auto& row : aeruca_test::reference_rows("equilibrium.csv")) {
    const double value = ours(row);
    const double published = aeruca_test::number(row, "value");
    const std::string what = row.at("id") + " " + row.at("quantity");
    const double difference = aeruca_test::compare("Waters", what, value, published, row);
    INFO(what << ": " << row.at("why"));
    CHECK(difference <= aeruca_test::number(row, "tolerance"));
  }
}

// Reference e1: copper(I) that nantokite gives to water of a certain free chloride, activity
// coefficients of 1; derived from the same constants, printed to three digits. Measured (Noyes and
// Chow 1918, Fritz 1980; recalled): copper is 0.06 of the chloride up to a few tenths mol/kg.
TEST_CASE(
    "nantokite dissolves in chloride as the constants say, and as measured in dilute solution") {
  struct Known {
    double free_chloride, cu, cucl, cucl2, cucl3, sum;
  };
  const std::vector<Known> table{{0.01, 1.86e-5, 2.34e-4, 6.03e-4, 1.29e-6, 8.57e-4},
                                 {0.1, 1.86e-6, 2.34e-4, 6.03e-3, 1.29e-4, 6.41e-3},
                                 {0.5, 3.7e-7, 2.34e-4, 3.01e-2, 3.22e-3, 3.40e-2},
                                 {1.0, 1.9e-7, 2.34e-4, 6.03e-2, 1.29e-2, 7.51e-2},
                                 {3.0, 6.2e-8, 2.34e-4, 0.181, 0.116, 0.314}};
  EquilibriumOptions options;
  options.activity = ActivityModel::ideal;
  options.precipitation = Precipitation::allowed;
  options.allowed_solids = {"nantokite"};
  const Equilibrium system(default_dataset(), options);
  for (const Known& known : table) {
    EquilibriumInput input;
    input.ph = 3;
    input.eh_v = -0.2;  // copper(II) is nothing here, and the metal is not asked for
    double added = known.free_chloride;
    EquilibriumResult result;
    for (int turn = 0; turn < 60; ++turn) {  // chloride to add for the free chloride wanted
      input.totals_mol_per_kg = {{"nantokite", 1}, {"Cl(-)", added}};
      result = system.solve(input);
      result.raise_if_failed();
      added += known.free_chloride - result.molality_of("Cl(-)");
    }
    const double sum = total(result, "Cu(2+)");
    aeruca_test::compare("CuCl in free Cl " + std::to_string(known.free_chloride), sum, known.sum,
                         "reference e1");
    INFO(known.free_chloride);
    CHECK(std::abs(result.molality_of("Cl(-)") / known.free_chloride - 1) < 1e-9);
    CHECK(std::abs(result.molality_of("Cu(+)") / known.cu - 1) < 0.03);  // two digits printed
    CHECK(std::abs(result.molality_of("CuCl(aq)") / known.cucl - 1) < 0.005);
    CHECK(std::abs(result.molality_of("CuCl2(-)") / known.cucl2 - 1) < 0.005);
    CHECK(std::abs(result.molality_of("CuCl3(2-)") / known.cucl3 - 1) < 0.03);
    CHECK(std::abs(sum / known.sum - 1) < 0.005);
    if (known.free_chloride == 0.1) CHECK(std::abs(sum / known.free_chloride / 0.06 - 1) < 0.10);
  }
}

// Published statement c4: no nantokite anywhere over pH and Eh at 1e-6 mol/kg copper and 0.2 or 1.5
// mol/kg chloride.
TEST_CASE("a trace of copper in brine gives no nantokite at any pH and Eh") {
  EquilibriumOptions options;
  options.precipitation = Precipitation::allowed;
  options.components = {"Cu(2+)", "Cl(-)", "Na(+)"};
  const Equilibrium system(default_dataset(), options);
  for (const double chloride : {0.2, 1.5}) {
    for (double ph = 0; ph <= 14; ph += 0.5) {
      for (double eh = -0.6; eh <= 1.0; eh += 0.05) {
        EquilibriumInput input;
        input.totals_mol_per_kg = {{"Cu(2+)", 1e-6}, {"Cl(-)", chloride}, {"Na(+)", chloride}};
        input.ph = ph;
        input.eh_v = eh;
        const auto result = system.solve(input);
        REQUIRE(result.certificate.holds());
        REQUIRE(result.saturation_index.at("nantokite") < 0);
      }
    }
  }
}
