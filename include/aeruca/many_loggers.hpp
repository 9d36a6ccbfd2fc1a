#pragma once

/// \file
/// The loggers of a whole house: many files read, and many records judged, on several threads.
///
/// Each file and each record is a job of its own: what comes out is what `read_logger_csv` and
/// `assess_store` give, in the order asked for, whatever the number of threads and whatever the
/// others hold. What cannot be used costs its own outcome and no other.
///
/// `threads`: 1 to 256; 0: as many as the machine has. The calling thread is one of them, and calls
/// `between` after each job that it did: what that throws ends the work once the jobs begun are
/// done, and is thrown on.

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "aeruca/logger.hpp"
#include "aeruca/store.hpp"

namespace aeruca {

/// One file of many.
struct LoggerOutcome {
  std::string path;                    ///< as given
  std::optional<LoggerRecord> record;  ///< none when the file could not be used
  std::string problem;                 ///< then: what is wrong with it, one sentence
};

/// Reads logger files. Errors: InputError for an option or the number of threads.
[[nodiscard]] std::vector<LoggerOutcome> read_loggers(const std::vector<std::string>& paths,
                                                      const LoggerReadOptions& options = {},
                                                      int threads = 0,
                                                      const std::function<void()>& between = {});

/// One record of many.
struct StoreOutcome {
  std::optional<StoreAssessment> assessment;  ///< none when the record could not be judged
  std::string problem;                        ///< then: why, one sentence
};

/// Judges records by the same options. Null stands for a record that could not be read, and has no
/// assessment. Errors: InputError for an option or the number of threads.
[[nodiscard]] std::vector<StoreOutcome> assess_stores(std::span<const LoggerRecord* const> records,
                                                      const StoreOptions& options, int threads = 0,
                                                      const std::function<void()>& between = {});

}  // namespace aeruca
