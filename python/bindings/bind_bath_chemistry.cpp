#include "aeruca/bath_recipe.hpp"
#include "aeruca/log_against_bath.hpp"
#include "described.hpp"
#include "render/describe_bath_chemistry.hpp"

using namespace aeruca;

void bind_bath_chemistry(py::module_& m) {
  described::bind<WithinRange>(m);
  described::bind<BathPh>(m);
  described::bind<CarriedOff>(m);
  described::bind<BathChemistry>(m);
  described::bind<LogDisagreement>(m);
  described::bind<LogAgainstBath>(m);
  m.def("_chemistry_of_bath",
        [](const std::shared_ptr<const Dataset>& dataset, const std::string& salt,
           double percent_w_v, double mol_per_l, double volume_l, const std::string& form,
           double purity_percent, double reagent_chloride_percent, double water_chloride_mg_per_l,
           double water_chloride_error_mg_per_l, double temperature_c, double carbon_dioxide_bar,
           double headspace_l_per_l, double object_mass_g, double nantokite_g,
           const std::vector<std::string>& metals) {
          const BathRecipe recipe{salt,
                                  percent_w_v,
                                  mol_per_l,
                                  volume_l,
                                  form,
                                  purity_percent,
                                  reagent_chloride_percent,
                                  water_chloride_mg_per_l,
                                  water_chloride_error_mg_per_l,
                                  temperature_c,
                                  carbon_dioxide_bar,
                                  headspace_l_per_l,
                                  object_mass_g,
                                  nantokite_g,
                                  metals};
          py::gil_scoped_release released;
          return chemistry_of_bath(dataset, recipe);
        });
  m.def("_log_against_bath", [](const BathLog& log, const BathChemistry& bath, bool acid) {
    return log_against_bath(log, bath,
                            acid ? NantokiteAcid::expected : NantokiteAcid::not_expected);
  });
}
