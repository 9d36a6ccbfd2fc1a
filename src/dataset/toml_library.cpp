// The TOML library itself, compiled once; elsewhere its headers only declare (TOML_HEADER_ONLY=0).

#define TOML_IMPLEMENTATION
#include <toml++/toml.h>
