#pragma once

// The columns of a batch: which are wanted, what they are called, and how the answer of one water,
// found alone or in lanes, goes into its row. Private to the equilibrium part.

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "equilibrium/saturation.hpp"
#include "equilibrium/system.hpp"

namespace aeruca::detail {

/// The batch with its names and empty rows. Throws UnknownName and InputError.
EquilibriumBatch make_batch(const WaterSystem& system, const BatchChoice& choice, std::size_t n);

/// Figures that stand a step apart, as those of a lane do.
struct Strided {
  const double* first = nullptr;
  std::size_t step = 1;
  [[nodiscard]] double operator[](std::size_t i) const { return first[i * step]; }
};

/// A certified answer by position in its own water.
struct RowAnswer {
  const Water* water = nullptr;
  Strided ln_molality, lambda;          ///< by species and column of the water
  std::span<const std::size_t> solids;  ///< tied, among the phases of the water
  Strided amount;                       ///< of these, mol per kg of solvent
  double ln_water = 0;
  double ionic_strength = 0;
  double solvent_kg = 1;
};

/// Writes answers of one system: the `whole` one of the batch, or the same at the temperature of
/// some rows. Of threads that write different rows each has its own.
class ColumnWriter {
 public:
  ColumnWriter(const WaterSystem& whole, const WaterSystem& system, EquilibriumBatch& batch);

  void write(std::size_t r, const RowAnswer& answer);
  void write_status(std::size_t r, Status status) { batch_.status[r] = static_cast<int>(status); }

 private:
  void spread(const RowAnswer& answer);
  void write_species(std::size_t r, const RowAnswer& answer);
  void write_solids(std::size_t r, const RowAnswer& answer);
  void write_leading(std::size_t r, const RowAnswer& answer);
  void write_degenerate(std::size_t r, const RowAnswer& answer);

  EquilibriumBatch& batch_;
  double nernst_v_;
  // Column of the batch by species and phase of the system, kNone when it is not wanted; of the
  // phases also their place in the whole system.
  std::vector<std::size_t> species_column_, solid_column_, place_in_whole_;
  std::vector<double> no_species_, no_solids_;  // a row before anything is in it
  SparseExpressions indices_, fugacities_;      // those wanted that the system has
  std::vector<std::size_t> index_column_, fugacity_column_;
  std::vector<double> lambda_;        // by system column; minus infinity: not there
  std::vector<double> own_, amount_;  // by column of the water; of its solids
};

}  // namespace aeruca::detail
