#include "aeruca/bath.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "aeruca/not_given.hpp"
#include "base/text.hpp"
#include "bath/treatment.hpp"

namespace aeruca {
namespace {

// Up to this total tau a uniformly loaded slab releases as if it had no far side, to 1e-16: the
// first reflected term is of the order erfc(1/sqrt(tau)).
constexpr double kFarSideUnfelt = 0.03;

// A thinner slab with the same early release: lengths are divided by 1/`factor`.
struct Thinning {
  double factor = 1;

  static Thinning of(const PorousBody& body, std::span<const BathStep> baths) {
    double total = 0;
    for (const BathStep& bath : baths) total += bath.tau;
    const bool thin = body.shape == BodyShape::slab && body.load == InitialLoad::uniform &&
                      total > 0 && total < kFarSideUnfelt;
    return {thin ? std::sqrt(total / kFarSideUnfelt) : 1.0};
  }
  [[nodiscard]] PorousBody apply(PorousBody body) const {
    body.biot *= factor;
    return body;
  }
  [[nodiscard]] std::vector<BathStep> apply(std::span<const BathStep> baths) const {
    std::vector<BathStep> thin(baths.begin(), baths.end());
    for (BathStep& bath : thin) {
      bath.alpha /= factor;
      bath.fill /= factor;
      bath.tau = time(bath.tau);
    }
    return thin;
  }
  [[nodiscard]] double time(double tau) const {
    return factor == 1 ? tau : tau / (factor * factor);
  }
  void undo(BathPoint& point) const {
    if (factor == 1) return;
    point.tau *= factor * factor;
    point.extracted *= factor;
    point.in_bath *= factor;
    point.left = 1 - point.extracted;
  }
};

template <class Enum, std::size_t count>
Enum named(std::string_view kind, std::string_view name, const std::array<Enum, count>& all) {
  std::vector<std::string> names;
  for (const Enum value : all) {
    if (to_string(value) == name) return value;
    names.emplace_back(to_string(value));
  }
  throw UnknownName(std::string(kind), std::string(name), detail::nearest_name(name, names));
}

}  // namespace

std::string_view to_string(BodyShape shape) {
  if (shape == BodyShape::slab) return "slab";
  return shape == BodyShape::cylinder ? "cylinder" : "sphere";
}

std::string_view to_string(InitialLoad load) {
  return load == InitialLoad::uniform ? "uniform" : "at-metal";
}

BodyShape body_shape(std::string_view name) {
  return named("shape", name, std::array{BodyShape::slab, BodyShape::cylinder, BodyShape::sphere});
}

InitialLoad initial_load(std::string_view name) {
  return named("load", name, std::array{InitialLoad::uniform, InitialLoad::at_metal});
}

BathSeries detail::series_with(ModeLibrary& library, const PorousBody& body,
                               std::span<const BathStep> baths, const ModeOptions& options) {
  check_treatment(body, baths, options);
  if (baths.empty()) return {};
  const Thinning thinning = Thinning::of(body, baths);
  // The thinner body has its own partition and film, so the caller's modes do not serve it.
  const PorousBody thin = thinning.apply(body);
  ModeLibrary own(thin.shape, thin.biot);
  Treatment treatment(thinning.factor == 1 ? library : own, thin, thinning.apply(baths),
                      std::vector<std::vector<double>>(baths.size()), options);
  treatment.run();
  for (auto* list : {&treatment.starts, &treatment.ends}) {
    for (BathPoint& point : *list) thinning.undo(point);
  }
  return {treatment.starts, treatment.ends, treatment.modes,
          treatment.truncation_error * thinning.factor};
}

BathSeries bath_series(const PorousBody& body, std::span<const BathStep> baths,
                       const ModeOptions& options) {
  detail::ModeLibrary library(body.shape, body.biot);
  return detail::series_with(library, body, baths, options);
}

BathTable bath_table(const PorousBody& body, std::span<const BathStep> baths,
                     std::span<const double> rates, const ModeOptions& options) {
  detail::ModeLibrary library(body.shape, body.biot);
  BathTable table;
  std::vector<BathStep> steps(baths.begin(), baths.end());
  for (const double rate : rates) {
    if (std::isnan(rate)) {
      table.in_bath.insert(table.in_bath.end(), baths.size(), rate);
      table.left.insert(table.left.end(), baths.size(), rate);
      continue;
    }
    if (!(rate >= 0 && std::isfinite(rate))) throw InputError("rate", rate, "0 or more");
    for (std::size_t k = 0; k < steps.size(); ++k) steps[k].tau = rate * baths[k].tau;
    const BathSeries series = detail::series_with(library, body, steps, options);
    for (const BathPoint& end : series.ends) {
      table.in_bath.push_back(end.in_bath);
      table.left.push_back(end.left);
    }
    table.truncation_error = std::max(table.truncation_error, series.truncation_error);
  }
  return table;
}

std::vector<BathPoint> bath_curve(const PorousBody& body, std::span<const BathStep> baths,
                                  std::span<const double> tau, const ModeOptions& options) {
  detail::check_treatment(body, baths, options);
  const Thinning thinning = Thinning::of(body, baths);
  std::vector<std::vector<double>> times(baths.size());
  double begun = 0;
  std::size_t bath = 0;
  double before = 0;
  for (const double moment : tau) {
    if (!(moment >= before)) throw InputError("tau", moment, "0 or more and ascending");
    before = moment;
    while (bath + 1 < baths.size() && moment > begun + baths[bath].tau) begun += baths[bath++].tau;
    const double elapsed = moment - begun;
    if (baths.empty() || elapsed > baths[bath].tau * (1 + 1e-12)) {
      throw InputError("tau", moment, "a moment before the last bath ends");
    }
    times[bath].push_back(thinning.time(std::min(elapsed, baths[bath].tau)));
  }
  const PorousBody thin = thinning.apply(body);
  detail::ModeLibrary library(thin.shape, thin.biot);
  detail::Treatment treatment(library, thin, thinning.apply(baths), times, options);
  std::vector<BathPoint> curve;
  if (baths.empty()) return curve;
  treatment.run();
  for (const auto& points : treatment.points)
    curve.insert(curve.end(), points.begin(), points.end());
  for (BathPoint& point : curve) thinning.undo(point);
  return curve;
}

std::vector<double> mode_roots(BodyShape shape, double alpha, std::size_t count, double biot) {
  if (!(alpha > 0)) throw InputError("alpha", alpha, "above 0, infinity for a perfect sink");
  if (!(biot > 0)) throw InputError("biot", biot, "above 0, infinity for perfect stirring");
  constexpr std::size_t kRootsMax = 100'000;
  if (count < 1 || count > kRootsMax)
    throw InputError("count", std::to_string(count), "1 to 100 000 roots");
  return detail::make_modes(shape, alpha, biot, count).q;
}

double fraction_of_final_release(BodyShape shape, double alpha, double tau) {
  if (std::isnan(alpha) || std::isnan(tau)) return kNotGiven;
  if (std::isinf(tau) && tau > 0) return 1;
  const std::array bath{BathStep{alpha, tau, 0, 0}};
  const BathSeries series = bath_series({shape, InitialLoad::uniform}, bath);
  return series.ends.front().extracted * (std::isinf(alpha) ? 1.0 : (1 + alpha) / alpha);
}

}  // namespace aeruca
