// From the data set to the parameters of a list of species.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <set>

#include "activity/complexes.hpp"
#include "activity/excess.hpp"
#include "activity/models.hpp"
#include "activity/pitzer.hpp"
#include "activity/sit_coefficients.hpp"
#include "aeruca/constants.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/water.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

constexpr double kHighestCharge = 8;
constexpr double kSparinglySoluble =
    0.5;  // mol/kg; such a range ends at solubility, not at the model

double value_at(double value, double per_k, double per_k2, double temperature_c) {
  const double from_25 = temperature_c - 25.0;
  return std::isnan(per_k) ? value : value + (per_k + per_k2 * from_25) * from_25;
}

class Assembly {
 public:
  Assembly(const Dataset& dataset, std::span<const std::string> species, double temperature_c)
      : dataset_(dataset), species_(species), temperature_c_(temperature_c) {
    system_.charge = charges_of(dataset, species);
    system_.a_phi = debye_hueckel_slopes(temperature_c).a_phi;
    for (const double z : system_.charge) {
      if (std::abs(z) > kHighestCharge)
        throw InputError("species charge", z, "-8 to 8 for the pitzer model");
    }
  }

  PitzerSystem take() {
    add_pairs();
    for (const auto& entry : dataset_.pitzer_mixing) add_mixing(entry);
    describe();
    return std::move(system_);
  }

 private:
  void add_pairs() {
    for (std::size_t i = 0; i < species_.size(); ++i) {
      for (std::size_t j = 0; j < species_.size(); ++j) {
        if (system_.charge[i] > 0 && system_.charge[j] < 0) add_pair(i, j);
      }
    }
  }

  void add_pair(std::size_t i, std::size_t j) {
    const Species& cation = dataset_.at(species_[i]);
    const Species& anion = dataset_.at(species_[j]);
    const auto complexes = complexes_listed(dataset_, species_, cation, anion);
    const auto* set = parameters_beside(dataset_.pitzer, cation.name, anion.name, complexes);
    if (set == nullptr) {
      estimate(i, j);
      return;
    }
    const double product = system_.charge[i] * -system_.charge[j];
    system_.pairs.push_back(pitzer_pair(*set, i, j, product, temperature_c_));
    system_.figures.push_back(set->id);
    note_temperature(*set);
    system_.ranges.push_back(
        {i, j, ionic_strength_range(*set, system_.charge[i], -system_.charge[j])});
  }

  void estimate(std::size_t i, std::size_t j) {
    const PairCoefficient sit =
        sit_coefficient(dataset_, species_, dataset_.at(species_[i]), dataset_.at(species_[j]));
    system_.pairs.push_back(
        estimated_pitzer_pair(sit.value, i, j, system_.charge[i], -system_.charge[j]));
    system_.estimated.push_back({i, j, sit.uncertainty});
    estimates_.push_back(say("activity.pair", {{"one", species_[i]}, {"other", species_[j]}}) +
                         " +/- " + format_number(sit.uncertainty, 2));
    if (!sit.figure.empty()) system_.figures.push_back(sit.figure);
  }

  static double ionic_strength_range(const PitzerBinary& set, double cation, double anion) {
    const double molality = std::isnan(set.molality_max) ? kUnstatedMolality : set.molality_max;
    if (molality < kSparinglySoluble) return std::numeric_limits<double>::infinity();
    // nu_c z_c^2 + nu_a z_a^2 of one formula unit
    const int divisor = std::gcd(static_cast<int>(cation), static_cast<int>(anion));
    return molality * 0.5 * cation * anion * (cation + anion) / divisor;
  }

  void note_temperature(const PitzerBinary& set) {
    if (temperature_c_ < set.temperature_min_c || temperature_c_ > set.temperature_max_c) {
      cold_.push_back(set.id);
    }
  }

  void add_mixing(const PitzerMixing& entry) {
    if (std::isnan(entry.value)) return;
    std::vector<std::size_t> at;
    for (const auto& name : entry.species) {
      const auto found = std::find(species_.begin(), species_.end(), name);
      if (found == species_.end()) return;
      at.push_back(static_cast<std::size_t>(found - species_.begin()));
    }
    auto key = at;
    std::sort(key.begin(), key.end());
    if (!seen_.insert(key).second)
      return;  // a second value for the same ions stands beside the first
    if (at.size() == 2) {
      system_.twos.push_back({at[0], at[1], at[0] == at[1] ? entry.value : 2.0 * entry.value});
    } else if (at.size() == 3) {
      system_.threes.push_back({at[0], at[1], at[2], entry.value});
    }
    mixing_ = true;
  }

  void describe() {
    auto& remarks = system_.remarks;
    if (!estimates_.empty()) {
      remarks.push_back(say("activity.pitzer.estimated", {{"pairs", join(estimates_, ", ")}}));
    }
    if (!cold_.empty()) {
      remarks.push_back(
          say("activity.pitzer.temperature",
              {{"temperature_c", format_number(temperature_c_)}, {"sets", join(cold_, ", ")}}));
    }
    if (mixing_ && temperature_c_ != 25.0) {
      remarks.push_back(
          say("activity.pitzer.mixing", {{"temperature_c", format_number(temperature_c_)}}));
    }
  }

  const Dataset& dataset_;
  std::span<const std::string> species_;
  double temperature_c_;
  PitzerSystem system_;
  std::set<std::vector<std::size_t>> seen_;
  std::vector<std::string> estimates_, cold_;
  bool mixing_ = false;
};

}  // namespace

PitzerPair pitzer_pair(const PitzerBinary& set, std::size_t cation, std::size_t anion,
                       double charge_product, double temperature_c) {
  PitzerPair pair;
  pair.cation = cation;
  pair.anion = anion;
  pair.beta0 = value_at(set.beta0, set.beta0_per_k, set.beta0_per_k2, temperature_c);
  pair.beta1 = value_at(set.beta1, set.beta1_per_k, set.beta1_per_k2, temperature_c);
  pair.beta2 = value_at(set.beta2, set.beta2_per_k, 0.0, temperature_c);
  pair.c = value_at(set.c_phi, set.c_phi_per_k, set.c_phi_per_k2, temperature_c) /
           (2.0 * std::sqrt(charge_product));
  pair.alpha1 = set.alpha1;
  pair.alpha2 = set.alpha2;
  return pair;
}

PitzerPair estimated_pitzer_pair(double epsilon, std::size_t cation, std::size_t anion,
                                 double cation_charge, double anion_charge) {
  constexpr std::array<double, 3> kBeta1 = {0.28, 1.65, 5.5};  // by the larger charge
  const double larger = std::max(cation_charge, anion_charge);
  const double smaller = std::min(cation_charge, anion_charge);
  const auto place = static_cast<std::size_t>(larger) - 1;
  PitzerPair pair;
  pair.cation = cation;
  pair.anion = anion;
  pair.beta0 = 0.5 * kLn10 * epsilon + 0.042 * larger * larger * smaller;
  pair.beta1 =
      smaller * (place < kBeta1.size() ? kBeta1[place] : kBeta1[0] * std::pow(larger, 2.7));
  pair.alpha1 = 2;
  return pair;
}

PitzerSystem pitzer_system(const Dataset& dataset, std::span<const std::string> species,
                           double temperature_c) {
  return Assembly(dataset, species, temperature_c).take();
}

std::unique_ptr<Activity> make_pitzer(const Dataset& dataset, std::span<const std::string> species,
                                      double temperature_c) {
  return std::make_unique<Pitzer>(pitzer_system(dataset, species, temperature_c));
}

}  // namespace aeruca::detail
