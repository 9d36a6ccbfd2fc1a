#include <atomic>

#include "aeruca/assessment.hpp"
#include "base/calendar.hpp"
#include "base/side_by_side.hpp"

namespace aeruca {

void assess_each_case(const std::vector<std::string>& paths,
                      const std::shared_ptr<const Dataset>& dataset, const CaseRun& run,
                      const std::function<void(std::size_t, CaseOutcome)>& take) {
  if (!run.date.empty() && !detail::parse_date(run.date))
    throw InputError("date", run.date, "year-month-day such as 2026-03-04");
  std::atomic<std::size_t> done = 0;
  detail::side_by_side(
      paths.size(), run.threads,
      [&](std::size_t i) {
        CaseOutcome outcome;
        outcome.path = paths[i];
        detail::answer_or_problem(outcome.assessment, outcome.problem, [&] {
          CaseFile file = read_case_file(paths[i], run.case_workbooks);
          file.store.reading.workbook = run.workbook;
          return assess_case(file, dataset, run.date);
        });
        take(i, std::move(outcome));
        ++done;
      },
      [&] {
        if (run.progress) run.progress(done, paths.size());
      });
}

std::vector<CaseOutcome> assess_cases(const std::vector<std::string>& paths,
                                      const std::shared_ptr<const Dataset>& dataset,
                                      const CaseRun& run) {
  std::vector<CaseOutcome> outcomes(paths.size());
  assess_each_case(paths, dataset, run,
                   [&](std::size_t i, CaseOutcome outcome) { outcomes[i] = std::move(outcome); });
  return outcomes;
}

}  // namespace aeruca
