#pragma once

/// \file
/// What to do with a bath: change it, leave it, or stop; what is left with its chance; and when.
///
/// Question answered: given what a bath log allows (`bath_posterior.hpp`), what would each choice
/// gain, which published rule of stopping is met and with what probability, how long until what is
/// left is below a target, and which measurement would tell most?
///
/// Everything is worked out on the equally likely bodies of the posterior, each carried on through
/// the baths to come. Where its stories disagree, chances are over all of them and dates are
/// refused. A stop is stated by what is left, never by a reading: a short or large bath reads low
/// whatever is inside.
///
/// Rules of our own, stated: a change is worth while when it takes out more than 5 % of what is left
/// by the end of the time considered, and said so when that is the case in 9 of 10 bodies; not, when
/// in 1 of 10. A date is given only where one story serves, nothing was warned of, half of the load
/// or more is out, and the readings have narrowed the load to a third of what was held possible.
///
/// Rules of stopping are figures of the data set (`data/endpoints.toml`), most of them made for
/// iron. A limit that the method cannot see is "not seen", with no probability.

#include <string>
#include <vector>

#include "aeruca/bath_posterior.hpp"
#include "aeruca/dataset.hpp"

namespace aeruca {

struct BathDecisionOptions {
  BathInferenceOptions inference;
  double next_volume_l = kNotGiven;   ///< NaN: as the last bath
  double next_days = kNotGiven;       ///< NaN: as the last bath
  double stop_mg_per_l = kNotGiven;   ///< a rule of one's own: last bath below, above its blank
  double target_left_mg = kNotGiven;  ///< stop when what is left is below; NaN: no date asked
  double blank_mg_per_l = kNotGiven;  ///< of the baths to come; NaN: as the last bath
  std::size_t bodies = 240;           ///< of the posterior that are carried on, 50 to 2000
};

/// How likely it is that no more than a share of the first load is left.
struct LeftChance {
  double share_percent = 0;
  double probability = 0;
};

/// One choice for the time considered.
struct BathChoice {
  std::string choice;      ///< "leave", "change now", "change in a week"
  Range left_mg;           ///< at the end of that time
  Range gain_mg;           ///< less left than with "leave"
  double worth_while = 0;  ///< probability that the gain exceeds 5 % of what is left
};

enum class BathAdvice { change, leave, cannot_tell, enough };
/// "change", "leave", "cannot tell" or "enough".
[[nodiscard]] std::string_view to_string(BathAdvice advice);

/// A published rule of stopping.
struct EndpointVerdict {
  std::string figure;  ///< id in the data set
  std::string rule;    ///< in words, with its source
  std::string made_for;
  bool seen = true;                ///< the method can see it
  double probability = kNotGiven;  ///< that it is met; NaN: not seen, or object mass not given
  std::string sentence;
};

/// A measurement that could be made, and how far it would narrow what is left.
struct MeasurementValue {
  std::string measurement;
  double narrowing_percent = 0;  ///< expected shortening of the 5-95 % range of what is left
};

struct BathDecision {
  Status status = Status::converged;
  std::string message;  ///< the advice in one sentence
  BathPosterior posterior;
  BathAdvice advice = BathAdvice::cannot_tell;
  double next_volume_l = 0;    ///< of the fresh bath considered
  double considered_days = 0;            ///< time over which choices are compared
  Range out_mg;                          ///< taken out so far, by the bodies
  std::vector<LeftChance> left_chances;  ///< 50, 20, 10, 5, 2 and 1 %
  std::vector<BathChoice> choices;
  Range days_saved;  ///< by changing now: how much longer the old bath needs for the same; infinite
  Range next_reading_mg_per_l;  ///< of a fresh bath over that time, with the error of a reading
  std::vector<EndpointVerdict> endpoints;
  double hidden_mg = kNotGiven;  ///< 95 %: left inside while a bath like the next reads nothing
  double detection_limit_mg_per_l = kNotGiven;
  double target_left_mg = kNotGiven;
  double target_probability = kNotGiven;  ///< that what is left is below it now
  ForecastKind forecast = ForecastKind::not_asked;
  std::string forecast_reason;
  Range more_baths, more_days;                 ///< until below the target; NaN unless given
  std::vector<MeasurementValue> measurements;  ///< the most telling first
};

/// Throws InputError for options outside their ranges; status as that of the posterior.
[[nodiscard]] BathDecision decide_bath(const BathLog& log, const Dataset& dataset,
                                       const BathDecisionOptions& options = {});

}  // namespace aeruca
