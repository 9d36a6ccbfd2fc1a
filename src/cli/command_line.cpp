#include "cli/command_line.hpp"

#include <CLI/CLI.hpp>
#include <cstdint>
#include <optional>
#include <utility>

namespace aeruca::cli {

Option* Option::required() {
  option_->required();
  return this;
}

Option* Option::capture_default_str() {
  option_->capture_default_str();
  return this;
}

Option* Option::repeatable() {
  option_->take_all()->allow_extra_args(false);
  return this;
}

Option* Option::expected(int values) {
  option_->expected(values);
  return this;
}

Option* Option::excludes(const Option* other) {
  option_->excludes(other->option_);
  return this;
}

Option* Option::one_of(const std::vector<std::string>& words) {
  option_->check(CLI::IsMember(words));
  return this;
}

Option* Option::between(int low, int high) {
  option_->check(CLI::Range(low, high));
  return this;
}

Option* Option::check(const Complaint& complaint) {
  option_->check(CLI::Validator(
      [complaint](std::string& given) { return complaint(std::as_const(given)); }, ""));
  return this;
}

std::size_t Option::count() const {
  return option_->count();
}

bool Option::is_flag() const {
  return option_->get_expected_max() == 0;
}

std::string Option::type() const {
  return option_->get_type_name();
}

std::string Option::name() const {
  return option_->get_name();
}

template <class Value>
Option* Command::add_option(const std::string& name, Value& value, const std::string& meaning) {
  return keep(command_->add_option(name, value, meaning));
}
template Option* Command::add_option(const std::string&, std::string&, const std::string&);
template Option* Command::add_option(const std::string&, double&, const std::string&);
template Option* Command::add_option(const std::string&, int&, const std::string&);
template Option* Command::add_option(const std::string&, std::uint64_t&, const std::string&);
template Option* Command::add_option(const std::string&, std::optional<double>&,
                                     const std::string&);
template Option* Command::add_option(const std::string&, std::vector<std::string>&,
                                     const std::string&);
template Option* Command::add_option(const std::string&, std::vector<double>&, const std::string&);
template Option* Command::add_option(const std::string&, std::vector<std::size_t>&,
                                     const std::string&);

Option* Command::add_flag(const std::string& name, bool& value, const std::string& meaning) {
  return keep(command_->add_flag(name, value, meaning));
}

Option* Command::keep(CLI::Option* option) {
  return options_.emplace_back(std::make_unique<Option>(option)).get();
}

Command* Command::add_subcommand(const std::string& name, const std::string& meaning) {
  return commands_.emplace_back(std::make_unique<Command>(command_->add_subcommand(name, meaning)))
      .get();
}

void Command::callback(std::function<void()> action) {
  command_->callback(std::move(action));
}

void Command::before_commands(std::function<void()> action) {
  command_->parse_complete_callback(std::move(action));
}

void Command::require_subcommand(int count) {
  command_->require_subcommand(count);
}

void Command::fallthrough() {
  command_->fallthrough();
}

void Command::ignore_arguments() {
  command_->fallthrough(false);
  command_->allow_extras();
}

void Command::footer(const std::string& text) {
  command_->footer(text);
}

void Command::set_version_flag(const std::string& name, const std::string& version) {
  command_->set_version_flag(name, version);
}

std::size_t Command::count_all() const {
  return command_->count_all();
}

std::string Command::name() const {
  return command_->get_name();
}

std::vector<Option> Command::options() {
  const std::vector<CLI::Option*> all = command_->get_options();
  return {all.begin(), all.end()};
}

CommandLine::CommandLine(const std::string& meaning, const std::string& name)
    : app_(std::make_unique<CLI::App>(meaning, name)), top_(app_.get()) {}

CommandLine::~CommandLine() = default;

void CommandLine::run(const std::vector<std::string>& arguments, std::ostream& out,
                      std::ostream& err) {
  // CLI11 takes the arguments as a stack, last first.
  std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());
  try {
    app_->parse(reversed);
  } catch (const CLI::Success& asked_for_help) {
    app_->exit(asked_for_help, out, err);
  } catch (const CLI::ParseError& usage) {
    throw UsageError(usage.what());
  }
}

}  // namespace aeruca::cli
