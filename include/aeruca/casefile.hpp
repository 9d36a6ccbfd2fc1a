#pragma once

/// \file
/// One object's case file: what the person at the bench knows, as TOML, every key optional.
///
/// Words. A *case file* describes one object, the waters it lay or lies in, its store and its
/// baths. A *reading* is a number as a laboratory writes it: `640`, `"640 +/- 30"`, or `"< 5"` for
/// below the detection limit. Units stand in the names of the keys (`mass_g`, `chloride_mg_per_l`).
///
/// Errors. A key that does not exist is refused with the nearest known one; a wrong type and a
/// value out of range say file, line, key, value and what is accepted. Nothing is guessed and
/// nothing is clamped. A number that is not given is NaN; a text, an empty string; a list, empty.
///
/// Paths of logs are taken relative to the case file.
///
/// Workbooks. A case may stand in a workbook (.xlsx) where the caller brings what reads one
/// (`CaseWorkbooks`; the Python package does): it is turned into the text of a case file, so that all
/// here holds for it, and errors name sheet and cell in place of line and key.
///
/// Numbers, all optional; outside the range: FileError. "None" as default means that the section
/// which wants it says what is missing.
///
/// | key                                   | unit      | range          | default                |
/// |---------------------------------------|-----------|----------------|------------------------|
/// | object.mass_g                         | g         | 1e-6 to 1e8    | none: nothing per gram |
/// | water.temperature_c                   | degrees C | 0 to 50        | 25                     |
/// | water.ph                              | reading   | 0 to 14        | none: no equilibrium   |
/// | water.eh_mv                           | mV        | -1500 to 1500  | none: no oxides        |
/// | water.eh_uncertainty_mv               | mV        | 0 to 500       | 20                     |
/// | water.carbon_dioxide_bar              | bar       | 1e-6 to 1      | none: as analysed      |
/// | water.density_kg_per_l                | kg/L      | 0.9 to 2.5     | of pure water          |
/// | water.conductivity_us_per_cm          | uS/cm     | 0.01 to 1e6    | none: not compared     |
/// | water.chloride_mg_per_l and the like  | reading   | 0 to 500 000   | none: absent, said so  |
/// | pit.chloride_activity                 |           | 1e-6 to 10     | 1                      |
/// | pit.copper_activity                   |           | 1e-12 to 10    | 0.1                    |
/// | store.sensor_accuracy_rh_percent      | % RH      | 0 to 25        | 3, said so             |
/// | store.sensor_drift_rh_percent_per_year | % RH/year | 0 to 20       | 0                      |
/// | store.sensor_check.temperature_c      | degrees C | 0 to 50        | required               |
/// | store.sensor_check.reading_rh_percent | % RH      | 0 to 110       | required               |
/// | store.beside_accuracy_rh_percent      | % RH      | 0 to 25        | as the first sensor    |
/// | store.object_cooler_by_k              | K         | -20 to 20      | 0                      |
/// | store.enclosure.volume_m3             | m3        | 1e-6 to 1000   | none: not followed     |
/// | store.enclosure.exchange_per_day      | 1/day     | 0 to 1000      | test, or records       |
/// | .exchange_uncertainty_percent         | %         | 0 to 200       | 25, or of the test     |
/// | store.enclosure.gel_kg                | kg        | 0 to 1e4       | 0                      |
/// | store.enclosure.contents_g_per_rh     | g/% RH    | 0 to 1e6       | 0                      |
/// | store.enclosure.contents_kg           | kg        | 0 to 1e6       | 0                      |
/// | .contents_rh_percent                  | % RH      | 0 to 100, list | none                   |
/// | .contents_moisture_percent            | % of dry  | 0 to 500, list | none                   |
/// | store.enclosure.outside_rh_percent    | % RH      | 0 to 100       | the record outside     |
/// | store.enclosure.temperature_c         | degrees C | 0 to 50        | the record outside     |
/// | store.enclosure.inside_temperature_c  | degrees C | 0 to 50        | as outside             |
/// | store.enclosure.start_rh_percent      | % RH      | 0 to 100       | last day of the record |
/// | store.enclosure.limit_rh_percent      | % RH      | 0 to 100       | set-point, else onset  |
/// | store.enclosure.visit_days            | days      | 1 to 36 500    | 365, or record outside |
/// | bath.layer_thickness_mm               | mm        | 1e-6 to 1e4    | none: no diffusivity   |
/// | bath.stop_mg_per_l                    | mg/L      | 0 to 500 000   | none: no end date      |
/// | bath.target_left_mg_per_g             | mg/g      | 1e-6 to 1000   | none: no end date      |
/// | bath.next_volume_l                    | L         | 1e-6 to 1e6    | as the last bath       |
/// | bath.next_days                        | days      | 1e-6 to 36 500 | as the last bath       |
/// | bath.reading_error_percent            | %         | 0.01 to 100    | 5                      |
/// | bath.volume_error_percent             | %         | 0 to 100       | 2                      |
/// | bath.solution.strength_percent_w_v    | % w/v     | 1e-6 to 50     | none: no grams, no pH  |
/// | bath.solution.purity_percent          | %         | 1 to 100       | 100                    |
/// | bath.solution.salt_chloride_percent   | % by mass | 0 to 1         | none: no blank         |
/// | bath.solution.water_chloride_mg_per_l | mg/L      | 0 to 35 000    | none: no blank         |
/// | bath.solution.volume_l                | L         | 1e-6 to 1e6    | 1                      |
/// | bath.solution.temperature_c           | degrees C | 0 to 50        | 25                     |
///
/// An ion's key is its word and a unit: `_mg_per_l`, `_ug_per_l`, `_mmol_per_l`, `_mg_per_kg`,
/// `_mmol_per_kg`, `_mol_per_kg`; alkalinity may be `_mg_per_l_as_caco3`. What the words mean, and
/// litres against kilograms, stands in `analysis.hpp`.
///
/// Refused besides: a column name without a log, a reference electrode or an uncertainty without
/// `eh_mv`, a drift without `sensor_calibrated` or the reverse, an accuracy beside without a second
/// logger, a decay test without `decay_background` or beside `exchange_per_day`, a constant climate
/// beside `outside_log`, `aerated = true` beside `eh_mv`, `load = "at-metal"` on another shape than a slab, a
/// `schema` of another number than `kCaseSchema`.

#include <cmath>
#include <functional>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/analysis.hpp"
#include "aeruca/enclosure.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/logger.hpp"

namespace aeruca {

/// What was seen on one day. Growth that is seen outweighs every calculation.
struct CaseObservation {
  std::string date;  ///< YYYY-MM-DD
  std::string kind;  ///< one of `observation_kinds()`
  std::string text;  ///< free words
  /// Of one lifted grain, as `identify_mineral` of minerals.hpp reads it: "colour=green", "powdery"
  std::vector<std::string> seen = {};
};

/// The object itself. Some features stop every figure of treatment (`stops_treatment_by_number`):
/// for composite, gilded, leaded or sacred pieces a number would be taken for a licence.
struct CaseObject {
  std::string name;
  std::string material;  ///< alloy in words
  double mass_g = kNotGiven;
  std::vector<std::string> features;  ///< of `object_features()`; some stop every number
  std::string silver_nitrate_test;    ///< "positive", "negative", "not done" or empty
  std::string notes;
};

/// A water the object lay in, lies in or is to be put into.
struct CaseWater {
  std::string name;
  WaterAnalysis analysis;  ///< ions by name, pH, potential or air, gases held
};

/// The liquid in a pit below the corrosion, cut off from the water outside. Activities: about the
/// mol/kg of the dissolved species, 0.2 log units less at most.
struct CasePit {
  bool given = false;
  /// As strong as sea water twice over, and as acid pits are described
  double chloride_activity = 1;
  double copper_activity = 0.1;  ///< above the 0.06 that nantokite holds in solution at it
};

/// What the sensor read in a jar over a saturated salt.
struct CaseSensorCheck {
  std::string salt;  ///< mineral or formula
  double temperature_c = kNotGiven;
  double reading_rh_percent = kNotGiven;
};

/// The box, bag or case that the object is kept in, as aeruca/enclosure.hpp takes it. Exchange: a
/// figure, a decay test, or, without either, found from `store.log` and `outside_log`. Start and
/// limit follow from the record where they are not given (aeruca/review.hpp); without a record the
/// limit is the lower end of the onset band.
struct CaseEnclosure {
  bool given = false;
  Enclosure box;
  double exchange_uncertainty_percent = kNotGiven;  ///< standard, of the exchange
  std::string decay_test;                           ///< path of a file: hours, reading
  double decay_background = kNotGiven;              ///< of the tracer outside, in its unit
  std::string outside_log;                          ///< path of a logger record outside the box
  double outside_rh_percent = kNotGiven;            ///< or a climate that stays, with
  double temperature_c = kNotGiven;                 ///< its temperature
  double inside_temperature_c = kNotGiven;          ///< where it is not that outside
  std::string started;                              ///< YYYY-MM-DD of the start
  double limit_rh_percent = kNotGiven;
  double visit_days = kNotGiven;  ///< between two visits; NaN: 365, or the record outside
};

/// Where the object is kept, and its humidity record. An object cooler than the air by 1 K sees
/// about 3 % RH more at 45 % (eq 1 of `store.hpp`), which is what `object_cooler_by_k` counts.
struct CaseStore {
  bool given = false;
  std::string name;
  /// Logger files, folders of them or patterns, joined as one record; paths as they are written
  std::vector<std::string> log;
  LoggerReadOptions reading;  ///< names of its columns, and how they are written
  std::string onset;          ///< id of an onset band; empty: the chosen one
  /// Plus-minus of the logger as its maker states it
  double sensor_accuracy_rh_percent = kNotGiven;
  double sensor_drift_rh_percent_per_year = 0;
  std::string sensor_calibrated;  ///< YYYY-MM-DD; goes with the drift
  std::vector<CaseSensorCheck> sensor_checks;
  std::string beside;  ///< path of the record of a second logger at the same place
  double beside_accuracy_rh_percent = kNotGiven;
  double object_cooler_by_k = 0;   ///< object surface below air temperature (K)
  std::vector<std::string> salts;  ///< minerals or formulae found in or on the object
  std::string salt_analysis;       ///< path of a table of ions and amounts (salt_analysis.hpp)
  CaseEnclosure enclosure;
};

/// What the bath is made of, from the salt on the shelf.
struct CaseSolution {
  bool given = false;
  std::string salt;  ///< of `bath_salts()` in weigh_out.hpp; empty: water alone
  double strength_percent_w_v = kNotGiven;
  std::string on_the_shelf;  ///< of `shelf_forms(salt)`
  double purity_percent = 100;
  double salt_chloride_percent = kNotGiven;    ///< chloride in the reagent, % by mass
  double water_chloride_mg_per_l = kNotGiven;  ///< chloride in the water the bath is made with
  double volume_l = kNotGiven;                 ///< of one filling
  double temperature_c = 25;
};

/// The baths: their log and how they are to be read.
struct CaseBath {
  bool given = false;
  std::string log;             ///< path of the bath log; a workbook's own where it holds it
  std::string log_text;        ///< the log itself, where the case's workbook holds it
  std::string shape = "slab";  ///< "slab", "cylinder", "sphere"
  double layer_thickness_mm = kNotGiven;  ///< layer, or radius of a rod or ball
  std::string load = "uniform";           ///< or "at-metal" (slab only)
  double stop_mg_per_l = kNotGiven;       ///< reading the house rule stops at
  /// Chloride that may stay, per gram of object; needs its mass
  double target_left_mg_per_g = kNotGiven;
  double next_volume_l = kNotGiven;
  double next_days = kNotGiven;
  std::string chloride_method;
  double reading_error_percent = kNotGiven;  ///< standard, where the log does not say; NaN: 5
  double volume_error_percent = kNotGiven;   ///< standard, of a bath's volume; NaN: 2
  CaseSolution solution;
};

/// Number of the form that case files and the JSON of assessments have. A case file may state it
/// (`schema = 1`; absent means 1); another number is refused, for its keys may mean something else.
inline constexpr int kCaseSchema = 1;

/// Everything one case file says.
struct CaseFile {
  std::string path;          ///< as given
  std::string content_hash;  ///< 16 hexadecimal digits of its bytes
  bool invented = false;     ///< made up for teaching; said in every output
  CaseObject object;
  std::vector<CaseObservation> observations;
  std::vector<CaseWater> waters;
  CasePit pit;
  CaseStore store;
  CaseBath bath;

  std::map<std::string, long> lines;  ///< line of every key read, by its full name ("water[1].ph")
  /// The same of a workbook, in words: "water[1].ph" -> "sheet 'waters', cell D5". Otherwise empty
  std::map<std::string, std::string> cells;

  /// A path of the file, relative to where the case file stands.
  [[nodiscard]] std::string resolve(const std::string& relative) const;
  /// Line of a key; 0 when it is not in the file.
  [[nodiscard]] long line_of(const std::string& key) const;
  /// What is wrong at a key, named by its line or by its cell.
  [[nodiscard]] FileError fault(const std::string& key, const std::string& problem) const;
};

/// A case that a workbook holds, as the case file that would say the same.
struct CaseInWorkbook {
  std::string text;  ///< of that case file
  std::string
      bath_log;  ///< CSV text of the baths in it, a line for each row of their sheet; or empty
  /// As `CaseFile::cells`; the baths as "bath.log[7].volume_l", by row and column of their CSV text
  std::map<std::string, std::string> cells;
};

/// What reads and writes workbooks; the library does neither itself.
struct CaseWorkbooks {
  std::function<CaseInWorkbook(const std::string& path)> read;  ///< throws FileError
  /// Bytes of one to fill in; `path` is where it will stand. Throws FileError
  std::function<std::string(const std::string& path)> blank;
};

/// Reads a case file, or a workbook where `workbooks` can. Throws FileError with file, line, key (or
/// sheet and cell), value and what is accepted.
[[nodiscard]] CaseFile read_case_file(const std::string& path, const CaseWorkbooks& workbooks = {});
/// The same from text; `path` is used in messages and for relative paths.
[[nodiscard]] CaseFile parse_case_file(std::string_view text, const std::string& path);

/// The form of a case file as JSON Schema (draft 2020-12), for editors and programs that write one.
/// It holds names, types and ranges; what depends on another key or on the data set is checked by
/// reading alone.
[[nodiscard]] std::string_view case_file_schema();

/// A commented case file for a person who does not program; it reads as it stands.
[[nodiscard]] std::string case_template();
/// Writes it, as a workbook where the name ends with .xlsx. Throws FileError when the file exists (it
/// is never overwritten), is open in another program, or cannot be written.
void write_case_template(const std::string& path, const CaseWorkbooks& workbooks = {});

/// The words a case file may use.
[[nodiscard]] const std::vector<std::string>& observation_kinds();
[[nodiscard]] const std::vector<std::string>& object_features();

/// True for a feature before which calculation stops at "ask a conservator".
[[nodiscard]] bool stops_treatment_by_number(std::string_view feature);

}  // namespace aeruca
