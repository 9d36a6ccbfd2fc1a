#include "aeruca/analysis.hpp"
#include "aeruca/ranges.hpp"
#include "aeruca/render.hpp"
#include "aeruca/speciation.hpp"
#include "described.hpp"
#include "render/describe_analysis.hpp"
#include "render/describe_ranges.hpp"

namespace {

using namespace aeruca;
using DatasetPointer = std::shared_ptr<Dataset>;

std::shared_ptr<const Dataset> or_default(const DatasetPointer& dataset) {
  return dataset ? std::shared_ptr<const Dataset>(dataset) : default_dataset();
}

Speciation solve_analysis(const DatasetPointer& dataset, const WaterAnalysis& analysis,
                          const EquilibriumOptions& options) {
  const py::gil_scoped_release released;
  const auto used = or_default(dataset);
  return speciation_of(solve(analyse(analysis, *used, options), used), *used);
}

void bind_input(py::module_& m) {
  using A = WaterAnalysis;
  py::class_<A>(m, "WaterAnalysis")
      .def(py::init<>())
      .def(
          "add_ion",
          [](A& a, const std::string& name, const std::string& amount) {
            a.ions.push_back({name, amount_from(amount, name)});
          },
          py::arg("name"), py::arg("amount"))
      .def(
          "set_alkalinity",
          [](A& a, const std::string& amount) { a.alkalinity = amount_from(amount, "alkalinity"); },
          py::arg("amount"))
      .def(
          "set_ph_number",
          [](A& a, double ph) {
            a.ph = {ph, kNotGiven, kNotGiven};
          },
          py::arg("ph"))
      .def(
          "set_ph", [](A& a, const std::string& text) { a.ph = reading_from(text, "ph"); },
          py::arg("reading"))
      .def_readwrite("potential_mv", &A::potential_mv)
      .def_readwrite("potential_uncertainty_mv", &A::potential_uncertainty_mv)
      .def_readwrite("reference_electrode", &A::reference_electrode)
      .def_readwrite("oxygen_bar", &A::oxygen_bar)
      .def_readwrite("held_gas_bar", &A::held_gas_bar)
      .def_readwrite("temperature_c", &A::temperature_c)
      .def_readwrite("density_kg_per_l", &A::density_kg_per_l)
      .def_readwrite("conductivity_us_per_cm", &A::conductivity_us_per_cm)
      .def_readwrite("charge_assigned_to", &A::charge_assigned_to);
}

// Dictionaries, for their order says something: largest share, least need first.
py::dict shares(const Speciation& water) {
  py::dict all;
  for (const ElementShares& element : water.elements) {
    py::dict forms;
    for (const ElementForm& form : element.forms) forms[py::str(form.name)] = form.percent;
    all[py::str(element.word)] = forms;
  }
  return all;
}

py::dict needs(const Speciation& water) {
  py::dict all;
  for (const SolidNeed& need : water.solids) {
    py::dict times;
    for (const auto& [ingredient, factor] : need.needs) times[py::str(ingredient)] = factor;
    if (!need.needs.empty()) all[py::str(need.name)] = times;
  }
  return all;
}

void bind_output(py::module_& m) {
  described::bind<ChargeBalance>(m);
  described::bind<Conductivity>(m);
  described::bind<ElementForm>(m);
  described::bind<ElementShares>(m);
  described::bind<SolidNeed>(m);
  described::bind<Speciation>(m, {"def shares_percent(self) -> dict[str, dict[str, float]]: ...",
                                  "def needs(self) -> dict[str, dict[str, float]]: ...",
                                  "def text(self, dataset: Dataset | None) -> str: ..."})
      .def("shares_percent", &shares)
      .def("needs", &needs)
      .def(
          "text",
          [](const Speciation& water, const DatasetPointer& dataset) {
            return speciation_text(water.solved, *or_default(dataset));
          },
          py::arg("dataset").none(true));
}

void bind_ranges(py::module_& m) {
  described::bind<Spread>(m);
  described::bind<DoubtCarrier>(m);
  described::bind<FigureRange>(m);
  described::bind<DrawnChance>(m);
  described::bind<SolidChance>(m);
  described::bind<WaterRanges>(
      m, {"def text(self, water: Speciation, dataset: Dataset | None) -> str: ..."})
      .def(
          "text",
          [](const WaterRanges& ranges, const Speciation& water, const DatasetPointer& dataset) {
            return ranges_text(ranges, water, *or_default(dataset));
          },
          py::arg("water"), py::arg("dataset").none(true));
  m.def(
      "ranges_of_analysis",
      [](const DatasetPointer& dataset, const Speciation& water, int draws, std::uint64_t seed,
         int threads) {
        const py::gil_scoped_release released;
        return ranges_of(water.solved, or_default(dataset), {draws, seed, threads});
      },
      py::arg("dataset").none(true), py::arg("water"), py::arg("draws"), py::arg("seed"),
      py::arg("threads"));
  m.def(
      "ranges_of_water",
      [](const DatasetPointer& dataset, const Equilibrium& system,
         const std::map<std::string, double>& totals, std::optional<double> ph,
         std::optional<double> eh_v, std::optional<double> oxygen_bar,
         const std::map<std::string, double>& fugacity_bar, std::optional<double> water_activity,
         int draws, std::uint64_t seed, int threads) {
        const py::gil_scoped_release released;
        return ranges_of({totals, ph, eh_v, oxygen_bar, fugacity_bar, water_activity},
                         system.options(), or_default(dataset), {draws, seed, threads});
      },
      py::arg("dataset").none(true), py::arg("system"), py::arg("totals_mol_per_kg"), py::arg("ph"),
      py::arg("eh_v"), py::arg("oxygen_bar"), py::arg("fugacity_bar"), py::arg("water_activity"),
      py::arg("draws"), py::arg("seed"), py::arg("threads"));
}

EquilibriumOptions options_of(const std::string& activity, const std::string& acidity,
                              bool conserved, const std::string& precipitation,
                              std::vector<std::string> allowed_solids,
                              std::vector<std::string> left_out, std::vector<std::string> inert,
                              const std::string& missing_enthalpy) {
  EquilibriumOptions options;
  options.activity = activity_model_from(activity);
  options.acidity = acidity_from(acidity);
  if (conserved) options.redox = Redox::conserved;
  options.precipitation = precipitation_from(precipitation);
  options.allowed_solids = std::move(allowed_solids);
  options.left_out = std::move(left_out);
  options.inert = std::move(inert);
  options.missing_enthalpy = missing_enthalpy_from(missing_enthalpy);
  return options;
}

}  // namespace

void bind_analysis(py::module_& m) {
  bind_input(m);
  bind_output(m);
  bind_ranges(m);
  m.def(
      "reference_electrodes",
      [](const DatasetPointer& d) { return reference_electrodes(*or_default(d)); },
      py::arg("dataset").none(true));
  m.def(
      "ion_words", [](const DatasetPointer& d) { return ion_words(*or_default(d)); },
      py::arg("dataset").none(true));
  m.def("amount_units", [] { return amount_units(); });
  m.def(
      "solve_analysis",
      [](const DatasetPointer& dataset, const WaterAnalysis& analysis, const std::string& activity,
         const std::string& acidity, bool conserved, const std::string& precipitation,
         std::vector<std::string> allowed_solids, std::vector<std::string> left_out,
         std::vector<std::string> inert, const std::string& missing_enthalpy) {
        return solve_analysis(
            dataset, analysis,
            options_of(activity, acidity, conserved, precipitation, std::move(allowed_solids),
                       std::move(left_out), std::move(inert), missing_enthalpy));
      },
      py::arg("dataset").none(true), py::arg("analysis"), py::arg("activity"), py::arg("acidity"),
      py::arg("conserved"), py::arg("precipitation"), py::arg("allowed_solids"),
      py::arg("left_out"), py::arg("inert"), py::arg("missing_enthalpy"));
}
