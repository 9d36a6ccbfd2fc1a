// Sea water beside two general-purpose ocean packages; see ocean.csv.

#include <algorithm>

#include "catch.hpp"
#include "reference.hpp"
#include "sea_water.hpp"

using namespace aeruca;
using aeruca_test::number;
using aeruca_test::Row;

namespace {

EquilibriumResult sea(const Row& row) {
  EquilibriumOptions options;
  options.activity = activity_model_from(row.at("model"));
  options.temperature_c = number(row, "temperature_c");
  EquilibriumInput input;
  input.totals_mol_per_kg = aeruca_test::sea_water(number(row, "salinity"));
  for (const auto& [ion, amount] : input.totals_mol_per_kg) options.components.push_back(ion);
  input.ph = 7.9;
  input.eh_v = 0.6;
  auto result = Equilibrium(default_dataset(), options).solve(input);
  result.raise_if_failed();
  return result;
}

bool tells_of_missing_derivatives(const EquilibriumResult& result) {
  return std::any_of(result.remarks.begin(), result.remarks.end(), [](const std::string& one) {
    return one.find("not shown to hold") != std::string::npos;
  });
}

double ours(const Row& row, const EquilibriumResult& result) {
  const double salinity = number(row, "salinity");
  const std::string& quantity = row.at("quantity");
  if (quantity == "water_activity") return result.water_activity;
  if (quantity == "pkw") return aeruca_test::apparent_pkw(result, salinity);
  if (quantity == "pk1") return aeruca_test::apparent_pk1(result, salinity);
  if (quantity == "pk2") return aeruca_test::apparent_pk2(result, salinity);
  if (quantity == "pks") return aeruca_test::apparent_pks(result, salinity);
  if (quantity == "free_share") return aeruca_test::free_share(result);
  throw std::runtime_error("unknown quantity " + quantity);
}

}  // namespace

TEST_CASE("Sea water agrees with the ocean packages, or their disagreement is known") {
  for (const Row& row : aeruca_test::reference_rows("ocean.csv")) {
    const std::string what = row.at("quantity") + " at salinity " + row.at("salinity") + ", " +
                             row.at("temperature_c") + " C, " + row.at("model");
    INFO(what << ": " << row.at("why"));
    const EquilibriumResult result = sea(row);
    const double value = ours(row, result);
    const double published = number(row, "value");
    aeruca_test::compare("Sea water", what, value, published, row);
    if (row.at("standing") == "disagrees") {
      CHECK(value - published >= number(row, "low"));
      CHECK(value - published <= number(row, "high"));
      CHECK(std::abs(value - published) > number(row, "tolerance"));
    } else {
      CHECK(std::abs(value - published) <= number(row, "tolerance"));
    }
    if (row.at("why").find("the answer says so") != std::string::npos)
      CHECK(tells_of_missing_derivatives(result));
  }
}
