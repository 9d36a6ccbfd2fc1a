#include "casefile/read_enclosure.hpp"

#include <cmath>

namespace aeruca::detail {
namespace {

constexpr Limits kTemperature{0, 50};
constexpr Limits kPercent{0, 100};
constexpr double kTiny = 1e-6;

void read_leakage(Section& section, CaseEnclosure& enclosure) {
  Enclosure& box = enclosure.box;
  box.exchange_per_day = section.number("exchange_per_day", {0, 1000}, kNotGiven);
  enclosure.exchange_uncertainty_percent =
      section.number("exchange_uncertainty_percent", {0, 200}, kNotGiven);
  enclosure.decay_test = section.text("decay_test");
  enclosure.decay_background = section.number("decay_background", {-1e9, 1e9}, kNotGiven);
  const bool test = !enclosure.decay_test.empty();
  if (test && !std::isnan(box.exchange_per_day))
    section.refuse("decay_test", "beside exchange_per_day; accepted is one of them");
  if (test && std::isnan(enclosure.decay_background))
    section.refuse("decay_test",
                   "without its value outside; accepted with decay_background beside it");
  if (!test && !std::isnan(enclosure.decay_background))
    section.refuse("decay_background", "of no test; accepted with decay_test = \"...\" beside it");
}

void read_buffers(Section& section, Enclosure& box) {
  box.gel_kg = section.number("gel_kg", {0, 1e4}, 0);
  box.gel = section.text("gel");
  box.contents_g_per_rh = section.number("contents_g_per_rh", {0, 1e6}, 0);
  box.contents_kg = section.number("contents_kg", {0, 1e6}, 0);
  box.contents_rh_percent = section.numbers("contents_rh_percent", kPercent);
  box.contents_moisture_percent = section.numbers("contents_moisture_percent", {0, 500});
}

void read_outside(Section& section, CaseEnclosure& enclosure) {
  enclosure.outside_log = section.text("outside_log");
  enclosure.outside_rh_percent = section.number("outside_rh_percent", kPercent, kNotGiven);
  enclosure.temperature_c = section.number("temperature_c", kTemperature, kNotGiven);
  enclosure.inside_temperature_c = section.number("inside_temperature_c", kTemperature, kNotGiven);
  if (enclosure.outside_log.empty()) return;
  const std::string beside = "beside outside_log; accepted is the record or a constant climate";
  if (!std::isnan(enclosure.outside_rh_percent)) section.refuse("outside_rh_percent", beside);
  if (!std::isnan(enclosure.temperature_c)) section.refuse("temperature_c", beside);
}

}  // namespace

CaseEnclosure read_enclosure(Section section) {
  CaseEnclosure enclosure;
  enclosure.given = true;
  enclosure.box.volume_m3 = section.number("volume_m3", {kTiny, 1000}, kNotGiven);
  read_leakage(section, enclosure);
  read_buffers(section, enclosure.box);
  read_outside(section, enclosure);
  enclosure.box.start_rh_percent = section.number("start_rh_percent", kPercent, kNotGiven);
  enclosure.started = section.date("started");
  enclosure.limit_rh_percent = section.number("limit_rh_percent", kPercent, kNotGiven);
  enclosure.visit_days = section.number("visit_days", {1, 36500}, kNotGiven);
  section.finish();
  return enclosure;
}

}  // namespace aeruca::detail
