#pragma once

// A share of a batch in lanes: waters that hold the same components, with the same solids thought
// to be present, wait in a group until it is full and are then solved side by side. A water whose
// solids turn out otherwise goes on to another group, from the potentials it has reached itself;
// one that the lanes cannot serve is named for the single solver.

#include <map>
#include <string>
#include <vector>

#include "equilibrium/batch_columns.hpp"
#include "equilibrium/lane_plan.hpp"
#include "equilibrium/valence_balance.hpp"

namespace aeruca::detail {

class LaneBatch {
 public:
  LaneBatch(const WaterSystem& system, ColumnWriter& out);

  /// Takes in the water that is filled in for row `r`. False when lanes do not serve its kind.
  bool add(const Water& water, std::size_t r);
  /// Solves what still waits in groups that are not full.
  void finish();
  /// Rows to be solved alone, as they came up.
  [[nodiscard]] const std::vector<std::size_t>& alone() const { return alone_; }

 private:
  struct Waiting {  // one water on its way
    std::size_t row = 0;
    int changes = 0;  // of its solids so far
    std::vector<double> totals, pinned, start;
    std::vector<std::size_t> solids;
  };
  struct Group;
  struct Kind {  // waters that hold the same components
    Water water;
    bool served = true;
    Group* bare = nullptr;  // of those without a solid: what is pinned alone decides on it
  };
  struct Group {
    Kind* kind = nullptr;
    LanePlan plan;
    std::vector<Waiting> waiting;  // room for a kernel full, kept from group to group
    std::size_t count = 0;         // of those that wait
  };

  Kind& kind_of(const Water& water);
  void send(Kind& kind, Waiting water);
  Group* group_of(Kind& kind, const Waiting& water);
  void join(Group& group);
  void run(Group& group);
  void load(const Group& group);
  void store(const Group& group, std::size_t lane);
  void take_molality(const Group& group, std::size_t lane);
  bool rests_on_estimates(const Group& group);
  bool drowns_electrons(const Group& group);
  void change_solids(const Group& group, std::size_t lane, std::vector<Waiting>& on);

  const WaterSystem& system_;
  ColumnWriter& out_;
  const LaneKernel& kernel_;
  std::map<std::vector<char>, Kind> kinds_;
  Kind* last_kind_ = nullptr;
  std::map<std::string, Group> groups_;
  std::vector<std::size_t> alone_;
  Ties ties_;
  // In and out of the kernel, by lane.
  std::vector<double> totals_, tied_, start_, ln_molality_, lambda_, amount_, ln_water_, strength_,
      outcome_, solid_, scratch_;
  std::vector<double> molality_, held_;  // of one lane: of the species, and in each free balance
  ValenceBalance valence_;
};

}  // namespace aeruca::detail
