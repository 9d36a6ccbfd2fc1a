#include "render/describe_store.hpp"

#include <algorithm>
#include <cmath>

#include "render/sheet.hpp"
#include "store/file_meeting_text.hpp"

namespace aeruca::detail {

std::string Description<OnsetCurve>::said(const OnsetCurve& curve) {
  const auto& low = curve.low_rh_percent;
  const auto& high = curve.high_rh_percent;
  if (low.empty() || high.empty()) return curve.id + ": empty";
  const double top = *std::max_element(high.begin(), high.end());
  return curve.id + ": " + format_number(*std::min_element(low.begin(), low.end()), 4) +
         " % RH to " +
         (std::isnan(high.front()) ? "no upper end" : format_number(top, 4) + " % RH");
}

std::string Description<SensorRange>::said(const SensorRange& range, const Label& label) {
  if (std::isnan(range.as_read)) return "not known";
  return with_unit(format_number(range.as_read, 3), label.unit) + " (" +
         format_number(range.if_reads_high, 3) + " to " + format_number(range.if_reads_low, 3) +
         " within the sensor's accuracy)";
}

std::string Description<Spell>::said(const Spell& spell) {
  return format_number(spell.hours, 4) + " h from " + format_time(spell.start_s) +
         (spell.touches_gap ? ", borders a gap" : "");
}

std::string Description<Percentiles>::said(const Percentiles& percentiles, const Label& label) {
  if (std::isnan(percentiles.p50)) return "not known";
  return with_unit(format_number(percentiles.p50, 3), label.unit) + " (" +
         format_number(percentiles.p5, 3) + " to " + format_number(percentiles.p95, 3) +
         " for 90 % of the time)";
}

std::string Description<StoreAssessment>::said(const StoreAssessment& assessment) {
  return std::string(to_string(assessment.verdict)) + ": " + assessment.reason;
}

std::string Description<LoggerRecord>::said(const LoggerRecord& record) {
  return std::to_string(record.size()) + " readings every " +
         format_number(record.interval_s / 3600, 4) + " h, " + std::to_string(record.dropped) +
         " of " + std::to_string(record.rows) + " dropped";
}

std::string Description<JoinedFile>::said(const JoinedFile& file) {
  if (!file.problem.empty()) return "could not be used: " + file.problem;
  return file.file + ": " + std::to_string(file.readings) + " readings from " +
         format_time(file.start_s) + " to " + format_time(file.end_s);
}

std::string Description<FileMeeting>::said(const FileMeeting& meeting) {
  return file_meeting_text(meeting);
}

}  // namespace aeruca::detail
