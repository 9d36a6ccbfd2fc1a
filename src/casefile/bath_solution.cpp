#include "casefile/bath_solution.hpp"

#include <cmath>

#include "base/text.hpp"

namespace aeruca::detail {
namespace {

// The chloride that the salt brings (mg/L); NaN where the file does not say enough, and then why.
double of_the_salt(const CaseSolution& solution, const Dataset& dataset,
                   std::vector<std::string>& lacking) {
  if (solution.salt_chloride_percent == 0 || is_plain_water(solution.salt)) return 0;
  const std::size_t before = lacking.size();
  if (std::isnan(solution.salt_chloride_percent)) {
    lacking.emplace_back("salt_chloride_percent");
  } else {
    // The form decides the grams of reagent, and so their chloride.
    if (std::isnan(solution.strength_percent_w_v)) lacking.emplace_back("strength_percent_w_v");
    if (solution.on_the_shelf.empty()) lacking.emplace_back("on_the_shelf");
  }
  if (lacking.size() > before) return kNotGiven;
  return weigh_out(dataset, request_of(solution)).blank_mg_per_l;
}

}  // namespace

// The salt in full, and its form, whatever name the case gives them; an unknown one with its line.
CaseSolution with_full_names(const CaseFile& file, const Dataset& dataset) {
  CaseSolution solution = file.bath.solution;
  if (solution.salt.empty()) return solution;
  if (is_plain_water(solution.salt)) {
    const bool strength = !std::isnan(solution.strength_percent_w_v);
    if (strength || !solution.on_the_shelf.empty())
      refuse_name(file,
                  strength ? "bath.solution.strength_percent_w_v" : "bath.solution.on_the_shelf",
                  strength ? format_number(solution.strength_percent_w_v) : solution.on_the_shelf,
                  {"nothing beside " + solution.salt});
    return solution;
  }
  try {
    solution.salt = bath_salt(dataset, solution.salt).name;
  } catch (const Error&) {
    refuse_name(file, "bath.solution.salt", solution.salt, bath_salts(dataset));
  }
  if (solution.on_the_shelf.empty()) return solution;
  try {
    WeighOutRequest request;
    request.salt = solution.salt;
    request.form = solution.on_the_shelf;
    request.strength = 1;
    solution.on_the_shelf = weigh_out(dataset, request).form;
  } catch (const Error&) {
    refuse_name(file, "bath.solution.on_the_shelf", solution.on_the_shelf,
                shelf_forms(dataset, solution.salt));
  }
  return solution;
}

WeighOutRequest request_of(const CaseSolution& solution) {
  WeighOutRequest request;
  request.salt = solution.salt;
  request.strength = solution.strength_percent_w_v;
  request.volume_l = std::isnan(solution.volume_l) ? 1 : solution.volume_l;
  request.form = solution.on_the_shelf;
  request.purity_percent = solution.purity_percent;
  if (!std::isnan(solution.salt_chloride_percent))
    request.reagent_chloride_percent = solution.salt_chloride_percent;
  return request;
}

BathBlank blank_of_solution(const CaseSolution& solution, const Dataset& dataset) {
  BathBlank blank;
  if (!solution.given) return blank;
  const double water = solution.water_chloride_mg_per_l;
  const double salt =
      solution.salt.empty() ? kNotGiven : of_the_salt(solution, dataset, blank.lacking);
  if (std::isnan(water)) blank.lacking.emplace_back("water_chloride_mg_per_l");
  if (std::isnan(salt)) {
    blank.mg_per_l = water;
  } else {
    blank.mg_per_l = std::isnan(water) ? salt : salt + water;
  }
  return blank;
}

}  // namespace aeruca::detail
