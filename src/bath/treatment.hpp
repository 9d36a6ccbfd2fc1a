#pragma once

// A body carried through a sequence of baths by its mode amplitudes.

#include <map>
#include <vector>

#include "bath/modes.hpp"

namespace aeruca::detail {

/// Checks everything the public functions promise to refuse. Throws InputError.
void check_treatment(const PorousBody& body, std::span<const BathStep> baths,
                     const ModeOptions& options);

/// The public results with mode sets that serve many calls.
BathSeries series_with(ModeLibrary& library, const PorousBody& body,
                       std::span<const BathStep> baths, const ModeOptions& options);

/// `times[k]` are the moments (since bath k was filled, ascending, at most its tau) that are wanted
/// of bath k besides its end.
class Treatment {
 public:
  Treatment(ModeLibrary& library, const PorousBody& body, std::vector<BathStep> baths,
            std::vector<std::vector<double>> times, const ModeOptions& options);

  /// Walks through all baths once.
  void run();

  std::vector<BathPoint> starts, ends;
  std::vector<std::vector<BathPoint>> points;  ///< per bath, at its `times`
  std::size_t modes = 0;
  double truncation_error = 0;

 private:
  void choose_modes();
  void fill_first();
  void change_bath(std::size_t next);
  void rescale_equal(double concentration_change);
  void project(double alpha, double concentration);
  [[nodiscard]] double left_after(double elapsed) const;
  [[nodiscard]] BathPoint point_after(double elapsed) const;

  PorousBody body_;
  std::vector<BathStep> baths_;
  std::vector<std::vector<double>> times_;
  ModeOptions options_;
  ModeLibrary& library_;
  std::map<double, std::size_t> counts_;  // modes to use, by alpha
  const ModeSet* set_ = nullptr;  // of the present bath; only amplitude_.size() of them are used
  std::size_t bath_ = 0;
  double begun_ = 0;               // tau at which the present bath was filled
  double zero_ = 0;                // amplitude of the mode at q = 0
  double left_ = 1;                // in the body when the present bath was filled
  double in_bath_ = 0;             // in the bath then
  std::vector<double> amplitude_;  // when the present bath was filled
};

}  // namespace aeruca::detail
