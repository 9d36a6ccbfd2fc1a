#include "analysis/titration.hpp"

#include <algorithm>
#include <cmath>

#include "analysis/composition.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

// What carbon dioxide under pressure could hold at most; beyond it pH and alkalinity contradict
// each other.
constexpr double kMostCarbonate = 2;
constexpr double kClose = 1e-9;
constexpr int kRounds = 60;
// d ln(alkalinity) / d ln(total carbonate) that is believed.
constexpr double kFlattest = 0.2;
constexpr double kSteepest = 5;

}  // namespace

AlkalinityShare alkalinity_share(const Dataset& dataset, const Species& species) {
  if (species.name == "O2(aq)" || species.name == "H2(aq)") return {};
  const double carbonate = held_of(dataset, species, "CO3(2-)");
  return {2 * carbonate - held_of(dataset, species, "H(+)"), carbonate > 0};
}

bool allows_solids(const EquilibriumOptions& options) {
  return options.precipitation == Precipitation::allowed;
}

EquilibriumOptions without_solids(EquilibriumOptions options) {
  if (allows_solids(options)) options.allowed_solids.clear();
  options.precipitation = Precipitation::none;
  return options;
}

std::optional<double> titrated_alkalinity(const AnalysedWater& water) {
  return water.input.totals_mol_per_kg.contains(kCarbonate) ? water.alkalinity_mol_per_kg
                                                            : std::nullopt;
}

bool Titration::refuse(Status status, std::string why) {
  refused = Refusal{status, std::move(why)};
  return false;
}

// The total carbonate is scaled until its alkalinity is what the titration leaves to it.
bool Titration::find_carbonate() {
  if (!water_.solve()) return false;
  if (!titrated_) return true;
  before_.reset();
  for (int round = 0; round < kRounds; ++round) {
    const Step step = scale_carbonate();
    if (step != Step::on) return step == Step::done;
    if (!water_.solve()) return false;
  }
  return refuse(Status::iteration_limit, say("analysis.no_answer.titration"));
}

// In logarithms: without complexes the alkalinity rises as the total does, by 1; how much less it
// is with them, the step before tells.
Titration::Step Titration::scale_carbonate() {
  const Alkalinity found = water_.alkalinity();
  const double wanted = *titrated_ - found.other;
  if (!(wanted > 0)) {
    refuse(Status::infeasible,
           say("analysis.no_answer.alkalinity",
               {{"hydroxide_mmol_per_kg", format_number(1000 * found.other, 3)},
                {"titrated_mmol_per_kg", format_number(1000 * *titrated_, 3)}}));
    return Step::stopped;
  }
  const double ratio = wanted / found.carbonate;
  if (std::abs(ratio - 1) < kClose) return Step::done;
  const double lack = std::log(ratio);
  double slope = 1;
  if (before_) slope = std::clamp((before_->lack - lack) / before_->step, kFlattest, kSteepest);
  before_ = Scaling{lack, lack / slope};
  double& total = water_.total(kCarbonate);
  total *= std::exp(before_->step);
  if (total <= kMostCarbonate) return Step::on;
  refuse(Status::infeasible,
         say("analysis.no_answer.bicarbonate", {{"mol_per_kg", format_number(kMostCarbonate)}}));
  return Step::stopped;
}

// Complexes take up some of what is added, so it is added again until nothing is left over.
bool Titration::assign_charge(const std::string& ion, int charge) {
  for (int round = 0; round < kRounds; ++round) {
    const ChargeBalance now = water_.charge();
    const double over = now.cations - now.anions;
    if (std::abs(over) < kClose * (now.cations + now.anions)) return true;
    assigned_mol_per_kg -= over / charge;
    double& total = water_.total(ion);
    total -= over / charge;
    if (total < 0)
      return refuse(Status::infeasible, say("analysis.no_answer.less_than_none", {{"ion", ion}}));
    if (!find_carbonate()) return false;
  }
  return refuse(Status::iteration_limit, say("analysis.no_answer.charge", {{"ion", ion}}));
}

}  // namespace aeruca::detail
