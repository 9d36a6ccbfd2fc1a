// The seam between release and log: a model that the library does not know is fitted as it is.

#include <array>
#include <cmath>
#include <limits>

#include "bath/fit_release.hpp"
#include "catch.hpp"

using namespace aeruca;
using namespace aeruca::detail;

namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

// A well-mixed body over a perfect sink: what is free leaves as exp(-rate t), a share stays for
// good.
class FirstOrderRelease final : public Release {
 public:
  FirstOrderRelease(const BathSequence& sequence, double rate, double locked) : locked_(locked) {
    double days = 0;
    for (std::size_t k = 0; k < sequence.baths.size(); ++k) {
      const double before = std::exp(-rate * days);
      days += sequence.baths[k].days();
      released_.push_back((1 - locked) * (before - std::exp(-rate * days)));
      if (k + 1 == sequence.logged) free_left_ = (1 - locked) * std::exp(-rate * days);
    }
  }
  [[nodiscard]] double released_mg(double load_mg, std::size_t k) const override {
    return load_mg * released_[k];
  }
  [[nodiscard]] double fill_mg(std::size_t /*k*/) const override { return 0; }
  [[nodiscard]] double share_left(double /*load_mg*/) const override {
    return locked_ + free_left_;
  }

 private:
  double locked_ = 0;
  double free_left_ = 0;
  std::vector<double> released_;
};

class FirstOrder final : public ReleaseModel {
 public:
  [[nodiscard]] std::string_view name() const override { return "first-order"; }
  [[nodiscard]] const std::vector<ReleaseParameter>& parameters() const override {
    return parameters_;
  }
  [[nodiscard]] const std::vector<std::vector<double>>& alternatives() const override {
    return locked_;
  }
  [[nodiscard]] std::unique_ptr<Release> release(const BathSequence& sequence, double rate,
                                                 std::span<const double> others) override {
    return std::make_unique<FirstOrderRelease>(sequence, rate, others[0]);
  }

 private:
  std::vector<ReleaseParameter> parameters_{
      {"load_mg", 10, 10000}, {"rate_per_day", 1e-4, 1}, {"locked_share", 0.2, 0.2}};
  std::vector<std::vector<double>> locked_{{0.2}};
};

// Eight baths of 2 L and 14 days; 400 mg free of 500 mg, 0.03 a day; the readings without noise.
BathLog first_order_log() {
  BathLog log;
  for (std::size_t k = 0; k < 8; ++k) {
    BathRecord bath;
    bath.start_day = 14.0 * static_cast<double>(k);
    bath.end_day = bath.start_day + 14;
    bath.volume_l = 2;
    bath.error_mg_per_l = bath.detection_limit_mg_per_l = kNan;
    bath.blank_mg_per_l = 0;
    bath.kind = ReadingKind::measured;
    bath.chloride_mg_per_l =
        200 * (std::exp(-0.03 * bath.start_day) - std::exp(-0.03 * bath.end_day));
    log.baths.push_back(bath);
  }
  return log;
}

}  // namespace

TEST_CASE("a release model the library does not know is fitted by its named parameters") {
  const BathLog log = first_order_log();
  BathFitOptions options;
  options.stop_mg_per_l = 2;
  const BathSequence sequence(log, options, 1);
  FirstOrder model;
  const BathFit fit = fit_release(log, sequence, model, options);
  REQUIRE(fit.status == Status::converged);
  REQUIRE(fit.parameters.size() == 3);
  CHECK(fit.parameters[0].name == "load_mg");
  CHECK(std::abs(fit.parameters[0].range.median / 500 - 1) < 0.01);
  CHECK(fit.parameters[1].name == "rate_per_day");
  CHECK(std::abs(fit.parameters[1].range.median / 0.03 - 1) < 0.01);
  CHECK(fit.parameters[2].name == "locked_share");
  CHECK(fit.parameters[2].range.median == 0.2);
  CHECK(fit.parameters[1].prior_high == 1);
  CHECK(std::abs(fit.left_mg.median / (100 + 400 * std::exp(-0.03 * 112)) - 1) < 0.05);
  CHECK(std::abs(fit.next_mean_mg_per_l.median /
                     (200 * (std::exp(-0.03 * 112) - std::exp(-0.03 * 126))) -
                 1) < 0.05);
  // 200 (1 - exp(-0.42)) exp(-0.42 n) is below 2 mg/L from n = 9 on: the second bath from now.
  CHECK(fit.forecast == ForecastKind::given);
  CHECK(fit.more_baths.median == 2);
}

TEST_CASE("the parameters of the diffusion model are named and hold what the fit reports") {
  const BathLog log = first_order_log();
  BathFitOptions options;
  options.errors.relative = 0.3;  // wide enough for diffusion to pass for first order
  options.alphas = {10, std::numeric_limits<double>::infinity()};
  const BathFit fit = fit_bath_log(log, options);
  REQUIRE(fit.status == Status::converged);
  REQUIRE(fit.parameters.size() == 3);
  CHECK(fit.parameters[0].range.median == fit.load_mg.median);
  CHECK(fit.parameters[1].range.high == fit.rate_per_day.high);
  CHECK(fit.parameters[2].name == "alpha");
  CHECK(fit.parameters[2].prior_low == 10);
  CHECK(std::isinf(fit.parameters[2].range.high));
  CHECK(fit.parameters[2].range.low == 10);
}

TEST_CASE("a release model that the readings contradict is named in the refusal") {
  BathLog log = first_order_log();
  for (std::size_t k = 4; k < 8; ++k) log.baths[k].chloride_mg_per_l = 60;
  const BathFitOptions options;
  const BathSequence sequence(log, options, 1);
  FirstOrder model;
  const BathFit fit = fit_release(log, sequence, model, options);
  CHECK(fit.status == Status::infeasible);
  CHECK(fit.message.starts_with("the first-order model does not fit these baths"));
  CHECK(fit.parameters.empty());
}
