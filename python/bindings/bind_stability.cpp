#include <memory>

#include "aeruca/errors.hpp"
#include "aeruca/stability.hpp"
#include "pybind.hpp"

namespace {

using aeruca::Edge;
using aeruca::Field;
using aeruca::FieldDiagram;
using aeruca::FieldModel;
using aeruca::LineEquation;

py::tuple pair_of(aeruca::Point p) {
  return py::make_tuple(p.x, p.y);
}

py::array_t<double> array_of(const aeruca::Polygon& polygon) {
  py::array_t<double> out({static_cast<py::ssize_t>(polygon.size()), py::ssize_t{2}});
  auto at = out.mutable_unchecked<2>();
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    at(static_cast<py::ssize_t>(i), 0) = polygon[i].x;
    at(static_cast<py::ssize_t>(i), 1) = polygon[i].y;
  }
  return out;
}

std::vector<py::array_t<double>> arrays_of(const std::vector<aeruca::Polygon>& polygons) {
  std::vector<py::array_t<double>> out;
  for (const auto& polygon : polygons) out.push_back(array_of(polygon));
  return out;
}

using Named = std::vector<std::pair<std::string, std::string>>;

Named named(const std::vector<aeruca::LeftOut>& left_out) {
  Named out;
  for (const auto& each : left_out) out.emplace_back(each.name, each.reason);
  return out;
}

// (text, low, high)
using AxisTuple = std::tuple<std::string, double, double>;

aeruca::Axis axis_of(const AxisTuple& axis) {
  return aeruca::axis_from(std::get<0>(axis), std::get<1>(axis), std::get<2>(axis));
}

py::tuple tuple_of(const aeruca::Axis& axis) {
  return py::make_tuple(aeruca::axis_title(axis), axis.low, axis.high);
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

void bind_parts(py::module_& m) {
  py::class_<aeruca::Rival>(m, "Rival")
      .def_readonly("species", &aeruca::Rival::species)
      .def_readonly("gap_log10", &aeruca::Rival::gap_log10)
      .def_readonly("gap_uncertainty_log10", &aeruca::Rival::gap_uncertainty_log10);
  py::class_<Field>(m, "Field", "Part of the plane where one candidate is the most stable.")
      .def_readonly("species", &Field::species)
      .def_readonly("formula", &Field::formula)
      .def_property_readonly("kind", [](const Field& f) { return std::string(to_string(f.kind)); })
      .def_property_readonly("outlines", [](const Field& f) { return arrays_of(f.outlines); })
      .def_property_readonly("pieces", [](const Field& f) { return arrays_of(f.pieces); })
      .def_readonly("area_fraction", &Field::area_fraction)
      .def_property_readonly("label", [](const Field& f) { return pair_of(f.label); })
      .def_readonly("label_room", &Field::label_room)
      .def_readonly("rivals", &Field::rivals)
      .def_readonly("colour", &Field::colour);
  py::class_<LineEquation>(m, "LineEquation", "y = intercept + slope x, or x = vertical_x.")
      .def_readonly("vertical", &LineEquation::vertical)
      .def_readonly("slope", &LineEquation::slope)
      .def_readonly("intercept", &LineEquation::intercept)
      .def_readonly("vertical_x", &LineEquation::vertical_x)
      .def_readonly("uncertainty", &LineEquation::uncertainty)
      .def_readonly("constant", &LineEquation::constant)
      .def_readonly("terms", &LineEquation::terms)
      .def_readonly("text", &LineEquation::text);
  py::class_<Edge>(m, "Edge", "Where two fields meet: one reaction at equilibrium.")
      .def_readonly("left", &Edge::left)
      .def_readonly("right", &Edge::right)
      .def_property_readonly("from_point", [](const Edge& e) { return pair_of(e.from); })
      .def_property_readonly("to_point", [](const Edge& e) { return pair_of(e.to); })
      .def_readonly("reaction", &Edge::reaction)
      .def_readonly("log10_k", &Edge::log10_k)
      .def_readonly("log10_k_uncertainty", &Edge::log10_k_uncertainty)
      .def_readonly("line", &Edge::line)
      .def_readonly("figures", &Edge::figures)
      .def_readonly("shared_figures", &Edge::shared_figures);
  py::class_<aeruca::Corner>(m, "Corner", "Where three or more fields meet.")
      .def_property_readonly("at", [](const aeruca::Corner& c) { return pair_of(c.at); })
      .def_readonly("species", &aeruca::Corner::species);
  py::class_<aeruca::WaterLine>(m, "WaterLine", "Where a gas reaches 1 bar over the water.")
      .def_readonly("gas", &aeruca::WaterLine::gas)
      .def_readonly("line", &aeruca::WaterLine::line)
      .def_property_readonly("part", [](const aeruca::WaterLine& w) { return array_of(w.part); });
}

}  // namespace

void bind_stability(py::module_& m) {
  bind_parts(m);
  py::class_<FieldDiagram>(m, "FieldDiagram", "Fields, edges and corners over two axes.")
      .def_property_readonly("x_axis", [](const FieldDiagram& d) { return tuple_of(d.options.x); })
      .def_property_readonly("y_axis", [](const FieldDiagram& d) { return tuple_of(d.options.y); })
      .def_property_readonly(
          "conditions", [](const FieldDiagram& d) { return aeruca::conditions_text(d.options); })
      .def_readonly("fields", &FieldDiagram::fields)
      .def_readonly("edges", &FieldDiagram::edges)
      .def_readonly("corners", &FieldDiagram::corners)
      .def_readonly("water_lines", &FieldDiagram::water_lines)
      .def_readonly("candidates", &FieldDiagram::candidates)
      .def_readonly("without_field", &FieldDiagram::without_field)
      .def_property_readonly("left_out", [](const FieldDiagram& d) { return named(d.left_out); })
      .def_readonly("warnings", &FieldDiagram::warnings)
      .def_readonly("figures", &FieldDiagram::figures)
      .def_readonly("dataset_version", &FieldDiagram::dataset_version)
      .def_readonly("dataset_hash", &FieldDiagram::dataset_hash);
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
