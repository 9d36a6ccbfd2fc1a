#include "equilibrium/ties.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "numerics/dense.hpp"

namespace aeruca::detail {

namespace {
constexpr double kZeroCoefficient = 1e-9;  // rows are small whole numbers and their quotients
}

void Expressions::clear(std::size_t width) {
  columns = width;
  rows.clear();
  constant.clear();
  water.clear();
}

void Expressions::add(const double* coefficients, double constant_term, double water_coefficient) {
  rows.insert(rows.end(), coefficients, coefficients + columns);
  constant.push_back(constant_term);
  water.push_back(water_coefficient);
}

double Expressions::value(std::size_t i, const double* lambda, double ln_water) const {
  const double* coefficients = row(i);
  double sum = constant[i] + water[i] * ln_water;
  for (std::size_t j = 0; j < columns; ++j) sum += coefficients[j] * lambda[j];
  return sum;
}

bool Ties::reset(const Chemistry& chemistry) {
  columns_ = chemistry.columns();
  pinned_ = 0;
  rows_.clear();
  constant_.clear();
  water_.clear();
  pivots_.clear();
  phases_.clear();
  is_pivot_.assign(columns_, 0);
  for (std::size_t k = 0; k < chemistry.pinned.size(); ++k) {
    if (!add_row(chemistry, chemistry.pinned.row(k), chemistry.pinned.constant[k],
                 chemistry.pinned.water[k], chemistry.pinned_column[k])) {
      return false;
    }
    ++pinned_;
  }
  list_free();
  return true;
}

bool Ties::add_phase(const Chemistry& chemistry, std::size_t phase) {
  if (!add_row(chemistry, chemistry.phases.row(phase), chemistry.phases.constant[phase],
               chemistry.phases.water[phase], kNone)) {
    return false;
  }
  phases_.push_back(phase);
  list_free();
  return true;
}

void Ties::drop_phase(const Chemistry& chemistry, std::size_t position) {
  kept_ = phases_;
  kept_.erase(kept_.begin() + static_cast<std::ptrdiff_t>(position));
  reset(chemistry);
  for (const std::size_t phase : kept_) add_phase(chemistry, phase);
}

Ties Ties::with_constants(const Chemistry& chemistry) const {
  Ties same;
  same.columns_ = columns_;
  same.is_pivot_.assign(columns_, 0);
  for (std::size_t k = 0; k < pivots_.size(); ++k) {
    const bool pin = k < pinned_;
    const Expressions& from = pin ? chemistry.pinned : chemistry.phases;
    const std::size_t at = pin ? k : phases_[k - pinned_];
    same.add_row(chemistry, from.row(at), from.constant[at], from.water[at], pivots_[k]);
  }
  same.pinned_ = pinned_;
  same.phases_ = phases_;
  same.list_free();
  return same;
}

void Ties::choose_again(const Chemistry& chemistry, std::span<const double> holds) {
  holds_.assign(holds.begin(), holds.end());
  kept_ = phases_;
  reset(chemistry);
  for (const std::size_t phase : kept_) add_phase(chemistry, phase);
  holds_.clear();
}

bool Ties::holds_phase(std::size_t phase) const {
  return std::find(phases_.begin(), phases_.end(), phase) != phases_.end();
}

bool Ties::add_row(const Chemistry& chemistry, const double* row, double constant, double water,
                   std::size_t column) {
  scratch_.assign(row, row + columns_);
  for (std::size_t k = 0; k < pivots_.size(); ++k) {
    const double factor = scratch_[pivots_[k]];
    if (factor == 0) continue;
    for (std::size_t j = 0; j < columns_; ++j) scratch_[j] -= factor * rows_[k * columns_ + j];
    scratch_[pivots_[k]] = 0;
    constant -= factor * constant_[k];
    water -= factor * water_[k];
  }
  const std::size_t pivot =
      column != kNone ? column : choose_pivot(chemistry, row, scratch_.data());
  if (pivot == kNone || std::abs(scratch_[pivot]) < kZeroCoefficient) return false;
  const double scale = 1 / scratch_[pivot];
  for (double& coefficient : scratch_) coefficient *= scale;
  scratch_[pivot] = 1;
  for (std::size_t k = 0; k < pivots_.size(); ++k) {
    const double factor = rows_[k * columns_ + pivot];
    if (factor == 0) continue;
    for (std::size_t j = 0; j < columns_; ++j) rows_[k * columns_ + j] -= factor * scratch_[j];
    rows_[k * columns_ + pivot] = 0;
    constant_[k] -= factor * constant * scale;
    water_[k] -= factor * water * scale;
  }
  rows_.insert(rows_.end(), scratch_.begin(), scratch_.end());
  constant_.push_back(constant * scale);
  water_.push_back(water * scale);
  pivots_.push_back(pivot);
  is_pivot_[pivot] = 1;
  return true;
}

namespace {

// Of a component; the electrons that come with what is weighed in and those that others can give.
double available(const Chemistry& chemistry, std::size_t j) {
  double total = chemistry.totals[j];
  if (chemistry.kind[j] != ColumnKind::electron || chemistry.oxidisable.empty()) return total;
  for (std::size_t k = 0; k < chemistry.columns(); ++k)
    total += chemistry.oxidisable[k] * chemistry.totals[k];
  return total;
}

}  // namespace

// The component that runs out first: its balance gives the amount of the solid with the least
// cancellation, and what is left of the others stays accurate.
std::size_t Ties::choose_pivot(const Chemistry& chemistry, const double* original,
                               const double* reduced) const {
  std::size_t best = kNone;
  double best_score = std::numeric_limits<double>::infinity();
  for (std::size_t j = 0; j < columns_; ++j) {
    if (is_pivot_[j] != 0 || j == chemistry.charge_column) continue;
    if (std::abs(reduced[j]) < kZeroCoefficient) continue;
    if (!holds_.empty()) {
      const double score = holds_[j] / std::abs(reduced[j]);
      if (score < best_score) {
        best_score = score;
        best = j;
      }
      continue;
    }
    const double total = available(chemistry, j);
    // Hydrogen last: its balance carries every base and acid, and drowns a trace of solid.
    double score = chemistry.kind[j] == ColumnKind::electron ? 1e100 : 1e110;
    if (chemistry.kind[j] != ColumnKind::hydrogen && original[j] > 0 && total > 0) {
      score = total / original[j];
    } else if (chemistry.kind[j] == ColumnKind::mass) {
      score = 10 * total / std::abs(reduced[j]);
    }
    if (score < best_score) {
      best_score = score;
      best = j;
    }
  }
  return best;
}

void Ties::list_free() {
  free_.clear();
  for (std::size_t j = 0; j < columns_; ++j) {
    if (is_pivot_[j] == 0) free_.push_back(j);
  }
}

void Ties::complete(std::span<double> lambda, double ln_water) const {
  for (std::size_t k = 0; k < pivots_.size(); ++k) {
    double sum = constant_[k] + water_[k] * ln_water;
    for (const std::size_t j : free_) sum += rows_[k * columns_ + j] * lambda[j];
    lambda[pivots_[k]] = -sum;
  }
}

void Ties::complete_direction(std::span<double> direction) const {
  for (std::size_t k = 0; k < pivots_.size(); ++k) {
    double sum = 0;
    for (const std::size_t j : free_) sum += rows_[k * columns_ + j] * direction[j];
    direction[pivots_[k]] = -sum;
  }
}

void Ties::reduce_row(const double* row, double water, double* reduced,
                      double& reduced_water) const {
  for (std::size_t f = 0; f < free_.size(); ++f) reduced[f] = row[free_[f]];
  reduced_water = water;
  for (std::size_t k = 0; k < pivots_.size(); ++k) {
    const double factor = row[pivots_[k]];
    if (factor == 0) continue;
    for (std::size_t f = 0; f < free_.size(); ++f)
      reduced[f] -= factor * rows_[k * columns_ + free_[f]];
    reduced_water -= factor * water_[k];
  }
}

void Ties::reduce_totals(const Chemistry& chemistry, std::vector<double>& reduced) const {
  reduced.resize(free_.size());
  double ignored = 0;
  reduce_row(chemistry.totals.data(), 0, reduced.data(), ignored);
  // Solids and gases are neutral, so what is left of the totals is neutral too. Taken from the
  // others, the total of hydrogen is free of the cancellation of moles of solid against a trace of
  // ions.
  const auto place = std::find(free_.begin(), free_.end(), chemistry.acid_column());
  if (place == free_.end()) return;
  double charge = 0;
  for (std::size_t f = 0; f < free_.size(); ++f) {
    if (free_[f] != *place) charge += chemistry.column_charge[free_[f]] * reduced[f];
  }
  reduced[static_cast<std::size_t>(place - free_.begin())] = -charge;
}

double acid_share(const Chemistry& chemistry, std::span<const std::size_t> free,
                  std::size_t hydrogen, const double* reduced, double charge) {
  for (std::size_t f = 0; f < free.size(); ++f) {
    if (f != hydrogen) charge -= chemistry.column_charge[free[f]] * reduced[f];
  }
  return std::abs(charge) < kZeroCoefficient ? 0 : charge;
}

// Coefficients of the tied rows (by column) at the pivots (by row).
void Ties::fill_pivots(const Chemistry& chemistry) {
  const std::size_t n = pivots_.size();
  matrix_.resize(n * n);
  order_.resize(n);
  for (std::size_t r = 0; r < n; ++r) {
    for (std::size_t k = 0; k < n; ++k) {
      const double* row =
          k < pinned_ ? chemistry.pinned.row(k) : chemistry.phases.row(phases_[k - pinned_]);
      matrix_[r * n + k] = row[pivots_[r]];
    }
  }
}

bool Ties::factor_pivots(const Chemistry& chemistry) {
  fill_pivots(chemistry);
  return lu_factor(matrix_.data(), pivots_.size(), pivots_.size(), order_.data());
}

// Every balance divided by what it holds, to a power of two: then the scarcest component says how
// much there is of its solid. From electrons or hydrogen, which moles of another solid carry too, a
// trace of it would come out as their rounding.
bool Ties::weigh_balances(const Chemistry& chemistry, std::span<const double> dissolved,
                          std::span<const double> amounts) {
  constexpr double kFarOff = 1e3;   // a size that makes no other choice of rows
  constexpr double kLeast = 1e-40;  // far below what can be weighed in; quotients stay finite
  const std::size_t n = pivots_.size();
  fill_pivots(chemistry);
  bool changed = size_.size() != n;
  size_.resize(n, 0);
  for (std::size_t r = 0; r < n; ++r) {
    double size = std::abs(chemistry.totals[pivots_[r]]) + std::abs(dissolved[pivots_[r]]);
    for (std::size_t k = 0; k < amounts.size(); ++k)
      size += std::abs(matrix_[r * n + k] * amounts[k]);
    size = std::max(size, kLeast);
    changed = changed || size > kFarOff * size_[r];
    size_[r] = size;
  }
  return changed;
}

bool Ties::amounts(const Chemistry& chemistry, std::span<const double> dissolved,
                   std::vector<double>& out) {
  const std::size_t n = pivots_.size();
  out.clear();
  size_.clear();
  while (weigh_balances(chemistry, dissolved, out)) {
    out.resize(n);
    for (std::size_t r = 0; r < n; ++r) {
      const double scale = std::ldexp(1.0, -std::ilogb(size_[r]));
      for (std::size_t k = 0; k < n; ++k) matrix_[r * n + k] *= scale;
      out[r] = scale * (chemistry.totals[pivots_[r]] - dissolved[pivots_[r]]);
    }
    if (!lu_factor(matrix_.data(), n, n, order_.data())) return false;
    lu_solve(matrix_.data(), n, n, order_.data(), out.data(), 1, 1);
  }
  return true;
}

bool Ties::exchange_phase(const Chemistry& chemistry, std::size_t phase,
                          std::span<const double> amounts) {
  const std::size_t n = pivots_.size();
  scratch_.resize(n);  // y
  for (std::size_t r = 0; r < n; ++r) scratch_[r] = chemistry.phases.row(phase)[pivots_[r]];
  if (!factor_pivots(chemistry)) return false;
  lu_solve(matrix_.data(), n, n, order_.data(), scratch_.data(), 1, 1);
  std::size_t leaving = kNone;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < phases_.size(); ++k) {
    const double y = scratch_[pinned_ + k];
    if (y < kZeroCoefficient || amounts[k] / y >= least) continue;
    least = amounts[k] / y;
    leaving = k;
  }
  if (leaving == kNone) return false;
  drop_phase(chemistry, leaving);
  return add_phase(chemistry, phase);
}

Ties ties_on(const Chemistry& chemistry, std::span<const std::size_t> phases) {
  Ties ties;
  ties.reset(chemistry);
  for (const std::size_t phase : phases) ties.add_phase(chemistry, phase);
  return ties;
}

}  // namespace aeruca::detail
