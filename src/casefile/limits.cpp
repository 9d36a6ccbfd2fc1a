#include "casefile/limits.hpp"

#include <algorithm>

namespace aeruca::detail {
namespace {

bool contains(const std::string& text, std::string_view word) {
  return text.find(word) != std::string::npos;
}

void add_bath_cautions(const CaseSolution& solution, std::vector<Caution>& cautions) {
  if (contains(solution.salt, "hydroxide")) {
    cautions.push_back(
        {"Sodium hydroxide",
         "severe burns, heat on dissolving: face shield, solid into cold water slowly, eyewash in "
         "reach; attacks aluminium, zinc, tin and lead with hydrogen."});
  } else if (contains(solution.salt, "carbonate")) {
    cautions.push_back({"Sodium carbonates",
                        "eye and skin irritants, dusty: goggles, gloves, no aluminium vessels; "
                        "foam with acids; slowly dissolve lead, tin and zinc."});
  }
  cautions.push_back(
      {"Mixing",
       "acid never into dithionite or a bath suspected of cyanide; oxidiser never with solvent; "
       "ammonia never left standing with silver; alkali never in aluminium."});
  cautions.push_back({"Immersion",
                      "softened fills, lost organics and stripped patina are possible: a test "
                      "piece, support, and stop rules written before the first bath."});
  cautions.push_back(
      {"Spent baths",
       "hold copper: collect them; nothing down the sink unless the authority agrees."});
}

void add_test_cautions(std::vector<Caution>& cautions) {
  cautions.push_back({"Silver nitrate test",
                      "corrosive, stains, toxic to water life: goggles, gloves, dark glass, silver "
                      "waste. Take the grain away from the object; never acid on the object."});
  cautions.push_back(
      {"Nitric acid, even 5 %",
       "burns; foams with carbonate, so add slowly in a wide vessel; never with alcohol, acetone "
       "or other organics. A dithionite or sulfite sample must be oxidised first."});
}

}  // namespace

// Each statement is one string over several lines.
// NOLINTBEGIN(bugprone-suspicious-missing-comma)
std::vector<std::string> limits_of_the_method() {
  return {
      "Thermodynamics is not kinetics: a stable field says what may form in endless time, not what "
      "forms this week, nor how fast.",
      "Clean systems are not objects: real patinas hold tin, lead, iron, soil, organics, cracks, "
      "old resin, and chloride at more than one depth.",
      "A humidity threshold is a band, not a cliff; a logger adds 2 to 3 % RH of error, a cool "
      "object 2 to 5.",
      "A low bath reading is not an empty object: it may be solubility, a short soak, a small "
      "object in a large bath, or a poor method.",
      "Forecasts need data: no end date before about 70 % is out, and then a range, not a day.",
      "Units or nothing: mg/L without volume and mass says nothing of the object.",
      "Uncertain constants stay uncertain: sources that disagree are shown, and so is what the "
      "answer would be at the ends.",
      "No treatment by number for composite, gilded, silvered, tinned, inlaid, painted, lacquered, "
      "enamelled or glass-bearing objects, mineralised organics, heavily leaded or hollow "
      "mineralised pieces, human remains or sacred material: there the calculation stops at \"ask "
      "a conservator\".",
      "No advice to treat: the tool compares and checks; the conservator, with the owner and the "
      "local code, decides.",
      "Not for drinking water, dosing or waste release; those limits are set by authorities.",
      "No proof of authenticity or age from predicted phases.",
      "Not for classrooms without a risk assessment, and never with an archaeological object.",
      "No guarantee of stability: even a good end point left 7 % of one group of treated iron "
      "corroding; for bronze no such figure was found.",
  };
}

// NOLINTEND(bugprone-suspicious-missing-comma)

std::vector<Caution> cautions_for(const CaseFile& file) {
  std::vector<Caution> cautions{
      {"Before all else",
       "these lines defer to the safety data sheets, the local codes and licensed practice, and to "
       "the judgment of a trained conservator; where they differ, those win."},
      {"Copper salts and green dust",
       "harmful, very toxic to water life: damp methods, extraction, nothing into the sink."}};
  const auto& features = file.object.features;
  if (std::find(features.begin(), features.end(), "earlier treatment") != features.end()) {
    cautions.push_back({"Old treatment residues",
                        "may hold lead, arsenic, mercury, cyanide or pesticides: test before "
                        "wetting; acid on cyanide is lethal gas."});
  }
  if (file.bath.given) add_bath_cautions(file.bath.solution, cautions);
  if (file.bath.given || !file.object.silver_nitrate_test.empty()) add_test_cautions(cautions);
  if (file.store.given) {
    cautions.push_back({"Silica gel",
                        "dust; cobalt chloride indicator is toxic, so use cobalt-free gel; "
                        "over-drying harms organic parts."});
  }
  return cautions;
}

}  // namespace aeruca::detail
