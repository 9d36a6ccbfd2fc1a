#include "aeruca/many_loggers.hpp"

#include "base/side_by_side.hpp"
#include "base/words.hpp"
#include "store/logger_series.hpp"
#include "store/store_options.hpp"

namespace aeruca {

std::vector<LoggerOutcome> read_loggers(const std::vector<std::string>& paths,
                                        const LoggerReadOptions& options, int threads,
                                        const std::function<void()>& between) {
  detail::check_options(options);
  std::vector<LoggerOutcome> outcomes(paths.size());
  detail::side_by_side(
      paths.size(), threads,
      [&](std::size_t i) {
        outcomes[i].path = paths[i];
        detail::answer_or_problem(outcomes[i].record, outcomes[i].problem,
                                  [&] { return read_logger_csv(paths[i], options); });
      },
      between);
  return outcomes;
}

std::vector<StoreOutcome> assess_stores(std::span<const LoggerRecord* const> records,
                                        const StoreOptions& options, int threads,
                                        const std::function<void()>& between) {
  detail::check_options(options);
  std::vector<StoreOutcome> outcomes(records.size());
  detail::side_by_side(
      records.size(), threads,
      [&](std::size_t i) {
        if (records[i] == nullptr) {
          outcomes[i].problem = detail::say("store.no_record");
          return;
        }
        detail::answer_or_problem(outcomes[i].assessment, outcomes[i].problem,
                                  [&] { return assess_store(*records[i], options); });
      },
      between);
  return outcomes;
}

}  // namespace aeruca
