#include "aeruca/mixture.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "aeruca/equilibrium.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "brine/onset_uncertainty.hpp"
#include "equilibrium/dry.hpp"
#include "equilibrium/workplace.hpp"

namespace aeruca {

namespace {

using detail::DryWater;
using detail::WaterSystem;

constexpr double kNeutral = 1e-9;   // of all charges
constexpr double kLocated = 0.001;  // % RH
constexpr double kPh = 7;           // H(+) is there in name only: no species trades it
constexpr double kPotentialV = 0.4;
constexpr std::array<std::string_view, 6> kTradeAcid = {"CO3(2-)", "CH3COO(-)", "HCOO(-)",
                                                        "HS(-)",   "H(+)",      "e(-)"};

double charge_of(const Dataset& dataset, const std::string& name) {
  return dataset.at(name).charge;
}

void check(const Dataset& dataset, const std::map<std::string, double>& ions) {
  double net = 0;
  double gross = 0;
  for (const auto& [name, moles] : ions) {
    (void)dataset.component_index(name);
    if (std::find(kTradeAcid.begin(), kTradeAcid.end(), name) != kTradeAcid.end())
      throw InputError("ions", name, "an ion whose salts trade no acid with the air");
    if (!(moles > 0) || !std::isfinite(moles))
      throw InputError("ions, " + name, moles, "an amount above 0 mol");
    net += charge_of(dataset, name) * moles;
    gross += std::abs(charge_of(dataset, name)) * moles;
  }
  if (ions.size() < 2) throw InputError("ions", std::to_string(ions.size()), "a salt: two or more");
  if (std::abs(net) > kNeutral * gross)
    throw InputError("ions", detail::format_number(net) + " mol of charge left",
                     "amounts whose charges cancel");
}

// Made of these ions and water alone.
bool is_salt_of(const Dataset& dataset, const Species& solid,
                const std::map<std::string, double>& ions) {
  for (std::size_t j = 0; j < dataset.components.size(); ++j) {
    const std::string& name = dataset.components[j];
    if (solid.components[j] != 0 && name != "H2O" && !ions.contains(name)) return false;
  }
  return true;
}

EquilibriumOptions options_of(const Dataset& dataset, const std::map<std::string, double>& ions,
                              const MixtureOptions& asked) {
  EquilibriumOptions options;
  options.activity = ActivityModel::pitzer;
  options.solvent = Solvent::water_activity;
  options.precipitation = Precipitation::allowed;
  options.temperature_c = asked.temperature_c;
  const std::size_t electron = dataset.component_index("e(-)");
  const std::size_t hydrogen = dataset.component_index("H(+)");
  for (const auto& [name, moles] : ions) options.components.push_back(name);
  for (const std::string& name : asked.left_out) (void)dataset.at(name);
  for (const Species& one : dataset.species) {
    const bool trades = one.components[electron] != 0 || one.components[hydrogen] != 0;
    if (one.kind == PhaseKind::aqueous && trades && one.name != "H(+)")
      options.left_out.push_back(one.name);
    if (one.kind != PhaseKind::solid || !is_salt_of(dataset, one, ions)) continue;
    const bool unwanted =
        std::find(asked.left_out.begin(), asked.left_out.end(), one.name) != asked.left_out.end();
    const bool known =
        std::isfinite(one.log10_k) && Dataset::log10_k_known_at(one, asked.temperature_c);
    if (!unwanted && known) options.allowed_solids.push_back(one.name);
  }
  if (options.allowed_solids.empty())
    throw InputError("ions", std::to_string(ions.size()) + " ions",
                     "ions of which the data set knows a salt at this temperature");
  return options;
}

std::vector<std::string> names_of(const MixtureState& state) {
  std::vector<std::string> names;
  for (const auto& [name, moles] : state.solids) names.push_back(name);
  return names;
}

bool alike(const MixtureState& a, const MixtureState& b) {
  return a.brine == b.brine && names_of(a) == names_of(b);
}

bool answered(const MixtureState& state) {
  return state.status == Status::converged;
}

// Drier air holds a brine of this mixture already.
void refuse_drying(MixtureState& state) {
  state.status = Status::iteration_limit;
  state.message = detail::say("brine.mixture.brine_below");
  state.solids.clear();
  state.nearest_solution_rh_percent = kNotGiven;
  state.warnings.clear();
}

// Solids of the answers whose heat of dissolution was estimated; none at 25 degrees C.
std::vector<std::string> on_estimated_heats(const Dataset& dataset, const MixtureSweep& sweep) {
  std::set<std::string> found;
  for (const MixtureState& state : sweep.states)
    for (const auto& [name, moles] : state.solids)
      if (dataset.rests_on_estimate(dataset.at(name), sweep.temperature_c)) found.insert(name);
  return {found.begin(), found.end()};
}

std::string without_figures(std::string text) {
  std::erase_if(text, [](char c) { return (c >= '0' && c <= '9') || c == '.'; });
  return text;
}

}  // namespace

struct SaltMixture::Impl {
  std::shared_ptr<const Dataset> dataset;
  std::map<std::string, double> ions;
  MixtureOptions asked;
  double all = 0;  // mol, to which amounts are scaled
  WaterSystem system;
  Equilibrium equilibrium;

  Impl(std::shared_ptr<const Dataset> data, std::map<std::string, double> given,
       const MixtureOptions& options)
      : dataset(std::move(data)),
        ions(std::move(given)),
        asked(options),
        system(detail::make_system(dataset, options_of(*dataset, ions, options))),
        equilibrium(dataset, system.options) {
    for (const auto& [name, moles] : ions) all += moles;
  }

  [[nodiscard]] EquilibriumInput input(double water_activity) const {
    EquilibriumInput water;
    water.ph = kPh;
    water.eh_v = kPotentialV;
    water.water_activity = water_activity;
    for (const auto& [name, moles] : ions) water.totals_mol_per_kg[name] = moles / all;
    return water;
  }

  // `brine_below`: drier air holds a brine already, so that it is looked for first.
  [[nodiscard]] MixtureState at(double rh_percent, bool brine_below = false) const {
    if (!(rh_percent > 0 && rh_percent < 100))
      throw InputError("rh_percent", rh_percent, "above 0 and below 100 % RH");
    MixtureState state;
    state.rh_percent = rh_percent;
    const EquilibriumInput water = input(rh_percent / 100);
    EquilibriumResult wet;
    if (brine_below) wet = equilibrium.solve(water);
    DryWater dry;
    if (wet.status != Status::converged) dry = without_brine(water);
    const bool is_dry = dry.status == Status::converged;
    if (is_dry && !dry.to_end_of_range) {
      take(dry, state);
      return state;
    }
    // A brine beyond the range of the model is the model's answer all the same.
    if (!brine_below) wet = equilibrium.solve(water);
    state.status = wet.status;
    if (wet.status == Status::converged) {
      take(wet, state);
    } else if (is_dry) {
      take(dry, state);
    } else {
      state.message = wet.message;
    }
    return state;
  }

  [[nodiscard]] DryWater without_brine(const EquilibriumInput& input) const {
    detail::Water water;
    const detail::HeldWater held = detail::held_of(system, input);
    detail::fill_water(system, detail::totals_of(system, input), held, water);
    return detail::solve_dry(system, water, std::log(*input.water_activity));
  }

  void take(const DryWater& dry, MixtureState& state) const {
    state.status = Status::converged;
    state.nearest_solution_rh_percent = 100 * std::exp(dry.nearest_ln_water);
    state.to_end_of_range = dry.to_end_of_range;
    if (dry.to_end_of_range) state.warnings.push_back(detail::say("brine.mixture.to_end_of_range"));
    for (std::size_t s = 0; s < dry.amount.size(); ++s) {
      if (dry.amount[s] > 1e-12) state.solids[system.phases.names[s]] = dry.amount[s] * all;
    }
  }

  void take(const EquilibriumResult& wet, MixtureState& state) const {
    state.brine = true;
    for (const auto& [name, moles] : wet.formed()) state.solids[name] = moles * all;
    state.water_kg = wet.solvent_kg * all;
    for (const auto& [name, moles] : ions) state.brine_molality[name] = wet.molality_of(name);
    state.warnings = wet.warnings;
  }

  // Where a brine first forms.
  [[nodiscard]] double uncertainty(const MixtureState& drier, const MixtureState& moister) const {
    if (drier.brine || !moister.brine) return kNotGiven;
    std::vector<double> molality;
    for (const std::string& name : system.species.names) {
      const auto found = moister.brine_molality.find(name);
      molality.push_back(found == moister.brine_molality.end() ? 0 : found->second);
    }
    return detail::onset_uncertainty(*system.dataset, asked.temperature_c,
                                     system.activity->ionic_strength_max(molality), drier, moister);
  }

  // Onsets between two states that differ, moister last, by halving.
  void locate(const MixtureState& drier, const MixtureState& moister, MixtureSweep& sweep) const {
    if (alike(drier, moister)) return;
    if (!answered(drier) || !answered(moister) || (drier.brine && !moister.brine)) {
      sweep.warnings.push_back(detail::say(
          "brine.mixture.not_located", {{"low", detail::format_number(drier.rh_percent, 4)},
                                        {"high", detail::format_number(moister.rh_percent, 4)}}));
      return;
    }
    const double width = moister.rh_percent - drier.rh_percent;
    if (width <= kLocated) {
      sweep.onsets.push_back({drier.rh_percent + 0.5 * width, names_of(drier), names_of(moister),
                              drier.brine, moister.brine, uncertainty(drier, moister)});
      return;
    }
    const MixtureState middle = at(drier.rh_percent + 0.5 * width, drier.brine);
    locate(drier, middle, sweep);
    locate(middle, moister, sweep);
  }
};

SaltMixture::SaltMixture(const std::shared_ptr<const Dataset>& dataset,
                         std::map<std::string, double> ions, const MixtureOptions& options) {
  check(*dataset, ions);
  impl_ = std::make_unique<const Impl>(dataset, std::move(ions), options);
}
SaltMixture::~SaltMixture() = default;
SaltMixture::SaltMixture(SaltMixture&& other) noexcept = default;
SaltMixture& SaltMixture::operator=(SaltMixture&& other) noexcept = default;

const std::vector<std::string>& SaltMixture::solids() const {
  return impl_->system.phases.names;
}

MixtureState SaltMixture::at(double rh_percent) const {
  return impl_->at(rh_percent);
}

MixtureSweep SaltMixture::sweep(std::span<const double> rh_percent) const {
  MixtureSweep sweep;
  sweep.temperature_c = impl_->asked.temperature_c;
  sweep.ions = impl_->ions;
  // What the activity model assumes and estimates holds for every state, with a brine or without.
  sweep.warnings = impl_->system.remarks;
  std::set<std::string> told;
  bool has_brine = false;
  for (std::size_t i = 0; i < rh_percent.size(); ++i) {
    if (i > 0 && !(rh_percent[i] > rh_percent[i - 1]))
      throw InputError("rh_percent", rh_percent[i], "humidities that rise");
    sweep.states.push_back(impl_->at(rh_percent[i], has_brine));
    MixtureState& state = sweep.states.back();
    if (has_brine && answered(state) && !state.brine) refuse_drying(state);
    has_brine = has_brine || state.brine;
    for (const std::string& warning : state.warnings) {
      if (told.insert(without_figures(warning)).second) sweep.warnings.push_back(warning);
    }
    if (i > 0 && answered(state) && answered(sweep.states[i - 1]))
      impl_->locate(sweep.states[i - 1], state, sweep);
  }
  const auto estimated = on_estimated_heats(*impl_->dataset, sweep);
  if (!estimated.empty())
    sweep.warnings.push_back(
        detail::say("brine.mixture.estimated_heat",
                    {{"solids", detail::join(estimated, ", ")},
                     {"temperature_c", detail::format_number(sweep.temperature_c)}}));
  for (const MixtureOnset& onset : sweep.onsets) {
    if (onset.brine_when_drier || !onset.brine_when_moister) continue;
    sweep.mutual_deliquescence_rh_percent = onset.rh_percent;
    sweep.mutual_deliquescence_uncertainty_percent = onset.rh_uncertainty_percent;
  }
  return sweep;
}

}  // namespace aeruca
