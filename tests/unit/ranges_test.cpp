// Ranges of a water from draws of its constants, against what a hand works out: normal quantiles
// where an answer is linear in one constant, no spread where two share a figure, the same water
// solved on a changed data set, one figure moved at a time.

#include "aeruca/ranges.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include "analysis/drawn_water.hpp"
#include "catch.hpp"
#include "numerics/normal.hpp"
#include "own_folder.hpp"
#include "uncertainty/combination.hpp"
#include "uncertainty/drawn_constants.hpp"

using namespace aeruca;
using namespace aeruca::detail;
using aeruca::test::contains;
using aeruca_test::OwnFolder;

namespace {

using DatasetPointer = std::shared_ptr<const Dataset>;

constexpr int kMany = 10000;

// A little copper at a pH where none of it is hydrolysed: the index of tenorite is linear in its
// constant.
EquilibriumInput acid_water() {
  EquilibriumInput input;
  input.totals_mol_per_kg = {{"Cu(2+)", 1e-6}};
  input.ph = 2;
  input.eh_v = 0.6;
  return input;
}

EquilibriumOptions ideal() {
  EquilibriumOptions options;
  options.activity = ActivityModel::ideal;
  return options;
}

// A burial water with its bicarbonate titrated.
AnalysedWater burial_water(const Dataset& dataset, Precipitation precipitation,
                           double potential_mv = 230) {
  WaterAnalysis analysis;
  for (const auto& [name, amount] :
       std::vector<std::pair<std::string, std::string>>{{"copper", "2 mg/L"},
                                                        {"chloride", "640 mg/L"},
                                                        {"sodium", "405 mg/L"},
                                                        {"calcium", "90 mg/L"},
                                                        {"sulfate", "120 mg/L"}}) {
    analysis.ions.push_back({name, *parse_amount(amount)});
  }
  analysis.alkalinity = *parse_amount("310 mg/L");
  analysis.ph.value = 7.2;
  analysis.potential_mv = potential_mv;
  EquilibriumOptions options;
  options.precipitation = precipitation;
  return analyse(analysis, dataset, options);
}

template <class Result>
const Result& named(const std::vector<Result>& all, const std::string& name) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const auto& each) { return each.name == name; });
  REQUIRE(found != all.end());
  return *found;
}

std::vector<double> list(const Spread& p) {
  return {p.percentile_2_5, p.percentile_16, p.median, p.percentile_84, p.percentile_97_5};
}

// A reaction as a record of an extension file.
std::string record(const Figure& figure, double value) {
  return "[[reaction]]\nid = \"" + figure.id + "\"\nequation = \"" + figure.subject +
         "\"\nquantity = \"" + figure.quantity + "\"\nvalue = " + std::to_string(value) +
         "\nunit = \"1\"\nuncertainty = " + std::to_string(figure.uncertainty) + "\nsource = \"" +
         figure.source +
         "\"\nbasis = \"derived\"\nplace = \"test\"\nchosen = true\nreason = \"test\"\n\n";
}

DatasetPointer extended(const std::string& text) {
  const OwnFolder folder;
  return extend_dataset(*default_dataset(), folder.write("own.toml", text));
}

std::vector<std::size_t> every_species(const Dataset& dataset) {
  std::vector<std::size_t> all(dataset.species.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  return all;
}

// Variance of a figure that is any of those published, each with its own uncertainty.
double variance(const DrawnFigure& figure) {
  const double n = static_cast<double>(figure.others.size() + 1);
  double mean = 0;
  double squares = figure.uncertainty * figure.uncertainty / n;
  for (const PublishedFigure& other : figure.others) {
    mean += other.change / n;
    squares += (other.change * other.change + other.uncertainty * other.uncertainty) / n;
  }
  return squares - mean * mean;
}

}  // namespace

TEST_CASE("an answer linear in one constant has the quantiles of a normal distribution") {
  const DatasetPointer dataset = default_dataset();
  DrawOptions options;
  options.draws = kMany;
  const WaterRanges ranges = ranges_of(acid_water(), ideal(), dataset, options);
  const FigureRange& index = named(ranges.saturation_index, "tenorite");
  const double sigma = stated_uncertainty(*dataset, {{"tenorite", 1}}, 25);
  CHECK(index.undrawn ==
        Approx(Equilibrium(dataset, ideal()).solve(acid_water()).saturation_index.at("tenorite")));
  const std::vector<double> found = list(index.as_stated);
  const std::vector<double> shares{0.025, 0.16, 0.5, 0.84, 0.975};
  for (std::size_t k = 0; k < shares.size(); ++k) {
    CAPTURE(shares[k]);
    const double z = normal_quantile(shares[k]);
    const double error = std::sqrt(shares[k] * (1 - shares[k]) / kMany) / normal_density(z);
    CHECK(std::abs(found[k] - (index.undrawn + z * sigma)) < 4 * error * sigma);
  }
  CHECK(ranges.unanswered_as_stated == 0);
  REQUIRE(index.carried_by.size() == 1);
  CHECK(index.carried_by[0].figure == "H1H");
  CHECK(index.carried_by[0].share > 0.99);
  CHECK(index.carried_by[0].others == 3);
}

TEST_CASE(
    "another published figure widens a range by what it says, and apart from what is stated") {
  const DatasetPointer dataset = default_dataset();
  DrawOptions options;
  options.draws = kMany;
  const WaterRanges ranges = ranges_of(acid_water(), ideal(), dataset, options);
  // Another figure of the copper(I) hydroxide lies 3.8 away.
  const FigureRange& hydroxide = named(ranges.log10_molality, "CuOH(aq)");
  const Spread& stated = hydroxide.as_stated;
  const Spread& published = hydroxide.as_published;
  CHECK(stated.percentile_97_5 - stated.percentile_2_5 < 2);
  CHECK(published.percentile_2_5 < stated.percentile_2_5 - 3);
  CHECK(published.percentile_97_5 < stated.percentile_97_5 + 0.5);
}

TEST_CASE("two constants that share a figure move together: their difference has no spread") {
  const DatasetPointer dataset = extended(
      "[[species]]\nname = \"twin of tenorite\"\ntitle = \"twin\"\nformula = "
      "\"CuO\"\nconstant_from = \"TWIN\"\n\n"
      "[[reaction]]\nid = \"TWIN\"\nequation = \"twin of tenorite = tenorite\"\n"
      "quantity = \"log10_k\"\nvalue = 0.25\nunit = \"1\"\nuncertainty = 0.0\nsource = "
      "\"powell2007\"\nplace = \"test\"\nbasis = \"derived\"\nchosen = true\nreason = \"test\"\n");
  const WaterRanges ranges = ranges_of(acid_water(), ideal(), dataset, {});
  const auto tenorite = list(named(ranges.saturation_index, "tenorite").as_published);
  const auto twin = list(named(ranges.saturation_index, "twin of tenorite").as_published);
  for (std::size_t k = 0; k < twin.size(); ++k)
    CHECK(twin[k] - tenorite[k] == Approx(-0.25).margin(1e-9));
  CHECK(tenorite.back() - tenorite.front() > 1);
}

TEST_CASE("a seed makes the same ranges on any number of threads, another seed others") {
  const DatasetPointer dataset = default_dataset();
  const SolvedWater water = solve(burial_water(*dataset, Precipitation::none), dataset);
  const auto drawn = [&](int threads, std::uint64_t seed) {
    DrawOptions options;
    options.draws = 600;
    options.threads = threads;
    options.seed = seed;
    std::vector<double> all;
    const WaterRanges ranges = ranges_of(water, dataset, options);
    for (const auto* figures :
         {&ranges.log10_dissolved, &ranges.log10_molality, &ranges.saturation_index}) {
      for (const FigureRange& each : *figures) {
        for (const double value : list(each.as_published)) all.push_back(value);
        for (const DoubtCarrier& carrier : each.carried_by) all.push_back(carrier.share);
      }
    }
    return all;
  };
  const std::vector<double> alone = drawn(1, 4);
  CHECK(alone == drawn(3, 4));
  CHECK(alone == drawn(2, 4));
  CHECK(alone != drawn(1, 5));
}

TEST_CASE("a draw is the water solved on a data set with those constants") {
  const DatasetPointer dataset = default_dataset();
  const auto precipitation = GENERATE(Precipitation::none, Precipitation::allowed);
  const AnalysedWater water = burial_water(*dataset, precipitation);
  const SolvedWater undrawn = solve(water, dataset);
  REQUIRE(undrawn.result.status == Status::converged);
  const DrawnConstants constants(*dataset, every_species(*dataset), 25);
  std::vector<double> off(constants.figures().size(), 0);
  std::string text = "closure_tolerance = 9\n";
  const std::map<std::string, double> moved{
      {"H1H", 0.4}, {"K04S", -0.2}, {"C01", 0.1}, {"W01", 0.05}, {"H1A", -0.3}};
  std::size_t found = 0;
  for (std::size_t f = 0; f < off.size(); ++f) {
    const auto change = moved.find(constants.figures()[f].id);
    if (change == moved.end()) continue;
    off[f] = change->second;
    ++found;
    const Figure& figure = dataset->figure(change->first);
    text += record(figure, figure.value + off[f]);
  }
  REQUIRE(found == moved.size());
  std::vector<double> changes;
  constants.changes(off, changes);
  DrawnWater drawn(undrawn, dataset);
  REQUIRE(drawn.solve(changes));
  const DatasetPointer changed = extended(text);
  const EquilibriumResult expected = solve(water, changed).result;
  REQUIRE(expected.status == Status::converged);
  const auto& species = drawn.system().species.names;
  REQUIRE(species == expected.species);
  for (std::size_t i = 0; i < species.size(); ++i) {
    CAPTURE(species[i]);
    if (expected.molality[i] > 0)
      CHECK(drawn.answer().log10_molality[i] == Approx(expected.log10_molality[i]).margin(1e-8));
  }
  const auto& solids = drawn.system().solids.names;
  for (std::size_t s = 0; s < solids.size(); ++s) {
    const auto index = expected.saturation_index.find(solids[s]);
    if (index != expected.saturation_index.end())
      CHECK(drawn.answer().saturation_index[s] == Approx(index->second).margin(1e-7));
  }
  // It has moved at all, and back.
  const auto tenorite = [&] {
    return drawn.answer().saturation_index[static_cast<std::size_t>(
        std::find(solids.begin(), solids.end(), "tenorite") - solids.begin())];
  };
  const double there = tenorite();
  REQUIRE(drawn.solve(std::vector<double>(changes.size(), 0)));
  CHECK(tenorite() == Approx(undrawn.result.saturation_index.at("tenorite")).margin(1e-8));
  CHECK(std::abs(there - tenorite()) > (precipitation == Precipitation::none ? 0.1 : -1));
}

TEST_CASE("what a constant carries is what it does when it alone is moved") {
  const DatasetPointer dataset = default_dataset();
  // So oxidising that little copper(I) is left: answers are nearly linear.
  const SolvedWater water = solve(burial_water(*dataset, Precipitation::none, 500), dataset);
  DrawOptions options;
  options.draws = kMany;
  const WaterRanges ranges = ranges_of(water, dataset, options);
  const DrawnConstants constants(*dataset, every_species(*dataset), 25);
  DrawnWater drawn(water, dataset);
  const auto& solids = drawn.system().solids.names;
  for (const std::string name : {"malachite", "cuprite", "atacamite"}) {
    CAPTURE(name);
    const auto place =
        static_cast<std::size_t>(std::find(solids.begin(), solids.end(), name) - solids.begin());
    std::vector<double> off(constants.figures().size(), 0);
    std::vector<double> changes;
    std::map<std::string, double> parts;
    double whole = 0;
    for (std::size_t f = 0; f < off.size(); ++f) {
      const double spread = std::sqrt(variance(constants.figures()[f]));
      double ends = 0;
      for (const double sign : {-1.0, 1.0}) {
        off[f] = 0.5 * sign * spread;
        constants.changes(off, changes);
        REQUIRE(drawn.solve(changes));
        ends += sign * drawn.answer().saturation_index[place];
      }
      off[f] = 0;
      parts[constants.figures()[f].id] = ends * ends;
      whole += ends * ends;
    }
    const FigureRange& range = named(ranges.saturation_index, name);
    REQUIRE_FALSE(range.carried_by.empty());
    double most = 0;
    for (const auto& [id, part] : parts) most = std::max(most, part / whole);
    for (const DoubtCarrier& carrier : range.carried_by) {
      CAPTURE(carrier.figure);
      const double alone = parts.at(carrier.figure) / whole;
      CHECK(std::abs(carrier.share - alone) < 4 * carrier.share_error + 0.03);
    }
    CHECK(parts.at(range.carried_by.front().figure) / whole > most - 0.03);
    CHECK(range.carried_by.front().source ==
          dataset->figure(range.carried_by.front().figure).source);
  }
}

TEST_CASE("a solid is as probable as its index is above 0, allowed to form or not") {
  const DatasetPointer dataset = default_dataset();
  const double sigma = stated_uncertainty(*dataset, {{"tenorite", 1}}, 25);
  EquilibriumInput input = acid_water();
  input.ph = 5;
  EquilibriumOptions system = ideal();
  DrawOptions options;
  options.draws = kMany;
  // Half a standard uncertainty short of saturation.
  const double index = Equilibrium(dataset, system).solve(input).saturation_index.at("tenorite");
  input.totals_mol_per_kg["Cu(2+)"] *= std::pow(10, -index - 0.5 * sigma);
  const double expected = normal_below(-0.5);
  for (const Precipitation precipitation : {Precipitation::none, Precipitation::allowed}) {
    system.precipitation = precipitation;
    if (precipitation == Precipitation::allowed) system.allowed_solids = {"tenorite"};
    const WaterRanges ranges = ranges_of(input, system, dataset, options);
    const SolidChance& tenorite = named(ranges.solids, "tenorite");
    CHECK(tenorite.allowed == (precipitation == Precipitation::allowed));
    CHECK(std::abs(tenorite.as_stated.probability - expected) <
          4 * tenorite.as_stated.standard_error + 0.02);
    CHECK(tenorite.as_stated.standard_error == Approx(0.0046).epsilon(0.05));
  }
}

TEST_CASE("draws without an answer are counted and left out") {
  const DatasetPointer dataset = default_dataset();
  WaterAnalysis analysis;
  analysis.ions = {{"sodium", *parse_amount("1 mmol/kg")}};
  analysis.ph.value = 11;
  analysis.potential_mv = 300;
  // All but nothing of the alkalinity is hydroxide: where water ionises a little more, there is
  // no carbonate that could answer the titration.
  const double hydroxide = std::pow(10, dataset->at("OH(-)").log10_k + 11);
  analysis.alkalinity = {{1.0001 * hydroxide, kNotGiven, kNotGiven}, "mol/kg"};
  const SolvedWater water = solve(analyse(analysis, *dataset, ideal()), dataset);
  REQUIRE(water.result.status == Status::converged);
  DrawOptions options;
  options.draws = 2000;
  const WaterRanges ranges = ranges_of(water, dataset, options);
  CHECK(std::abs(ranges.unanswered_as_stated - 1000) < 4 * std::sqrt(500.0));
  CHECK(std::isfinite(named(ranges.log10_molality, "HCO3(-)").as_stated.median));
}

TEST_CASE("a pH from the charge and an Eh from oxygen have ranges, given ones none") {
  const DatasetPointer dataset = default_dataset();
  EquilibriumInput input;
  input.totals_mol_per_kg = {{"Na(+)", 2e-3}};
  input.fugacity_bar = {{"CO2(g)", 4e-4}};
  input.oxygen_bar = 0.2;
  EquilibriumOptions system;
  system.acidity = Acidity::charge_balance;
  system.redox = Redox::oxygen;
  DrawOptions options;
  options.draws = 200;
  const WaterRanges ranges = ranges_of(input, system, dataset, options);
  REQUIRE(ranges.ph.has_value());
  REQUIRE(ranges.eh_v.has_value());
  CHECK(ranges.ph->undrawn == Approx(Equilibrium(dataset, system).solve(input).ph));
  CHECK(ranges.ph->as_stated.percentile_2_5 < ranges.ph->as_stated.percentile_97_5);
  const WaterRanges given = ranges_of(acid_water(), ideal(), dataset, options);
  CHECK_FALSE(given.ph.has_value());
  CHECK_FALSE(given.eh_v.has_value());
  CHECK(given.draws == 200);
}

TEST_CASE("too few or too many draws are refused, a water without an answer says so") {
  const DatasetPointer dataset = default_dataset();
  DrawOptions options;
  options.draws = 99;
  CHECK_THROWS_WITH(ranges_of(acid_water(), ideal(), dataset, options), contains("100 to 100 000"));
  options.draws = 100001;
  CHECK_THROWS_AS(ranges_of(acid_water(), ideal(), dataset, options), InputError);
  SolvedWater none;
  none.result.status = Status::infeasible;
  none.result.message = "it cannot be";
  CHECK(ranges_of(none, dataset, {}).message == "it cannot be");
}

TEST_CASE(
    "the spread as published is the same without the one as stated, which is then not known") {
  const DatasetPointer dataset = default_dataset();
  DrawOptions options;
  options.draws = 150;
  const WaterRanges both = ranges_of(acid_water(), ideal(), dataset, options);
  options.spreads = Spreads::as_published;
  const WaterRanges one = ranges_of(acid_water(), ideal(), dataset, options);
  for (std::size_t k = 0; k < one.saturation_index.size(); ++k) {
    CHECK(list(one.saturation_index[k].as_published) ==
          list(both.saturation_index[k].as_published));
    CHECK(std::isnan(one.saturation_index[k].as_stated.median));
  }
  CHECK(std::isnan(one.solids.front().as_stated.probability));
  CHECK(one.solids.front().as_published.probability ==
        both.solids.front().as_published.probability);
}

TEST_CASE("a figure without a stated uncertainty and alone counts as exact and is named") {
  const DatasetPointer dataset = default_dataset();
  const WaterRanges ranges = ranges_of(acid_water(), ideal(), dataset, {});
  const std::set<std::string> exact(ranges.exact.begin(), ranges.exact.end());
  for (const std::string& id : exact) {
    CAPTURE(id);
    CHECK(std::isnan(dataset->figure(id).uncertainty));
  }
  CHECK(exact.count("H1H") == 0);
  CHECK(exact.count("W03") == 0);  // exact by definition, with its uncertainty stated
}
