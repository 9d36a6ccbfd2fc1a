// Draws of constants, what two of them owe to one figure, and what another published figure would
// change: on a data set of three figures that a hand can follow.

#include <cmath>
#include <string>
#include <vector>

#include "catch.hpp"
#include "uncertainty/alternatives.hpp"
#include "uncertainty/combination.hpp"
#include "uncertainty/draws.hpp"

using namespace aeruca;
using namespace aeruca::detail;

namespace {

Figure figure(std::string id, double value, double uncertainty, bool chosen) {
  Figure made;
  made.id = std::move(id);
  made.subject = "A = B";
  made.quantity = "log10_k";
  made.unit = "1";
  made.value = value;
  made.uncertainty = uncertainty;
  made.chosen = chosen;
  return made;
}

Species made_with(std::string name, std::vector<std::pair<std::string, double>> terms) {
  Species species;
  species.name = std::move(name);
  species.constant_terms = std::move(terms);
  return species;
}

// `first` has the figure `other` beside it, half a unit higher; `second` stands alone.
Dataset three_figures() {
  Dataset data;
  data.figures = {figure("first", 2, 0.3, true), figure("other", 2.5, 0.1, false),
                  figure("second", 7, 0.4, true)};
  data.figures.back().subject = "C = D";
  data.species = {made_with("half", {{"first", 0.5}}),
                  made_with("both", {{"first", -2}, {"second", 1}})};
  data.index_names();
  return data;
}

}  // namespace

TEST_CASE("draws are standard normal, each figure for itself, and a seed makes them again") {
  constexpr std::size_t kSamples = 20000;
  const Draws draws(kSamples, 2, 11);
  double sum = 0;
  double squares = 0;
  double product = 0;
  double beyond = 0;  // two standard deviations
  for (std::size_t s = 0; s < kSamples; ++s) {
    const auto sample = draws.sample(s);
    sum += sample[0];
    squares += sample[0] * sample[0];
    product += sample[0] * sample[1];
    beyond += std::abs(sample[1]) > 2 ? 1 : 0;
  }
  const double n = kSamples;
  const double four = 4 / std::sqrt(n);  // four standard errors of each
  CHECK(std::abs(sum / n) < four);
  CHECK(std::abs(squares / n - 1) < four * std::sqrt(2.0));
  CHECK(std::abs(product / n) < four);
  CHECK(std::abs(beyond / n - 0.0455) < four * 0.21);  // 4.55 % lie beyond
  CHECK(Draws(5, 2, 11).sample(3)[1] == draws.sample(3)[1]);
  CHECK(Draws(5, 2, 12).sample(3)[1] != draws.sample(3)[1]);
}

TEST_CASE("what two constants owe to one figure adds with its sign, the rest in squares") {
  const Dataset data = three_figures();
  CHECK(std::abs(stated_uncertainty(data, {{"half", 1}}) - 0.15) < 1e-15);
  CHECK(std::abs(stated_uncertainty(data, {{"both", 1}}) - std::hypot(0.6, 0.4)) < 1e-15);
  // 4 half + both: the first figure cancels.
  CHECK(std::abs(stated_uncertainty(data, {{"half", 4}, {"both", 1}}) - 0.4) < 1e-15);
  CHECK(std::abs(stated_uncertainty(data, {{"half", -4}, {"both", 1}}) - std::hypot(1.2, 0.4)) <
        1e-15);
}

TEST_CASE("another figure changes a sum by its difference from the chosen one") {
  const Dataset data = three_figures();
  CHECK(std::abs(widest_change(data, {{"half", 3}}) - 0.75) < 1e-15);
  CHECK(std::abs(widest_change(data, {{"both", 1}}) - 1.0) < 1e-15);
  CHECK(widest_change(data, {{"half", 4}, {"both", 1}}) == 0);
}

TEST_CASE("the slopes of a sum of constants count each as often as it stands there") {
  const Dataset data = three_figures();
  const Alternatives alternatives(data);
  Alternatives::Slopes sum;
  alternatives.add(0, 3, sum);
  REQUIRE(sum.size() == 1);
  CHECK(sum.begin()->second == 1.5);
  alternatives.add(1, -1, sum);
  CHECK(sum.begin()->second == 3.5);
  REQUIRE(alternatives.others(sum.begin()->first).size() == 1);
  CHECK(alternatives.others(sum.begin()->first).front().change == 0.5);
  CHECK(alternatives.others(sum.begin()->first).front().id == "other");
}

TEST_CASE("a figure of other conditions or another unit is no alternative") {
  Dataset data = three_figures();
  CHECK(alternatives(data, data.figures[0]).size() == 1);
  data.figures[1].conditions = "I = 1 mol/kg";
  CHECK(alternatives(data, data.figures[0]).empty());
  data = three_figures();
  data.figures[1].unit = "kJ/mol";
  CHECK(alternatives(data, data.figures[0]).empty());
  data = three_figures();
  data.figures[1].value = std::nan("");
  CHECK(alternatives(data, data.figures[0]).empty());
}
