#pragma once

/// \file
/// What a conductivity meter or a TDS pen says of chloride in a bath, and where it says nothing.
///
/// A meter counts every ion. In deionised water what it shows above the fresh bath is at most so
/// much chloride as sodium chloride would conduct alike: other salts make it less, never more by
/// more than a tenth (sodium is nearly the slowest common cation). With L. Onsager's law,
///   conductivity = 1000 (L0 - (60.2 + 0.229 L0) sqrt(c)) c,
/// uS/cm and mol/L, L0 = 126.4 S cm2/mol for sodium chloride from the limiting ionic conductivities
/// of the data set; his coefficients at 25 degrees C are recalled. Within 1 % of the published
/// conductivities of sodium chloride up to 0.01 mol/L.
///
/// | figure                 | uncertainty                                                       |
/// |------------------------|-------------------------------------------------------------------|
/// | chloride, at most      | 10 % beside that of the meter                                     |
/// | floor                  | carbon dioxide of the air alone: 1.1 uS/cm (common figure)        |
/// | a meter not corrected  | 2 % a kelvin towards 25 degrees C (common practice), 0.2 % left   |
/// | TDS                    | makers count 0.5 to 0.7 mg/L a uS/cm: a range of conductivities   |
/// | the meter itself       | as stated, of the reading and of the blank alike, added up        |
///
/// The range of the answer is what all of these leave when they stand at the same end. A TDS pen
/// that does not correct reads low in the cold like any meter.
///
/// In a bath of soda or hydroxide the salt of the bath conducts thousands of times more: the answer
/// is the sentence why not, with the numbers. Of a bath too strong for its conductivity to be
/// computed it is that of the strongest that can be.

#include <memory>
#include <string>

#include "aeruca/bath_chemistry.hpp"

namespace aeruca {

struct MeterRequest {
  double conductivity_us_per_cm = kNotGiven;  ///< of the bath, at 25 degrees C 0 to 2275
  double tds_mg_per_l = kNotGiven;            ///< in its place
  double temperature_c = 25;                  ///< of a meter or pen that does not correct; 0 to 50
  double blank_us_per_cm = kNotGiven;         ///< of the fresh bath; NaN: not known
  double chloride_sought_mg_per_l = 10;  ///< for which a bath of soda is judged, above 0 to 709
  /// Of the meter, plus or minus, as its maker states it; NaN: not stated. They add up.
  double error_us_per_cm = kNotGiven;  ///< 0 to 500; not of a TDS pen
  double error_percent = kNotGiven;    ///< of each reading, 0 to 50
};

struct MeterAnswer {
  bool carries = false;                          ///< the meter says something of chloride
  double chloride_at_most_mg_per_l = kNotGiven;  ///< with what the blank is known
  double chloride_low_mg_per_l = kNotGiven;      ///< that bound may lie so low ...
  double chloride_high_mg_per_l = kNotGiven;     ///< ... and so high: no more than this
  double floor_mg_per_l = kNotGiven;             ///< what the air alone would look like
  double bath_us_per_cm = kNotGiven;  ///< of the bath's own salt, as such a meter shows it
  double change_percent = kNotGiven;  ///< of that, by the chloride sought
  double change_kelvin = kNotGiven;   ///< the warming that looks the same
  std::string sentence;
};

/// In deionised water. A reading under its blank gives no figure and a sentence. Throws InputError
/// for numbers outside their ranges, readings that reach beyond the law at their temperature, and
/// both or neither of conductivity and TDS.
[[nodiscard]] MeterAnswer chloride_by_meter(const Dataset& dataset, const MeterRequest& request);

/// In a bath of a salt: why not. Throws as `bath_water` and as above, and for a reading, a blank or
/// an error of the meter, which say nothing there.
[[nodiscard]] MeterAnswer chloride_by_meter(const std::shared_ptr<const Dataset>& dataset,
                                            const MeterRequest& request, const BathMakeup& bath);

}  // namespace aeruca
