#pragma once

// The records of the data files as they were read, before they are reduced to one basis. Kept with
// the data set so that it can be extended and reduced again.

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/dataset.hpp"
#include "aeruca/errors.hpp"

namespace aeruca::detail {

/// Species and coefficients of a reaction, products positive.
using Terms = std::vector<std::pair<std::string, double>>;

/// Where a species takes its constant from: a reaction id, or one of these words.
inline constexpr const char* kComponent = "component";  // it is part of the basis
inline constexpr const char* kEnergies =
    "energies";  // chosen formation energies over its `formation` equation
inline constexpr const char* kSalt = "salt";  // ln_k of the salt of the same name
inline constexpr const char* kNoConstant =
    "none";  // named so that equations balance; no value known

struct SpeciesRecord {
  Species species;
  std::string constant_from;
  Terms formation;  // from components, when the constant comes from energies
};

struct ReactionRecord {
  Terms terms;
  Figure figure;
};

/// What every table knows of an entry besides its value.
struct Location {
  std::string file;
  long line = 0;
  int generation = 0;  // 0 the data set, 1 and more its extensions
};

/// Records of one kind by key, in the order of the files; an extension replaces what has its key.
template <class Value>
class Table {
 public:
  struct Entry {
    std::string key;
    Value value;
    std::vector<Figure> figures;
    Location location;
  };

  void put(Entry entry, const std::string& kind) {
    const auto found = position_.find(entry.key);
    if (found == position_.end()) {
      position_[entry.key] = entries_.size();
      entries_.push_back(std::move(entry));
      return;
    }
    Entry& old = entries_[found->second];
    if (old.location.generation == entry.location.generation)
      throw FileError(entry.location.file, entry.location.line, kind,
                      "'" + entry.key + "' is there twice, first in " + old.location.file +
                          ", line " + std::to_string(old.location.line) +
                          "; accepted is one record a key");
    old = std::move(entry);
  }

  [[nodiscard]] const Entry* find(const std::string& key) const {
    const auto found = position_.find(key);
    return found == position_.end() ? nullptr : &entries_[found->second];
  }
  [[nodiscard]] const std::vector<Entry>& entries() const { return entries_; }

 private:
  std::vector<Entry> entries_;
  std::map<std::string, std::size_t> position_;
};

struct BathSaltRecord {
  BathSalt salt;
  std::string source;
};

struct BathCautionRecord {
  std::string text;
  std::string source;
};

struct ShelfFormRecord {
  std::string salt, name;
  std::vector<std::string> reagents;
};

struct MineralGroupRecord {
  std::string means, does_not_mean;
  Figure origin;
};

struct Records {
  std::string version;
  std::string content_hash;
  int extensions = 0;
  double closure_tolerance = 0.03;  // log10 units, beyond 3 combined uncertainties
  Table<Source> sources;
  Table<SpeciesRecord> species;
  Table<ReactionRecord> reactions;
  Table<Figure> energies;
  Table<SitCoefficient> sit;
  Table<PitzerBinary> pitzer;
  Table<PitzerMixing> mixing;
  Table<Salt> salts;
  Table<MeasuredHumidity> humidities;
  Table<OnsetBand> onset;
  Table<BathReagent> bath_reagents;
  Table<BathCautionRecord> bath_cautions;
  Table<BathSaltRecord> bath_salts;  // without their forms, cautions by id
  Table<ShelfFormRecord> bath_forms;
  Table<FieldTest> field_tests;
  Table<MineralGroupRecord> mineral_groups;
  Table<Mineral> minerals;  // without what their group and their figures say
  Table<Figure> others;     // figures that belong to no other kind: electrodes, diffusion
};

/// Throws FileError when the bibliography has no such key; `record` says who asks.
void need_source(const Records& records, const Location& where, const std::string& key,
                 const std::string& record);

/// Adds the records of one TOML text. Throws FileError.
void read_toml(Records& records, const std::string& file, std::string_view text, int generation);

/// Adds the entries of a bibliography (the subset of BibTeX that data/README.md describes). Throws
/// FileError.
void read_bibliography(Records& records, const std::string& file, std::string_view text,
                       int generation);

/// `2 CuO + H2O = A + 2 B` as terms, products positive. Throws InputError.
Terms parse_equation(std::string_view equation);

/// Sources, names, balances. Throws FileError.
void check_records(const Records& records);

/// Species reduced to the component basis. Throws FileError.
void reduce_species(const Records& records, Dataset& dataset);

/// Every chosen reaction against the reduced constants and the chosen formation energies. Throws
/// FileError.
void check_closure(const Records& records, const Dataset& dataset);

/// The bath salts with their forms and cautions. Throws FileError for names that do not resolve and
/// for reagents that do not make their salt.
std::vector<BathSalt> assemble_bath_salts(const Records& records);

/// The minerals with what their groups say and their densities, which are among `figures`. Throws
/// FileError for names that do not resolve and for outcomes that no field test has.
std::vector<Mineral> assemble_minerals(const Records& records, const std::vector<Figure>& figures);

/// What a data set was made from; of the embedded one it is read when it is first asked for. Throws
/// InputError for a data set made by hand.
std::shared_ptr<const Records> records_of(const Dataset& dataset);

/// The data set of checked records. Throws FileError.
std::shared_ptr<const Dataset> build_dataset(std::shared_ptr<const Records> records);

}  // namespace aeruca::detail
