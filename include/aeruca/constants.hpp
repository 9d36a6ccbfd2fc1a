#pragma once

/// \file
/// Defined constants (SI 2019, exact) and conventions shared by every part.
/// Source: BIPM, The International System of Units, 9th edition (2019).

namespace aeruca {

inline constexpr double kGasConstant = 8.31446261815324;      ///< J/(mol K)
inline constexpr double kFaraday = 96485.33212331001;         ///< C/mol
inline constexpr double kAvogadro = 6.02214076e23;            ///< 1/mol
inline constexpr double kBoltzmann = 1.380649e-23;            ///< J/K
inline constexpr double kElementaryCharge = 1.602176634e-19;  ///< C
inline constexpr double kZeroCelsius = 273.15;                ///< K
inline constexpr double kReferenceTemperature = 298.15;  ///< K, where the constants are tabulated
inline constexpr double kLn10 = 2.302585092994045684;    ///< ln 10
inline constexpr double kWaterMolarMass = 0.018015268;   ///< kg/mol (IAPWS)

/// Volts per decade, ln(10) R T / F: 0.0591597 V at 25 degrees C.
[[nodiscard]] constexpr double nernst_slope_v(double temperature_c) {
  return kLn10 * kGasConstant * (temperature_c + kZeroCelsius) / kFaraday;
}

}  // namespace aeruca
