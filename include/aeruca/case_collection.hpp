#pragma once

/// \file
/// All the objects of a collection in one table, the most at risk first: a case file for each.
///
/// Each case is assessed as `assess_case` does, alone; its assessment is let go again, so that
/// memory holds one assessment a thread and a row a case. A case file that cannot be used has its
/// row, with the reason. Nothing is worked out here that the assessment of the one case does not
/// say: a row repeats it.
///
/// Order. Active, borderline, not known, dormant; what could not be used comes last. Not known
/// stands before dormant, for nothing says that such an object is safe. Among the active, growth
/// that was seen comes first, then the most probably active; among the others the least probably
/// dormant. Of those alike, by how much too humid the record is, the most first; then by name and
/// file.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/assessment.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

/// What an object's bath log says is to be done with the bath.
enum class WashingAdvice {
  not_known,  ///< the case file cannot be used
  no_log,
  change,
  leave,
  enough,
  cannot_tell,
  ask_a_conservator,  ///< the object forbids treatment by number
  bad_log             ///< the bath log cannot be used
};
/// "not known", "no log", "change", "leave", "enough", "cannot tell", "ask a conservator" or "bad log".
[[nodiscard]] std::string_view to_string(WashingAdvice advice);

/// One object: its case file, and what that says.
struct ObjectCase {
  std::optional<int> rank;  ///< from 1, the most at risk; none: the case file cannot be used
  std::string name;         ///< of the object; empty: not given
  std::string file;         ///< case file
  bool invented = false;    ///< made up for teaching
  Verdict verdict = Verdict::not_known;
  double probability_active = kNotGiven;  ///< by the store record; NaN: a reason decided
  double probability_dormant = kNotGiven;
  std::string record_to;  ///< day of the last reading of the store, YYYY-MM-DD; empty: no record
  /// The most that the display of the logger may show, whole percent; NaN: not known
  double set_point_rh_percent = kNotGiven;
  double too_humid_by_rh_percent = kNotGiven;  ///< as `StoreAssessment`
  WashingAdvice washing = WashingAdvice::not_known;
  std::string look_again_by;       ///< review of the box, YYYY-MM-DD; empty: no box, or not known
  bool overdue = false;            ///< that day lies before the day of the assessment
  std::string measure_next;        ///< what would settle most; empty: nothing is missing
  bool ask_a_conservator = false;  ///< the object forbids treatment by number
  std::string reason;              ///< one sentence behind the verdict
  std::string not_worked_out;      ///< sections without an answer, and why; empty: none
  bool bad_log = false;            ///< one of them because a log cannot be used
  std::string problem;             ///< why the case file could not be used; empty: it was
};

/// The objects in order, and how many have which verdict.
struct CaseCollection {
  std::string date;  ///< of the assessments; empty: not stated
  std::string dataset_version, dataset_hash;
  std::vector<ObjectCase> objects;
  std::size_t active = 0;
  std::size_t borderline = 0;
  std::size_t not_known = 0;
  std::size_t dormant = 0;
  std::size_t unusable = 0;  ///< case files that could not be used
};

/// The case files that names stand for, each once, by name: a file is itself; a folder the files
/// in it, and in folders below, whose names end in .toml (none whose name, or whose folder's name,
/// begins with a point); a pattern those that it fits, as in logger_files.hpp. Errors: FileError
/// for a name that no file answers to; InputError for no names.
[[nodiscard]] std::vector<std::string> find_case_files(const std::vector<std::string>& names);

/// The row of a case.
[[nodiscard]] ObjectCase object_case(const CaseOutcome& outcome);

/// Rows in any order to a collection: the same whatever that order was.
[[nodiscard]] CaseCollection ranked_cases(std::vector<ObjectCase> objects, const Dataset& dataset,
                                          const std::string& date = "");

/// Assesses the cases that names stand for, each an object. What comes out depends neither on the
/// number of threads nor on the order of the names. Errors: those of `find_case_files` and
/// `assess_each_case`.
[[nodiscard]] CaseCollection assess_collection(const std::vector<std::string>& names,
                                               const std::shared_ptr<const Dataset>& dataset,
                                               const CaseRun& run = {});

}  // namespace aeruca
