#include "aeruca/bath_meter.hpp"

#include <cmath>

#include "aeruca/analysis.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr double kChlorideGrams = 35.45;   // a mole
constexpr double kAirUsPerCm = 1.1;        // pure water under air at 25 degrees C
constexpr double kPerKelvin = 0.02;        // of a conductivity
constexpr double kTdsLeast = 0.5;          // mg/L a uS/cm
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

void check(const Dataset& dataset, const MeterRequest& request) {
  const auto within = [](const char* name, double value, double low, double high,
                         const char* accepted) {
    if (!std::isnan(value) && !(value >= low && value <= high))
      throw InputError(name, value, accepted);
  };
  const double most = sodium_chloride_us_per_cm(dataset, kStrongest);
  within("conductivity_us_per_cm", request.conductivity_us_per_cm, 0, most, "0 to 2150 uS/cm");
  within("tds_mg_per_l", request.tds_mg_per_l, 0, kTdsLeast * most, "0 to 1070 mg/L");
  within("temperature_c", request.temperature_c, 0, 50, "0 to 50 degrees C");
  within("blank_us_per_cm", request.blank_us_per_cm, 0, most, "0 to 2150 uS/cm");
  if (!(request.chloride_sought_mg_per_l > 0))
    throw InputError("chloride_sought_mg_per_l", request.chloride_sought_mg_per_l, "above 0");
}

}  // namespace

MeterAnswer chloride_by_meter(const Dataset& dataset, const MeterRequest& request) {
  check(dataset, request);
  const bool by_tds = !std::isnan(request.tds_mg_per_l);
  if (by_tds == !std::isnan(request.conductivity_us_per_cm))
    throw InputError("conductivity_us_per_cm", request.conductivity_us_per_cm,
                     "either a conductivity or a TDS, one of them");
  const double to_25 = 1 / (1 + kPerKelvin * (request.temperature_c - 25));
  const double shown =
      by_tds ? request.tds_mg_per_l / kTdsLeast : request.conductivity_us_per_cm * to_25;
  const double blank = std::isnan(request.blank_us_per_cm) ? 0 : request.blank_us_per_cm * to_25;
  MeterAnswer answer;
  answer.carries = true;
  answer.chloride_at_most_mg_per_l = chloride_mg_per_l(dataset, shown - blank);
  answer.floor_mg_per_l = chloride_mg_per_l(dataset, kAirUsPerCm);
  answer.sentence = say(
      std::isnan(request.blank_us_per_cm) ? "bath.meter.at_most_no_blank" : "bath.meter.at_most",
      {{"mg_per_l", format_number(answer.chloride_at_most_mg_per_l, 2)},
       {"floor_mg_per_l", format_number(answer.floor_mg_per_l, 2)}});
  return answer;
}

MeterAnswer chloride_by_meter(const std::shared_ptr<const Dataset>& dataset,
                              const MeterRequest& request, const BathMakeup& bath) {
  if (!(request.chloride_sought_mg_per_l > 0))
    throw InputError("chloride_sought_mg_per_l", request.chloride_sought_mg_per_l, "above 0");
  MeterAnswer answer;
  const Conductivity own = conductivity_of(bath_water(dataset, bath, BathAir::shut_out), *dataset);
  answer.bath_us_per_cm = own.us_per_cm;
  const double added =
      sodium_chloride_us_per_cm(*dataset, request.chloride_sought_mg_per_l / 1000 / kChlorideGrams);
  answer.change_percent = 100 * added / own.us_per_cm;
  answer.change_kelvin = answer.change_percent / 100 / kPerKelvin;
  answer.sentence =
      say("bath.meter.why_not", {{"bath_ms_per_cm", format_number(own.us_per_cm / 1000, 2)},
                                 {"mg_per_l", format_number(request.chloride_sought_mg_per_l, 3)},
                                 {"percent", format_number(answer.change_percent, 2)},
                                 {"kelvin", format_number(answer.change_kelvin, 2)}});
  return answer;
}

}  // namespace aeruca
