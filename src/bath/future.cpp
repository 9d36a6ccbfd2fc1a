#include "bath/future.hpp"

#include <algorithm>
#include <cmath>

namespace aeruca::detail {

Future::Future(const BathLog& log, const BathPosterior& posterior, const ReadingErrors& errors,
               std::size_t bodies)
    : treatment_(observe(log, errors)) {
  const ObservedStep& last = treatment_.steps.back();
  speed_ = last.days / log.baths.back().days();
  speed_to_come_ = speed_;
  last_blank_ = last.fill_mg / last.volume_l;
  const std::size_t count = std::min(bodies, posterior.draws.size());
  for (std::size_t i = 0; i < count; ++i)
    bodies_.push_back(posterior.draws[i * posterior.draws.size() / count]);
}

ObservedStep Future::fresh(double volume_l, double days, double blank_mg_per_l) const {
  const ObservedStep& last = treatment_.steps.back();
  ObservedStep step = last;
  step.volume_l = std::isnan(volume_l) ? last.volume_l : volume_l;
  step.days = (std::isnan(days) ? last.days / speed_ : days) * speed_to_come_;
  step.fill_mg = (std::isnan(blank_mg_per_l) ? last_blank_ : blank_mg_per_l) * step.volume_l;
  step.carry_over = 0;
  step.bath = last.bath + 1;
  return step;
}

Future::Course Future::course(double more_days, const std::vector<ObservedStep>& to_come) const {
  std::vector<ObservedStep> steps = treatment_.steps;
  steps.back().days += more_days * speed_;
  const std::size_t known = steps.size();
  steps.insert(steps.end(), to_come.begin(), to_come.end());
  const std::size_t first = to_come.empty() ? known - 1 : known;
  Course course;
  for (const BathDraw& body : bodies_) {
    const UnitRelease release = unit_release(
        body.model, {body.rate_per_day, body.capacity_l, body.first_extra, body.second_extra, 0},
        steps, Fineness::reading);
    auto& left = course.left_mg.emplace_back();
    auto& reading = course.reading_mg_per_l.emplace_back();
    for (std::size_t k = first; k < steps.size(); ++k) {
      left.push_back(release.left_mg(body.load_mg, k));
      reading.push_back(expected_mg_per_l(steps[k], release, k, body.load_mg));
    }
  }
  return course;
}

Range scaled(const Range& range, double factor) {
  return {range.low * factor, range.median * factor, range.high * factor};
}

Range range_of_values(std::vector<double> values) {
  if (values.empty()) return {};
  std::sort(values.begin(), values.end());
  const auto at = [&](double share) {
    const double place = std::clamp(share * static_cast<double>(values.size()) - 0.5, 0.0,
                                    static_cast<double>(values.size() - 1));
    const auto low = static_cast<std::size_t>(place);
    const std::size_t high = std::min(low + 1, values.size() - 1);
    const double part = place - static_cast<double>(low);
    if (part == 0 || values[low] == values[high]) return values[low];
    return values[low] + part * (values[high] - values[low]);
  };
  return {at(0.05), at(0.5), at(0.95)};
}

}  // namespace aeruca::detail
