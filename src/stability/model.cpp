// The public face: diagrams and points.

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "aeruca/constants.hpp"
#include "aeruca/not_given.hpp"
#include "stability/diagram.hpp"
#include "stability/probability.hpp"
#include "stability/spread.hpp"

namespace aeruca {

struct FieldModel::Impl {
  Impl(detail::System made, double kj)
      : system(std::move(made)),
        alternatives(*system.dataset, system.options.temperature_c),
        kj_per_decade(kj) {}
  detail::System system;
  detail::Alternatives alternatives;
  double kj_per_decade;  // RT ln 10
};

FieldModel::FieldModel(std::shared_ptr<const Dataset> dataset, FieldOptions options) {
  if (!dataset) throw InputError("dataset", "none", "a data set");
  const double kelvin = options.temperature_c + kZeroCelsius;
  impl_ = std::make_unique<const Impl>(detail::make_system(std::move(dataset), std::move(options)),
                                       kLn10 * kGasConstant * kelvin / 1000);
}

FieldModel::~FieldModel() = default;
FieldModel::FieldModel(FieldModel&&) noexcept = default;
FieldModel& FieldModel::operator=(FieldModel&&) noexcept = default;

const FieldOptions& FieldModel::options() const {
  return impl_->system.options;
}
const std::vector<std::string>& FieldModel::candidates() const {
  return impl_->system.names;
}
FieldDiagram FieldModel::diagram() const {
  return detail::make_diagram(impl_->system, impl_->alternatives);
}

namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

struct Best {
  std::size_t regime = 0, first = kNone, second = kNone;
  double q_first = 0, q_second = -std::numeric_limits<double>::infinity();
};

// Strictly greater, so that of equals the earlier in the data set stays first.
Best best_at(const detail::System& system, detail::Point2 at) {
  Best best;
  best.regime = detail::regime_at(system, at);
  const auto& planes = system.regimes[best.regime].planes;
  for (std::size_t i = 0; i < planes.size(); ++i) {
    const double q = planes[i](at);
    if (best.first == kNone || q > best.q_first) {
      if (best.first != kNone) best.q_second = best.q_first;
      best.second = best.first;
      best.first = i;
      best.q_first = q;
    } else if (best.second == kNone || q > best.q_second) {
      best.second = i;
      best.q_second = q;
    }
  }
  return best;
}

struct Overtaking {
  std::size_t candidate = kNone;
  std::string figure;
};

// The nearest candidate that one other published figure puts before the first; `narrowing` gives by
// how much a figure narrows the gap between two.
template <class Narrowings>
Overtaking overtaking_at(const detail::System& system, const Best& best, detail::Point2 at,
                         const Narrowings& narrowing) {
  const auto& planes = system.regimes[best.regime].planes;
  Overtaking found;
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < planes.size(); ++i) {
    const double gap = best.q_first - planes[i](at);
    if (i == best.first || gap >= nearest) continue;
    const detail::Narrowing& narrower = narrowing(i);
    if (narrower.log10 > gap) found = {i, narrower.figure}, nearest = gap;
  }
  return found;
}

void check_coordinate(const char* parameter, const Axis& axis, double value) {
  const detail::Range range = detail::range_of(axis.quantity);
  if (!(value >= range.low && value <= range.high))
    throw InputError(std::string(parameter) + " (" + detail::axis_quantity(axis) + ")", value,
                     std::string(range.text));
}

}  // namespace

PointAnswer FieldModel::at(double x, double y) const {
  const detail::System& system = impl_->system;
  check_coordinate("x", system.options.x, x);
  check_coordinate("y", system.options.y, y);
  const Best best = best_at(system, {x, y});
  PointAnswer answer;
  answer.species = system.names[best.first];
  answer.log10_copper_ii = -best.q_first;
  answer.gap_log10 = best.q_first - best.q_second;
  answer.gap_kj_per_mol_copper = answer.gap_log10 * impl_->kj_per_decade;
  if (best.second != kNone) {
    answer.runner_up = system.names[best.second];
    answer.uncertainty_log10 =
        gap_uncertainty(system, system.regimes[best.regime], best.first, best.second);
  }
  const auto narrowing = [&](std::size_t other) {
    return detail::narrowing(impl_->alternatives, system, system.regimes[best.regime], best.first,
                             other);
  };
  if (best.second != kNone) answer.spread_log10 = narrowing(best.second).log10;
  const Overtaking overtaking = overtaking_at(system, best, {x, y}, narrowing);
  if (overtaking.candidate != kNone) {
    answer.overtaken_by = system.names[overtaking.candidate];
    answer.overtaking_figure = overtaking.figure;
  }
  answer.decided = overtaking.candidate == kNone &&
                   answer.gap_log10 > system.options.coverage * answer.uncertainty_log10;
  return answer;
}

std::vector<Standing> FieldModel::standings(double x, double y) const {
  const detail::System& system = impl_->system;
  check_coordinate("x", system.options.x, x);
  check_coordinate("y", system.options.y, y);
  const Best best = best_at(system, {x, y});
  const detail::Regime& regime = system.regimes[best.regime];
  std::vector<Standing> all;
  for (std::size_t i = 0; i < system.names.size(); ++i) {
    const double gap = best.q_first - regime.planes[i]({x, y});
    const double uncertainty = i == best.first ? 0 : gap_uncertainty(system, regime, best.first, i);
    all.push_back({system.names[i], system.species_of(i).kind, gap, uncertainty});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Standing& a, const Standing& b) { return a.gap_log10 < b.gap_log10; });
  return all;
}

namespace {

// Uncertainties of gaps, each worked out once.
class GapUncertainties {
 public:
  explicit GapUncertainties(const detail::System& system) : system_(system) {}
  double operator()(const Best& best) {
    const auto [place, fresh] = known_.try_emplace({best.regime, best.first, best.second}, 0);
    if (fresh)
      place->second =
          gap_uncertainty(system_, system_.regimes[best.regime], best.first, best.second);
    return place->second;
  }

 private:
  const detail::System& system_;
  std::map<std::array<std::size_t, 3>, double> known_;
};

// Narrowings of the gaps to every other candidate, worked out once for each regime and first
// candidate.
class GapNarrowings {
 public:
  GapNarrowings(const detail::System& system, const detail::Alternatives& alternatives)
      : system_(system), alternatives_(alternatives) {}
  const std::vector<detail::Narrowing>& operator()(const Best& best) {
    const auto [place, fresh] = known_.try_emplace({best.regime, best.first});
    if (fresh) {
      for (std::size_t i = 0; i < system_.candidates.size(); ++i)
        place->second.push_back(
            narrowing(alternatives_, system_, system_.regimes[best.regime], best.first, i));
    }
    return place->second;
  }

 private:
  const detail::System& system_;
  const detail::Alternatives& alternatives_;
  std::map<std::array<std::size_t, 2>, std::vector<detail::Narrowing>> known_;
};

}  // namespace

PointAnswers FieldModel::at_many(std::span<const double> x, std::span<const double> y) const {
  if (x.size() != y.size())
    throw InputError("y", std::to_string(y.size()) + " values",
                     "as many as x has: " + std::to_string(x.size()));
  const detail::System& system = impl_->system;
  const double nan = kNotGiven;
  const std::size_t n = x.size();
  PointAnswers answers{std::vector<int>(n, -1),     std::vector<int>(n, -1),
                       std::vector<double>(n, nan), std::vector<double>(n, nan),
                       std::vector<double>(n, nan), std::vector<unsigned char>(n, 0),
                       std::vector<double>(n, nan)};
  GapUncertainties uncertainty(system);
  GapNarrowings narrowings(system, impl_->alternatives);
  for (std::size_t i = 0; i < n; ++i) {
    if (std::isnan(x[i]) || std::isnan(y[i])) continue;
    check_coordinate("x", system.options.x, x[i]);
    check_coordinate("y", system.options.y, y[i]);
    const Best best = best_at(system, {x[i], y[i]});
    answers.species[i] = static_cast<int>(best.first);
    if (best.second != kNone) answers.runner_up[i] = static_cast<int>(best.second);
    answers.gap_log10[i] = best.q_first - best.q_second;
    answers.gap_kj_per_mol_copper[i] = answers.gap_log10[i] * impl_->kj_per_decade;
    answers.uncertainty_log10[i] = best.second == kNone ? 0 : uncertainty(best);
    const std::vector<detail::Narrowing>& narrowing = narrowings(best);
    answers.spread_log10[i] = best.second == kNone ? 0 : narrowing[best.second].log10;
    const auto of = [&](std::size_t other) -> const detail::Narrowing& { return narrowing[other]; };
    const bool stays = overtaking_at(system, best, {x[i], y[i]}, of).candidate == kNone;
    answers.decided[i] =
        stays && answers.gap_log10[i] > system.options.coverage * answers.uncertainty_log10[i] ? 1
                                                                                               : 0;
  }
  return answers;
}

std::vector<double> FieldModel::probabilities(std::span<const double> x, std::span<const double> y,
                                              int samples, std::uint64_t seed) const {
  if (x.size() != y.size())
    throw InputError("y", std::to_string(y.size()) + " values",
                     "as many as x has: " + std::to_string(x.size()));
  if (samples < 1 || samples > 1'000'000)
    throw InputError("samples", std::to_string(samples), "1 to 1 000 000");
  const detail::System& system = impl_->system;
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (std::isnan(x[i]) || std::isnan(y[i])) continue;
    check_coordinate("x", system.options.x, x[i]);
    check_coordinate("y", system.options.y, y[i]);
  }
  return detail::probabilities_at(system, x, y, samples, seed);
}

FieldDiagram field_diagram(std::shared_ptr<const Dataset> dataset, const FieldOptions& options) {
  return FieldModel(std::move(dataset), options).diagram();
}

PointAnswer stable_at(std::shared_ptr<const Dataset> dataset, const FieldOptions& options, double x,
                      double y) {
  return FieldModel(std::move(dataset), options).at(x, y);
}

}  // namespace aeruca
