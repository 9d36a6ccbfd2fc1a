#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.hpp"
#include "dataset/read_figures.hpp"

namespace aeruca::detail {
namespace {

struct PitzerField {
  const char* name;
  double PitzerBinary::*member;
  const char* unit;
};

constexpr std::array kPitzerFields{
    PitzerField{"beta0", &PitzerBinary::beta0, "kg/mol"},
    PitzerField{"beta1", &PitzerBinary::beta1, "kg/mol"},
    PitzerField{"beta2", &PitzerBinary::beta2, "kg/mol"},
    PitzerField{"c_phi", &PitzerBinary::c_phi, "kg2/mol2"},
    PitzerField{"beta0_per_k", &PitzerBinary::beta0_per_k, "kg/(mol K)"},
    PitzerField{"beta1_per_k", &PitzerBinary::beta1_per_k, "kg/(mol K)"},
    PitzerField{"beta2_per_k", &PitzerBinary::beta2_per_k, "kg/(mol K)"},
    PitzerField{"c_phi_per_k", &PitzerBinary::c_phi_per_k, "kg2/(mol2 K)"},
    PitzerField{"beta0_per_k2", &PitzerBinary::beta0_per_k2, "kg/(mol K2)"},
    PitzerField{"beta1_per_k2", &PitzerBinary::beta1_per_k2, "kg/(mol K2)"},
    PitzerField{"c_phi_per_k2", &PitzerBinary::c_phi_per_k2, "kg2/(mol2 K2)"},
};

// A figure for every parameter that stands in the record; a derivative that does not is NaN.
std::vector<Figure> read_parameters(Record& record, PitzerBinary& set, const Figure& origin) {
  std::vector<Figure> figures;
  for (std::size_t i = 0; i < kPitzerFields.size(); ++i) {
    const PitzerField& field = kPitzerFields[i];
    const double value = record.within(field.name, record.number_or(field.name), -200, 200);
    const bool derivative = i >= 4 && i < 8;  // a second derivative not given is zero
    set.*field.member = std::isnan(value) && !derivative ? 0 : value;
    if (std::isnan(value)) continue;
    Figure figure = origin;
    figure.id = set.id + "." + field.name;
    figure.quantity = std::string("pitzer ") + field.name;
    figure.value = value;
    figure.unit = field.unit;
    figures.push_back(figure);
  }
  return figures;
}

const PitzerField& parameter_named(Record& record, const std::string& name) {
  for (const PitzerField& field : kPitzerFields)
    if (field.name == name) return field;
  record.fail("fitted", "'" + name + "' is no parameter of a set, accepted are beta0, beta1 ...");
}

// The lower triangle, row by row, of a matrix that may be a covariance: no negative variance, no
// correlation beyond one.
void check_covariance(Record& record, const PitzerBinary& set) {
  const std::size_t n = set.fitted.size();
  if (set.covariance.size() != n * (n + 1) / 2)
    record.fail("covariance", "accepted are " + std::to_string(n * (n + 1) / 2) +
                                  " numbers, the lower triangle for the fields in fitted");
  const auto at = [&](std::size_t i, std::size_t j) { return set.covariance[i * (i + 1) / 2 + j]; };
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = 0; j <= i; ++j)
      if (at(i, i) < 0 || at(i, j) * at(i, j) > 1.0001 * at(i, i) * at(j, j))
        record.fail("covariance", "accepted are variances of 0 and more, correlations of -1 to 1");
}

void read_fit(Record& record, PitzerBinary& set) {
  if (!record.has("fitted") && !record.has("covariance")) return;
  set.fitted = record.texts("fitted");
  set.covariance = record.numbers("covariance");
  for (const auto& name : set.fitted)
    if (std::isnan(set.*parameter_named(record, name).member))
      record.fail("fitted", "names " + name + ", which has no value in the record");
  check_covariance(record, set);
}

// The word of a field.
std::string one_of(Record& record, const char* field, const std::vector<std::string>& words) {
  std::string word = record.text(field);
  if (std::find(words.begin(), words.end(), word) == words.end())
    record.fail(field, "'" + word + "' is not known, accepted is one of " + join(words, ", "));
  return word;
}

std::string mixing_key(const PitzerMixing& mixing) {
  return mixing.type + " " + join(mixing.species, " ");
}

// A sub-table of a salt that holds one figure; NaN and no figure when it is not there.
double read_part(Record& record, const char* field, const char* unit, const std::string& solid,
                 double lowest, double highest, const Defaults& defaults,
                 std::vector<Figure>& figures) {
  auto part = record.table(field);
  if (!part) return std::nan("");
  Figure figure = read_figure(*part, defaults, solid + "." + field, unit);
  figure.subject = solid;
  figure.quantity = field;
  figure.chosen = true;
  if (std::isnan(figure.value)) part->fail("value", "is missing, accepted is a number");
  part->within("value", figure.value, lowest, highest);
  part->finish();
  figures.push_back(figure);
  return figure.value;
}

void read_solubility(Record& record, Salt& salt, const Defaults& defaults,
                     std::vector<Figure>& figures) {
  auto part = record.table("solubility");
  if (!part) return;
  salt.solubility = part->pairs("at");
  Figure figure = read_figure(*part, defaults, "", "mol/kg");
  for (std::size_t i = 0; i < salt.solubility.size(); ++i) {
    const auto [temperature, molality] = salt.solubility[i];
    part->within("at", temperature, -50, 120);
    part->within("at", molality, 0, 100);
    if (i > 0 && temperature <= salt.solubility[i - 1].first)
      part->fail("at", "accepted are rising temperatures");
    figure.id = salt.solid + ".solubility." + format_number(temperature) + "C";
    figure.subject = salt.solid;
    figure.quantity = "solubility";
    figure.value = molality;
    figure.conditions = format_number(temperature) + " C, as anhydrous salt";
    figures.push_back(figure);
    figure.note.clear();  // it speaks of all the points
  }
  part->finish();
}

void read_ions(Record& record, Salt& salt) {
  const std::string text = record.text("dissolves_to");
  for (const auto& [name, count] : read_terms(record, "dissolves_to", salt.solid + " = " + text)) {
    if (name == salt.solid) continue;
    if (name == "H2O")
      salt.waters = count;
    else
      salt.ions.emplace_back(name, count);
  }
}

void set_salt_source(Salt& salt, const std::vector<Figure>& figures) {
  for (const char* quantity : {"ln_k", "solubility", "density"})
    for (const Figure& figure : figures)
      if (figure.quantity == quantity && salt.source.empty()) {
        salt.source = figure.source;
        salt.basis = figure.basis;
      }
}

}  // namespace

namespace {

// None named: the parameters contain every complex of the two ions.
std::vector<std::string> complexes_beside(Record& record) {
  return record.has("complexes") ? record.texts("complexes") : std::vector<std::string>{};
}

}  // namespace

void read_sit(Record& record, Records& records, const Defaults& defaults) {
  SitCoefficient sit;
  sit.cation = record.text("cation");
  sit.anion = record.text("anion");
  sit.figure = "sit " + sit.cation + " " + sit.anion;
  record.call(sit.cation + " " + sit.anion);
  Figure figure = read_figure(record, defaults, sit.figure, "kg/mol");
  figure.subject = sit.cation + " " + sit.anion;
  figure.quantity = "sit epsilon";
  if (!figure.chosen) figure.id = sit.figure += " (" + figure.source + ")";
  if (std::isnan(figure.value)) record.fail("value", "is missing, accepted is a number");
  record.within("value", figure.value, -2, 2);
  sit.value = figure.value;
  sit.chosen = figure.chosen;
  sit.complexes = complexes_beside(record);
  sit.uncertainty = figure.uncertainty;
  records.sit.put({sit.figure, sit, {figure}, location(record, defaults)}, "sit");
}

void read_pitzer(Record& record, Records& records, const Defaults& defaults) {
  PitzerBinary set;
  set.id = record.text("id");
  record.call(set.id);
  set.cation = record.text("cation");
  set.anion = record.text("anion");
  Figure origin;
  read_origin(record, defaults, origin);
  origin.subject = set.cation + " " + set.anion;
  origin.uncertainty = std::nan("");
  origin.chosen = set.chosen = record.flag_or("chosen", false);
  set.alpha1 = record.within("alpha1", record.number_or("alpha1", 2), 0.01, 20);
  set.alpha2 = record.within("alpha2", record.number_or("alpha2", 12), 0.01, 50);
  set.molality_max = record.within("molality_max", record.number_or("molality_max"), 0, 50);
  set.temperature_min_c =
      record.within("temperature_min_c", record.number_or("temperature_min_c", 25), 0, 25);
  set.temperature_max_c =
      record.within("temperature_max_c", record.number_or("temperature_max_c", 25), 25, 50);
  set.osmotic_uncertainty =
      record.within("osmotic_uncertainty", record.number_or("osmotic_uncertainty"), 0, 1);
  set.check = record.text_or("check");
  set.complexes = complexes_beside(record);
  const std::string function = record.text_or("temperature_function");
  if (!function.empty())
    origin.note += (origin.note.empty() ? "" : " ") + ("temperature function: " + function);
  set.reason = origin.reason;
  set.source = origin.source;
  set.basis = origin.basis;
  std::vector<Figure> figures = read_parameters(record, set, origin);
  read_fit(record, set);
  if (figures.empty())
    record.fail("beta0", "is missing, accepted is a set with at least one parameter");
  records.pitzer.put({set.id, set, std::move(figures), location(record, defaults)}, "pitzer");
}

void read_mixing(Record& record, Records& records, const Defaults& defaults) {
  PitzerMixing mixing;
  mixing.type = one_of(record, "type", {"theta", "psi", "lambda", "zeta"});
  mixing.species = record.texts("species");
  const bool triple = mixing.type == "psi" || mixing.type == "zeta";
  if (mixing.species.size() != (triple ? 3U : 2U))
    record.fail("species",
                "accepted are " + std::string(triple ? "3" : "2") + " names for a " + mixing.type);
  std::string key = mixing_key(mixing);
  record.call(key);
  Figure figure = read_figure(record, defaults, key, triple ? "kg2/mol2" : "kg/mol");
  if (!figure.chosen) key += " (" + figure.source + ")";
  figure.id = key;
  figure.subject = join(mixing.species, " ");
  figure.quantity = "pitzer " + mixing.type;
  record.within("value", figure.value, -10, 10);
  if (figure.chosen && std::isnan(figure.value))
    record.fail("chosen", "is true but there is no value");
  mixing.value = figure.value;
  mixing.source = figure.source;
  mixing.basis = figure.basis;
  mixing.check = record.text_or("check");
  records.mixing.put({key, mixing, {figure}, location(record, defaults)}, "mixing");
}

void read_salt(Record& record, Records& records, const Defaults& defaults) {
  Salt salt;
  salt.solid = record.text("solid");
  record.call(salt.solid);
  salt.formula = record.text("formula");
  salt.anhydrous = record.text("anhydrous");
  try {
    salt.molar_mass_g_per_mol = molar_mass_g_per_mol(parse_formula(salt.formula));
  } catch (const InputError& problem) {
    record.fail("formula", problem.what());
  }
  read_ions(record, salt);
  std::vector<Figure> figures;
  const auto part = [&](const char* field, const char* unit, double lowest, double highest) {
    return read_part(record, field, unit, salt.solid, lowest, highest, defaults, figures);
  };
  salt.ln_k_25c = part("ln_k", "1", -200, 200);
  salt.dissolution_enthalpy_kj_per_mol = part("dissolution_enthalpy", "kJ/mol", -500, 500);
  part("dissolution_heat_capacity", "J/(mol K)", -5000, 5000);
  part("saturation_enthalpy", "kJ/mol", -500, 500);
  salt.density_g_per_cm3 = part("density", "g/cm3", 0.5, 25);
  read_solubility(record, salt, defaults, figures);
  set_salt_source(salt, figures);
  salt.pitzer_set = record.text_or("pitzer_set");
  salt.humidity_in_fit = record.flag_or("humidity_in_fit", false);
  salt.note = record.text_or("note");
  records.salts.put({salt.solid, salt, std::move(figures), location(record, defaults)}, "salt");
}

void read_humidity(Record& record, Records& records, const Defaults& defaults) {
  MeasuredHumidity humidity;
  Figure figure;
  figure.id = record.text("id");
  record.call(figure.id);
  humidity.solid = record.text("solid");
  humidity.equilibrium =
      one_of(record, "equilibrium", {"deliquescence", "hydration", "mutual", "crystallisation"});
  humidity.kind = one_of(record, "kind", {"evaluated", "measured", "compiled", "computed"});
  humidity.temperature_c = record.within("temperature_c", record.number("temperature_c"), -50, 120);
  humidity.rh_percent = record.within("rh_percent", record.number("rh_percent"), 0, 100);
  humidity.rh_high_percent = record.within("rh_high_percent", record.number_or("rh_high_percent"),
                                           humidity.rh_percent, 100);
  humidity.uncertainty_percent =
      record.within("uncertainty_percent", record.number_or("uncertainty_percent"), 0, 50);
  read_origin(record, defaults, figure);
  humidity.source = figure.source;
  humidity.basis = figure.basis;
  humidity.note = figure.note;
  humidity.doubtful = record.flag_or("doubtful", false);
  if (humidity.doubtful && humidity.note.empty())
    record.fail("note", "is missing, accepted is why the figure is doubtful");
  figure.subject = humidity.solid;
  figure.quantity = humidity.equilibrium + " rh, " + humidity.kind;
  figure.value = humidity.rh_percent;
  figure.unit = "% RH";
  figure.uncertainty = humidity.uncertainty_percent;
  figure.conditions = format_number(humidity.temperature_c) + " C";
  records.humidities.put({figure.id, humidity, {figure}, location(record, defaults)}, "humidity");
}

void read_onset(Record& record, Records& records, const Defaults& defaults) {
  OnsetBand band;
  Figure low;
  band.id = record.text("id");
  record.call(band.id);
  band.title = record.text("title");
  band.low_rh_percent = record.within("low_rh_percent", record.number("low_rh_percent"), 0, 100);
  band.high_rh_percent = record.within("high_rh_percent", record.number_or("high_rh_percent"),
                                       band.low_rh_percent, 100);
  read_origin(record, defaults, low);
  band.conditions = low.conditions;
  band.source = low.source;
  band.basis = low.basis;
  band.chosen = low.chosen = record.flag_or("chosen", false);
  band.reason = low.reason;
  band.note = low.note;
  if (band.chosen && std::isnan(band.high_rh_percent))
    record.fail("high_rh_percent", "is missing, accepted is a number for the chosen band");
  low.id = band.id;
  low.subject = band.title;
  low.quantity = "onset rh, low end";
  low.value = band.low_rh_percent;
  low.unit = "% RH";
  low.uncertainty = std::nan("");
  std::vector<Figure> figures{low};
  if (!std::isnan(band.high_rh_percent)) {
    figures.push_back(low);
    figures.back().id = band.id + ".high";
    figures.back().quantity = "onset rh, high end";
    figures.back().value = band.high_rh_percent;
  }
  records.onset.put({band.id, band, std::move(figures), location(record, defaults)}, "onset");
}

void read_other(Record& record, Records& records, const Defaults& defaults) {
  const std::string id = record.text("id");
  record.call(id);
  Figure figure = read_figure(record, defaults, id, record.text("unit"));
  figure.subject = record.text("subject");
  figure.quantity = record.text("quantity");
  records.others.put({id, figure, {figure}, location(record, defaults)}, "figure");
}

namespace {

using Reader = void (*)(Record&, Records&, const Defaults&);

const std::map<std::string, Reader>& readers() {
  static const std::map<std::string, Reader> all{{"species", read_species},
                                                 {"reaction", read_reaction},
                                                 {"energy", read_energy},
                                                 {"sit", read_sit},
                                                 {"pitzer", read_pitzer},
                                                 {"mixing", read_mixing},
                                                 {"salt", read_salt},
                                                 {"humidity", read_humidity},
                                                 {"onset", read_onset},
                                                 {"figure", read_other},
                                                 {"bath_reagent", read_bath_reagent},
                                                 {"bath_caution", read_bath_caution},
                                                 {"bath_salt", read_bath_salt},
                                                 {"bath_form", read_bath_form},
                                                 {"field_test", read_field_test},
                                                 {"mineral_group", read_mineral_group},
                                                 {"mineral", read_mineral}};
  return all;
}

RecordReader reader_into(Records& records, int generation) {
  return [&records, defaults = Defaults{"", generation}](const std::string& kind,
                                                         Record& record) mutable {
    if (kind.empty()) {
      defaults.conditions = record.text_or("conditions");
      records.version = record.text_or("version", records.version);
      records.closure_tolerance =
          record.within("closure_tolerance",
                        record.number_or("closure_tolerance", records.closure_tolerance), 0, 100);
    } else if (kind == "source") {
      Source source{record.text("key"), "", ""};
      record.call(source.key);
      source.text = record.text("text");
      source.doi = record.text_or("doi");
      records.sources.put({source.key, source, {}, location(record, defaults)}, "source");
    } else {
      readers().at(kind)(record, records, defaults);
    }
  };
}

}  // namespace

void read_toml(Records& records, const std::string& file, std::string_view text, int generation) {
  std::vector<std::string> kinds{"source"};
  for (const auto& [kind, reader] : readers()) kinds.push_back(kind);
  for_each_record(file, parse_toml_document(file, text), reader_into(records, generation), kinds);
}

}  // namespace aeruca::detail
