#pragma once

/// \file
/// How far the constants let a water be known: the same water solved again and again with constants
/// drawn at random from what was published of them. Out come a range on every figure, how probable
/// each solid is, and which constants carry the doubt: what to read in print first.
///
/// Words. A *draw*: one value for every figure of the data set on which log10 K of a species, solid
/// or gas of this water rests, and the water solved with what follows. *Undrawn*: the answer with
/// the constants as they are. Two doubts are told apart:
///   as stated     each figure from a normal distribution about its value, with the standard
///                 uncertainty that its source states;
///   as published  besides, any of the figures that were published for the same reaction at the
///                 same conditions in place of the chosen one, each with equal chance, about its own
///                 value with its own uncertainty (where none is stated, that of the chosen one).
/// Constants that rest on one figure move together. A figure without a stated uncertainty and
/// without another beside it counts as exact, and `exact` names it.
///
/// Not in it: the activity model and its parameters, the readings of the analysis (see
/// SolvedWater::index_uncertainty), species that nobody has found, rates. A certificate proves the
/// equations of each draw, not its constants.
///
/// Each draw is solved from nothing as `solve` does it, titration and charge included, so draw
/// n is the same whatever the number of draws and of threads, to the last bit. A draw without an
/// answer is counted and left out.
///
/// How sure a range is. Of n draws with an answer a share p has a standard error of
///   sqrt(p' (1 - p') / (n + 4)),  p' = (p n + 2) / (n + 4)
/// (Agresti and Coull 1998, Am. Stat. 52, 119, whose p' is never 0 or 1). A percentile of 1000
/// draws of a normal distribution is off by 0.04 (50 %), 0.05 (16, 84 %) and 0.08 (2.5, 97.5 %) of
/// its standard deviation; with n draws by sqrt(1000 / n) times that.
///
/// What a constant carries: the square of the linear correlation between a figure of the data set
/// and a figure of the water over the draws as published, the share of the variance that is lost
/// when that one is known, as far as answers are linear in it. Shares of independent figures add up
/// to 1 where answers are linear. One below 12 / n cannot be told from 0 (chance would reach
/// it once in 2000 figures) and is left out.
///
/// Speed: 10 to 40 microseconds a draw and doubt, more with a titration or with the pH from the
/// charge; 10 000 draws of both take about a second.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "aeruca/analysis.hpp"
#include "aeruca/provenance.hpp"

namespace aeruca {

/// Which spreads are worked out; each costs its own solutions.
enum class Spreads { both, as_published };

/// How constants are drawn.
struct DrawOptions {
  int draws = 1000;        ///< of each doubt; 100 to 100 000
  std::uint64_t seed = 1;  ///< the same seed, the same draws
  int threads = 0;         ///< 0: as many as the machine has; to 256
  Spreads spreads = Spreads::both;
};

/// Where the draws of one figure lie. NaN where no draw has an answer, or none was asked for.
struct Spread {
  double percentile_2_5 = kNotGiven;
  double percentile_16 = kNotGiven;
  double median = kNotGiven;
  double percentile_84 = kNotGiven;
  double percentile_97_5 = kNotGiven;
};

/// A constant that carries doubt.
struct DoubtCarrier {
  std::string figure;           ///< id in the data set
  std::string subject;          ///< the reaction it speaks of
  double share = 0;             ///< of the variance, 0 to 1
  double share_error = 0;       ///< standard error of that, from the number of draws
  double uncertainty = 0;       ///< as stated, in the unit of the figure; NaN: not stated
  int others = 0;               ///< other published figures for it
  std::string source;           ///< key of a Source
  Basis basis = Basis::memory;  ///< whether it was read in its source
};

/// One figure of a water and how far the constants let it be known.
struct FigureRange {
  std::string name;     ///< species, element, solid or gas; "ph" ...
  double undrawn = 0;   ///< with the constants as they are
  Spread as_stated;     ///< constants within their stated uncertainties
  Spread as_published;  ///< and other published figures in place of the chosen ones
  /// The three constants that carry most of it, the first the most; fewer where no others do
  std::vector<DoubtCarrier> carried_by;
};

/// A probability from draws.
struct DrawnChance {
  double probability = kNotGiven;     ///< 0 to 1
  double standard_error = kNotGiven;  ///< of it
};

/// How probable it is that a solid forms or, where it is not allowed to, that it may: its
/// saturation index is above 0.
struct SolidChance {
  std::string name;
  bool allowed = false;  ///< to form
  DrawnChance as_stated, as_published;
};

/// One water and how far the constants let it be known.
struct WaterRanges {
  std::string message;  ///< why there are none; empty when all is well
  int draws = 0;
  std::uint64_t seed = 0;
  int unanswered_as_stated = 0;  ///< draws without an answer, which are left out
  int unanswered_as_published = 0;
  std::optional<FigureRange> ph;              ///< where it follows from the charge
  std::optional<FigureRange> eh_v;            ///< V, where it follows from oxygen or totals
  FigureRange ionic_strength;                 ///< mol/kg
  std::vector<FigureRange> log10_dissolved;   ///< mol/kg of each element, all its forms
  std::vector<FigureRange> log10_molality;    ///< mol/kg of each species
  std::vector<FigureRange> saturation_index;  ///< of each solid
  std::vector<FigureRange> solid_mol_per_kg;  ///< of the solids that form undrawn
  std::vector<FigureRange> log10_fugacity;    ///< bar, of each gas
  std::vector<SolidChance> solids;            ///< every one with an index
  std::vector<std::string> exact;             ///< ids of figures that count as exact
};

/// Of a water that was solved; without an answer it has `message` and nothing else. Throws
/// InputError for options out of range.
[[nodiscard]] WaterRanges ranges_of(const SolvedWater& solved,
                                    const std::shared_ptr<const Dataset>& dataset,
                                    const DrawOptions& options = {});
/// Of a water as `Equilibrium::solve` takes it, whose errors it throws.
[[nodiscard]] WaterRanges ranges_of(const EquilibriumInput& input, const EquilibriumOptions& system,
                                    const std::shared_ptr<const Dataset>& dataset,
                                    const DrawOptions& options = {});

}  // namespace aeruca
