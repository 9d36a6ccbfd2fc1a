#pragma once

// Commands and their options. What reads the arguments is CLI11; it stays in command_line.cpp, for
// its headers cost seconds in every file that includes them.

#include <functional>
#include <memory>
#include <ostream>
#include <stdexcept>
#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace aeruca::cli {

/// The tool was called in a way that cannot be meant: exit code 2.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
  UsageError(const std::string& option, const std::string& problem)
      : UsageError(option + ": " + problem) {}
};

/// What a text given for an option has against it; empty when it is accepted.
using Complaint = std::function<std::string(const std::string&)>;

/// An option of a command. Lives as long as the command.
class Option {
 public:
  explicit Option(CLI::Option* option) : option_(option) {}

  Option* required();
  /// The value held when the option is made is shown by --help.
  Option* capture_default_str();
  /// May be given several times, one value each.
  Option* repeatable();
  Option* expected(int values);
  Option* excludes(const Option* other);
  Option* one_of(const std::vector<std::string>& words);
  Option* between(int low, int high);
  Option* check(const Complaint& complaint);

  /// How often it was given.
  [[nodiscard]] std::size_t count() const;
  [[nodiscard]] bool is_flag() const;
  /// "FLOAT", "INT", "TEXT" ...
  [[nodiscard]] std::string type() const;
  [[nodiscard]] std::string name() const;

 private:
  CLI::Option* option_;
};

/// The tool itself, or one of its commands.
class Command {
 public:
  explicit Command(CLI::App* command) : command_(command) {}

  /// `value` is set when the arguments are read: a text, a number, an optional number, or a list of
  /// texts or numbers. A name without dashes stands for its place.
  template <class Value>
  Option* add_option(const std::string& name, Value& value, const std::string& meaning);
  Option* add_flag(const std::string& name, bool& value, const std::string& meaning);
  Command* add_subcommand(const std::string& name, const std::string& meaning);
  /// Called when the arguments are read and this command is named.
  void callback(std::function<void()> action);
  /// Called when the arguments are read, before the command that they name.
  void before_commands(std::function<void()> action);
  void require_subcommand(int count);
  /// Options of the tool are accepted behind a command too.
  void fallthrough();
  /// What follows is for another program.
  void ignore_arguments();
  void footer(const std::string& text);
  void set_version_flag(const std::string& name, const std::string& version);

  /// Options and names given, this command's among them.
  [[nodiscard]] std::size_t count_all() const;
  [[nodiscard]] std::string name() const;
  [[nodiscard]] std::vector<Option> options();
  [[nodiscard]] const std::vector<std::unique_ptr<Command>>& commands() const { return commands_; }

 private:
  Option* keep(CLI::Option* option);

  CLI::App* command_;
  std::vector<std::unique_ptr<Option>> options_;
  std::vector<std::unique_ptr<Command>> commands_;
};

/// The commands of a program, and the reading of its arguments.
class CommandLine {
 public:
  CommandLine(const std::string& meaning, const std::string& name);
  ~CommandLine();
  CommandLine(const CommandLine&) = delete;
  CommandLine& operator=(const CommandLine&) = delete;

  [[nodiscard]] Command& top() { return top_; }
  /// Reads the arguments and runs the command they name; help goes to `out`. Throws UsageError, and
  /// whatever the command throws.
  void run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err);

 private:
  std::unique_ptr<CLI::App> app_;
  Command top_;
};

}  // namespace aeruca::cli
