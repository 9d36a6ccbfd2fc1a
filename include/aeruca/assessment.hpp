#pragma once

/// \file
/// One object's case file in, one assessment out: what may form, how dry, how long to wash, and
/// what is not known.
///
/// Words. A *section* answers one question with one sentence, then its *findings* (a figure with
/// unit and range), tables, remarks, and what was missing. The *verdict* is dormant, borderline,
/// active or not known; it comes with a probability or a stated reason, never alone. The same
/// structure is printed by the tool, written as JSON, handed to Python and laid out in the report.
///
/// What it does not do. It recommends no treatment: it compares and checks; the conservator, with
/// the owner and the local code, decides. For composite, gilded, leaded and other listed objects
/// every treatment figure stops at "ask a conservator". Missing input makes a section say what is
/// missing; a solver without an answer makes that section `no_answer` and leaves the others whole.

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/bath_decision.hpp"
#include "aeruca/bath_fit.hpp"
#include "aeruca/bath_log.hpp"
#include "aeruca/casefile.hpp"
#include "aeruca/dataset.hpp"
#include "aeruca/front_sheet.hpp"
#include "aeruca/mixture.hpp"
#include "aeruca/review.hpp"
#include "aeruca/stability.hpp"
#include "aeruca/store.hpp"

namespace aeruca {

/// How far a section could answer its question.
enum class SectionStatus {
  answered,
  partly,     ///< answered, with something missing that matters
  missing,    ///< nothing to answer from
  refused,    ///< the data cannot carry an answer, or the object forbids one
  no_answer,  ///< a calculation ended without an answer
  bad_input   ///< a log it rests on cannot be used; the other sections stand
};
/// "answered", "partly", "missing", "refused", "no answer" or "bad input".
[[nodiscard]] std::string_view to_string(SectionStatus status);

/// One figure or fact.
struct CaseFinding {
  std::string key;           ///< for programs: "ph_nantokite_cuprite"
  std::string label;         ///< for readers: "nantokite gives way to cuprite above"
  double value = kNotGiven;  ///< NaN: words only, or not known
  double low = kNotGiven;    ///< range the value may have; NaN: no range
  double high = kNotGiven;
  std::string unit;  ///< "% RH", "mg"; empty for pure numbers and words
  std::string text;  ///< figure, range and unit, or the words
  std::string note;  ///< what the range means, what to keep in mind
};

struct CaseTable {
  std::string title;
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;  ///< one text for each column
  std::string note;
};

struct CaseSection {
  /// "stable", "dry", "box" (where one is given), "wash", "solution", "minerals"
  std::string id;
  std::string title;
  std::string question;
  SectionStatus status = SectionStatus::missing;
  std::string answer;  ///< one or two sentences
  std::vector<CaseFinding> findings;
  std::vector<CaseTable> tables;
  std::vector<std::string> remarks;
  std::vector<std::string> warnings;
  std::vector<std::string> missing;  ///< input that would have helped
  std::vector<std::string> figures;  ///< ids of the constants used

  /// Throws UnknownName, with the nearest key there is.
  [[nodiscard]] const CaseFinding& finding(std::string_view key) const;
};

/// A water of the case as a point among the stability fields.
struct CaseWaterPoint {
  std::string name;
  double temperature_c = 25;  ///< of the water
  double ph = kNotGiven;
  double eh_v = kNotGiven;  ///< against the standard hydrogen electrode; NaN: not known
  double eh_uncertainty_v = kNotGiven;
  std::map<std::string, double> log10_activity;  ///< of Cl(-) and SO4(2-), where present
  /// Activity of the predominant dissolved carbonate; NaN: none
  double log10_carbonate = kNotGiven;
};

/// Stability fields that the case asks for: those of a water, with the water as a point, or those
/// of a pit.
struct CaseDiagram {
  std::string name;     ///< of the water; "a pit"
  FieldDiagram fields;  ///< over pH and Eh
  double ph = kNotGiven;
  double eh_v = kNotGiven;
  double eh_uncertainty_v = kNotGiven;
  std::string note;  ///< what the conditions stand for
};

/// How probable each state of the store's conditions is, given the sensor's error: they add up
/// to 1.
struct StoreOdds {
  double dormant = kNotGiven, borderline = kNotGiven, active = kNotGiven;
  std::string rule;  ///< how the verdict follows from them, one sentence
};

/// What to measure next; the list is in order of what it would settle.
struct NextMeasurement {
  std::string what;
  std::string why;
};

struct Caution {
  std::string subject;
  std::string text;
};

/// A file the assessment rests on.
struct InputFile {
  std::string
      role;  ///< "case file", "store record", "second record", "outside record", "decay test",
             ///< "salt analysis", "bath log"
  std::string path;
  std::string content_hash;  ///< 16 hexadecimal digits of its bytes
};

struct CaseAssessment {
  CaseFile file;
  std::string date;  ///< of the run, as the caller gave it; empty: not stated
  std::string library_version, dataset_version, dataset_hash;
  Verdict verdict = Verdict::not_known;
  /// That the store record fits the verdict dormant or active; NaN where the verdict follows from a
  /// reason, or is borderline: that is the verdict of what is not settled, and has no odds of its
  /// own.
  double probability = kNotGiven;
  std::string probability_of;         ///< what that probability is of, in words; empty without one
  StoreOdds odds;                     ///< of the store record; NaN without one
  std::string reason;                 ///< one sentence behind the verdict
  FrontSheet front;                   ///< what to do first, on one page
  std::vector<std::string> in_short;  ///< the decision, for a reader with one minute
  bool ask_a_conservator = false;     ///< the object forbids treatment by number
  std::vector<CaseSection> sections;
  std::vector<CaseWaterPoint> waters;  ///< those with a pH, for drawing
  std::vector<std::string> not_known;
  std::vector<NextMeasurement> next;
  std::vector<Caution> cautions;
  std::vector<std::string> limits;  ///< what the method leaves out
  std::vector<Figure> constants;    ///< used, once each
  std::vector<Source> sources;      ///< of these constants
  std::vector<InputFile> inputs;

  // What the sections were worded from, for programs and drawings.
  std::optional<LoggerRecord> record;
  std::optional<StoreAssessment> store;
  std::optional<MixtureSweep> mixture;      ///< of the salts that an analysis found in the store
  std::optional<Review> box;                ///< of the enclosure of the store
  std::optional<ExchangeFit> box_exchange;  ///< where its exchange was found in measurements
  std::optional<BathLog> bath_log;          ///< with the blank that was taken off
  ReadingErrors bath_errors;
  std::optional<BathSummary> bath_summary;
  std::optional<BathDecision> bath_decision;
  std::optional<BathFit> bath_fit;  ///< only where the decision's stories agree
  std::vector<CaseDiagram> diagrams;

  /// False when a section ended in `no_answer` or `bad_input`.
  [[nodiscard]] bool complete() const;
  /// Throws UnknownName.
  [[nodiscard]] const CaseSection& section(std::string_view id) const;
};

/// Assesses a case. `date` is written into the result (YYYY-MM-DD, or empty); the library reads no
/// clock. A log that cannot be read costs its own section (`bad_input`). Throws FileError for keys
/// whose names the data set does not know.
[[nodiscard]] CaseAssessment assess_case(const CaseFile& file,
                                         const std::shared_ptr<const Dataset>& dataset,
                                         const std::string& date = "");

/// One case of many.
struct CaseOutcome {
  std::string path;                          ///< of the case file, as given
  std::optional<CaseAssessment> assessment;  ///< none when the case file could not be used
  std::string problem;                       ///< then: what is wrong with it, one sentence
};
/// How many cases are assessed.
struct CaseRun {
  std::string date;              ///< written into each assessment, as for `assess_case`
  int threads = 0;               ///< 1 to 256; 0: as many as the machine has
  WorkbookReader workbook;       ///< reads store records that are workbooks; none: they are refused
  CaseWorkbooks case_workbooks;  ///< reads cases that are
  /// Called as progress(done, all) by the calling thread after each case that it did; what it
  /// throws ends the work
  std::function<void(std::size_t, std::size_t)> progress;
};
/// Assesses many case files and keeps none: `take(i, outcome)` gets that of paths[i], on the thread
/// that worked it out, several at once and in any order. A case file that cannot be used costs its
/// own outcome. Throws InputError for the date and the number of threads, and what `take` throws.
void assess_each_case(const std::vector<std::string>& paths,
                      const std::shared_ptr<const Dataset>& dataset, const CaseRun& run,
                      const std::function<void(std::size_t, CaseOutcome)>& take);
/// The same, all kept, in the order of the paths.
[[nodiscard]] std::vector<CaseOutcome> assess_cases(const std::vector<std::string>& paths,
                                                    const std::shared_ptr<const Dataset>& dataset,
                                                    const CaseRun& run = {});

/// The form of an assessment as JSON (`to_json` in render.hpp) as JSON Schema (draft 2020-12); its
/// `schema` is kCaseSchema.
[[nodiscard]] std::string_view assessment_schema();

}  // namespace aeruca
