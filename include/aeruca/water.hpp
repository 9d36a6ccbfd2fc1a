#pragma once

/// \file
/// Liquid water: how high its vapour pressure is, how dense and how polar it is, how far it splits
/// into H(+) and OH(-), and the Debye-Hueckel slopes that follow.
///
/// | quantity            | source                              | accuracy              |
/// |---------------------|-------------------------------------|-----------------------|
/// | saturation pressure | IAPWS R7-97(2012), region 4, eq 30  | 0.025 %               |
/// | density             | IAPWS R7-97(2012), region 1, eq 7   | 0.003 % below 100 C   |
/// | permittivity        | IAPWS R8-97, Table 3                | 0.1 (0.1 %) near 25 C |
/// | ionic product       | IAPWS R11-07; doi 10.1063/1.1928231 | 0.01 to 0.02 in pKw   |
/// | viscosity           | IAPWS SR6-08(2011), eq 8            | 1 %                   |
/// | slopes              | from the above, SI 2019             | 0.0005 in A           |
///
/// The ionic product is that of Bandura & Lvov 2006, J. Phys. Chem. Ref. Data 35, 15. The printed
/// verification values of the releases are met to every digit (tests/reference/water.csv). The
/// older slopes of Manov, Bates, Hamer & Acree 1943, still printed in textbooks, lie 0.2 to 0.5 %
/// lower: they rest on an older permittivity.
///
/// Every function: NaN in, NaN out; outside the stated range InputError naming the argument.

namespace aeruca {

/// Vapour pressure over liquid water (Pa). `temperature_c` 0 to 373.946 degrees C.
[[nodiscard]] double saturation_pressure_pa(double temperature_c);

/// Density of liquid water (kg/m3). `temperature_c` 0 to 350 degrees C; `pressure_pa` from the
/// saturation pressure (less would be vapour: InputError) to 1e8 Pa.
[[nodiscard]] double density_kg_per_m3(double temperature_c, double pressure_pa = 101325.0);

/// Static relative permittivity (1). `temperature_c` 0 to 600 degrees C; density above 0, up to
/// 1200 kg/m3.
[[nodiscard]] double permittivity(double temperature_c, double density_kg_per_m3);

/// Viscosity of liquid water at 0.1 MPa (Pa s). `temperature_c` 0 to 100 degrees C.
[[nodiscard]] double viscosity_pa_s(double temperature_c);

/// pKw on the molal scale (1). `temperature_c` 0 to 800 degrees C; density above 0, up to 1250
/// kg/m3. Away from 25 degrees C older formulations differ by 0.01 to 0.016 (Marshall & Franck
/// 1981), and the slope implies an enthalpy of ionisation 0.6 kJ/mol above calorimetry.
[[nodiscard]] double pkw(double temperature_c, double density_kg_per_m3);

/// Debye-Hueckel slopes at 1 atm (above 99.97 degrees C at the saturation pressure):
///   A ln 10 = sqrt(2 pi N_A rho) (e^2 / (4 pi eps0 eps k T))^1.5
///   B       = sqrt(2 N_A rho e^2 / (eps0 eps k T))
struct DebyeHueckelSlopes {
  double a_log10 = 0;         ///< A, kg^0.5 mol^-0.5, base 10; 0.5098 at 25 degrees C
  double b_per_angstrom = 0;  ///< B, kg^0.5 mol^-0.5 per angstrom; 0.3284 at 25 degrees C
  double a_phi = 0;  ///< osmotic slope A ln(10) / 3, kg^0.5 mol^-0.5; 0.3913 at 25 degrees C
};
/// `temperature_c` 0 to 100 degrees C.
[[nodiscard]] DebyeHueckelSlopes debye_hueckel_slopes(double temperature_c);

}  // namespace aeruca
