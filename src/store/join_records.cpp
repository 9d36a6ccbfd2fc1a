#include <algorithm>
#include <cmath>
#include <tuple>

#include "aeruca/errors.hpp"
#include "aeruca/logger_files.hpp"
#include "base/large_pages.hpp"
#include "base/text.hpp"
#include "store/logger_order.hpp"
#include "store/logger_series.hpp"

namespace aeruca {
namespace detail {
namespace {

struct Reading {
  std::int64_t time_s;
  double temperature_c;
  double rh_percent;
  long line;
  std::size_t file;
};

bool same_values(const Reading& a, const Reading& b) {
  const bool same_t = a.temperature_c == b.temperature_c ||
                      (std::isnan(a.temperature_c) && std::isnan(b.temperature_c));
  return same_t && a.rh_percent == b.rh_percent;
}

class Joining {
 public:
  Joining(std::vector<LoggerRecord> records, const LoggerReadOptions& options)
      : records_(std::move(records)), options_(options), log_(options.listed_faults) {}

  LoggerRecord join() {
    refuse_other_clocks();
    std::sort(records_.begin(), records_.end(), [](const LoggerRecord& a, const LoggerRecord& b) {
      return std::tuple(a.times_s.front(), a.times_s.back(), std::string_view(a.file)) <
             std::tuple(b.times_s.front(), b.times_s.back(), std::string_view(b.file));
    });
    reserve();
    for (LoggerRecord& record : records_) add(record);
    finish();
    return std::move(joined_);
  }

 private:
  void reserve() {
    std::size_t readings = 0;
    for (const LoggerRecord& record : records_) readings += record.size();
    reserve_large(joined_.times_s, readings);
    reserve_large(joined_.temperature_c, readings);
    reserve_large(joined_.rh_percent, readings);
  }

  // Times in UTC and times of a local clock are not to be brought into one order.
  void refuse_other_clocks() {
    std::size_t utc = 0;
    std::size_t local = 0;
    for (const LoggerRecord& record : records_) (record.utc ? utc : local) += record.size();
    joined_.utc = utc >= local;
    const auto others =
        std::stable_partition(records_.begin(), records_.end(),
                              [&](const LoggerRecord& r) { return r.utc == joined_.utc; });
    for (auto other = others; other != records_.end(); ++other) {
      JoinedFile file;
      file.file = other->file;
      file.problem = "'" + other->file + "': its times have " + (joined_.utc ? "no" : "an") +
                     " offset from UTC, unlike those of '" + records_.front().file +
                     "'; accepted are files of one logger with one clock";
      refused_.push_back(std::move(file));
    }
    records_.erase(others, records_.end());
  }

  void add(LoggerRecord& record) {
    JoinedFile file;
    file.file = record.file;
    file.start_s = record.times_s.front();
    file.end_s = record.times_s.back();
    file.readings = record.size();
    file.interval_s = record.interval_s;
    joined_.files.push_back(file);
    log_.take_over(record);
    joined_.rows += record.rows;
    for (const std::string& how : record.read_as)
      joined_.read_as.push_back(record.file + ": " + how);
    if (joined_.size() > 0) meet(record);
    // What goes beyond all before is taken as it stands.
    const auto& times = record.times_s;
    const auto beyond = joined_.size() == 0
                            ? times.begin()
                            : std::upper_bound(times.begin(), times.end(), joined_.times_s.back());
    append(record, static_cast<std::size_t>(beyond - times.begin()));
    record = {};  // its memory is free for the next
    if (joined_.files[last_file_].end_s <= file.end_s) last_file_ = joined_.files.size() - 1;
  }

  void append(const LoggerRecord& record, std::size_t from) {
    if (from == record.size()) return;
    const auto begin = static_cast<std::ptrdiff_t>(from);
    const auto take = [begin](const auto& part, auto& whole) {
      whole.insert(whole.end(), part.begin() + begin, part.end());
    };
    begin_piece(joined_.files.size() - 1);
    take(record.times_s, joined_.times_s);
    take(record.temperature_c, joined_.temperature_c);
    take(record.rh_percent, joined_.rh_percent);
    joined_.lines.append(record.lines, from);
  }

  void begin_piece(std::size_t file) {
    if (joined_.pieces.empty() || joined_.pieces.back().file != file)
      joined_.pieces.push_back({joined_.size(), file});
  }

  void append(const Reading& reading) {
    begin_piece(reading.file);
    joined_.times_s.push_back(reading.time_s);
    joined_.temperature_c.push_back(reading.temperature_c);
    joined_.rh_percent.push_back(reading.rh_percent);
    joined_.lines.add(reading.line);
  }

  // The record is that of the file added last.
  void meet(const LoggerRecord& record) {
    const JoinedFile& later = joined_.files.back();
    const JoinedFile& earlier = joined_.files[last_file_];
    FileMeeting meeting;
    meeting.earlier = earlier.file;
    meeting.later = later.file;
    meeting.from_s = earlier.end_s;
    meeting.to_s = later.start_s;
    if (later.start_s <= earlier.end_s) {
      meeting.kind = FileMeetingKind::overlap;
      meeting.from_s = later.start_s;
      meeting.to_s = std::min(earlier.end_s, later.end_s);
      merge(record, meeting);
    }
    joined_.meetings.push_back(meeting);
  }

  void merge(const LoggerRecord& record, FileMeeting& meeting) {
    const std::int64_t end_s = joined_.times_s.back();
    const std::vector<Reading> before = cut_off(record.times_s.front());
    auto a = before.begin();
    for (std::size_t i = 0; i < record.size() && record.times_s[i] <= end_s; ++i) {
      const Reading b{record.times_s[i], record.temperature_c[i], record.rh_percent[i],
                      record.lines[i], joined_.files.size() - 1};
      while (a != before.end() && a->time_s < b.time_s) append(*a++);
      if (a != before.end() && a->time_s == b.time_s) {
        leave_out(b, *a, meeting);
      } else {
        meeting.between += b.time_s <= meeting.to_s ? 1U : 0U;
        append(b);
      }
    }
    while (a != before.end()) append(*a++);
  }

  // The readings from a time on, taken off the end.
  std::vector<Reading> cut_off(std::int64_t from_s) {
    const auto& times = joined_.times_s;
    const auto first = static_cast<std::size_t>(
        std::lower_bound(times.begin(), times.end(), from_s) - times.begin());
    std::vector<Reading> tail;
    auto piece = joined_.pieces.begin();
    for (std::size_t i = first; i < joined_.size(); ++i) {
      while (piece + 1 != joined_.pieces.end() && (piece + 1)->first <= i) ++piece;
      tail.push_back({times[i], joined_.temperature_c[i], joined_.rh_percent[i], joined_.lines[i],
                      piece->file});
    }
    joined_.times_s.resize(first);
    joined_.temperature_c.resize(first);
    joined_.rh_percent.resize(first);
    joined_.lines.truncate(first);
    while (!joined_.pieces.empty() && joined_.pieces.back().first >= first)
      joined_.pieces.pop_back();
    return tail;
  }

  void leave_out(const Reading& reading, const Reading& kept, FileMeeting& meeting) {
    JoinedFile& file = joined_.files[reading.file];
    --file.readings;
    if (same_values(reading, kept)) {
      ++meeting.agreeing;
      ++file.repeated;
      return;
    }
    ++meeting.disagreeing;
    ++file.disagreeing;
    const bool rh = reading.rh_percent != kept.rh_percent;
    log_.add(
        FaultKind::conflicting_duplicate, FaultAction::dropped, reading.line,
        rh ? names_.rh : names_.temperature,
        [&] {
          return format_time(reading.time_s) + " has " +
                 format_number(rh ? reading.rh_percent : reading.temperature_c, 6) + " where '" +
                 joined_.files[kept.file].file + "' has " +
                 format_number(rh ? kept.rh_percent : kept.temperature_c, 6) + " in line " +
                 std::to_string(kept.line) + "; that is kept, this line dropped";
        },
        file.file);
  }

  void finish() {
    joined_.dropped = joined_.rows - joined_.size();
    settle_intervals();
    mark_what_is_not_known(joined_, names_, options_, log_);
    std::erase_if(joined_.meetings, [&](const FileMeeting& one) {
      return one.kind == FileMeetingKind::seam && !is_gap(one);
    });
    joined_.files.insert(joined_.files.end(), refused_.begin(), refused_.end());
  }

  void settle_intervals() {
    constexpr double kOther = 0.1;  // of the interval: our own working rule
    joined_.interval_s = usual_interval(joined_.times_s);
    joined_.gap_limit_s = gap_limit_s(joined_.interval_s, options_);
    for (JoinedFile& file : joined_.files) {
      const bool own = file.readings + file.repeated + file.disagreeing >= kReadingsOfAnInterval &&
                       std::abs(file.interval_s - joined_.interval_s) > kOther * joined_.interval_s;
      if (!own) file.interval_s = joined_.interval_s;
      file.gap_limit_s = gap_limit_s(file.interval_s, options_);
    }
  }

  [[nodiscard]] bool is_gap(const FileMeeting& seam) const {
    const auto& times = joined_.times_s;
    const auto after = std::lower_bound(times.begin(), times.end(), seam.to_s);
    return joined_.is_gap_before(static_cast<std::size_t>(after - times.begin()));
  }

  std::vector<LoggerRecord> records_;
  const LoggerReadOptions& options_;
  const FieldNames names_;
  FaultLog log_;
  LoggerRecord joined_;
  std::vector<JoinedFile> refused_;
  std::size_t last_file_ = 0;  // the one that ends last
};

}  // namespace
}  // namespace detail

LoggerRecord join_records(std::vector<LoggerRecord> records, const LoggerReadOptions& options) {
  detail::check_options(options);
  std::erase_if(records, [](const LoggerRecord& record) { return record.size() == 0; });
  if (records.empty()) throw InputError("records", "none", "at least one record with readings");
  return detail::Joining(std::move(records), options).join();
}

}  // namespace aeruca
