// Regions traced from labels alone, against shapes whose areas and boundaries are known.

#include "numerics/trace_regions.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <set>

#include "catch.hpp"

using namespace aeruca::detail;

namespace {

using Label = std::function<int(Point2)>;

constexpr double kWidth = 1400;
constexpr double kHeight = 900;

TracedPlane traced(const Label& label, int cells = 16) {
  return trace_regions(
      [&](std::span<const Point2> points, std::span<int> labels) {
        std::transform(points.begin(), points.end(), labels.begin(), label);
      },
      kWidth, kHeight, cells);
}

double area_of(const TracedPlane& plane, int label) {
  double area = 0;
  for (const TracedRegion& region : plane.regions) {
    if (region.label != label) continue;
    for (const Polygon2& outline : region.outlines) area += signed_area(outline);
  }
  return area;
}

double all_area(const TracedPlane& plane) {
  double area = 0;
  for (const TracedRegion& region : plane.regions) area += area_of(plane, region.label);
  return area;
}

int nearest_seed(Point2 p) {
  static const std::vector<Point2> seeds{{200, 150}, {700, 120}, {1200, 300},
                                         {350, 700}, {820, 520}, {1100, 820}};
  std::size_t nearest = 0;
  for (std::size_t k = 1; k < seeds.size(); ++k) {
    if (std::hypot(p.x - seeds[k].x, p.y - seeds[k].y) <
        std::hypot(p.x - seeds[nearest].x, p.y - seeds[nearest].y))
      nearest = k;
  }
  return static_cast<int>(nearest);
}

}  // namespace

TEST_CASE("a frame of one label is one region without a boundary") {
  const TracedPlane plane = traced([](Point2) { return 7; });
  REQUIRE(plane.regions.size() == 1);
  CHECK(plane.boundaries.empty());
  CHECK(area_of(plane, 7) == kWidth * kHeight);
}

TEST_CASE("a straight boundary is a straight line from side to side") {
  const TracedPlane plane = traced([](Point2 p) { return p.y > 0.41 * p.x + 100 ? 1 : 0; });
  REQUIRE(plane.boundaries.size() == 1);
  CHECK(plane.boundaries[0].line.size() <= 4);
  for (const Point2& p : plane.boundaries[0].line)
    CHECK(std::abs(p.y - 0.41 * p.x - 100) / std::hypot(1, 0.41) < 0.4);
  CHECK(std::abs(area_of(plane, 0) - (0.41 * kWidth / 2 + 100) * kWidth) < 0.4 * kWidth);
  CHECK(std::abs(all_area(plane) - kWidth * kHeight) < 1e-6);
}

TEST_CASE("a ring has a hole, and an island in it is an outline of its own") {
  const auto from_centre = [](Point2 p) { return std::hypot(p.x - 640, p.y - 430); };
  const TracedPlane plane = traced([&](Point2 p) {
    const double r = from_centre(p);
    return r < 120 ? 2 : r < 333 ? 1 : 0;
  });
  CHECK(std::abs(area_of(plane, 2) - std::numbers::pi * 120 * 120) < 2 * std::numbers::pi * 120);
  CHECK(std::abs(area_of(plane, 1) + area_of(plane, 2) - std::numbers::pi * 333 * 333) <
        2 * std::numbers::pi * 333);
  for (const TracedRegion& region : plane.regions)
    CHECK(region.outlines.size() == (region.label == 2 ? 1U : 2U));
  for (const TracedBoundary& boundary : plane.boundaries) {
    const double radius = std::min(boundary.left, boundary.right) == 0 ? 333 : 120;
    for (const Point2& p : boundary.line) CHECK(std::abs(from_centre(p) - radius) < 0.6);
  }
}

TEST_CASE("where several regions meet is found to the tolerance") {
  const TracedPlane plane = traced(nearest_seed);
  CHECK(plane.regions.size() == 6);
  CHECK(std::abs(all_area(plane) - kWidth * kHeight) < 1e-6);
  CHECK(plane.junctions.size() >= 4);
  for (const Junction& junction : plane.junctions) {
    CHECK(junction.labels.size() == 3);
    std::set<int> around;
    for (int k = 0; k < 360; ++k) {
      const double angle = k * std::numbers::pi / 180;
      around.insert(nearest_seed(
          {junction.at.x + 1.5 * std::cos(angle), junction.at.y + 1.5 * std::sin(angle)}));
    }
    CHECK(around == std::set<int>(junction.labels.begin(), junction.labels.end()));
  }
}

TEST_CASE("left and right of every boundary are the labels there") {
  for (const Label& label :
       {Label(nearest_seed), Label([](Point2 p) {
          return static_cast<int>(3 + 3 * std::sin(p.x / 190) * std::cos(p.y / 140));
        })}) {
    const TracedPlane plane = traced(label, 24);
    for (const TracedBoundary& boundary : plane.boundaries) {
      for (std::size_t k = 0; k + 1 < boundary.line.size(); ++k) {
        const Point2 a = boundary.line[k];
        const Point2 b = boundary.line[k + 1];
        const double length = std::hypot(b.x - a.x, b.y - a.y);
        if (length < 6) continue;
        const auto beside = [&](double d) {
          return label({0.5 * (a.x + b.x) - d * (b.y - a.y) / length,
                        0.5 * (a.y + b.y) + d * (b.x - a.x) / length});
        };
        CHECK(beside(1) == boundary.left);
        CHECK(beside(-1) == boundary.right);
      }
    }
    CHECK(std::abs(all_area(plane) - kWidth * kHeight) < 1e-6);
  }
}

TEST_CASE("a saddle, where two regions touch corner to corner, is one junction") {
  const TracedPlane plane = traced([](Point2 p) { return (p.x > 517.3) == (p.y > 333.3) ? 1 : 0; });
  REQUIRE(plane.junctions.size() == 1);
  CHECK(std::hypot(plane.junctions[0].at.x - 517.3, plane.junctions[0].at.y - 333.3) < 1);
  CHECK(std::abs(all_area(plane) - kWidth * kHeight) < 1e-6);
}

TEST_CASE("an island as wide as a cell is found by the middles") {
  const TracedPlane plane =
      traced([](Point2 p) { return std::hypot(p.x - 656.25, p.y - 421.875) < 25 ? 1 : 0; });
  CHECK(std::abs(area_of(plane, 1) - std::numbers::pi * 625) < 100);
}
