// The guide to minerals: what fits what was seen, which test tells more, and that it is no verdict.

#include "aeruca/minerals.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "aeruca/errors.hpp"
#include "catch.hpp"

using namespace aeruca;

namespace {

MineralIdentification seen(const std::vector<std::string>& words) {
  return identify_mineral(*default_dataset(), words);
}

bool holds(const std::vector<MineralCandidate>& candidates, const std::string& name) {
  return std::any_of(candidates.begin(), candidates.end(),
                     [&](const MineralCandidate& one) { return one.name == name; });
}

}  // namespace

TEST_CASE("every solid of the data set is in the guide, with its own formula") {
  const auto dataset = default_dataset();
  for (const Species& species : dataset->species) {
    if (species.kind != PhaseKind::solid) continue;
    INFO(species.name);
    CHECK(dataset->mineral(species.name).formula == species.formula);
  }
}

TEST_CASE("a molar volume is the molar mass over the density") {
  const auto dataset = default_dataset();
  // CuCl, 98.999 g/mol at 4.14 g/cm3; Cu2O, 143.091 at 6.1
  const double nantokite = dataset->mineral("nantokite").molar_volume_cm3_per_mol();
  CHECK(std::abs(nantokite - 98.999 / 4.14) < 0.01);
  const double doubt = dataset->mineral("cuprite").molar_volume_uncertainty();
  CHECK(std::abs(doubt - 143.091 / 6.1 * 0.05 / 6.1) < 0.001);
  CHECK(std::isnan(dataset->mineral("copper soap").molar_volume_cm3_per_mol()));
  CHECK(std::isnan(dataset->mineral("calumetite").molar_volume_cm3_per_mol()));
}

TEST_CASE("each density of the guide has a figure with a source and a basis") {
  const auto dataset = default_dataset();
  int known = 0;
  for (const Mineral& mineral : dataset->minerals) {
    INFO(mineral.name);
    CHECK(std::isnan(mineral.density_g_per_cm3) == mineral.density_figure.empty());
    if (mineral.density_figure.empty()) continue;
    CHECK(dataset->figure(mineral.density_figure).value == mineral.density_g_per_cm3);
    known += 1;
  }
  CHECK(known > 80);
}

TEST_CASE("pale green powder with a silver cloud is a trihydroxychloride and no verdict") {
  const auto found =
      seen({"colour=pale-green", "powdery", "cold-water=stays", "silver-nitrate=cloud"});
  REQUIRE(found.candidates.size() >= 4);
  for (std::size_t i = 0; i < 4; ++i) CHECK(found.candidates[i].group == "trihydroxychloride");
  CHECK_FALSE(holds(found.candidates, "malachite"));
  CHECK(found.activity.find("No solid is a verdict") == 0);
  // How each test may have misled, and the data sheet of the silver.
  CHECK(found.misled.size() == 4);
  CHECK(std::any_of(found.cautions.begin(), found.cautions.end(), [](const std::string& one) {
    return one.find("Silver nitrate is corrosive") != std::string::npos &&
           one.find("safety data sheet") != std::string::npos;
  }));
}

TEST_CASE(
    "of green powder the next test is the one that parts chloride from carbonate and sulfate") {
  const auto found = seen({"colour=green", "powdery", "cold-water=stays"});
  CHECK(found.candidates.front().group == "trihydroxychloride");
  REQUIRE(found.next);
  CHECK(found.next->test == "silver-nitrate");
  const auto& leaves = found.next->leaves;
  REQUIRE(leaves.size() == 2);
  CHECK(leaves[0].outcome == "cloud");
  CHECK(leaves[0].minerals.front() == found.candidates.front().name);
  const auto& clear = leaves[1].minerals;
  CHECK(std::find(clear.begin(), clear.end(), "malachite") != clear.end());
  CHECK(std::find(clear.begin(), clear.end(), "atacamite") == clear.end());
}

TEST_CASE("what fizzes is told from what does not, and compact green that fizzes is malachite") {
  const auto found = seen({"green", "compact", "fizz"});
  CHECK(found.candidates.front().name == "malachite");
  CHECK_FALSE(holds(found.candidates, "brochantite"));
  CHECK_FALSE(holds(found.candidates, "atacamite"));
}

TEST_CASE("waxy grey with a cloud is nantokite before horn silver") {
  const auto found = seen({"grey", "waxy", "cloud"});
  CHECK(found.candidates.front().name == "nantokite");
  CHECK(holds(found.candidates, "chlorargyrite"));  // the guide knows no silver test of it
  const auto silver =
      std::find_if(found.candidates.begin(), found.candidates.end(),
                   [](const MineralCandidate& one) { return one.name == "chlorargyrite"; });
  CHECK(silver->silent == 1);
}

TEST_CASE("an observation that no mineral fits is said so, with the nearest") {
  const auto found = seen({"blue", "waxy", "fizz", "cloud"});
  CHECK(found.candidates.empty());
  CHECK_FALSE(found.next);
  CHECK(found.nearest.size() == 3);
  CHECK(found.message.find("no mineral of the guide fits all that was seen (blue, waxy, fizz, "
                           "cloud); nearest is") == 0);
  for (std::size_t i = 1; i < 3; ++i)
    CHECK(found.nearest[i - 1].against.size() <= found.nearest[i].against.size());
}

TEST_CASE("where no test of the guide is left that parts them it says so") {
  const auto found = seen({"pale-green", "powdery", "stays", "cloud", "quiet"});
  CHECK_FALSE(found.next);
  CHECK(found.message.find("X-ray diffraction or Raman") != std::string::npos);
}

TEST_CASE("more that is seen never lets a mineral in") {
  const auto dataset = default_dataset();
  std::vector<std::string> words;
  std::set<std::string> left;
  for (const Mineral& mineral : dataset->minerals) left.insert(mineral.name);
  for (const char* word : {"green", "compact", "stays", "clear", "fizz"}) {
    words.emplace_back(word);
    std::set<std::string> now;
    for (const MineralCandidate& one : seen(words).candidates) now.insert(one.name);
    CHECK(std::includes(left.begin(), left.end(), now.begin(), now.end()));
    left = now;
  }
  CHECK(left == std::set<std::string>{"malachite"});
}

TEST_CASE("an observation is refused in one sentence when the guide cannot read it") {
  CHECK_THROWS_WITH(seen({}), "seen = nothing: accepted is one observation or more");
  CHECK_THROWS_WITH(seen({"powdry"}), "no observation named 'powdry'; nearest is 'powdery'");
  CHECK_THROWS_WITH(seen({"color=green"}), "no field test named 'color'; nearest is 'colour'");
  CHECK_THROWS_WITH(seen({"acid=cloud"}),
                    "seen = acid=cloud: accepted is acid= one of fizz, quiet");
  CHECK_THROWS_WITH(seen({"green", "blue"}),
                    "seen = blue: accepted is one outcome of each test, and 'green' is one of the "
                    "same (colour); one grain at a time");
  CHECK_THROWS_AS(default_dataset()->mineral("atacamit"), UnknownName);
  CHECK(default_dataset()->mineral("blue vitriol").name == "chalcanthite");
  // a name of several is a name of none
  CHECK_THROWS_AS(default_dataset()->mineral("basic copper chloride"), UnknownName);
}
