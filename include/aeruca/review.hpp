#pragma once

/// \file
/// By when must a box be looked at again?
///
/// Joins a forecast of the enclosure to the set-point of the logger inside it. Words. *Review date*:
/// the day by which 5 % of the draws of the forecast have passed the limit, counted from the start;
/// *days unattended*: the days until then. Where fewer have passed within what was looked at, the
/// date is that of the visit asked for (`EnclosureOptions::days`).
///
///   start   given; else the mean of the last day of the record inside, at its last reading
///   limit   given; else the set-point of that record, whole percent below it (eq 4 of store.hpp),
///           so that the review date says when the display of this logger passes its set-point
///
/// The set-point holds the error of the sensor, the draws hold that of leakage, climate, gel and
/// start (enclosure.hpp); they are taken as independent. A sensor that reads low at the start reads low
/// later too: taking it twice errs to the side of the earlier date. Where the spread of the leakage is
/// the default, the date rests on a rule of our own, and says so; it is no surer than the forecast.
/// A record outside of a year or so is taken to come again from the date of the start on
/// (`climate_from`).

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "aeruca/enclosure.hpp"
#include "aeruca/logger.hpp"
#include "aeruca/store.hpp"

namespace aeruca {

/// Where a limit comes from.
enum class LimitFrom { none, given, set_point, onset };
/// "none", "given", "set_point" or "onset".
[[nodiscard]] std::string_view to_string(LimitFrom from);

/// What is known of a box.
struct ReviewRequest {
  Enclosure enclosure;  ///< its start may be left out beside a record
  Climate climate;
  EnclosureOptions options;                 ///< its limit may be left out
  std::optional<std::int64_t> start_s;      ///< when the start was so; not given: see above
  LimitFrom limit_from = LimitFrom::given;  ///< of a limit in `options`: given, or onset
};

struct Review {
  EnclosureForecast forecast;  ///< without a limit where that has been passed already
  double limit_rh_percent = kNotGiven;
  LimitFrom limit_from = LimitFrom::none;
  double start_rh_percent = kNotGiven;
  bool start_from_record = false;
  bool passed = false;                  ///< the start is at or above the limit
  std::optional<std::int64_t> start_s;  ///< not known: no dates
  double days_unattended = kNotGiven;   ///< until 5 % of the draws have passed; infinite: never
  double days_half_passed = kNotGiven;  ///< until half of them have
  double review_days = kNotGiven;       ///< until the review; NaN without draws or limit
  std::string review_date;              ///< YYYY-MM-DD; empty where it is not known
  std::string half_passed_date;         ///< empty also where half never pass
  std::string summary;                  ///< one or two sentences; empty where there is no review
};

/// `inside`: the record of the logger in the box, with `store`, what it says; null where there is
/// none. Throws what `forecast_enclosure` throws; InputError without any start.
[[nodiscard]] Review review_enclosure(const Dataset& dataset, const ReviewRequest& request,
                                      const LoggerRecord* inside = nullptr,
                                      const StoreAssessment* store = nullptr);

}  // namespace aeruca
