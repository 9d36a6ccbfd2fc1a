#include "equilibrium/batch_columns.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "aeruca/constants.hpp"
#include "aeruca/not_given.hpp"
#include "base/text.hpp"
#include "equilibrium/degenerate.hpp"

namespace aeruca {

namespace {

constexpr std::array<std::string_view, 11> kColumns = {"log10_molality", "solid_mol_per_kg",
                                                       "leading_solid",  "saturation_index",
                                                       "log10_fugacity", "ph",
                                                       "eh_v",           "ionic_strength",
                                                       "water_activity", "solvent_kg",
                                                       "degenerate"};

}  // namespace

std::string_view to_string(BatchColumn column) {
  return kColumns[static_cast<std::size_t>(column)];
}

BatchColumn batch_column_from(std::string_view name) {
  for (std::size_t k = 0; k < kColumns.size(); ++k) {
    if (kColumns[k] == name) return static_cast<BatchColumn>(k);
  }
  const std::vector<std::string> all(kColumns.begin(), kColumns.end());
  throw InputError("columns", std::string(name), "some of " + detail::join(all, ", "));
}

namespace detail {

namespace {

constexpr double kAbsent = -std::numeric_limits<double>::infinity();

using Names = std::vector<std::string>;

bool contains(const Names& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

// Which columns are wanted, checked against the names that are asked for.
class Wanted {
 public:
  explicit Wanted(const BatchChoice& choice) : choice_(choice) {
    refuse_idle("species", choice.species, {BatchColumn::log10_molality});
    refuse_idle("solids", choice.solids,
                {BatchColumn::solid_mol_per_kg, BatchColumn::saturation_index});
    refuse_idle("gases", choice.gases, {BatchColumn::log10_fugacity});
  }
  [[nodiscard]] bool has(BatchColumn column) const {
    const auto& all = choice_.columns;
    return all.empty() || std::find(all.begin(), all.end(), column) != all.end();
  }

 private:
  void refuse_idle(const char* parameter, const Names& names,
                   std::initializer_list<BatchColumn> columns) const {
    const auto wanted = [this](BatchColumn column) { return has(column); };
    if (names.empty() || std::any_of(columns.begin(), columns.end(), wanted)) return;
    Names about;
    for (const BatchColumn column : columns) about.emplace_back(to_string(column));
    throw InputError(parameter, join(names, ", "),
                     "names only where the columns have " + join(about, " or "));
  }

  const BatchChoice& choice_;
};

Names chosen(const char* kind, const Names& known, const Names& asked) {
  if (asked.empty()) return known;
  for (const auto& name : asked) {
    if (!contains(known, name)) throw UnknownName(kind, name, nearest_name(name, known));
  }
  return asked;
}

// Those that may form; where nothing but their amounts is wanted, one that may not is a slip.
Names chosen_amounts(const WaterSystem& system, const Names& asked, bool also_indices) {
  if (!also_indices) return chosen("allowed solid", system.phases.names, asked);
  Names kept;
  for (const auto& name : chosen("solid", system.solids.names, asked)) {
    if (contains(system.phases.names, name)) kept.push_back(name);
  }
  return kept;
}

std::map<std::string_view, std::size_t> places(const Names& names) {
  std::map<std::string_view, std::size_t> all;
  for (std::size_t k = 0; k < names.size(); ++k) all.emplace(names[k], k);
  return all;
}

// By member, where it stands among other names; kNone for one that is not there.
std::vector<std::size_t> find_all(const Names& members, const Names& others) {
  const auto place = places(others);
  std::vector<std::size_t> found;
  for (const auto& name : members) {
    const auto at = place.find(name);
    found.push_back(at == place.end() ? kNone : at->second);
  }
  return found;
}

// A row before anything is in it: `nothing` for what the system has, NaN for what it lacks.
std::vector<double> empty_row(const std::vector<std::size_t>& columns, std::size_t width,
                              double nothing) {
  std::vector<double> row(width, kNotGiven);
  for (const std::size_t column : columns) {
    if (column != kNone) row[column] = nothing;
  }
  return row;
}

void choose(const Members& members, const Names& wanted, SparseExpressions& rows,
            std::vector<std::size_t>& columns) {
  const auto place = places(members.names);
  for (std::size_t c = 0; c < wanted.size(); ++c) {
    const auto at = place.find(wanted[c]);
    if (at == place.end()) continue;
    rows.add(members.expressions, at->second);
    columns.push_back(c);
  }
}

}  // namespace

EquilibriumBatch make_batch(const WaterSystem& system, const BatchChoice& choice, std::size_t n) {
  const Wanted wanted(choice);
  EquilibriumBatch batch;
  const auto figures = [&](BatchColumn column, std::vector<double>& values, std::size_t width) {
    if (wanted.has(column)) values.assign(n * width, kNotGiven);
  };
  if (wanted.has(BatchColumn::log10_molality))
    batch.species = chosen("dissolved species", system.species.names, choice.species);
  const bool indices = wanted.has(BatchColumn::saturation_index);
  if (wanted.has(BatchColumn::solid_mol_per_kg))
    batch.allowed_solids = chosen_amounts(system, choice.solids, indices);
  if (indices) batch.indexed_solids = chosen("solid", system.solids.names, choice.solids);
  if (wanted.has(BatchColumn::log10_fugacity))
    batch.gases = chosen("gas", system.gases.names, choice.gases);
  figures(BatchColumn::log10_molality, batch.log10_molality, batch.species.size());
  figures(BatchColumn::solid_mol_per_kg, batch.solid_mol_per_kg, batch.allowed_solids.size());
  figures(BatchColumn::saturation_index, batch.saturation_index, batch.indexed_solids.size());
  figures(BatchColumn::log10_fugacity, batch.log10_fugacity, batch.gases.size());
  figures(BatchColumn::ph, batch.ph, 1);
  figures(BatchColumn::eh_v, batch.eh_v, 1);
  figures(BatchColumn::ionic_strength, batch.ionic_strength, 1);
  figures(BatchColumn::water_activity, batch.water_activity, 1);
  figures(BatchColumn::solvent_kg, batch.solvent_kg, 1);
  if (wanted.has(BatchColumn::leading_solid)) batch.leading_solid.assign(n, -1);
  if (wanted.has(BatchColumn::degenerate)) batch.degenerate.assign(n, 0);
  batch.status.assign(n, static_cast<int>(Status::iteration_limit));
  batch.certified.assign(n, 0);
  return batch;
}

ColumnWriter::ColumnWriter(const WaterSystem& whole, const WaterSystem& system,
                           EquilibriumBatch& batch)
    : batch_(batch),
      nernst_v_(system.nernst_v),
      species_column_(find_all(system.species.names, batch.species)),
      solid_column_(find_all(system.phases.names, batch.allowed_solids)),
      place_in_whole_(find_all(system.phases.names, whole.phases.names)),
      no_species_(empty_row(species_column_, batch.species.size(), kAbsent)),
      no_solids_(empty_row(solid_column_, batch.allowed_solids.size(), 0)),
      lambda_(system.columns.size()) {
  choose(system.solids, batch.indexed_solids, indices_, index_column_);
  choose(system.gases, batch.gases, fugacities_, fugacity_column_);
}

void ColumnWriter::spread(const RowAnswer& answer) {
  const auto& columns = answer.water->column;
  std::fill(lambda_.begin(), lambda_.end(), kAbsent);
  own_.resize(columns.size());
  for (std::size_t f = 0; f < columns.size(); ++f) lambda_[columns[f]] = own_[f] = answer.lambda[f];
}

void ColumnWriter::write_species(std::size_t r, const RowAnswer& answer) {
  if (batch_.log10_molality.empty()) return;
  double* row = batch_.log10_molality.data() + r * no_species_.size();
  std::copy(no_species_.begin(), no_species_.end(), row);
  const auto& species = answer.water->species;
  for (std::size_t i = 0; i < species.size(); ++i) {
    const std::size_t column = species_column_[species[i]];
    if (column != kNone) row[column] = answer.ln_molality[i] / kLn10;
  }
}

void ColumnWriter::write_solids(std::size_t r, const RowAnswer& answer) {
  if (batch_.solid_mol_per_kg.empty()) return;
  double* row = batch_.solid_mol_per_kg.data() + r * no_solids_.size();
  std::copy(no_solids_.begin(), no_solids_.end(), row);
  for (std::size_t k = 0; k < answer.solids.size(); ++k) {
    const std::size_t column = solid_column_[answer.water->phases[answer.solids[k]]];
    if (column != kNone) row[column] = answer.amount[k] * answer.solvent_kg;
  }
}

void ColumnWriter::write_leading(std::size_t r, const RowAnswer& answer) {
  double most = 0;
  for (std::size_t k = 0; k < answer.solids.size(); ++k) {
    if (!(answer.amount[k] > most)) continue;
    most = answer.amount[k];
    batch_.leading_solid[r] =
        static_cast<int>(place_in_whole_[answer.water->phases[answer.solids[k]]]);
  }
}

void ColumnWriter::write_degenerate(std::size_t r, const RowAnswer& answer) {
  amount_.resize(answer.solids.size());
  for (std::size_t k = 0; k < amount_.size(); ++k) amount_[k] = answer.amount[k];
  const bool any =
      !replaceable_solids(answer.water->chemistry, {own_, answer.solids, amount_}, answer.ln_water)
           .empty();
  batch_.degenerate[r] = any ? 1 : 0;
}

void ColumnWriter::write(std::size_t r, const RowAnswer& answer) {
  write_status(r, Status::converged);
  batch_.certified[r] = 1;
  spread(answer);
  write_species(r, answer);
  write_solids(r, answer);
  for (std::size_t k = 0; k < index_column_.size(); ++k) {
    batch_.saturation_index[r * batch_.indexed_solids.size() + index_column_[k]] =
        indices_.log10_value(k, lambda_, answer.ln_water);
  }
  for (std::size_t k = 0; k < fugacity_column_.size(); ++k) {
    batch_.log10_fugacity[r * batch_.gases.size() + fugacity_column_[k]] =
        fugacities_.log10_value(k, lambda_, answer.ln_water);
  }
  if (!batch_.leading_solid.empty()) write_leading(r, answer);
  if (!batch_.degenerate.empty()) write_degenerate(r, answer);
  const auto put = [r](std::vector<double>& column, double value) {
    if (!column.empty()) column[r] = value;
  };
  put(batch_.ph, -lambda_[WaterSystem::kHydrogen] / kLn10);
  put(batch_.eh_v, -lambda_[WaterSystem::kElectron] / kLn10 * nernst_v_);
  put(batch_.ionic_strength, answer.ionic_strength);
  put(batch_.water_activity, std::exp(answer.ln_water));
  put(batch_.solvent_kg, answer.solvent_kg);
}

}  // namespace detail
}  // namespace aeruca
