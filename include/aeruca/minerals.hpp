#pragma once

/// \file
/// Which solids a lifted grain may be, from what was seen of it, and which test tells them apart.
///
/// Words. *Seen*: one outcome of a field test (`mineral_records.hpp`), written `colour=pale-green`,
/// or `powdery` alone, for an outcome belongs to one test only. A mineral *fits* when nothing that
/// was seen speaks against it: each outcome is usual or possible for it, or the guide knows nothing
/// of that test for it.
///
/// Order. Candidates stand by how much of what was seen is usual for them, then by how much is
/// possible, then by how often they are met on copper alloys, then by name. That is a ranking, no
/// probability: nobody has counted grains, and a grain is often a mixture.
///
/// The next test is the one, of those not done yet, whose outcomes part most of the candidates that
/// mean something else than the first from those that mean the same; of equals the gentler (the
/// eye before the needle before water before acid, as the guide lists them). Minerals that mean the
/// same are not told apart: that takes X-ray diffraction or Raman spectra.
///
/// Not in it. Activity: no solid is a verdict, atacamite least of all. Each mineral says what it
/// means and what it does not; growth between dated photographs decides.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/dataset.hpp"

namespace aeruca {

/// One outcome of one field test.
struct MineralSight {
  std::string test;     ///< id of a FieldTest
  std::string outcome;  ///< one of its outcomes
};

/// A mineral beside what was seen.
struct MineralCandidate {
  std::string name, formula, group;
  int usual = 0;                     ///< of what was seen, so much is usual for it
  int possible = 0;                  ///< and so much possible
  int silent = 0;                    ///< of so many tests the guide knows nothing
  std::vector<std::string> against;  ///< outcomes that speak against it; empty: it fits
  Occurrence on_copper = Occurrence::rare;
};

/// What one outcome of a test would leave.
struct OutcomeLeaves {
  std::string outcome;
  std::vector<std::string> minerals;  ///< of the candidates, best first
};

/// A test that tells candidates apart.
struct NextFieldTest {
  std::string test, question, how, misleads, caution;  ///< as of the FieldTest
  std::vector<OutcomeLeaves> leaves;
};

/// What a grain may be.
struct MineralIdentification {
  std::vector<MineralSight> seen;
  std::vector<MineralCandidate> candidates;  ///< that fit, best first; empty: none does
  std::vector<MineralCandidate> nearest;     ///< where none fits: those with least against them
  std::optional<NextFieldTest> next;         ///< none: no test of the guide tells them apart
  std::string message;                       ///< that none fits, or that nothing tells apart
  std::string activity;                      ///< what this says of activity: no verdict
  std::vector<std::string> misled;           ///< how each test that was done may have misled
  std::vector<std::string> cautions;         ///< of the tests done and the next one
};

/// Reads one observation. Throws UnknownName for a test or an outcome that the guide does not have;
/// InputError for an outcome of another test.
[[nodiscard]] MineralSight mineral_sight(const Dataset& dataset, std::string_view text);

/// What a grain may be of which this was seen, each written as `mineral_sight` reads it. Throws as
/// that does, and InputError for nothing seen or two outcomes of one test.
[[nodiscard]] MineralIdentification identify_mineral(const Dataset& dataset,
                                                     std::span<const std::string> seen);

}  // namespace aeruca
