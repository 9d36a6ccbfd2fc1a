#include "equilibrium/grow.hpp"

#include <algorithm>
#include <cmath>

#include "equilibrium/stability.hpp"

namespace aeruca::detail {

namespace {

constexpr double kDilute = 0.05;      // mol/kg of all totals together where the way begins
constexpr double kFirstFactor = 1.5;  // of the totals, from step to step
constexpr double kLargestFactor = 3;
constexpr double kSmallestStep = 1e-3;  // relative
constexpr double kEdge = 0.05;          // smallest eigenvalue, scaled to 1 where ideal
constexpr int kMostSteps = 400;
constexpr int kMostStarts = 4;

struct Place {
  std::vector<double> lambda, u;
  Ties ties;
  std::vector<double> ln_gamma;
  double ln_water;
};

Place keep(const Solver& solver) {
  return {solver.lambda, solver.u, solver.ties, solver.ln_gamma, solver.ln_water};
}

void put_back(Solver& solver, const Place& place) {
  solver.lambda = place.lambda;
  solver.u = place.u;
  solver.ties = place.ties;
  solver.ln_gamma = place.ln_gamma;
  solver.ln_water = place.ln_water;
  for (std::size_t i = 0; i < solver.u.size(); ++i) solver.molality[i] = bounded_exp(solver.u[i]);
}

// Totals and the gases that bring components to a share of what is asked; a gas of hydrogen and
// electrons alone sets the potential and stays.
void scale(const Chemistry& chemistry, double share, Chemistry& scaled) {
  for (std::size_t j = 0; j < chemistry.columns(); ++j)
    scaled.totals[j] = share * chemistry.totals[j];
  for (std::size_t k = 0; k < chemistry.pinned.size(); ++k) {
    for (std::size_t j = 0; j < chemistry.columns(); ++j) {
      if (chemistry.kind[j] == ColumnKind::mass && chemistry.pinned.row(k)[j] != 0)
        scaled.pinned.constant[k] = chemistry.pinned.constant[k] - std::log(share);
    }
  }
}

// The same solids under the potentials that are held now.
void tie_again(Solver& solver, const Chemistry& scaled) {
  Ties ties;
  ties.reset(scaled);
  for (const std::size_t phase : solver.ties.phases()) ties.add_phase(scaled, phase);
  solver.ties = ties;
}

double start_share(const Chemistry& chemistry) {
  double all = 0;
  for (std::size_t j = 0; j < chemistry.columns(); ++j) {
    if (chemistry.kind[j] == ColumnKind::mass) all += chemistry.totals[j];
  }
  const bool gases = chemistry.pinned.size() > 2;
  return (all > kDilute ? kDilute / all : 0.5) * (gases ? 1e-3 : 1);
}

bool is_solution(const Solver& solver, const Chemistry& chemistry) {
  return solver.ln_water <= 0 &&
         solution_stability(chemistry.charge, chemistry.slot, solver.molality, solver.values) > 0;
}

// Where the second derivatives vanish, or the water activity would pass 1.
bool reaches_edge(Solver& solver, const Chemistry& chemistry) {
  solver.update_activity();
  const double left =
      solution_stability(chemistry.charge, chemistry.slot, solver.molality, solver.values);
  return left < kEdge || solver.ln_water > -kEdge * kDilute;
}

}  // namespace

Status grow(Solver& solver, const Chemistry& chemistry, const Activity& activity,
            std::size_t model_species, int iteration_limit, Chemistry& scaled, double& way_ends) {
  scaled = chemistry;
  double share = start_share(chemistry);
  Status status = Status::iteration_limit;
  for (int start = 0; start < kMostStarts && status != Status::converged; ++start, share *= 0.1) {
    scale(chemistry, share, scaled);
    solver.prepare(scaled, &activity, model_species);
    status = solver.solve(iteration_limit);
    if (status == Status::converged) break;
  }
  if (status != Status::converged) return status;
  double factor = kFirstFactor;
  for (int step = 0; step < kMostSteps && share < 1; ++step) {
    const Place kept = keep(solver);
    const double next = std::min(1.0, share * factor);
    scale(chemistry, next, scaled);
    tie_again(solver, scaled);
    if (solver.refine(1, iteration_limit) == Status::converged && is_solution(solver, scaled)) {
      share = next;
      factor = std::min(kLargestFactor, 1 + 1.5 * (factor - 1));
      continue;
    }
    put_back(solver, kept);
    factor = 1 + 0.4 * (factor - 1);
    if (factor > 1 + kSmallestStep) continue;
    scale(chemistry, share, scaled);
    if (reaches_edge(solver, scaled)) way_ends = share;
    return Status::iteration_limit;
  }
  return share >= 1 ? Status::converged : Status::iteration_limit;
}

}  // namespace aeruca::detail
