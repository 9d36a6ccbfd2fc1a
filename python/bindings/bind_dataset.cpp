#include <cmath>

#include "aeruca/dataset.hpp"
#include "described.hpp"
#include "render/describe_brine.hpp"

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

std::string figure_repr(const Figure& f) {
  const std::string unit = f.unit == "1" ? "" : " " + f.unit;
  return "Figure(" + in_quotes(f.id) + ", " + f.subject + ", " + f.quantity + " " +
         number(f.value, f.uncertainty) + unit + ", " + f.source + ", " +
         std::string(to_string(f.basis)) + (f.chosen ? ", chosen)" : ")");
}

std::string species_repr(const Species& s) {
  return "Species(" + in_quotes(s.name) + ", " + std::string(to_string(s.kind)) + ", log10_k " +
         number(s.log10_k, s.log10_k_uncertainty) + " from components at 25 C)";
}

std::string salt_repr(const Salt& s) {
  return "Salt(" + in_quotes(s.solid) + ", " + s.formula + ", ln_k " +
         number(s.ln_k_25c, std::nan("")) + " at 25 C)";
}

std::string humidity_repr(const MeasuredHumidity& h) {
  return "MeasuredHumidity(" + in_quotes(h.solid) + ", " + h.equilibrium + ", " +
         number(h.rh_percent, h.uncertainty_percent) + " % RH at " +
         number(h.temperature_c, std::nan("")) + " C, " + h.kind + ")";
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

template <class Record>
std::string basis_of(const Record& record) {
  return std::string(to_string(record.basis));
}

void bind_records(py::module_& m) {
  py::class_<Source>(m, "Source")
      .def_readonly("key", &Source::key)
      .def_readonly("text", &Source::text)
      .def_readonly("doi", &Source::doi)
      .def("__repr__", [](const Source& s) {
        return "Source(" + in_quotes(s.key) + ", " + in_quotes(s.text) + ")";
      });
  py::class_<Figure>(m, "Figure", "One figure of the data set, with where it comes from.")
      .def_readonly("id", &Figure::id)
      .def_readonly("subject", &Figure::subject)
      .def_readonly("quantity", &Figure::quantity)
      .def_readonly("value", &Figure::value)
      .def_readonly("unit", &Figure::unit)
      .def_readonly("uncertainty", &Figure::uncertainty)
      .def_readonly("conditions", &Figure::conditions)
      .def_readonly("source", &Figure::source)
      .def_readonly("place", &Figure::place)
      .def_property_readonly("basis", &basis_of<Figure>)
      .def_readonly("chosen", &Figure::chosen)
      .def_readonly("reason", &Figure::reason)
      .def_readonly("note", &Figure::note)
      .def_readonly("file", &Figure::file)
      .def_readonly("line", &Figure::line)
      .def("__repr__", &figure_repr);
}

void bind_species(py::module_& m) {
  py::class_<Species>(m, "Species",
                      "A species or pure phase, its constant reduced to the component basis.")
      .def_readonly("name", &Species::name)
      .def_readonly("formula", &Species::formula)
      .def_readonly("title", &Species::title)
      .def_property_readonly("kind",
                             [](const Species& s) { return std::string(to_string(s.kind)); })
      .def_readonly("charge", &Species::charge)
      .def_readonly("molar_mass_g_per_mol", &Species::molar_mass_g_per_mol)
      .def_property_readonly("elements",
                             [](const Species& s) {
                               return std::map<std::string, double>(s.elements.begin(),
                                                                    s.elements.end());
                             })
      .def_property_readonly(
          "components", [](const Species& s) { return to_array(s.components); },
          "Coefficients over Dataset.components (shape: components)")
      .def_readonly("log10_k", &Species::log10_k)
      .def_readonly("log10_k_uncertainty", &Species::log10_k_uncertainty)
      .def_readonly("enthalpy_kj_per_mol", &Species::enthalpy_kj_per_mol)
      .def_readonly("heat_capacity_j_per_mol_k", &Species::heat_capacity_j_per_mol_k)
      .def_readonly("density_g_per_cm3", &Species::density_g_per_cm3)
      .def_readonly("slow_to_form", &Species::slow_to_form)
      .def_readonly("colour", &Species::colour)
      .def_readonly("figures", &Species::figures)
      .def_readonly("constant_terms", &Species::constant_terms)
      .def("__repr__", &species_repr);
}

void bind_brine_records(py::module_& m) {
  py::class_<Salt>(m, "Salt", "A soluble salt: how it dissolves and how much of it does.")
      .def_readonly("solid", &Salt::solid)
      .def_readonly("formula", &Salt::formula)
      .def_readonly("anhydrous", &Salt::anhydrous)
      .def_readonly("ions", &Salt::ions)
      .def_readonly("waters", &Salt::waters)
      .def_readonly("molar_mass_g_per_mol", &Salt::molar_mass_g_per_mol)
      .def_readonly("ln_k_25c", &Salt::ln_k_25c)
      .def_readonly("pitzer_set", &Salt::pitzer_set)
      .def_readonly("solubility", &Salt::solubility,
                    "Pairs (temperature in C, mol anhydrous salt per kg water)")
      .def_readonly("dissolution_enthalpy_kj_per_mol", &Salt::dissolution_enthalpy_kj_per_mol)
      .def_readonly("density_g_per_cm3", &Salt::density_g_per_cm3)
      .def_readonly("source", &Salt::source)
      .def_property_readonly("basis", &basis_of<Salt>)
      .def_readonly("humidity_in_fit", &Salt::humidity_in_fit)
      .def_readonly("note", &Salt::note)
      .def("__repr__", &salt_repr);
  py::class_<MeasuredHumidity>(m, "MeasuredHumidity",
                               "A deliquescence, hydration or mutual humidity from the literature.")
      .def_readonly("solid", &MeasuredHumidity::solid)
      .def_readonly("equilibrium", &MeasuredHumidity::equilibrium)
      .def_readonly("kind", &MeasuredHumidity::kind)
      .def_readonly("temperature_c", &MeasuredHumidity::temperature_c)
      .def_readonly("rh_percent", &MeasuredHumidity::rh_percent)
      .def_readonly("uncertainty_percent", &MeasuredHumidity::uncertainty_percent)
      .def_readonly("source", &MeasuredHumidity::source)
      .def_property_readonly("basis", &basis_of<MeasuredHumidity>)
      .def_readonly("note", &MeasuredHumidity::note)
      .def("__repr__", &humidity_repr);
}

}  // namespace

void bind_dataset(py::module_& m) {
  bind_records(m);
  bind_species(m);
  bind_brine_records(m);
  described::bind<OnsetBand>(m);
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
