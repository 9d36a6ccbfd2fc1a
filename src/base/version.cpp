#include "aeruca/version.hpp"

namespace aeruca {

std::string_view version() {
  return AERUCA_VERSION;
}

}  // namespace aeruca
