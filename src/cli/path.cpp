// aeruca path: what forms, and in what order, while one thing about a water changes.

#include <memory>

#include "aeruca/ready_paths.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/named_number.hpp"
#include "render/path_text.hpp"

namespace aeruca::cli {
namespace {

struct FollowRequest {
  std::string kind, gas, redox, acidity, activity = "sit";
  std::vector<std::string> totals, added, held, components, solids, left_out;
  double temperature_c = 25;
  std::optional<double> ph, eh_v, oxygen_bar, to, gas_bar, carried_over;
  int steps = 200;
};

std::map<std::string, double> amounts_of(const std::string& option,
                                         const std::vector<std::string>& texts) {
  return named_numbers(option, texts, "NAME=NUMBER, such as \"halite=0.6\"");
}

ReactionPath path_of(const FollowRequest& request) {
  ReactionPath path;
  path.kind = path_kind_from(request.kind);
  const bool oxygen = request.gas == "O2(g)";
  path.system.activity = activity_model_from(request.activity);
  path.system.temperature_c = request.temperature_c;
  path.system.redox =
      request.redox.empty() ? (oxygen ? Redox::conserved : Redox::eh) : redox_from(request.redox);
  path.system.acidity = request.ph ? Acidity::given_ph : Acidity::charge_balance;
  path.system.components = request.components;
  path.system.precipitation = Precipitation::allowed;
  path.system.allowed_solids = request.solids;
  path.system.left_out = request.left_out;
  path.start.totals_mol_per_kg = amounts_of("--total", request.totals);
  path.start.fugacity_bar = amounts_of("--held", request.held);
  path.start.ph = request.ph;
  path.start.eh_v = request.eh_v;
  path.start.oxygen_bar = request.oxygen_bar;
  path.added = amounts_of("--add", request.added);
  path.gas = request.gas;
  path.gas_bar = request.gas_bar;
  path.to = request.to;
  path.carried_over = request.carried_over;
  path.steps = request.steps;
  return path;
}

template <class Result>
void show(const Result& result, const Dataset& dataset, Context& context) {
  context.out << (context.json ? detail::path_json(result, dataset)
                               : detail::path_text(result, dataset));
}

void add_follow(Command& path, Context& context) {
  auto asked = std::make_shared<FollowRequest>();
  Command* command = path.add_subcommand("follow", "a path of your own");
  command->add_option("kind", asked->kind, "titrate, aerate, dilute, dry, heat or change_bath")
      ->required();
  command
      ->add_option("--total", asked->totals,
                   "mol per kg of water at the start, such as copper=0.1 or halite=0.6; repeatable")
      ->repeatable();
  command
      ->add_option("--add", asked->added,
                   "titrate, dilute, change_bath: mol per kg of what is added; repeatable")
      ->repeatable();
  command->add_option("--to", asked->to,
                      "end of the progress: times --add, mol/kg of gas, kg of "
                      "water, water activity, degrees C or baths");
  command->add_option("--gas", asked->gas, "aerate: O2(g) or CO2(g)");
  command->add_option("--gas-bar", asked->gas_bar, "aerate: its fugacity in the air, bar");
  command->add_option("--carried-over", asked->carried_over,
                      "change_bath: share of the old bath left in, 0 to 1");
  command
      ->add_option("--component", asked->components,
                   "may be present besides water, such as Cu(2+); repeatable (default: all)")
      ->repeatable();
  command->add_option("--solid", asked->solids, "may form (default: all); repeatable")
      ->repeatable();
  command->add_option("--leave-out", asked->left_out, "species or solid left out; repeatable")
      ->repeatable();
  command->add_option("--held", asked->held, "gas held, bar, such as CO2(g)=4.2e-4; repeatable")
      ->repeatable();
  command->add_option("--ph", asked->ph, "held pH (default: from the charge)");
  command->add_option("--eh", asked->eh_v, "held potential, V against hydrogen");
  command->add_option("--oxygen", asked->oxygen_bar, "held fugacity of oxygen, bar");
  command->add_option("--redox", asked->redox, "eh, oxygen or conserved");
  command->add_option("--activity", asked->activity, "ideal, dilute, sit or pitzer (default sit)");
  command->add_option("--temperature", asked->temperature_c, "degrees C, 0 to 50 (default 25)");
  command->add_option("--steps", asked->steps, "between its ends (default 200)");
  command->callback([asked, &context] {
    const auto dataset = context.dataset();
    const PathResult result = follow_path(dataset, path_of(*asked));
    show(result, *dataset, context);
    if (result.status != Status::converged) context.exit_code = kNoAnswer;
  });
}

void add_coin(Command& path, Context& context) {
  auto asked = std::make_shared<CoinRequest>();
  Command* command =
      path.add_subcommand("coin", "a copper coin under salt water that is open to air");
  command->add_option("--salt", asked->salt_mol_per_kg, "sodium chloride, mol/kg (default 0.6)");
  command->add_option("--days", asked->days, "how long (default 14)");
  command->add_option("--depth", asked->water_mm, "still water over it, mm (default 5)");
  command->add_option("--temperature", asked->temperature_c, "degrees C, 5 to 45 (default 25)");
  command->callback([asked, &context] {
    const auto dataset = context.dataset();
    show(coin_in_salt_water(dataset, *asked), *dataset, context);
  });
}

void add_nantokite_air(Command& path, Context& context) {
  auto asked = std::make_shared<PitInMoistAirRequest>();
  auto pit_mm = std::make_shared<std::optional<double>>();
  Command* command = path.add_subcommand("nantokite-air", "nantokite that humid air reaches");
  const Option* nantokite =
      command->add_option("--nantokite", asked->nantokite_mg, "mg of it (default 1)");
  command->add_option("--pit", *pit_mm, "or the hemispherical pit that it fills, mm across")
      ->excludes(nantokite);
  command->add_option("--metal", asked->metal_mg, "mg of copper in reach of the acid (default 5)");
  command->add_option("--water", asked->water_g_per_mol,
                      "g of moisture for a mol of nantokite (default 10000)");
  command->callback([asked, pit_mm, &context] {
    const auto dataset = context.dataset();
    if (*pit_mm) asked->nantokite_mg = nantokite_of_pit_mg(*dataset, **pit_mm);
    show(pit_in_moist_air(dataset, *asked), *dataset, context);
  });
}

void add_nantokite_bath(Command& path, Context& context) {
  auto grams = std::make_shared<double>(1);
  Command* command = path.add_subcommand("nantokite-bath", "what baths make of nantokite");
  command->add_option("--nantokite", *grams, "g for a litre of bath (default 1)");
  command->callback([grams, &context] {
    const auto dataset = context.dataset();
    show(nantokite_in_baths(dataset, *grams), *dataset, context);
  });
}

void add_carbonate_bath(Command& path, Context& context) {
  auto asked = std::make_shared<CarbonateBathRequest>();
  Command* command = path.add_subcommand("carbonate-bath", "a carbonate bath that stands in air");
  command->add_option("--salt", asked->salt, "as for 'aeruca bath weigh-out'")
      ->capture_default_str();
  command->add_option("--mol-per-l", asked->mol_per_l, "strength (default 0.221, 5 % w/v)");
  command->add_option("--carbon-dioxide", asked->carbon_dioxide_bar, "of the air, bar");
  command->add_option("--headspace", asked->headspace_l_per_l,
                      "L of air under the lid for each L of bath (default 0.1)");
  command->add_option("--temperature", asked->temperature_c, "degrees C, 0 to 50 (default 25)");
  command->callback([asked, &context] {
    const auto dataset = context.dataset();
    show(carbonate_bath_in_air(dataset, *asked), *dataset, context);
  });
}

}  // namespace

void add_path(Command& app, Context& context) {
  Command* path = app.add_subcommand("path", "what forms, and in what order, as a water changes");
  path->require_subcommand(1);
  add_coin(*path, context);
  add_nantokite_air(*path, context);
  add_nantokite_bath(*path, context);
  add_carbonate_bath(*path, context);
  add_follow(*path, context);
}

}  // namespace aeruca::cli
