#pragma once

/// \file
/// The record of a desalination: what each bath took out, and what the record can and cannot say.
///
/// File: text with one header line naming the columns, in any order, separated by comma or
/// semicolon; with semicolons a decimal comma may be used throughout. Lines that are empty or begin
/// with # are left out.
///   start, end                 dates YYYY-MM-DD, or with a time YYYY-MM-DDThh:mm   (required)
///   read_on                    only where `end` is empty, in the last line: a bath still running
///                              counts up to this day, that of its reading
///   volume_l                   litres                                             (required)
///   chloride_mg_per_l          reading; "<5" is below the detection limit 5, "n.d." below that of
///                              detection_limit_mg_per_l; "30-60" and "30 to 60" lie between two
///                              marks of a strip, ">300" above one; "~37" is a reading to 20 %;
///                              empty is not measured                              (required)
///   error_mg_per_l             standard error of the reading
///   detection_limit_mg_per_l   of the method; a reading below it counts as below detection
///   blank_mg_per_l             chloride of the fresh bath, reagent and water together;
///                              empty or no column: not known (see `with_blank`)
///   dilution                   the sample was diluted this many times: reading, error and
///                              limit are of the diluted sample and are multiplied by it
///                              (1 if absent)
///   temperature_c              of the bath, degrees C: what `bath_posterior.hpp` corrects rates
///                              by; the fit by one model does not, and says so
///   ph, colour                 of the bath, colour in words: compared with what the bath should be
///                              (`log_against_bath.hpp`); they move no other figure
///   method, note               words
/// Dates are of the years 1900 to 2099 and one bath lasts at most 3650 days: what lies outside is a
/// slip of the pen. A volume 500 times the smallest of the log is asked about in a warning.
/// All lines with a fault are listed in one error, each with its first fault; a faulty log is refused
/// whole. Any other column is named in `warnings` as one that no calculation uses.
///
/// No blank known means that the chloride of the fresh bath counts as taken out of the object: the
/// totals are then upper figures and say so; it is never taken for a blank of 0 in silence.
///
/// A low reading is not an empty object; nothing here ever says that a treatment is finished.

#include <cmath>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/errors.hpp"
#include "aeruca/not_given.hpp"

namespace aeruca {

enum class ReadingKind { measured, below_detection, not_measured, between };

/// "measured", "below detection", "not measured" or "between".
[[nodiscard]] std::string_view to_string(ReadingKind kind);

struct BathRecord {
  std::string start, end;  ///< as written
  double start_day = 0;    ///< days since 1970-01-01T00:00
  double end_day = 0;
  double volume_l = 0;
  ReadingKind kind = ReadingKind::not_measured;
  /// Of the bath itself; the limit when below detection; the lower mark when between; NaN not measured
  double chloride_mg_per_l = 0;
  /// When between: the upper mark, infinity above the last one; otherwise NaN
  double at_most_mg_per_l = kNotGiven;
  double error_mg_per_l = 0;            ///< standard error; NaN not stated
  double detection_limit_mg_per_l = 0;  ///< of the bath itself; NaN not stated
  /// Of the fresh bath; NaN: not known, see `with_blank`
  double blank_mg_per_l = kNotGiven;
  double temperature_c = kNotGiven;  ///< NaN: not stated
  double ph = kNotGiven;             ///< NaN: not stated
  std::string colour;                ///< in the log's own words
  double dilution = 1;
  std::string method;
  std::string note;
  long line = 0;

  [[nodiscard]] double days() const { return end_day - start_day; }
  /// What is taken off the reading; 0 where no blank is known.
  [[nodiscard]] double blank_or_zero() const {
    return std::isnan(blank_mg_per_l) ? 0 : blank_mg_per_l;
  }
};

struct BathLog {
  std::string file;
  std::vector<BathRecord> baths;
  std::vector<std::string> warnings;
};

/// Reads a log. Throws FileError naming file, line and column.
[[nodiscard]] BathLog read_bath_log(const std::string& path);

/// Words for the place of a fault where the text is no file's own: line (0: of no line) and column
/// (may be empty), as "sheet 'baths', cell D7".
using BathLogPlace = std::function<std::string(long line, const std::string& column)>;

/// The same from text; `name` stands for the file in messages, and `place`, where there is one, for
/// line and column.
[[nodiscard]] BathLog parse_bath_log(std::string_view text, const std::string& name,
                                     const BathLogPlace& place = {});

/// The log with this blank (mg/L) in every bath that states none. Throws InputError for a blank
/// below 0; NaN changes nothing.
[[nodiscard]] BathLog with_blank(BathLog log, double blank_mg_per_l);

/// How good readings are where the log does not say.
struct ReadingErrors {
  double relative = 0.05;  ///< of a reading, standard
  /// Floor, standard; 0: the detection limit over 3.3, if there is one
  double absolute_mg_per_l = 0;
  double volume_relative = 0.02;  ///< of each bath's volume, standard
};

/// Standard error of a reading that shows `chloride_mg_per_l` in this bath (mg/L).
[[nodiscard]] double reading_error_mg_per_l(const BathRecord& bath, double chloride_mg_per_l,
                                            const ReadingErrors& errors);

/// One bath's share.
struct BathExtract {
  double mg = 0;        ///< (reading - blank) x volume; NaN when not measured; 0 below detection
  double error_mg = 0;  ///< standard
  double most_mg = 0;   ///< below detection: the limit x volume; otherwise mg
  double cumulative_mg = 0;  ///< up to and with this bath, unmeasured and undetected taken as 0
  double cumulative_error_mg = 0;
  double share_percent = 0;  ///< of the total
  double sqrt_days = 0;      ///< square root of the bath time so far
};

struct BathSummary {
  std::vector<BathExtract> baths;
  double total_mg = 0;        ///< lower bound where baths were not measured or below detection
  double total_error_mg = 0;  ///< standard, of the measured part
  double undetected_mg = 0;   ///< the most that baths below detection may have held besides
  double total_mg_per_g = 0;  ///< NaN without object mass
  double total_error_mg_per_g = 0;
  /// Limit of the last bath x its volume: what one such bath can hide; NaN not stated
  double detection_mg = 0;
  double detection_mg_per_g = 0;
  /// Share of variance that a line through zero against the square root of time leaves unexplained;
  /// 0 is straight. NaN with fewer than 3 measured baths.
  double sqrt_line_residual = 0;
  /// Extract rises faster than sqrt(t) at first: chloride deep down, or a dry start
  bool slow_start = false;
  double late_ratio = 0;  ///< mean ratio of successive extracts of the last three equal baths; NaN
  double late_ratio_error = 0;
  bool ratio_steady = false;  ///< those ratios agree within their errors
  double tail_mg = 0;         ///< last x r/(1-r): a lower bound on what is still extractable; NaN
  double tail_low_mg = 0;     ///< 5 % point of its spread from the reading errors
  double tail_high_mg = 0;    ///< 95 % point
  std::vector<std::string> warnings;
};

/// Sums, shares, straightness, late ratio and tail. `object_mass_g` NaN: per-gram figures are NaN.
/// Throws InputError for an object mass not above 0 or a log without baths.
[[nodiscard]] BathSummary summarise_bath_log(const BathLog& log, double object_mass_g = kNotGiven,
                                             const ReadingErrors& errors = {});

}  // namespace aeruca
