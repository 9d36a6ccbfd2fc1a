// aeruca bath decide and aeruca bath plan: what a log says should be done.

#include <cmath>
#include <memory>

#include "aeruca/bath_decision.hpp"
#include "aeruca/bath_schedule.hpp"
#include "cli/bath_words.hpp"
#include "cli/commands.hpp"
#include "render/bath_decision_text.hpp"
#include "render/describe_bath_posterior.hpp"
#include "render/json.hpp"

namespace aeruca::cli {
namespace {

struct DecideRequest {
  std::string file;
  double blank_mg_per_l = kNotGiven;
  double target_mg_per_g = kNotGiven;
  std::vector<std::string> models;
  BathDecisionOptions options;
  BathScheduleOptions schedule;

  [[nodiscard]] BathLog log() const { return with_blank(read_bath_log(file), blank_mg_per_l); }
  // A target per gram needs the mass; both ways of stating it at once are one too many.
  void settle() {
    for (const std::string& name : models) options.inference.models.push_back(bath_model(name));
    if (std::isnan(target_mg_per_g)) return;
    if (std::isnan(options.inference.object_mass_g))
      throw UsageError("--target-mg-per-g needs --object-mass-g");
    options.target_left_mg = target_mg_per_g * options.inference.object_mass_g;
  }
};

void add_shared(Command* command, DecideRequest* request) {
  command->add_option("file", request->file, "bath log")->required();
  command->add_option("--object-mass-g", request->options.inference.object_mass_g,
                      "mass of the object");
  command->add_option("--blank-mg-per-l", request->blank_mg_per_l,
                      "chloride of the fresh bath, where the log states none");
  auto* target = command->add_option("--target-mg", request->options.target_left_mg,
                                     "stop when less than this is left");
  command->add_option("--target-mg-per-g", request->target_mg_per_g, "the same per gram of object")
      ->excludes(target);
  command->add_option("--model", request->models,
                      "consider only these: slab, cylinder, sphere, at metal, film, spread, "
                      "two stores, reserve");
  command->add_option("--seed", request->options.inference.seed, "of the draws")
      ->capture_default_str();
}

void add_decide(Command* bath, Context& context) {
  auto request = std::make_shared<DecideRequest>();
  Command* command = bath->add_subcommand(
      "decide", "change the bath, leave it or stop: what is left, with its chance");
  add_shared(command, request.get());
  command->add_option("--object-area-cm2", request->options.inference.object_area_cm2,
                      "surface of the object");
  command->add_option("--stop-mg-per-l", request->options.stop_mg_per_l,
                      "a stop level of your own, above the blank");
  command->add_option("--next-volume-l", request->options.next_volume_l,
                      "volume of the next bath (default: as the last)");
  command->add_option("--next-days", request->options.next_days,
                      "time to look ahead (default: as the last bath)");
  command->callback([request, &context] {
    request->settle();
    const BathDecision decision = decide_bath(request->log(), *context.dataset(), request->options);
    if (decision.status != Status::converged || decision.forecast == ForecastKind::refused)
      context.exit_code = kNoAnswer;
    if (context.json) {
      Json out = detail::json_of(decision);
      add_data_line(out, context);
      out["uses_dataset_figures"] = true;
      context.out << detail::document_text(out);
      return;
    }
    context.out << detail::bath_decision_text(decision, *context.dataset());
  });
}

void add_schedule(Command* bath, Context& context) {
  auto request = std::make_shared<DecideRequest>();
  Command* command = bath->add_subcommand(
      "plan", "how many more baths and when to change them, for a time or a water budget");
  add_shared(command, request.get());
  command->add_option("--days", request->schedule.total_days, "time to be spent")
      ->capture_default_str();
  auto* litres = command->add_option("--bath-l", request->schedule.bath_l,
                                     "volume of each bath (default: as the last)");
  command->add_option("--water-l", request->schedule.water_l, "all the water there is")
      ->excludes(litres);
  command->add_option("--temperature", request->schedule.temperature_c,
                      "degrees C of the baths to come (default: as the last)");
  command->add_option("--log-temperature", request->schedule.log_temperature_c,
                      "degrees C of the baths so far, where the log states none");
  command->add_option("--baths-most", request->schedule.baths_most, "at most so many baths")
      ->capture_default_str();
  command->callback([request, &context] {
    request->settle();
    BathScheduleOptions options = request->schedule;
    options.inference = request->options.inference;
    options.target_left_mg = request->options.target_left_mg;
    const BathSchedule schedule = schedule_baths(request->log(), options);
    if (schedule.status != Status::converged) context.exit_code = kNoAnswer;
    if (context.json) {
      Json out = detail::json_of(schedule);
      add_data_line(out, context);
      context.out << detail::document_text(out);
      return;
    }
    context.out << detail::bath_schedule_text(schedule);
    print_data_line(context);
  });
}

}  // namespace

void add_bath_decisions(Command* bath, Context& context) {
  add_decide(bath, context);
  add_schedule(bath, context);
}

}  // namespace aeruca::cli
