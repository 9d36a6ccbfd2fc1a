#pragma once

/// \file
/// How humid does it become in a box, a bag or a display case, when must the gel be changed, and
/// how much of it is needed?
///
/// Words.
///   exchange   air that comes in from outside, in volumes of the enclosure a day
///   gel        silica gel; its isotherm says how much water X (kg per kg dry) it holds at a humidity
///   contents   hygroscopic things inside, by the water they take up for a percent of humidity, or by
///              points of a moisture isotherm of one's own (no source of one is in the data set)
///   climate    temperature and humidity outside: constant, or a record in which each reading holds
///              for half the interval to each neighbour
///
/// Water of the enclosure (h: humidity as a fraction; rho_s: saturated vapour, kg/m3, from
/// `saturation_pressure_pa` and the ideal gas law, which is 0.2 % from that of steam tables):
///   w(h, T)  = h rho_s(T) + (m / V) X(h, T) + C(h) / V                                     (eq 1)
///   dw/dt    = N [h_out rho_s(T_out) - h rho_s(T)]                                         (eq 2)
/// When the temperature changes, w stays and h follows from eq 1. Between two changes of the climate
/// h goes to its goal g = h_out rho_s(T_out) / rho_s(T) with the rate N rho_s / (dw/dh); each step
/// is exact for a straight isotherm and shortened until the bend of the isotherm changes it by less
/// than 1e-5 (0.001 % RH). Against an independent integration: within 0.005 % RH over a year.
///
/// Closed forms that hold: nothing inside takes up water, half-time ln 2 / N; a straight isotherm,
/// ln 2 (1 + B) / N with B the water taken up by gel and contents over that of the air. Constant
/// climate: the mass of gel for a time is proportional to the volume and, nearly, to N.
///
/// What is assumed, and said in every answer. The air inside is mixed; gel and contents are in
/// equilibrium with it at once (no diffusion in a bed or an object: a thick bed reacts later); gel
/// and air have one temperature. The isotherms found are of adsorption, of ordinary narrow-pore gel:
/// no desorption branch and no gel of intermediate density was found: hysteresis is not known. Where
/// the gel dries (the mean outside is drier than the start, or the humidity falls by more than 2 %
/// RH below its highest), the draws are widened by 30 % in its capacity, our own working rule. With temperature X changes only as the
/// equation of its source says (by the potential R T ln(1/h) of Dubinin; not at all for Freundlich).
///
/// Ranges. 5 to 95 % of seeded draws over exchange (log-normal), outside humidity, start humidity
/// and temperature (normal, outside humidity kept within 0 to 100), and the isotherm: any of the
/// published ones, equally likely, when no gel is named (kind not known), and its capacity by the mean deviation that
/// its source states (17 % as a standard deviation where it states none). The figure itself is that
/// of the values given and of the gel named, else of Thu et al. 2013. The moisture of the contents
/// is taken as given. All other spreads have defaults that are our own rule, and say so.
///
/// Validity. 0 to 50 degrees C; the humidity inside within the range of the isotherm (5.6 to 95 %
/// where stated; else 5 to 95, our own rule), else below 100; beyond it the forecast ends there with
/// a status and a reason.

#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <vector>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/logger.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

/// A published isotherm of a silica gel.
struct GelIsotherm {
  std::string id;                  ///< "thu-2013"
  std::string title;               ///< of the gel
  std::string form;                ///< "dubinin_astakhov", "dubinin_arctan", "freundlich"
  std::vector<double> parameters;  ///< in the order of the equations in data/README.md
  double low_rh_percent = 5;       ///< range; see Validity
  double high_rh_percent = 95;
  double capacity_sd = 0.17;  ///< standard deviation of its capacity, relative
  std::string source;
};

/// All gels of the data set.
[[nodiscard]] std::vector<GelIsotherm> gel_isotherms(const Dataset& dataset);
/// The one of this id. Throws UnknownName.
[[nodiscard]] GelIsotherm gel_isotherm(const Dataset& dataset, std::string_view id);
/// Water on the gel (kg per kg dry). `rh_percent` within its range, `temperature_c` 0 to 50: else
/// InputError. NaN in, NaN out.
[[nodiscard]] double gel_water(const GelIsotherm& gel, double rh_percent,
                               double temperature_c = 25);

/// A box, a bag or a case, and what is in it.
struct Enclosure {
  double volume_m3 = kNotGiven;         ///< of air (above 0, up to 1000)
  double exchange_per_day = kNotGiven;  ///< (0 to 1000)
  double gel_kg = 0;                    ///< dry mass (0 to 10000)
  std::string gel;                      ///< id of its isotherm; empty: kind not known
  double contents_g_per_rh = 0;         ///< taken up by the contents, g per % RH (0 to 1e6)
  double start_rh_percent = kNotGiven;  ///< of air, gel and contents
  /// In place of `contents_g_per_rh`: dry mass of the contents (0 to 1e6), and their moisture, g per
  /// 100 g dry (0 to 500, none below the one before), at rising humidities: a monotone cubic between
  double contents_kg = 0;
  std::vector<double> contents_rh_percent, contents_moisture_percent;
};

/// What is outside, piece by piece.
struct Climate {
  std::vector<double> until_days;     ///< end of each piece; the last of a constant one: infinite
  std::vector<double> temperature_c;  ///< outside (0 to 50)
  std::vector<double> rh_percent;     ///< outside (0 to 100)
  double inside_temperature_c = kNotGiven;  ///< not given: as outside
  std::int64_t start_s = 0;                 ///< time of the first reading of a record
  double gap_days = 0;                      ///< time in gaps, taken as the readings beside them
  [[nodiscard]] bool constant() const { return until_days.size() == 1; }
};
/// Throws InputError outside 0 to 50 degrees C, 0 to 100 % RH.
[[nodiscard]] Climate constant_climate(double temperature_c, double rh_percent);
/// From a record with a temperature for every reading. Humidity above 100 (within the tolerance of
/// reading) counts as 100. Throws InputError.
[[nodiscard]] Climate climate_of(const LoggerRecord& record);
/// The same climate from another date on, where it is a record of 360 days or more: its first 365
/// days are taken to come again each year, so that a forecast from a date has the season of that
/// date. Else as it is.
[[nodiscard]] Climate climate_from(const Climate& climate, std::int64_t start_s);

struct EnclosureOptions {
  double limit_rh_percent = kNotGiven;  ///< above the start; not given: no days, no mass
  double days = 365;  ///< of the curve, and between two visits (above 0, to 36500)
  // Standard deviations; the defaults are our own rule.
  double exchange_relative_sd = 0.25;  ///< of the exchange (0 to 2)
  double outside_rh_sd = 1.7;          ///< % RH (0 to 20): a sensor of plus-minus 3, uniform
  double start_rh_sd = 2;              ///< % RH (0 to 20)
  double temperature_sd = 1;           ///< K (0 to 5)
  std::size_t draws = 200;             ///< (0 to 10000); 0: no ranges
  std::uint64_t seed = 1;
  int threads = 0;  ///< 0: as many as the machine has; the answer does not depend on it
};

/// A figure with its range; infinite: never.
struct DrawnFigure {
  double value = kNotGiven, low = kNotGiven, high = kNotGiven;
};

/// What one isotherm says.
struct GelOutcome {
  std::string id;
  double days_to_limit = kNotGiven;
  double gel_for_visit_kg = kNotGiven;
};

struct EnclosureForecast {
  /// no_parameters: the humidity leaves the range of the isotherm, or water condenses; the curve
  /// ends there
  Status status = Status::converged;
  std::string message;             ///< why there is no more, or why the limit is never reached
  std::vector<double> days;        ///< of the curve, from 0
  std::vector<double> rh_percent;  ///< inside
  std::vector<double> low_rh_percent, high_rh_percent;  ///< its range
  double half_time_days = kNotGiven;                    ///< of the air alone: ln 2 / N
  double buffered_half_time_days =
      kNotGiven;              ///< with gel and contents, as straight as at the start
  DrawnFigure days_to_limit;  ///< infinite: not within what was looked at
  double days_to_limit_half_exchange = kNotGiven;  ///< the same with half the exchange
  DrawnFigure gel_for_visit_kg;                    ///< dry gel that keeps to the limit for `days`
  double gel_for_visit_half_exchange_kg = kNotGiven;
  /// Share of the draws in which the limit is reached within `days`, or which could not be followed
  /// so far
  double probability_reached = kNotGiven;
  /// Days after which 5 % of the draws have passed the limit, and 50 %; a draw counts as passed where
  /// it could not be followed further; infinite: not within what was looked at; NaN without draws
  double days_unattended = kNotGiven, days_half_passed = kNotGiven;
  std::vector<GelOutcome> by_gel;  ///< by each isotherm, where no gel is named and there is a limit
  std::vector<std::string> assumptions;  ///< what the reader must know
  Enclosure enclosure;
  EnclosureOptions options;
};

/// Throws InputError for a volume not above 0, an exchange below 0, an impossible figure, a start
/// outside the range of the isotherm or not below the limit, and for a record shorter than `days`;
/// UnknownName for a gel.
[[nodiscard]] EnclosureForecast forecast_enclosure(const Dataset& dataset,
                                                   const Enclosure& enclosure,
                                                   const Climate& climate,
                                                   const EnclosureOptions& options = {});

/// Exchange found in measurements.
struct ExchangeFit {
  Status status = Status::converged;  ///< infeasible: the readings cannot tell
  std::string message;
  double exchange_per_day = kNotGiven;
  double relative_sd = kNotGiven;                            ///< standard error over the value
  double low_per_day = kNotGiven, high_per_day = kNotGiven;  ///< 95 %
  double residual_sd = kNotGiven;  ///< of the readings about the curve, in their unit
  std::size_t readings = 0;
};

/// Readings of a decay test.
struct DecayReadings {
  std::vector<double> hours, values;
};
/// From a file with a line of two numbers for each: hours, value; comma, semicolon or tab between
/// them, blank lines and those that begin with # passed over, and a first line of names. Throws
/// FileError.
[[nodiscard]] DecayReadings read_decay(const std::string& path);

/// Points of a moisture isotherm: % RH, and g of water per 100 g dry.
struct MoisturePoints {
  std::vector<double> rh_percent, moisture_percent;
};
/// From a file of the same form: % RH, moisture. Throws FileError.
[[nodiscard]] MoisturePoints read_moisture(const std::string& path);

/// From the decay of a tracer such as CO2 in the unit of `background`, or of the humidity in an empty
/// box at one temperature: c = background + c0 exp(-N t), least squares over N and c0. No
/// answer (infeasible) where the standard error exceeds half the value. Throws InputError for fewer than 4
/// readings, times that do not increase, and values that are no numbers.
[[nodiscard]] ExchangeFit fit_decay(std::span<const double> hours, std::span<const double> values,
                                    double background);
[[nodiscard]] inline ExchangeFit fit_decay(const DecayReadings& readings, double background) {
  return fit_decay(readings.hours, readings.values, background);
}

/// From a record inside and one outside over the same time, with the gel and the contents given in
/// `enclosure` (its exchange and start are not used): least squares over exchange and start; the
/// error widened for readings that follow each other (first-order autocorrelation). Throws
/// InputError when the records overlap by fewer than 24 readings inside.
[[nodiscard]] ExchangeFit fit_exchange(const Dataset& dataset, const Enclosure& enclosure,
                                       const LoggerRecord& inside, const LoggerRecord& outside);

}  // namespace aeruca
