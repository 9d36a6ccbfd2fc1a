#pragma once

/// \file
/// All the objects of a collection, the most at risk first: a logger file for each.
///
/// Each file is read and judged as `read_logger_csv` and `assess_store` do, alone; its record is
/// let go again, so that memory holds one record a thread and a row a file. What cannot be used has
/// its row, with the reason.
///
/// Order. By the probability that conditions were dormant, the least first; of those alike, by the
/// probability that they were active, then by the share of time too humid as read, then by how much
/// too humid the record is, the most first; then by the name. A record
/// that can be given no probability comes after those, one that cannot be judged or read last:
/// neither has a rank, for nothing is known of its risk.

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "aeruca/logger.hpp"
#include "aeruca/not_given.hpp"
#include "aeruca/store.hpp"

namespace aeruca {

/// One object: its logger file, and what that says of the conditions it is kept in.
struct ObjectRisk {
  std::optional<int> rank;  ///< from 1, the most at risk; none: no probability can be given
  std::string file;
  Verdict verdict = Verdict::not_known;
  double probability_dormant = kNotGiven;
  double probability_active = kNotGiven;  ///< NaN without an upper end too
  double share_too_humid = kNotGiven;     ///< of known time above the low end, as read, 0 to 1
  double share_above_high = kNotGiven;    ///< NaN without an upper end too
  double worst_spell_h = kNotGiven;       ///< longest above the low end, as read
  std::optional<std::int64_t> worst_spell_start_s;  ///< none: never above
  std::optional<std::int64_t> worst_spell_end_s;
  std::optional<std::int64_t> start_s;  ///< first reading
  std::optional<std::int64_t> end_s;    ///< last reading
  bool utc = false;                     ///< times are UTC; else as the file writes them
  std::size_t readings = 0;             ///< assessed
  double coverage = kNotGiven;          ///< share of the period that is known, 0 to 1
  double median_rh_percent = kNotGiven;
  double set_point_rh_percent = kNotGiven;  ///< as `StoreAssessment`
  double too_humid_by_rh_percent = kNotGiven;
  std::size_t faults = 0;   ///< of all kinds
  std::size_t dropped = 0;  ///< lines that gave no reading
  std::string reason;       ///< behind the verdict, one sentence
  std::string problem;      ///< why the file or record could not be used; empty: it was
};

/// The objects in order, and how many have which verdict.
struct Collection {
  OnsetCurve onset;  ///< judged against
  std::vector<ObjectRisk> objects;
  std::size_t active = 0;
  std::size_t borderline = 0;
  std::size_t dormant = 0;
  std::size_t not_known = 0;
  std::size_t unusable = 0;  ///< files or records that could not be used
};

/// The row of a record that was judged. `name`: of the object; empty: that of its file.
[[nodiscard]] ObjectRisk object_risk(const LoggerRecord& record, const StoreAssessment& assessment,
                                     const std::string& name = {});

/// Rows in any order to a collection: the same whatever that order was.
[[nodiscard]] Collection ranked(std::vector<ObjectRisk> objects, const OnsetCurve& onset);

/// Reads and judges the files that names stand for (as in logger_files.hpp), each an object.
/// `progress(done, all)` is called by the calling thread after each file that it did; what it
/// throws ends the work. Errors: those of `find_logger_files`; InputError for an option or the
/// number of threads.
[[nodiscard]] Collection judge_collection(
    const std::vector<std::string>& names, const LoggerReadOptions& read, const StoreOptions& judge,
    int threads = 0, const std::function<void(std::size_t, std::size_t)>& progress = {});

}  // namespace aeruca
