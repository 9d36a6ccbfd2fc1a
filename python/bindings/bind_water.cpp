#include "aeruca/water.hpp"
#include "pybind.hpp"

namespace {

py::tuple slopes(const py::array_t<double>& temperature_c) {
  using aeruca::debye_hueckel_slopes;
  return py::make_tuple(
      py::vectorize([](double t) { return debye_hueckel_slopes(t).a_log10; })(temperature_c),
      py::vectorize([](double t) { return debye_hueckel_slopes(t).b_per_angstrom; })(temperature_c),
      py::vectorize([](double t) { return debye_hueckel_slopes(t).a_phi; })(temperature_c));
}

}  // namespace

void bind_water(py::module_& m) {
  // none(false): NumPy would turn None into NaN in silence.
  const auto figure = [](const char* name) { return py::arg(name).none(false); };
  m.def("saturation_pressure_pa", py::vectorize(&aeruca::saturation_pressure_pa),
        figure("temperature_c"),
        "Vapour pressure over liquid water (Pa), IAPWS-IF97 region 4; 0 to 373.946 degrees C. "
        "Broadcasts.");
  m.def("density_kg_per_m3", py::vectorize(&aeruca::density_kg_per_m3), figure("temperature_c"),
        py::arg("pressure_pa").none(false) = 101325.0,
        "Density of liquid water (kg/m3), IAPWS-IF97 region 1; 0 to 350 degrees C, up to 1e8 Pa. "
        "Broadcasts.");
  m.def("permittivity", py::vectorize(&aeruca::permittivity), figure("temperature_c"),
        figure("density_kg_per_m3"),
        "Static relative permittivity of water (1), IAPWS R8-97; 0 to 600 degrees C. Broadcasts.");
  m.def("pkw", py::vectorize(&aeruca::pkw), figure("temperature_c"), figure("density_kg_per_m3"),
        "pKw on the molal scale (1), IAPWS R11-07; 0 to 800 degrees C. Broadcasts.");
  m.def("_debye_hueckel_slopes", &slopes, figure("temperature_c"));
}
