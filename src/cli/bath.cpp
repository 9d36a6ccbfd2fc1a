// aeruca bath: its sub-commands and their options. The printing is in bath_output.cpp.

#include <cmath>
#include <limits>
#include <memory>

#include "aeruca/bath.hpp"
#include "base/text.hpp"
#include "cli/bath_output.hpp"
#include "cli/bath_words.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {
namespace {

void given_or_throw(double value, const char* option) {
  if (std::isnan(value)) throw UsageError(std::string(option) + " is required");
}

void add_body(Command* command, BodyRequest* body) {
  command->add_option("--shape", body->shape, "slab (layer on metal), cylinder or sphere")
      ->capture_default_str();
  command
      ->add_option("--load", body->load, "where the chloride sits: uniform or at-metal (slab only)")
      ->capture_default_str();
  command->add_option("--biot", body->biot,
                      "film conductance x L / D; leave out for perfect stirring");
}

void add_log(Command* bath, Context& context) {
  auto request = std::make_shared<LogRequest>();
  Command* command =
      bath->add_subcommand("log", "sum up a bath log, fit it, forecast the next reading");
  command
      ->add_option("file", request->file,
                   "CSV with start, end, volume_l, chloride_mg_per_l and more")
      ->required();
  command->add_option("--object-mass-g", request->options.object_mass_g, "mass of the object");
  command->add_option("--stop-mg-per-l", request->options.stop_mg_per_l,
                      "your stop level above the blank");
  command->add_option("--blank-mg-per-l", request->blank_mg_per_l,
                      "chloride of the fresh bath, where the log states none");
  command->add_option("--next-volume-l", request->options.next_volume_l,
                      "volume of the next bath (default: as the last)");
  command->add_option("--next-days", request->options.next_days,
                      "length of the next bath (default: as the last)");
  command
      ->add_option("--alpha", request->options.alphas,
                   "bath volume over K x layer volume; several are averaged")
      ->capture_default_str();
  command
      ->add_option("--relative-error", request->options.errors.relative,
                   "standard error of a reading as a part of it, where the log states none")
      ->capture_default_str();
  command->add_option("--absolute-error-mg-per-l", request->options.errors.absolute_mg_per_l,
                      "least standard error of a reading (default: detection limit / 3.3)");
  command
      ->add_option("--volume-error", request->options.errors.volume_relative,
                   "standard error of a bath volume as a part of it")
      ->capture_default_str();
  add_body(command, &request->body);
  command->callback([request, &context] { print_log(*request, context); });
}

void add_forecast(Command* bath, Context& context) {
  auto request = std::make_shared<ForecastRequest>();
  Command* command =
      bath->add_subcommand("forecast", "model only: what each of given baths would take out");
  command->add_option("--rate-per-day", request->rate_per_day, "D / L^2");
  command->add_option("--d-m2-per-s", request->d_m2_per_s,
                      "apparent diffusion coefficient, with --thickness-mm");
  command->add_option("--thickness-mm", request->thickness_mm,
                      "L: layer thickness, or half-thickness, or radius");
  command->add_option("--load-mg", request->load_mg, "chloride in the body at the start")
      ->capture_default_str();
  command->add_option("--volumes-l", request->volumes_l, "volume of each bath")->required();
  command->add_option("--days", request->days, "length of each bath; one value serves all")
      ->required();
  command->add_option(
      "--capacity-l", request->capacity_l,
      "K x volume of the body; bath volume over it is alpha (leave out for a perfect sink)");
  command->add_option("--fill-mg-per-l", request->fill_mg_per_l, "chloride of the fresh bath")
      ->capture_default_str();
  command
      ->add_option("--carry-over", request->carry_over,
                   "part of the old bath left in the vessel, 0 to 1")
      ->capture_default_str();
  add_body(command, &request->body);
  command->callback([request, &context] {
    if (std::isnan(request->rate_per_day)) {
      given_or_throw(request->d_m2_per_s, "--rate-per-day, or --d-m2-per-s with --thickness-mm,");
      given_or_throw(request->thickness_mm, "--thickness-mm");
    }
    print_forecast(*request, context);
  });
}

void add_plan(Command* bath, Context& context) {
  auto request = std::make_shared<PlanRequest>();
  Command* command = bath->add_subcommand(
      "compare",
      "by diffusion alone: is it worth changing the bath: what 1, 2, 4, 8 baths leave inside");
  command->add_option("--tau", request->total_tau, "whole treatment in reduced time D t / L^2");
  command->add_option("--rate-per-day", request->rate_per_day, "D / L^2, with --total-days");
  command->add_option("--total-days", request->total_days, "whole treatment");
  command->add_option("--alpha", request->alpha, "each bath's volume over K x volume of the body")
      ->required();
  command->add_option("--baths", request->counts, "numbers of baths to compare")
      ->capture_default_str();
  command->add_flag(
      "--same-liquid", request->same_liquid,
      "divide one volume (that of alpha) over the baths instead of using it for each");
  add_body(command, &request->body);
  command->callback([request, &context] {
    if (std::isnan(request->total_tau)) {
      given_or_throw(request->rate_per_day, "--tau, or --rate-per-day with --total-days,");
      given_or_throw(request->total_days, "--total-days");
    }
    print_plan(*request, context);
  });
}

void add_weigh_out(Command* bath, Context& context) {
  auto request = std::make_shared<WeighRequest>();
  Command* command =
      bath->add_subcommand("weigh-out", "grams to weigh for a bath from the salt on the shelf");
  command
      ->add_option("--salt", request->request.salt,
                   "bath salt such as sodium carbonate; \"sodium\" may be left out, and names such "
                   "as baking soda serve too")
      ->capture_default_str();
  auto* percent = command->add_option("--percent", request->percent, "strength, % w/v");
  command->add_option("--mol-per-l", request->mol_per_l, "strength, mol/L")->excludes(percent);
  command->add_option("--volume-l", request->request.volume_l, "litres of finished bath")
      ->capture_default_str();
  command->add_option(
      "--form", request->request.form,
      "what stands on the shelf, such as decahydrate; without it all forms are listed");
  command->add_option("--purity-percent", request->request.purity_percent, "of each reagent")
      ->capture_default_str();
  command
      ->add_option("--reagent-chloride-percent", request->request.reagent_chloride_percent,
                   "chloride by mass in the reagents, from the label")
      ->capture_default_str();
  command
      ->add_option("--temperature", request->request.temperature_c,
                   "degrees C of the water, for the solubility")
      ->capture_default_str();
  command->callback([request, &context] {
    if (std::isnan(request->percent))
      given_or_throw(request->mol_per_l, "--percent or --mol-per-l");
    print_weigh_out(*request, context);
  });
}

}  // namespace

void add_bath(Command& app, Context& context) {
  Command* bath = app.add_subcommand(
      "bath",
      "chloride baths: log, decide, plan, forecast, compare, weigh-out, chemistry, meter, rinse");
  bath->require_subcommand(1);
  add_log(bath, context);
  add_forecast(bath, context);
  add_plan(bath, context);
  add_weigh_out(bath, context);
  add_bath_decisions(bath, context);
  add_bath_chemistry(bath, context);
  add_bath_meter(bath, context);
  add_bath_rinse(bath, context);
}

}  // namespace aeruca::cli
