// Water activity held: how much solvent there is. With totals T per kg of water as given and W kg
// of solvent, the water that is solved is T / W in 1 kg; W is the root of
//   y(ln W) = ln(ln a_w / ln a_held),
// whose slope is -1 where dilute (ln a_w = -M_w sum m) and 0 where solids take up what is lost; it
// never rises, for more water dilutes. On the way each water is solved from the one before; the last
// one from nothing, with all that a water is put to, and where that is another answer, all of them.

#include <algorithm>
#include <cmath>

#include "aeruca/constants.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "equilibrium/workplace.hpp"

namespace aeruca::detail {

namespace {

constexpr double kFound = 1e-11;        // |y|, next to the rounding of ln a_w
constexpr double kSame = 1e-9;          // |y| of the same water solved from nothing
constexpr double kMostWeighedIn = 1e6;  // mol/kg of solvent: what is left then has dried up
constexpr double kLeastWeighedIn = 1e-9;
constexpr double kBeyond = 0.02;  // of a step that is to change the sign
constexpr double kFurthest = 3;   // one step of ln W
constexpr int kMostTurns = 80;

// Enough of them to tell it from 1.
std::string in_digits(double water_activity) {
  return format_number(water_activity, water_activity > 0.999 ? 9 : 4);
}

class SolventSought {
 public:
  SolventSought(const WaterSystem& system, double ln_held, Workplace& place)
      : system_(system), ln_held_(ln_held), place_(place), given_(place.water.chemistry.totals) {
    for (std::size_t j = 0; j < given_.size(); ++j) {
      if (place.water.chemistry.kind[j] == ColumnKind::mass) moles_ += given_[j];
    }
    if (moles_ > 0) return;
    throw InputError("totals_mol_per_kg", "nothing",
                     "something to dissolve where the water activity is held");
  }

  void find() {
    place_.status = Status::iteration_limit;  // nothing to start from
    if (bracket()) close_in();
    place_.solver.iterations = place_.certificate.iterations = iterations_;
    if (place_.status != Status::converged) return;
    double& error = place_.certificate.activity_error;
    error = std::max(error, std::abs(ln_water() - ln_held_));
    if (!place_.certificate.holds()) place_.status = Status::iteration_limit;
  }

 private:
  struct End {
    double x = 0, y = 0;
  };
  // How the next water is solved.
  enum class Way { near, from_nothing };

  [[nodiscard]] double ln_water() const { return place_.inspection.values.ln_water_activity; }

  // y at ln W = x; NaN without an answer there. Above 0: too little water.
  double off(double x) {
    place_.solvent_kg = std::exp(x);
    auto& totals = place_.water.chemistry.totals;
    for (std::size_t j = 0; j < totals.size(); ++j) totals[j] = given_[j] / place_.solvent_kg;
    const bool near = way_ == Way::near && place_.status == Status::converged;
    if (near) solve_near(system_, place_);
    if (!near || place_.status != Status::converged) solve_water(system_, place_);
    iterations_ += place_.solver.iterations;
    if (place_.status != Status::converged) return kNotGiven;
    return std::log(std::max(-ln_water(), 1e-300) / -ln_held_);
  }

  // Two ends with a root between; false where there is none, or no answer on the way.
  bool bracket() {
    const double least = std::log(moles_ / kMostWeighedIn);
    const double most = std::log(moles_ / kLeastWeighedIn);
    double x = std::clamp(std::log(kWaterMolarMass * moles_ / -ln_held_), least, most);
    double y = off(x);
    for (int turn = 0; std::isnan(y) && turn < kMostTurns && x < most; ++turn)
      y = off(x = std::min(x + 0.5, most));
    for (int turn = 0; turn < kMostTurns && !std::isnan(y); ++turn) {
      (y > 0 ? dry_ : wet_) = {x, y};
      (y > 0 ? has_dry_ : has_wet_) = true;
      if (has_dry_ && has_wet_) return true;
      if (y > 0 ? x >= most : x <= least) return refuse(y > 0);
      const double step = std::clamp(y + std::copysign(kBeyond, y), -kFurthest, kFurthest);
      // Where solids take up what is lost y stands still: strides grow.
      x = std::clamp(x + step * (1 + turn), least, most);
      y = off(x);
    }
    explain_failure();
    return false;
  }

  // False position, the older end weighed half (Dowell and Jarratt 1971), and the middle where
  // that is slow.
  void close_in() {
    const End dry = dry_;
    const End wet = wet_;
    if (!close_in_by_steps() || way_ == Way::from_nothing) return;
    way_ = Way::from_nothing;
    const double y = off(std::log(place_.solvent_kg));
    if (std::abs(y) < kSame) return;
    dry_ = dry;
    wet_ = wet;
    close_in_by_steps();
  }

  // False without an answer on the way.
  bool close_in_by_steps() {
    double kept_dry = dry_.y;
    double kept_wet = wet_.y;
    for (int turn = 0; turn < kMostTurns; ++turn) {
      const double width = wet_.x - dry_.x;
      double x = dry_.x + width * kept_dry / (kept_dry - kept_wet);
      if (turn % 4 == 3) x = dry_.x + 0.5 * width;
      const double y = off(x);
      if (std::isnan(y)) {
        explain_failure();
        return false;
      }
      if (std::abs(y) < kFound || x <= dry_.x || x >= wet_.x) return true;
      if (y > 0) {
        dry_ = {x, kept_dry = y};
        kept_wet *= 0.5;
      } else {
        wet_ = {x, kept_wet = y};
        kept_dry *= 0.5;
      }
    }
    return true;
  }

  bool refuse(bool too_low) {
    const std::string held = in_digits(std::exp(ln_held_));
    const std::string reached = in_digits(std::exp(ln_water()));
    place_.status = Status::infeasible;
    place_.certificate.mass_balance = kNotGiven;  // holds nothing
    place_.message =
        say(too_low ? "equilibrium.water_activity.too_high" : "equilibrium.water_activity.dried_up",
            {{"held", held}, {"reached", reached}});
    return false;
  }

  void explain_failure() {
    if (place_.status == Status::converged) place_.status = Status::iteration_limit;
    place_.certificate.mass_balance = kNotGiven;
    place_.message = say("equilibrium.water_activity.no_answer",
                         {{"held", in_digits(std::exp(ln_held_))},
                          {"solvent_kg", format_number(place_.solvent_kg, 3)},
                          {"reason", place_.message}});
  }

  const WaterSystem& system_;
  double ln_held_;
  Workplace& place_;
  std::vector<double> given_;  // totals per kg of water given
  double moles_ = 0;           // of components in them
  End dry_, wet_;
  bool has_dry_ = false, has_wet_ = false;
  int iterations_ = 0;
  Way way_ = Way::near;
};

}  // namespace

void solve_as_asked(const WaterSystem& system, const HeldWater& held, Workplace& place) {
  place.solvent_kg = 1;
  if (system.options.solvent == Solvent::one_kg) {
    solve_water(system, place);
  } else {
    SolventSought(system, std::log(held.water_activity), place).find();
  }
}

}  // namespace aeruca::detail
