#include <algorithm>
#include <cmath>
#include <optional>

#include "aeruca/errors.hpp"
#include "aeruca/salt_analysis.hpp"
#include "analysis/amount.hpp"
#include "base/csv.hpp"
#include "base/text.hpp"

namespace aeruca {

namespace {

constexpr double kMostError = 0.30;
constexpr std::size_t kMostBytes = 1 << 20;

struct Charges {
  double cations = 0, anions = 0;
};

Charges charges_of(const std::map<std::string, double>& ions, const Dataset& dataset) {
  Charges sum;
  for (const auto& [name, moles] : ions) {
    const int z = dataset.at(name).charge;
    (z > 0 ? sum.cations : sum.anions) += std::abs(z) * moles;
  }
  return sum;
}

std::map<std::string, double> moles_of(const std::vector<AnalysedIon>& found,
                                       const Dataset& dataset, SaltAnalysis& analysis) {
  std::map<std::string, double> ions;
  std::optional<bool> per_litre;
  for (const AnalysedIon& one : found) {
    const std::string name = ingredient_named(one.name, dataset);
    const Species& ion = dataset.at(name);
    if (ion.charge == 0) throw InputError("ion", one.name, "an ion, such as chloride or Na(+)");
    if (!std::isnan(one.amount.reading.below)) {
      analysis.below_limit.push_back(one.name);
      continue;
    }
    const auto told = detail::told_of(one.amount.reading.value, one.amount.unit, ion, one.name);
    const bool litre = told.per == detail::Per::litre;
    if (per_litre && *per_litre != litre)
      throw InputError(one.name, one.amount.unit, "all amounts per litre, or all per kilogram");
    per_litre = litre;
    if (!ions.emplace(name, told.mol).second) throw InputError("ion", one.name, "each ion once");
    if (!(told.mol >= 0) || !std::isfinite(told.mol))
      throw InputError(one.name, one.amount.reading.value, "an amount of 0 or more");
  }
  std::erase_if(ions, [](const auto& ion) { return ion.second == 0; });
  return ions;
}

void assign(const std::string& ion, const Charges& sum, const Dataset& dataset,
            SaltAnalysis& analysis) {
  analysis.assigned_to = ingredient_named(ion, dataset);
  const int z = dataset.at(analysis.assigned_to).charge;
  if (z == 0) throw InputError("charge_assigned_to", ion, "an ion");
  double& moles = analysis.ions[analysis.assigned_to];
  moles += (sum.anions - sum.cations) / z;
  if (!(moles > 0))
    throw InputError("charge_assigned_to", ion, "an ion that is not used up by the imbalance");
}

void share_out(const Charges& sum, const Dataset& dataset, SaltAnalysis& analysis) {
  const bool too_many_cations = sum.cations > sum.anions;
  const double kept = too_many_cations ? sum.anions / sum.cations : sum.cations / sum.anions;
  for (auto& [name, moles] : analysis.ions) {
    if ((dataset.at(name).charge > 0) == too_many_cations) moles *= kept;
  }
}

}  // namespace

SaltAnalysis analyse_salts(const std::vector<AnalysedIon>& found, const Dataset& dataset,
                           const std::string& charge_assigned_to) {
  SaltAnalysis analysis;
  analysis.ions = moles_of(found, dataset, analysis);
  const Charges sum = charges_of(analysis.ions, dataset);
  if (!(sum.cations > 0)) throw InputError("ions", "no cation", "a cation and an anion at least");
  if (!(sum.anions > 0)) throw InputError("ions", "no anion", "a cation and an anion at least");
  const double error = (sum.cations - sum.anions) / (sum.cations + sum.anions);
  analysis.error_percent = 100 * error;
  if (std::abs(error) > kMostError) {
    throw InputError("charge balance", detail::format_number(100 * error, 3) + " %",
                     "an analysis within 30 %: beyond that an ion is missing");
  }
  if (charge_assigned_to.empty()) {
    share_out(sum, dataset, analysis);
  } else {
    assign(charge_assigned_to, sum, dataset, analysis);
  }
  return analysis;
}

std::vector<AnalysedIon> read_salt_analysis(const std::string& path) {
  const std::string text = detail::read_file(path, kMostBytes);
  detail::CsvReader reader(text);
  if (!reader.next_row()) throw FileError(path, 0, "", "is empty; a table of ions is wanted");
  const auto header = reader.fields(',');
  const bool with_unit = header && header->size() == 3 && header->at(2) == "unit";
  const bool known = header && header->size() >= 2 && header->at(0) == "ion" &&
                     header->at(1) == "amount" && (header->size() == 2 || with_unit);
  if (!known)
    throw FileError(path, reader.number(), "header", "accepted is ion,amount or ion,amount,unit");
  std::vector<AnalysedIon> found;
  while (reader.next_row()) {
    const auto fields = reader.fields(',');
    if (!fields || fields->size() != header->size())
      throw FileError(path, reader.number(), "",
                      "accepted is a line of " + std::to_string(header->size()) + " fields");
    const std::string amount = fields->at(1) + (with_unit ? " " + fields->at(2) : "");
    const auto read = parse_amount(amount);
    if (!read || !is_amount_unit(read->unit)) {
      throw FileError(path, reader.number(), "amount",
                      "'" + amount + "': accepted is a number and a unit, such as 640 mg/kg");
    }
    found.push_back({fields->at(0), *read});
  }
  return found;
}

}  // namespace aeruca
