#include "aeruca/bath_course.hpp"

#include "bath/future.hpp"

namespace aeruca {
namespace {

struct Piece {
  detail::ObservedStep step;
  double day = 0;
  bool to_come = false;
};

// A bath in pieces: the first is filled, the others keep all the liquid.
void cut(const detail::ObservedStep& step, double start_day, double days, bool to_come,
         std::size_t points, std::vector<Piece>& pieces) {
  const auto count = static_cast<double>(points);
  for (std::size_t i = 0; i < points; ++i) {
    Piece piece{step, start_day + days * static_cast<double>(i + 1) / count, to_come};
    piece.step.days = step.days / count;
    if (i > 0) piece.step.carry_over = 1;
    pieces.push_back(piece);
  }
}

void check(const char* name, std::size_t value, std::size_t least, std::size_t most,
           const char* accepted) {
  if (value < least || value > most) throw InputError(name, static_cast<double>(value), accepted);
}

}  // namespace

std::vector<BathCoursePoint> bath_course(const BathLog& log, const BathPosterior& posterior,
                                         const BathCourseOptions& options) {
  check("points", options.points, 1, 100, "1 to 100");
  check("baths_to_come", options.baths_to_come, 0, 60, "0 to 60");
  check("bodies", options.bodies, 20, 2000, "20 to 2000");
  if (posterior.draws.empty()) return {};
  const detail::Future future(log, posterior, options.errors, options.bodies);
  std::vector<Piece> pieces;
  for (const detail::ObservedStep& step : future.treatment().steps) {
    const BathRecord& bath = log.baths[step.bath];
    cut(step, bath.start_day, bath.days(), false, options.points, pieces);
  }
  const double days = log.baths.back().days();
  double start = log.baths.back().end_day;
  for (std::size_t n = 0; n < options.baths_to_come; ++n, start += days) {
    detail::ObservedStep step = future.fresh(kNotGiven, kNotGiven, kNotGiven);
    step.bath += n;
    cut(step, start, days, true, options.points, pieces);
  }
  std::vector<detail::ObservedStep> steps;
  steps.reserve(pieces.size());
  for (const Piece& piece : pieces) steps.push_back(piece.step);
  std::vector<detail::UnitRelease> releases;
  for (const BathDraw& body : future.bodies()) {
    releases.push_back(detail::unit_release(
        body.model, {body.rate_per_day, body.capacity_l, body.first_extra, body.second_extra, 0},
        steps, detail::Fineness::reading));
  }
  std::vector<BathCoursePoint> course;
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    std::vector<double> reading;
    std::vector<double> left;
    std::vector<double> out;
    for (std::size_t b = 0; b < releases.size(); ++b) {
      const double load = future.bodies()[b].load_mg;
      reading.push_back(detail::expected_mg_per_l(steps[k], releases[b], k, load));
      left.push_back(releases[b].left_mg(load, k));
      out.push_back(load - left.back());
    }
    course.push_back({pieces[k].day, steps[k].bath, pieces[k].to_come,
                      detail::range_of_values(reading), detail::range_of_values(out),
                      detail::range_of_values(left)});
  }
  return course;
}

}  // namespace aeruca
