#pragma once

// The models whose excess function is a law of the ionic strength and pairs (excess.hpp):
//   G = -F(I) + 1/2 sum_ij epsilon_ij m_i m_j.
// Ideal: neither. Dilute: no pairs. Specific-ion: both.

#include <vector>

#include "activity/excess.hpp"
#include "aeruca/activity.hpp"

namespace aeruca::detail {

class QuadraticExcess : public Activity {
 public:
  /// `interaction` (n, n) symmetric, kg/mol, natural logarithm; empty: none. A law with a = 0: none.
  QuadraticExcess(std::vector<double> charge, LimitingLaw law,
                  std::vector<double> interaction = {});
  void evaluate(std::span<const double> molality, ActivityValues& out) const override;
  void evaluate_values(std::span<const double> molality, ActivityValues& out) const override;
  void evaluate_slopes(std::span<const double> molality, ActivityValues& out) const override;

  [[nodiscard]] const std::vector<double>& charge() const { return charge_; }
  [[nodiscard]] const LimitingLaw& law() const { return law_; }
  [[nodiscard]] const std::vector<double>& interaction() const { return interaction_; }

 private:
  [[nodiscard]] LimitingLaw::Values law_at(double ionic_strength) const;

  struct Pair {  // i < j with epsilon other than 0
    std::size_t i, j;
    double epsilon;
  };
  std::vector<double> charge_, square_;
  LimitingLaw law_;
  std::vector<double> interaction_;
  std::vector<Pair> pairs_;
  std::vector<double> of_itself_;  // epsilon_ii
};

}  // namespace aeruca::detail
