// The reaction between two candidates, its constant and the line it draws.

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "stability/reaction_text.hpp"
#include "stability/system.hpp"

namespace aeruca::detail {

namespace {

void scale(Reaction& reaction, double factor) {
  reaction.left_count *= factor;
  reaction.right_count *= factor;
  for (double& count : reaction.held_count) count *= factor;
}

// One standard uncertainty; what both sides owe to the same figure adds with its sign first.
double combined_uncertainty(const System& system, const Regime& regime, const Reaction& reaction) {
  std::vector<double> sum(system.error_names.size());
  const auto add = [&](const Errors& errors, double count) {
    for (const auto& [number, error] : errors) sum[number] += count * error;
  };
  add(system.candidates[reaction.left].errors, reaction.left_count);
  add(system.candidates[reaction.right].errors, -reaction.right_count);
  for (std::size_t k = 0; k < regime.held.size(); ++k) {
    if (reaction.held_count[k] != 0) add(regime.held[k].errors, -reaction.held_count[k]);
  }
  double variance = 0;
  for (const double each : sum) variance += each * each;
  return std::sqrt(variance);
}

void add_figures(std::vector<std::string>& figures, const std::vector<std::string>& more) {
  for (const std::string& figure : more) {
    if (std::find(figures.begin(), figures.end(), figure) == figures.end())
      figures.push_back(figure);
  }
}

void cite(const System& system, const Regime& regime, Reaction& reaction) {
  const auto left = figures_at(system, system.species_of(reaction.left));
  const auto right = figures_at(system, system.species_of(reaction.right));
  add_figures(reaction.figures, left);
  add_figures(reaction.figures, right);
  for (std::size_t k = 0; k < regime.held.size(); ++k) {
    if (reaction.held_count[k] != 0)
      add_figures(reaction.figures,
                  figures_at(system, system.dataset->species[regime.held[k].species]));
  }
  for (const std::string& figure : left) {
    if (std::find(right.begin(), right.end(), figure) != right.end())
      reaction.shared_figures.push_back(figure);
  }
}

// Per copper atom, without figures.
Reaction per_copper(const System& system, const Regime& regime, std::size_t left,
                    std::size_t right) {
  const Candidate& l = system.candidates[left];
  const Candidate& r = system.candidates[right];
  Reaction reaction{left, right, 1 / l.copper, 1 / r.copper, {}, 0, 0, {}, {}};
  for (std::size_t k = 0; k < regime.held.size(); ++k) {
    const double count = regime.in_held[left][k] / l.copper - regime.in_held[right][k] / r.copper;
    reaction.held_count.push_back(std::abs(count) < 1e-12 ? 0 : count);
  }
  return reaction;
}

}  // namespace

double gap_uncertainty(const System& system, const Regime& regime, std::size_t left,
                       std::size_t right) {
  return combined_uncertainty(system, regime, per_copper(system, regime, left, right));
}

Reaction reaction_between(const System& system, const Regime& regime, std::size_t left,
                          std::size_t right) {
  Reaction reaction = per_copper(system, regime, left, right);
  std::vector<double> counts{reaction.left_count, reaction.right_count};
  counts.insert(counts.end(), reaction.held_count.begin(), reaction.held_count.end());
  scale(reaction, whole_factor(counts));
  reaction.log10_k = reaction.left_count * system.candidates[left].log10_k -
                     reaction.right_count * system.candidates[right].log10_k;
  for (std::size_t k = 0; k < regime.held.size(); ++k)
    reaction.log10_k -= reaction.held_count[k] * regime.held[k].log10_k;
  reaction.uncertainty = combined_uncertainty(system, regime, reaction);
  cite(system, regime, reaction);
  return reaction;
}

namespace {

// Which way round: electrons, else protons, else gases on the side of `right`.
bool turned(const System& system, const Regime& regime, const Reaction& reaction) {
  const auto rank = [](const Species& species) {
    if (species.kind == PhaseKind::electron) return 3;
    if (species.name == "H(+)") return 2;
    return species.kind == PhaseKind::gas ? 1 : 0;
  };
  int highest = 0;
  bool turn = false;
  for (std::size_t k = 0; k < regime.held.size(); ++k) {
    const int here =
        reaction.held_count[k] == 0 ? 0 : rank(system.dataset->species[regime.held[k].species]);
    if (here <= highest) continue;
    highest = here;
    turn = reaction.held_count[k] < 0;
  }
  return turn;
}

}  // namespace

WrittenReaction write(const System& system, const Regime& regime, const Reaction& reaction) {
  const double sign = turned(system, regime, reaction) ? -1 : 1;
  std::vector<Term> before{{reaction.right_count, system.names[reaction.right]}};
  std::vector<Term> after{{reaction.left_count, system.names[reaction.left]}};
  if (sign < 0) std::swap(before, after);
  // Ligands first, then water, protons, electrons: as the list of what is held runs backwards.
  for (std::size_t k = regime.held.size(); k-- > 0;) {
    const double count = sign * reaction.held_count[k];
    const std::string& name = system.dataset->species[regime.held[k].species].name;
    if (count > 0) before.push_back({count, name});
    if (count < 0) after.push_back({-count, name});
  }
  return {side_text(before) + " = " + side_text(after), sign * reaction.log10_k};
}

namespace {

// F = constant + sum of contributions = 0 on the line; F = log10 of (constant over quotient).
struct Contribution {
  std::string quantity;
  double coefficient;
  SetBy set_by;
};

std::vector<Contribution> contributions(const System& system, const Regime& regime,
                                        const Reaction& reaction) {
  std::vector<Contribution> all;
  for (std::size_t k = 0; k < regime.held.size(); ++k) {
    const Held& held = regime.held[k];
    const bool pure_water = held.quantity == "log10 a(H2O)" && system.options.log10_water == 0;
    if (reaction.held_count[k] == 0 || pure_water) continue;
    all.push_back({held.quantity, reaction.held_count[k] * held.per_quantity, held.set_by});
  }
  SetBy copper = SetBy::value;
  if (system.options.x.quantity == AxisQuantity::log10_copper) copper = SetBy::x;
  if (system.options.y.quantity == AxisQuantity::log10_copper) copper = SetBy::y;
  const std::array<std::pair<std::size_t, double>, 2> sides{
      std::pair{reaction.left, -reaction.left_count},
      std::pair{reaction.right, reaction.right_count}};
  for (const auto& [candidate, count] : sides) {
    if (!system.candidates[candidate].dissolved) continue;
    const bool axis = copper != SetBy::value;
    all.push_back({axis ? "log10 a(dissolved copper)" : "log10 a(" + system.names[candidate] + ")",
                   count, copper});
  }
  return all;
}

double total(const std::vector<Contribution>& all, SetBy set_by) {
  double sum = 0;
  for (const Contribution& each : all) {
    if (each.set_by == set_by) sum += each.coefficient;
  }
  return std::abs(sum) < 1e-12 ? 0 : sum;
}

// "Eh = 0.2110 + 0.0592 pH": volts to 4 decimals, logarithms to 3.
std::string equation_text(const std::string& solved_for, double constant,
                          const std::vector<std::pair<std::string, double>>& terms) {
  const int decimals = solved_for == "Eh" ? 4 : 3;
  std::string text = solved_for + " = " + fixed_text(constant, decimals);
  for (const auto& [quantity, coefficient] : terms) {
    text += coefficient < 0 ? " - " : " + ";
    if (std::abs(std::abs(coefficient) - 1) > 1e-9)
      text += fixed_text(std::abs(coefficient), decimals) + " ";
    text += quantity;
  }
  return text;
}

void add_letters(const System& system, const Reaction& reaction,
                 const std::vector<Contribution>& all, LineEquation& line) {
  const SetBy solved = line.vertical ? SetBy::x : SetBy::y;
  const double divisor = -total(all, solved);
  line.constant = reaction.log10_k / divisor;
  for (const Contribution& each : all) {
    if (each.set_by == solved) continue;
    auto known = std::find_if(line.terms.begin(), line.terms.end(),
                              [&](const auto& term) { return term.first == each.quantity; });
    if (known == line.terms.end()) known = line.terms.insert(known, {each.quantity, 0});
    known->second += each.coefficient / divisor;
  }
  std::erase_if(line.terms, [](const auto& term) { return std::abs(term.second) < 1e-12; });
  line.uncertainty = reaction.uncertainty / std::abs(divisor);
  line.text = equation_text(axis_quantity(line.vertical ? system.options.x : system.options.y),
                            line.constant, line.terms);
}

}  // namespace

LineEquation line_of(const Plane& zero, Direction direction) {
  LineEquation line;
  line.vertical = direction == Direction::vertical;
  if (line.vertical) {
    line.vertical_x = -zero.c / zero.gx;
  } else {
    line.intercept = -zero.c / zero.gy;
    line.slope = zero.gx == 0 ? 0 : -zero.gx / zero.gy;
  }
  return line;
}

LineEquation line_between(const System& system, const Regime& regime, const Reaction& reaction) {
  const auto all = contributions(system, regime, reaction);
  const Direction direction = total(all, SetBy::y) == 0 ? Direction::vertical : Direction::sloping;
  LineEquation line =
      line_of(difference(regime.planes[reaction.left], regime.planes[reaction.right]), direction);
  add_letters(system, reaction, all, line);
  return line;
}

}  // namespace aeruca::detail
