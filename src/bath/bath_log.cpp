#include "aeruca/bath_log.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "aeruca/not_given.hpp"
#include "base/csv.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "bath/log_table.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr double kGapWorthAWord = 1.0;    // days between two baths
constexpr double kEvenTemperature = 3.0;  // K; our own working rule
// Our own gates, wide of any treatment: what lies outside is a slip of the pen.
constexpr double kLongestBath = 3650;  // days
constexpr double kFirstDay = -25567;   // 1900-01-01
constexpr double kLastDay = 47482;     // 2100-01-01
constexpr double kVolumesApart = 500;  // millilitres for litres make 1000

// Reads the rows of one log; remembers which decimal mark the file uses.
class LogReader {
 public:
  LogReader(std::string_view text, std::string file, BathLogPlace place)
      : csv_(text), file_(std::move(file)), place_(std::move(place)) {}

  BathLog read() {
    BathLog log;
    log.file = file_;
    std::optional<detail::LogColumns> columns;
    if (csv_.next_row()) {
      separator_ = csv_.line().find(';') != std::string_view::npos ? ';' : ',';
      columns.emplace(fields("header"), file_, csv_.number());
    }
    long last_line = 0;
    while (csv_.next_row()) {
      last_line = csv_.number();
      try {
        log.baths.push_back(record(*columns));
        check_order(log);
      } catch (const FileError& fault) {
        faults_.push_back(fault);
      }
    }
    check_running(last_line);
    refuse_whole();
    ask_volumes(log);
    log.warnings.insert(log.warnings.end(), remarks_.begin(), remarks_.end());
    if (!columns)
      fail("", "the file is empty; accepted is a header line and one line for each bath", 0);
    if (log.baths.empty()) fail("", "there is a header but no bath", 0);
    if (!columns->has("blank_mg_per_l")) {
      log.warnings.push_back(say("bath.log.no_blank_column"));
    }
    tell_unused(*columns, log);
    return log;
  }

 private:
  [[noreturn]] void fail(const std::string& field, const std::string& problem, long line) const {
    throw FileError(file_, line, field, problem);
  }
  [[noreturn]] void fail(const std::string& field, const std::string& problem) const {
    fail(field, problem, csv_.number());
  }

  // One error for all faults: the first as usual, the others behind it.
  void refuse_whole() const {
    if (faults_.empty()) return;
    const FileError& first = faults_.front();
    std::string problem = first.problem;
    for (std::size_t i = 1; i < faults_.size(); ++i)
      problem += next_place(faults_[i]) + ": " + faults_[i].problem;
    fail(first.field, problem, first.line);
  }

  std::string next_place(const FileError& fault) const {
    if (place_) return "; " + place_(fault.line, fault.field);
    return "; line " + std::to_string(fault.line) + (fault.field.empty() ? "" : ", " + fault.field);
  }

  double number(const std::string& field, std::string_view text) {
    const bool comma = text.find(',') != std::string_view::npos;
    const bool point = text.find('.') != std::string_view::npos;
    const auto value = detail::parse_number(text, comma && separator_ == ';');
    if (!value) fail(field, "'" + std::string(text) + "' is no number");
    if (comma || point) {
      const char mark = comma ? ',' : '.';
      if (decimal_mark_ != 0 && decimal_mark_ != mark) {
        fail(field, "'" + std::string(text) + "' has a decimal " + (comma ? "comma" : "point") +
                        ", but earlier numbers have a decimal " + (comma ? "point" : "comma"));
      }
      decimal_mark_ = mark;
    }
    return *value;
  }

  double bounded(const std::string& field, std::string_view text, double low, double high,
                 const std::string& accepted) {
    const double value = number(field, text);
    if (value < low || value > high) {
      fail(field, "'" + std::string(text) + "' is out of range; accepted is " + accepted);
    }
    return value;
  }

  double optional_number(const std::string& field, std::string_view text, double absent, double low,
                         const std::string& accepted) {
    return text.empty() ? absent : bounded(field, text, low, 1e6, accepted);
  }

  double day(const std::string& field, std::string_view text) const {
    const auto value = detail::parse_day(text);
    if (!value) {
      fail(field,
           "'" + std::string(text) + "' is no date; accepted is YYYY-MM-DD or YYYY-MM-DDThh:mm");
    }
    if (*value < kFirstDay || *value >= kLastDay)
      fail(field, "'" + std::string(text) + "' is out of range; accepted is 1900 to 2099");
    return *value;
  }

  std::vector<std::string> fields(const std::string& place) {
    auto row = csv_.fields(separator_);
    if (!row) fail(place, "a double quote is not closed");
    return *std::move(row);
  }

  BathRecord record(const detail::LogColumns& columns) {
    const std::vector<std::string> row = fields("");
    if (row.size() != columns.count()) {
      fail("", std::to_string(row.size()) + " fields, but the header has " +
                   std::to_string(columns.count()));
    }
    const auto text = [&](std::string_view name) { return columns.text(row, name); };
    BathRecord bath;
    bath.line = csv_.number();
    set_time(bath, text("start"), text("end"), text("read_on"));
    bath.volume_l = bounded("volume_l", text("volume_l"), 1e-6, 1e6, "1e-06 to 1e+06 litres");
    bath.dilution = optional_number("dilution", text("dilution"), 1, 1, "1 or more");
    bath.error_mg_per_l = bath.dilution * optional_number("error_mg_per_l", text("error_mg_per_l"),
                                                          kNotGiven, 1e-9, "above 0");
    bath.detection_limit_mg_per_l =
        bath.dilution * optional_number("detection_limit_mg_per_l",
                                        text("detection_limit_mg_per_l"), kNotGiven, 1e-9,
                                        "above 0");
    bath.blank_mg_per_l =
        optional_number("blank_mg_per_l", text("blank_mg_per_l"), kNotGiven, 0, "0 or more");
    const std::string_view temperature = text("temperature_c");
    bath.temperature_c =
        temperature.empty() ? kNotGiven
                            : bounded("temperature_c", temperature, -5, 100, "-5 to 100 degrees C");
    const std::string_view ph = text("ph");
    bath.ph = ph.empty() ? kNotGiven : bounded("ph", ph, 0, 15, "a pH of 0 to 15");
    bath.colour = std::string(text("colour"));
    bath.method = std::string(text("method"));
    bath.note = std::string(text("note"));
    set_reading(bath, text("chloride_mg_per_l"));
    return bath;
  }

  // A bath without an end is still running: it counts up to its reading.
  void set_time(BathRecord& bath, std::string_view start, std::string_view end,
                std::string_view read_on) {
    if (end.empty() && read_on.empty()) {
      fail("end",
           "nothing stands here; accepted is a date, or for a bath still running the day of its "
           "reading in read_on");
    }
    if (!end.empty() && !read_on.empty()) {
      fail("read_on", "'" + std::string(read_on) +
                          "' stands beside an end; accepted is read_on only for a bath still "
                          "running");
    }
    const std::string field = end.empty() ? "read_on" : "end";
    bath.start = std::string(start);
    bath.end = std::string(end.empty() ? read_on : end);
    bath.start_day = day("start", bath.start);
    bath.end_day = day(field, bath.end);
    if (bath.end_day <= bath.start_day)
      fail(field, "'" + bath.end + "' is not after the start " + bath.start);
    if (bath.days() > kLongestBath) {
      fail(field, "a bath of " + format_number(bath.days(), 5) + " days from " + bath.start +
                      " to " + bath.end + "; accepted is at most 3650 days");
    }
    if (!end.empty()) return;
    if (running_line_ == 0) running_line_ = csv_.number();
    remarks_.push_back(
        say("bath.log.running", {{"line", std::to_string(csv_.number())}, {"read_on", bath.end}}));
  }

  // Only the last bath of a log can still be running.
  void check_running(long last_line) {
    if (running_line_ == 0 || running_line_ == last_line) return;
    faults_.emplace_back(file_, running_line_, "end",
                         "nothing stands here; accepted is an empty end only in the last line");
  }

  // Between two marks of a strip, or above its last.
  bool set_between(BathRecord& bath, std::string_view text) {
    const std::string field = "chloride_mg_per_l";
    std::string_view low = text;
    std::string_view high;
    if (text[0] == '>') {
      low = text.substr(1);
    } else {
      constexpr std::array<std::string_view, 3> kDashes{"\xe2\x80\x93", " to ", "-"};
      for (const std::string_view dash : kDashes) {
        const std::size_t at = text.find(dash, 1);
        if (at == std::string_view::npos || text[at - 1] == 'e' || text[at - 1] == 'E') continue;
        low = text.substr(0, at);
        high = text.substr(at + dash.size());
        break;
      }
      if (high.empty()) return false;
    }
    const std::string accepted = "a range such as 30-60, low before high, or >300";
    const double from = bounded(field, detail::trim(low), 0, 1e6, accepted);
    const double to = high.empty() ? std::numeric_limits<double>::infinity()
                                   : bounded(field, detail::trim(high), 0, 1e6, accepted);
    if (!(to > from))
      fail(field, "'" + std::string(text) + "' is no range; accepted is " + accepted);
    bath.kind = ReadingKind::between;
    bath.chloride_mg_per_l = bath.dilution * from;
    bath.at_most_mg_per_l = bath.dilution * to;
    return true;
  }

  // A reading that the log itself calls rough.
  void set_rough(BathRecord& bath, std::string_view text) {
    constexpr double kRough = 0.2;  // our own rule
    const double reading =
        bath.dilution * bounded("chloride_mg_per_l", detail::trim(text.substr(1)), 1e-9, 1e6,
                                "'~' and a reading above 0");
    bath.kind = ReadingKind::measured;
    bath.chloride_mg_per_l = reading;
    if (!std::isnan(bath.error_mg_per_l)) return;
    bath.error_mg_per_l = kRough * reading;
    remarks_.push_back(say("bath.log.rough", {{"line", std::to_string(csv_.number())},
                                              {"reading", std::string(text)}}));
  }

  void set_reading(BathRecord& bath, std::string_view text) {
    const std::string field = "chloride_mg_per_l";
    bath.chloride_mg_per_l = kNotGiven;
    if (text.empty()) return;
    if (text == "n.d." || text == "nd" || text == "n.d" || text == "ND") {
      if (std::isnan(bath.detection_limit_mg_per_l))
        fail(field, "'" + std::string(text) + "' needs detection_limit_mg_per_l beside it");
      bath.kind = ReadingKind::below_detection;
      bath.chloride_mg_per_l = bath.detection_limit_mg_per_l;
      return;
    }
    if (set_between(bath, text)) return;
    if (text[0] == '~') return set_rough(bath, text);
    if (text[0] == '<') {
      const double limit = bath.dilution * bounded(field, detail::trim(text.substr(1)), 1e-9, 1e6,
                                                   "'<' and a limit above 0");
      bath.kind = ReadingKind::below_detection;
      bath.chloride_mg_per_l = bath.detection_limit_mg_per_l = limit;
      return;
    }
    const double reading =
        bath.dilution *
        bounded(field, text, 0, 1e6,
                "0 or more mg/L, '<5' for below a limit of 5, or nothing if not measured");
    const double limit = bath.detection_limit_mg_per_l;
    if (reading == 0 && std::isnan(limit)) {
      fail(field,
           "a reading of 0 needs a limit; accepted is '<' and the detection limit of the method");
    }
    const bool below = reading < limit;
    bath.kind = below ? ReadingKind::below_detection : ReadingKind::measured;
    bath.chloride_mg_per_l = below ? limit : reading;
  }

  // What stands in the log and moves no figure is said, lest it be taken for counted.
  static void tell_unused(const detail::LogColumns& columns, BathLog& log) {
    const std::vector<std::string> unused = columns.unused();
    if (!unused.empty()) {
      log.warnings.push_back(
          say("bath.log.unused_columns", {{"columns", detail::join(unused, ", ")}}));
    }
    if (columns.has("ph") || columns.has("colour"))
      log.warnings.push_back(say("bath.log.ph_and_colour"));
    double coldest = kNotGiven;
    double warmest = kNotGiven;
    for (const BathRecord& bath : log.baths) {
      coldest = std::fmin(coldest, bath.temperature_c);  // fmin passes over NaN
      warmest = std::fmax(warmest, bath.temperature_c);
    }
    if (std::isnan(coldest)) return;
    log.warnings.push_back(
        say("bath.log.temperature_not_used",
            {{"coldest_c", format_number(coldest, 3)},
             {"warmest_c", format_number(warmest, 3)},
             {"uneven",
              warmest - coldest > kEvenTemperature ? say("bath.log.uneven_temperature") : ""}}));
  }

  static void ask_volumes(BathLog& log) {
    double smallest = std::numeric_limits<double>::infinity();
    for (const BathRecord& bath : log.baths) smallest = std::min(smallest, bath.volume_l);
    for (const BathRecord& bath : log.baths) {
      const double times = bath.volume_l / smallest;
      if (times < kVolumesApart) continue;
      log.warnings.push_back(
          say("bath.log.volumes_apart", {{"line", std::to_string(bath.line)},
                                         {"volume_l", format_number(bath.volume_l, 4)},
                                         {"times", format_number(times, 4)}}));
    }
  }

  void check_order(BathLog& log) const {
    if (log.baths.size() < 2) return;
    const BathRecord& before = log.baths[log.baths.size() - 2];
    const BathRecord& bath = log.baths.back();
    const double gap = bath.start_day - before.end_day;
    if (gap < 0) {
      fail("start", "'" + bath.start + "' is before the end of the bath before, " + before.end +
                        "; accepted are baths in order of time");
    }
    if (gap > kGapWorthAWord) {
      log.warnings.push_back(say("bath.log.gap", {{"line", std::to_string(csv_.number())},
                                                  {"days", format_number(gap, 3)}}));
    }
  }

  detail::CsvReader csv_;
  std::string file_;
  BathLogPlace place_;
  char separator_ = ',';
  char decimal_mark_ = 0;
  long running_line_ = 0;  // of the first bath without an end; 0: none
  std::vector<FileError> faults_;
  std::vector<std::string> remarks_;
};

}  // namespace

std::string_view to_string(ReadingKind kind) {
  if (kind == ReadingKind::measured) return "measured";
  if (kind == ReadingKind::between) return "between";
  return kind == ReadingKind::below_detection ? "below detection" : "not measured";
}

BathLog read_bath_log(const std::string& path) {
  return parse_bath_log(detail::read_file(path, std::size_t{1} << 26), path);
}

BathLog parse_bath_log(std::string_view text, const std::string& name, const BathLogPlace& place) {
  try {
    return LogReader(text, name, place).read();
  } catch (const FileError& fault) {
    if (!place) throw;
    throw FileError(name, 0, place(fault.line, fault.field), fault.problem);
  }
}

BathLog with_blank(BathLog log, double blank_mg_per_l) {
  if (std::isnan(blank_mg_per_l)) return log;
  if (!(blank_mg_per_l >= 0)) throw InputError("blank_mg_per_l", blank_mg_per_l, "0 or more");
  std::size_t filled = 0;
  for (BathRecord& bath : log.baths) {
    if (!std::isnan(bath.blank_mg_per_l)) continue;
    bath.blank_mg_per_l = blank_mg_per_l;
    ++filled;
  }
  if (filled == 0) return log;
  std::erase_if(log.warnings,
                [](const std::string& text) { return text == say("bath.log.no_blank_column"); });
  log.warnings.push_back(
      say("bath.log.blank_taken",
          {{"mg_per_l", format_number(blank_mg_per_l, 3)}, {"baths", std::to_string(filled)}}));
  return log;
}

double reading_error_mg_per_l(const BathRecord& bath, double chloride_mg_per_l,
                              const ReadingErrors& errors) {
  if (!std::isnan(bath.error_mg_per_l)) return bath.error_mg_per_l;
  double floor = errors.absolute_mg_per_l;
  // A limit of detection is by custom 3.3 standard errors of a blank.
  if (floor == 0 && !std::isnan(bath.detection_limit_mg_per_l))
    floor = bath.detection_limit_mg_per_l / 3.3;
  return std::hypot(floor, errors.relative * chloride_mg_per_l);
}

}  // namespace aeruca
