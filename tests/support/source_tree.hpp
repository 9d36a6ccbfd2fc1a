#pragma once

// Where the files are that tests read. The path stands in one object, so that the others are the same
// wherever the sources are.

#include <string>

namespace aeruca::test {

/// The top of the source tree.
[[nodiscard]] std::string source_tree();

}  // namespace aeruca::test
