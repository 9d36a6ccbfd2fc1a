#pragma once

// What is the same for many waters of one system that hold the same components: the rows, with the
// pinned potentials (pH, Eh, gases) taken out once, so that a group of waters is solved side by
// side (lane_kernel.hpp). Plain arrays: the kernels are compiled for other machines than the rest.

#include <cstddef>
#include <optional>
#include <vector>

#include "activity/pitzer.hpp"
#include "equilibrium/system.hpp"
#include "equilibrium/ties.hpp"

namespace aeruca::detail {

/// Larger systems are solved water by water.
inline constexpr std::size_t kMostFree = 16;
inline constexpr std::size_t kMostIons = 128;     ///< of one sign
inline constexpr std::size_t kMostSpecies = 128;  ///< under Pitzer's equations

struct LanePlan {
  std::size_t species = 0, columns = 0, free = 0, phases = 0;
  std::size_t pinned = 0;  ///< potentials held from outside: pH, Eh, gases
  std::size_t tied = 0;    ///< these, then the solids that are present

  // Where the pH follows from the charge (lane_charge.hpp); else kNone.
  std::size_t hydrogen = kNone;    ///< among the free, the last of them
  std::size_t unbalanced = kNone;  ///< column whose balance that of charge stands for
  std::vector<double> acid;        ///< (species) charge less that of the other free balances
  bool hydrogen_open = false;      ///< electrons come and go, and with them its balance is open

  // Over the free potentials lambda_f and the constants q_k of what is tied:
  //   ln activity of species i = constant + pin(i, k) q_k + reduced(i, f) lambda_f + water ln a(w)
  std::vector<double> constant;          ///< (species)
  std::vector<double> pin;               ///< (species, tied)
  std::vector<double> reduced;           ///< (species, free)
  std::vector<double> reduced_water;     ///< (species)
  std::vector<double> free_totals;       ///< (free, columns): total of a free balance
  std::vector<std::size_t> free_column;  ///< (free)
  // The tied potentials: -(pin q_k + row lambda_f + water ln a(w)).
  std::vector<std::size_t> tied_column;  ///< (tied)
  std::vector<double> tie_pin;           ///< (tied, tied)
  std::vector<double> tie_row;           ///< (tied, free)
  std::vector<double> tie_water;         ///< (tied)
  std::vector<double> gave;  ///< (tied, tied): what each gave, from the balances they open

  // As the certificate sees them: over all columns, nothing taken out.
  std::vector<double> row, row_constant, row_water;        ///< of the species
  std::vector<double> phase, phase_constant, phase_water;  ///< of the solids that may form
  std::vector<double> pinned_row;                          ///< (pinned, columns)
  std::vector<double> reservoir;      ///< (pinned, pinned): as `gave`, of the pinned alone
  std::vector<std::size_t> solids;    ///< (tied - pinned), among the phases
  std::vector<double> tied_constant;  ///< (tied - pinned): their q
  std::vector<char> electron;         ///< (columns): starts far below a mass
  std::vector<char> mass;             ///< (columns)
  /// Dissolved mol/kg by column from which a hydrate may have a second answer.
  std::vector<double> second_answer;

  std::vector<double> charge;  ///< (species)
  double law_a = 0, law_b = 0, law_c = 0;
  std::vector<std::size_t> cations, anions;  ///< with interaction coefficients
  std::vector<double> interaction;           ///< (cations, anions), natural logarithm, kg/mol
  PitzerTable pitzer;                        ///< empty under the other models

  /// Doubles of scratch that a kernel of `width` lanes needs.
  [[nodiscard]] std::size_t scratch(std::size_t width) const;
  [[nodiscard]] struct LaneView view() const;
};

/// The same for a kernel, which knows no class of the standard library: an inline function of one,
/// compiled for a wide machine, could take the place of the narrow one in the whole program.
/// Filled as a whole by LanePlan::view.
struct LaneView {  // NOLINT(cppcoreguidelines-pro-type-member-init)
  std::size_t species, columns, free, phases, pinned, tied, cation_count, anion_count;
  std::size_t hydrogen, unbalanced;
  bool hydrogen_open;
  const double *constant, *pin, *reduced, *reduced_water, *free_totals;
  const std::size_t *free_column, *tied_column, *solids, *cations, *anions;
  const double *tie_pin, *tie_row, *tie_water, *gave;
  const double *row, *row_constant, *row_water, *phase, *phase_constant, *phase_water;
  const double* acid;
  const double *pinned_row, *reservoir, *second_answer, *charge, *interaction;
  const char *electron, *mass;
  double law_a, law_b, law_c;
  PitzerView pitzer;
};

/// The plan of all waters that hold the components of this one, with these solids present; each
/// gives its balance to the component that `ties` chose. Nothing where lanes do not serve: a system
/// too large.
[[nodiscard]] std::optional<LanePlan> make_lane_plan(const WaterSystem& system, const Water& water,
                                                     const Ties& ties);

/// What became of a water in its group.
enum LaneOutcome : int {
  kAlone = 0,     ///< to be solved alone: something other than the usual way is needed
  kHeld = 1,      ///< certified, and the only answer
  kAddSolid = 2,  ///< `solid` is the one to form
  kDropSolid = 3  ///< `solid` is the one of which there is none
};

/// A group of waters side by side. Arrays of figures by lane, the lane running fastest.
struct LaneWaters {
  const double* totals;    ///< (columns, lanes) mol/kg
  const double* tied;      ///< (tied, lanes) the constants q
  const double* start;     ///< (columns, lanes) potentials to start from; null: from nothing
  double* ln_molality;     ///< (species, lanes)
  double* lambda;          ///< (columns, lanes)
  double* amount;          ///< (solids, lanes) mol/kg
  double* ln_water;        ///< (lanes) ln a(w)
  double* ionic_strength;  ///< (lanes) mol/kg
  double* outcome;         ///< (lanes) LaneOutcome
  double* solid;           ///< (lanes) among the phases
};

/// How many waters a kernel takes, and the kernel.
struct LaneKernel {
  std::size_t width;
  const char* machine;  ///< what it asks of the processor
  void (*solve)(const LaneView& plan, const LaneWaters& waters, double* scratch);
};

/// Those that this machine can run, the widest last.
[[nodiscard]] const std::vector<LaneKernel>& lane_kernels();

}  // namespace aeruca::detail
