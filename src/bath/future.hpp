#pragma once

// Bodies of a posterior carried on through baths that have not been made yet.

#include <vector>

#include "bath/likelihood.hpp"
#include "bath/observed.hpp"
#include "bath/release_bodies.hpp"

namespace aeruca::detail {

/// Some bodies of a posterior, evenly picked, and the treatment they have been through.
class Future {
 public:
  Future(const BathLog& log, const BathPosterior& posterior, const ReadingErrors& errors,
         std::size_t bodies);

  /// What bodies hold and show after baths that are to come: `left[body][bath]` (mg) and
  /// `reading[body][bath]` (mg/L), bath 0 the first to come.
  struct Course {
    std::vector<std::vector<double>> left_mg, reading_mg_per_l;
  };
  /// The last bath of the log goes on for `more_days` first.
  [[nodiscard]] Course course(double more_days, const std::vector<ObservedStep>& to_come) const;

  /// Baths to come are `factor` times as fast as the last one.
  void hasten(double factor) { speed_to_come_ *= factor; }

  [[nodiscard]] const std::vector<BathDraw>& bodies() const { return bodies_; }
  [[nodiscard]] const ObservedTreatment& treatment() const { return treatment_; }
  /// A bath like the last one, of fresh liquid, with what is given changed.
  [[nodiscard]] ObservedStep fresh(double volume_l, double days, double blank_mg_per_l) const;

 private:
  ObservedTreatment treatment_;
  double speed_ = 1;          ///< of diffusion in the last bath over that of the first
  double speed_to_come_ = 1;  ///< of fresh baths over that of the first
  double last_blank_ = 0;
  std::vector<BathDraw> bodies_;
};

/// Each of the three times a factor above 0.
[[nodiscard]] Range scaled(const Range& range, double factor);

/// Median and 5-95 % range of equally likely values.
[[nodiscard]] Range range_of_values(std::vector<double> values);

}  // namespace aeruca::detail
