#pragma once

// A data set as bytes that are read without parsing, checking or reducing: what the library is built
// with was checked and reduced when it was built.

#include <string>
#include <string_view>

#include "aeruca/dataset.hpp"

namespace aeruca::detail {

/// All that stands in a data set but the records it was made from. The bytes are those of this
/// machine's numbers and are read on the machine that they are built for.
[[nodiscard]] std::string pack(const Dataset& dataset);

/// What `pack` made, ready for use; without records.
[[nodiscard]] std::shared_ptr<const Dataset> unpack_dataset(std::string_view bytes);

}  // namespace aeruca::detail
