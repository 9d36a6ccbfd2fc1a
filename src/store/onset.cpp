#include "aeruca/errors.hpp"
#include "aeruca/store.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

// Limits that do not change with temperature still need one.
constexpr double kAnyTemperature = 20;

}  // namespace

OnsetCurve onset_curve(const OnsetBand& band) {
  return {band.id,
          band.title,
          band.source,
          {kAnyTemperature},
          {band.low_rh_percent},
          {band.high_rh_percent},
          kNotGiven};
}

OnsetCurve onset_curve(double limit_rh_percent) {
  if (!(limit_rh_percent >= 0 && limit_rh_percent <= 100)) {
    throw InputError("limit_rh_percent", limit_rh_percent, "0 to 100 % RH");
  }
  return {detail::say("store.own_limit.id",
                      {{"rh_percent", detail::format_number(limit_rh_percent, 4)}}),
          detail::say("store.own_limit.title"),
          "",
          {kAnyTemperature},
          {limit_rh_percent},
          {limit_rh_percent},
          kNotGiven};
}

OnsetCurve published_onset(const Dataset& dataset, std::string_view id) {
  if (!id.empty()) return onset_curve(dataset.onset_band(id));
  for (const OnsetBand& band : dataset.onset_bands) {
    if (band.chosen) return onset_curve(band);
  }
  throw UnknownName("chosen onset band", "", "");
}

std::string_view to_string(AccuracyMeaning meaning) {
  return meaning == AccuracyMeaning::uniform ? "uniform" : "normal_95";
}

AccuracyMeaning accuracy_meaning(std::string_view word) {
  if (word == "uniform") return AccuracyMeaning::uniform;
  if (word == "normal_95") return AccuracyMeaning::normal_95;
  throw InputError("accuracy_meaning", std::string(word), "uniform or normal_95");
}

}  // namespace aeruca
