#include "aeruca/many_loggers.hpp"

#include <exception>

#include "base/side_by_side.hpp"
#include "base/words.hpp"
#include "store/logger_series.hpp"
#include "store/store_options.hpp"

namespace aeruca {
namespace {

// No file and no record may take the others down.
template <class Answer, class Work>
void answer_or_problem(std::optional<Answer>& answer, std::string& problem, Work&& work) {
  try {
    answer = work();
  } catch (const std::exception& refused) {
    problem = refused.what();
  }
}

}  // namespace

std::vector<LoggerOutcome> read_loggers(const std::vector<std::string>& paths,
                                        const LoggerReadOptions& options, int threads,
                                        const std::function<void()>& between) {
  detail::check_options(options);
  std::vector<LoggerOutcome> outcomes(paths.size());
  detail::side_by_side(
      paths.size(), threads,
      [&](std::size_t i) {
        outcomes[i].path = paths[i];
        answer_or_problem(outcomes[i].record, outcomes[i].problem,
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
        answer_or_problem(outcomes[i].assessment, outcomes[i].problem,
                          [&] { return assess_store(*records[i], options); });
      },
      between);
  return outcomes;
}

}  // namespace aeruca
