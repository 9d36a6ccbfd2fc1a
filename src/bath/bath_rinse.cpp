#include "aeruca/bath_rinse.hpp"

#include <algorithm>
#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr std::size_t kMost = 100;  // rinses: more is a flow
constexpr double kMinutesPerDay = 1440;
constexpr double kMlPerL = 1000;

void want(const char* parameter, double value, double low, double high) {
  const std::string from = low > 0 ? "" : "0 to ";
  if (value >= low && value <= high) return;
  throw InputError(parameter, value, (from.empty() ? "above 0 to " : from) + format_number(high));
}

constexpr double kAboveZero = 1e-12;

double pore_volume_ml(const RinseRequest& request) {
  const bool parts = !std::isnan(request.porosity) || !std::isnan(request.body_cm3);
  if (parts != std::isnan(request.pore_ml))
    throw InputError("pore_ml", parts ? "both" : "nothing",
                     "pore_ml, or porosity and body_cm3, one of the two");
  if (!parts) {
    want("pore_ml", request.pore_ml, kAboveZero, 1e6);
    return request.pore_ml;
  }
  want("porosity", request.porosity, kAboveZero, 1);
  want("body_cm3", request.body_cm3, kAboveZero, 1e6);
  return request.porosity * request.body_cm3;
}

void check(const RinseRequest& request) {
  if (!(request.pore_factor >= 1 && request.pore_factor <= 10))
    throw InputError("pore_factor", request.pore_factor, "1 to 10");
  want("start_mg_per_l", request.start_mg_per_l, kAboveZero, 1e6);
  want("rinse_l", request.rinse_l, kAboveZero, 1e6);
  want("clinging_ml", request.clinging_ml, 0, 1e6);
  want("water_mg_per_l", request.water_mg_per_l, 0, 1e6);
  if (request.rinses && (*request.rinses < 1 || *request.rinses > kMost))
    throw InputError("rinses", static_cast<double>(*request.rinses), "1 to 100");
  const bool target = !std::isnan(request.target_percent);
  if (!request.rinses && !target)
    throw InputError("rinses", "nothing", "a number of rinses, 1 to 100, or a target");
  if (target && !(request.target_percent > 0 && request.target_percent < 100))
    throw InputError("target_percent", request.target_percent, "above 0 and below 100");
  const bool rate = !std::isnan(request.rate_per_day);
  if (rate == std::isnan(request.minutes))
    throw InputError(rate ? "minutes" : "rate_per_day", "nothing",
                     "a rate and the minutes of each rinse together, or neither");
  if (!rate) return;
  want("rate_per_day", request.rate_per_day, kAboveZero, 1e9);
  want("minutes", request.minutes, kAboveZero, 1e7);
}

// After each rinse: over the concentration at first.
struct Course {
  std::vector<double> pores, rinse;
};

// eq 1
Course mixed(const RinseRequest& request, double pore_ml, std::size_t rinses) {
  const double held = pore_ml + request.clinging_ml;
  const double fresh = kMlPerL * request.rinse_l;
  const double own = request.water_mg_per_l / request.start_mg_per_l;
  Course course;
  double c = 1;
  for (std::size_t k = 0; k < rinses; ++k) {
    c = (c * held + own * fresh) / (held + fresh);
    course.pores.push_back(c);
    course.rinse.push_back(c);
  }
  return course;
}

// Amounts of bath_series are fractions of what the pores held, so a concentration is one of them
// over alpha. The clinging liquid of the first rinse is that of the last bath.
Course diffusing(const RinseRequest& request, double pore_ml, std::size_t rinses) {
  const double fresh = kMlPerL * request.rinse_l;
  const double liquid = fresh + request.clinging_ml;
  const double alpha = liquid / pore_ml;
  const double kept = request.clinging_ml / liquid;
  const double own = request.water_mg_per_l / request.start_mg_per_l;
  const double tau = request.rate_per_day * request.minutes / kMinutesPerDay;
  std::vector<BathStep> steps(rinses, BathStep{alpha, tau, own * alpha, kept});
  steps.front().fill = (kept + (1 - kept) * own) * alpha;
  steps.front().carry_over = 0;
  Course course;
  for (const BathPoint& end : bath_series(request.body, steps).ends) {
    course.pores.push_back(end.left);
    course.rinse.push_back(end.in_bath / alpha);
  }
  return course;
}

// The same with the pore volume as given, and so many times less and more.
struct Courses {
  Course usual, low, high;
};

template <class Way>
Courses courses(Way way, const RinseRequest& request, double pore_ml, std::size_t rinses) {
  return {way(request, pore_ml, rinses), way(request, pore_ml / request.pore_factor, rinses),
          way(request, pore_ml * request.pore_factor, rinses)};
}

RinseLeft left_of(const Courses& way, std::size_t k) {
  return {100 * way.usual.pores[k], 100 * way.low.pores[k], 100 * way.high.pores[k]};
}

std::optional<std::size_t> first_below(const std::vector<double>& left, double target_percent) {
  if (std::isnan(target_percent)) return std::nullopt;
  const auto found = std::find_if(left.begin(), left.end(),
                                  [&](double one) { return 100 * one <= target_percent; });
  if (found == left.end()) return std::nullopt;
  return static_cast<std::size_t>(found - left.begin()) + 1;
}

std::string percent_text(double percent) {
  return detail::significant_text_above(1e-3, percent, 3);
}

std::string needed_sentence(const std::optional<std::size_t>& needed,
                            const std::optional<std::size_t>& at_worst, const std::string& target) {
  if (!needed)
    return say("bath.rinse.not_within",
               {{"most", std::to_string(kMost)}, {"target_percent", target}});
  const std::string worst = at_worst
                                ? std::to_string(*at_worst)
                                : say("bath.rinse.more_than", {{"most", std::to_string(kMost)}});
  return say(
      "bath.rinse.needed",
      {{"rinses", std::to_string(*needed)}, {"at_worst", worst}, {"target_percent", target}});
}

std::string left_sentence(const std::string& key, const RinseLeft& left, double held_mg,
                          std::size_t rinses) {
  return say(key, {{"rinses", std::to_string(rinses)},
                   {"percent", percent_text(left.percent)},
                   {"low_percent", percent_text(left.low_percent)},
                   {"high_percent", percent_text(left.high_percent)},
                   {"mg", detail::significant_text_above(1e-3, left.percent / 100 * held_mg, 2)}});
}

void add_words(const RinseRequest& request, RinseResult& result) {
  const bool rate = !std::isnan(request.rate_per_day);
  const bool target = !std::isnan(request.target_percent);
  const std::string target_text = format_number(request.target_percent, 3);
  const RinseStep& last = result.rinses.back();
  result.read.push_back(left_sentence("bath.rinse.mixed", last.mixed, result.held_mg, last.rinse));
  if (target)
    result.read.push_back(
        needed_sentence(result.needed_mixed, result.needed_mixed_high, target_text));
  if (rate) {
    result.read.push_back(
        left_sentence("bath.rinse.diffusing", last.diffusing, result.held_mg, last.rinse));
    if (target)
      result.read.push_back(
          needed_sentence(result.needed_diffusing, result.needed_diffusing_high, target_text));
  } else {
    result.read.push_back(say("bath.rinse.no_rate"));
  }
  if (request.water_mg_per_l > 0) {
    result.read.push_back(
        say("bath.rinse.own_water", {{"mg_per_l", format_number(request.water_mg_per_l, 3)},
                                     {"percent", percent_text(result.floor_percent)}}));
  }
  result.left_out = {say("bath.rinse.left_out.bound"), say("bath.rinse.left_out.reading")};
}

}  // namespace

RinseResult rinse_pores(const RinseRequest& request) {
  check(request);
  RinseResult result;
  result.pore_ml = pore_volume_ml(request);
  result.held_mg = request.start_mg_per_l * result.pore_ml / kMlPerL;
  result.floor_percent = 100 * request.water_mg_per_l / request.start_mg_per_l;
  const bool rate = !std::isnan(request.rate_per_day);
  const Courses by_mixing = courses(mixed, request, result.pore_ml, kMost);
  result.needed_mixed = first_below(by_mixing.usual.pores, request.target_percent);
  result.needed_mixed_high = first_below(by_mixing.high.pores, request.target_percent);
  Courses by_diffusion;
  if (rate) {
    by_diffusion = courses(diffusing, request, result.pore_ml, kMost);
    result.needed_diffusing = first_below(by_diffusion.usual.pores, request.target_percent);
    result.needed_diffusing_high = first_below(by_diffusion.high.pores, request.target_percent);
  }
  const std::size_t shown = request.rinses.value_or(
      (rate ? result.needed_diffusing : result.needed_mixed).value_or(kMost));
  for (std::size_t k = 0; k < shown; ++k) {
    RinseStep step;
    step.rinse = k + 1;
    step.mixed = left_of(by_mixing, k);
    step.mixed_mg_per_l = request.start_mg_per_l * by_mixing.usual.pores[k];
    if (rate) {
      step.diffusing = left_of(by_diffusion, k);
      step.rinse_mg_per_l = request.start_mg_per_l * by_diffusion.usual.rinse[k];
    }
    result.rinses.push_back(step);
  }
  const RinseStep& last = result.rinses.back();
  result.left_mg = (rate ? last.diffusing : last.mixed).percent / 100 * result.held_mg;
  add_words(request, result);
  return result;
}

}  // namespace aeruca
