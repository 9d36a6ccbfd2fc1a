#pragma once

#include <string_view>
#include <vector>

#include "dataset/read_files.hpp"

namespace aeruca::detail {

/// The files of data/ as they were when the library was built, in name order.
std::vector<NamedText> embedded_files();
/// The data set of those files, checked and reduced when the library was built
/// (`packed_dataset.hpp`).
std::string_view embedded_dataset();
/// The content hash of those files, as `load_dataset` finds it.
std::string_view embedded_hash();

}  // namespace aeruca::detail
