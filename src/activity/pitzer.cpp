#include "activity/pitzer.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

#include "activity/excess.hpp"
#include "activity/pitzer_sums.hpp"
#include "activity/unsymmetric.hpp"
#include "numerics/scalar.hpp"

namespace aeruca::detail {
namespace {

std::size_t position_of(std::vector<double>& values, double value) {
  const auto found = std::find(values.begin(), values.end(), value);
  if (found != values.end()) return static_cast<std::size_t>(found - values.begin());
  values.push_back(value);
  return values.size() - 1;
}

std::vector<std::size_t> numbers_to(std::size_t count) {
  std::vector<std::size_t> numbers(count);
  std::iota(numbers.begin(), numbers.end(), std::size_t{0});
  return numbers;
}

}  // namespace

PitzerTable::PitzerTable(const PitzerSystem& system, std::span<const std::size_t> chosen)
    : a_phi_(system.a_phi) {
  std::vector<std::size_t> place(system.charge.size(), kNoColumn);
  std::vector<double> charge;
  for (const std::size_t i : chosen) {
    place[i] = charge.size();
    charge.push_back(system.charge[i]);
    magnitude_.push_back(std::abs(system.charge[i]));
    half_square_.push_back(0.5 * system.charge[i] * system.charge[i]);
  }
  take_pairs(system, place);
  take_mixing(system, place);
  find_unequal(charge);
}

std::size_t PitzerTable::term_of(double alpha) {
  return position_of(alpha_, alpha);
}

std::size_t PitzerTable::product_of(double product) {
  return position_of(ln_product_, std::log(product));
}

void PitzerTable::take_pairs(const PitzerSystem& system, std::span<const std::size_t> place) {
  for (PitzerPair pair : system.pairs) {
    pair.cation = place[pair.cation];
    pair.anion = place[pair.anion];
    if (pair.cation == kNoColumn || pair.anion == kNoColumn) continue;
    pair.term1 = term_of(pair.alpha1);
    pair.term2 = pair.beta2 != 0 ? term_of(pair.alpha2) : 0;
    pairs_.push_back(pair);
  }
}

void PitzerTable::take_mixing(const PitzerSystem& system, std::span<const std::size_t> place) {
  for (const auto& [i, j, value] : system.twos) {
    if (place[i] != kNoColumn && place[j] != kNoColumn)
      twos_.push_back({place[i], place[j], value});
  }
  for (const auto& [i, j, k, value] : system.threes) {
    if (place[i] != kNoColumn && place[j] != kNoColumn && place[k] != kNoColumn)
      threes_.push_back({place[i], place[j], place[k], value});
  }
}

// E-theta = z_i z_j / (4 I) [J(x_ij) - J(x_ii)/2 - J(x_jj)/2], x = 6 z z A_phi sqrt I, J = x^2 h.
void PitzerTable::find_unequal(std::span<const double> charge) {
  const double scale = 2 * 9.0 * a_phi_ * a_phi_;
  for (std::size_t i = 0; i < charge.size(); ++i) {
    for (std::size_t j = i + 1; j < charge.size(); ++j) {
      const double product = charge[i] * charge[j];
      if (product <= 0 || charge[i] == charge[j]) continue;
      PitzerUnequal pair{i, j};
      const std::array<double, 3> products = {product, charge[i] * charge[i],
                                              charge[j] * charge[j]};
      for (std::size_t n = 0; n < 3; ++n) {
        pair.product[n] = product_of(products[n]);
        pair.factor[n] = (n == 0 ? 1.0 : -0.5) * scale * product * products[n] * products[n];
      }
      unequals_.push_back(pair);
    }
  }
}

PitzerView PitzerTable::view() const {
  PitzerView view;
  view.species = magnitude_.size();
  view.pairs = pairs_.size();
  view.twos = twos_.size();
  view.threes = threes_.size();
  view.unequals = unequals_.size();
  view.alphas = alpha_.size();
  view.products = ln_product_.size();
  view.a_phi = a_phi_;
  view.half_square = half_square_.data();
  view.magnitude = magnitude_.data();
  view.pair = pairs_.data();
  view.two = twos_.data();
  view.three = threes_.data();
  view.unequal = unequals_.data();
  view.alpha = alpha_.data();
  view.ln_product = ln_product_.data();
  view.table = unequals_.empty() ? nullptr : unsymmetric_table();
  return view;
}

Pitzer::Pitzer(PitzerSystem system)
    : system_(std::move(system)), every_(numbers_to(system_.charge.size())) {
  table_ = PitzerTable(system_, every_);
}

// By the sets of ions that each carry a good part of the charge of their sign.
double Pitzer::ionic_strength_max(std::span<const double> molality) const {
  constexpr double kDominant = 0.1;
  double positive = 0;
  double negative = 0;
  for (std::size_t i = 0; i < molality.size(); ++i) {
    (system_.charge[i] > 0 ? positive : negative) += std::abs(system_.charge[i]) * molality[i];
  }
  double lowest = std::numeric_limits<double>::infinity();
  for (const PitzerRange& range : system_.ranges) {
    const double cation = system_.charge[range.cation] * molality[range.cation];
    const double anion = -system_.charge[range.anion] * molality[range.anion];
    const bool dominant = cation > kDominant * positive && anion > kDominant * negative;
    if (dominant) lowest = std::min(lowest, range.ionic_strength);
  }
  return std::isinf(lowest) ? kUnstatedMolality : lowest;
}

// Room for the sums, kept by thread.
std::vector<double>& Pitzer::room() {
  thread_local std::vector<double> room;
  return room;
}

void Pitzer::evaluate_values(std::span<const double> molality, ActivityValues& out) const {
  begin(molality, system_.charge, out);
  const PitzerView view = table_.view();
  room().resize(PitzerSums<Scalar>::room(view));
  PitzerSums<Scalar> sums(view, room().data());
  sums.values(molality.data(), out.ln_gamma.data());
  out.ln_water_activity = sums.ln_water;
}

void Pitzer::evaluate(std::span<const double> molality, ActivityValues& out) const {
  begin(molality, system_.charge, out);
  const PitzerView view = table_.view();
  room().resize(PitzerSums<Scalar>::room(view));
  PitzerSums<Scalar> sums(view, room().data());
  sums.values(molality.data(), out.ln_gamma.data());
  sums.slopes(molality.data(), every_.data(), every_.size(), out.ln_gamma_by_molality.data());
  finish_water(molality, sums.g(), out);
}

}  // namespace aeruca::detail
