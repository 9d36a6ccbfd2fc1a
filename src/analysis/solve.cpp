// A water that answers its analysis: total carbonate by the titration, charge by one ion.

#include <algorithm>
#include <cmath>

#include "aeruca/analysis.hpp"
#include "analysis/composition.hpp"
#include "analysis/search.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

const char* const kCarbonate = "HCO3(-)";

struct Alkalinity {
  double carbonate = 0;  // of what holds carbonate
  double other = 0;      // OH(-), H(+), hydroxide complexes, ammonia
  [[nodiscard]] double sum() const { return carbonate + other; }
};

// Acid to the end point where carbonate is CO2(aq). O2(aq) and H2(aq) take none.
Alkalinity alkalinity_of(const Dataset& dataset, const EquilibriumResult& result) {
  Alkalinity alkalinity;
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const Species& species = dataset.at(result.species[i]);
    if (species.name == "O2(aq)" || species.name == "H2(aq)") continue;
    const double carbonate = detail::held_of(dataset, species, "CO3(2-)");
    const double acid = 2 * carbonate - detail::held_of(dataset, species, "H(+)");
    (carbonate > 0 ? alkalinity.carbonate : alkalinity.other) += result.molality[i] * acid;
  }
  return alkalinity;
}

ChargeBalance charge_of(const Dataset& dataset, const EquilibriumResult& result) {
  ChargeBalance balance{0, 0, kNotGiven, 0};
  for (std::size_t i = 0; i < result.species.size(); ++i) {
    const double charge = dataset.at(result.species[i]).charge * result.molality[i];
    (charge > 0 ? balance.cations : balance.anions) += std::abs(charge);
  }
  balance.error_percent =
      100 * (balance.cations - balance.anions) / (balance.cations + balance.anions);
  return balance;
}

std::string in_us_per_cm(double value) {
  return value < 100 ? format_number(value, 3) : std::to_string(std::lround(value));
}

// What carbon dioxide under pressure could hold at most; beyond it pH and alkalinity contradict
// each other.
constexpr double kMostCarbonate = 2;
constexpr double kClose = 1e-9;
constexpr int kRounds = 60;
constexpr double kAgree = 0.1;  // relative; readings further apart contradict each other

bool solids_allowed(const EquilibriumOptions& options) {
  return options.precipitation == Precipitation::allowed;
}

// The water as the laboratory had it: nothing has formed from it yet. Names of solids that cannot
// form stay, and are refused.
EquilibriumOptions without_solids(EquilibriumOptions options) {
  if (solids_allowed(options)) options.allowed_solids.clear();
  options.precipitation = Precipitation::none;
  return options;
}

class Search {
 public:
  Search(const AnalysedWater& water, const std::shared_ptr<const Dataset>& dataset)
      : shared_(dataset), dataset_(*dataset), bare_(dataset, without_solids(water.options)) {
    solved_.water = water;
    searched_ = water.alkalinity_mol_per_kg.has_value() && totals().contains(kCarbonate);
    held_ = water.input.fugacity_bar.contains("CO2(g)");
  }

  SolvedWater done() {
    find_carbonate();
    if (answered()) solved_.charge = charge_of(dataset_, solved_.result);
    if (answered() && !solved_.water.charge_assigned_to.empty()) assign_charge();
    if (answered()) compare();
    if (answered() && solids_allowed(solved_.water.options))
      solved_.result = Equilibrium(shared_, solved_.water.options).solve(solved_.water.input);
    if (answered()) finish();
    return std::move(solved_);
  }

 private:
  bool answered() const { return solved_.result.status == Status::converged; }
  std::map<std::string, double>& totals() { return solved_.water.input.totals_mol_per_kg; }
  void solve_once() { solved_.result = bare_.solve(solved_.water.input); }

  void refuse(Status status, std::string why) {
    solved_.result.status = status;
    solved_.result.message = std::move(why);
  }

  // The total carbonate is scaled until its alkalinity is what the titration leaves to it.
  void find_carbonate() {
    solve_once();
    if (!searched_) return;
    for (int round = 0; round < kRounds && answered(); ++round) {
      if (scale_carbonate()) return;
      if (answered()) solve_once();
    }
    if (answered()) refuse(Status::iteration_limit, say("analysis.no_answer.titration"));
  }

  // One step; true when none is needed.
  bool scale_carbonate() {
    const double titrated = *solved_.water.alkalinity_mol_per_kg;
    const Alkalinity found = alkalinity_of(dataset_, solved_.result);
    const double wanted = titrated - found.other;
    if (!(wanted > 0)) {
      refuse(Status::infeasible,
             say("analysis.no_answer.alkalinity",
                 {{"hydroxide_mmol_per_kg", format_number(1000 * found.other, 3)},
                  {"titrated_mmol_per_kg", format_number(1000 * titrated, 3)}}));
      return false;
    }
    const double ratio = wanted / found.carbonate;
    if (std::abs(ratio - 1) < kClose) return true;
    double& total = totals()[kCarbonate];
    total *= ratio;
    if (total > kMostCarbonate) {
      refuse(Status::infeasible, say("analysis.no_answer.bicarbonate",
                                     {{"mol_per_kg", format_number(kMostCarbonate)}}));
    }
    return false;
  }

  // Complexes take up some of what is added, so it is added again until nothing is left over.
  void assign_charge() {
    const std::string& ion = solved_.water.charge_assigned_to;
    const int charge = dataset_.at(ion).charge;
    for (int round = 0; round < kRounds && answered(); ++round) {
      const ChargeBalance now = charge_of(dataset_, solved_.result);
      const double over = now.cations - now.anions;
      if (std::abs(over) < kClose * (now.cations + now.anions)) return;
      solved_.charge.assigned_mol_per_kg -= over / charge;
      double& total = totals()[ion];
      total -= over / charge;
      if (total < 0) {
        refuse(Status::infeasible, say("analysis.no_answer.less_than_none", {{"ion", ion}}));
        return;
      }
      find_carbonate();
    }
    if (answered()) {
      refuse(Status::iteration_limit, say("analysis.no_answer.charge", {{"ion", ion}}));
    }
  }

  // What a laboratory checks its readings with, before any solid forms.
  void compare() {
    solved_.alkalinity_mol_per_kg = alkalinity_of(dataset_, solved_.result).sum();
    solved_.conductivity = conductivity_of(solved_.result, dataset_);
    if (held_ && solved_.water.alkalinity_mol_per_kg) compare_alkalinity();
    if (solved_.water.analysis.conductivity_us_per_cm) compare_conductivity();
  }

  void compare_alkalinity() {
    const double titrated = *solved_.water.alkalinity_mol_per_kg;
    const double found = solved_.alkalinity_mol_per_kg;
    const bool agree =
        std::abs(found - titrated) <= kAgree * std::max(std::abs(titrated), std::abs(found));
    std::string both = say(agree ? "analysis.alkalinity.agrees" : "analysis.alkalinity.contradicts",
                           {{"found_mmol_per_kg", format_number(1000 * found, 3)},
                            {"titrated_mmol_per_kg", format_number(1000 * titrated, 3)}});
    (agree ? solved_.water.assumed : warnings_).push_back(std::move(both));
  }

  void compare_conductivity() {
    const Conductivity& found = solved_.conductivity;
    const double measured = *solved_.water.analysis.conductivity_us_per_cm;
    solved_.water.figures.insert(solved_.water.figures.end(), found.figures.begin(),
                                 found.figures.end());
    if (std::isnan(found.us_per_cm)) {
      warnings_.push_back(say("analysis.conductivity.not_compared", {{"reason", found.said}}));
      return;
    }
    const bool agree = std::abs(found.us_per_cm - measured) <= kAgree * measured;
    const bool less = found.us_per_cm < measured;
    std::string both =
        say(agree  ? "analysis.conductivity.agrees"
            : less ? "analysis.conductivity.too_low"
                   : "analysis.conductivity.too_high",
            {{"found", in_us_per_cm(found.us_per_cm)}, {"measured", in_us_per_cm(measured)}});
    (agree ? solved_.water.assumed : warnings_).push_back(std::move(both));
  }

  void finish() {
    EquilibriumResult& result = solved_.result;
    const bool nominal = bare_.options().redox == Redox::eh && !solved_.water.potential;
    if (nominal) result.eh_v = result.pe = kNotGiven;
    result.figures.insert(result.figures.end(), solved_.water.figures.begin(),
                          solved_.water.figures.end());
    result.warnings.insert(result.warnings.end(), warnings_.begin(), warnings_.end());
    result.remarks = remarks_of_leading();
  }

  // What the activity model assumes, for the species that make up the water rather than all it
  // could hold.
  std::vector<std::string> remarks_of_leading() const {
    constexpr double kLeading = 1e-3;  // of the ionic strength
    const EquilibriumResult& result = solved_.result;
    std::vector<std::string> leading;
    for (std::size_t i = 0; i < result.species.size(); ++i) {
      if (result.molality[i] >= kLeading * result.ionic_strength)
        leading.push_back(result.species[i]);
    }
    const EquilibriumOptions& options = bare_.options();
    auto remarks =
        make_activity(options.activity, dataset_, leading, options.temperature_c)->remarks();
    std::vector<std::string> contained;
    for (const auto& each : contained_complexes(options.activity, dataset_)) {
      const auto leads = [&](const std::string& ion) {
        return std::find(leading.begin(), leading.end(), ion) != leading.end();
      };
      if (leads(each.cation) && leads(each.anion)) contained.push_back(each.name);
    }
    if (!contained.empty()) remarks.push_back(contained_remark(options.activity, contained));
    return remarks;
  }

  std::shared_ptr<const Dataset> shared_;
  const Dataset& dataset_;
  Equilibrium bare_;
  bool searched_ = false;  // the carbonate is unknown, and the titration decides it
  bool held_ = false;      // ... or the carbon dioxide held
  std::vector<std::string> warnings_;
  SolvedWater solved_;
};

}  // namespace

SolvedWater detail::answer_of(const AnalysedWater& water,
                              const std::shared_ptr<const Dataset>& dataset) {
  return Search(water, dataset).done();
}

SolvedWater solve(const AnalysedWater& water, const std::shared_ptr<const Dataset>& dataset) {
  SolvedWater solved = detail::answer_of(water, dataset);
  if (solved.result.status == Status::converged)
    solved.index_uncertainty = detail::index_uncertainty(solved, dataset);
  return solved;
}

}  // namespace aeruca
