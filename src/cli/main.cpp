#include <unistd.h>

#include <iostream>
#include <string>
#include <vector>

#include "aeruca/cli.hpp"

int main(int argc, char** argv) {
  const bool terminal = isatty(STDERR_FILENO) == 1;
  return aeruca::run_tool(std::vector<std::string>(argv + 1, argv + argc), std::cout, std::cerr, {},
                          {}, terminal ? aeruca::Audience::person : aeruca::Audience::program);
}
