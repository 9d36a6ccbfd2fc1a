#include "store/logger_plausible.hpp"

#include <algorithm>
#include <chrono>

#include "aeruca/errors.hpp"
#include "base/text.hpp"

namespace aeruca::detail {
namespace {

// Our own working rules. No store has most of its readings above this (degrees C); 70 degrees F and
// most humidities are.
constexpr double kWarmestStoreC = 40;
// Hot and dry as few stores are, and as columns that were exchanged are.
constexpr double kHotC = 32;
constexpr double kDryRh = 30;
constexpr double kCoolestRoom = 10;
// Parts of one, with what an electronic sensor over-reads.
constexpr double kHighestFraction = 1.03;
constexpr std::int64_t kDaySeconds = 86400;

class Questions {
 public:
  Questions(const RawSeries& series, std::size_t too_hot, const LoggerColumns& columns,
            const FieldNames& names, const LoggerReadOptions& options, const std::string& file)
      : s_(series),
        too_hot_(too_hot),
        columns_(columns),
        names_(names),
        options_(options),
        file_(file) {}

  void ask() const {
    if (columns_.temperature != kNoColumn) ask_temperature();
    if (s_.size() == 0) return;
    if (columns_.moisture == Moisture::relative && options_.rh_unit == RhUnit::from_file)
      ask_fraction();
    if (options_.future_times == FutureTimes::ask) ask_future();
  }

 private:
  void ask_fraction() const {
    const auto highest = std::max_element(s_.rh_percent.begin(), s_.rh_percent.end());
    if (*highest <= 0 || *highest > kHighestFraction) return;
    throw FileError(file_, s_.lines[static_cast<std::size_t>(highest - s_.rh_percent.begin())],
                    names_.rh,
                    "the highest humidity of the file is " + format_number(*highest, 4) +
                        ", which looks like parts of one and not percent; accepted is fraction or "
                        "percent in " +
                        option_named("rh_unit"));
  }

  [[nodiscard]] bool columns_given() const {
    return !options_.rh_column.empty() && !options_.temperature_column.empty();
  }

  void ask_temperature() const {
    if (options_.temperature_unit != TemperatureUnit::from_file) return;
    std::size_t warm = too_hot_;
    std::size_t hot_and_dry = 0;
    for (std::size_t i = 0; i < s_.size(); ++i) {
      const double t = s_.temperature_c[i];
      const double rh = s_.rh_percent[i];
      warm += t > kWarmestStoreC ? 1U : 0U;
      hot_and_dry += t > kHotC && rh < kDryRh && rh > kCoolestRoom ? 1U : 0U;
    }
    const std::size_t half = (s_.size() + too_hot_) / 2;
    if (warm > half && !columns_.temperature_unit_said) ask_unit();
    if (columns_given() || columns_.moisture != Moisture::relative) return;
    if (warm > half || hot_and_dry > half) ask_exchanged();
  }

  void ask_unit() const {
    throw FileError(file_, 0, names_.temperature,
                    "most temperatures lie above " + format_number(kWarmestStoreC) +
                        " and nothing says their unit; accepted is fahrenheit or celsius in " +
                        option_named("temperature_unit"));
  }

  void ask_exchanged() const {
    throw FileError(file_, 0, names_.temperature,
                    "most temperatures lie above " + format_number(kHotC) +
                        " degrees C as if temperature and humidity were exchanged; accepted are "
                        "the names of both columns in " +
                        option_named("rh_column") + " and " + option_named("temperature_column"));
  }

  void ask_future() const {
    const std::int64_t now = std::chrono::duration_cast<std::chrono::seconds>(
                                 std::chrono::system_clock::now().time_since_epoch())
                                 .count();
    const auto latest = std::max_element(s_.times_s.begin(), s_.times_s.end());
    // A day for the offset of local times.
    if (*latest <= now + kDaySeconds) return;
    throw FileError(file_, s_.lines[static_cast<std::size_t>(latest - s_.times_s.begin())],
                    names_.time,
                    format_time(*latest) + " lies in the future; accepted is accept in " +
                        option_named("future_times") + " if it is meant");
  }

  const RawSeries& s_;
  std::size_t too_hot_;
  const LoggerColumns& columns_;
  const FieldNames& names_;
  const LoggerReadOptions& options_;
  const std::string& file_;
};

}  // namespace

void ask_if_implausible(const RawSeries& series, std::size_t too_hot, const LoggerColumns& columns,
                        const FieldNames& names, const LoggerReadOptions& options,
                        const std::string& file) {
  Questions(series, too_hot, columns, names, options, file).ask();
}

}  // namespace aeruca::detail
