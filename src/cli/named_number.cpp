#include "cli/named_number.hpp"

#include <optional>
#include <string_view>

#include "aeruca/errors.hpp"
#include "base/text.hpp"
#include "cli/command_line.hpp"

namespace aeruca::cli {

std::pair<std::string, double> named_number(const std::string& option, const std::string& text,
                                            const char* accepted) {
  const std::size_t equals = text.rfind('=');
  std::optional<double> value;
  if (equals != std::string::npos && equals > 0)
    value = detail::parse_number(detail::trim(std::string_view(text).substr(equals + 1)));
  if (!value) throw InputError(option, text, accepted);
  return {std::string(detail::trim(std::string_view(text).substr(0, equals))), *value};
}

std::map<std::string, double> named_numbers(const std::string& option,
                                            const std::vector<std::string>& texts,
                                            const char* accepted) {
  std::map<std::string, double> values;
  for (const std::string& text : texts) {
    auto [name, value] = named_number(option, text, accepted);
    if (!values.emplace(name, value).second)
      throw UsageError(option, "'" + name + "' is given twice; accepted is each name once");
  }
  return values;
}

}  // namespace aeruca::cli
