#pragma once

/// \file
/// The files of one logger as one record.
///
/// A logger is read out again and again: a file a month, each beginning where the last ended, or
/// some days before. Joined, they give one record in order of time. Where two files hold the same
/// time with the same values, it is one reading; with other values, that of the file that begins
/// first is kept and the other is a fault. Where files overlap, and where no file has readings for
/// longer than the gap limit, is told in `LoggerRecord::meetings`, by file and time. The order in
/// which the files are named changes nothing, and neither does cutting a file in two.
///
/// A file that was written at another interval than the rest (by more than a tenth, and 24 readings
/// or more) keeps its own: what is a gap in it, and how long its readings stand for, goes by that.
///
/// A file of a single day cannot prove whether 03/04/2024 is in March or April. Where another file of
/// the logger does, and none proves the contrary, it is read as that one, which `read_as` says.

#include <functional>
#include <string>
#include <vector>

#include "aeruca/logger.hpp"

namespace aeruca {

/// Readings from which on a file has an interval of its own.
inline constexpr std::size_t kReadingsOfAnInterval = 24;

/// The files that names stand for, each once, by name: a file is itself; a folder the files in it
/// (not in folders below, none whose name begins with a point); a pattern those that it fits: * any
/// text, ? one letter, [ab] one of them, ** any folders below. A file of just that name goes before
/// a pattern. Errors: FileError for a name that no file answers to; InputError for no names.
[[nodiscard]] std::vector<std::string> find_logger_files(const std::vector<std::string>& names);

/// Joins records, each with the name of its file. Where some have offsets from UTC and others have
/// none, those of the kind with more readings are joined and the others have a problem in `files`.
/// Errors: InputError for an option out of range or no records.
[[nodiscard]] LoggerRecord join_records(std::vector<LoggerRecord> records,
                                        const LoggerReadOptions& options = {});

/// Reads what names stand for, on several threads (as in many_loggers.hpp), as one record. One file
/// is read as `read_logger_csv` does; of several, what cannot be used is told in `files`. Errors:
/// those of `find_logger_files`; FileError when the only file, or each of them, cannot be used.
[[nodiscard]] LoggerRecord read_logger_files(const std::vector<std::string>& names,
                                             const LoggerReadOptions& options = {}, int threads = 0,
                                             const std::function<void()>& between = {});

}  // namespace aeruca
