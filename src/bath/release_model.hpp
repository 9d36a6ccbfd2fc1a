#pragma once

// The seam between what a body gives off and what a bath log says of it. A model names its
// parameters and says what each bath would hold; the fit, the forecast and the posterior know
// nothing else of it, so that another model (a solid reserve, two stores) is another class and
// nothing more.

#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "bath/bath_sequence.hpp"

namespace aeruca::detail {

/// A parameter and the range beyond which it is held impossible beforehand.
struct ReleaseParameter {
  std::string name;  ///< carries the unit, as everywhere: "load_mg"
  double low = 0;    ///< of the prior, above 0
  double high = 0;
};

/// A body with everything fixed but its load, taken through one sequence of baths. Not linear in
/// the load for every model: a reserve at its solubility is not.
class Release {
 public:
  Release() = default;
  Release(const Release&) = delete;
  Release& operator=(const Release&) = delete;
  virtual ~Release() = default;

  /// What the body has brought into bath k by its end (mg).
  [[nodiscard]] virtual double released_mg(double load_mg, std::size_t k) const = 0;
  /// What bath k still holds then of the chloride of fresh baths (mg).
  [[nodiscard]] virtual double fill_mg(std::size_t k) const = 0;
  /// Share of the load still inside at the end of the log, 0 to 1.
  [[nodiscard]] virtual double share_left(double load_mg) const = 0;
};

class ReleaseModel {
 public:
  ReleaseModel() = default;
  ReleaseModel(const ReleaseModel&) = delete;
  ReleaseModel& operator=(const ReleaseModel&) = delete;
  virtual ~ReleaseModel() = default;

  /// As in "the diffusion model".
  [[nodiscard]] virtual std::string_view name() const = 0;
  /// First the load (`load_mg`), then the rate the posterior is refined along, then the others.
  [[nodiscard]] virtual const std::vector<ReleaseParameter>& parameters() const = 0;
  /// Sets of values of those others, equally likely beforehand; one empty set where there are none.
  [[nodiscard]] virtual const std::vector<std::vector<double>>& alternatives() const = 0;
  /// The release at that rate and one set of the others.
  [[nodiscard]] virtual std::unique_ptr<Release> release(const BathSequence& sequence, double rate,
                                                         std::span<const double> others) = 0;
};

}  // namespace aeruca::detail
