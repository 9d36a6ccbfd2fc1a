#pragma once

/// \file
/// How to spend time and water on what a bath log says is still inside.
///
/// Question answered: with so many more days, or so much more water, how many baths, changed when,
/// leave least; and what is the least time, or the least water, that brings what is left below a
/// target in 19 of 20 bodies that fit the log?
///
/// Worked out on the bodies of a posterior (`bath_posterior.hpp`), each carried through every scheme
/// by its own model, so that studies which found changing useless (long time, large baths) and those
/// which found it decisive (small baths) are both right where they were made. Change times are found
/// by a coordinate search, which gives a minimum near at hand, to 1 % of the time. Least time and
/// water are found to 1 %.
///
/// A temperature of the baths to come moves diffusion alone. What warmth does to metal, patina and
/// carbon dioxide is not in it, and the answer says so.

#include "aeruca/bath_decision.hpp"

namespace aeruca {

struct BathScheduleOptions {
  BathInferenceOptions inference;
  double total_days = 28;                ///< time to be spent, above 0
  double bath_l = kNotGiven;             ///< volume of each bath; NaN: as the last of the log
  double water_l = kNotGiven;            ///< all the water there is; NaN: as much as the baths take
  std::size_t baths_most = 6;            ///< 1 to 12
  double temperature_c = kNotGiven;      ///< of the baths to come, 0 to 50; NaN: as the last
  double log_temperature_c = kNotGiven;  ///< of the log, where no bath states one
  double target_left_mg = kNotGiven;
  double blank_mg_per_l = kNotGiven;  ///< NaN: as the last bath of the log
  std::size_t bodies = 80;            ///< 20 to 1000
};

struct BathScheme {
  std::vector<double> days;  ///< of each bath, in order
  double bath_l = 0;         ///< of each bath
  double water_l = 0;        ///< of all
  double total_days = 0;
  Range left_mg;                    ///< at the end
  double below_target = kNotGiven;  ///< probability; NaN without a target
};

struct BathSchedule {
  Status status = Status::converged;
  std::string message;
  std::vector<BathScheme> equal;  ///< 1 bath, 2, ... of equal length
  BathScheme best;                ///< fewest baths within 5 % of the least left, changed at best
  /// Of diffusion in the baths to come over that in the last one, by temperature (T over the viscosity
  /// of water); 1 where no other temperature is asked for
  double diffusion_speed = 1;
  double gain_of_timing_percent = 0;  ///< less left than with as many equal baths
  /// Shortest treatment by such baths that brings what is left below the target in 95 %; no days at
  /// all: not within ten times the days given
  BathScheme least_time;
  /// Least water that does so in the days given; none: no water does
  BathScheme least_water;
  std::vector<std::string> remarks;
};

/// Throws InputError for options outside their ranges; status as that of the posterior.
[[nodiscard]] BathSchedule schedule_baths(const BathLog& log,
                                          const BathScheduleOptions& options = {});

}  // namespace aeruca
