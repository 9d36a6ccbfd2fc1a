// One water as matrices: the components that are there, the balances that are open.

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "equilibrium/refusals.hpp"
#include "equilibrium/system.hpp"

namespace aeruca::detail {

namespace {

constexpr std::size_t kH = WaterSystem::kHydrogen;
constexpr std::size_t kE = WaterSystem::kElectron;

void keep_rows(const Members& members, const Water& water, Expressions& out,
               std::vector<std::size_t>& kept) {
  const std::size_t width = water.column.size();
  out.clear(width);
  kept.clear();
  std::vector<double> row(width);
  for (std::size_t i = 0; i < members.names.size(); ++i) {
    const double* full = members.expressions.row(i);
    bool all_there = true;
    for (std::size_t j = 0; j < water.present.size(); ++j) {
      if (full[j] != 0 && water.present[j] == 0) all_there = false;
    }
    if (!all_there) continue;
    for (std::size_t f = 0; f < width; ++f) row[f] = full[water.column[f]];
    out.add(row.data(), members.expressions.constant[i], members.expressions.water[i]);
    kept.push_back(i);
  }
}

// From what is made of one component, with fewer electrons than that itself.
void note_oxidisable(const Expressions& members, Chemistry& chemistry) {
  for (std::size_t i = 0; i < members.size(); ++i) {
    const double* row = members.row(i);
    if (!(row[kE] < 0)) continue;
    std::size_t only = kNone;
    std::size_t count = 0;
    for (std::size_t j = 0; j < members.columns; ++j) {
      if (chemistry.kind[j] != ColumnKind::mass || !(row[j] > 0)) continue;
      only = j;
      ++count;
    }
    if (count == 1)
      chemistry.oxidisable[only] = std::max(chemistry.oxidisable[only], -row[kE] / row[only]);
  }
}

void rebuild(const WaterSystem& system, Water& water) {
  water.column.clear();
  for (std::size_t j = 0; j < water.present.size(); ++j) {
    if (water.present[j] != 0) water.column.push_back(j);
  }
  Chemistry& chemistry = water.chemistry;
  keep_rows(system.species, water, chemistry.species, water.species);
  keep_rows(system.phases, water, chemistry.phases, water.phases);
  chemistry.slot = water.species;
  chemistry.charge.clear();
  for (const std::size_t i : water.species) chemistry.charge.push_back(system.charge[i]);
  chemistry.kind.clear();
  chemistry.column_charge.clear();
  for (const std::size_t j : water.column)
    chemistry.column_charge.push_back(system.column_charge[j]);
  for (const std::size_t j : water.column) {
    chemistry.kind.push_back(j == kH   ? ColumnKind::hydrogen
                             : j == kE ? ColumnKind::electron
                                       : ColumnKind::mass);
  }
  chemistry.totals.assign(water.column.size(), 0);
  chemistry.oxidisable.assign(water.column.size(), 0);
  note_oxidisable(chemistry.species, chemistry);
  note_oxidisable(chemistry.phases, chemistry);
}

class Pins {
 public:
  Pins(const WaterSystem& system, Water& water) : system_(system), water_(water) {
    water_.chemistry.pinned.clear(water_.column.size());
    water_.chemistry.pinned_column.clear();
  }

  void potential(std::size_t column, double lambda) {
    std::vector<double>& row = empty_row();
    row[column] = 1;  // hydrogen and electron are the first two columns in both
    add(row, -lambda, 0, column);
  }

  void gas(std::size_t position, double ln_fugacity, const char* parameter) {
    const Expressions& gases = system_.gases.expressions;
    std::vector<double>& row = empty_row();
    std::size_t column = kNone;
    for (std::size_t f = water_.column.size();
         f-- > 0;) {  // from the last: electron, then hydrogen, at last
      row[f] = gases.row(position)[water_.column[f]];
      if (row[f] != 0 && column == kNone && !taken(f)) column = f;
    }
    if (column == kNone || water_.chemistry.charge_column == column) {
      throw InputError(parameter, system_.gases.names[position],
                       "gases that the pH, the Eh and the other gases do not already decide");
    }
    add(row, gases.constant[position] - ln_fugacity, gases.water[position], column);
  }

 private:
  std::vector<double>& empty_row() {
    water_.row.assign(water_.column.size(), 0);
    return water_.row;
  }
  bool taken(std::size_t column) const {
    const auto& columns = water_.chemistry.pinned_column;
    return std::find(columns.begin(), columns.end(), column) != columns.end();
  }
  void add(const std::vector<double>& row, double constant, double water, std::size_t column) {
    water_.chemistry.pinned.add(row.data(), constant, water);
    water_.chemistry.pinned_column.push_back(column);
  }

  const WaterSystem& system_;
  Water& water_;
};

std::size_t oxygen_of(const WaterSystem& system) {
  const auto& names = system.gases.names;
  const auto found = std::find(names.begin(), names.end(), "O2(g)");
  if (found == names.end()) throw InputError("redox", "oxygen", "a data set with O2(g)");
  return static_cast<std::size_t>(found - names.begin());
}

}  // namespace

void fill_water(const WaterSystem& system, std::span<const double> totals, const HeldWater& held,
                Water& water) {
  const EquilibriumOptions& options = system.options;
  refuse_unknown_acids(system, totals);
  std::vector<char>& present = water.wanted;
  present.assign(totals.size(), 0);
  present[kH] = present[kE] = 1;
  for (std::size_t j = 2; j < totals.size(); ++j) present[j] = totals[j] > 0 ? 1 : 0;
  for (const auto& gas : held.gases) {
    for (std::size_t j = 2; j < totals.size(); ++j) {
      if (system.gases.expressions.row(gas.first)[j] != 0) present[j] = 1;
    }
  }
  if (!water.made || water.present != present) {
    water.present = present;
    rebuild(system, water);
    water.made = true;
  }
  Chemistry& chemistry = water.chemistry;
  for (std::size_t f = 0; f < water.column.size(); ++f)
    chemistry.totals[f] = totals[water.column[f]];
  // Neutral whatever was weighed in: the counter-charge that is missing comes as H(+) or OH(-).
  // With the potential given electrons come and go, so charge takes the place of the balance of
  // hydrogen.
  chemistry.charge_column =
      options.acidity == Acidity::charge_balance && options.redox == Redox::eh ? kH : kNone;
  chemistry.neutral_column =
      options.acidity == Acidity::charge_balance && options.redox != Redox::eh ? kH : kNone;
  if (chemistry.neutral_column != kNone) {
    double charge = 0;
    for (std::size_t f = 0; f < water.column.size(); ++f) {
      if (f != kH) charge += chemistry.column_charge[f] * chemistry.totals[f];
    }
    chemistry.totals[kH] = -charge;
  }
  Pins pins(system, water);
  if (options.acidity == Acidity::given_ph) pins.potential(kH, -held.ph * kLn10);
  if (options.redox == Redox::eh) pins.potential(kE, -held.eh_v / system.nernst_v * kLn10);
  if (options.redox == Redox::oxygen)
    pins.gas(oxygen_of(system), std::log(held.oxygen_bar), "oxygen_bar");
  for (const auto& gas : held.gases) pins.gas(gas.first, gas.second, "fugacity_bar");
}

}  // namespace aeruca::detail
