#pragma once

/// \file
/// What goes wrong, in three kinds that never mix:
///   wrong input      -> InputError: parameter, value, what is accepted;
///   a bad file       -> FileError: file, line, field, what is accepted;
///   no answer found  -> a Status in the result, never an exception.
/// A name that does not exist is an UnknownName, with the nearest known one.
/// Every message is one sentence that a person who does not program can act on.

#include <stdexcept>
#include <string>
#include <string_view>

namespace aeruca {

/// Base of everything this library throws.
class Error : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A value given by the caller lies outside what is accepted.
class InputError : public Error {
 public:
  /// Message: "<parameter> = <value>: accepted is <accepted>".
  InputError(std::string parameter_name, std::string given, std::string what_is_accepted);
  InputError(std::string parameter_name, double given, std::string what_is_accepted);

  std::string parameter;
  std::string value;
  std::string accepted;
};

/// A file cannot be read, or a line or field in it cannot be used.
class FileError : public Error {
 public:
  /// Message: "<file>, line <line>, <field>: <problem>"; a line of 0 and an empty field are left
  /// out. `problem` says what was found and what is accepted.
  FileError(std::string file_name, long line_number, std::string field_name,
            std::string what_is_wrong);

  std::string file;
  long line;
  std::string field;
  std::string problem;
};

/// A species, salt, column or key that does not exist.
class UnknownName : public Error {
 public:
  /// Message: "no <kind> named '<name>'; nearest is '<nearest>'" (nearest left out when empty).
  UnknownName(std::string kind_of_name, std::string name_given, std::string nearest_known);

  std::string kind;
  std::string name;
  std::string nearest;
};

/// How a solver ended. Only `converged` carries an answer.
/// `infeasible`: no answer can be, as the message reasons; `unstable`: the equations have one, which
/// no matter could stay in; `no_parameters`: an answer would rest on figures the model does not have.
enum class Status { converged, iteration_limit, singular, infeasible, unstable, no_parameters };

/// The name of a status as it is written there.
[[nodiscard]] std::string_view to_string(Status status);

}  // namespace aeruca
