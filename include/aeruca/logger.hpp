#pragma once

/// \file
/// What did a humidity logger record, and which of its lines can be believed?
///
/// Words. A *record* is a series of readings (time, temperature, relative humidity) in order of
/// time. A *fault* is anything in the file that a careful reader would mark in the margin: a line
/// that cannot be read, an impossible value, a repeated or disordered time, a clock put back, a
/// gap, a sensor that stands still. Nothing is repaired in silence: every fault has a line, a field
/// and a sentence that says what was done (kept, dropped, moved).
///
/// Files accepted. Text with one reading a line. Separator comma, semicolon or tab; decimal point,
/// or decimal comma where the separator is not a comma or the field is quoted; UTF-8 with or
/// without byte order mark, UTF-16 with one, or Windows code page 1252; lines end in LF or CRLF; blank
/// lines and lines that begin with # are passed over. The header is the first line (of the first
/// 60) that names a time and a humidity (a reading above it is a fault, other lines there are
/// passed over; a line of units may follow it); columns come in any order:
///   time         time, date, datetime, timestamp, epoch, Datum, Zeit, Uhrzeit, fecha, hora, heure,
///                data, ora ...: one column, or a date and a time apart;
///   humidity     RH, humidity, rel. Feuchte, rF, HR, humidite, humedad, umidita, vochtigheid ...
///                (percent);
///   temperature  (may be missing) temp..., Temperatur, T, in degrees C, or F when the header, the
///                line of units or the cell says F.
/// Units may stand in brackets, or in the cells. Where no column is a humidity, it is computed from
/// a dew point (over liquid water, from 0 degrees C up) or an absolute humidity (g/m3) and the
/// temperature, by IAPWS saturation pressures (0.025 %) and, for the latter, the gas constant of
/// water vapour as an ideal gas (0.1 %).
///
/// Times. ISO 8601 in the extended form (2024-03-31T02:00, 2024-03-31 02:00:30,5, with Z or +01:00
/// behind it), 2024/03/31, 31.03.2024, 31-Mar-2024 and Mar 31, 2024 (names in the common European
/// languages), 31/03/2024, 03/31/2024, each with 14:05, 14:05:30 or 2:05:30 PM; seconds or
/// milliseconds since 1970 (UTC). The fraction of a second is left off; years 1900 to 2100. Either
/// every time has an offset (the record is then in UTC) or none has (as written), and all dates are
/// written alike: a line that differs from the first good one is a fault.
///
/// A date without a time of day is one reading a day, taken at noon; where a day has several, the
/// column with the time of day is asked for.
///
/// Without a header. Where the first lines are readings themselves, columns go by their number: the
/// time is the column that is one, humidity and temperature those whose cells have their unit. Where
/// no cell says, the number of the humidity column is asked for (`rh_column` = "3").
///
/// Workbooks. A file .xlsx is read where the caller brings a reader (`LoggerReadOptions::workbook`;
/// the Python package does): each row of a sheet becomes a line, and all above holds for it. Where
/// several sheets have readings, the name of one is asked for.
///
/// What is proved and what is asked. Whether 03/04/2024 is a day in April or in March is told only
/// by the file: by a day above 12, or by a clock that runs on in one order and falls back or leaps
/// in the other; `read_as` says which. Where nothing tells, and where humidities look like
/// fractions of one, temperatures like degrees F without the word, or times lie in the future, the
/// file is refused with one sentence that names the option which settles it.
///
/// Speed. One pass over the file, piece by piece: about 30 million plain lines a second on one core.
/// Memory grows with the readings kept (24 bytes each), not with the file.

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/line_numbers.hpp"

namespace aeruca {

/// What can be wrong with a line or a stretch of lines.
enum class FaultKind {
  unreadable,     ///< a field is no number or no time, or the line has too few or too many fields
  missing_value,  ///< humidity is empty (line dropped) or temperature is (line kept without)
  impossible_value,       ///< humidity or temperature outside what can be (line dropped)
  out_of_order,           ///< time earlier than a line before it (kept, moved to its place)
  duplicate,              ///< same time and same values as a line before it (dropped)
  conflicting_duplicate,  ///< same time, other values (the first is kept, this one dropped)
  clock_change,           ///< the clock jumped by one hour: daylight saving suspected
  gap,           ///< no reading for longer than `gap_factor` median intervals, or than 48 h
  stuck_sensor,  ///< exactly the same values for a long time (kept; assessed as not known)
  spike,         ///< one humidity far from those before and after, which agree (kept, as read)
};
inline constexpr std::size_t kFaultKinds = 10;

/// "unreadable", "missing value", "impossible value", "out of order", "duplicate",
/// "conflicting duplicate", "clock change", "gap", "stuck sensor" or "spike".
[[nodiscard]] std::string_view to_string(FaultKind kind);

/// What was done with the line a fault speaks of.
enum class FaultAction { dropped, kept, moved };

/// "dropped", "kept" or "moved".
[[nodiscard]] std::string_view to_string(FaultAction action);

/// One fault.
struct LoggerFault {
  FaultKind kind = FaultKind::unreadable;
  FaultAction action = FaultAction::dropped;
  long line = 0;  ///< of the file, from 1; for arrays: index + 1
  /// The column as the header names it; "time", "temperature" or "RH" for arrays
  std::string field;
  std::string reason;  ///< what was found, what is accepted, what was done: one sentence part
  std::string file;    ///< of a record joined from several; empty where there is one
};

/// Longest time between two readings that is no gap (s), whatever the median interval: our own
/// working rule.
inline constexpr double kLongestGapSeconds = 48 * 3600.0;

/// Which of two numbers before a year is the day.
enum class DateOrder { from_file, day_first, month_first };
/// In what the humidities are written: percent, or parts of one.
enum class RhUnit { from_file, percent, fraction };
/// In what the temperatures are written.
enum class TemperatureUnit { from_file, celsius, fahrenheit };
/// What becomes of a file with times after today.
enum class FutureTimes { ask, accept };

/// "from_file", "day_first" ...: the names of the choices above, and the choice of a name. Errors:
/// InputError for any other name.
[[nodiscard]] std::string_view to_string(DateOrder order);
[[nodiscard]] std::string_view to_string(RhUnit unit);
[[nodiscard]] std::string_view to_string(TemperatureUnit unit);
[[nodiscard]] std::string_view to_string(FutureTimes times);
[[nodiscard]] DateOrder date_order(std::string_view word);
[[nodiscard]] RhUnit rh_unit(std::string_view word);
[[nodiscard]] TemperatureUnit temperature_unit(std::string_view word);
[[nodiscard]] FutureTimes future_times(std::string_view word);

/// A sheet of a workbook, its rows as lines of CSV text.
struct WorkbookSheet {
  std::string name;
  std::string csv;
};
/// Makes text of a workbook; the library reads none itself. Throws FileError.
using WorkbookReader = std::function<std::vector<WorkbookSheet>(const std::string& path)>;

/// How a record is read. Ranges in parentheses are what is accepted.
struct LoggerReadOptions {
  double max_bad_share = 0.2;  ///< refuse the file when more of its lines cannot be used (0 to 1)
  double rh_over_tolerance_percent = 3;  ///< readings up to 100 + this are kept: electronic sensors
                                         ///< over-read by 1 to 3 near saturation (0 to 20)
  /// A gap is longer than this many median intervals (>= 1.5), or than 48 h
  double gap_factor = 2.5;
  /// A sensor is stuck when both values stay exactly equal this long (> 0)
  double stuck_hours = 48;
  std::size_t stuck_readings = 12;  ///< and for at least this many readings (>= 2)
  /// A spike stands out by more than this from both neighbours, at most 1 h away (> 0); they differ
  /// by less than a third of it
  double spike_rh_percent = 15;
  std::size_t listed_faults = 1000;  ///< faults of one kind kept with their line; all are counted
  std::string time_column = {};  ///< exact header name, to overrule recognition; empty: recognise
  std::string temperature_column = {};  ///< the same
  std::string rh_column = {};           ///< the same
  /// Time of day, where it stands apart from the date that `time_column` names
  std::string clock_column = {};
  std::string dew_point_column = {};  ///< in place of a humidity; wants a temperature beside it
  std::string absolute_humidity_column = {};  ///< the same, g/m3
  DateOrder date_order = DateOrder::from_file;
  RhUnit rh_unit = RhUnit::from_file;
  TemperatureUnit temperature_unit = TemperatureUnit::from_file;
  FutureTimes future_times = FutureTimes::ask;  ///< of a file; times in arrays are not asked about
  std::string sheet = {};                       ///< of a workbook, where several hold readings
  WorkbookReader workbook = {};                 ///< none: a workbook is refused
};

/// A stretch of readings, both ends included.
struct Stretch {
  std::size_t first = 0;
  std::size_t last = 0;
};

/// One file of a record that was joined from several.
struct JoinedFile {
  std::string file;          ///< its path
  std::string problem;       ///< why it could not be used, one sentence; empty: it was
  std::int64_t start_s = 0;  ///< its first reading
  std::int64_t end_s = 0;    ///< its last
  std::size_t readings = 0;  ///< that the record has from it
  /// Left out, for a file before has the same time and values: counted once
  std::size_t repeated = 0;
  std::size_t disagreeing = 0;  ///< left out, for a file before has the same time and other values
  double interval_s = 0;        ///< usual interval of its readings
  double gap_limit_s = 0;       ///< an interval longer than this is a gap
};

enum class FileMeetingKind { overlap, seam };
/// "overlap" or "seam".
[[nodiscard]] std::string_view to_string(FileMeetingKind kind);

/// Where two files of a joined record overlap in time, or leave a gap between them.
struct FileMeeting {
  FileMeetingKind kind = FileMeetingKind::seam;
  std::string earlier;  ///< of the files before, the one that ends last
  std::string later;
  /// The time that both cover; of a seam, the last reading before and the first one after
  std::int64_t from_s = 0;
  std::int64_t to_s = 0;
  std::size_t agreeing = 0;     ///< readings of the same time and values
  std::size_t disagreeing = 0;  ///< of the same time and other values
  std::size_t between = 0;      ///< of the later file, at times that those before do not have
};

/// From which file the readings of a joined record come, from one reading on.
struct RecordPiece {
  std::size_t first = 0;
  std::size_t file = 0;  ///< index into `files`
};

/// Readings in strictly increasing order of time, and what was wrong on the way.
struct LoggerRecord {
  std::string file;  ///< path it was read from, or what was joined; empty for arrays
  bool utc = false;  ///< times had offsets: times_s is UTC; else as the file wrote them
  std::vector<std::int64_t> times_s;  ///< seconds since 1970-01-01T00:00:00
  std::vector<double> temperature_c;  ///< degrees C; NaN: not given
  std::vector<double> rh_percent;     ///< percent, 0 to 100 + tolerance
  double interval_s = 0;              ///< median interval; 0 for fewer than two readings
  double gap_limit_s = 0;             ///< an interval longer than this is a gap
  std::vector<Stretch> stuck;         ///< where the sensor stood still
  std::vector<std::string> read_as;   ///< what was proved or computed on the way: one sentence each
  std::vector<LoggerFault> faults;    ///< by line; at most `listed_faults` of a kind
  std::array<std::size_t, kFaultKinds> fault_counts{};  ///< all of them, by FaultKind
  std::size_t rows = 0;                                 ///< lines with data, good or bad
  std::size_t dropped = 0;  ///< rows that gave no reading: rows = size() + dropped
  /// Of dates in numbers, as the file proved it; from_file: nothing had to be proved
  DateOrder date_order = DateOrder::from_file;
  LineNumbers lines;                  ///< of each reading, in its file
  std::vector<JoinedFile> files;      ///< by their first reading, then what could not be used;
                                      ///< empty for a record of one file
  std::vector<FileMeeting> meetings;  ///< in order of time
  std::vector<RecordPiece> pieces;    ///< in order; empty for a record of one file

  [[nodiscard]] std::size_t size() const { return times_s.size(); }
  [[nodiscard]] std::size_t count(FaultKind kind) const {
    return fault_counts[static_cast<std::size_t>(kind)];
  }
  [[nodiscard]] bool has_temperature() const;  ///< at least one reading has one
  /// The file that a reading comes from; null for a record of one file.
  [[nodiscard]] const JoinedFile* file_of(std::size_t reading) const;
  /// Whether the step to a reading (not the first) from the one before is a gap. Where they come
  /// from files of different intervals, the longer limit counts.
  [[nodiscard]] bool is_gap_before(std::size_t reading) const;
  /// The readings that follow a gap.
  [[nodiscard]] std::vector<std::size_t> gap_ends() const;
};

/// Reads a logger file.
/// Errors: FileError when the file cannot be read, has no header that is understood, two columns
/// for one quantity, a temperature unit other than C or F, no usable line, something that must be
/// asked (above), or a larger share of
/// unusable lines (unreadable, missing, impossible) than `max_bad_share`; InputError for an option
/// out of range.
[[nodiscard]] LoggerRecord read_logger_csv(const std::string& path,
                                           const LoggerReadOptions& options = {});

/// The same from text already in memory; `name` stands for the file in messages.
[[nodiscard]] LoggerRecord parse_logger_csv(std::string_view text, const std::string& name,
                                            const LoggerReadOptions& options = {});

/// A record from arrays of one length, with the same checks. NaN humidity is a missing value; NaN
/// temperature is allowed. `temperature_c` may be empty. Errors: InputError when lengths differ,
/// nothing is usable or too much is bad.
[[nodiscard]] LoggerRecord make_logger_record(std::span<const std::int64_t> times_s,
                                              std::span<const double> temperature_c,
                                              std::span<const double> rh_percent,
                                              const LoggerReadOptions& options = {});

/// "2024-03-31T02:00:00" for a time in seconds since 1970-01-01T00:00:00 (proleptic Gregorian
/// calendar).
[[nodiscard]] std::string format_time(std::int64_t time_s);

}  // namespace aeruca
