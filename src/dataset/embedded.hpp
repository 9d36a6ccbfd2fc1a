#pragma once

#include <string_view>
#include <vector>

namespace aeruca::detail {

struct EmbeddedFile {
  std::string_view name;   // "species.toml"
  std::string_view bytes;  // packed records (`document.hpp`); of the bibliography its text
};

/// The files of data/ as they were when the library was built, in name order.
std::vector<EmbeddedFile> embedded_files();
/// The content hash of those files, as `load_dataset` finds it.
std::string_view embedded_hash();

}  // namespace aeruca::detail
