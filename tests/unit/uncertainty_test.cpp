// Draws of constants, what two of them owe to one figure, and what another published figure would
// change: on a data set of three figures that a hand can follow.

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "aeruca/not_given.hpp"
#include "catch.hpp"
#include "uncertainty/alternatives.hpp"
#include "uncertainty/combination.hpp"
#include "uncertainty/drawn_constants.hpp"
#include "uncertainty/draws.hpp"
#include "uncertainty/summary.hpp"

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
  CHECK(std::abs(stated_uncertainty(data, {{"half", 1}}, 25) - 0.15) < 1e-15);
  CHECK(std::abs(stated_uncertainty(data, {{"both", 1}}, 25) - std::hypot(0.6, 0.4)) < 1e-15);
  // 4 half + both: the first figure cancels.
  CHECK(std::abs(stated_uncertainty(data, {{"half", 4}, {"both", 1}}, 25) - 0.4) < 1e-15);
  CHECK(std::abs(stated_uncertainty(data, {{"half", -4}, {"both", 1}}, 25) - std::hypot(1.2, 0.4)) <
        1e-15);
}

TEST_CASE("another figure changes a sum by its difference from the chosen one") {
  const Dataset data = three_figures();
  CHECK(std::abs(widest_change(data, {{"half", 3}}, 25) - 0.75) < 1e-15);
  CHECK(std::abs(widest_change(data, {{"both", 1}}, 25) - 1.0) < 1e-15);
  CHECK(widest_change(data, {{"half", 4}, {"both", 1}}, 25) == 0);
}

TEST_CASE("the slopes of a sum of constants count each as often as it stands there") {
  const Dataset data = three_figures();
  const Alternatives alternatives(data, 25);
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

TEST_CASE("quantiles lie on straight lines between the draws in order, NaN left out") {
  const std::vector<double> shares{0, 0.25, 0.5, 1};
  CHECK(quantiles({3, 1, kNotGiven, 2, 4, 5}, shares) == std::vector<double>{1, 2, 3, 5});
  CHECK(quantiles({1, 2}, shares)[1] == 1.25);
  CHECK(std::isnan(quantiles({kNotGiven}, shares)[0]));
}

TEST_CASE("a share of draws has a standard error though all or none of them count") {
  const CountedShare half = share_of(50, 100);
  CHECK(half.share == 0.5);
  CHECK(half.standard_error == Approx(std::sqrt(0.25 / 104)));
  CHECK(share_of(0, 100).share == 0);
  CHECK(share_of(0, 100).standard_error > 0.01);
  CHECK(share_of(100, 100).standard_error > 0.01);
  CHECK(std::isnan(share_of(0, 0).share));
}

TEST_CASE("the shares of independent causes add up, and what is given has none") {
  constexpr std::size_t kDraws = 20000;
  const Draws draws(kDraws, 2, 3);
  std::vector<double> causes(2 * kDraws);
  std::vector<double> figure(kDraws);
  for (std::size_t d = 0; d < kDraws; ++d) {
    for (const std::size_t c : {0U, 1U}) causes[c * kDraws + d] = draws.sample(d)[c];
    figure[d] = 7 + 2 * draws.sample(d)[0] - draws.sample(d)[1];
  }
  const Varying varying(causes, kDraws);
  const auto shares = varying.shares(figure);
  CHECK(std::abs(shares[0] - 0.8) < 4 * share_error(0.8, kDraws));
  CHECK(std::abs(shares[1] - 0.2) < 4 * share_error(0.2, kDraws));
  figure[17] = kNotGiven;
  CHECK(varying.shares(figure)[0] == Approx(shares[0]).margin(1e-3));
  CHECK(varying.shares(std::vector<double>(kDraws, 7.1)) == std::vector<double>{0, 0});
}

TEST_CASE("each published figure is drawn as often as the others, with its own uncertainty") {
  Dataset data;
  Figure chosen;
  chosen.id = "chosen";
  chosen.subject = "A = B";
  chosen.quantity = "log10_k";
  chosen.unit = "1";
  chosen.value = 2;
  chosen.uncertainty = 0.01;
  chosen.chosen = true;
  Figure other = chosen;
  other.id = "other";
  other.value = 12;
  other.uncertainty = 0.02;
  other.chosen = false;
  Figure silent = other;
  silent.id = "silent";
  silent.value = 22;
  silent.uncertainty = kNotGiven;
  data.figures = {chosen, other, silent};
  Species species;
  species.name = "B";
  species.constant_terms = {{"chosen", -2}};
  data.species = {species};
  data.index_names();
  const DrawnConstants constants(data, std::vector<std::size_t>{0}, 25);
  REQUIRE(constants.figures().size() == 1);
  constexpr int kDraws = 10000;
  const FigureDraws draws(constants, kDraws, 5);
  std::map<long, int> counts;
  std::map<long, double> squares;
  std::vector<double> off;
  std::vector<double> changes;
  for (std::size_t d = 0; d < kDraws; ++d) {
    draws.off(d, Doubt::published, off);
    const long place = std::lround(off[0] / 10);
    ++counts[place];
    squares[place] += std::pow(off[0] - 10 * static_cast<double>(place), 2);
    constants.changes(off, changes);
    CHECK(changes.at(0) == -2 * off[0]);
    draws.off(d, Doubt::stated, off);
    CHECK(std::abs(off[0]) < 0.06);
  }
  REQUIRE(counts.size() == 3);
  for (const auto& [place, count] : counts) {
    CHECK(std::abs(count - kDraws / 3.0) < 4 * std::sqrt(kDraws * 2 / 9.0));
    const double expected = place == 1 ? 0.02 : 0.01;
    CHECK(std::sqrt(squares[place] / count) == Approx(expected).epsilon(0.05));
  }
}

TEST_CASE("the heat of every species is the sum of the figures it says it rests on") {
  const auto dataset = default_dataset();
  int known = 0;
  for (const Species& species : dataset->species) {
    CAPTURE(species.name);
    double sum = 0;
    for (const auto& [id, coefficient] : species.enthalpy_terms)
      sum += coefficient * dataset->figure(id).value;
    if (std::isnan(species.enthalpy_kj_per_mol)) {
      CHECK(species.enthalpy_terms.empty());
    } else {
      CHECK(sum == Approx(species.enthalpy_kj_per_mol).margin(1e-9));
      known += sum != 0 ? 1 : 0;
    }
  }
  CHECK(known > 50);
}

TEST_CASE("away from 25 degrees C a constant is off by its heat of reaction as well") {
  const auto dataset = default_dataset();
  const std::vector<std::size_t> tenorite{dataset->index("tenorite")};
  const DrawnConstants constants(*dataset, tenorite, 5);
  std::vector<double> off(constants.figures().size(), 0);
  const auto place = std::find_if(constants.figures().begin(), constants.figures().end(),
                                  [](const auto& each) { return each.id == "H1H.enthalpy"; });
  REQUIRE(place != constants.figures().end());
  off[static_cast<std::size_t>(place - constants.figures().begin())] = 3;
  std::vector<double> changes;
  constants.changes(off, changes);
  Species moved = dataset->at("tenorite");
  const double before = dataset->log10_k(moved, 5);
  moved.enthalpy_kj_per_mol -= 3;  // of its formation; the figure is of its dissolution
  CHECK(changes[tenorite[0]] == Approx(dataset->log10_k(moved, 5) - before).epsilon(1e-9));
  CHECK(DrawnConstants(*dataset, tenorite, 25).figures().size() < constants.figures().size());
}
