#include <algorithm>

#include "base/text.hpp"
#include "dataset/records.hpp"

namespace aeruca::detail {
namespace {

[[noreturn]] void fail(std::string_view equation, const std::string& why) {
  throw InputError("equation", "'" + std::string(equation) + "' (" + why + ")",
                   "'2 A + B = C' with ' + ' between terms and one ' = '");
}

// A sign without a term on its other side: "A + = B" names no species "A +", "A = = B" none "= B".
bool lacks_a_term(std::string_view term) {
  const auto is_sign = [](char c) { return c == '+' || c == '='; };
  if (term.empty() || (term.size() == 1 && is_sign(term.front()))) return true;
  return (is_sign(term[0]) && term[1] == ' ') ||
         (is_sign(term.back()) && term[term.size() - 2] == ' ');
}

void add_term(Terms& terms, std::string_view term, double sign, std::string_view equation) {
  term = trim(term);
  double coefficient = 1;
  const std::size_t space = term.find(' ');
  if (space != std::string_view::npos) {
    if (const auto number = parse_number(term.substr(0, space))) {
      coefficient = *number;
      term = trim(term.substr(space));
    }
  }
  if (lacks_a_term(term)) fail(equation, "a term is empty");
  if (coefficient <= 0 || coefficient > 1000)
    fail(equation, "a coefficient is not between 0 and 1000");
  const auto found = std::find_if(terms.begin(), terms.end(),
                                  [&](const auto& known) { return known.first == term; });
  if (found != terms.end()) fail(equation, "'" + std::string(term) + "' is there twice");
  terms.emplace_back(std::string(term), sign * coefficient);
}

void add_side(Terms& terms, std::string_view side, double sign, std::string_view equation) {
  for (std::size_t end = side.find(" + "); end != std::string_view::npos; end = side.find(" + ")) {
    add_term(terms, side.substr(0, end), sign, equation);
    side.remove_prefix(end + 3);
  }
  add_term(terms, side, sign, equation);
}

}  // namespace

Terms parse_equation(std::string_view equation) {
  const std::size_t equals = equation.find(" = ");
  if (equals == std::string_view::npos) fail(equation, "no ' = '");
  if (equation.find(" = ", equals + 3) != std::string_view::npos)
    fail(equation, "more than one ' = '");
  Terms terms;
  add_side(terms, equation.substr(0, equals), -1, equation);
  add_side(terms, equation.substr(equals + 3), 1, equation);
  return terms;
}

}  // namespace aeruca::detail
