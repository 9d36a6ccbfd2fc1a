#pragma once

/// \file
/// What may still be inside an object, given its bath log: a posterior over several ways in which
/// chloride may leave, and the refusal to say more than the readings carry.
///
/// Models, each a way of release with its own unknowns beside load, rate D/L^2 and capacity:
///
/// | model      | what it is                                              | further unknowns        |
/// |------------|---------------------------------------------------------|-------------------------|
/// | slab       | even layer on metal, or even sheet                      |                         |
/// | cylinder   | even rod                                                |                         |
/// | sphere     | even ball                                               |                         |
/// | at_metal   | layer with all its chloride at the metal                |                         |
/// | film       | even layer behind a film of still water                 | Biot number             |
/// | spread     | even layers whose rates are spread log-normally         | spread of ln rate       |
/// | two_stores | a quick layer and a slow one                            | slow share, slowness    |
/// | reserve    | a solid that holds the pore water at its solubility     | solid over dissolved    |
///
/// They make three *stories*: diffusion of what is mobile (the first five), a slow part behind a
/// quick one (spread, two_stores), a solid reserve. Where stories disagree on what is left, each is
/// told with its probability and its own range, never one range for two.
///
/// Priors (`BathPriors`) are of the body, each unknown log-normal but the slow share, which is
/// logistic-normal: they depend on the log only through the volume of its first bath, because baths
/// are chosen to suit the object. So a bath appended to the log, unread or endless, moves none of
/// them. Every figure in them is a judgement of ours (basis: memory), stated so that it can be
/// replaced; all models are equally likely beforehand.
///
/// Likelihood. A reading is normal about what the model expects, with its stated error, or with a
/// scatter that is itself inferred where none is stated; 2 % of the volume is added; three readings
/// in a hundred may be off by four times as much. A reading below detection, above a limit or
/// between two limits counts by the probability of falling there.
///
/// Method. `numerics/adaptive_sampling.hpp` for each model, over its standardised unknowns; the load
/// is summed over a grid at each point. The integrals weigh the models. `effective` is the effective
/// number of draws. Seeded: the same log and seed give the same answer.
///
/// Refusals. A model whose best treatment the readings contradict (p below 0.01) is left out. When
/// all are, no range is given. When fewer than two readings were measured the answer is an upper
/// bound.
///
/// Accuracy of the ranges: tests/calibration (simulated treatments by another method). This is
/// diffusion of what is mobile or dissolves; it knows no chemistry and no lost layer.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "aeruca/bath_fit.hpp"
#include "aeruca/bath_log.hpp"

namespace aeruca {

enum class BathModel { slab, cylinder, sphere, at_metal, film, spread, two_stores, reserve };
enum class BathStory { diffusion, slow_part, reserve };

/// "slab", "cylinder", "sphere", "at metal", "film", "spread", "two stores" or "reserve".
[[nodiscard]] std::string_view to_string(BathModel model);
/// "diffusion", "slow part" or "reserve".
[[nodiscard]] std::string_view to_string(BathStory story);
/// The story a model belongs to.
[[nodiscard]] BathStory story_of(BathModel model);
/// The model of that name. Throws UnknownName.
[[nodiscard]] BathModel bath_model(std::string_view name);

/// A quantity log-normal beforehand: half below the median, two thirds within the factor.
struct LogNormalPrior {
  double median = 1;  ///< above 0
  double factor = 2;  ///< above 1
};

struct BathPriors {
  LogNormalPrior rate_per_day{0.01, 6};            ///< D/L^2
  LogNormalPrior load_mg_per_first_litre{100, 8};  ///< load over the volume of the first bath
  LogNormalPrior first_alpha{30, 3};               ///< first bath over the body's capacity
  LogNormalPrior biot{6, 3};
  LogNormalPrior spread{1, 1.5};        ///< of ln rate
  LogNormalPrior slow_odds{0.67, 2.7};  ///< slow share over quick share, of the load
  LogNormalPrior slowness{30, 2.5};     ///< rate of the quick store over that of the slow
  LogNormalPrior solid_over_dissolved{10, 2.7};
  LogNormalPrior scatter{0.05, 1.6};  ///< relative error of readings where none is stated
};

struct BathInferenceOptions {
  std::vector<BathModel> models;  ///< empty: all
  BathPriors priors;
  /// Where a log states no error, scatter is inferred: `relative`, where it is not the usual one, is
  /// then the median of its prior (and `priors.scatter` is left as it is)
  ReadingErrors errors;
  double object_mass_g = kNotGiven;
  double object_area_cm2 = kNotGiven;
  std::size_t draws = 2000;  ///< 200 to 20 000
  std::uint64_t seed = 20'260'112;
};

/// One body that may be the object, as likely as any other draw.
struct BathDraw {
  BathModel model = BathModel::slab;
  double load_mg = 0;
  double left_mg = 0;
  double rate_per_day = 0;  ///< D/L^2 at the temperature of the first bath
  double capacity_l = 0;    ///< K times the volume of the body
  double first_extra = 0;   ///< further unknowns of the model, in the order of the table above
  double second_extra = 0;
  double scatter = 0;  ///< relative error of readings; 0 where all errors are stated
};

struct BathModelBelief {
  BathModel model = BathModel::slab;
  double probability = 0;   ///< of all models that were not refused
  double p_value = 0;       ///< of the best treatment; NaN: too few readings to tell
  bool refused = false;     ///< p below 0.01
  double effective = 0;     ///< effective number of draws
  double log_evidence = 0;  ///< ln of the mean likelihood
  Range left_mg;
  Range share_out_percent;
};

struct BathStoryBelief {
  BathStory story = BathStory::diffusion;
  double probability = 0;
  Range left_mg;
  Range share_out_percent;
  std::string sentence;
};

struct BathPosterior {
  Status status = Status::converged;
  std::string message;      ///< one sentence
  bool one_story = true;    ///< the stories agree on what is left, or only one is likely
  bool bound_only = false;  ///< too few readings: what is left is at most `left_mg.high`
  Range load_mg;            ///< NaN all three unless one story or a bound
  Range left_mg;
  Range left_mg_per_g;    ///< NaN without object mass
  Range left_mg_per_cm2;  ///< NaN without object area
  Range share_out_percent;
  std::vector<BathModelBelief> models;   ///< in the order of the table
  std::vector<BathStoryBelief> stories;  ///< those of at least 5 %, likeliest first
  std::vector<Range> readings_mg_per_l;  ///< true reading at the end of each bath
  std::vector<BathDraw> draws;           ///< equally likely
  double effective = 0;                  ///< smallest of the models that carry 10 % or more
  double prior_share = 0;  ///< spread of ln load left of the prior's: 1 the readings say nothing
  std::vector<std::string> warnings;  ///< why the models are to be doubted
  std::vector<std::string> remarks;   ///< what the reader must know besides
};

/// Throws InputError for options outside their ranges; status `infeasible`, with the reason, when
/// nothing was read or every model is refused.
[[nodiscard]] BathPosterior infer_bath_log(const BathLog& log,
                                           const BathInferenceOptions& options = {});

}  // namespace aeruca
