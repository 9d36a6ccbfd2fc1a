#pragma once

// The certificate, from the bare answer: molalities, amounts, potentials. It shares no intermediate
// result with the solver and asks the activity model again.

#include <span>

#include "aeruca/equilibrium.hpp"
#include "equilibrium/chemistry.hpp"

namespace aeruca::detail {

struct Answer {
  std::span<const double> lambda;  ///< by column
  std::span<const double> ln_molality;
  std::span<const double> molality;  ///< by chemistry species
  std::span<const std::size_t> solids;
  std::span<const double> amounts;  ///< of the solids
  bool neutral = false;             ///< the pH follows from the charge balance
};

/// Net and absolute contributions to every balance: dissolved, solid, less the total.
struct Balances {
  std::vector<double> net, absolute;
  void clear(std::size_t columns);
  void add(const double* row, double amount);
};

/// Room that is kept from call to call, and what the activity model said of the answer.
struct Inspection {
  ActivityValues values;
  std::vector<double> model_molality;
  Balances sum;
  std::vector<double> reservoirs, given;  // rows of the pinned; what each of them gave
  std::vector<std::size_t> order;
};

Certificate certify(const Chemistry& chemistry, const Activity& activity, std::size_t model_species,
                    const Answer& answer, Inspection& room);

}  // namespace aeruca::detail
