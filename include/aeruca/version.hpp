#pragma once

/// \file
/// Which version of the library is this?

#include <string_view>

namespace aeruca {

/// Version of the library, "major.minor.patch"; the same in C++, Python and the tool.
[[nodiscard]] std::string_view version();

}  // namespace aeruca
