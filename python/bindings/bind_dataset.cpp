#include <cmath>

#include "aeruca/dataset.hpp"
#include "described.hpp"
#include "render/describe_brine.hpp"
#include "render/describe_dataset.hpp"

namespace {

using namespace aeruca;
using DatasetPointer = std::shared_ptr<Dataset>;

// Python sees the data set read-only, so the const of the library is kept there.
DatasetPointer shared(std::shared_ptr<const Dataset> dataset) {
  return std::const_pointer_cast<Dataset>(std::move(dataset));
}

std::string short_number(double value, const char* format) {
  return py::str(py::str(format).format(py::float_(value)));
}

std::string number(double value, double uncertainty) {
  if (std::isnan(value)) return "no value";
  std::string text = short_number(value, "{:.7g}");
  if (!std::isnan(uncertainty)) text += " +/- " + short_number(uncertainty, "{:.2g}");
  return text;
}

std::string in_quotes(const std::string& text) {
  return py::repr(py::str(text));
}

std::string species_repr(const Species& s) {
  return "Species(" + in_quotes(s.name) + ", " + std::string(to_string(s.kind)) + ", log10_k " +
         number(s.log10_k, s.log10_k_uncertainty) + " from components at 25 C)";
}

std::string dataset_repr(const Dataset& d) {
  return "Dataset(version " + in_quotes(d.version) + ", content " + in_quotes(d.content_hash) +
         ", " + std::to_string(d.species.size()) + " species, " + std::to_string(d.figures.size()) +
         " figures, " + std::to_string(d.sources.size()) + " sources)";
}

py::object log10_k(const Dataset& dataset, const std::string& name,
                   const py::object& temperature_c) {
  const Species& species = dataset.at(name);
  const py::object checked =
      py::module_::import("aeruca.checks").attr("numbers")("temperature_c", temperature_c);
  return py::vectorize([&](double t) { return dataset.log10_k(species, t); })(
      checked.cast<py::array_t<double>>());
}

void bind_records(py::module_& m) {
  described::bind<Source>(m);
  described::bind<Figure>(m);
  auto species = described::bind<Species>(m);
  // As it is written in code, with the constant that a reader looks for.
  species.attr("__repr__") = py::cpp_function(&species_repr, py::is_method(species));
  described::bind<Salt>(m);
  described::bind<MeasuredHumidity>(m);
  described::bind<OnsetBand>(m);
}

}  // namespace

void bind_dataset(py::module_& m) {
  bind_records(m);
  py::class_<Dataset, DatasetPointer>(
      m, "Dataset", "Species, reactions, salts, onset bands and their sources; never changes.")
      .def_readonly("version", &Dataset::version)
      .def_readonly("content_hash", &Dataset::content_hash)
      .def_readonly("components", &Dataset::components)
      .def_readonly("species", &Dataset::species)
      .def_readonly("figures", &Dataset::figures)
      .def_readonly("sources", &Dataset::sources)
      .def_readonly("salts", &Dataset::salts)
      .def_readonly("humidities", &Dataset::humidities)
      .def_readonly("onset_bands", &Dataset::onset_bands)
      .def("__contains__",
           [](const Dataset& d, const std::string& name) { return d.contains(name); })
      .def(
          "__getitem__", [](const Dataset& d, const std::string& name) { return d.at(name); },
          py::arg("name"))
      .def(
          "figure", [](const Dataset& d, const std::string& id) { return d.figure(id); },
          py::arg("id"))
      .def(
          "source", [](const Dataset& d, const std::string& key) { return d.source(key); },
          py::arg("key"))
      .def(
          "salt", [](const Dataset& d, const std::string& name) { return d.salt(name); },
          py::arg("name"))
      .def(
          "onset_band", [](const Dataset& d, const std::string& id) { return d.onset_band(id); },
          py::arg("id"))
      .def("log10_k", &log10_k, py::arg("species"), py::arg("temperature_c"),
           "log10 of the formation constant from the components at temperatures in C (0 to 50).")
      .def("__repr__", &dataset_repr);
  m.def(
      "default_dataset", [] { return shared(default_dataset()); },
      "The data set the library was built with.");
  m.def(
      "load_dataset", [](const std::string& directory) { return shared(load_dataset(directory)); },
      py::arg("directory"), "A data set read from a directory with the files of data/.");
  m.def(
      "extend_dataset",
      [](const DatasetPointer& base, const std::string& file) {
        return shared(extend_dataset(*base, file));
      },
      py::arg("base").none(false), py::arg("file"),
      "A copy with the records of one TOML file added; equal keys are replaced.");
  m.def(
      "molar_mass_g_per_mol",
      [](const std::string& formula) { return molar_mass_g_per_mol(parse_formula(formula)); },
      py::arg("formula"), "Molar mass of a formula such as CuCl2.2H2O (g/mol).");
}
