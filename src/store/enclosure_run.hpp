#pragma once

// One enclosure followed: that given, or a draw of it.

#include <vector>

#include "aeruca/enclosure.hpp"
#include "store/enclosure_air.hpp"
#include "store/enclosure_gel_mass.hpp"

namespace aeruca::detail {

/// A gel and what follows from it.
struct KnownGel {
  GelIsotherm isotherm;
  SorptionTable table;
  Warmths warmths;
  explicit KnownGel(GelIsotherm gel)
      : isotherm(std::move(gel)), table(isotherm), warmths(isotherm) {}
};

/// The gel named, or, where none is, the usual one first and then all others.
[[nodiscard]] std::vector<KnownGel> gels_for(const Dataset& dataset, const Enclosure& enclosure);

/// What differs between draws.
struct Variant {
  const KnownGel* gel = nullptr;
  double exchange_per_day = 0;
  double start_h = 0;
  double capacity = 1;
  ClimateShift shift;
};

/// What came of one.
struct Followed {
  std::vector<double> h;  ///< at the stops; NaN where it ended before
  CourseEnd end;
  double days_to_limit = kNotGiven;
  double gel_kg = kNotGiven;
};

class EnclosureRun {
 public:
  EnclosureRun(const Enclosure& enclosure, const Climate& climate, const EnclosureOptions& options);

  [[nodiscard]] bool limited() const;
  /// How far the limit is looked for (days).
  [[nodiscard]] double horizon() const;
  /// Times of the curve.
  [[nodiscard]] const std::vector<double>& stops() const { return stops_; }
  [[nodiscard]] Moisture moisture(const Variant& one, double gel_kg) const;
  /// The curve, and the days to the limit if there is one.
  [[nodiscard]] Followed followed(const Variant& one, const std::vector<ClimatePiece>& pieces,
                                  double gel_kg) const;
  /// Dry gel that keeps to the limit until the visit; `guess`: where to look first, kg.
  [[nodiscard]] double gel_for_visit(const Variant& one, const std::vector<ClimatePiece>& pieces,
                                     double guess_kg = kNotGiven) const;
  /// Range of validity of the humidity, as fractions, with this much gel.
  struct Range {
    double low, high;
  };
  [[nodiscard]] Range range(const KnownGel& gel, double gel_kg) const;

 private:
  [[nodiscard]] Growth growth(const Variant& one, const std::vector<ClimatePiece>& pieces) const;
  [[nodiscard]] Course course(const Variant& one, double gel_kg) const;

  const Enclosure& enclosure_;
  const Climate& climate_;
  const EnclosureOptions& options_;
  Contents contents_;
  std::vector<double> stops_;
};

}  // namespace aeruca::detail
