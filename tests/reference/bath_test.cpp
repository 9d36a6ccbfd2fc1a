// Published and independently computed values of the bath model, tests/reference/bath.csv.

#include "aeruca/bath_plan.hpp"

#include <cmath>
#include <iostream>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "catch.hpp"
#include "reference.hpp"
#include "source_tree.hpp"

using namespace aeruca;

namespace {

const double kInfinity = std::numeric_limits<double>::infinity();

struct Row {
  std::string quantity, subject, basis, why, source;
  PorousBody body;
  double alpha, tau, value, tolerance;
  std::size_t index;
};

double number(std::string_view text) {
  if (text.empty()) return 0;
  return text == "inf" ? kInfinity : detail::parse_number(text).value();
}

// What a row is of, for the page of checks: its cells that are not empty, up to the value.
std::string subject_of(const std::vector<std::string_view>& field) {
  std::string subject;
  for (std::size_t i = 0; i < 7; ++i) {
    if (!field[i].empty()) subject += (subject.empty() ? "" : " ") + std::string(field[i]);
  }
  return subject;
}

std::vector<Row> read_rows() {
  const std::string text = detail::read_file(test::source_tree() + "/tests/reference/bath.csv");
  std::vector<Row> rows;
  for (const auto line : detail::split(text, '\n')) {
    if (line.empty() || line[0] == '#' || line.substr(0, 8) == "quantity") continue;
    const auto field = detail::split(line, ',');
    REQUIRE(field.size() == 12);
    rows.push_back({std::string(field[0]),
                    subject_of(field),
                    std::string(field[11]),
                    std::string(field[9]),
                    std::string(field[10]),
                    {body_shape(field[1]), initial_load(field[2]), number(field[4])},
                    number(field[3]),
                    number(field[5]),
                    number(field[7]),
                    number(field[8]),
                    static_cast<std::size_t>(number(field[6]))});
  }
  return rows;
}

double tau_of_release(const Row& row) {  // tau column: what is released; value: tau
  double low = 0, high = 10;
  for (int step = 0; step < 100; ++step) {
    const double middle = 0.5 * (low + high);
    const std::vector<BathStep> bath{{row.alpha, middle, 0, 0}};
    (bath_series(row.body, bath).ends[0].extracted < row.tau ? low : high) = middle;
  }
  return low;
}

double left_after(const Row& row, std::size_t baths, double tau_each) {
  const std::vector<BathStep> steps(baths, BathStep{row.alpha, tau_each, 0, 0});
  return bath_series(row.body, steps).ends.back().left;
}

double increment(const Row& row, std::size_t bath) {
  return (bath == 1 ? 1.0 : left_after(row, bath - 1, row.tau)) - left_after(row, bath, row.tau);
}

double ours(const Row& row) {
  const auto shape = row.body.shape;
  if (row.quantity == "root") return mode_roots(shape, row.alpha, row.index, row.body.biot).back();
  if (row.quantity == "uptake") return fraction_of_final_release(shape, row.alpha, row.tau);
  if (row.quantity == "tau_of_release") return tau_of_release(row);
  if (row.quantity == "left_after_baths") {
    return left_after(row, row.index, row.tau / static_cast<double>(row.index));
  }
  if (row.quantity == "left_after_baths_each") return left_after(row, row.index, row.tau);
  if (row.quantity == "increment_of_bath") return increment(row, row.index);
  if (row.quantity == "tail_after_baths") {
    const double last = increment(row, row.index);
    const double ratio = last / increment(row, row.index - 1);
    return last * ratio / (1 - ratio);
  }
  if (row.quantity == "film_rate_ratio") {
    return std::pow(
        mode_roots(shape, row.alpha, 1, row.body.biot)[0] / mode_roots(shape, row.alpha, 1)[0], 2);
  }
  REQUIRE(row.quantity == "equilibrium_wash");
  const std::vector<std::size_t> counts{row.index};
  const double left =
      compare_bath_counts(row.body, row.alpha, 100.0 * static_cast<double>(row.index), counts)
          .plans[0]
          .left;
  CHECK(std::abs(left - std::pow(1 + row.alpha, -static_cast<double>(row.index))) < 1e-12);
  return left;
}

}  // namespace

TEST_CASE("the bath model gives the published and the independently computed values") {
  std::map<std::string, double> fewest;
  for (const Row& row : read_rows()) {
    const double value = ours(row);
    CAPTURE(row.quantity, to_string(row.body.shape), row.alpha, row.tau, row.index, row.value,
            value);
    CHECK(std::abs(value - row.value) <= row.tolerance);
    aeruca_test::keep({"Bath model", row.subject, value, row.value,
                       row.why.starts_with("disagrees") ? "disagrees" : "agrees", row.source,
                       row.basis, row.why});
    if (row.why.starts_with("disagrees")) {
      std::cout << row.quantity << ": published " << row.value << ", ours "
                << detail::format_number(value, 7) << "; " << row.why << '\n';
    }
    const double digits = -std::log10(std::max(std::abs(value / row.value - 1), 1e-16));
    const std::string key = row.quantity + " (" + row.basis + ")";
    fewest.try_emplace(key, digits);
    fewest[key] = std::min(fewest[key], digits);
  }
  for (const auto& [key, digits] : fewest) {
    std::cout << key << ": at least " << detail::format_number(digits, 2) << " digits agreed\n";
  }
}
