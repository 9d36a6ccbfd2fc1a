#include "store/verdict.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace aeruca::detail {
namespace {

std::string number(double value, int digits = 3) {
  return format_number(value, digits);
}
std::string percent(double share) {
  return number(100 * share) + " %";
}

// Probabilities are shown to two figures, and never rounded to certainty: the model of the sensor
// may leave none of its errors over, the world always does.
std::string probability(double p) {
  if (p > 0.99) return "above 0.99";
  if (p < 0.01) return "below 0.01";
  return number(p, 2);
}

std::string limit_text(const StoreOptions& options, const std::vector<double>& limit) {
  const auto [lowest, highest] = std::minmax_element(limit.begin(), limit.end());
  if (limit.size() == 1) return number(*lowest, 4) + " % RH";
  return "the limit of " + options.onset.id + " (" + number(*lowest, 4) + " to " +
         number(*highest, 4) + " % RH)";
}

std::string spell_text(const TimeAbove& above) {
  if (above.longest.hours <= 0) return "never as read";
  return percent(above.share.as_read) + " of the known time as read, longest spell " +
         number(above.longest.hours, 4) + " h from " + format_time(above.longest.start_s);
}

// All three side by side: a verdict is a decision by a rule, and a reader weighs it by what else it
// could have been.
std::string chances(const StoreAssessment& a) {
  if (std::isnan(a.probability_active)) {
    return "dormant " + probability(a.probability_dormant) + ", not dormant " +
           probability(a.probability_borderline);
  }
  return "dormant " + probability(a.probability_dormant) + ", borderline " +
         probability(a.probability_borderline) + ", active " + probability(a.probability_active);
}

std::string active_reason(const StoreAssessment& a) {
  const StoreOptions& o = a.options;
  return "with probability " + probability(a.probability_active) + " the surface was above " +
         limit_text(o, o.onset.high_rh_percent) + " for " + number(o.active_spell_h) +
         " h on end or for " + percent(o.active_share) + " of the known time (" +
         spell_text(a.above_high) + ")";
}

std::string dormant_reason(const StoreAssessment& a) {
  const StoreOptions& o = a.options;
  return "with probability " + probability(a.probability_dormant) + " the surface was above " +
         limit_text(o, o.onset.low_rh_percent) + " for less than " + number(o.active_spell_h) +
         " h on end and less than " + percent(o.dormant_share) + " of the known time (" +
         spell_text(a.above_low) + ")";
}

// The record as read: did it keep to the rule for dormant?
bool dormant_as_read(const StoreAssessment& a) {
  return a.above_low.longest.hours < a.options.active_spell_h &&
         a.above_low.share.as_read < a.options.dormant_share;
}

// What stands between this record and dormant: the sensor, or the humidity itself.
std::string kept_from_dormant(const StoreAssessment& a) {
  const std::string above = "above " + limit_text(a.options, a.options.onset.low_rh_percent) + " ";
  if (!dormant_as_read(a)) {
    return "what was read keeps it from dormant: " + above + spell_text(a.above_low);
  }
  if (a.options.accuracy_rh_percent == 0 && a.options.random_rh_percent == 0)
    return above + spell_text(a.above_low);
  return "as read it kept to the rule for dormant (" + above + spell_text(a.above_low) +
         "); the sensor's +/-" + number(a.options.accuracy_rh_percent) +
         " % RH keeps it from dormant";
}

std::string borderline_reason(const StoreAssessment& a) {
  const bool open = std::isnan(a.probability_active);
  std::string text = "neither is sure enough: " + chances(a) + ", where dormant asks for " +
                     number(a.options.dormant_probability);
  text += open ? "" : " and active for " + number(kActiveProbability);
  text += "; " + kept_from_dormant(a);
  return open ? text +
                    "; the source names no humidity above which activity is expected, so active "
                    "cannot be told"
              : text;
}

// Why the record is too little to judge by; empty when it is enough.
std::string too_little(const StoreAssessment& a) {
  if (a.readings == 0) return "no reading of the record can be assessed";
  if (a.known_hours < 24 * a.options.minimum_days) {
    return "the known time is " + number(a.known_hours / 24) + " days; at least " +
           number(a.options.minimum_days) + " are asked";
  }
  if (a.coverage < a.options.minimum_coverage) {
    return "only " + percent(a.coverage) + " of the period is known; at least " +
           percent(a.options.minimum_coverage) + " is asked";
  }
  return "";
}

void warn_of_gaps(StoreAssessment& a) {
  if (a.gaps > 0 && a.longest_gap_hours >= a.options.active_spell_h) {
    a.warnings.push_back("the longest of " + std::to_string(a.gaps) + " gaps lasts " +
                         number(a.longest_gap_hours, 4) + " h: a wet spell can hide in it");
  }
  if (a.readings > 0 && a.period_hours < 300 * 24.0) {
    a.warnings.push_back("the record covers " + number(a.period_hours / 24) +
                         " days: it says nothing of the seasons it leaves out");
  }
}

void warn_of_readings(const LoggerRecord& record, StoreAssessment& a, std::size_t stuck) {
  if (stuck > 0) {
    a.warnings.push_back(
        std::to_string(stuck) +
        " readings lie in stretches where the sensor stood still: " + "taken as not known");
  }
  if (a.left_out > stuck) {
    a.warnings.push_back(
        std::to_string(a.left_out - stuck) +
        " readings have no temperature or lie outside the valid range of temperature: left out");
  }
  if (record.count(FaultKind::clock_change) > 0) {
    a.warnings.push_back("the clock jumped by one hour " +
                         std::to_string(record.count(FaultKind::clock_change)) +
                         " times: spells and cycles there can be wrong by one hour");
  }
}

void warn_of_sensor(StoreAssessment& a) {
  const auto& onset = a.options.onset;
  const double band = onset.high_rh_percent.front() - onset.low_rh_percent.front();
  if (band > 0 && 2 * a.options.accuracy_rh_percent > band) {
    a.warnings.push_back("the sensor's +/-" + number(a.options.accuracy_rh_percent) +
                         " % RH is wider than the onset band of " + number(band) +
                         " % RH: check it against a salt of known humidity");
  }
  if (a.share_condensing > 0) {
    a.warnings.push_back("for " + percent(a.share_condensing) +
                         " of the known time water would condense on the surface");
  }
}

}  // namespace

void judge(const LoggerRecord& record, StoreAssessment& a) {
  const std::string lack = too_little(a);
  if (a.readings > 0 && a.probability_active >= kActiveProbability) {
    a.verdict = Verdict::active;
    a.reason = active_reason(a);
  } else if (!lack.empty()) {
    a.verdict = Verdict::not_known;
    a.reason = lack;
  } else if (a.probability_dormant >= a.options.dormant_probability) {
    a.verdict = Verdict::dormant;
    a.reason = dormant_reason(a);
  } else {
    a.verdict = Verdict::borderline;
    a.reason = borderline_reason(a);
  }
  std::size_t stuck = 0;
  for (const Stretch& stretch : record.stuck) stuck += stretch.last - stretch.first + 1;
  warn_of_gaps(a);
  warn_of_readings(record, a, stuck);
  warn_of_sensor(a);
}

}  // namespace aeruca::detail
