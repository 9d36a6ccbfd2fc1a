#pragma once

// A logger record, its faults and its files, described once.

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "aeruca/logger.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<LoggerFault> {
  static constexpr std::string_view name = "LoggerFault";
  static constexpr std::string_view meaning =
      "One fault of a logger file: what, where, what was done.";
  template <class Take>
  static void figures(Take take) {
    take("kind", &LoggerFault::kind, "", "fault");
    take("action", &LoggerFault::action, "", "line was");
    take("line", &LoggerFault::line, "", "line");
    take("field", &LoggerFault::field, "", "field");
    take("reason", &LoggerFault::reason, "", "what was found");
    take("file", &LoggerFault::file, "", "file, of a record joined from several");
  }
  static std::string said(const LoggerFault& fault) {
    return (fault.file.empty() ? "" : fault.file + ", ") + "line " + std::to_string(fault.line) +
           ", " + fault.field + ": " + fault.reason;
  }
};

template <>
struct Description<JoinedFile> {
  static constexpr std::string_view name = "JoinedFile";
  static constexpr std::string_view meaning = "One file of a record that was joined from several.";
  template <class Take>
  static void figures(Take take) {
    take("file", &JoinedFile::file, "", "file", at_a_glance);
    take("problem", &JoinedFile::problem, "", "why it could not be used");
    take("start_s", &first_moment, "", "first reading", moment, key("start"));
    take("end_s", &last_moment, "", "last reading", moment, key("end"));
    take("readings", &JoinedFile::readings, "", "readings that the record has from it");
    take("repeated", &JoinedFile::repeated, "", "left out: a file before has them too");
    take("disagreeing", &JoinedFile::disagreeing, "",
         "left out: a file before has others at the same times");
    take("interval_s", &JoinedFile::interval_s, "s", "usual interval");
    take("gap_limit_s", &JoinedFile::gap_limit_s, "s", "an interval longer than this is a gap");
  }
  static std::string said(const JoinedFile& file);

 private:
  using Moment = std::optional<std::int64_t>;
  static Moment first_moment(const JoinedFile& file) {
    return file.problem.empty() ? Moment(file.start_s) : std::nullopt;
  }
  static Moment last_moment(const JoinedFile& file) {
    return file.problem.empty() ? Moment(file.end_s) : std::nullopt;
  }
};

template <>
struct Description<FileMeeting> {
  static constexpr std::string_view name = "FileMeeting";
  static constexpr std::string_view meaning =
      "Where two files of a joined record overlap in time, or leave a gap between them.";
  template <class Take>
  static void figures(Take take) {
    take("kind", &FileMeeting::kind, "", "overlap or seam");
    take("earlier", &FileMeeting::earlier, "", "of the files before, the one that ends last");
    take("later", &FileMeeting::later, "", "later file");
    take("from_s", &FileMeeting::from_s, "", "from", moment, key("from"));
    take("to_s", &FileMeeting::to_s, "", "to", moment, key("to"));
    take("agreeing", &FileMeeting::agreeing, "", "readings of the same time and values");
    take("disagreeing", &FileMeeting::disagreeing, "",
         "readings of the same time and other values; those of the earlier file are kept");
    take("between", &FileMeeting::between, "",
         "readings of the later file at times that those before do not have");
  }
  static std::string said(const FileMeeting& meeting);
};

template <>
struct Description<LoggerRecord> {
  static constexpr std::string_view name = "LoggerRecord";
  static constexpr std::string_view meaning =
      "Readings in order of time, and what was wrong on the way.";
  template <class Take>
  static void figures(Take take) {
    take("file", &LoggerRecord::file, "", "file", at_a_glance);
    take("utc", &LoggerRecord::utc, "", "times are UTC; else as the file writes them");
    take("rows", &LoggerRecord::rows, "", "lines with data", at_a_glance);
    take("readings", &LoggerRecord::size, "", "readings", at_a_glance);
    take("dropped", &LoggerRecord::dropped, "", "lines that gave no reading", at_a_glance);
    take("start_s", &first_moment, "", "first reading", moment, key("start"));
    take("end_s", &last_moment, "", "last reading", moment, key("end"));
    take("interval_s", &LoggerRecord::interval_s, "s", "usual interval", at_a_glance);
    take("gap_limit_s", &LoggerRecord::gap_limit_s, "s", "an interval longer than this is a gap");
    take("fault_counts", &counted, "", "faults of each kind");
    take("faults", &LoggerRecord::faults, "", "faults");
    take("files", &LoggerRecord::files, "", "files that were joined; none: of one file");
    take("meetings", &LoggerRecord::meetings, "", "overlaps of files, and gaps between them");
    take("stuck", &stretches, "", "first and last place of the readings of a stuck sensor");
    take("read_as", &LoggerRecord::read_as, "", "what was proved or computed to read the file");
    take("gap_ends", &gaps, "", "places of the readings that follow a gap", apart);
    take("times_s", &LoggerRecord::times_s, "", "seconds since 1970-01-01", apart);
    take("temperature_c", &LoggerRecord::temperature_c, "degrees C", "temperature", apart);
    take("rh_percent", &LoggerRecord::rh_percent, "% RH", "humidity", apart);
  }
  static std::string said(const LoggerRecord& record);

 private:
  using Moment = std::optional<std::int64_t>;
  static Moment first_moment(const LoggerRecord& record) {
    return record.size() == 0 ? Moment() : record.times_s.front();
  }
  static Moment last_moment(const LoggerRecord& record) {
    return record.size() == 0 ? Moment() : record.times_s.back();
  }
  static std::map<std::string, std::size_t> counted(const LoggerRecord& record) {
    std::map<std::string, std::size_t> counts;
    for (std::size_t kind = 0; kind < kFaultKinds; ++kind)
      counts[std::string(to_string(static_cast<FaultKind>(kind)))] = record.fault_counts[kind];
    return counts;
  }
  static std::vector<std::int64_t> gaps(const LoggerRecord& record) {
    const std::vector<std::size_t> ends = record.gap_ends();
    return {ends.begin(), ends.end()};
  }
  static std::vector<std::pair<std::size_t, std::size_t>> stretches(const LoggerRecord& record) {
    std::vector<std::pair<std::size_t, std::size_t>> found;
    for (const Stretch& stretch : record.stuck) found.emplace_back(stretch.first, stretch.last);
    return found;
  }
};

}  // namespace aeruca::detail
