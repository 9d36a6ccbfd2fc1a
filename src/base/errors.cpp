#include "aeruca/errors.hpp"

#include <cmath>
#include <utility>

#include "aeruca/provenance.hpp"
#include "base/printable.hpp"
#include "base/text.hpp"

namespace aeruca {
namespace {

std::string file_message(const std::string& file, long line, const std::string& field,
                         const std::string& problem) {
  std::string text = file.empty() ? "file name ''" : detail::printable(file);
  if (line > 0) text += ", line " + std::to_string(line);
  if (!field.empty()) text += ", " + detail::clipped(detail::printable(field));
  return text + ": " + detail::in_a_message(problem);
}

std::string unknown_message(const std::string& kind_of_name, const std::string& name_given,
                            const std::string& nearest_known) {
  std::string text =
      "no " + kind_of_name + " named '" + detail::clipped(detail::printable(name_given)) + "'";
  if (!nearest_known.empty()) text += "; nearest is '" + nearest_known + "'";
  return text;
}

}  // namespace

InputError::InputError(std::string parameter_name, std::string given, std::string what_is_accepted)
    : Error(detail::printable(parameter_name) + " = " + detail::clipped(detail::printable(given)) +
            ": accepted is " + detail::printable(what_is_accepted)),
      parameter(std::move(parameter_name)),
      value(std::move(given)),
      accepted(std::move(what_is_accepted)) {}

InputError::InputError(std::string parameter_name, double given, std::string what_is_accepted)
    : InputError(std::move(parameter_name),
                 std::isnan(given) ? "not a number" : detail::format_number(given),
                 std::move(what_is_accepted)) {}

FileError::FileError(std::string file_name, long line_number, std::string field_name,
                     std::string what_is_wrong)
    : Error(file_message(file_name, line_number, field_name, what_is_wrong)),
      file(std::move(file_name)),
      line(line_number),
      field(std::move(field_name)),
      problem(std::move(what_is_wrong)) {}

UnknownName::UnknownName(std::string kind_of_name, std::string name_given,
                         std::string nearest_known)
    : Error(unknown_message(kind_of_name, name_given, nearest_known)),
      kind(std::move(kind_of_name)),
      name(std::move(name_given)),
      nearest(std::move(nearest_known)) {}

std::string_view to_string(Status status) {
  switch (status) {
    case Status::converged:
      return "converged";
    case Status::unstable:
      return "unstable";
    case Status::iteration_limit:
      return "iteration_limit";
    case Status::singular:
      return "singular";
    case Status::infeasible:
      return "infeasible";
    case Status::no_parameters:
      return "no_parameters";
  }
  return "unknown";
}

std::string_view to_string(Basis basis) {
  switch (basis) {
    case Basis::looked_up:
      return "looked-up";
    case Basis::memory:
      return "memory";
    case Basis::derived:
      return "derived";
    case Basis::estimated:
      return "estimated";
  }
  return "unknown";
}

}  // namespace aeruca
