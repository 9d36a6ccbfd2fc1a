#include "aeruca/log_against_bath.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::fixed_text;
using detail::say;

constexpr double kMetersDiffer = 0.3;  // pH; our own rule
constexpr double kSeenBlue = 10;       // mg/L of copper; our own rule

void expect_ph(const BathChemistry& bath, NantokiteAcid acid, LogAgainstBath& found) {
  for (const BathPh& state : bath.ph) {
    found.lowest_ph = std::fmin(found.lowest_ph, state.ph.low - kMetersDiffer);
    found.highest_ph = std::fmax(found.highest_ph, state.ph.high + kMetersDiffer);
  }
  if (acid == NantokiteAcid::not_expected && bath.salt != "water") return;
  for (const NantokiteBath& row : bath.nantokite) {
    if (row.status == Status::converged)
      found.lowest_ph = std::fmin(found.lowest_ph, row.ph - kMetersDiffer);
  }
}

std::string lower_case(const std::string& text) {
  std::string lower = text;
  std::transform(lower.begin(), lower.end(), lower.begin(),
                 [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return lower;
}

bool names_one(const std::string& colour, const std::vector<std::string>& words) {
  return std::any_of(words.begin(), words.end(), [&](const std::string& word) {
    return colour.find(word) != std::string::npos;
  });
}

// The most copper that a solid lets into the bath, at the far end of its range.
double most_copper(const BathChemistry& bath) {
  double most = 0;
  for (const CarriedOff& metal : bath.carried_off)
    if (metal.metal == "copper") most = std::max(most, metal.mg_per_l.high);
  return most;
}

// What a colour disagrees with; empty where it does not.
std::string colour_sentence(const std::string& logged, const BathChemistry& bath,
                            const std::string& number) {
  const std::string colour = lower_case(logged);
  const double copper = most_copper(bath);
  // "blue-green" is what a strong copper carbonate complex looks like, so blue comes first.
  if (names_one(colour, {"blue", "turquoise"})) {
    return copper >= kSeenBlue
               ? ""
               : say("bath.against.blue",
                     {{"bath", number}, {"copper", detail::format_number(copper, 2)}});
  }
  if (names_one(colour, {"green"})) return say("bath.against.green", {{"bath", number}});
  if (names_one(colour, {"brown", "yellow", "orange", "red"}))
    return say("bath.against.brown", {{"bath", number}});
  if (names_one(colour, {"cloud", "milk", "white", "turbid"}))
    return say("bath.against.cloudy", {{"bath", number}});
  if (names_one(colour, {"clear", "colourless", "colorless", "none"})) return "";
  return say("bath.against.other_colour", {{"bath", number}, {"colour", logged}});
}

void compare_ph(const BathRecord& record, std::size_t number, LogAgainstBath& found) {
  if (std::isnan(record.ph) || std::isnan(found.lowest_ph)) return;
  ++found.compared_ph;
  const bool low = record.ph < found.lowest_ph;
  if (!low && record.ph <= found.highest_ph) return;
  const std::string ph = detail::format_number(record.ph, 3);
  found.disagreements.push_back({number, "pH", ph,
                                 say(low ? "bath.against.ph_low" : "bath.against.ph_high",
                                     {{"bath", std::to_string(number)},
                                      {"ph", ph},
                                      {"lowest", fixed_text(found.lowest_ph, 1)},
                                      {"highest", fixed_text(found.highest_ph, 1)}})});
}

void add_sentence(LogAgainstBath& found) {
  const std::size_t compared = found.compared_ph + found.compared_colours;
  if (compared == 0) {
    found.sentence = say("bath.against.nothing");
    return;
  }
  const bool all_well = found.disagreements.empty();
  found.sentence = say(all_well ? "bath.against.agrees" : "bath.against.disagrees",
                       {{"readings", std::to_string(compared)},
                        {"apart", std::to_string(found.disagreements.size())}});
}

}  // namespace

LogAgainstBath log_against_bath(const BathLog& log, const BathChemistry& bath, NantokiteAcid acid) {
  LogAgainstBath found;
  expect_ph(bath, acid, found);
  for (std::size_t i = 0; i < log.baths.size(); ++i) {
    const BathRecord& record = log.baths[i];
    compare_ph(record, i + 1, found);
    if (record.colour.empty()) continue;
    ++found.compared_colours;
    const std::string sentence = colour_sentence(record.colour, bath, std::to_string(i + 1));
    if (!sentence.empty())
      found.disagreements.push_back({i + 1, "colour", record.colour, sentence});
  }
  add_sentence(found);
  return found;
}

}  // namespace aeruca
