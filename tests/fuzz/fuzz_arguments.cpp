// Any bytes as arguments of the tool, one a line: a result or a sentence that says what is accepted,
// with the exit code that belongs to it.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/cli.hpp"
#include "base/text.hpp"
#include "demand.hpp"

namespace {

// Writes a file, or reads whatever the machine holds under a name.
bool touches_files(const std::vector<std::string>& arguments) {
  return std::any_of(arguments.begin(), arguments.end(), [](const std::string& argument) {
    return argument.find("--new") != std::string::npos || argument.find('/') == 0;
  });
}

// What the standard library says of itself when a reader did not look first.
bool speaks_of_the_program(std::string_view message) {
  for (const std::string_view word : {"basic_string", "std::", "_M_", "stod", "stoi", "map::at"}) {
    if (message.find(word) != std::string_view::npos) return true;
  }
  return false;
}

void check(const std::vector<std::string>& arguments) {
  std::ostringstream out;
  std::ostringstream err;
  const int code = aeruca::run_tool(arguments, out, err);
  demand(code >= 0 && code <= 3);
  if (code == 0 || code == 3) demand(!out.str().empty());
  if (code == 1 || code == 2) demand(err.str().starts_with("aeruca: "));
  if (code == 0) demand(err.str().find("aeruca: ") == std::string::npos);
  const std::string given = aeruca::detail::join(arguments, "\n");
  demand(speaks_of_the_program(given) || !speaks_of_the_program(err.str()));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  std::vector<std::string> arguments;
  if (!text.empty()) {
    for (const std::string_view line : aeruca::detail::split(text, '\n'))
      arguments.emplace_back(line);
  }
  if (!touches_files(arguments)) check(arguments);
  return 0;
}
