#include <chrono>
#include <cmath>
#include <map>
#include <set>

#include "aeruca/constants.hpp"
#include "catch.hpp"
#include "dataset/packed_dataset.hpp"
#include "dataset/records.hpp"
#include "source_tree.hpp"

using namespace aeruca;
using Catch::Matchers::WithinAbs;

TEST_CASE("every species holds the atoms and the charge of its components") {
  const auto dataset = default_dataset();
  for (const Species& species : dataset->species) {
    INFO(species.name);
    std::map<std::string, double> atoms;
    double charge = -species.charge;
    for (const auto& [element, count] : species.elements) atoms[element] -= count;
    for (std::size_t j = 0; j < dataset->components.size(); ++j) {
      const Species& component = dataset->at(dataset->components[j]);
      charge += species.components[j] * component.charge;
      for (const auto& [element, count] : component.elements)
        atoms[element] += species.components[j] * count;
    }
    CHECK_THAT(charge, WithinAbs(0, 1e-9));
    for (const auto& [element, excess] : atoms) CHECK_THAT(excess, WithinAbs(0, 1e-9));
  }
}

TEST_CASE("every constant is the sum of its figures and its uncertainty their quadrature") {
  const auto dataset = default_dataset();
  for (const Species& species : dataset->species) {
    INFO(species.name);
    double value = 0;
    double variance = 0;
    for (const auto& [id, coefficient] : species.constant_terms) {
      const Figure& figure = dataset->figure(id);
      value += coefficient * figure.value;
      if (!std::isnan(figure.uncertainty))
        variance += std::pow(coefficient * figure.uncertainty, 2);
      CHECK(std::isfinite(figure.value));
    }
    CHECK_THAT(species.log10_k, WithinAbs(value, 1e-9));
    CHECK_THAT(species.log10_k_uncertainty, WithinAbs(std::sqrt(variance), 1e-9));
  }
}

TEST_CASE("every chosen reaction closes: constants and enthalpies") {
  const auto dataset = default_dataset();
  int constants = 0;
  int enthalpies = 0;
  const auto records = detail::records_of(*dataset);
  for (const auto& entry : records->reactions.entries()) {
    const Figure& figure = entry.value.figure;
    if (!figure.chosen) continue;
    bool known = true;
    double log10_k = 0;
    double enthalpy = 0;
    for (const auto& [name, coefficient] : entry.value.terms) {
      known = known && dataset->contains(name);
      if (!known) break;
      log10_k += coefficient * dataset->at(name).log10_k;
      enthalpy += coefficient * dataset->at(name).enthalpy_kj_per_mol;
    }
    if (!known) continue;
    INFO(figure.id << " " << figure.subject);
    if (figure.quantity == "log10_k") {
      ++constants;
      CHECK_THAT(log10_k, WithinAbs(figure.value, 0.03));  // constants are given to 0.01
    } else if (figure.quantity == "enthalpy" && !std::isnan(enthalpy)) {
      ++enthalpies;
      CHECK_THAT(enthalpy,
                 WithinAbs(figure.value, 0.5));  // enthalpies to 0.1 kJ/mol, chains of a few
    }
  }
  CHECK(constants > 70);
  CHECK(enthalpies > 20);
}

TEST_CASE("constants move with temperature as the enthalpy says") {
  const auto dataset = default_dataset();
  int checked = 0;
  for (const Species& species : dataset->species) {
    if (std::isnan(species.enthalpy_kj_per_mol)) continue;
    INFO(species.name);
    const double step = 0.01;
    const double slope =
        (dataset->log10_k(species, 25 + step) - dataset->log10_k(species, 25 - step)) / (2 * step);
    const double expected =
        1000 * species.enthalpy_kj_per_mol / (kGasConstant * kLn10 * 298.15 * 298.15);
    CHECK_THAT(slope, WithinAbs(expected, 1e-6 + 1e-6 * std::abs(expected)));
    ++checked;
  }
  CHECK(checked > 50);
}

TEST_CASE("a figure has one id, one source and one chosen value a quantity") {
  const auto dataset = default_dataset();
  std::set<std::string> ids;
  for (const Figure& figure : dataset->figures) {
    INFO(figure.id);
    CHECK(ids.insert(figure.id).second);
    CHECK_NOTHROW(dataset->source(figure.source));
    if (figure.chosen) CHECK(std::isfinite(figure.value));
  }
}

TEST_CASE("the data set is read in less than 30 ms, sanitizers aside") {
  const std::string directory = test::source_tree() + "/data";
  double best = 1e9;
  for (int run = 0; run < 5; ++run) {
    const auto start = std::chrono::steady_clock::now();
    const auto dataset = load_dataset(directory);
    best = std::min(
        best, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
                  .count());
    CHECK(dataset->content_hash == default_dataset()->content_hash);
  }
  WARN("read in " << best << " ms");
  CHECK(best < 1000);  // a machine under load, or a sanitizer, must not fail the suite
}

TEST_CASE("the built-in data set is to the last bit what the files of data/ give") {
  const auto read = load_dataset(test::source_tree() + "/data");
  const std::string packed = detail::pack(*read);
  CHECK(packed.size() > 100'000);
  CHECK((packed == detail::pack(*default_dataset())));
  // What is not packed is made again.
  for (const Species& species : read->species)
    CHECK(default_dataset()->index(species.name) == read->index(species.name));
  for (const Figure& figure : read->figures)
    CHECK(default_dataset()->figure(figure.id).line == figure.line);
}

TEST_CASE("no list of a packed data set is left behind") {
  const auto dataset = default_dataset();
  CHECK(dataset->version == load_dataset(test::source_tree() + "/data")->version);
  CHECK(dataset->content_hash.size() == 16);
  for (const std::size_t count :
       {dataset->components.size(), dataset->species.size(), dataset->figures.size(),
        dataset->sources.size(), dataset->sit.size(), dataset->pitzer.size(),
        dataset->pitzer_mixing.size(), dataset->salts.size(), dataset->humidities.size(),
        dataset->onset_bands.size(), dataset->bath_salts.size(), dataset->field_tests.size(),
        dataset->minerals.size()})
    CHECK(count > 0);
}
