#include "source_tree.hpp"

namespace aeruca::test {

std::string source_tree() {
  return AERUCA_SOURCE_DIR;
}

}  // namespace aeruca::test
