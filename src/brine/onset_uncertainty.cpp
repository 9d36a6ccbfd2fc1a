#include "brine/onset_uncertainty.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "aeruca/constants.hpp"
#include "brine/salt_model.hpp"

namespace aeruca::detail {
namespace {

constexpr double kPerDegree = 0.0003;
constexpr double kBeyond = 0.02;

// Of the osmotic coefficient, at the strength of the brine.
double epsilon(double ionic_strength, double ionic_strength_max, double temperature_c) {
  const double x = std::max(1.0, ionic_strength / ionic_strength_max);
  return kUnstatedOsmoticUncertainty + kPerDegree * std::abs(temperature_c - 25) +
         kBeyond * (x * x - 1);
}

// Charges without their signs, by size.
std::vector<double> sizes_of(const Dataset& dataset, const std::vector<std::string>& ions) {
  std::vector<double> sizes;
  sizes.reserve(ions.size());
  for (const std::string& ion : ions)
    sizes.push_back(dataset.contains(ion) ? std::abs(dataset.at(ion).charge) : 0);
  std::sort(sizes.begin(), sizes.end());
  return sizes;
}

// Root mean square of the published mixing terms of a kind between ions of such charges; of all of
// the kind where there is none.
double usual(const Dataset& dataset, std::string_view kind, const std::vector<std::string>& ions) {
  const std::vector<double> sizes = sizes_of(dataset, ions);
  double alike = 0;
  double all = 0;
  int alike_count = 0;
  int all_count = 0;
  for (const PitzerMixing& one : dataset.pitzer_mixing) {
    if (one.type != kind) continue;
    const double square = one.value * one.value;
    all += square;
    ++all_count;
    if (sizes_of(dataset, one.species) != sizes) continue;
    alike += square;
    ++alike_count;
  }
  if (alike_count > 0) return std::sqrt(alike / alike_count);
  return all_count == 0 ? 0 : std::sqrt(all / all_count);
}

bool is_published(const Dataset& dataset, std::string_view kind, std::vector<std::string> ions) {
  std::sort(ions.begin(), ions.end());
  return std::any_of(dataset.pitzer_mixing.begin(), dataset.pitzer_mixing.end(),
                     [&](const PitzerMixing& one) {
                       std::vector<std::string> species = one.species;
                       std::sort(species.begin(), species.end());
                       return one.type == kind && species == ions;
                     });
}

struct Ion {
  std::string name;
  double charge = 0, molality = 0;
};

// Of the excess Gibbs energy, by mixing terms that nobody has published: each as large as is usual.
double unpublished_mixing(const Dataset& dataset, const std::vector<Ion>& ions) {
  double variance = 0;
  for (std::size_t i = 0; i < ions.size(); ++i) {
    for (std::size_t j = i + 1; j < ions.size(); ++j) {
      if (ions[i].charge * ions[j].charge < 0) continue;
      const double both = ions[i].molality * ions[j].molality;
      const std::vector<std::string> two{ions[i].name, ions[j].name};
      if (!is_published(dataset, "theta", two))
        variance += std::pow(2 * both * usual(dataset, "theta", two), 2);
      for (const Ion& other : ions) {
        if (other.charge * ions[i].charge > 0) continue;
        const std::vector<std::string> three{ions[i].name, ions[j].name, other.name};
        if (!is_published(dataset, "psi", three))
          variance += std::pow(both * other.molality * usual(dataset, "psi", three), 2);
      }
    }
  }
  return variance;
}

}  // namespace

double onset_uncertainty(const Dataset& dataset, double temperature_c, double ionic_strength_max,
                         const MixtureState& drier, const MixtureState& moister) {
  std::vector<Ion> ions;
  double moles = 0;
  double strength = 0;
  for (const auto& [ion, molality] : moister.brine_molality) {
    const double charge = dataset.at(ion).charge;
    moles += molality;
    ions.push_back({ion, charge, molality});
    strength += 0.5 * charge * charge * molality;
  }
  double variance = 0;
  for (const auto& [solid, amount] : drier.solids) {
    const auto left = moister.solids.find(solid);
    const double dissolved = amount - (left == moister.solids.end() ? 0 : left->second);
    const double ln_k = kLn10 * dataset.log10_k_uncertainty(dataset.at(solid), temperature_c);
    if (!std::isnan(ln_k)) variance += std::pow(dissolved / moister.water_kg * ln_k, 2);
  }
  variance += unpublished_mixing(dataset, ions);
  variance += std::pow(epsilon(strength, ionic_strength_max, temperature_c) * moles, 2);
  return moister.rh_percent * kWaterMolarMass * std::sqrt(variance);
}

}  // namespace aeruca::detail
