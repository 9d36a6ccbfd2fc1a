#pragma once

// The sub-commands of the tool. Each file adds one to the application; a command's action runs
// after parsing, writes its result to `out` and notes to `err`, and returns nothing: what goes
// wrong is thrown, and run.cpp turns it into an exit code.

#include <memory>
#include <ostream>
#include <string>

#include "aeruca/casefile.hpp"
#include "aeruca/cli.hpp"
#include "aeruca/dataset.hpp"
#include "aeruca/logger.hpp"
#include "cli/command_line.hpp"

namespace aeruca::cli {

/// What every command may use. Lives as long as the application.
struct Context {
  Context(std::ostream& results, std::ostream& messages) : out(results), err(messages) {}

  std::ostream& out;
  std::ostream& err;
  std::string data_directory;  ///< --data: a data set in place of the built-in one
  std::string data_extension;  ///< --add-data: records added to it
  bool json = false;           ///< --json
  WorkbookReader workbook;     ///< none: workbooks are refused
  CaseWorkbooks case_workbooks;
  Audience audience = Audience::program;
  int exit_code = 0;  ///< a command sets kNoAnswer when it computed without an answer

  /// The data set asked for; parsed at the first call.
  [[nodiscard]] std::shared_ptr<const Dataset> dataset();

 private:
  std::shared_ptr<const Dataset> dataset_;
};

inline constexpr int kDone = 0;
inline constexpr int kBadInput = 1;
inline constexpr int kUsage = 2;
inline constexpr int kNoAnswer = 3;

/// Of `--missing-enthalpy`: refuse, leave-out or estimate. Throws InputError.
[[nodiscard]] MissingEnthalpy missing_enthalpy_of(const std::string& word);
inline constexpr const char* kMissingEnthalpyHelp =
    "away from 25 degrees C, what has no enthalpy: estimate (the default: by a rule, with its "
    "uncertainty, and named), leave-out, or refuse";

void add_case(Command& app, Context& context);
void add_speciate(Command& app, Context& context);
void add_fields(Command& app, Context& context);
void add_salts(Command& app, Context& context);
void add_store(Command& app, Context& context);
/// `aeruca store box`, a command of `store`.
Command* add_store_box(Command& store, Context& context);
Command* add_totals_fields(Command& fields, Context& context);
void add_bath(Command& app, Context& context);
void add_path(Command& app, Context& context);
void add_minerals(Command& app, Context& context);
void add_sample(Command& app, Context& context);
void add_questions(Command& app, Context& context);
void add_constants(Command& app, Context& context);

}  // namespace aeruca::cli
