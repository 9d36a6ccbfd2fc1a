#include <algorithm>
#include <cmath>
#include <functional>

#include "base/text.hpp"
#include "base/words.hpp"
#include "path/follow.hpp"

namespace aeruca {
namespace {

using namespace detail;
using Points = std::vector<PathPoint>;

constexpr double kWithin = 1e-9;  // of the length of the path

double length_of(const PathWaters& waters) {
  return std::abs(waters.to() - waters.from());
}

// True once the solution has as much of the gas as the air.
PathPoints::Beyond air_reached(const PathWaters& waters) {
  return [target = std::log10(*waters.path().gas_bar),
          direction = waters.direction()](const PathPoint& point) {
    return point.answered && (point.log10_gas_bar - target) * direction >= 0;
  };
}

// The progress at which an aerated path has the gas of the air: by decades, then narrowed.
std::optional<double> progress_at_air(const PathWaters& waters, const PathPoints& points) {
  constexpr int kPerDecade = 8;
  constexpr int kFirst = -11 * kPerDecade;  // 1e-11 mol/kg
  constexpr int kLast = 2 * kPerDecade;     // 100
  std::vector<double> progress{0};
  for (int i = kFirst; i <= kLast; ++i)
    progress.push_back(waters.direction() * std::pow(10, double(i) / kPerDecade));
  const Points tried = points.solve(progress);
  const auto beyond = air_reached(waters);
  const auto first = std::find_if(tried.begin(), tried.end(), beyond);
  if (first == tried.end()) return std::nullopt;
  if (first == tried.begin()) return 0;
  return points.narrow(*(first - 1), *first, kWithin * std::abs(first->progress), beyond)
      .second.progress;
}

// Ends an aerated path at the air; true where it comes so far.
bool end_at_air(PathWaters& waters, const PathPoints& points) {
  const std::optional<double> air = progress_at_air(waters, points);
  const bool asked = waters.path().to.has_value();
  if (!air && !asked)
    throw InputError("to", "nothing",
                     "an end for this path: below 100 mol/kg of " + waters.path().gas +
                         " it does not come to " + format_number(*waters.path().gas_bar) +
                         " bar of it");
  if (!air || (asked && std::abs(*air) > std::abs(waters.to()))) return false;
  waters.end_at(*air);
  return true;
}

Points evenly(const PathWaters& waters, const PathPoints& points) {
  const int steps = waters.path().steps;
  std::vector<double> progress;
  for (int i = 0; i <= steps; ++i)
    progress.push_back(i == steps ? waters.to()
                                  : waters.from() + (waters.to() - waters.from()) * i / steps);
  if (length_of(waters) == 0) progress.resize(1);
  return points.solve(progress);
}

// Cuts a path off at its first point without an answer, as late as there are answers.
void cut_off(const PathWaters& waters, const PathPoints& points, Points& followed,
             PathResult& ended) {
  const auto first = std::find_if(followed.begin(), followed.end(),
                                  [](const PathPoint& point) { return !point.answered; });
  ended.status = Status::converged;
  if (first == followed.end()) return;
  double progress = first->progress;
  // Its reason is asked for there, clear of the rounding at the very end.
  const EquilibriumResult result = waters.solve(progress);
  const auto place = static_cast<std::size_t>(first - followed.begin());
  const PathPoint without = *first;
  followed.resize(place);
  if (place > 0) {
    const auto pair = points.narrow(followed.back(), without, kWithin * length_of(waters),
                                    [](const PathPoint& point) { return !point.answered; });
    if (pair.first.progress != followed.back().progress) followed.push_back(pair.first);
    progress = pair.second.progress;
  }
  ended.status = result.status == Status::converged ? Status::iteration_limit : result.status;
  ended.message = say(
      "path.ended",
      {{"progress", format_number(progress, 6)}, {"unit", ended.unit}, {"why", result.message}});
}

// Events between two neighbouring points, and the point behind each.
void add_events(const PathWaters& waters, const PathPoints& points, PathPoint before,
                const PathPoint& after, Points& behind, std::vector<PathEvent>& events) {
  const auto& solids = waters.system().allowed_solids();
  while (!before.same_solids(after)) {
    const auto [left, right] =
        points.narrow(before, after, kWithin * length_of(waters),
                      [&](const PathPoint& point) { return !point.same_solids(before); });
    for (std::size_t s = 0; s < solids.size(); ++s) {
      if ((left.solids[s] > 0) == (right.solids[s] > 0)) continue;
      events.push_back({right.solids[s] > 0 ? PathChange::appears : PathChange::disappears,
                        solids[s], right.progress, std::abs(right.progress - left.progress),
                        right.ph, right.eh_v});
    }
    if (right.progress == after.progress) return;
    behind.push_back(right);
    before = right;
  }
}

Points with_events(const PathWaters& waters, const PathPoints& points, const Points& followed,
                   std::vector<PathEvent>& events) {
  Points all;
  for (const PathPoint& point : followed) {
    if (!all.empty()) {
      const PathPoint before = all.back();
      add_events(waters, points, before, point, all, events);
    }
    all.push_back(point);
  }
  return all;
}

}  // namespace

PathResult follow_path(const std::shared_ptr<const Dataset>& dataset, const ReactionPath& path) {
  PathWaters waters(dataset, path);
  if (path.kind == PathKind::change_bath) return follow_baths(waters);
  const PathPoints points(waters);
  const bool air = path.kind == PathKind::aerate && end_at_air(waters, points);
  Points followed = evenly(waters, points);
  PathResult ended;
  ended.unit = unit_of(path.kind);
  cut_off(waters, points, followed, ended);
  std::vector<PathEvent> events;
  followed = with_events(waters, points, followed, events);
  PathResult result = result_of(waters, points, followed);
  result.status = ended.status;
  result.message = ended.message;
  result.events = std::move(events);
  if (air && ended.status == Status::converged) {
    const PathPoint& last = followed.back();
    result.events.push_back({PathChange::air_reached, "", last.progress,
                             kWithin * length_of(waters), last.ph, last.eh_v});
  }
  return result;
}

}  // namespace aeruca
