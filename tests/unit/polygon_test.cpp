#include "numerics/polygon.hpp"

#include <cmath>

#include "catch.hpp"
#include "numerics/express.hpp"
#include "numerics/subdivision.hpp"

using namespace aeruca::detail;

namespace {

const Polygon2 kSquare{{0, 0}, {1, 0}, {1, 1}, {0, 1}};
constexpr double kRounding = 1e-14;

bool equal(double a, double b) {
  return std::abs(a - b) <= kRounding;
}

}  // namespace

TEST_CASE("the side of a point changes sign with the half-plane and not with its scale") {
  const Plane h{-0.3, 1, -0.5};
  for (const Point2 p : {Point2{0.3, 0}, Point2{0.8, 1}, Point2{0.1, 0.7}, Point2{0.9, 0.1}}) {
    CHECK(side(-1.0 * h, p) == -side(h, p));
    CHECK(side(1e-9 * h, p) == side(h, p));
    CHECK(side(1e9 * h, p) == side(h, p));
  }
  CHECK(side(h, {0.3, 0}) == 0);
  CHECK(side(Plane{}, {0.4, 0.4}) == 0);
}

TEST_CASE("a cut leaves two parts that add up to the whole") {
  const Plane h{-0.4, 0.9, 0.3};
  const Polygon2 above = clip(kSquare, h);
  const Polygon2 below = clip(kSquare, -1.0 * h);
  CHECK(signed_area(above) > 0);
  CHECK(signed_area(below) > 0);
  CHECK(equal(signed_area(above) + signed_area(below), 1));
}

TEST_CASE("a cut that only touches the rim leaves nothing or everything") {
  CHECK(clip(kSquare, {-1, 1, 0}).empty());
  CHECK(equal(signed_area(clip(kSquare, {0, 1, 0})), 1));
  CHECK(clip(kSquare, {-2, 1, 1}).empty());  // only the corner (1, 1)
  CHECK(clip(kSquare, Plane{}).empty());
}

TEST_CASE("of equal planes the first takes the frame") {
  const auto parts = upper_envelope({{1, 2, 3}, {1, 2, 3}, {0, 2, 3}}, kSquare);
  CHECK(equal(signed_area(parts[0]), 1));
  CHECK(parts[1].empty());
  CHECK(parts[2].empty());
}

TEST_CASE("planes that differ by rounding count as equal") {
  const auto parts = upper_envelope({{0.1 + 0.2, 50, 0}, {0.3, 50, 0}}, kSquare);
  CHECK(equal(signed_area(parts[0]), 1));
  CHECK(parts[1].empty());
}

TEST_CASE("four planes through one line of corners share the square in quarters") {
  const auto parts = upper_envelope({{0, 0, 0}, {-0.5, 1, 0}, {-0.5, 0, 1}, {-1, 1, 1}}, kSquare);
  for (const Polygon2& part : parts) CHECK(equal(signed_area(part), 0.25));
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i < 4; ++i) pieces.push_back({parts[i], i, 0});
  const Subdivision net = subdivide(pieces);
  std::size_t corners = 0;
  for (const auto& labels : net.labels_at) corners += labels.size() == 4 ? 1 : 0;
  CHECK(corners == 1);
}

TEST_CASE("pieces of one label merge, and a vertex on the other's edge is seen") {
  const std::vector<Piece> pieces{{{{0, 0}, {0.5, 0}, {0.5, 1}, {0, 1}}, 7, 0},
                                  {{{0.5, 0}, {1, 0}, {1, 0.5}, {0.5, 0.5}}, 7, 1},
                                  {{{0.5, 0.5}, {1, 0.5}, {1, 1}, {0.5, 1}}, 8, 1}};
  const Subdivision net = subdivide(pieces);
  const auto outlines = net.outlines(7);
  REQUIRE(outlines.size() == 1);
  CHECK(outlines[0].size() == 6);
  CHECK(equal(signed_area(outlines[0]), 0.75));
}

TEST_CASE("a ring has a clockwise hole") {
  std::vector<Piece> pieces;
  for (const double x : {0.0, 1.0, 2.0}) {
    for (const double y : {0.0, 1.0, 2.0}) {
      const double l = x / 3, b = y / 3, r = (x + 1) / 3, t = (y + 1) / 3;
      pieces.push_back({{{l, b}, {r, b}, {r, t}, {l, t}}, x == 1 && y == 1 ? 1U : 0U, 0});
    }
  }
  const auto outlines = subdivide(pieces).outlines(0);
  REQUIRE(outlines.size() == 2);
  CHECK(equal(signed_area(outlines[0]) + signed_area(outlines[1]), 8.0 / 9));
  CHECK(signed_area(outlines[0]) * signed_area(outlines[1]) < 0);
  const InnerPoint inner = inner_point(outlines);
  CHECK(inner.room > 0.12);
  CHECK(distance_inside(outlines, inner.at) > 0.12);
  CHECK(distance_inside(outlines, {0.5, 0.5}) < 0);
}

TEST_CASE("parts that touch in a point stay apart") {
  const std::vector<Piece> pieces{{{{0, 0}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}}, 0, 0},
                                  {{{0.5, 0.5}, {1, 0.5}, {1, 1}, {0.5, 1}}, 0, 0},
                                  {{{0.5, 0}, {1, 0}, {1, 0.5}, {0.5, 0.5}}, 1, 0},
                                  {{{0, 0.5}, {0.5, 0.5}, {0.5, 1}, {0, 1}}, 1, 0}};
  const Subdivision net = subdivide(pieces);
  for (const std::size_t label : {0U, 1U}) {
    const auto outlines = net.outlines(label);
    REQUIRE(outlines.size() == 2);
    for (const auto& outline : outlines) CHECK(equal(signed_area(outline), 0.25));
  }
}

TEST_CASE("rows are written in terms of other rows, unless those are dependent") {
  const auto found = express({{3, 4}}, {{1, 1}, {1, 2}});
  REQUIRE(found);
  CHECK((*found)[0] == Row{2, 1});
  CHECK_FALSE(express({{3, 4}}, {{1, 2}, {2, 4}}));
}
