#include "aeruca/equilibrium.hpp"
#include "described.hpp"
#include "render/describe_equilibrium.hpp"

#include <algorithm>

namespace {

using namespace aeruca;
using DatasetPointer = std::shared_ptr<Dataset>;

constexpr std::size_t kRowsBetweenSignals = 4096;  // a tenth of a second or so

Equilibrium make(const DatasetPointer& dataset, const std::string& activity, double temperature_c,
                 const std::string& redox, const std::string& acidity,
                 std::vector<std::string> components, const std::string& precipitation,
                 std::vector<std::string> allowed_solids, std::vector<std::string> left_out,
                 std::vector<std::string> inert, int iteration_limit, int threads,
                 const std::string& missing_enthalpy) {
  EquilibriumOptions options;
  options.activity = activity_model_from(activity);
  options.temperature_c = temperature_c;
  options.redox = redox_from(redox);
  options.acidity = acidity_from(acidity);
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

void append(Equilibrium::Batch& all, const Equilibrium::Batch& part) {
  const auto join = [](auto& to, const auto& from) {
    to.insert(to.end(), from.begin(), from.end());
  };
  join(all.log10_molality, part.log10_molality);
  join(all.solid_mol_per_kg, part.solid_mol_per_kg);
  join(all.ph, part.ph);
  join(all.eh_v, part.eh_v);
  join(all.ionic_strength, part.ionic_strength);
  join(all.water_activity, part.water_activity);
  join(all.status, part.status);
  join(all.certified, part.certified);
}

using MaybeArray = std::optional<DoubleArray>;

std::span<const double> part(const MaybeArray& values, std::size_t first, std::size_t rows) {
  return values ? span_of(*values).subspan(first, rows) : std::span<const double>{};
}

// Rows in blocks: the lock is free within a block, an interrupt is heeded between two.
Equilibrium::Batch solve_rows(const Equilibrium& self, const std::vector<std::string>& ingredients,
                              const DoubleArray& totals, const MaybeArray& ph,
                              const MaybeArray& eh_v, const MaybeArray& oxygen_bar,
                              const std::map<std::string, double>& fugacity_bar) {
  const std::size_t n = static_cast<std::size_t>(totals.shape(0));
  const std::size_t k = ingredients.size();
  const auto all_totals = span_of(totals);
  Equilibrium::Batch batch;
  for (std::size_t first = 0; first < n; first += kRowsBetweenSignals) {
    const std::size_t rows = std::min(kRowsBetweenSignals, n - first);
    {
      py::gil_scoped_release released;
      append(batch, self.solve_many({rows, ingredients, all_totals.subspan(first * k, rows * k),
                                     part(ph, first, rows), part(eh_v, first, rows),
                                     part(oxygen_bar, first, rows), fugacity_bar}));
    }
    if (PyErr_CheckSignals() != 0) throw py::error_already_set();
  }
  return batch;
}

EquilibriumResult solve(const Equilibrium& self, const std::map<std::string, double>& totals,
                        std::optional<double> ph, std::optional<double> eh_v,
                        std::optional<double> oxygen_bar,
                        const std::map<std::string, double>& fugacity_bar) {
  py::gil_scoped_release released;
  return self.solve({totals, ph, eh_v, oxygen_bar, fugacity_bar});
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

py::tuple batch_arrays(const Equilibrium& self, const Equilibrium::Batch& batch) {
  const auto n = static_cast<py::ssize_t>(batch.ph.size());
  return py::make_tuple(
      to_array(batch.log10_molality, {n, static_cast<py::ssize_t>(self.species().size())}),
      to_array(batch.solid_mol_per_kg, {n, static_cast<py::ssize_t>(self.allowed_solids().size())}),
      to_array(batch.ph), to_array(batch.eh_v), to_array(batch.ionic_strength),
      to_array(batch.water_activity), to_array(batch.status), to_array(batch.certified));
}

// Words of Status by number, as the arrays of a batch have it.
py::tuple status_names() {
  py::tuple names(static_cast<std::size_t>(Status::no_parameters) + 1);
  for (std::size_t k = 0; k < names.size(); ++k)
    names[k] = std::string(to_string(static_cast<Status>(k)));
  return names;
}

}  // namespace

void bind_equilibrium(py::module_& m) {
  m.attr("STATUS_NAMES") = status_names();
  bind_result(m);
  py::class_<Equilibrium>(m, "EquilibriumSystem")
      .def(py::init(&make), py::arg("dataset").none(true), py::arg("activity"),
           py::arg("temperature_c"), py::arg("redox"), py::arg("acidity"), py::arg("components"),
           py::arg("precipitation"), py::arg("allowed_solids"), py::arg("left_out"),
           py::arg("inert"), py::arg("iteration_limit"), py::arg("threads"),
           py::arg("missing_enthalpy"))
      .def_property_readonly("species", on_object(&Equilibrium::species))
      .def_property_readonly("allowed_solids", on_object(&Equilibrium::allowed_solids))
      .def("solve", &solve, py::arg("totals_mol_per_kg"), py::arg("ph"), py::arg("eh_v"),
           py::arg("oxygen_bar"), py::arg("fugacity_bar"))
      .def(
          "solve_rows",
          [](const Equilibrium& self, const std::vector<std::string>& ingredients,
             const DoubleArray& totals, const MaybeArray& ph, const MaybeArray& eh_v,
             const MaybeArray& oxygen_bar, const std::map<std::string, double>& fugacity_bar) {
            return batch_arrays(
                self, solve_rows(self, ingredients, totals, ph, eh_v, oxygen_bar, fugacity_bar));
          },
          py::arg("ingredients"), py::arg("totals"), py::arg("ph"), py::arg("eh_v"),
          py::arg("oxygen_bar"), py::arg("fugacity_bar"));
}
