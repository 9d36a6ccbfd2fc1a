#pragma once

// Several stores of chloride in a sequence of baths; equations in aeruca/bath_bodies.hpp.

#include <complex>
#include <span>
#include <vector>

#include "aeruca/bath_bodies.hpp"
#include "bath/relaxation.hpp"

namespace aeruca::detail {

/// What every bath holds at its end, and what is left then.
struct StoresResult {
  std::vector<double> filled;   ///< in the bath when it was filled, of the load
  std::vector<double> in_bath;  ///< of the load
  std::vector<double> left;     ///< of the load
};

/// Of the stores' own chloride in clean baths, and, where `fills` is given, of what fresh liquid
/// brings (amount per bath, any unit): in_bath and left in that unit.
class StoresInBaths {
 public:
  StoresInBaths(std::span<const ChlorideStore> stores, Fineness fineness);

  /// `baths[k].fill` counts only when `with_fill`.
  [[nodiscard]] StoresResult run(std::span<const BathStep> baths, bool with_load, bool with_fill);

 private:
  struct Store {
    const RelaxingParts* parts;
    double capacity, rate, film;  // film: d r Bi, infinite without one
    std::vector<double> held;     // v, by part
  };
  void fill(double load_scale);
  void advance(const BathStep& bath, double& concentration);
  void advance_in_sink(double tau);
  static void add_parts(const Store& store, std::complex<double> z, std::complex<double> weight,
                        std::complex<double> surface, std::vector<double>& after);
  [[nodiscard]] double left() const;

  std::vector<ChlorideStore> stores_;
  std::vector<Store> state_;
  std::vector<std::vector<double>> after_;  // v at the end of a bath while it is summed up
  Fineness fineness_;
};

}  // namespace aeruca::detail
