#include <map>
#include <optional>

#include "aeruca/totals_fields.hpp"
#include "described.hpp"
#include "render/describe_totals_fields.hpp"

namespace {

// (text, low, high)
using AxisTuple = std::tuple<std::string, double, double>;

aeruca::ConditionAxis axis_of(const AxisTuple& axis) {
  return aeruca::condition_axis(std::get<0>(axis), std::get<1>(axis), std::get<2>(axis));
}

struct Asked {
  std::shared_ptr<const aeruca::Dataset> dataset;
  aeruca::TotalsFieldOptions options;
};

Asked asked(const std::shared_ptr<aeruca::Dataset>& dataset, const AxisTuple& x, const AxisTuple& y,
            std::map<std::string, double> totals, std::optional<double> ph,
            std::optional<double> eh_v, std::optional<double> oxygen_bar,
            std::map<std::string, double> gases, std::optional<double> water_activity,
            double temperature_c, const std::string& activity, std::vector<std::string> left_out,
            int cells, const std::string& missing_enthalpy) {
  Asked all;
  all.dataset =
      dataset ? std::shared_ptr<const aeruca::Dataset>(dataset) : aeruca::default_dataset();
  all.options.x = axis_of(x);
  all.options.y = axis_of(y);
  all.options.held.totals_mol_per_kg = std::move(totals);
  all.options.held.ph = ph;
  all.options.held.eh_v = eh_v;
  all.options.held.oxygen_bar = oxygen_bar;
  all.options.held.fugacity_bar = std::move(gases);
  all.options.held.water_activity = water_activity;
  all.options.temperature_c = temperature_c;
  all.options.activity = aeruca::activity_model_from(activity);
  all.options.left_out = std::move(left_out);
  all.options.cells = cells;
  all.options.missing_enthalpy = aeruca::missing_enthalpy_from(missing_enthalpy);
  return all;
}

// (name, what it shows)
py::list views() {
  py::list all;
  for (const aeruca::TotalsView& view : aeruca::totals_views())
    all.append(py::make_tuple(view.name, view.shows));
  return all;
}

}  // namespace

void bind_totals_fields(py::module_& m) {
  described::bind<aeruca::TracedEdge>(m);
  described::bind<aeruca::TotalsFieldDiagram>(m);
  m.def("totals_views", &views, "Ready views: name, what it shows.");
  m.def(
      "totals_view",
      [](const std::string& name, int cells) {
        aeruca::TotalsFieldOptions options = aeruca::totals_view(name).options;
        options.cells = cells;
        return aeruca::totals_field_diagram(aeruca::default_dataset(), options);
      },
      py::arg("name"), py::arg("cells"), py::call_guard<py::gil_scoped_release>());
  py::class_<Asked>(m, "TotalsFields", "A water of fixed totals over two axes.")
      .def(py::init(&asked), py::arg("dataset").none(true), py::arg("x"), py::arg("y"),
           py::arg("totals"), py::arg("ph"), py::arg("eh_v"), py::arg("oxygen_bar"),
           py::arg("gases"), py::arg("water_activity"), py::arg("temperature_c"),
           py::arg("activity"), py::arg("left_out"), py::arg("cells"), py::arg("missing_enthalpy"))
      .def(
          "diagram",
          [](const Asked& all) { return aeruca::totals_field_diagram(all.dataset, all.options); },
          py::call_guard<py::gil_scoped_release>())
      .def(
          "at",
          [](const Asked& all, const DoubleArray& x, const DoubleArray& y) {
            const auto xs = span_of(x), ys = span_of(y);
            const py::gil_scoped_release released;
            return aeruca::assemblages_at(all.dataset, all.options, xs, ys);
          },
          py::arg("x"), py::arg("y"));
}
