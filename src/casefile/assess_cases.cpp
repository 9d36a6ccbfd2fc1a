#include <algorithm>
#include <atomic>
#include <thread>

#include "aeruca/assessment.hpp"
#include "aeruca/words.hpp"
#include "base/calendar.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

CaseOutcome outcome_of(const std::string& path, const std::shared_ptr<const Dataset>& dataset,
                       const std::string& date) {
  CaseOutcome outcome;
  outcome.path = path;
  try {
    outcome.assessment = assess_case(read_case_file(path), dataset, date);
  } catch (const std::exception& problem) {  // no file may take the others down
    outcome.problem = problem.what();
  }
  return outcome;
}

std::size_t thread_count(int asked, std::size_t cases) {
  if (asked < 0 || asked > 256) throw InputError("threads", asked, "0 to 256");
  const std::size_t many = asked > 0 ? static_cast<std::size_t>(asked)
                                     : std::max(1U, std::thread::hardware_concurrency());
  return std::min(many, cases);
}

}  // namespace

std::vector<CaseOutcome> assess_cases(const std::vector<std::string>& paths,
                                      const std::shared_ptr<const Dataset>& dataset,
                                      const std::string& date, int threads) {
  if (!date.empty() && !detail::parse_date(date))
    throw InputError("date", date, "year-month-day such as 2026-03-04");
  std::vector<CaseOutcome> outcomes(paths.size());
  std::atomic<std::size_t> next{0};
  const auto work = [&, language = detail::words_of_this_thread()] {
    const Speaking as_the_caller(language);
    for (std::size_t i = next++; i < paths.size(); i = next++)
      outcomes[i] = outcome_of(paths[i], dataset, date);
  };
  std::vector<std::jthread> workers;
  for (std::size_t t = 1; t < thread_count(threads, paths.size()); ++t) workers.emplace_back(work);
  work();
  workers.clear();  // waits for them
  return outcomes;
}

}  // namespace aeruca
