// Any bytes as records, bibliography, formula or equation: a data set that keeps its promises, or
// our own error.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"
#include "dataset/records.hpp"

namespace {

void demand(bool fine) {
  if (!fine) std::abort();
}

void read_records(std::string_view text) {
  auto records = std::make_shared<aeruca::detail::Records>(*aeruca::default_dataset()->records);
  aeruca::detail::read_toml(*records, "fuzz", text, 1);
  const auto dataset = aeruca::detail::build_dataset(records);
  for (const aeruca::Species& species : dataset->species) {
    demand(std::isfinite(species.log10_k) && species.log10_k_uncertainty >= 0);
    demand(species.components.size() == dataset->components.size());
  }
  for (const aeruca::Figure& figure : dataset->figures)
    static_cast<void>(dataset->source(figure.source));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    // The first byte says what the rest is read as.
    const std::string_view rest = text.empty() ? text : text.substr(1);
    if (text.substr(0, 1) == "@") {
      aeruca::detail::Records records;
      aeruca::detail::read_bibliography(records, "fuzz", text, 0);
    } else if (text.substr(0, 1) == "=") {
      static_cast<void>(aeruca::detail::parse_equation(rest));
    } else if (text.substr(0, 1) == "%") {
      demand(aeruca::molar_mass_g_per_mol(aeruca::parse_formula(rest)) >= 0);
    } else {
      read_records(text);
    }
  } catch (const aeruca::Error&) {
    // Refused in words: that is an answer.
  }
  return 0;
}
