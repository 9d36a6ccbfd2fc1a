// A water that answers its analysis: total carbonate by the titration, charge by one ion.

#include <algorithm>
#include <cmath>

#include "aeruca/analysis.hpp"
#include "analysis/composition.hpp"
#include "analysis/search.hpp"
#include "analysis/titration.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using namespace detail;

Alkalinity alkalinity_of(const Dataset& dataset, const EquilibriumResult& result) {
  Alkalinity sum;
  for (std::size_t i = 0; i < result.species.size(); ++i)
    alkalinity_share(dataset, dataset.at(result.species[i])).add(result.molality[i], sum);
  return sum;
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

constexpr double kAgree = 0.1;  // relative; readings further apart contradict each other

// The water of an analysis while its totals are sought, with names and warnings.
class NamedWater : public SoughtWater {
 public:
  NamedWater(SolvedWater& solved, const std::shared_ptr<const Dataset>& dataset)
      : solved_(solved), dataset_(*dataset), bare_(dataset, without_solids(solved.water.options)) {}

  bool solve() override {
    solved_.result = bare_.solve(solved_.water.input);
    return solved_.result.status == Status::converged;
  }
  Alkalinity alkalinity() const override { return alkalinity_of(dataset_, solved_.result); }
  ChargeBalance charge() const override { return charge_of(dataset_, solved_.result); }
  double& total(const std::string& ingredient) override {
    return solved_.water.input.totals_mol_per_kg[ingredient];
  }

 private:
  SolvedWater& solved_;
  const Dataset& dataset_;
  Equilibrium bare_;
};

class Search {
 public:
  Search(const AnalysedWater& water, const std::shared_ptr<const Dataset>& dataset)
      : shared_(dataset), dataset_(*dataset) {
    solved_.water = water;
    held_ = water.input.fugacity_bar.contains("CO2(g)");
  }

  SolvedWater done() {
    find_totals();
    if (answered()) compare();
    if (answered() && allows_solids(solved_.water.options))
      solved_.result = Equilibrium(shared_, solved_.water.options).solve(solved_.water.input);
    if (answered()) finish();
    return std::move(solved_);
  }

 private:
  bool answered() const { return solved_.result.status == Status::converged; }

  void find_totals() {
    NamedWater water(solved_, shared_);
    Titration titration(water, titrated_alkalinity(solved_.water));
    if (titration.find_carbonate()) {
      solved_.charge = water.charge();
      const std::string& ion = solved_.water.charge_assigned_to;
      if (!ion.empty()) titration.assign_charge(ion, dataset_.at(ion).charge);
      solved_.charge.assigned_mol_per_kg = titration.assigned_mol_per_kg;
    }
    if (!titration.refused) return;
    solved_.result.status = titration.refused->status;
    solved_.result.message = titration.refused->message;
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
    const EquilibriumOptions& options = solved_.water.options;
    const bool nominal = options.redox == Redox::eh && !solved_.water.potential;
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
    const EquilibriumOptions& options = solved_.water.options;
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
  bool held_ = false;  // the carbon dioxide held decides the carbonate
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
