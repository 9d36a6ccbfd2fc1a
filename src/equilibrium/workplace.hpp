#pragma once

// What the public class keeps and uses: the system, and a place to solve one water after the other.

#include <limits>
#include <memory>
#include <mutex>
#include <span>
#include <string>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "aeruca/not_given.hpp"
#include "equilibrium/certify.hpp"
#include "equilibrium/grow.hpp"
#include "equilibrium/solver.hpp"
#include "equilibrium/system.hpp"

namespace aeruca {

namespace detail {

inline constexpr double kAbsent = -std::numeric_limits<double>::infinity();

/// Everything a solve needs besides the system; one per call, reused within a batch.
struct Workplace {
  Water water;
  Solver solver;
  Chemistry scaled;  // of the way from dilution
  Inspection inspection;
  Certificate certificate;
  double solvent_kg = 1;                    // per kg given
  Status status = Status::iteration_limit;  // converged only when the certificate holds
  bool refused = false;                     // the solver had an answer that its certificate refused
  bool too_much = false;                    // more dissolved than kMostMolality
  WayEnd way_end;                           // of the way from dilution
  std::string message;                      // why there is no answer
};

/// Workplaces that have been used and keep their room; what they hold does not show in an answer.
class Workshop {
 public:
  /// One for the time that the handle lives.
  [[nodiscard]] auto borrow() {
    const auto give_back = [this](Workplace* place) {
      const std::lock_guard held(lock_);
      idle_.emplace_back(place);
    };
    return std::unique_ptr<Workplace, decltype(give_back)>(take().release(), give_back);
  }

 private:
  std::unique_ptr<Workplace> take() {
    const std::lock_guard held(lock_);
    if (idle_.empty()) return std::make_unique<Workplace>();
    auto place = std::move(idle_.back());
    idle_.pop_back();
    return place;
  }

  std::mutex lock_;
  std::vector<std::unique_ptr<Workplace>> idle_;
};

/// Solves and certifies the water that is in place, in 1 kg of solvent.
void solve_water(const WaterSystem& system, Workplace& place);

/// From the answer in place, of a water of other totals but the same ingredients: nearer and faster
/// than from nothing, and along the branch of that answer. Converged where the certificate holds;
/// else the place holds nothing.
void solve_near(const WaterSystem& system, Workplace& place);

/// The same as the options say: with its water activity held, `held.water_activity`, the water in
/// place is the one in 1 kg of the solvent that is then present.
void solve_as_asked(const WaterSystem& system, const HeldWater& held, Workplace& place);

/// mol/kg dissolved of a hydrate with `water` H2O from which a second answer may exist.
[[nodiscard]] double second_answer_moles(double water);

/// What is held in a water by name. Throws InputError as `held_of` by value, UnknownName for a gas.
[[nodiscard]] HeldWater held_of(const WaterSystem& system, const EquilibriumInput& input);
/// What was weighed in, by column of the system. Throws UnknownName and InputError.
[[nodiscard]] std::vector<double> totals_of(const WaterSystem& system,
                                            const EquilibriumInput& input);

/// The amount of an ingredient. Throws InputError unless it is 0, or 1e-30 to 1000 mol/kg.
double checked_total(const std::string& name, double value);

}  // namespace detail

struct Equilibrium::Impl {
  detail::WaterSystem system;
  mutable detail::Workshop workshop;

  void dissolved(const detail::Workplace& place, EquilibriumResult& result) const;
  void solids(const detail::Workplace& place, EquilibriumResult& result) const;
  void degenerate(const detail::Workplace& place, EquilibriumResult& result) const;
  void gases(const detail::Workplace& place, EquilibriumResult& result) const;
  void warnings(const detail::Workplace& place, EquilibriumResult& result) const;
  EquilibriumResult report(const detail::Workplace& place) const;
  static double potential(const detail::Workplace& place, std::size_t column);
  std::vector<double> full_lambda(const detail::Workplace& place) const;
};

}  // namespace aeruca
