#include "equilibrium/lane_batch.hpp"

#include <algorithm>
#include <cmath>

#include "equilibrium/refusals.hpp"

namespace aeruca::detail {

namespace {

constexpr int kMostChanges = 8;  // of the solids of one water; then it is solved alone

}  // namespace

LaneBatch::LaneBatch(const WaterSystem& system, ColumnWriter& out)
    : system_(system), out_(out), kernel_(lane_kernels().back()) {
  for (auto* by_lane : {&ln_water_, &strength_, &outcome_, &solid_}) by_lane->resize(kernel_.width);
}

LaneBatch::Kind& LaneBatch::kind_of(const Water& water) {
  if (last_kind_ != nullptr && last_kind_->water.present == water.present) return *last_kind_;
  const auto [place, is_new] = kinds_.try_emplace(water.present);
  if (is_new) place->second.water = water;
  last_kind_ = &place->second;
  return place->second;
}

bool LaneBatch::add(const Water& water, std::size_t r) {
  if (system_.options.solvent == Solvent::water_activity) return false;
  if (system_.options.starts == Starts::several) return false;
  Kind& kind = kind_of(water);
  if (!kind.served) return false;
  const Chemistry& chemistry = water.chemistry;
  if (kind.bare == nullptr) {
    kind.bare = group_of(kind, {r, 0, chemistry.totals, chemistry.pinned.constant, {}, {}});
    kind.served = kind.bare != nullptr;
    if (!kind.served) return false;
  }
  Waiting& place = kind.bare->waiting[kind.bare->count];
  place.row = r;
  place.changes = 0;
  place.totals.assign(chemistry.totals.begin(), chemistry.totals.end());
  const std::vector<double>& pinned = chemistry.pinned.constant;
  place.pinned.assign(pinned.begin(), pinned.end());
  join(*kind.bare);
  return true;
}

// One more waits; a full group is solved.
void LaneBatch::join(Group& group) {
  if (++group.count == kernel_.width) run(group);
}

// The group of a water, made when it is the first of its like; null when its solids depend on each
// other or lanes do not serve.
LaneBatch::Group* LaneBatch::group_of(Kind& kind, const Waiting& water) {
  Chemistry& chemistry = kind.water.chemistry;
  chemistry.totals = water.totals;
  chemistry.pinned.constant = water.pinned;
  if (!ties_.reset(chemistry)) return nullptr;
  for (const std::size_t s : water.solids) {
    if (!ties_.add_phase(chemistry, s)) return nullptr;
  }
  std::string key(kind.water.present.begin(), kind.water.present.end());
  key += water.start.empty() ? 'n' : 's';
  for (const std::size_t s : ties_.phases()) key += static_cast<char>(s);
  for (const std::size_t j : ties_.pivots()) key += static_cast<char>(j);
  const auto found = groups_.find(key);
  if (found != groups_.end()) return &found->second;
  auto plan = make_lane_plan(system_, kind.water, ties_);
  if (!plan) return nullptr;
  Group& group = groups_[key];
  group.kind = &kind;
  group.plan = std::move(*plan);
  group.waiting.resize(kernel_.width);
  return &group;
}

void LaneBatch::send(Kind& kind, Waiting water) {
  Group* group = group_of(kind, water);
  if (group == nullptr) {
    alone_.push_back(water.row);
    return;
  }
  group->waiting[group->count] = std::move(water);
  join(*group);
}

void LaneBatch::load(const Group& group) {
  const std::size_t width = kernel_.width;
  const LanePlan& plan = group.plan;
  totals_.resize(plan.columns * width);
  tied_.resize(plan.tied * width);
  start_.resize(plan.columns * width);
  ln_molality_.resize(plan.species * width);
  lambda_.resize(plan.columns * width);
  amount_.assign(plan.solids.size() * width, 0);
  scratch_.resize(std::max(scratch_.size(), plan.scratch(width)));
  for (std::size_t l = 0; l < width; ++l) {
    // A group that is not full repeats its first water.
    const Waiting& water = group.waiting[l < group.count ? l : 0];
    for (std::size_t j = 0; j < plan.columns; ++j) totals_[j * width + l] = water.totals[j];
    for (std::size_t k = 0; k < plan.pinned; ++k) tied_[k * width + l] = water.pinned[k];
    for (std::size_t k = plan.pinned; k < plan.tied; ++k)
      tied_[k * width + l] = plan.tied_constant[k - plan.pinned];
    for (std::size_t j = 0; j < water.start.size(); ++j) start_[j * width + l] = water.start[j];
  }
}

void LaneBatch::run(Group& group) {
  load(group);
  const bool started = !group.waiting.front().start.empty();
  kernel_.solve(group.plan.view(),
                {totals_.data(), tied_.data(), started ? start_.data() : nullptr,
                 ln_molality_.data(), lambda_.data(), amount_.data(), ln_water_.data(),
                 strength_.data(), outcome_.data(), solid_.data()},
                scratch_.data());
  std::vector<Waiting> on;
  for (std::size_t l = 0; l < group.count; ++l) {
    switch (static_cast<LaneOutcome>(static_cast<int>(outcome_[l]))) {
      case kHeld:
        store(group, l);
        break;
      case kAddSolid:
      case kDropSolid:
        change_solids(group, l, on);
        break;
      case kAlone:
        alone_.push_back(group.waiting[l].row);
        break;
    }
  }
  group.count = 0;
  for (Waiting& water : on) send(*group.kind, std::move(water));
}

void LaneBatch::change_solids(const Group& group, std::size_t lane, std::vector<Waiting>& on) {
  Waiting water = group.waiting[lane];
  if (++water.changes > kMostChanges) {
    alone_.push_back(water.row);
    return;
  }
  const auto solid = static_cast<std::size_t>(solid_[lane]);
  if (static_cast<int>(outcome_[lane]) == kAddSolid) {
    water.solids.push_back(solid);
  } else {
    std::erase(water.solids, solid);
  }
  std::sort(water.solids.begin(), water.solids.end());
  water.start.resize(group.plan.columns);
  for (std::size_t j = 0; j < water.start.size(); ++j)
    water.start[j] = lambda_[j * kernel_.width + lane];
  on.push_back(std::move(water));
}

void LaneBatch::finish() {
  bool any = true;
  while (any) {
    any = false;
    for (auto& [key, group] : groups_) {
      if (group.count == 0) continue;
      any = true;
      run(group);
    }
  }
}

void LaneBatch::take_molality(const Group& group, std::size_t lane) {
  molality_.resize(group.plan.species);
  for (std::size_t i = 0; i < molality_.size(); ++i)
    molality_[i] = std::exp(ln_molality_[i * kernel_.width + lane]);
}

// An answer that rests on estimates too rough to carry it is none.
bool LaneBatch::rests_on_estimates(const Group& group) {
  return !system_.estimated_pairs.empty() &&
         !doubtful_pairs(system_, group.kind->water, molality_, kTooDoubtful).empty();
}

// The balance of electrons that lanes solve leaves the potential to rounding: alone, another stands
// for it (valence_balance.hpp).
bool LaneBatch::drowns_electrons(const Group& group) {
  if (system_.options.redox != Redox::conserved) return false;
  const LanePlan& plan = group.plan;
  held_.assign(plan.free, 0);
  for (std::size_t i = 0; i < plan.species; ++i) {
    for (std::size_t f = 0; f < plan.free; ++f)
      held_[f] += plan.reduced[i * plan.free + f] * molality_[i];
  }
  valence_.choose(
      {plan.reduced, molality_, held_, plan.free_column, group.kind->water.chemistry.kind});
  return valence_.place != kNone;
}

void LaneBatch::store(const Group& group, std::size_t lane) {
  const std::size_t width = kernel_.width;
  const std::size_t row = group.waiting[lane].row;
  if (!system_.estimated_pairs.empty() || system_.options.redox == Redox::conserved)
    take_molality(group, lane);
  if (rests_on_estimates(group)) {
    out_.write_status(row, Status::no_parameters);
    return;
  }
  if (drowns_electrons(group)) {
    alone_.push_back(row);
    return;
  }
  RowAnswer answer;
  answer.water = &group.kind->water;
  answer.ln_molality = {ln_molality_.data() + lane, width};
  answer.lambda = {lambda_.data() + lane, width};
  answer.solids = group.plan.solids;
  answer.amount = {amount_.data() + lane, width};
  answer.ln_water = ln_water_[lane];
  answer.ionic_strength = strength_[lane];
  out_.write(row, answer);
}

}  // namespace aeruca::detail
