#include "aeruca/assessment.hpp"
#include "base/calendar.hpp"
#include "base/side_by_side.hpp"

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

}  // namespace

std::vector<CaseOutcome> assess_cases(const std::vector<std::string>& paths,
                                      const std::shared_ptr<const Dataset>& dataset,
                                      const std::string& date, int threads) {
  if (!date.empty() && !detail::parse_date(date))
    throw InputError("date", date, "year-month-day such as 2026-03-04");
  std::vector<CaseOutcome> outcomes(paths.size());
  detail::side_by_side(paths.size(), threads,
                       [&](std::size_t i) { outcomes[i] = outcome_of(paths[i], dataset, date); });
  return outcomes;
}

}  // namespace aeruca
