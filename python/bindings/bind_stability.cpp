#include <memory>

#include "aeruca/errors.hpp"
#include "aeruca/stability.hpp"
#include "described.hpp"
#include "render/describe_stability.hpp"

namespace {

using aeruca::FieldModel;

using Named = std::vector<std::pair<std::string, std::string>>;

// (text, low, high)
using AxisTuple = std::tuple<std::string, double, double>;

aeruca::Axis axis_of(const AxisTuple& axis) {
  return aeruca::axis_from(std::get<0>(axis), std::get<1>(axis), std::get<2>(axis));
}

std::unique_ptr<FieldModel> make_model(const std::shared_ptr<aeruca::Dataset>& dataset,
                                       const AxisTuple& x, const AxisTuple& y, double temperature_c,
                                       std::optional<double> ph, std::optional<double> eh_v,
                                       std::map<std::string, double> log10_activity,
                                       std::map<std::string, double> log10_ligand,
                                       double log10_copper, double log10_water,
                                       const Named& left_out, std::vector<std::string> only,
                                       double coverage, const std::string& missing_enthalpy) {
  aeruca::FieldOptions options{axis_of(x),
                               axis_of(y),
                               temperature_c,
                               ph,
                               eh_v,
                               std::move(log10_activity),
                               std::move(log10_ligand),
                               log10_copper,
                               log10_water,
                               {},
                               std::move(only),
                               coverage,
                               aeruca::missing_enthalpy_from(missing_enthalpy)};
  for (const auto& [name, reason] : left_out) options.left_out.push_back({name, reason});
  std::shared_ptr<const aeruca::Dataset> data = dataset;
  const py::gil_scoped_release released;
  if (!data) data = aeruca::default_dataset();
  return std::make_unique<FieldModel>(std::move(data), std::move(options));
}

py::tuple at_many(const FieldModel& model, const DoubleArray& x, const DoubleArray& y) {
  aeruca::PointAnswers answers;
  {
    const auto xs = span_of(x), ys = span_of(y);
    const py::gil_scoped_release released;
    answers = model.at_many(xs, ys);
  }
  return py::make_tuple(to_array(answers.species), to_array(answers.runner_up),
                        to_array(answers.gap_log10), to_array(answers.gap_kj_per_mol_copper),
                        to_array(answers.uncertainty_log10), to_array(answers.decided),
                        to_array(answers.spread_log10));
}

py::array_t<double> probabilities(const FieldModel& model, const DoubleArray& x,
                                  const DoubleArray& y, int samples, std::uint64_t seed) {
  constexpr std::int64_t kDrawsMax = 100'000'000;  // some minutes
  const std::int64_t points = x.size();
  if (samples > 0 && points > kDrawsMax / samples) {
    throw aeruca::InputError("samples",
                             std::to_string(samples) + " at " + std::to_string(points) + " points",
                             "samples times points of 100 000 000 or less");
  }
  std::vector<double> shares;
  {
    const auto xs = span_of(x), ys = span_of(y);
    const py::gil_scoped_release released;
    shares = model.probabilities(xs, ys, samples, seed);
  }
  return to_array(shares, {x.size(), static_cast<py::ssize_t>(model.candidates().size())});
}

}  // namespace

void bind_stability(py::module_& m) {
  described::bind<aeruca::Rival>(m);
  described::bind<aeruca::Field>(m);
  described::bind<aeruca::LineEquation>(m);
  described::bind<aeruca::Edge>(m);
  described::bind<aeruca::Corner>(m);
  described::bind<aeruca::WaterLine>(m);
  described::bind<aeruca::FieldDiagram>(m);
  py::class_<FieldModel>(m, "FieldModel", "Candidates prepared over two axes.")
      .def(py::init(&make_model), py::arg("dataset").none(true), py::arg("x"), py::arg("y"),
           py::arg("temperature_c"), py::arg("ph"), py::arg("eh_v"), py::arg("log10_activity"),
           py::arg("log10_ligand"), py::arg("log10_copper"), py::arg("log10_water"),
           py::arg("left_out"), py::arg("only"), py::arg("coverage"), py::arg("missing_enthalpy"))
      .def("candidates", on_object(&FieldModel::candidates))
      .def("diagram", on_object(&FieldModel::diagram), py::call_guard<py::gil_scoped_release>())
      .def("at_many", &at_many, py::arg("x"), py::arg("y"),
           "Positions of the most stable candidate and of the next, gaps, uncertainty, decided; by "
           "column.")
      .def("probabilities", &probabilities, py::arg("x"), py::arg("y"), py::arg("samples"),
           py::arg("seed"),
           "Share of seeded draws of the constants in which each candidate wins: (points, "
           "candidates).");
}
