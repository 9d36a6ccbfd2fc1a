#include "aeruca/weigh_out.hpp"

#include <cmath>
#include <string>

#include "catch.hpp"

using namespace aeruca;
using aeruca::test::contains;

namespace {

WeighOut sesquicarbonate(double strength, StrengthUnit unit, const std::string& form) {
  WeighOutRequest request;
  request.strength = strength;
  request.unit = unit;
  request.form = form;
  return weigh_out(*default_dataset(), request);
}

double rounded(double value, double unit) {
  return std::round(value / unit) * unit;
}

}  // namespace

// The table of the working notes (computed by hand there from 226.03 g/mol), digit for digit.
TEST_CASE("the weigh-out table for sesquicarbonate is reproduced") {
  struct Row {
    double strength;
    StrengthUnit unit;
    double mol_per_l, ready, ready_unit, anhydrous, bicarbonate, decahydrate;
  };
  for (const Row& row :
       {Row{1, StrengthUnit::percent_w_v, 0.0442, 10.0, 0.1, 4.69, 3.72, 12.66},
        Row{5, StrengthUnit::percent_w_v, 0.2212, 50.0, 0.1, 23.45, 18.58, 63.30},
        Row{0.1, StrengthUnit::mol_per_l, 0.1000, 22.6, 0.1, 10.60, 8.40, 28.61}}) {
    const auto ready = sesquicarbonate(row.strength, row.unit, "dihydrate");
    const auto anhydrous = sesquicarbonate(row.strength, row.unit, "anhydrous");
    const auto soda = sesquicarbonate(row.strength, row.unit, "decahydrate");
    CHECK(std::abs(rounded(ready.mol_per_l, 1e-4) - row.mol_per_l) < 1e-9);
    CHECK(std::abs(rounded(ready.reagents[0].grams, row.ready_unit) - row.ready) < 1e-9);
    CHECK(std::abs(rounded(anhydrous.reagents[0].grams, 0.01) - row.anhydrous) < 1e-9);
    CHECK(std::abs(rounded(anhydrous.reagents[1].grams, 0.01) - row.bicarbonate) < 1e-9);
    CHECK(std::abs(rounded(soda.reagents[0].grams, 0.01) - row.decahydrate) < 1e-9);
    CHECK(soda.reagents[1].grams == anhydrous.reagents[1].grams);
  }
}

TEST_CASE("volume and purity scale the grams, and chloride in the reagent becomes a blank") {
  WeighOutRequest request;
  request.strength = 5;
  request.form = "dihydrate";
  request.reagent_chloride_percent = 0.002;
  CHECK(std::abs(weigh_out(*default_dataset(), request).blank_mg_per_l - 1) < 1e-12);
  request.volume_l = 20;
  request.purity_percent = 80;
  CHECK(std::abs(weigh_out(*default_dataset(), request).reagents[0].grams - 1250) < 1e-9);
  CHECK(std::abs(weigh_out(*default_dataset(), request).blank_mg_per_l - 1.25) < 1e-12);
}

TEST_CASE(
    "the mistakes that make a bath nearly three times too strong or weak are shown with their "
    "factor") {
  const auto washing = sesquicarbonate(5, StrengthUnit::percent_w_v, "decahydrate");
  CHECK_THAT(washing.traps[0].mistake, contains("anhydrous in place of"));
  CHECK(std::abs(washing.traps[0].factor - 286.14 / 105.99) < 1e-3);
  const auto ash = sesquicarbonate(5, StrengthUnit::percent_w_v, "anhydrous");
  bool each = false, molar = false;
  for (const auto& trap : ash.traps) {
    each = each || (trap.mistake.find("each part") != std::string::npos &&
                    std::abs(trap.factor - 2.32) < 0.005);
    molar = molar || (trap.mistake.find("0.1 mol/L") != std::string::npos &&
                      std::abs(trap.factor - 0.452) < 0.0005);
  }
  CHECK(each);
  CHECK(molar);
}

TEST_CASE("other salts count the anhydrous salt, and cautions go with each") {
  WeighOutRequest request;
  request.salt = "sodium carbonate";
  request.strength = 5;
  request.form = "decahydrate";
  CHECK(std::abs(weigh_out(*default_dataset(), request).reagents[0].grams -
                 50 * 286.138 / 105.988) < 1e-9);
  request.salt = "sodium hydroxide";
  request.strength = 0.5;
  request.unit = StrengthUnit::mol_per_l;
  request.form = "pellets";
  CHECK(std::abs(weigh_out(*default_dataset(), request).reagents[0].grams - 19.9985) < 1e-3);
  CHECK_THAT(weigh_out(*default_dataset(), request).cautions.front(), contains("severe burns"));
  for (const auto& salt : bath_salts(*default_dataset())) {
    request.salt = salt;
    request.form = shelf_forms(*default_dataset(), salt).front();
    CHECK_THAT(weigh_out(*default_dataset(), request).cautions.back(),
               contains("safety data sheet"));
  }
}

TEST_CASE("a weigh-out asks for what it needs") {
  WeighOutRequest request;
  request.strength = 5;
  CHECK_THROWS_WITH(weigh_out(*default_dataset(), request),
                    "form = nothing: accepted is what stands on the shelf, one of dihydrate, "
                    "anhydrous, monohydrate, decahydrate");
  request.form = "decahydrat";
  CHECK_THROWS_WITH(weigh_out(*default_dataset(), request),
                    "no form named 'decahydrat'; nearest is 'decahydrate'");
  request.form = "dihydrate";
  request.strength = 0;
  CHECK_THROWS_WITH(weigh_out(*default_dataset(), request),
                    "strength = 0: accepted is above 0 to 50 % w/v");
  request.strength = 5;
  request.volume_l = -1;
  CHECK_THROWS_WITH(weigh_out(*default_dataset(), request),
                    "volume_l = -1: accepted is above 0 to 1e+06 litres");
  request.volume_l = 1;
  request.purity_percent = 101;
  CHECK_THROWS_WITH(weigh_out(*default_dataset(), request),
                    "purity_percent = 101: accepted is above 0 to 100");
  request.purity_percent = 100;
  request.salt = "sodium carbonat";
  CHECK_THROWS_WITH(weigh_out(*default_dataset(), request),
                    "no salt named 'sodium carbonat'; nearest is 'sodium carbonate'");
  request.salt = "sesquicarb";
  CHECK_THROWS_WITH(weigh_out(*default_dataset(), request),
                    "no salt named 'sesquicarb'; nearest is 'sodium sesquicarbonate'");
}

TEST_CASE("the short name means the salt of that name and no other, and one form needs no naming") {
  for (const auto& salt : bath_salts(*default_dataset())) {
    WeighOutRequest request;
    request.salt = salt.substr(salt.find(' ') + 1);
    request.strength = 1;
    request.form = shelf_forms(*default_dataset(), request.salt).front();
    CHECK(weigh_out(*default_dataset(), request).salt == salt);
    if (shelf_forms(*default_dataset(), salt).size() > 1) continue;
    request.form.clear();
    CHECK(weigh_out(*default_dataset(), request).form ==
          shelf_forms(*default_dataset(), salt).front());
  }
}

TEST_CASE("the solubility of a bath is that of the data set, or said to be missing") {
  const auto data = default_dataset();
  CHECK(bath_solubility(*data, "carbonate").most_mol_per_l == 2.029);  // natron, Linke 1965
  CHECK(bath_solubility(*data, "carbonate").temperature_c == 20);
  CHECK(bath_solubility(*data, "bicarbonate").solid == "nahcolite");
  CHECK(std::abs(bath_solubility(*data, "sesquicarbonate").most_mol_per_l - 130 / 226.03) < 1e-4);
  CHECK(std::isnan(bath_solubility(*data, "hydroxide").most_mol_per_l));
}

TEST_CASE("washing soda is accepted where the listing prints it, as a form") {
  const auto data = default_dataset();
  WeighOutRequest request;
  request.strength = 1;
  request.salt = "sodium carbonate";
  request.form = "washing soda";
  CHECK(weigh_out(*data, request).form == "decahydrate");
  request.form = "sodium carbonate decahydrate (washing soda)";
  CHECK(weigh_out(*data, request).form == "decahydrate");
  request.salt = "sesquicarbonate";
  request.form = "washing soda";
  CHECK(weigh_out(*data, request).reagents.size() == 2);
  request.salt = "baking soda";
  request.form.clear();
  CHECK(weigh_out(*data, request).salt == "sodium bicarbonate");
}

TEST_CASE("a strength that does not dissolve is said in the result itself") {
  const auto data = default_dataset();
  WeighOutRequest request;
  request.salt = "sodium bicarbonate";
  request.strength = 50;
  const WeighOut much = weigh_out(*data, request);
  CHECK(much.dissolves == Dissolves::no);
  CHECK_THAT(much.solubility_words, contains("WARNING: stronger than dissolves"));
  request.strength = 1;
  CHECK(weigh_out(*data, request).dissolves == Dissolves::yes);
  request.salt = "sodium hydroxide";
  CHECK(weigh_out(*data, request).dissolves == Dissolves::not_known);
}

TEST_CASE("a name of one hydrate is no salt, for its percentage would be 2.7 times another") {
  const auto data = default_dataset();
  WeighOutRequest request;
  request.strength = 5;
  request.form = "decahydrate";
  request.salt = "washing soda";
  CHECK_THROWS_WITH(weigh_out(*data, request),
                    "salt = washing soda: accepted is the salt whose grams the strength counts: "
                    "sodium carbonate, with form decahydrate for what stands on the shelf");
  for (const char* same : {"soda ash", "sodium carbonate", "carbonate"}) {
    request.salt = same;
    CHECK(weigh_out(*data, request).salt == "sodium carbonate");
  }
}

TEST_CASE("the strength that is mistaken for a percentage is a figure with its source") {
  const auto data = default_dataset();
  const Figure& strength = data->figure("sodium sesquicarbonate.usual_strength");
  CHECK(strength.value == 0.1);
  CHECK(strength.unit == "mol/L");
  CHECK_FALSE(data->source(strength.source).text.empty());
}
