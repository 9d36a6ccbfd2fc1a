#include "described.hpp"
#include "render/describe_path.hpp"

namespace {

using namespace aeruca;
using Given = std::shared_ptr<Dataset>;

// None in Python: the data set built in.
std::shared_ptr<const Dataset> chosen(const Given& given) {
  return given ? given : default_dataset();
}

void bind_asked(py::module_& m) {
  py::class_<ReactionPath>(m, "ReactionPath", "A water and what is to change about it.")
      .def(py::init<>())
      .def_readwrite("added", &ReactionPath::added)
      .def_readwrite("gas", &ReactionPath::gas)
      .def_readwrite("gas_bar", &ReactionPath::gas_bar)
      .def_readwrite("to", &ReactionPath::to)
      .def_readwrite("carried_over", &ReactionPath::carried_over)
      .def_readwrite("steps", &ReactionPath::steps)
      .def("set_kind",
           [](ReactionPath& path, const std::string& kind) { path.kind = path_kind_from(kind); })
      .def("set_system",
           [](ReactionPath& path, const std::string& activity, double temperature_c,
              const std::string& redox, const std::string& acidity,
              const std::vector<std::string>& components,
              const std::vector<std::string>& allowed_solids,
              const std::vector<std::string>& left_out) {
             EquilibriumOptions& system = path.system;
             system.activity = activity_model_from(activity);
             system.temperature_c = temperature_c;
             system.redox = redox_from(redox);
             system.acidity = acidity_from(acidity);
             system.components = components;
             system.precipitation = Precipitation::allowed;
             system.allowed_solids = allowed_solids;
             system.left_out = left_out;
           })
      .def("set_start",
           [](ReactionPath& path, const std::map<std::string, double>& totals,
              std::optional<double> ph, std::optional<double> eh_v,
              std::optional<double> oxygen_bar, const std::map<std::string, double>& fugacity_bar) {
             path.start.totals_mol_per_kg = totals;
             path.start.ph = ph;
             path.start.eh_v = eh_v;
             path.start.oxygen_bar = oxygen_bar;
             path.start.fugacity_bar = fugacity_bar;
           });
}

PathSupply supply_of(double depth_mm, double oxygen_bar, double temperature_c,
                     double current_a_per_m2) {
  PathSupply supply;
  if (!std::isnan(depth_mm)) supply.kind = SupplyKind::oxygen_layer;
  if (!std::isnan(current_a_per_m2)) supply.kind = SupplyKind::current;
  supply.depth_mm = depth_mm;
  supply.oxygen_bar = oxygen_bar;
  supply.temperature_c = temperature_c;
  supply.current_a_per_m2 = current_a_per_m2;
  return supply;
}

void bind_ready(py::module_& m) {
  const py::call_guard<py::gil_scoped_release> released;
  m.def(
      "_coin_in_salt_water",
      [](const Given& data, double salt, double days, double water_mm, double temperature_c) {
        return coin_in_salt_water(chosen(data), {salt, days, water_mm, temperature_c});
      },
      released);
  m.def(
      "_pit_in_moist_air",
      [](const Given& data, double nantokite_mg, double metal_mg, double water_g_per_mol) {
        return pit_in_moist_air(chosen(data), {nantokite_mg, metal_mg, water_g_per_mol});
      },
      released);
  m.def("_nantokite_of_pit_mg", [](const Given& data, double diameter_mm) {
    return nantokite_of_pit_mg(*chosen(data), diameter_mm);
  });
  m.def(
      "_nantokite_in_baths",
      [](const Given& data, double nantokite_g_per_l) {
        return nantokite_in_baths(chosen(data), nantokite_g_per_l);
      },
      released);
  m.def(
      "_carbonate_bath_in_air",
      [](const Given& data, const std::string& salt, double mol_per_l, double temperature_c,
         double carbon_dioxide_bar, double headspace_l_per_l) {
        return carbonate_bath_in_air(
            chosen(data), {salt, mol_per_l, temperature_c, carbon_dioxide_bar, headspace_l_per_l});
      },
      released);
}

}  // namespace

void bind_path(py::module_& m) {
  bind_asked(m);
  described::bind<PathEvent>(m);
  described::bind<PathAmount>(m);
  described::bind<PathResult>(m, {"def solid(self, name: str) -> npt.NDArray[np.float64]: ...",
                                  "def raise_if_failed(self) -> None: ..."})
      .def("solid", [](const PathResult& path,
                       const std::string& name) { return to_array(path.solid(name)); })
      .def("raise_if_failed", [](const PathResult& path) { path.raise_if_failed(); });
  described::bind<RateCheck>(m);
  described::bind<CoinPath>(m);
  described::bind<PitInMoistAir>(m);
  described::bind<NantokiteBath>(m);
  described::bind<NantokiteInBaths>(m);
  described::bind<CarbonateBathPath>(m);
  bind_ready(m);
  m.def(
      "_follow_path",
      [](const Given& data, const ReactionPath& path) { return follow_path(chosen(data), path); },
      py::call_guard<py::gil_scoped_release>());
  m.def("_path_days", [](const Given& data, const PathResult& path, double depth_mm,
                         double oxygen_bar, double temperature_c, double current_a_per_m2,
                         double water_kg_per_m2) {
    return to_array(path_days(*chosen(data), path,
                              supply_of(depth_mm, oxygen_bar, temperature_c, current_a_per_m2),
                              water_kg_per_m2));
  });
  m.def("_oxygen_supply", [](const Given& data, double depth_mm, double oxygen_bar,
                             double temperature_c, double current_a_per_m2) {
    return oxygen_supply(*chosen(data),
                         supply_of(depth_mm, oxygen_bar, temperature_c, current_a_per_m2));
  });
  m.def("_thickness_nm", [](const Given& data, const std::string& solid, double mol_per_m2) {
    return thickness_nm(*chosen(data), solid, mol_per_m2);
  });
  m.def("_copper_one_oxidation", [](const Given& data, bool sea_water, double ph,
                                    double temperature_c, double ionic_strength) {
    return copper_one_oxidation(
        *chosen(data), sea_water ? CopperOneMedium::sea_water : CopperOneMedium::sodium_chloride,
        ph, temperature_c, ionic_strength);
  });
}
