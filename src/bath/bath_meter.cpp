#include "aeruca/bath_meter.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/analysis.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr double kChlorideGrams = 35.45;    // a mole
constexpr double kAirUsPerCm = 1.1;         // pure water under air at 25 degrees C
constexpr double kPerKelvin = 0.02;         // of a conductivity
constexpr double kPerKelvinUnsure = 0.002;  // of that
constexpr double kTdsLeast = 0.5;           // mg/L a uS/cm
constexpr double kTdsMost = 0.7;
constexpr double kOtherSalts = 0.1;        // of the chloride: another cation, and the law
constexpr double kOnsagerConstant = 60.2;  // 25 degrees C
constexpr double kOnsagerRatio = 0.229;
constexpr double kStrongest = 0.02;  // mol/L to which the law is taken

double limiting(const Dataset& dataset) {
  return dataset.figure("conductivity-Na(+)").value + dataset.figure("conductivity-Cl(-)").value;
}

double sodium_chloride_us_per_cm(const Dataset& dataset, double mol_per_l) {
  const double at_rest = limiting(dataset);
  return 1000 * (at_rest - (kOnsagerConstant + kOnsagerRatio * at_rest) * std::sqrt(mol_per_l)) *
         mol_per_l;
}

// The strength that conducts so well, by bisection: the law rises throughout its range.
double mol_per_l_of(const Dataset& dataset, double us_per_cm) {
  double low = 0;
  double high = kStrongest;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (sodium_chloride_us_per_cm(dataset, middle) < us_per_cm ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

double chloride_mg_per_l(const Dataset& dataset, double us_per_cm) {
  return us_per_cm <= 0 ? 0 : 1000 * kChlorideGrams * mol_per_l_of(dataset, us_per_cm);
}

double or_zero(double value) {
  return std::isnan(value) ? 0 : value;
}

// What a reading at this temperature is multiplied by to be that of 25 degrees C.
struct Correction {
  double usual, low, high;
};

Correction to_25(double temperature_c) {
  const double away = temperature_c - 25;
  const double one = 1 / (1 + (kPerKelvin - kPerKelvinUnsure) * away);
  const double other = 1 / (1 + (kPerKelvin + kPerKelvinUnsure) * away);
  return {1 / (1 + kPerKelvin * away), std::min(one, other), std::max(one, other)};
}

void want(bool met, const char* parameter, double value, const std::string& accepted) {
  if (!met) throw InputError(parameter, value, accepted);
}

void check_range(const char* parameter, double value, double most, const std::string& unit) {
  if (std::isnan(value)) return;
  want(value >= 0 && value <= most, parameter, value,
       "0 to " + format_number(std::floor(most)) + unit);
}

void check_either_way(const MeterRequest& request) {
  want(request.temperature_c >= 0 && request.temperature_c <= 50, "temperature_c",
       request.temperature_c, "0 to 50 degrees C");
  const double most = 1000 * kChlorideGrams * kStrongest;
  want(request.chloride_sought_mg_per_l > 0 && request.chloride_sought_mg_per_l <= most,
       "chloride_sought_mg_per_l", request.chloride_sought_mg_per_l,
       "above 0 to " + format_number(most) + " mg/L, as far as the law of conductivity is taken");
}

void check_readings(const Dataset& dataset, const MeterRequest& request) {
  const bool by_tds = !std::isnan(request.tds_mg_per_l);
  if (by_tds != std::isnan(request.conductivity_us_per_cm))
    throw InputError("conductivity_us_per_cm, tds_mg_per_l", by_tds ? "both" : "nothing",
                     "either a conductivity or a TDS, one of them");
  check_range("error_us_per_cm", request.error_us_per_cm, 500, " uS/cm");
  check_range("error_percent", request.error_percent, 50, " %");
  want(!by_tds || std::isnan(request.error_us_per_cm), "error_us_per_cm", request.error_us_per_cm,
       "nothing beside a TDS: give its error in percent");
  // At its far end a reading may not reach beyond the law.
  const double shown =
      sodium_chloride_us_per_cm(dataset, kStrongest) / to_25(request.temperature_c).high;
  const double most =
      (shown - or_zero(request.error_us_per_cm)) / (1 + or_zero(request.error_percent) / 100);
  const std::string celsius = format_number(request.temperature_c);
  check_range("conductivity_us_per_cm", request.conductivity_us_per_cm, most,
              " uS/cm at " + celsius + " degrees C");
  check_range("tds_mg_per_l", request.tds_mg_per_l, kTdsLeast * most,
              " mg/L at " + celsius + " degrees C");
  check_range("blank_us_per_cm", request.blank_us_per_cm, most,
              " uS/cm at " + celsius + " degrees C");
}

// What the meter shows above the blank, brought to 25 degrees C (uS/cm).
struct AboveBlank {
  double usual, low, high;
};

AboveBlank above_blank(const MeterRequest& request) {
  const bool by_tds = !std::isnan(request.tds_mg_per_l);
  const double most = by_tds ? request.tds_mg_per_l / kTdsLeast : request.conductivity_us_per_cm;
  const double least = by_tds ? request.tds_mg_per_l / kTdsMost : most;
  const double blank = or_zero(request.blank_us_per_cm);
  const auto error_of = [&](double reading) {
    return or_zero(request.error_us_per_cm) + or_zero(request.error_percent) / 100 * reading;
  };
  const double of_blank = std::isnan(request.blank_us_per_cm) ? 0 : error_of(blank);
  const Correction factor = to_25(request.temperature_c);
  const double low = least - error_of(least) - blank - of_blank;
  const double high = most + error_of(most) - blank + of_blank;
  return {(most - blank) * factor.usual, low * (low < 0 ? factor.high : factor.low),
          high * (high < 0 ? factor.low : factor.high)};
}

std::string at_most_sentence(const MeterRequest& request, const MeterAnswer& answer) {
  const bool no_blank = std::isnan(request.blank_us_per_cm);
  const bool no_error = std::isnan(request.error_us_per_cm) && std::isnan(request.error_percent);
  return say(no_blank ? "bath.meter.at_most_no_blank" : "bath.meter.at_most",
             {{"mg_per_l", format_number(answer.chloride_at_most_mg_per_l, 2)},
              {"low_mg_per_l", format_number(answer.chloride_low_mg_per_l, 2)},
              {"high_mg_per_l", format_number(answer.chloride_high_mg_per_l, 2)},
              {"floor_mg_per_l", format_number(answer.floor_mg_per_l, 2)}}) +
         say(no_error ? "bath.meter.error_not_stated" : "bath.meter.error_counted");
}

void refuse_readings(const MeterRequest& request) {
  const auto refuse = [](const char* parameter, double value) {
    want(std::isnan(value), parameter, value,
         "nothing beside a salt, for in such a bath a meter says nothing of chloride");
  };
  refuse("conductivity_us_per_cm", request.conductivity_us_per_cm);
  refuse("tds_mg_per_l", request.tds_mg_per_l);
  refuse("blank_us_per_cm", request.blank_us_per_cm);
  refuse("error_us_per_cm", request.error_us_per_cm);
  refuse("error_percent", request.error_percent);
}

// Of the bath, or of the strongest of its salt whose conductivity can be computed.
Conductivity computed(const std::shared_ptr<const Dataset>& dataset, BathMakeup& bath) {
  for (;;) {
    Conductivity own = conductivity_of(bath_water(dataset, bath, BathAir::shut_out), *dataset);
    if (!std::isnan(own.us_per_cm) || bath.mol_per_l < kStrongest) return own;
    bath.mol_per_l /= 2;
  }
}

}  // namespace

MeterAnswer chloride_by_meter(const Dataset& dataset, const MeterRequest& request) {
  check_either_way(request);
  check_readings(dataset, request);
  const AboveBlank above = above_blank(request);
  MeterAnswer answer;
  answer.floor_mg_per_l = chloride_mg_per_l(dataset, kAirUsPerCm);
  if (above.usual < 0 && above.high < 0) {
    answer.sentence =
        say("bath.meter.under_blank", {{"us_per_cm", format_number(-above.usual, 2)}});
    return answer;
  }
  answer.carries = true;
  answer.chloride_high_mg_per_l = (1 + kOtherSalts) * chloride_mg_per_l(dataset, above.high);
  answer.chloride_low_mg_per_l = (1 - kOtherSalts) * chloride_mg_per_l(dataset, above.low);
  // A reading within the meter's error of its blank bounds chloride by that error.
  answer.chloride_at_most_mg_per_l =
      above.usual < 0 ? answer.chloride_high_mg_per_l : chloride_mg_per_l(dataset, above.usual);
  answer.sentence = at_most_sentence(request, answer);
  return answer;
}

MeterAnswer chloride_by_meter(const std::shared_ptr<const Dataset>& dataset,
                              const MeterRequest& request, const BathMakeup& bath) {
  check_either_way(request);
  refuse_readings(request);
  BathMakeup weaker = bath;
  const Conductivity own = computed(dataset, weaker);
  const double added =
      sodium_chloride_us_per_cm(*dataset, request.chloride_sought_mg_per_l / 1000 / kChlorideGrams);
  // Bath and chloride warm alike: only what the meter shows, and the kelvin, go by the temperature.
  const double shown = own.us_per_cm / to_25(request.temperature_c).usual;
  MeterAnswer answer;
  answer.change_percent = 100 * added / own.us_per_cm;
  answer.change_kelvin =
      answer.change_percent / 100 / (kPerKelvin * to_25(request.temperature_c).usual);
  const std::string ms_per_cm = format_number(shown / 1000, 2);
  const std::string sought = format_number(request.chloride_sought_mg_per_l, 3);
  const std::string percent = format_number(answer.change_percent, 2);
  const std::string kelvin = format_number(answer.change_kelvin, 2);
  if (weaker.mol_per_l < bath.mol_per_l) {
    answer.sentence =
        say("bath.meter.too_strong", {{"mol_per_l", format_number(weaker.mol_per_l, 2)},
                                      {"bath_ms_per_cm", ms_per_cm},
                                      {"mg_per_l", sought},
                                      {"percent", percent},
                                      {"kelvin", kelvin}});
    return answer;
  }
  answer.bath_us_per_cm = shown;
  answer.sentence = say("bath.meter.why_not", {{"bath_ms_per_cm", ms_per_cm},
                                               {"mg_per_l", sought},
                                               {"percent", percent},
                                               {"kelvin", kelvin}});
  return answer;
}

}  // namespace aeruca
