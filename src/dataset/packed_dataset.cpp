#include "dataset/packed_dataset.hpp"

#include <concepts>
#include <cstdint>
#include <cstring>
#include <type_traits>

namespace aeruca::detail {
namespace {

template <class Given, class Wanted>
concept Like = std::same_as<std::remove_const_t<Given>, Wanted>;

// The members of each type, for writing and for reading. A member that is added or taken away and
// not named here does not compile.
template <class Archive>
void members(Archive& archive, Like<Source> auto& one) {
  auto& [key, text, doi] = one;
  archive(key, text, doi);
}

template <class Archive>
void members(Archive& archive, Like<Figure> auto& one) {
  auto& [id, subject, quantity, value, unit, uncertainty, conditions, source, place, basis, chosen,
         reason, note, file, line] = one;
  archive(id, subject, quantity, value, unit, uncertainty, conditions, source, place, basis, chosen,
          reason, note, file, line);
}

template <class Archive>
void members(Archive& archive, Like<Species> auto& one) {
  auto& [name, formula, title, kind, charge, molar_mass, elements, components, log10_k, uncertainty,
         enthalpy, heat_capacity, density, slow_to_form, proton_partner, colour, figures,
         constant_terms, enthalpy_terms, heat_capacity_terms] = one;
  archive(name, formula, title, kind, charge, molar_mass, elements, components, log10_k,
          uncertainty, enthalpy, heat_capacity, density, slow_to_form, proton_partner, colour,
          figures, constant_terms, enthalpy_terms, heat_capacity_terms);
}

template <class Archive>
void members(Archive& archive, Like<SitCoefficient> auto& one) {
  auto& [cation, anion, value, uncertainty, figure, chosen, complexes] = one;
  archive(cation, anion, value, uncertainty, figure, chosen, complexes);
}

template <class Archive>
void members(Archive& archive, Like<PitzerBinary> auto& one) {
  auto& [id, cation, anion, beta0, beta1, beta2, c_phi, alpha1, alpha2, beta0_per_k, beta1_per_k,
         beta2_per_k, c_phi_per_k, beta0_per_k2, beta1_per_k2, c_phi_per_k2, temperature_min,
         temperature_max, molality_max, osmotic_uncertainty, chosen, reason, source, basis, check,
         complexes, fitted, covariance] = one;
  archive(id, cation, anion, beta0, beta1, beta2, c_phi, alpha1, alpha2, beta0_per_k, beta1_per_k,
          beta2_per_k, c_phi_per_k, beta0_per_k2, beta1_per_k2, c_phi_per_k2, temperature_min,
          temperature_max, molality_max, osmotic_uncertainty, chosen, reason, source, basis, check,
          complexes, fitted, covariance);
}

template <class Archive>
void members(Archive& archive, Like<PitzerMixing> auto& one) {
  auto& [type, species, value, source, basis, check] = one;
  archive(type, species, value, source, basis, check);
}

template <class Archive>
void members(Archive& archive, Like<Salt> auto& one) {
  auto& [solid, formula, anhydrous, ions, waters, molar_mass, ln_k, pitzer_set, solubility,
         enthalpy, density, source, basis, humidity_in_fit, note] = one;
  archive(solid, formula, anhydrous, ions, waters, molar_mass, ln_k, pitzer_set, solubility,
          enthalpy, density, source, basis, humidity_in_fit, note);
}

template <class Archive>
void members(Archive& archive, Like<MeasuredHumidity> auto& one) {
  auto& [solid, equilibrium, kind, temperature, rh, uncertainty, source, basis, note, doubtful,
         rh_high] = one;
  archive(solid, equilibrium, kind, temperature, rh, uncertainty, source, basis, note, doubtful,
          rh_high);
}

template <class Archive>
void members(Archive& archive, Like<OnsetBand> auto& one) {
  auto& [id, title, low, high, conditions, source, basis, chosen, reason, note] = one;
  archive(id, title, low, high, conditions, source, basis, chosen, reason, note);
}

template <class Archive>
void members(Archive& archive, Like<BathReagent> auto& one) {
  auto& [name, also, formula] = one;
  archive(name, also, formula);
}

template <class Archive>
void members(Archive& archive, Like<ShelfForm> auto& one) {
  auto& [name, reagents] = one;
  archive(name, reagents);
}

template <class Archive>
void members(Archive& archive, Like<BathSalt> auto& one) {
  auto& [name, also, formula, ions, saturated_with, usual, forms, cautions] = one;
  archive(name, also, formula, ions, saturated_with, usual, forms, cautions);
}

template <class Archive>
void members(Archive& archive, Like<FieldTest> auto& one) {
  auto& [id, question, outcomes, how, misleads, caution, source, place, basis] = one;
  archive(id, question, outcomes, how, misleads, caution, source, place, basis);
}

template <class Archive>
void members(Archive& archive, Like<Mineral> auto& one) {
  auto& [name, also, formula, group, colour, habit, means, does_not_mean, usual, possible,
         on_copper, molar_mass, density, density_uncertainty, density_figure, note, source, place,
         basis, group_source, group_place, group_basis] = one;
  archive(name, also, formula, group, colour, habit, means, does_not_mean, usual, possible,
          on_copper, molar_mass, density, density_uncertainty, density_figure, note, source, place,
          basis, group_source, group_place, group_basis);
}

// What a data set holds besides its records and its look-up.
template <class Archive>
void members(Archive& archive, Like<Dataset> auto& one) {
  archive(one.version, one.content_hash, one.components, one.species, one.figures, one.sources,
          one.sit, one.pitzer, one.pitzer_mixing, one.salts, one.humidities, one.onset_bands,
          one.bath_salts, one.field_tests, one.minerals);
}

template <class Value>
concept Plain = std::is_arithmetic_v<Value> || std::is_enum_v<Value>;

class Writer {
 public:
  template <class... Values>
  void operator()(const Values&... values) {
    (put(values), ...);
  }

  [[nodiscard]] std::string bytes() && { return std::move(bytes_); }

 private:
  template <Plain Value>
  void put(const Value& value) {
    bytes_.append(reinterpret_cast<const char*>(&value), sizeof value);
  }
  void put(const std::string& text) {
    put(static_cast<std::uint32_t>(text.size()));
    bytes_ += text;
  }
  template <class First, class Second>
  void put(const std::pair<First, Second>& pair) {
    put(pair.first);
    put(pair.second);
  }
  template <class Value>
  void put(const std::vector<Value>& values) {
    put(static_cast<std::uint32_t>(values.size()));
    for (const Value& value : values) put(value);
  }
  template <class Value>
  void put(const Value& value) {
    members(*this, value);
  }

  std::string bytes_;
};

class Reader {
 public:
  explicit Reader(std::string_view bytes) : bytes_(bytes) {}

  template <class... Values>
  void operator()(Values&... values) {
    (take(values), ...);
  }

 private:
  template <Plain Value>
  void take(Value& value) {
    std::memcpy(&value, bytes_.data(), sizeof value);
    bytes_.remove_prefix(sizeof value);
  }
  void take(std::string& text) {
    const std::uint32_t size = taken_size();
    text = bytes_.substr(0, size);
    bytes_.remove_prefix(size);
  }
  template <class First, class Second>
  void take(std::pair<First, Second>& pair) {
    take(pair.first);
    take(pair.second);
  }
  template <class Value>
  void take(std::vector<Value>& values) {
    values.resize(taken_size());
    for (Value& value : values) take(value);
  }
  template <class Value>
  void take(Value& value) {
    members(*this, value);
  }
  std::uint32_t taken_size() {
    std::uint32_t size = 0;
    take(size);
    return size;
  }

  std::string_view bytes_;
};

}  // namespace

std::string pack(const Dataset& dataset) {
  Writer writer;
  members(writer, dataset);
  return std::move(writer).bytes();
}

std::shared_ptr<const Dataset> unpack_dataset(std::string_view bytes) {
  auto dataset = std::make_shared<Dataset>();
  Reader reader(bytes);
  members(reader, *dataset);
  dataset->index_names();
  return dataset;
}

}  // namespace aeruca::detail
