// Any bytes as records or a bibliography: a data set that keeps its promises, or our own error.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "dataset/records.hpp"
#include "demand.hpp"

namespace {

using aeruca::detail::Records;

// Loaded once, and small: the whole data set takes longer to copy and reduce than any input to read.
const Records& base() {
  static const Records records = [] {
    const std::string path = AERUCA_SOURCE_DIR "/tests/fuzz/small_dataset.toml";
    Records read;
    aeruca::detail::read_toml(read, path, aeruca::detail::read_file(path), 0);
    return read;
  }();
  return records;
}

void read_records(std::string_view text) {
  auto records = std::make_shared<Records>(base());
  aeruca::detail::read_toml(*records, "fuzz", text, 1);
  const auto dataset = aeruca::detail::build_dataset(records);
  for (const aeruca::Species& species : dataset->species) {
    demand(std::isfinite(species.log10_k) && species.log10_k_uncertainty >= 0);
    demand(species.components.size() == dataset->components.size());
    demand(std::isfinite(species.molar_mass_g_per_mol));
  }
  for (const aeruca::Figure& figure : dataset->figures)
    static_cast<void>(dataset->source(figure.source));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return answer_or_refuse(data, size, [](std::string_view text) {
    if (text.substr(0, 1) == "@") {
      Records records;
      aeruca::detail::read_bibliography(records, "fuzz", text, 0);
    } else {
      read_records(text);
    }
  });
}
