// Once a place to solve in has been used, no water of its kind asks for memory.

#include <atomic>
#include <cmath>
#include <cstdlib>
#include <new>
#include <random>
#include <vector>

#include "aeruca/equilibrium.hpp"
#include "catch.hpp"
#include "equilibrium/workplace.hpp"

namespace {

std::atomic<long> asked{0};  // how often memory was

}  // namespace

// All that deletes by these is replaced here, so they do match; g++ 12 looks at each by itself.
#pragma GCC diagnostic push
#ifndef __clang__
#pragma GCC diagnostic ignored "-Wmismatched-new-delete"
#endif
// NOLINTBEGIN(cppcoreguidelines-no-malloc,cppcoreguidelines-owning-memory)
void* operator new(std::size_t size) {
  ++asked;
  if (void* place = std::malloc(size == 0 ? 1 : size)) return place;
  throw std::bad_alloc();
}
void* operator new(std::size_t size, const std::nothrow_t& /*unused*/) noexcept {
  ++asked;
  return std::malloc(size == 0 ? 1 : size);
}
void operator delete(void* place) noexcept {
  std::free(place);
}
void operator delete(void* place, std::size_t) noexcept {
  std::free(place);
}
// NOLINTEND(cppcoreguidelines-no-malloc,cppcoreguidelines-owning-memory)
#pragma GCC diagnostic pop

using namespace aeruca;
using namespace aeruca::detail;

namespace {

struct Given {
  std::vector<double> totals;
  HeldWater held;
};

std::vector<Given> waters_of(const WaterSystem& system) {
  std::mt19937_64 random(3);
  const auto between = [&](double a, double b) {
    return std::uniform_real_distribution<>(a, b)(random);
  };
  std::vector<Given> waters(200);
  for (Given& water : waters) {
    water.totals.assign(system.columns.size(), 0);
    for (std::size_t j = 2; j < system.columns.size(); ++j)
      water.totals[j] = std::pow(10, between(-5, -1.3));
    water.held.ph = between(3, 10);
    water.held.eh_v = between(0, 0.6);
  }
  return waters;
}

long asked_by(const WaterSystem& system, const std::vector<Given>& waters, Workplace& place) {
  const long before = asked;
  for (const Given& water : waters) {
    fill_water(system, water.totals, water.held, place.water);
    solve_water(system, place);
  }
  return asked - before;
}

}  // namespace

TEST_CASE("a used workplace asks for no memory, with any activity model, solids or none") {
  for (const ActivityModel model :
       {ActivityModel::ideal, ActivityModel::dilute, ActivityModel::sit, ActivityModel::pitzer}) {
    for (const Precipitation solids : {Precipitation::none, Precipitation::allowed}) {
      EquilibriumOptions options;
      options.activity = model;
      options.precipitation = solids;
      options.components = {"Na(+)", "Cl(-)", "Ca(2+)", "SO4(2-)"};
      if (model != ActivityModel::pitzer) options.components.emplace_back("Cu(2+)");
      const WaterSystem system = make_system(default_dataset(), options);
      const std::vector<Given> waters = waters_of(system);
      Workplace place;
      CHECK(asked_by(system, waters, place) > 0);
      CAPTURE(to_string(model), to_string(solids), to_string(place.status));
      CHECK(asked_by(system, waters, place) == 0);
    }
  }
}
