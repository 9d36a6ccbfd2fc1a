#include "aeruca/enclosure.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "aeruca/review.hpp"

#include "described.hpp"
#include "render/describe_enclosure.hpp"

namespace {

using namespace aeruca;

// Figures by name, those of the contents being lists.
Enclosure make_box(const std::map<std::string, double>& figures, const std::string& gel,
                   const std::vector<double>& contents_rh_percent,
                   const std::vector<double>& contents_moisture_percent) {
  Enclosure box;
  box.volume_m3 = figures.at("volume_m3");
  box.exchange_per_day = figures.at("exchange_per_day");
  box.gel_kg = figures.at("gel_kg");
  box.gel = gel;
  box.contents_g_per_rh = figures.at("contents_g_per_rh");
  box.start_rh_percent = figures.at("start_rh_percent");
  box.contents_kg = figures.at("contents_kg");
  box.contents_rh_percent = contents_rh_percent;
  box.contents_moisture_percent = contents_moisture_percent;
  return box;
}

Review review(const Enclosure& box, const Climate& climate, const EnclosureOptions& options,
              std::optional<std::int64_t> start_s, const LoggerRecord* inside,
              const StoreAssessment* store) {
  return review_enclosure(*default_dataset(), {box, climate, options, start_s, LimitFrom::given},
                          inside, store);
}

Climate in_room(Climate climate, double inside_temperature_c) {
  climate.inside_temperature_c = inside_temperature_c;
  return climate;
}

void bind_options(py::module_& m) {
  py::class_<EnclosureOptions>(m, "EnclosureOptions", "What is asked of an enclosure.")
      .def(py::init<>())
      .def_readwrite("limit_rh_percent", &EnclosureOptions::limit_rh_percent)
      .def_readwrite("days", &EnclosureOptions::days)
      .def_readwrite("exchange_relative_sd", &EnclosureOptions::exchange_relative_sd)
      .def_readwrite("outside_rh_sd", &EnclosureOptions::outside_rh_sd)
      .def_readwrite("start_rh_sd", &EnclosureOptions::start_rh_sd)
      .def_readwrite("temperature_sd", &EnclosureOptions::temperature_sd)
      .def_readwrite("draws", &EnclosureOptions::draws)
      .def_readwrite("seed", &EnclosureOptions::seed)
      .def_readwrite("threads", &EnclosureOptions::threads);
  py::class_<Climate>(m, "Climate", "What is outside an enclosure.")
      .def_readonly("gap_days", &Climate::gap_days)
      .def_property_readonly("constant", &Climate::constant);
}

}  // namespace

void bind_enclosure(py::module_& m) {
  bind_options(m);
  described::bind<DrawnFigure>(m);
  described::bind<GelIsotherm>(m);
  described::bind<Enclosure>(m);
  described::bind<GelOutcome>(m);
  described::bind<EnclosureForecast>(m);
  described::bind<Review>(m);
  described::bind<ExchangeFit>(m);
  const py::call_guard<py::gil_scoped_release> released;
  m.def("_enclosure", &make_box, py::arg("figures"), py::arg("gel"), py::arg("contents_rh_percent"),
        py::arg("contents_moisture_percent"));
  m.def("_constant_climate", &constant_climate, py::arg("temperature_c"), py::arg("rh_percent"));
  m.def("_climate_of", &climate_of, py::arg("record"), released);
  m.def("_in_room", &in_room, py::arg("climate"), py::arg("inside_temperature_c"));
  m.def("_gel_isotherms", [] { return gel_isotherms(*default_dataset()); });
  m.def(
      "_gel_water",
      [](const std::string& gel, double rh_percent, double temperature_c) {
        return gel_water(gel_isotherm(*default_dataset(), gel), rh_percent, temperature_c);
      },
      py::arg("gel"), py::arg("rh_percent"), py::arg("temperature_c"));
  m.def(
      "_forecast_enclosure",
      [](const Enclosure& box, const Climate& climate, const EnclosureOptions& options) {
        return forecast_enclosure(*default_dataset(), box, climate, options);
      },
      py::arg("enclosure"), py::arg("climate"), py::arg("options"), released);
  m.def("_climate_from", &climate_from, py::arg("climate"), py::arg("start_s"));
  m.def("_review_enclosure", &review, py::arg("enclosure"), py::arg("climate"), py::arg("options"),
        py::arg("start_s").none(true), py::arg("inside").none(true), py::arg("store").none(true),
        released);
  m.def(
      "_fit_decay",
      [](const DoubleArray& hours, const DoubleArray& values, double background) {
        return fit_decay(span_of(hours), span_of(values), background);
      },
      py::arg("hours"), py::arg("values"), py::arg("background"));
  m.def(
      "_fit_exchange",
      [](const Enclosure& box, const LoggerRecord& inside, const LoggerRecord& outside) {
        return fit_exchange(*default_dataset(), box, inside, outside);
      },
      py::arg("enclosure"), py::arg("inside"), py::arg("outside"), released);
}
