#include "aeruca/brine.hpp"
#include "aeruca/crystallisation.hpp"
#include "aeruca/hydration.hpp"
#include "aeruca/mixture.hpp"
#include "aeruca/nantokite.hpp"
#include "described.hpp"
#include "render/describe_brine.hpp"
#include "render/describe_hydration.hpp"
#include "render/describe_mixture.hpp"
#include "render/describe_nantokite.hpp"

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

MixtureSweep mixture_sweep(const std::map<std::string, double>& ions, const DoubleArray& rh_percent,
                           double temperature_c, const std::vector<std::string>& left_out,
                           std::shared_ptr<const Dataset> dataset) {
  if (!dataset) dataset = default_dataset();
  MixtureOptions options;
  options.temperature_c = temperature_c;
  options.left_out = left_out;
  const py::gil_scoped_release released;
  return SaltMixture(std::move(dataset), ions, options).sweep(span_of(rh_percent));
}

void bind_results(py::module_& m) {
  described::bind<SaltSolution>(m);
  described::bind<HumidityComparison>(m);
  described::bind<Deliquescence>(m);
  described::bind<MeasuredCurvePoint>(m);
  described::bind<HydrationChange>(m);
  described::bind<MixtureState>(m);
  described::bind<MixtureOnset>(m);
  described::bind<MixtureSweep>(m);
  described::bind<NantokiteInAir>(m);
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
  m.def("_hydration_changes", [](const std::string& solid, double t, const Dataset* dataset) {
    return hydration_changes(*Chosen(dataset).used, solid, t);
  });
  m.def("_mixture", &mixture_sweep);
  m.def("_crystallisation_humidities", [](const std::string& salt, const Dataset* dataset) {
    return crystallisation_humidities(*Chosen(dataset).used, salt);
  });
  m.def("_nantokite_in_air", [](double rh_percent, const Dataset* dataset) {
    return nantokite_in_air(*Chosen(dataset).used, rh_percent);
  });
  m.def("_salt_curve", &salt_curve_arrays);
  m.def("_deliquescence_curve", &deliquescence_arrays);
}
