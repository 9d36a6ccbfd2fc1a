#pragma once

// One salt with one set of parameters at one temperature.

#include <optional>
#include <string>
#include <string_view>

#include "activity/pitzer.hpp"
#include "aeruca/dataset.hpp"

namespace aeruca::detail {

inline constexpr double kUnstatedOsmoticUncertainty = 0.01;

/// Figures of the solution at one molality.
struct SaltState {
  double osmotic = 1;
  double ln_gamma = 0;        // mean ionic
  double ln_water = 0;        // ln a(water)
  double ln_water_slope = 0;  // d ln a(water) / d molality
  double ionic_strength = 0;
};

class SaltModel {
 public:
  /// Throws InputError when the salt is not of one cation and one anion or the set is of other
  /// ions.
  SaltModel(const Salt& salt, const PitzerBinary& set, double temperature_c);

  [[nodiscard]] SaltState at(double molality) const;
  /// Sum of nu ln(m gamma) + waters ln a(water).
  [[nodiscard]] double ln_product(double molality) const;
  /// One standard uncertainty of the osmotic coefficient: as stated by the set (0.01 when it states
  /// none); with it, in squares, what the covariance of a set fitted here makes, else 0.0003 more
  /// per degree from 25 degrees C; and beyond its range 0.02 (x^2 - 1) more with
  /// x the molality over the range: judged from sets that could be followed beyond theirs.
  [[nodiscard]] double osmotic_uncertainty(double molality) const;
  /// The part of it that the covariance of the fitted parameters makes; NaN: the set has none.
  [[nodiscard]] double fit_uncertainty(double molality) const;
  [[nodiscard]] double molality_max() const { return molality_max_; }
  [[nodiscard]] const PitzerBinary& set() const { return *set_; }

 private:
  const PitzerBinary* set_;
  Pitzer model_;
  [[nodiscard]] double osmotic_slope(std::string_view field, double molality) const;

  double cation_count_, anion_count_, waters_, ionic_strength_per_molality_;
  double temperature_c_, molality_max_;
};

/// True for a salt of exactly one cation and one anion.
[[nodiscard]] bool is_single_salt(const Salt& salt);

/// The set asked for by id; throws UnknownName.
[[nodiscard]] const PitzerBinary& set_named(const Dataset& dataset, std::string_view id);

/// The set that serves a salt at a temperature: its own if that holds there, else another of its
/// ions that does, the chosen one first. Null when there is none.
[[nodiscard]] const PitzerBinary* set_for(const Dataset& dataset, const Salt& salt,
                                          double temperature_c);

/// The set of the salt itself, or the chosen one of its ions, whatever the temperature. Null: none.
[[nodiscard]] const PitzerBinary* own_set(const Dataset& dataset, const Salt& salt);

[[nodiscard]] bool holds_at(const PitzerBinary& set, double temperature_c);

/// Throws InputError outside 0 to 50 degrees C; NaN passes.
void require_temperature(double temperature_c);

}  // namespace aeruca::detail
