// aeruca bath rinse: what stays in the pores after the last bath.

#include <cmath>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>

#include "aeruca/bath_forecast.hpp"
#include "aeruca/bath_rinse.hpp"
#include "aeruca/weigh_out.hpp"
#include "cli/bath_output.hpp"
#include "cli/bath_words.hpp"
#include "render/bath_rinse_text.hpp"
#include "render/describe_bath_rinse.hpp"
#include "render/json.hpp"

namespace aeruca::cli {
namespace {

struct RinseWords {
  RinseRequest request;
  BodyRequest body;
  std::uint64_t rinses = 0;
  double chloride_mg_per_l = kNotGiven;
  std::string salt;
  double percent = kNotGiven;
  double d_m2_per_s = kNotGiven;
  double thickness_mm = kNotGiven;

  // What is counted: chloride as read, or the sodium of the bath salt.
  void settle_start(Context& context) {
    if (salt.empty() != std::isnan(percent)) throw UsageError("--salt and --percent go together");
    if (salt.empty() == std::isnan(chloride_mg_per_l))
      throw UsageError("--chloride-mg-per-l, or --salt with --percent, is required, one of them");
    request.start_mg_per_l =
        salt.empty() ? chloride_mg_per_l
                     : bath_sodium_mg_per_l(*context.dataset(), salt,
                                            strength_mol_per_l(*context.dataset(), salt, percent));
  }
  void settle_rate() {
    if (std::isnan(d_m2_per_s) != std::isnan(thickness_mm))
      throw UsageError("--d-m2-per-s and --thickness-mm go together");
    if (std::isnan(d_m2_per_s)) return;
    request.rate_per_day = diffusion_rate_per_day(d_m2_per_s, thickness_mm);
  }
  RinseResult answer(Context& context) {
    settle_start(context);
    settle_rate();
    request.body = body.body();
    return rinse_pores(request);
  }
};

// Errors name the options as they were typed.
RinseResult answer_of(RinseWords& words, Context& context) try {
  return words.answer(context);
} catch (const InputError& problem) {
  const std::string& name = problem.parameter;
  if (name == "start_mg_per_l")
    throw InputError("--chloride-mg-per-l", problem.value, problem.accepted);
  if (name == "strength") throw InputError("--percent", problem.value, problem.accepted);
  if (name == "pore_ml")
    throw InputError("--pore-ml", problem.value,
                     std::isnan(words.request.pore_ml) || !std::isnan(words.request.porosity)
                         ? "--pore-ml, or --porosity and --body-cm3, one of the two"
                         : problem.accepted);
  throw InputError(option_named(name), problem.value, problem.accepted);
}

}  // namespace

void add_bath_rinse(Command* bath, Context& context) {
  auto words = std::make_shared<RinseWords>();
  RinseRequest& request = words->request;
  Command* command = bath->add_subcommand("rinse", "what stays in the pores after so many rinses");
  command->add_option("--pore-ml", request.pore_ml, "liquid in the pores of the object");
  command->add_option("--porosity", request.porosity, "of the layer, 0 to 1, with --body-cm3");
  command->add_option("--body-cm3", request.body_cm3, "volume of the porous layer");
  command
      ->add_option("--pore-factor", request.pore_factor,
                   "the pore volume may be so many times more or less")
      ->capture_default_str();
  command->add_option("--rinse-l", request.rinse_l, "litres of fresh water of each rinse")
      ->required();
  const Option* rinses = command->add_option("--rinses", words->rinses,
                                             "how many; without it as many as the target asks");
  command->add_option("--target-percent", request.target_percent,
                      "rinse until no more than this is left of what the pores held");
  command->add_option("--chloride-mg-per-l", words->chloride_mg_per_l,
                      "chloride in the pores: about that of the last bath, or more");
  command->add_option("--salt", words->salt, "in its place, count the sodium of this bath salt");
  command->add_option("--percent", words->percent, "strength of that bath, % w/v");
  command
      ->add_option("--clinging-ml", request.clinging_ml,
                   "liquid that goes on from rinse to rinse on the object and in the vessel")
      ->capture_default_str();
  command
      ->add_option("--water-mg-per-l", request.water_mg_per_l,
                   "of what is counted, in the rinse water itself")
      ->capture_default_str();
  command->add_option("--minutes", request.minutes, "length of each rinse, with a rate");
  auto* rate = command->add_option("--rate-per-day", request.rate_per_day,
                                   "D / L^2, as aeruca bath log fits it");
  command
      ->add_option("--d-m2-per-s", words->d_m2_per_s,
                   "apparent diffusion coefficient, with --thickness-mm")
      ->excludes(rate);
  command->add_option("--thickness-mm", words->thickness_mm,
                      "L: layer thickness, or half-thickness, or radius");
  command->add_option("--shape", words->body.shape, "slab (layer on metal), cylinder or sphere")
      ->capture_default_str();
  command->callback([words, rinses, &context] {
    if (rinses->count() > 0) words->request.rinses = words->rinses;
    const RinseResult result = answer_of(*words, context);
    if (context.json) {
      context.out << detail::document_text(detail::json_of(result));
      return;
    }
    context.out << detail::rinse_text(
        result, words->request.rinse_l,
        words->salt.empty() ? detail::RinsedOf::chloride : detail::RinsedOf::sodium);
  });
}

}  // namespace aeruca::cli
