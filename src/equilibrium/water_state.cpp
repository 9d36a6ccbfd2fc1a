#include "equilibrium/water_state.hpp"

#include <algorithm>
#include <cmath>

#include "equilibrium/bounds.hpp"

namespace aeruca::detail {

double bounded_exp(double exponent) {
  constexpr double kLargestExponent = 230;  // exp stays finite, and so do sums and products of two
  return std::exp(std::min(exponent, kLargestExponent));
}

void WaterState::prepare(const Chemistry& water, const Activity* model, std::size_t model_species) {
  chemistry = &water;
  activity = model;
  model_molality.assign(model_species, 0);
  const std::size_t n = water.species.size();
  ln_gamma.assign(n, 0);
  ln_water = 0;
  u.assign(n, 0);
  molality.assign(n, 0);
  lambda.assign(water.columns(), 0);
  amount.clear();
  slopes_known = false;
  iterations = 0;
}

void WaterState::ties_changed() {
  const std::size_t n = chemistry->species.size();
  const std::size_t width = ties.free().size();
  reduced.resize(n * width);
  reduced_water.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    ties.reduce_row(chemistry->species.row(i), chemistry->species.water[i],
                    reduced.data() + i * width, reduced_water[i]);
  }
  ties.reduce_totals(*chemistry, reduced_totals);
  valence.place = kNone;
  const auto free = ties.free();
  const auto place = std::find(free.begin(), free.end(), chemistry->acid_column());
  hydrogen = place == free.end() ? kNone : static_cast<std::size_t>(place - free.begin());
  if (hydrogen == kNone) return;
  acid.resize(n);
  for (std::size_t i = 0; i < n; ++i)
    acid[i] =
        acid_share(*chemistry, free, hydrogen, reduced.data() + i * width, chemistry->charge[i]);
}

void WaterState::evaluate_species() {
  for (std::size_t i = 0; i < u.size(); ++i) {
    u[i] = chemistry->species.value(i, lambda.data(), ln_water) - ln_gamma[i];
    molality[i] = bounded_exp(u[i]);
  }
}

void WaterState::update_activity(ActivityOf wanted) {
  if (activity == nullptr) return;
  for (std::size_t i = 0; i < u.size(); ++i)
    model_molality[chemistry->slot[i]] = there(molality[i]);
  // Together where every species of the model is there; else slopes are of those that are.
  const bool together =
      wanted == ActivityOf::values_and_slopes && u.size() == model_molality.size();
  if (together) {
    activity->evaluate(model_molality, values);
  } else {
    activity->evaluate_values(model_molality, values);
  }
  slopes_known = together;
  for (std::size_t i = 0; i < u.size(); ++i) {
    ln_gamma[i] = share * values.ln_gamma[chemistry->slot[i]];
  }
  ln_water = share * values.ln_water_activity;
}

void WaterState::update_slopes() {
  if (activity != nullptr && !slopes_known) activity->evaluate_slopes(model_molality, values);
  slopes_known = true;
}

void WaterState::assemble_balances() {
  const std::size_t width = ties.free().size();
  positive_part.resize(width);
  negative_part.resize(width);
  residual.resize(width);
  for (std::size_t f = 0; f < width; ++f) {
    double positive = std::max(-balance_total(f), 0.0);
    double negative = std::max(balance_total(f), 0.0);
    for (std::size_t i = 0; i < u.size(); ++i) {
      const double part = in_balance(i, f) * molality[i];
      if (part > 0) {
        positive += part;
      } else {
        negative -= part;
      }
    }
    positive_part[f] = std::max(positive, kTinyPart);
    negative_part[f] = std::max(negative, kTinyPart);
    residual[f] = std::log(positive_part[f] / negative_part[f]);
  }
}

double WaterState::largest_residual() const {
  double largest = 0;
  for (const double r : residual) largest = std::max(largest, std::abs(r));
  return largest;
}

// Where the pH follows from the charge, the balance of hydrogen and that of charge say the same
// once the other balances hold. The one with the smaller terms loses less to rounding: 6 mol/kg of
// dissolved oxygen drowns 1e-7 of OH(-) in the first, 6 mol/kg of a neutral salt does in the
// second.
void WaterState::choose_acid_balance() {
  by_charge = false;
  if (hydrogen == kNone) return;
  double own = std::abs(reduced_totals[hydrogen]);
  double charge = 0;
  for (std::size_t i = 0; i < u.size(); ++i) {
    own += std::abs(acid[i]) * molality[i];
    charge += std::abs(chemistry->charge[i]) * molality[i];
  }
  by_charge = charge < own;
}

void WaterState::choose_balances() {
  choose_acid_balance();
  valence.choose({reduced, molality, reduced_totals, ties.free(), chemistry->kind});
}

double WaterState::find_lack(ActivityOf wanted) {
  update_activity(wanted);
  ties.complete(lambda, ln_water);
  assemble_balances();
  double error = largest_residual();
  lack.resize(u.size());
  for (std::size_t i = 0; i < u.size(); ++i) {
    lack[i] = chemistry->species.value(i, lambda.data(), ln_water) - ln_gamma[i] - u[i];
    error = std::max(error, std::abs(lack[i]));
  }
  return error;
}

double WaterState::charge_imbalance() const {
  double positive = 1e-290;
  double negative = 1e-290;
  for (std::size_t i = 0; i < u.size(); ++i) {
    const double part = chemistry->charge[i] * molality[i];
    (part > 0 ? positive : negative) += std::abs(part);
  }
  return std::log(positive / negative);
}

}  // namespace aeruca::detail
