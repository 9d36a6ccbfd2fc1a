#include <iostream>
#include <string>
#include <vector>

#include "aeruca/cli.hpp"

int main(int argc, char** argv) {
  return aeruca::run_tool(std::vector<std::string>(argv + 1, argv + argc), std::cout, std::cerr);
}
