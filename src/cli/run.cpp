#include <algorithm>
#include <exception>
#include <map>
#include <memory>
#include <optional>

#include "aeruca/cli.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/version.hpp"
#include "aeruca/words.hpp"
#include "base/printable.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"

namespace aeruca {
namespace cli {

MissingEnthalpy missing_enthalpy_of(const std::string& word) {
  for (const auto choice :
       {MissingEnthalpy::refuse, MissingEnthalpy::leave_out, MissingEnthalpy::estimate}) {
    std::string name(to_string(choice));
    std::replace(name.begin(), name.end(), '_', '-');
    if (name == word) return choice;
  }
  throw InputError("--missing-enthalpy", word, "refuse, leave-out or estimate");
}

std::shared_ptr<const Dataset> Context::dataset() {
  if (!dataset_) {
    dataset_ = data_directory.empty() ? default_dataset() : load_dataset(data_directory);
    if (!data_extension.empty()) dataset_ = extend_dataset(*dataset_, data_extension);
  }
  return dataset_;
}

namespace {

// What stands where a command should and is none, with the nearest that is; empty when that is not
// the fault.
std::string unknown_command(const Command& app, const std::vector<std::string>& arguments) {
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    if (arguments[i] == "--data" || arguments[i] == "--add-data" || arguments[i] == "--words") {
      ++i;
    } else if (!arguments[i].starts_with('-')) {
      std::vector<std::string> names;
      for (const auto& command : app.commands()) names.push_back(command->name());
      if (std::find(names.begin(), names.end(), arguments[i]) != names.end()) return {};
      const std::string nearest = detail::nearest_name(arguments[i], names);
      return "no command named '" + arguments[i] + "'" +
             (nearest.empty() ? "" : "; nearest is '" + nearest + "'") +
             "; accepted are the commands that aeruca --help lists";
    }
  }
  return {};
}

// Every value of every command is looked at before CLI11 converts it: it takes an empty text for 0,
// 0x10 for 16, and nan for a number.
std::string why_no_number(const std::string& given) {
  return detail::parse_number(given)
             ? ""
             : "'" + given + "' is no number; accepted is a number such as 12.5 or 1e-6";
}

// A bath without end is a perfect sink.
std::string why_no_alpha(const std::string& given) {
  if (given == "inf" || given == "infinity" || detail::parse_number(given)) return "";
  return "'" + given + "' is no number; accepted is a number such as 12.5, or inf";
}

std::string why_no_count(const std::string& given) {
  const bool digits =
      !given.empty() && given.size() < 10 &&
      std::all_of(given.begin(), given.end(), [](char c) { return c >= '0' && c <= '9'; });
  return digits ? "" : "'" + given + "' is no whole number; accepted is a number such as 12";
}

std::string why_no_text(const std::string& given) {
  return detail::trim(given).empty() ? "'" + given + "' is empty; accepted is a text" : "";
}

void check_values(Command& command) {
  for (Option option : command.options()) {
    if (option.is_flag()) continue;
    const std::string type = option.type();
    const bool number = type.find("FLOAT") != std::string::npos;
    const bool count = type.find("INT") != std::string::npos;
    option.check(number ? (option.name() == "--alpha" ? why_no_alpha : why_no_number)
                        : (count ? why_no_count : why_no_text));
  }
  for (const auto& below : command.commands()) check_values(*below);
}

// What is accepted where a name is not known: the short list itself, or the command that shows it.
std::string accepted_names(const std::string& kind) {
  static const std::map<std::string, std::string> accepted{
      {"shape", "slab, cylinder, sphere"},
      {"load", "uniform, at-metal"},
      {"activity model", "ideal, dilute, sit, pitzer"},
      {"salt",
       "the salts that 'aeruca salts' lists, and for a bath 'aeruca bath weigh-out --help'"},
      {"onset band", "the bands that 'aeruca salts --onset' lists"},
      {"reference electrode", "those that 'aeruca constants --all' lists as electrode_potential"},
      {"mineral", "the minerals that 'aeruca minerals' lists"},
      {"observation", "the outcomes that 'aeruca minerals' lists"},
      {"field test", "colour, texture, cold-water, silver-nitrate, acid"},
      {"species", "the names that 'aeruca constants --all' lists"},
      {"Pitzer set", "the sets that 'aeruca constants --all' lists"},
      {"source", "the keys that 'aeruca constants --sources' lists"}};
  const auto found = accepted.find(kind);
  return found == accepted.end() ? "" : "; accepted are " + found->second;
}

int parse_and_run(CommandLine& line, const std::vector<std::string>& arguments, Context& context) {
  try {
    line.run(arguments, context.out, context.err);
  } catch (const UsageError& usage) {
    const std::string unknown = unknown_command(line.top(), arguments);
    context.err << "aeruca: " << detail::printable(unknown.empty() ? usage.what() : unknown)
                << "\nSee aeruca --help.\n";
    return kUsage;
  }
  return context.exit_code;
}

}  // namespace
}  // namespace cli

int run_tool(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
             const WorkbookReader& workbook, const CaseWorkbooks& case_workbooks,
             Audience audience) {
  cli::Context context(out, err);
  context.workbook = workbook;
  context.case_workbooks = case_workbooks;
  context.audience = audience;
  std::string words;
  std::optional<Speaking> language;
  try {
    cli::CommandLine line("The chemistry of copper corrosion in conservation.", "aeruca");
    cli::Command& app = line.top();
    app.set_version_flag("--version", std::string(version()));
    app.add_option("--data", context.data_directory,
                   "directory with a data set to use in place of the built-in one");
    app.add_option("--add-data", context.data_extension,
                   "TOML file whose records are added to the data set");
    app.add_option("--words", words,
                   "language of results: " + detail::join(languages(), ", ") +
                       ", or a TOML file with its words (see data/words)");
    app.before_commands([&] {
      if (!words.empty()) language.emplace(words);
    });
    app.add_flag("--json", context.json, "print the result as JSON");
    app.require_subcommand(1);
    app.fallthrough();
    cli::add_case(app, context);
    cli::add_speciate(app, context);
    cli::add_fields(app, context);
    cli::add_salts(app, context);
    cli::add_store(app, context);
    cli::add_bath(app, context);
    cli::add_path(app, context);
    cli::add_minerals(app, context);
    cli::add_sample(app, context);
    cli::add_questions(app, context);
    cli::add_constants(app, context);
    cli::check_values(app);
    const int code = cli::parse_and_run(line, arguments, context);
    if (out.flush()) return code;
    err << "aeruca: the result could not be written to the output (a full disk, or a closed "
           "pipe)\n";
    return cli::kBadInput;
  } catch (const UnknownName& problem) {
    err << "aeruca: " << problem.what() << cli::accepted_names(problem.kind) << '\n';
    return cli::kBadInput;
  } catch (const std::exception& problem) {
    err << "aeruca: " << problem.what() << '\n';
    return cli::kBadInput;
  }
}

}  // namespace aeruca
