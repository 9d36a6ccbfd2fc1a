#include <algorithm>
#include <set>
#include <tuple>

#include "aeruca/errors.hpp"
#include "aeruca/minerals.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::say;
using Names = std::vector<std::string>;

constexpr std::size_t kNearest = 3;  // shown where none fits

bool has(const Names& words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

const FieldTest& test_of(const Dataset& dataset, const std::string& id) {
  return *std::find_if(dataset.field_tests.begin(), dataset.field_tests.end(),
                       [&](const FieldTest& test) { return test.id == id; });
}

// Outcomes of a test that a mineral may give; none: the guide knows nothing of it.
Names outcomes_of(const Mineral& mineral, const FieldTest& test) {
  Names outcomes;
  for (const std::string& outcome : test.outcomes)
    if (has(mineral.usual, outcome) || has(mineral.possible, outcome)) outcomes.push_back(outcome);
  return outcomes;
}

std::vector<MineralSight> sights_of(const Dataset& dataset, std::span<const std::string> seen) {
  if (seen.empty()) throw InputError("seen", "nothing", "one observation or more");
  std::vector<MineralSight> sights;
  for (const std::string& text : seen) {
    const MineralSight sight = mineral_sight(dataset, text);
    for (const MineralSight& other : sights) {
      if (other.test == sight.test)
        throw InputError("seen", sight.outcome,
                         "one outcome of each test, and '" + other.outcome +
                             "' is one of the same (" + sight.test + "); one grain at a time");
    }
    sights.push_back(sight);
  }
  return sights;
}

MineralCandidate beside(const Dataset& dataset, const Mineral& mineral,
                        const std::vector<MineralSight>& sights) {
  MineralCandidate candidate{mineral.name, mineral.formula,  mineral.group, 0, 0, 0,
                             {},           mineral.on_copper};
  for (const MineralSight& sight : sights) {
    if (has(mineral.usual, sight.outcome)) {
      candidate.usual += 1;
    } else if (has(mineral.possible, sight.outcome)) {
      candidate.possible += 1;
    } else if (outcomes_of(mineral, test_of(dataset, sight.test)).empty()) {
      candidate.silent += 1;
    } else {
      candidate.against.push_back(sight.outcome);
    }
  }
  return candidate;
}

bool before(const MineralCandidate& one, const MineralCandidate& other) {
  const auto rank = [](const MineralCandidate& c) {
    return std::make_tuple(c.against.size(), -c.usual, -c.possible, c.on_copper, c.name);
  };
  return rank(one) < rank(other);
}

// Pairs of candidates, one that means the same as the first and one that does not, which the test
// parts for sure.
std::size_t parted(const Dataset& dataset, const std::vector<MineralCandidate>& candidates,
                   const FieldTest& test) {
  std::vector<Names> same;
  std::vector<Names> other;
  for (const MineralCandidate& one : candidates) {
    Names outcomes = outcomes_of(dataset.mineral(one.name), test);
    if (outcomes.empty()) continue;
    (one.group == candidates.front().group ? same : other).push_back(std::move(outcomes));
  }
  std::size_t pairs = 0;
  for (const Names& one : same) {
    pairs += static_cast<std::size_t>(
        std::count_if(other.begin(), other.end(), [&](const Names& against) {
          return std::none_of(one.begin(), one.end(),
                              [&](const std::string& word) { return has(against, word); });
        }));
  }
  return pairs;
}

// Outcomes that leave nothing are not listed.
std::vector<OutcomeLeaves> leaves_of(const Dataset& dataset,
                                     const std::vector<MineralCandidate>& candidates,
                                     const FieldTest& test) {
  std::vector<OutcomeLeaves> leaves;
  for (const std::string& outcome : test.outcomes) {
    OutcomeLeaves left{outcome, {}};
    for (const MineralCandidate& one : candidates) {
      const Names outcomes = outcomes_of(dataset.mineral(one.name), test);
      if (outcomes.empty() || has(outcomes, outcome)) left.minerals.push_back(one.name);
    }
    if (!left.minerals.empty()) leaves.push_back(std::move(left));
  }
  return leaves;
}

std::optional<NextFieldTest> next_test(const Dataset& dataset, const MineralIdentification& found) {
  const FieldTest* best = nullptr;
  std::size_t most = 0;
  for (const FieldTest& test : dataset.field_tests) {
    const bool done = std::any_of(found.seen.begin(), found.seen.end(),
                                  [&](const MineralSight& sight) { return sight.test == test.id; });
    const std::size_t pairs = done ? 0 : parted(dataset, found.candidates, test);
    if (pairs > most) most = pairs, best = &test;
  }
  if (best == nullptr) return std::nullopt;
  return NextFieldTest{best->id,       best->question, best->how,
                       best->misleads, best->caution,  leaves_of(dataset, found.candidates, *best)};
}

std::string none_fits(const MineralIdentification& found) {
  Names seen;
  for (const MineralSight& sight : found.seen) seen.push_back(sight.outcome);
  const MineralCandidate& nearest = found.nearest.front();
  return say("minerals.none_fits", {{"seen", detail::join(seen, ", ")},
                                    {"nearest", nearest.name},
                                    {"against", detail::join(nearest.against, ", ")}});
}

std::string nothing_parts(const MineralIdentification& found) {
  if (found.candidates.size() == 1)
    return say("minerals.one_left", {{"mineral", found.candidates.front().name}});
  return say("minerals.not_told_apart");
}

void add_tests_done(const Dataset& dataset, MineralIdentification& found) {
  const auto add = [](Names& list, const std::string& text) {
    if (!has(list, text)) list.push_back(text);
  };
  for (const MineralSight& sight : found.seen) {
    const FieldTest& test = test_of(dataset, sight.test);
    found.misled.push_back(test.id + ": " + test.misleads);
    add(found.cautions, test.caution);
  }
  if (found.next) add(found.cautions, found.next->caution);
}

}  // namespace

MineralIdentification identify_mineral(const Dataset& dataset, std::span<const std::string> seen) {
  MineralIdentification found;
  found.seen = sights_of(dataset, seen);
  std::vector<MineralCandidate> all;
  for (const Mineral& mineral : dataset.minerals)
    all.push_back(beside(dataset, mineral, found.seen));
  std::sort(all.begin(), all.end(), before);
  for (const MineralCandidate& one : all)
    if (one.against.empty()) found.candidates.push_back(one);
  found.activity = say("minerals.activity");
  if (found.candidates.empty()) {
    all.resize(std::min(all.size(), kNearest));
    found.nearest = std::move(all);
    found.message = none_fits(found);
  } else {
    found.next = next_test(dataset, found);
    if (!found.next) found.message = nothing_parts(found);
  }
  add_tests_done(dataset, found);
  return found;
}

}  // namespace aeruca
