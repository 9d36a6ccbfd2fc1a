// Any bytes as a logger file: a record whose readings hold what its header promises and whose every
// lost line is a fault of that line, or our own error.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include "aeruca/errors.hpp"
#include "aeruca/store.hpp"
#include "demand.hpp"

namespace {

// No line of data vanishes without a word.
void check_faults(const aeruca::LoggerRecord& record) {
  std::vector<long> dropped;
  for (const aeruca::LoggerFault& fault : record.faults) {
    if (fault.action == aeruca::FaultAction::dropped) dropped.push_back(fault.line);
  }
  demand(dropped.size() == record.dropped);
  demand(std::adjacent_find(dropped.begin(), dropped.end()) == dropped.end());
}

void check(const aeruca::LoggerRecord& record) {
  check_faults(record);
  demand(record.size() > 0 && record.rows == record.size() + record.dropped);
  demand(record.temperature_c.size() == record.size() && record.rh_percent.size() == record.size());
  for (std::size_t i = 0; i < record.size(); ++i) {
    demand(i == 0 || record.times_s[i] > record.times_s[i - 1]);
    demand(record.rh_percent[i] >= 0 && record.rh_percent[i] <= 103);
    demand(!(record.temperature_c[i] < -40 || record.temperature_c[i] > 80));
  }
  aeruca::StoreOptions options;
  options.onset = aeruca::onset_curve(42.0);
  const aeruca::StoreAssessment a = aeruca::assess_store(record, options);
  demand(a.coverage >= 0 && a.coverage <= 1 + 1e-9);
  if (a.readings > 0)
    demand(a.above_low.share.as_read >= 0 && a.above_low.share.as_read <= 1 + 1e-9);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return answer_or_refuse(data, size, [](std::string_view text) {
    aeruca::LoggerReadOptions options;
    options.max_bad_share = 1;
    options.listed_faults = text.size();
    check(aeruca::parse_logger_csv(text, "fuzz", options));
  });
}
