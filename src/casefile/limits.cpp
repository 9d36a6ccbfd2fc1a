#include "casefile/limits.hpp"

#include <algorithm>

#include "base/words.hpp"

namespace aeruca::detail {
namespace {

bool contains(const std::string& text, std::string_view word) {
  return text.find(word) != std::string::npos;
}

Caution caution(const std::string& name) {
  return {say("caution." + name + ".subject"), say("caution." + name + ".text")};
}

void add_bath_cautions(const CaseSolution& solution, std::vector<Caution>& cautions) {
  if (contains(solution.salt, "hydroxide")) {
    cautions.push_back(caution("hydroxide"));
  } else if (contains(solution.salt, "carbonate")) {
    cautions.push_back(caution("carbonate"));
  }
  cautions.push_back(caution("mixing"));
  cautions.push_back(caution("immersion"));
  cautions.push_back(caution("spent_baths"));
}

void add_test_cautions(std::vector<Caution>& cautions) {
  cautions.push_back(caution("silver_nitrate"));
  cautions.push_back(caution("nitric_acid"));
}

}  // namespace

std::vector<std::string> limits_of_the_method() {
  std::vector<std::string> limits;
  for (const char* name :
       {"kinetics", "clean_systems", "threshold", "low_reading", "forecasts", "units", "constants",
        "no_number", "no_advice", "no_dosing", "no_proof", "no_classroom", "no_guarantee"}) {
    limits.push_back(say(std::string("limit.") + name));
  }
  return limits;
}

std::vector<Caution> cautions_for(const CaseFile& file) {
  std::vector<Caution> cautions{caution("first"), caution("copper_salts")};
  const auto& features = file.object.features;
  if (std::find(features.begin(), features.end(), "earlier treatment") != features.end()) {
    cautions.push_back(caution("old_residues"));
  }
  if (file.bath.given) add_bath_cautions(file.bath.solution, cautions);
  if (file.bath.given || !file.object.silver_nitrate_test.empty()) add_test_cautions(cautions);
  if (file.store.given) {
    cautions.push_back(caution("silica_gel"));
  }
  return cautions;
}

}  // namespace aeruca::detail
