#pragma once

#include <string_view>
#include <vector>

namespace aeruca::detail {

struct EmbeddedFile {
  std::string_view name;  // "species.toml"
  std::string_view text;
};

/// The files of data/ as they were when the library was built, in name order.
std::vector<EmbeddedFile> embedded_files();

}  // namespace aeruca::detail
