#include <cmath>

#include "aeruca/brine.hpp"
#include "pybind.hpp"

namespace {

using namespace aeruca;

std::vector<py::ssize_t> shape_of(const DoubleArray& array) {
  return {array.shape(), array.shape() + array.ndim()};
}

// An array of the shape of another; without axes it stays a 0-d array, which Python unwraps.
py::array_t<double> shaped(const std::vector<double>& values, const DoubleArray& like) {
  py::array_t<double> array(shape_of(like));
  std::copy(values.begin(), values.end(), array.mutable_data());
  return array;
}

// The data set given, or the one built in.
struct Chosen {
  explicit Chosen(const Dataset* given)
      : own(given == nullptr ? default_dataset() : nullptr), used(given) {
    if (used == nullptr) used = own.get();
  }
  std::shared_ptr<const Dataset> own;
  const Dataset* used;
};

py::tuple salt_curve_arrays(const std::string& salt, const DoubleArray& molality,
                            double temperature_c, const std::string& pitzer_set,
                            const Dataset* dataset) {
  const Chosen data(dataset);
  SaltCurve curve;
  {
    py::gil_scoped_release released;
    curve = salt_curve(*data.used, salt, span_of(molality), temperature_c, pitzer_set);
  }
  return py::make_tuple(curve.pitzer_set, shaped(curve.osmotic_coefficient, molality),
                        shaped(curve.mean_activity_coefficient, molality),
                        shaped(curve.water_activity, molality));
}

py::tuple deliquescence_arrays(const std::string& salt, const DoubleArray& temperature_c,
                               const std::string& pitzer_set, const Dataset* dataset) {
  const Chosen data(dataset);
  DeliquescenceCurve curve;
  {
    py::gil_scoped_release released;
    curve = deliquescence_curve(*data.used, salt, span_of(temperature_c), pitzer_set);
  }
  return py::make_tuple(shaped(curve.rh_percent, temperature_c),
                        shaped(curve.rh_uncertainty_percent, temperature_c),
                        curve.not_known_because);
}

std::string figure(double value, double uncertainty, const char* format) {
  if (std::isnan(value)) return "not known";
  const py::str pattern(format);
  return std::string(py::str(pattern.format(value))) + " +/- " +
         std::string(py::str(pattern.format(uncertainty)));
}

std::string repr(const Deliquescence& d) {
  return "Deliquescence('" + d.solid + "', " +
         figure(d.rh_percent, d.rh_uncertainty_percent, "{:.2f}") + " % RH at " +
         std::string(py::str(py::float_(d.temperature_c))) + " C" +
         (d.humidity_in_fit ? ", measured humidity in fit)" : ")");
}

std::string repr(const SaltSolution& s) {
  return "SaltSolution('" + s.anhydrous + "', " + std::string(py::str(py::float_(s.molality))) +
         " mol/kg at " + std::string(py::str(py::float_(s.temperature_c))) + " C, water activity " +
         figure(s.water_activity, s.water_activity_uncertainty, "{:.4f}") + ")";
}

template <class Result>
std::string repr_of(const Result& result) {
  return repr(result);
}

void bind_results(py::module_& m) {
  py::class_<SaltSolution>(m, "SaltSolution",
                           "A solution of one salt; molalities in mol/kg(water).")
      .def_readonly("solid", &SaltSolution::solid)
      .def_readonly("anhydrous", &SaltSolution::anhydrous)
      .def_readonly("pitzer_set", &SaltSolution::pitzer_set)
      .def_readonly("molality", &SaltSolution::molality)
      .def_readonly("temperature_c", &SaltSolution::temperature_c)
      .def_readonly("ionic_strength", &SaltSolution::ionic_strength)
      .def_readonly("osmotic_coefficient", &SaltSolution::osmotic_coefficient)
      .def_readonly("osmotic_uncertainty", &SaltSolution::osmotic_uncertainty)
      .def_readonly("mean_activity_coefficient", &SaltSolution::mean_activity_coefficient)
      .def_readonly("water_activity", &SaltSolution::water_activity)
      .def_readonly("water_activity_uncertainty", &SaltSolution::water_activity_uncertainty)
      .def("__repr__", &repr_of<SaltSolution>)
      .def_readonly("warnings", &SaltSolution::warnings);
  py::class_<HumidityComparison>(m, "HumidityComparison",
                                 "A measured humidity beside the computed one.")
      .def_property_readonly("rh_percent",
                             [](const HumidityComparison& c) { return c.measured.rh_percent; })
      .def_property_readonly(
          "uncertainty_percent",
          [](const HumidityComparison& c) { return c.measured.uncertainty_percent; })
      .def_property_readonly("temperature_c",
                             [](const HumidityComparison& c) { return c.measured.temperature_c; })
      .def_property_readonly("kind", [](const HumidityComparison& c) { return c.measured.kind; })
      .def_property_readonly("source",
                             [](const HumidityComparison& c) { return c.measured.source; })
      .def_property_readonly(
          "basis",
          [](const HumidityComparison& c) { return std::string(to_string(c.measured.basis)); })
      .def_property_readonly("note", [](const HumidityComparison& c) { return c.measured.note; })
      .def_property_readonly("doubtful",
                             [](const HumidityComparison& c) { return c.measured.doubtful; })
      .def_readonly("disagrees", &HumidityComparison::disagrees)
      .def_readonly("difference_percent", &HumidityComparison::difference_percent);
  py::class_<Deliquescence>(m, "Deliquescence",
                            "Humidity above which one salt dissolves in water from the air.")
      .def("__repr__", &repr_of<Deliquescence>)
      .def_readonly("salt", &Deliquescence::salt)
      .def_readonly("solid", &Deliquescence::solid)
      .def_readonly("temperature_c", &Deliquescence::temperature_c)
      .def_readonly("rh_percent", &Deliquescence::rh_percent)
      .def_readonly("rh_uncertainty_percent", &Deliquescence::rh_uncertainty_percent)
      .def_readonly("uncertainty_from", &Deliquescence::uncertainty_from)
      .def_property_readonly("basis",
                             [](const Deliquescence& d) { return std::string(to_string(d.basis)); })
      .def_readonly("not_known_because", &Deliquescence::not_known_because)
      .def_readonly("pitzer_set", &Deliquescence::pitzer_set)
      .def_readonly("molality_measured", &Deliquescence::molality_measured)
      .def_readonly("molality_from_constant", &Deliquescence::molality_from_constant)
      .def_readonly("rh_from_constant_percent", &Deliquescence::rh_from_constant_percent)
      .def_readonly("note", &Deliquescence::note)
      .def_readonly("humidity_in_fit", &Deliquescence::humidity_in_fit)
      .def_readonly("measured", &Deliquescence::measured)
      .def_readonly("warnings", &Deliquescence::warnings)
      .def_readonly("sources", &Deliquescence::sources);
  py::class_<MeasuredCurvePoint>(m, "MeasuredCurvePoint", "A humidity inside an evaluated table.")
      .def_readonly("rh_percent", &MeasuredCurvePoint::rh_percent)
      .def_readonly("uncertainty_percent", &MeasuredCurvePoint::uncertainty_percent)
      .def_readonly("source", &MeasuredCurvePoint::source)
      .def_readonly("temperature_min_c", &MeasuredCurvePoint::temperature_min_c)
      .def_readonly("temperature_max_c", &MeasuredCurvePoint::temperature_max_c);
}

}  // namespace

void bind_brine(py::module_& m) {
  bind_results(m);
  m.def("_single_salt", [](const std::string& salt, double molality, double t,
                           const std::string& set, const Dataset* dataset) {
    return single_salt(*Chosen(dataset).used, salt, molality, t, set);
  });
  m.def("_deliquescence",
        [](const std::string& salt, double t, const std::string& set, const Dataset* dataset) {
          return deliquescence(*Chosen(dataset).used, salt, t, set);
        });
  m.def("_measured_humidity", [](const std::string& solid, double t, const Dataset* dataset) {
    return measured_humidity(*Chosen(dataset).used, solid, t);
  });
  m.def("_computable_salts",
        [](const Dataset* dataset) { return computable_salts(*Chosen(dataset).used); });
  m.def("_salt_curve", &salt_curve_arrays);
  m.def("_deliquescence_curve", &deliquescence_arrays);
}
