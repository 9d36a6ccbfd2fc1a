#pragma once

// The sections of an assessment, one source each, and small makers of findings.

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/assessment.hpp"
#include "aeruca/bath_decision.hpp"
#include "aeruca/bath_fit.hpp"
#include "aeruca/bath_log.hpp"
#include "aeruca/mixture.hpp"
#include "aeruca/review.hpp"
#include "aeruca/store.hpp"

namespace aeruca::detail {

using DatasetPointer = std::shared_ptr<const Dataset>;

/// "stable", "dry", "wash" or "solution", with its title and its question.
CaseSection section_of(std::string id);

/// A figure with its unit.
CaseFinding figure_of(std::string key, std::string label, double value, std::string unit,
                      int digits = 3);
/// A figure with the range it may have; an unknown end leaves the range out.
CaseFinding range_of(std::string key, std::string label, double value, double low, double high,
                     std::string unit, int digits = 3);
/// Words.
CaseFinding words_of(std::string key, std::string label, std::string text);
/// A probability; one that is nearly 0 or 1 is said so ("below 0.01").
CaseFinding probability_of(std::string key, std::string label, double probability);
/// A reason as a sentence: capital first, full stop last.
std::string as_sentence(std::string reason);
/// Each of them: the parts below word a warning as a clause, a reader of the case gets sentences.
std::vector<std::string> as_sentences(std::vector<std::string> reasons);
/// The same within a sentence that has its own full stop.
std::string without_stop(std::string reason);
/// The words for a verdict and for how far a section is answered.
std::string verdict_word(Verdict verdict);
std::string status_word(SectionStatus status);
/// The same finding with a note.
CaseFinding noted(CaseFinding finding, std::string note);
/// "12.3 (10.6 to 13.9) mg": as many digits as the range carries; `digits` where there is no range.
std::string range_in_unit(double value, double low, double high, const std::string& unit,
                          int digits = 3);

/// Adds what is not there yet.
void add_new(std::vector<std::string>& list, const std::vector<std::string>& more);

/// Warnings of a calculation: long lists of names cut to their first entries, each said once.
void add_warnings(CaseSection& section, const std::vector<std::string>& warnings);

/// Says once that the activity model rests on estimates, where it made any remarks.
void add_estimates(CaseSection& section, std::size_t remarks);
/// Names what rests on an estimated heat, if anything does.
void add_estimated_heats(CaseSection& section, const std::vector<std::string>& names);

/// A section that could not be worked out because a calculation gave no answer.
void mark_no_answer(CaseSection& section, const std::string& why);

/// A section whose log cannot be used.
void mark_bad_input(CaseSection& section, const std::string& what, const std::string& why);

/// Where the logger files, folders and patterns of the case lie. Throws FileError for a file that is
/// not there.
std::vector<std::string> existing_logs(const CaseFile& file);
/// Says of a record joined from several files which were used, and how they lie to each other.
void add_files(CaseSection& section, const LoggerRecord& record);

struct StoreAnswer {
  CaseSection section;
  std::optional<LoggerRecord> record;
  std::optional<StoreAssessment> assessment;
  std::optional<MixtureSweep> mixture;
  StoreOptions options;  ///< by which it would be judged without a record too
};

struct BoxAnswer {
  CaseSection section;
  std::optional<Review> review;
  std::optional<ExchangeFit> exchange;
};

struct WashAnswer {
  CaseSection section;
  std::optional<BathLog> log;
  ReadingErrors errors;
  std::optional<BathSummary> summary;
  std::optional<BathDecision> decision;
  std::optional<BathFit> fit;  ///< only where one story serves: it stands on one model
};

struct StableAnswer {
  CaseSection section;
  std::vector<CaseWaterPoint> points;
  std::vector<CaseDiagram> diagrams;
  std::vector<std::string> in_short;  ///< one sentence a water
};

/// "What is stable": every water of the case.
StableAnswer stable_section(const CaseFile& file, const DatasetPointer& dataset);
/// "How dry": the store and the salts.
StoreAnswer dry_section(const CaseFile& file, const DatasetPointer& dataset);
/// What the salts of `store.salt_analysis` are at every humidity. Throws FileError.
void add_mixture(const CaseFile& file, const DatasetPointer& dataset, double temperature_c,
                 StoreAnswer& answer);
/// "How long the box keeps it": the enclosure of the store, where one is given.
BoxAnswer box_section(const CaseFile& file, const DatasetPointer& dataset, const StoreAnswer& dry);
/// "How long to wash": the bath log.
WashAnswer wash_section(const CaseFile& file, const DatasetPointer& dataset);
/// "What the bath is and does": weigh-out and chemistry.
/// `log`: whose pH and colour are compared with it; null: none.
CaseSection solution_section(const CaseFile& file, const DatasetPointer& dataset,
                             const BathLog* log = nullptr);

/// "What was seen": what lifted grains may be; none where no observation says what was seen of one.
/// It speaks of activity to say that it gives no verdict. Throws FileError for words that the guide
/// does not have.
std::optional<CaseSection> minerals_section(const CaseFile& file, const Dataset& dataset);

/// True when a feature of the object ends treatment by number; the sentence that says so.
bool stops(const CaseObject& object);
std::string stop_sentence(const CaseObject& object);

/// Path of a log named in the case file. Throws FileError at its key when there is no such file.
std::string existing_log(const CaseFile& file, const std::string& key, const std::string& given);

/// Refuses a name of the case file that the data set does not know.
[[noreturn]] void refuse_name(const CaseFile& file, const std::string& key,
                              const std::string& given, const std::vector<std::string>& known);

}  // namespace aeruca::detail
