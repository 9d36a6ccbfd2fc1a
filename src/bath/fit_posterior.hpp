#pragma once

// The posterior of load and rate for one bath log, as weighted points.

#include <vector>

#include "aeruca/bath_fit.hpp"
#include "bath/modes.hpp"

namespace aeruca::detail {

/// What the baths hold for one rate and one partition, linear in the load: mg in bath = load gain +
/// fill.
struct Response {
  std::vector<double> gain;  ///< per bath of the log, then of the baths to come
  std::vector<double> fill;  ///< mg from the fresh baths' own chloride
  double left = 1;           ///< of the load, at the end of the log
};

/// Baths of the log, then `future` baths like the next one.
class LogModel {
 public:
  LogModel(const BathLog& log, const BathFitOptions& options, std::size_t future);
  [[nodiscard]] Response response(double rate_per_day, double mean_alpha);

  std::vector<BathRecord> baths;  ///< with those to come
  std::size_t logged = 0;
  double total_days = 0;    ///< of the logged ones
  double extracted_mg = 0;  ///< measured

 private:
  PorousBody body_;
  ModeLibrary library_;
  double mean_volume_l_ = 0;
};

struct PosteriorPoint {
  std::size_t response = 0;  ///< position in Posterior::responses
  std::size_t rate_index = 0, load_index = 0;
  double rate_per_day = 0;
  double load_mg = 0;
  double log_density = 0;
  double weight = 0;  ///< all add up to 1
};

struct Posterior {
  std::vector<Response> responses;
  std::vector<std::size_t> partition;  ///< of each response: position in the options' alphas
  std::vector<PosteriorPoint> points;
  std::size_t best = 0;
  double log_load_low = 0, log_load_high = 0, log_rate_low = 0,
         log_rate_high = 0;  ///< prior ranges
};

/// mg/L in bath k.
double expected_mg_per_l(const LogModel& model, const Response& response, double load_mg,
                         std::size_t k);

/// Standard error of a reading of bath k expected to be `mg_per_l`, volume counted.
double reading_sigma(const BathRecord& bath, double mg_per_l, const ReadingErrors& errors);

Posterior make_posterior(LogModel& model, const BathFitOptions& options);

/// Median and 5-95 % range of values carried by weights (need not add up to 1).
Range weighted_range(std::vector<std::pair<double, double>> value_and_weight);

}  // namespace aeruca::detail
