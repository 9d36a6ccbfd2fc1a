#pragma once

// The models of aeruca/bath_posterior.hpp: what each brings into every bath of a treatment.

#include <array>
#include <memory>
#include <span>
#include <vector>

#include "aeruca/bath_posterior.hpp"
#include "bath/observed.hpp"
#include "bath/relaxation.hpp"

namespace aeruca::detail {

/// All of them, in the order of the table in aeruca/bath_posterior.hpp.
inline constexpr std::array kBathModels{
    BathModel::slab, BathModel::cylinder, BathModel::sphere,     BathModel::at_metal,
    BathModel::film, BathModel::spread,   BathModel::two_stores, BathModel::reserve};

/// Per milligram of load, and of what fresh baths bring.
struct UnitRelease {
  std::vector<double> in_bath;       ///< at the end of each step, share of the load
  std::vector<double> left;          ///< likewise, still inside
  std::vector<double> fill_mg;       ///< in each bath, of the chloride of fresh liquid
  std::vector<double> fill_left_mg;  ///< of it in the body, at the end of each step

  [[nodiscard]] double left_mg(double load_mg, std::size_t k) const {
    return load_mg * left[k] + fill_left_mg[k];
  }
};

/// Everything of a model but its load.
struct ModelUnknowns {
  double rate_per_day = 0;
  double capacity_l = 0;
  double first_extra = 0;
  double second_extra = 0;
  double scatter = 0;
};

/// How many unknowns beside rate and capacity.
[[nodiscard]] std::size_t extra_unknowns(BathModel model);

/// The unknowns at a standard normal point: rate, capacity, those of the model, then the scatter of
/// readings if `scatter_unknown`.
[[nodiscard]] ModelUnknowns unknowns_at(BathModel model, std::span<const double> point,
                                        const BathPriors& priors, double first_volume_l,
                                        bool scatter_unknown);

/// Whether a body of that kind can be followed; what cannot is so rare beforehand (below 1 in 2000)
/// that it is held impossible.
[[nodiscard]] bool can_be_followed(BathModel model, const ModelUnknowns& unknowns);

/// The fill's share of a body with a reserve is
/// that of the same slab without solid.
[[nodiscard]] UnitRelease unit_release(BathModel model, const ModelUnknowns& unknowns,
                                       std::span<const ObservedStep> steps, Fineness fineness);

}  // namespace aeruca::detail
