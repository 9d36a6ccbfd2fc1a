#include "equilibrium/grow.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "equilibrium/stability.hpp"

namespace aeruca::detail {

namespace {

constexpr double kConcentrated = 5;  // times what is asked, where the way from there begins
constexpr double kDilute = 0.05;     // mol/kg of all totals together where the way begins
// Steps in ln of the totals, or of the activity of H(+) where that changes more.
constexpr double kFirstStep = 0.4;
constexpr double kLongestStep = 1.1;
constexpr double kShortestStep = 1e-5;
// Towards a turning point changes grow as 1 / (2 sqrt(distance)), to 150 at the shortest step.
constexpr double kTurning = 20;   // d ln m / d ln totals of a species that counts
constexpr double kCounts = 1e-6;  // share of all molality
constexpr double kEdge = 0.05;    // smallest eigenvalue, scaled to 1 where ideal
constexpr double kJump = 0.05;
constexpr int kMostJumps = 5;
constexpr int kMostSteps = 600;
constexpr int kMostStarts = 4;
constexpr double kNeutral = -7 * kLn10;  // ln a(H(+)) where the way begins

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

// True for a pH that is held: a row of H(+) alone.
bool holds_ph(const Chemistry& chemistry, std::size_t k) {
  for (std::size_t j = 0; j < chemistry.columns(); ++j) {
    const bool is_hydrogen = chemistry.kind[j] == ColumnKind::hydrogen;
    if ((chemistry.pinned.row(k)[j] != 0) != is_hydrogen) return false;
  }
  return true;
}

bool holds_matter(const Chemistry& chemistry, std::size_t k) {
  for (std::size_t j = 0; j < chemistry.columns(); ++j) {
    if (chemistry.kind[j] == ColumnKind::mass && chemistry.pinned.row(k)[j] != 0) return true;
  }
  return false;
}

// The waters between the dilute one (0) and what is asked (1).
class Way {
 public:
  Way(const Chemistry& asked, double first_share, FirstPh first_ph)
      : asked_(asked), first_(std::log(first_share)) {
    for (std::size_t k = 0; k < asked.pinned.size(); ++k) {
      if (first_ph == FirstPh::neutral && holds_ph(asked, k)) ph_row_ = k;
    }
  }

  // Totals, and the gases that bring components, to a share of what is asked; a gas of hydrogen and
  // electrons alone sets the potential and stays. Of an acid gas the ions grow as the pH moves up,
  // so that it is held as much lower.
  void put(double done, Chemistry& scaled) const {
    for (std::size_t j = 0; j < asked_.columns(); ++j)
      scaled.totals[j] = share(done) * asked_.totals[j];
    for (std::size_t k = 0; k < asked_.pinned.size(); ++k) {
      if (!holds_matter(asked_, k)) continue;
      const double ions = ph_row_ == kNone ? 0 : hydrogen_of(k) * (1 - done) * to_neutral();
      scaled.pinned.constant[k] =
          asked_.pinned.constant[k] - (1 - done) * first_ + std::max(-ions, 0.0);
    }
    if (ph_row_ != kNone)
      scaled.pinned.constant[ph_row_] = -(ln_hydrogen() + (1 - done) * to_neutral());
  }

  [[nodiscard]] double share(double done) const { return std::exp((1 - done) * first_); }
  [[nodiscard]] double ph(double done) const {
    if (ph_row_ == kNone) return kNotGiven;
    return -(ln_hydrogen() + (1 - done) * to_neutral()) / kLn10;
  }
  // In ln of what changes most.
  [[nodiscard]] double length() const {
    const double hydrogen = ph_row_ == kNone ? 0 : std::abs(to_neutral());
    return std::max({std::abs(first_), hydrogen, kShortestStep});
  }

 private:
  [[nodiscard]] double ln_hydrogen() const { return -asked_.pinned.constant[ph_row_]; }
  [[nodiscard]] double to_neutral() const { return kNeutral - ln_hydrogen(); }
  [[nodiscard]] double hydrogen_of(std::size_t k) const {
    for (std::size_t j = 0; j < asked_.columns(); ++j) {
      if (asked_.kind[j] == ColumnKind::hydrogen) return asked_.pinned.row(k)[j];
    }
    return 0;
  }

  const Chemistry& asked_;
  double first_;
  std::size_t ph_row_ = kNone;  // of the pH that moves
};

double start_share(const Chemistry& chemistry) {
  double all = 0;
  for (std::size_t j = 0; j < chemistry.columns(); ++j) {
    if (chemistry.kind[j] == ColumnKind::mass) all += chemistry.totals[j];
  }
  const bool gases = chemistry.pinned.size() > 2;
  return (all > kDilute ? kDilute / all : 0.5) * (gases ? 1e-3 : 1);
}

bool is_solution(Solver& solver, const Chemistry& chemistry) {
  solver.update_slopes();
  return solver.ln_water <= 0 &&
         solution_stability(chemistry.charge, chemistry.slot, solver.molality, solver.values) > 0;
}

// Where the second derivatives vanish, or the water activity would pass 1.
bool reaches_edge(Solver& solver, const Chemistry& chemistry) {
  solver.update_slopes();
  const double left =
      solution_stability(chemistry.charge, chemistry.slot, solver.molality, solver.values);
  return left < kEdge || solver.ln_water > -kEdge * kDilute;
}

// Largest change of ln m since `before` among the species that count.
double largest_change(const Solver& solver, const std::vector<double>& before) {
  double all = 0;
  for (const double m : solver.molality) all += m;
  double largest = 0;
  for (std::size_t i = 0; i < solver.u.size(); ++i) {
    if (solver.molality[i] > kCounts * all)
      largest = std::max(largest, std::abs(solver.u[i] - before[i]));
  }
  return largest;
}

WayEnd end_at(const Solver& solver, const Chemistry& chemistry, const Way& way, double done) {
  WayEnd end;
  end.share = way.share(done);
  end.ph = way.ph(done);
  for (std::size_t i = 0; i < solver.u.size(); ++i) {
    end.charge += chemistry.charge[i] * solver.molality[i];
    end.all_charge += std::abs(chemistry.charge[i]) * solver.molality[i];
  }
  return end;
}

}  // namespace

Status grow(Solver& solver, const Chemistry& chemistry, const Activity& activity,
            std::size_t model_species, int iteration_limit, Beginning beginning, FirstPh first_ph,
            Chemistry& scaled, WayEnd& end) {
  scaled = chemistry;
  const bool dilute = beginning == Beginning::dilution;
  double share = dilute ? start_share(chemistry) : kConcentrated;
  Status status = Status::iteration_limit;
  for (int start = 0; start < kMostStarts && status != Status::converged;
       ++start, share *= dilute ? 0.1 : 0.6) {
    Way(chemistry, share, first_ph).put(0, scaled);
    solver.prepare(scaled, &activity, model_species);
    status = solver.solve(iteration_limit);
    if (status == Status::converged) break;
  }
  if (status != Status::converged) return status;
  const Way way(chemistry, share, first_ph);
  double done = 0;
  double step = kFirstStep / way.length();
  double steepest = 0;  // change over the last step, each in ln
  int jumps = first_ph == FirstPh::neutral ? kMostJumps : 0;
  // A little further on, from nothing: a solid may have taken away what the way rests on.
  const auto starts_anew = [&](double next) {
    way.put(next, scaled);
    solver.prepare(scaled, &activity, model_species);
    if (solver.solve(iteration_limit) != Status::converged || !is_solution(solver, scaled))
      return false;
    done = next;
    step = kFirstStep / way.length();
    return true;
  };
  for (int turn = 0; turn < kMostSteps && done < 1; ++turn) {
    const Place kept = keep(solver);
    const double next = std::min(1.0, done + step);
    way.put(next, scaled);
    solver.ties = ties_on(scaled, solver.ties.phases());
    if (solver.refine(1, iteration_limit) == Status::converged && is_solution(solver, scaled)) {
      steepest = largest_change(solver, kept.u) / ((next - done) * way.length());
      done = next;
      step = std::min(kLongestStep / way.length(), 1.5 * step);
      continue;
    }
    put_back(solver, kept);
    step *= 0.4;
    if (step * way.length() > kShortestStep) continue;
    if (jumps-- > 0 && starts_anew(std::min(1.0, done + kJump / way.length()))) continue;
    put_back(solver, kept);
    way.put(done, scaled);
    solver.update_activity();
    const bool edge = reaches_edge(solver, scaled);
    if (edge || steepest > kTurning) {
      end = end_at(solver, scaled, way, done);
      end.turns = !edge;
    }
    return Status::iteration_limit;
  }
  return done >= 1 ? Status::converged : Status::iteration_limit;
}

}  // namespace aeruca::detail
