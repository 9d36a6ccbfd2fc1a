// Any bytes as an amount with its unit, as an alkalinity and as a bare reading: finite figures that
// mean what was written, or our own error.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "aeruca/analysis.hpp"
#include "aeruca/errors.hpp"
#include "analysis/amount.hpp"
#include "demand.hpp"

namespace {

using aeruca::Reading;

// Loaded once, whatever is read.
const aeruca::Dataset& dataset() {
  static const std::shared_ptr<const aeruca::Dataset> whole = aeruca::default_dataset();
  return *whole;
}

bool close(double a, double b) {
  return (std::isnan(a) && std::isnan(b)) || std::abs(a - b) <= 1e-4 * std::abs(a);
}

void check_reading(const Reading& reading) {
  const bool below = !std::isnan(reading.below);
  demand(below != reading.detected());
  demand(below ? reading.below > 0 : reading.value >= 0 && std::isfinite(reading.value));
  demand(!(reading.uncertainty < 0));
  const auto again = aeruca::parse_reading(aeruca::to_string(reading));
  demand(again.has_value());
  demand(close(reading.value, again->value) && close(reading.below, again->below) &&
         close(reading.uncertainty, again->uncertainty));
}

void check_told(const aeruca::detail::Told& told, double value) {
  demand(std::isfinite(told.mol) && told.mol >= 0 && told.kg >= 0);
  demand((told.mol > 0) == (value > 0) || value < 1e-290);
}

// A unit that is accepted is one that turns into mol; one that does not is refused.
void check_unit(const aeruca::Amount& amount, const char* species) {
  const double value = amount.reading.detected() ? amount.reading.value : amount.reading.below;
  if (!(value < 1e290)) return;
  const bool accepted = aeruca::is_amount_unit(amount.unit);
  try {
    check_told(aeruca::detail::told_of(value, amount.unit, dataset().at(species), "amount"), value);
    demand(accepted);
  } catch (const aeruca::InputError&) {
    demand(!accepted || dataset().at(species).charge == 0);
  }
}

void check_alkalinity(const aeruca::Amount& amount) {
  const double value = amount.reading.detected() ? amount.reading.value : amount.reading.below;
  if (!(value < 1e290)) return;
  check_told(aeruca::detail::alkalinity_told(value, amount.unit, dataset()), value);
}

void check(std::string_view text) {
  if (const auto reading = aeruca::parse_reading(text)) check_reading(*reading);
  const auto amount = aeruca::parse_amount(text);
  if (!amount) return;
  check_reading(amount->reading);
  for (const char* species : {"Cl(-)", "Cu(2+)", "CO2(aq)"}) check_unit(*amount, species);
  check_alkalinity(*amount);
  demand(aeruca::amount_from(text, "amount").unit == amount->unit);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return answer_or_refuse(data, size, check);
}
