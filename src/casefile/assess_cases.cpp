#include "aeruca/assessment.hpp"
#include "base/calendar.hpp"
#include "base/side_by_side.hpp"

namespace aeruca {

std::vector<CaseOutcome> assess_cases(const std::vector<std::string>& paths,
                                      const std::shared_ptr<const Dataset>& dataset,
                                      const std::string& date, int threads,
                                      const WorkbookReader& workbook) {
  if (!date.empty() && !detail::parse_date(date))
    throw InputError("date", date, "year-month-day such as 2026-03-04");
  std::vector<CaseOutcome> outcomes(paths.size());
  detail::side_by_side(paths.size(), threads, [&](std::size_t i) {
    outcomes[i].path = paths[i];
    detail::answer_or_problem(outcomes[i].assessment, outcomes[i].problem, [&] {
      CaseFile file = read_case_file(paths[i]);
      file.store.reading.workbook = workbook;
      return assess_case(file, dataset, date);
    });
  });
  return outcomes;
}

}  // namespace aeruca
