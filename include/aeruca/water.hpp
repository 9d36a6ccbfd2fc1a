#pragma once

/// \file
/// Water: saturation pressure, density, permittivity, ionic product, and the Debye-Hueckel slopes that
/// follow from them.

namespace aeruca {

/// Vapour pressure of liquid water (Pa). IAPWS-IF97 region 4, eq 30. Valid 0 to 370 degrees C.
[[nodiscard]] double saturation_pressure_pa(double temperature_c);

/// Density of liquid water (kg/m3), IAPWS-IF97 region 1, eq 7. Valid 0 to 350 degrees C, up to 100 MPa.
[[nodiscard]] double density_kg_per_m3(double temperature_c, double pressure_pa = 101325.0);

/// Static relative permittivity (1), IAPWS R8-97. Valid 0 to 600 degrees C for liquid densities.
[[nodiscard]] double permittivity(double temperature_c, double density_kg_per_m3);

/// pKw on the molal scale, IAPWS R11-07. Valid 0 to 800 degrees C.
[[nodiscard]] double pkw(double temperature_c, double density_kg_per_m3);

/// Debye-Hueckel slopes derived from density and permittivity at 1 atm, not tabulated.
struct DebyeHueckelSlopes {
  double a_log10 = 0;  ///< kg^0.5 mol^-0.5, base-10
  double b_per_angstrom = 0;  ///< kg^0.5 mol^-0.5 per angstrom
  double a_phi = 0;    ///< kg^0.5 mol^-0.5, osmotic slope, a_log10 ln(10) / 3
};
/// Valid 0 to 100 degrees C.
[[nodiscard]] DebyeHueckelSlopes debye_hueckel_slopes(double temperature_c);

}  // namespace aeruca
