#include <algorithm>
#include <cmath>
#include <optional>

#include "aeruca/errors.hpp"
#include "aeruca/logger.hpp"
#include "aeruca/not_given.hpp"
#include "base/csv.hpp"
#include "base/text.hpp"
#include "base/text_pieces.hpp"
#include "base/utf16_pieces.hpp"
#include "store/logger_bare.hpp"
#include "store/logger_clock.hpp"
#include "store/logger_fields.hpp"
#include "store/logger_header.hpp"
#include "store/logger_plausible.hpp"
#include "store/logger_series.hpp"
#include "store/logger_workbook.hpp"
#include "store/plain_rows.hpp"

namespace aeruca {
namespace detail {
namespace {

// The four fields that are read from a line.
struct Fields {
  std::string_view time, clock, temperature, rh;
  std::optional<std::size_t> count;  // of all fields; none: a quote is not closed
  bool spare = false;                // text in a field that the header does not have
  bool comma_allowed = false;
};

class LoggerCsv {
 public:
  LoggerCsv(TextPieces& pieces, const std::string& file, const LoggerReadOptions& options)
      : pieces_(pieces),
        csv_(pieces.next()),
        file_(file),
        options_(options),
        log_(options.listed_faults),
        clock_(options) {}

  // False where none of the first lines is one.
  bool find_header() {
    for (long looked = 0; looked < kHeaderLines && next_row(); ++looked) {
      if (auto columns = recognise_header(csv_, file_, options_)) {
        if (csv_.line().find('\r') != std::string_view::npos) {
          throw FileError(file_, csv_.number(), "header",
                          "holds a carriage return; accepted are lines that end in LF or CR LF");
        }
        columns_ = std::move(*columns);
        name_fields();
        for (const auto& [line, text] : before_) note_if_reading(line, text);
        return true;
      }
      before_.emplace_back(csv_.number(), csv_.line());
    }
    return false;
  }

  // Of a file without a header.
  void take_columns(LoggerColumns columns) {
    columns_ = std::move(columns);
    name_fields();
  }

  [[nodiscard]] std::vector<std::string> first_lines() const {
    std::vector<std::string> lines;
    for (const auto& [line, text] : before_) lines.push_back(text);
    return lines;
  }

  LoggerRecord read() {
    series_.reserve(rows_expected());
    PlainRows plain(columns_, 100 + options_.rh_over_tolerance_percent);
    bool more = next_row();
    if (more && take_units(csv_, columns_, options_)) more = next_row();
    while (more) {
      read_row();
      if (clock_.state() && !clock_.state()->without_clock) take_plain(plain);
      more = next_row();
    }
    ask_if_implausible(series_, too_hot_, columns_, names_, options_, file_);
    refuse_if_bad();
    clock_.settle(series_, file_, names_.time);
    const bool utc = clock_.state() && clock_.state()->utc;
    LoggerRecord record = order_series(std::move(series_), utc, names_, options_, log_);
    note_how_read(record);
    record.date_order = clock_.proved_order();
    record.file = file_;
    record.rows = rows_;
    record.dropped = rows_ - record.size();
    return record;
  }

 private:
  bool next_row() {
    while (!csv_.next_row()) {
      const std::string_view piece = pieces_.next();
      if (piece.empty()) return false;
      csv_.go_on(piece);
    }
    return true;
  }

  // As many as there would be if all lines were as long as the next ones.
  [[nodiscard]] std::size_t rows_expected() const {
    constexpr std::size_t kLookedAt = 1 << 14;
    const std::string_view ahead = csv_.rest().substr(0, kLookedAt);
    const std::size_t lines = CsvReader(ahead).lines_left();
    return lines + pieces_.size() / std::max<std::size_t>(ahead.size() / lines, 4);
  }

  void take_plain(PlainRows& plain) {
    const long first = csv_.number() + 1;
    const std::size_t before = series_.size();
    const PlainRows::Taken taken =
        plain.read(csv_.rest(), *clock_.state(), [&](const PlainRows::Row& row) {
          series_.times_s.push_back(row.time_s);
          series_.temperature_c.push_back(row.temperature_c);
          series_.rh_percent.push_back(row.rh_percent);
          if (std::isnan(row.temperature_c) && columns_.temperature != kNoColumn) {
            note_no_temperature(first + static_cast<long>(series_.size() - before) - 1);
          }
        });
    csv_.pass_over(taken.bytes, taken.lines);
    rows_ += static_cast<std::size_t>(taken.lines);
    series_.lines.add(first, static_cast<std::size_t>(taken.lines));
  }

  void note_how_read(LoggerRecord& record) const {
    if (!clock_.proof().empty()) record.read_as.push_back(clock_.proof());
    if (columns_.moisture == Moisture::relative) return;
    record.read_as.push_back(
        "humidity is computed from '" + names_.rh + "' and '" + names_.temperature +
        (columns_.moisture == Moisture::dew_point
             ? "' over liquid water; 0.1 degrees C of either are about 0.6 % of it"
             : "' as an ideal gas (0.1 %); 0.1 degrees C are about 0.6 % of it"));
  }

  void note_no_temperature(long line) {
    log_.add(FaultKind::missing_value, FaultAction::kept, line, names_.temperature,
             [] { return std::string("no temperature; line kept without it"); });
  }

  void name_fields() {
    names_.time = columns_.names[columns_.time];
    names_.rh = columns_.names[columns_.rh];
    if (columns_.temperature != kNoColumn)
      names_.temperature = columns_.names[columns_.temperature];
  }

  // What stands above the header is talk of the logger, and passed over; a reading there is not.
  void note_if_reading(long line, const std::string& text) {
    CsvReader csv(text);
    csv.next_line();
    const Fields fields = cut(csv);
    const auto moment = columns_.clock == kNoColumn
                            ? parse_written_time(fields.time, DayOrder::day_first)
                            : parse_written_time(fields.time, fields.clock, DayOrder::day_first);
    if (!fields.count || !moment || !humidity_of(fields.rh, fields.comma_allowed)) return;
    ++rows_;
    log_.add(FaultKind::unreadable, FaultAction::dropped, line, "line",
             [] { return std::string("a reading above the header; line dropped"); });
  }

  void read_row() {
    ++rows_;
    const Fields fields = cut(csv_);
    if (!is_whole(fields)) return;
    std::int64_t time = 0;
    double temperature = kNotGiven;
    double rh = kNotGiven;
    if (!read_time(fields, time) || !read_temperature(fields, temperature) ||
        !read_moisture(fields, temperature, rh))
      return;
    clock_.turn_if_proved_otherwise(series_);
    too_hot_ += temperature > kHottestC ? 1U : 0U;
    if (!check_possible(temperature, rh, csv_.number(), names_, options_, log_)) return;
    if (std::isnan(temperature) && columns_.temperature != kNoColumn)
      note_no_temperature(csv_.number());
    series_.add(time, temperature, rh, csv_.number());
  }

  template <class Reason>
  bool unreadable(const std::string& field, Reason&& reason) {
    log_.add(FaultKind::unreadable, FaultAction::dropped, csv_.number(), field, reason);
    return false;
  }

  // Fields of the line that a reader stands on.
  Fields cut(CsvReader& csv) const {
    Fields fields;
    // With a comma between fields, a decimal comma needs quotes.
    fields.comma_allowed = columns_.separator != ',' || csv.has_quotes();
    fields.count =
        csv.each_field(columns_.separator, [&](std::size_t column, std::string_view field) {
          if (column == columns_.time)
            fields.time = field;
          else if (column == columns_.rh)
            fields.rh = field;
          else if (column == columns_.temperature)
            fields.temperature = field;
          else if (column == columns_.clock)
            fields.clock = field;
          else if (column >= columns_.count && !field.empty())
            fields.spare = true;
        });
    return fields;
  }

  // A fault when there are too few fields or too many.
  bool is_whole(const Fields& fields) {
    if (!fields.count)
      return unreadable("line", [] { return std::string("a quote is not closed; line dropped"); });
    return fields.spare ? too_many() : enough(*fields.count);
  }

  bool too_many() {
    return unreadable("line", [&] {
      std::string text =
          "more fields than the " + std::to_string(columns_.count) + " of the header";
      if (columns_.separator == ',') text += " (a decimal comma needs quotes or another separator)";
      return text + "; line dropped";
    });
  }

  bool enough(std::size_t found) {
    std::size_t needed = std::max(columns_.time, columns_.rh);
    if (columns_.clock != kNoColumn) needed = std::max(needed, columns_.clock);
    if (columns_.temperature != kNoColumn) needed = std::max(needed, columns_.temperature);
    if (found > needed) return true;
    return unreadable("line", [&] {
      return std::to_string(found) + (found == 1 ? " field" : " fields") +
             " where the header has " + std::to_string(columns_.count) + "; line dropped";
    });
  }

  bool read_time(const Fields& fields, std::int64_t& time) {
    const auto apart =
        columns_.clock == kNoColumn ? std::nullopt : std::optional<std::string_view>(fields.clock);
    const LoggerClock::Answer answer = clock_.read(fields.time, apart, csv_.number());
    if (!answer.time_s)
      return unreadable(names_.time, [&] { return answer.problem + "; line dropped"; });
    time = *answer.time_s;
    return true;
  }

  bool read_temperature(const Fields& fields, double& temperature) {
    if (columns_.temperature == kNoColumn || is_missing(fields.temperature)) return true;
    const std::optional<double> value =
        celsius_of(fields.temperature, fields.comma_allowed, columns_.fahrenheit);
    if (!value) {
      return unreadable(names_.temperature, [&] {
        return shown(fields.temperature) + " is no number; accepted is a temperature in degrees " +
               (columns_.fahrenheit ? "F" : "C") + "; line dropped";
      });
    }
    temperature = *value;
    return true;
  }

  // The humidity, as it stands there or from what stands there.
  bool read_moisture(const Fields& fields, double temperature, double& rh) {
    if (is_missing(fields.rh)) {
      log_.add(FaultKind::missing_value, FaultAction::dropped, csv_.number(), names_.rh,
               [] { return std::string("no humidity; line dropped"); });
      return false;
    }
    if (columns_.moisture != Moisture::relative) return compute_rh(fields, temperature, rh);
    const std::optional<double> value = humidity_of(fields.rh, fields.comma_allowed);
    if (!value) {
      return unreadable(names_.rh, [&] {
        return shown(fields.rh) + " is no number; accepted is a humidity in percent; line dropped";
      });
    }
    rh = *value * columns_.rh_scale;
    return true;
  }

  bool compute_rh(const Fields& fields, double temperature, double& rh) {
    const std::optional<double> value =
        columns_.moisture == Moisture::dew_point
            ? celsius_of(fields.rh, fields.comma_allowed, columns_.moisture_fahrenheit)
            : number_of(fields.rh, fields.comma_allowed);
    const auto found = value ? rh_from(columns_.moisture, *value, temperature) : std::nullopt;
    if (!found) {
      return unreadable(names_.rh, [&] {
        return shown(fields.rh) +
               " gives no humidity; accepted is a number, with a temperature and a dew point of 0 "
               "to 100 degrees C; line dropped";
      });
    }
    rh = *found;
    return true;
  }

  // Nothing was put in order yet: what is missing from the series could not be used.
  void refuse_if_bad() {
    if (rows_ == 0) {
      throw FileError(
          file_, 0, "",
          "has a header and no reading; accepted is at least one line with a time and a humidity");
    }
    const std::size_t bad = rows_ - series_.times_s.size();
    const double share = static_cast<double>(bad) / static_cast<double>(rows_);
    if (bad == 0 || (share <= options_.max_bad_share && bad < rows_)) return;
    const auto& faults = log_.faults();
    const auto first = std::find_if(faults.begin(), faults.end(), [](const LoggerFault& fault) {
      return fault.action == FaultAction::dropped;
    });
    const std::string why = first == faults.end() ? "" : ": " + first->reason;
    throw FileError(file_, first == faults.end() ? 0 : first->line,
                    first == faults.end() ? "" : first->field,
                    "first of " + std::to_string(bad) + " lines of " + std::to_string(rows_) +
                        " that cannot be used (accepted is at most " +
                        format_number(100 * options_.max_bad_share, 4) + " %)" + why);
  }

  TextPieces& pieces_;
  CsvReader csv_;
  const std::string& file_;
  const LoggerReadOptions& options_;
  FaultLog log_;
  LoggerColumns columns_;
  FieldNames names_;
  RawSeries series_;
  LoggerClock clock_;
  std::vector<std::pair<long, std::string>> before_;  // lines above the header
  std::size_t rows_ = 0;
  std::size_t too_hot_ = 0;  // lines above what can be in a store
};

// A column that the file does not have a name for has a number; and the lines that showed it must be
// read too, from the beginning.
template <class Open>
LoggerRecord read_text(const std::string& name, const LoggerReadOptions& options, Open open) {
  std::vector<std::string> first_lines;
  {
    auto raw = open();
    Utf8Pieces pieces(raw);
    LoggerCsv reader(pieces, name, options);
    if (reader.find_header()) return reader.read();
    first_lines = reader.first_lines();
  }
  const auto bare = columns_without_header(first_lines, name, options);
  if (!bare) refuse_without_header(name, options);
  auto raw = open();
  Utf8Pieces pieces(raw);
  LoggerCsv reader(pieces, name, options);
  reader.take_columns(bare->columns);
  LoggerRecord record = reader.read();
  record.read_as.insert(record.read_as.begin(), bare->proof);
  return record;
}

void refuse_sheet(const std::string& name, const LoggerReadOptions& options) {
  if (options.sheet.empty()) return;
  throw FileError(name, 0, "sheet",
                  "is no workbook and has no sheet '" + options.sheet + "'; accepted is " +
                      option_named("sheet") + " with a workbook");
}

}  // namespace
}  // namespace detail

LoggerRecord parse_logger_csv(std::string_view text, const std::string& name,
                              const LoggerReadOptions& options) {
  detail::check_options(options);
  detail::refuse_sheet(name, options);
  return detail::read_text(name, options, [&] { return detail::MemoryPieces(text); });
}

LoggerRecord read_logger_csv(const std::string& path, const LoggerReadOptions& options) {
  detail::check_options(options);
  if (detail::is_workbook(path)) return detail::read_workbook(path, options);
  detail::refuse_sheet(path, options);
  return detail::read_text(path, options,
                           [&] { return detail::FilePieces(path, detail::Utf16::hand_on); });
}

}  // namespace aeruca
