#pragma once

// The files of a data set, told apart by their endings, read into records.

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "dataset/records.hpp"

namespace aeruca::detail {

struct NamedText {
  std::string name;  // "species.toml", "sources.bib"
  std::string_view text;
};

/// Records of the files, with the hash of their content in the order given. Throws FileError.
[[nodiscard]] std::shared_ptr<Records> read_files(const std::vector<NamedText>& files);

}  // namespace aeruca::detail
