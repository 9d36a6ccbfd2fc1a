#pragma once

// One table of a case file: keys are asked for by name and range; what was never asked for is
// unknown.

#include <toml++/toml.h>

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/casefile.hpp"

namespace aeruca::detail {

/// Accepted numbers, both ends included.
struct Limits {
  double low = 0;
  double high = 0;
};

class Section {
 public:
  /// `name` is the full name of the table ("bath.solution"), empty for the file itself.
  Section(const toml::table& table, std::string name, CaseFile& file);

  [[nodiscard]] double number(std::string_view key, Limits accepted, double fallback);
  /// A list of them; empty where it is not given.
  [[nodiscard]] std::vector<double> numbers(std::string_view key, Limits accepted);
  [[nodiscard]] Reading reading(std::string_view key, Limits accepted);
  [[nodiscard]] bool flag(std::string_view key);
  [[nodiscard]] std::string text(std::string_view key);
  [[nodiscard]] std::string date(std::string_view key);
  [[nodiscard]] std::string choice(std::string_view key, std::span<const std::string> words,
                                   std::string fallback);
  [[nodiscard]] std::vector<std::string> texts(std::string_view key);
  /// One text, or a list of them.
  std::vector<std::string> text_or_texts(std::string_view key);
  [[nodiscard]] std::vector<std::string> choices(std::string_view key,
                                                 std::span<const std::string> words);
  /// A table below this one, or null.
  [[nodiscard]] const toml::table* table(std::string_view key);
  /// One table or an array of tables.
  [[nodiscard]] std::vector<const toml::table*> tables(std::string_view key);
  /// Keys of the table that were not asked for so far, in the order of the alphabet.
  [[nodiscard]] std::vector<std::string> keys_not_asked() const;
  /// Refuses every key that was not asked for, with the nearest that was.
  void finish() const;
  /// Throws FileError at a key of this table.
  [[noreturn]] void refuse(std::string_view key, const std::string& problem) const;

 private:
  [[nodiscard]] const toml::node* find(std::string_view key);
  [[nodiscard]] std::string full_name(std::string_view key) const;
  [[nodiscard]] double checked(std::string_view key, double value, Limits accepted) const;

  const toml::table& table_;
  std::string name_;
  CaseFile& file_;
  std::vector<std::string> known_;
};

}  // namespace aeruca::detail
