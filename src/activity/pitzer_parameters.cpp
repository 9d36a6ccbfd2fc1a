// From the data set to the parameters of a list of species.

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <set>

#include "activity/complexes.hpp"
#include "activity/excess.hpp"
#include "activity/models.hpp"
#include "activity/pitzer.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/water.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

constexpr double kHighestCharge = 8;
constexpr double kUnstatedMolality = 6.0;  // where a set states no range
constexpr double kSparinglySoluble =
    0.5;  // mol/kg; such a range ends at solubility, not at the model

const PitzerBinary* chosen_set(const Dataset& dataset, std::string_view cation,
                               std::string_view anion) {
  const PitzerBinary* first = nullptr;
  for (const auto& set : dataset.pitzer) {
    if (set.cation != cation || set.anion != anion) continue;
    if (set.chosen) return &set;
    if (first == nullptr) first = &set;
  }
  return first;
}

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
    double lowest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < species_.size(); ++i) {
      for (std::size_t j = 0; j < species_.size(); ++j) {
        if (!(system_.charge[i] > 0 && system_.charge[j] < 0)) continue;
        const PitzerBinary* set = chosen_set(dataset_, species_[i], species_[j]);
        if (set == nullptr) {
          missing_.push_back(say("activity.pair", {{"one", species_[i]}, {"other", species_[j]}}));
          if (!complex_listed(dataset_, species_, dataset_.at(species_[i]),
                              dataset_.at(species_[j])))
            system_.missing.push_back({i, j});
          continue;
        }
        const double product = system_.charge[i] * -system_.charge[j];
        system_.pairs.push_back(pitzer_pair(*set, i, j, product, temperature_c_));
        system_.figures.push_back(set->id);
        note_temperature(*set);
        lowest =
            std::min(lowest, ionic_strength_range(*set, system_.charge[i], -system_.charge[j]));
      }
    }
    system_.ionic_strength_max = std::isinf(lowest) ? kUnstatedMolality : lowest;
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
    if (!missing_.empty()) {
      remarks.push_back(say("activity.pitzer.missing", {{"pairs", join(missing_, ", ")}}));
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
  std::vector<std::string> missing_, cold_;
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

PitzerSystem pitzer_system(const Dataset& dataset, std::span<const std::string> species,
                           double temperature_c) {
  return Assembly(dataset, species, temperature_c).take();
}

std::unique_ptr<Activity> make_pitzer(const Dataset& dataset, std::span<const std::string> species,
                                      double temperature_c) {
  return std::make_unique<Pitzer>(pitzer_system(dataset, species, temperature_c));
}

}  // namespace aeruca::detail
