#include "stability/totals_system.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <string_view>

#include "base/text.hpp"

namespace aeruca::detail {

namespace {

constexpr double kThere = 1e-9;  // of all copper: a solid with less has gone

double copper_in(const Species& species) {
  for (const auto& [element, atoms] : species.elements) {
    if (element == "Cu") return atoms;
  }
  return 0;
}

// What an axis value stands for.
double plain(Condition condition, double value) {
  const bool logarithm = condition == Condition::log10_oxygen ||
                         condition == Condition::log10_total ||
                         condition == Condition::log10_fugacity;
  return logarithm ? std::pow(10, value) : value;
}

void set(EquilibriumInput& input, const ConditionAxis& axis, double at) {
  const double value = plain(axis.condition, at);
  switch (axis.condition) {
    case Condition::ph:
      input.ph = value;
      break;
    case Condition::eh_v:
      input.eh_v = value;
      break;
    case Condition::log10_oxygen:
      input.oxygen_bar = value;
      break;
    case Condition::log10_total:
      input.totals_mol_per_kg[axis.name] = value;
      break;
    case Condition::log10_fugacity:
      input.fugacity_bar[axis.name] = value;
      break;
    case Condition::water_activity:
      input.water_activity = value;
      break;
    case Condition::temperature_c:
      break;
  }
}

// The waters of some points, by column: what no axis sets is the same in every row.
class Columns {
 public:
  /// `first`: the water of one of the points, which names what the others hold too.
  Columns(const TotalsFieldOptions& options, const EquilibriumInput& first,
          std::span<const Point> points)
      : options_(options), points_(points) {
    for (const auto& [name, moles] : first.totals_mol_per_kg)
      add(totals_, ingredients_, name, Condition::log10_total, moles);
    for (const auto& [name, bar] : first.fugacity_bar)
      add(fugacities_, gases_, name, Condition::log10_fugacity, bar);
    ph_ = column(Condition::ph, first.ph);
    eh_ = column(Condition::eh_v, first.eh_v);
    oxygen_ = column(Condition::log10_oxygen, first.oxygen_bar);
    water_ = column(Condition::water_activity, first.water_activity);
    if (runs(options, Condition::temperature_c))
      temperatures_ = column(Condition::temperature_c, options.temperature_c);
    totals_by_row_ = by_row(totals_);
    fugacities_by_row_ = by_row(fugacities_);
  }

  [[nodiscard]] EquilibriumRows view() const {
    EquilibriumRows rows;
    rows.count = points_.size();
    rows.ingredients = ingredients_;
    rows.totals_mol_per_kg = totals_by_row_;
    rows.ph = ph_;
    rows.eh_v = eh_;
    rows.oxygen_bar = oxygen_;
    rows.water_activity = water_;
    rows.temperature_c = temperatures_;
    rows.gases = gases_;
    rows.fugacity_bar = fugacities_by_row_;
    return rows;
  }

  // Copper weighed in, by row.
  [[nodiscard]] std::vector<double> copper(const Dataset& dataset) const {
    std::vector<double> sum(points_.size(), 0.0);
    for (std::size_t k = 0; k < ingredients_.size(); ++k) {
      const double atoms = copper_in(dataset.at(ingredients_[k]));
      for (std::size_t row = 0; row < sum.size(); ++row) sum[row] += atoms * totals_[k][row];
    }
    return sum;
  }

 private:
  using Column = std::vector<double>;

  [[nodiscard]] Column column(Condition condition, std::optional<double> held,
                              std::string_view name = {}) const {
    if (!held) return {};
    Column values(points_.size(), *held);
    for (const bool is_x : {true, false}) {
      const ConditionAxis& axis = is_x ? options_.x : options_.y;
      if (axis.condition != condition || axis.name != name) continue;
      for (std::size_t row = 0; row < values.size(); ++row)
        values[row] = plain(condition, is_x ? points_[row].x : points_[row].y);
    }
    return values;
  }

  void add(std::vector<Column>& columns, std::vector<std::string>& names, const std::string& name,
           Condition condition, double held) const {
    names.push_back(name);
    columns.push_back(column(condition, held, name));
  }

  [[nodiscard]] Column by_row(const std::vector<Column>& columns) const {
    Column rows;
    rows.reserve(points_.size() * columns.size());
    for (std::size_t row = 0; row < points_.size(); ++row) {
      for (const Column& each : columns) rows.push_back(each[row]);
    }
    return rows;
  }

  const TotalsFieldOptions& options_;
  std::span<const Point> points_;
  std::vector<std::string> ingredients_, gases_;
  std::vector<Column> totals_, fugacities_;
  Column totals_by_row_, fugacities_by_row_, ph_, eh_, oxygen_, water_, temperatures_;
};

double temperature_at(const TotalsFieldOptions& options, Point at) {
  if (options.x.condition == Condition::temperature_c) return at.x;
  if (options.y.condition == Condition::temperature_c) return at.y;
  return options.temperature_c;
}

}  // namespace

TotalsSystem::TotalsSystem(std::shared_ptr<const Dataset> dataset,
                           const TotalsFieldOptions& options)
    : dataset_(std::move(dataset)),
      options_((check_totals_options(options), options)),
      equilibrium_(dataset_, equilibrium_options()) {
  for (const std::string& name : equilibrium_.allowed_solids())
    in_solid_.push_back(copper_in(dataset_->at(name)));
  for (const std::string& name : equilibrium_.species())
    in_species_.push_back(copper_in(dataset_->at(name)));
}

EquilibriumInput TotalsSystem::input_at(Point at) const {
  EquilibriumInput input = options_.held;
  set(input, options_.x, at.x);
  set(input, options_.y, at.y);
  return input;
}

// Only what was given: a component that is nowhere costs time.
EquilibriumOptions TotalsSystem::equilibrium_options() const {
  const EquilibriumInput input = input_at({options_.x.low, options_.y.low});
  std::set<std::string> components;
  const auto add = [&](const std::string& name) {
    const Species& species = dataset_->at(name);
    for (std::size_t j = 0; j < species.components.size(); ++j) {
      const std::string& component = dataset_->components[j];
      const bool always = component == "H2O" || component == "H(+)" || component == "e(-)";
      if (species.components[j] != 0 && !always) components.insert(component);
    }
  };
  double copper = 0;
  for (const auto& [name, moles] : input.totals_mol_per_kg) {
    add(name);
    copper += copper_in(dataset_->at(name));
  }
  for (const auto& [name, bar] : input.fugacity_bar) add(name);
  if (!(copper > 0))
    throw InputError("totals_mol_per_kg", "no copper", "a total that holds copper, such as Cu(2+)");
  EquilibriumOptions asked;
  asked.activity = options_.activity;
  asked.temperature_c = options_.temperature_c;
  asked.redox = input.eh_v ? Redox::eh : input.oxygen_bar ? Redox::oxygen : Redox::conserved;
  asked.acidity = input.ph ? Acidity::given_ph : Acidity::charge_balance;
  asked.solvent = input.water_activity ? Solvent::water_activity : Solvent::one_kg;
  asked.components.assign(components.begin(), components.end());
  asked.precipitation = Precipitation::allowed;
  asked.left_out = options_.left_out;
  asked.missing_enthalpy = options_.missing_enthalpy;
  return asked;
}

EquilibriumResult TotalsSystem::solve(Point at) const {
  const double temperature = temperature_at(options_, at);
  if (temperature == equilibrium_.options().temperature_c) return equilibrium_.solve(input_at(at));
  EquilibriumOptions there = equilibrium_.options();
  there.temperature_c = temperature;
  return Equilibrium(dataset_, there).solve(input_at(at));
}

CopperHolder TotalsSystem::assemblage_of(const EquilibriumBatch& batch, std::size_t row,
                                         double copper) const {
  CopperHolder found;
  found.answered = batch.certified[row] != 0;
  if (!found.answered) return found;
  const double* solids = batch.solid_mol_per_kg.data() + row * in_solid_.size();
  for (std::size_t s = 0; s < in_solid_.size(); ++s) {
    if (in_solid_[s] * solids[s] > kThere * copper) found.solids.push_back(s);
  }
  if (!found.solids.empty()) return found;
  const double* log10_m = batch.log10_molality.data() + row * in_species_.size();
  double most = -HUGE_VAL;
  for (std::size_t i = 0; i < in_species_.size(); ++i) {
    if (in_species_[i] == 0) continue;
    const double held = log10_m[i] + std::log10(in_species_[i]);
    if (!(held > most)) continue;
    most = held;
    found.dissolved = i;
  }
  return found;
}

void TotalsSystem::labels_at(std::span<const Point> points, std::span<int> labels) {
  const Columns columns(options_, input_at(points.front()), points);
  const std::vector<double> copper = columns.copper(*dataset_);
  BatchChoice choice;
  choice.columns = {BatchColumn::solid_mol_per_kg, BatchColumn::log10_molality};
  const EquilibriumBatch batch = equilibrium_.solve_many(columns.view(), choice);
  solved_ += points.size();
  for (std::size_t k = 0; k < points.size(); ++k) {
    const auto [place, is_new] = numbers_.try_emplace(assemblage_of(batch, k, copper[k]),
                                                      static_cast<int>(assemblages_.size()));
    if (is_new) assemblages_.push_back(place->first);
    labels[k] = place->second;
  }
}

std::string TotalsSystem::name_of(int label) const {
  const CopperHolder& here = assemblage(label);
  if (!here.answered) return std::string(kNoAnswer);
  if (here.solids.empty()) return equilibrium_.species()[here.dissolved];
  std::vector<std::string> names;
  for (const std::size_t s : here.solids) names.push_back(equilibrium_.allowed_solids()[s]);
  return join(names, " + ");
}

}  // namespace aeruca::detail
