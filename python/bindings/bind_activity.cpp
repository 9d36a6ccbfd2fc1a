#include "aeruca/activity.hpp"
#include "aeruca/errors.hpp"
#include "pybind.hpp"

namespace {

using namespace aeruca;

// Rows of molality (m, n) in one array; the caller has checked the shape.
struct Evaluated {
  std::vector<double> ln_gamma, ln_water, ionic_strength, ionic_strength_max;
};

Evaluated evaluate_rows(const Activity& model, std::span<const double> molality, std::size_t n) {
  const std::size_t rows = n == 0 ? 0 : molality.size() / n;
  Evaluated out;
  out.ln_gamma.reserve(molality.size());
  ActivityValues values;
  for (std::size_t row = 0; row < rows; ++row) {
    const auto m = molality.subspan(row * n, n);
    for (const double one : m) {
      if (one < 0) throw InputError("molality", one, "0 mol/kg or more");
    }
    model.evaluate(m, values);
    out.ln_gamma.insert(out.ln_gamma.end(), values.ln_gamma.begin(), values.ln_gamma.end());
    out.ln_water.push_back(values.ln_water_activity);
    out.ionic_strength.push_back(values.ionic_strength);
    out.ionic_strength_max.push_back(model.ionic_strength_max(m));
  }
  return out;
}

py::tuple activity_rows(const std::string& model, const std::vector<std::string>& species,
                        const DoubleArray& molality, double temperature_c, const Dataset* dataset) {
  const auto data = dataset == nullptr ? default_dataset() : nullptr;
  const auto activity = make_activity(
      activity_model_from(model), dataset == nullptr ? *data : *dataset, species, temperature_c);
  Evaluated values;
  {
    py::gil_scoped_release released;
    values = evaluate_rows(*activity, span_of(molality), species.size());
  }
  return py::make_tuple(to_array(values.ln_gamma), to_array(values.ln_water),
                        to_array(values.ionic_strength), to_array(values.ionic_strength_max),
                        activity->figures(), activity->remarks());
}

}  // namespace

void bind_activity(py::module_& m) {
  m.def("_activity_rows", &activity_rows, py::arg("model"), py::arg("species"), py::arg("molality"),
        py::arg("temperature_c"), py::arg("dataset").none(true));
}
