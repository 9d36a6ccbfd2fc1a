#pragma once

// Amounts in a laboratory's units, and what a kilogram of water is in a litre.

#include <string>

#include "aeruca/analysis.hpp"

namespace aeruca::detail {

/// What an amount is told per.
enum class Per { litre, kg_water, kg_solution };

/// A unit taken apart.
struct AmountUnit {
  enum class Kind { mol, equivalent, gram };
  Per per = Per::litre;
  Kind kind = Kind::mol;
  double factor = 1;  // to mol, equivalents or grams
};

/// Throws InputError naming `parameter`.
AmountUnit amount_unit(const std::string& unit, const std::string& parameter);

/// An amount in mol (of charge, for an alkalinity) and kilograms, per litre or kilogram.
struct Told {
  Per per = Per::litre;
  double mol = 0;
  double kg = 0;
};

/// Of an ion or other ingredient; `value` in the unit. Throws InputError for meq/L of a neutral
/// one.
Told told_of(double value, const std::string& unit, const Species& species,
             const std::string& parameter);
/// Of an alkalinity, in equivalents: "mg/L" is as HCO3(-), "mg/L as CaCO3" as that.
Told alkalinity_told(double value, const std::string& unit, const Dataset& dataset);

/// Kilograms of water in a litre and in a kilogram of the solution.
struct WaterContent {
  double kg_per_l = 1;
  double kg_per_kg = 1;
};
/// From the masses dissolved; see the header. Throws InputError where they leave no water.
WaterContent water_content(const std::vector<Told>& amounts, const WaterAnalysis& analysis);

/// mol per kg of water.
double molality(const Told& amount, const WaterContent& content);

}  // namespace aeruca::detail
