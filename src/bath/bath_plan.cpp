#include "aeruca/bath_plan.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

constexpr double kHardlyAnyGain = 1.1;

BathPlan plan_of(const PorousBody& body, double alpha, double total_tau, std::size_t count) {
  if (count < 1 || count > 1000) throw InputError("baths", static_cast<double>(count), "1 to 1000");
  const auto baths = static_cast<double>(count);
  const std::vector<BathStep> steps(count, BathStep{alpha, total_tau / baths, 0, 0});
  return {count, alpha, bath_series(body, steps).ends.back().left,
          std::isinf(alpha) ? 0.0 : std::pow(1 + alpha, -baths)};
}

bool fewer(const BathPlan& a, const BathPlan& b) {
  return a.baths < b.baths;
}

// The fewest baths against the most, in whatever order they were asked for.
void judge(BathComparison& comparison) {
  const auto& plans = comparison.plans;
  const auto [fewest, most] = std::minmax_element(plans.begin(), plans.end(), fewer);
  comparison.gain = fewest->left / most->left;
  if (fewest->baths == most->baths) {
    comparison.finding = detail::say("bath.plan.one_count");
    return;
  }
  comparison.finding =
      detail::say(comparison.gain < kHardlyAnyGain ? "bath.plan.hardly_gains" : "bath.plan.gains",
                  {{"fewest", std::to_string(fewest->baths)},
                   {"most", std::to_string(most->baths)},
                   {"factor", detail::format_number(comparison.gain, 3)}});
}

}  // namespace

BathComparison compare_bath_counts(const PorousBody& body, double alpha, double total_tau,
                                   std::span<const std::size_t> counts, BathLiquid liquid) {
  if (!(total_tau > 0)) throw InputError("total_tau", total_tau, "above 0");
  if (counts.empty()) throw InputError("baths", "none", "one count or more, each 1 to 1000");
  BathComparison comparison;
  for (const std::size_t count : counts) {
    const bool divided = liquid == BathLiquid::divided && count > 0;
    const double each = divided ? alpha / static_cast<double>(count) : alpha;
    comparison.plans.push_back(plan_of(body, each, total_tau, count));
  }
  comparison.endless_left =
      plan_of(body, std::numeric_limits<double>::infinity(), total_tau, 1).left;
  judge(comparison);
  return comparison;
}

}  // namespace aeruca
