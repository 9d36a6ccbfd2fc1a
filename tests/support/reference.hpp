#pragma once

// Published values as CSV: one row per value with its source, conditions, tolerance and why that
// tolerance. Prints the digits agreed, so a run shows how far each agreement goes.

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <initializer_list>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "source_tree.hpp"

namespace aeruca_test {

using Row = std::map<std::string, std::string>;

inline std::vector<std::string> split_csv(const std::string& line) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      fields.emplace_back();
    } else if (c != '\r') {
      fields.back() += c;
    }
  }
  return fields;
}

/// Rows of tests/reference/<name>; lines that start with # are comments.
inline std::vector<Row> reference_rows(const std::string& name) {
  std::ifstream file(aeruca::test::source_tree() + "/tests/reference/" + name);
  if (!file) throw std::runtime_error("cannot read tests/reference/" + name);
  std::vector<Row> rows;
  std::vector<std::string> head;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    const auto fields = split_csv(line);
    if (head.empty()) {
      head = fields;
      continue;
    }
    if (fields.size() != head.size())
      throw std::runtime_error(name + ": wrong number of fields: " + line);
    Row row;
    for (std::size_t i = 0; i < head.size(); ++i) row[head[i]] = fields[i];
    rows.push_back(row);
  }
  return rows;
}

inline double number(const Row& row, const std::string& column) {
  const std::string& text = row.at(column);
  return text.empty() ? std::nan("") : std::stod(text);
}

/// A published value and ours, as a row of the page of checks (tests/reference/page.py).
struct Check {
  std::string table, what;
  double ours, published;
  std::string standing, source, basis, why;
};

/// Appends a row to the file that AERUCA_CHECKS names; without it nothing is kept.
inline void keep(const Check& check) {
  const char* path = std::getenv("AERUCA_CHECKS");
  if (path == nullptr) return;
  std::ofstream file(path, std::ios::app);
  file.precision(15);
  const auto quoted = [](const std::string& text) { return '"' + text + '"'; };  // none holds one
  file << quoted(check.table) << ',' << quoted(check.what) << ',' << check.ours << ','
       << check.published << ',' << check.standing << ',' << quoted(check.source) << ','
       << check.basis << ',' << quoted(check.why) << '\n';
}

/// Cell of a column, or of the first of the others that the row has.
inline std::string cell_of(const Row& row, std::initializer_list<const char*> columns) {
  for (const char* column : columns) {
    if (const auto cell = row.find(column); cell != row.end()) return cell->second;
  }
  return "";
}

/// agrees, disagrees, in fit or derived: what the row says of itself.
inline std::string standing_of(const Row& row) {
  const std::string said = cell_of(row, {"standing", "agrees"});
  if (said == "no") return "disagrees";
  if (!said.empty() && said != "yes") return said;
  return cell_of(row, {"why"}).starts_with("disagrees") ? "disagrees" : "agrees";
}

/// Prints one line of the comparison and returns |ours - published|.
inline double compare(const std::string& what, double ours, double published,
                      const std::string& source) {
  const double difference = std::abs(ours - published);
  const double scale = std::abs(published) > 0 ? std::abs(published) : 1.0;
  const double digits = difference > 0 ? -std::log10(difference / scale) : 16.0;
  std::printf("%-58s ours %-14.9g published %-14.9g %4.1f digits  %s\n", what.c_str(), ours,
              published, digits, source.c_str());
  return difference;
}

/// The same of a row of a table, and kept for the page.
inline double compare(const std::string& table, const std::string& what, double ours,
                      double published, const Row& row) {
  const std::string source = cell_of(row, {"source"});
  keep({table, what, ours, published, standing_of(row), source, cell_of(row, {"basis"}),
        cell_of(row, {"why", "reason"})});
  return compare(what, ours, published, source.substr(0, 60));
}

}  // namespace aeruca_test
