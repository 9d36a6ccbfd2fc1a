#include "aeruca/equilibrium.hpp"
#include "described.hpp"
#include "render/describe_equilibrium.hpp"

#include <chrono>
#include <future>

namespace {

using namespace aeruca;
using DatasetPointer = std::shared_ptr<Dataset>;

constexpr std::size_t kFewWaters = 4096;  // solved before anyone could interrupt
constexpr std::chrono::milliseconds kBetweenSignals{50};

Equilibrium make(const DatasetPointer& dataset, const std::string& activity, double temperature_c,
                 const std::string& redox, const std::string& acidity, const std::string& solvent,
                 const std::string& starts, std::vector<std::string> components,
                 const std::string& precipitation, std::vector<std::string> allowed_solids,
                 std::vector<std::string> left_out, std::vector<std::string> inert,
                 int iteration_limit, int threads, const std::string& missing_enthalpy) {
  EquilibriumOptions options;
  options.activity = activity_model_from(activity);
  options.temperature_c = temperature_c;
  options.redox = redox_from(redox);
  options.acidity = acidity_from(acidity);
  options.solvent = solvent_from(solvent);
  options.starts = starts_from(starts);
  options.components = std::move(components);
  options.precipitation = precipitation_from(precipitation);
  options.allowed_solids = std::move(allowed_solids);
  options.left_out = std::move(left_out);
  options.inert = std::move(inert);
  options.iteration_limit = iteration_limit;
  options.threads = threads;
  options.missing_enthalpy = missing_enthalpy_from(missing_enthalpy);
  return Equilibrium(dataset ? std::shared_ptr<const Dataset>(dataset) : default_dataset(),
                     std::move(options));
}

using MaybeArray = std::optional<DoubleArray>;

std::span<const double> given(const MaybeArray& values) {
  return values ? span_of(*values) : std::span<const double>{};
}

// Many waters on another thread, so that this one heeds an interrupt; the lock is free meanwhile.
EquilibriumBatch solve_heeding_signals(const Equilibrium& self, const EquilibriumRows& rows,
                                       const BatchChoice& choice) {
  if (rows.count < kFewWaters) {
    py::gil_scoped_release released;
    return self.solve_many(rows, choice);
  }
  std::stop_source stop;
  auto solved = std::async(std::launch::async,
                           [&] { return self.solve_many(rows, choice, stop.get_token()); });
  const auto wait = [&solved](auto how_long) {
    py::gil_scoped_release released;
    return solved.wait_for(how_long) == std::future_status::ready;
  };
  while (!wait(kBetweenSignals)) {
    if (PyErr_CheckSignals() == 0) continue;
    stop.request_stop();
    while (!wait(kBetweenSignals)) {
    }
    throw py::error_already_set();
  }
  return solved.get();
}

// Columns that were asked for, by name, as arrays of shape (n) or (n, names).
py::dict arrays_of(EquilibriumBatch&& batch) {
  py::dict arrays;
  const auto n = static_cast<py::ssize_t>(batch.status.size());
  const auto by_name = [&](const char* name, auto& values, const std::vector<std::string>& names) {
    if (values.empty() && n > 0 && !names.empty()) return;
    arrays[name] = as_array(std::move(values), {n, static_cast<py::ssize_t>(names.size())});
  };
  const auto alone = [&](const char* name, auto& values) {
    if (!values.empty() || n == 0) arrays[name] = as_array(std::move(values), {n});
  };
  by_name("log10_molality", batch.log10_molality, batch.species);
  by_name("solid_mol_per_kg", batch.solid_mol_per_kg, batch.allowed_solids);
  by_name("saturation_index", batch.saturation_index, batch.indexed_solids);
  by_name("log10_fugacity", batch.log10_fugacity, batch.gases);
  alone("leading_solid", batch.leading_solid);
  alone("ph", batch.ph);
  alone("eh_v", batch.eh_v);
  alone("ionic_strength", batch.ionic_strength);
  alone("water_activity", batch.water_activity);
  alone("solvent_kg", batch.solvent_kg);
  alone("degenerate", batch.degenerate);
  alone("status", batch.status);
  alone("certified", batch.certified);
  return arrays;
}

py::dict names_of(const EquilibriumBatch& batch) {
  py::dict names;
  names["species"] = batch.species;
  names["allowed_solids"] = batch.allowed_solids;
  names["indexed_solids"] = batch.indexed_solids;
  names["gases"] = batch.gases;
  return names;
}

py::tuple solve_rows(const Equilibrium& self, const std::vector<std::string>& ingredients,
                     const DoubleArray& totals, const MaybeArray& ph, const MaybeArray& eh_v,
                     const MaybeArray& oxygen_bar, const MaybeArray& water_activity,
                     const MaybeArray& temperature_c, const std::vector<std::string>& held_gases,
                     const DoubleArray& fugacity_bar, const std::vector<std::string>& columns,
                     std::vector<std::string> species, std::vector<std::string> solids,
                     std::vector<std::string> gases) {
  BatchChoice choice{{}, std::move(species), std::move(solids), std::move(gases)};
  for (const auto& name : columns) choice.columns.push_back(batch_column_from(name));
  EquilibriumBatch batch = solve_heeding_signals(
      self,
      {static_cast<std::size_t>(totals.shape(0)), ingredients, span_of(totals), given(ph),
       given(eh_v), given(oxygen_bar), given(water_activity), given(temperature_c), held_gases,
       span_of(fugacity_bar)},
      choice);
  const py::dict names = names_of(batch);
  return py::make_tuple(names, arrays_of(std::move(batch)));
}

EquilibriumResult solve(const Equilibrium& self, const std::map<std::string, double>& totals,
                        std::optional<double> ph, std::optional<double> eh_v,
                        std::optional<double> oxygen_bar,
                        const std::map<std::string, double>& fugacity_bar,
                        std::optional<double> water_activity) {
  py::gil_scoped_release released;
  return self.solve({totals, ph, eh_v, oxygen_bar, fugacity_bar, water_activity});
}

void bind_result(py::module_& m) {
  using R = EquilibriumResult;
  described::bind<Certificate>(m);
  described::bind<aeruca::detail::DissolvedForm>(m);
  described::bind<R>(m, {"def formed(self) -> dict[str, float]: ...",
                         "def molality_of(self, name: str) -> float: ...",
                         "def raise_if_failed(self) -> None: ..."})
      .def("formed", on_object(&R::formed))
      .def("molality_of", &R::molality_of, py::arg("name"))
      .def("raise_if_failed", on_object(&R::raise_if_failed));
}

// Words of a choice by number.
template <class Choice>
py::tuple words_up_to(Choice last) {
  py::tuple names(static_cast<std::size_t>(last) + 1);
  for (std::size_t k = 0; k < names.size(); ++k)
    names[k] = std::string(to_string(static_cast<Choice>(k)));
  return names;
}

}  // namespace

void bind_equilibrium(py::module_& m) {
  m.attr("STATUS_NAMES") = words_up_to(Status::no_parameters);
  m.attr("BATCH_COLUMNS") = words_up_to(BatchColumn::degenerate);
  bind_result(m);
  py::class_<Equilibrium>(m, "EquilibriumSystem")
      .def(py::init(&make), py::arg("dataset").none(true), py::arg("activity"),
           py::arg("temperature_c"), py::arg("redox"), py::arg("acidity"), py::arg("solvent"),
           py::arg("starts"), py::arg("components"), py::arg("precipitation"),
           py::arg("allowed_solids"), py::arg("left_out"), py::arg("inert"),
           py::arg("iteration_limit"), py::arg("threads"), py::arg("missing_enthalpy"))
      .def_property_readonly("species", on_object(&Equilibrium::species))
      .def_property_readonly("allowed_solids", on_object(&Equilibrium::allowed_solids))
      .def_property_readonly("estimated_heats", on_object(&Equilibrium::estimated_heats))
      .def("solve", &solve, py::arg("totals_mol_per_kg"), py::arg("ph"), py::arg("eh_v"),
           py::arg("oxygen_bar"), py::arg("fugacity_bar"), py::arg("water_activity"))
      .def("solve_rows", &solve_rows, py::arg("ingredients"), py::arg("totals"), py::arg("ph"),
           py::arg("eh_v"), py::arg("oxygen_bar"), py::arg("water_activity"),
           py::arg("temperature_c"), py::arg("held_gases"), py::arg("fugacity_bar"),
           py::arg("columns"), py::arg("species"), py::arg("solids"), py::arg("gases"));
}
