#pragma once

// The release model of aeruca/bath.hpp: diffusion of what is mobile out of one body.

#include "bath/modes.hpp"
#include "bath/release_model.hpp"

namespace aeruca::detail {

/// Parameters load_mg, rate_per_day (D/L^2) and alpha, bath volume of the log's mean over K x
/// volume of the body.
class DiffusionRelease final : public ReleaseModel {
 public:
  /// Prior ranges are those the options state for this log.
  DiffusionRelease(const BathSequence& sequence, const BathFitOptions& options);

  [[nodiscard]] std::string_view name() const override { return "diffusion"; }
  [[nodiscard]] const std::vector<ReleaseParameter>& parameters() const override {
    return parameters_;
  }
  [[nodiscard]] const std::vector<std::vector<double>>& alternatives() const override {
    return alphas_;
  }
  [[nodiscard]] std::unique_ptr<Release> release(const BathSequence& sequence, double rate_per_day,
                                                 std::span<const double> alpha) override;

 private:
  PorousBody body_;
  ModeLibrary library_;  // grows with use, hence release() is not const
  std::vector<ReleaseParameter> parameters_;
  std::vector<std::vector<double>> alphas_;
};

}  // namespace aeruca::detail
