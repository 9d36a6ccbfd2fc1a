#include "aeruca/bath_posterior.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <random>

#include "base/text.hpp"
#include "base/words.hpp"
#include "bath/changed_history.hpp"
#include "bath/forecast.hpp"
#include "bath/future.hpp"
#include "bath/inference_options.hpp"
#include "bath/likelihood.hpp"
#include "bath/release_bodies.hpp"
#include "numerics/adaptive_sampling.hpp"

namespace aeruca {
namespace {

using detail::format_number;
using detail::say;

constexpr double kRefused = 0.01;       // p value below which a model is left out
constexpr double kWorthTelling = 0.05;  // probability of a story below which it is not told
constexpr double kDoubtful = 0.05;      // p value of the best model below which all are doubted
constexpr double kLateHigh = 2.5;       // standard errors by which the last three lie above
constexpr double kWildScatter = 2.5;    // times what is usual
constexpr double kPriorDecides = 0.5;   // spread of ln load over that held possible
constexpr double kFewDraws = 40;        // effective, below which ranges are rough
constexpr double kCarries = 0.1;        // probability from which a model's draws matter

// One model, sampled.
struct Sampled {
  BathModel model;
  std::vector<detail::ModelUnknowns> unknowns;
  std::vector<detail::UnitRelease> releases;
  std::vector<detail::LoadGrid> loads;
  detail::WeighedSample sample;
  double p_value = kNotGiven;
};

class Inference {
 public:
  Inference(const BathLog& log, const BathInferenceOptions& options)
      : log_(log), options_(options), treatment_(detail::observe(log, options.errors)) {
    first_volume_ = treatment_.steps.empty() ? 1 : treatment_.steps.front().volume_l;
  }

  BathPosterior make() {
    if (treatment_.observations.empty()) {
      result_.status = Status::infeasible;
      result_.message = say("bath.posterior.nothing_read");
      return std::move(result_);
    }
    for (const BathModel model : detail::kBathModels) {
      if (options_.models.empty() ||
          std::count(options_.models.begin(), options_.models.end(), model) > 0)
        sampled_.push_back(sample(model));
    }
    weigh_models();
    if (result_.status != Status::converged) return std::move(result_);
    draw();
    tell();
    return std::move(result_);
  }

 private:
  Sampled sample(BathModel model) {
    Sampled out{model, {}, {}, {}, {}, kNotGiven};
    const bool scatter = treatment_.scatter_unknown;
    const std::size_t dimension = 2 + detail::extra_unknowns(model) + (scatter ? 1 : 0);
    const auto likelihood = [&](std::span<const double> point) {
      out.unknowns.push_back(
          detail::unknowns_at(model, point, options_.priors, first_volume_, scatter));
      const detail::ModelUnknowns& at = out.unknowns.back();
      if (!detail::can_be_followed(model, at)) {
        out.releases.emplace_back();
        out.loads.emplace_back();
        return -std::numeric_limits<double>::infinity();
      }
      out.releases.push_back(
          detail::unit_release(model, at, treatment_.steps, detail::Fineness::reading));
      out.loads.push_back(detail::integrate_load(treatment_, out.releases.back(), at.scatter,
                                                 options_.priors.load_mg_per_first_litre,
                                                 first_volume_));
      return out.loads.back().log_integral;
    };
    detail::SamplingEffort effort;
    effort.first = 128U << std::min<std::size_t>(dimension - 2, 2);
    out.sample = detail::sample_adaptively(dimension, likelihood, effort,
                                           options_.seed + static_cast<std::uint64_t>(model));
    judge(out);
    return out;
  }

  // The best treatment found stands for the best there is.
  void judge(Sampled& model) const {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t n = 0; n < model.loads.size(); ++n) {
      const detail::LoadGrid& grid = model.loads[n];
      if (!(model.sample.weight[n] > 1e-6)) continue;
      const auto best = std::max_element(grid.log_density.begin(), grid.log_density.end());
      const double load = std::exp(
          grid.log_first + grid.step * static_cast<double>(best - grid.log_density.begin()));
      // No more scatter than a method has, or any history could be explained by it.
      const double scatter =
          std::min(model.unknowns[n].scatter, kWildScatter * options_.priors.scatter.median);
      least = std::min(least, detail::misfit(treatment_, model.releases[n], load, scatter));
    }
    model.p_value = detail::misfit_p_value(least, treatment_.measured(), 2);
  }

  void weigh_models() {
    double top = -std::numeric_limits<double>::infinity();
    for (const Sampled& model : sampled_) {
      if (!refused(model)) top = std::max(top, model.sample.log_integral);
    }
    double sum = 0;
    for (const Sampled& model : sampled_) {
      BathModelBelief belief;
      belief.model = model.model;
      belief.p_value = model.p_value;
      belief.refused = refused(model);
      belief.effective = model.sample.effective;
      belief.log_evidence = model.sample.log_integral;
      belief.probability = belief.refused ? 0 : std::exp(model.sample.log_integral - top);
      sum += belief.probability;
      result_.models.push_back(belief);
    }
    if (!(sum > 0)) {
      result_.status = Status::infeasible;
      double best = 0;
      for (const Sampled& model : sampled_) {
        if (model.p_value > best) best = model.p_value;
      }
      result_.message = say("bath.posterior.all_refused", {{"p_value", format_number(best, 2)}});
      return;
    }
    result_.effective = std::numeric_limits<double>::infinity();
    for (BathModelBelief& belief : result_.models) {
      belief.probability /= sum;
      if (belief.probability >= kCarries)
        result_.effective = std::min(result_.effective, belief.effective);
    }
  }

  static bool refused(const Sampled& model) {
    return model.p_value < kRefused || !(model.sample.effective > 0);
  }

  // Equally likely bodies: as evenly spaced as the weights allow.
  void draw() {
    std::mt19937_64 random(options_.seed);
    const auto even = [&] { return (static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53; };
    const auto count = static_cast<double>(options_.draws);
    double reached = 0;
    double next = even();
    for (std::size_t m = 0; m < sampled_.size(); ++m) {
      const Sampled& model = sampled_[m];
      for (std::size_t n = 0; n < model.sample.weight.size(); ++n) {
        reached += count * result_.models[m].probability * model.sample.weight[n];
        while (next < reached) {
          take(model, n, even());
          next += 1;
        }
      }
    }
  }

  void take(const Sampled& model, std::size_t n, double share) {
    const detail::LoadGrid& grid = model.loads[n];
    double sum = 0;
    std::size_t i = 0;
    double part = 0;
    for (; i < grid.log_density.size(); ++i) {
      part = std::exp(grid.log_density[i] - grid.log_integral) * grid.step;
      if (sum + part >= share) break;
      sum += part;
    }
    const double inside = part > 0 ? std::clamp((share - sum) / part, 0.0, 1.0) - 0.5 : 0;
    const double load = std::exp(grid.log_first + grid.step * (static_cast<double>(i) + inside));
    const detail::ModelUnknowns& at = model.unknowns[n];
    result_.draws.push_back(
        {model.model, load, model.releases[n].left_mg(load, treatment_.steps.size() - 1),
         at.rate_per_day, at.capacity_l, at.first_extra, at.second_extra, at.scatter});
    taken_.push_back(&model.releases[n]);
  }

  template <typename Value, typename Which>
  Range range(const Value& value, const Which& which) const {
    std::vector<double> values;
    for (std::size_t i = 0; i < result_.draws.size(); ++i) {
      if (which(result_.draws[i])) values.push_back(value(i));
    }
    return detail::range_of_values(std::move(values));
  }

  [[nodiscard]] double left(std::size_t i) const { return result_.draws[i].left_mg; }
  [[nodiscard]] double share_out(std::size_t i) const {
    return 100 * (1 - result_.draws[i].left_mg / result_.draws[i].load_mg);
  }

  void tell() {
    const auto every = [](const BathDraw&) { return true; };
    const auto left_of = [this](std::size_t i) { return left(i); };
    const auto share_of = [this](std::size_t i) { return share_out(i); };
    for (BathModelBelief& belief : result_.models) {
      const auto own = [&](const BathDraw& draw) { return draw.model == belief.model; };
      belief.left_mg = range(left_of, own);
      belief.share_out_percent = range(share_of, own);
    }
    stories();
    for (std::size_t k = 0; k < treatment_.steps.size(); ++k) {
      result_.readings_mg_per_l.push_back(range(
          [&](std::size_t i) {
            return detail::expected_mg_per_l(treatment_.steps[k], *taken_[i], k,
                                             result_.draws[i].load_mg);
          },
          every));
    }
    result_.bound_only = treatment_.bounded_below() < 2;
    result_.prior_share = prior_share();
    if (result_.one_story || result_.bound_only) {
      result_.load_mg = range([this](std::size_t i) { return result_.draws[i].load_mg; }, every);
      result_.left_mg = range(left_of, every);
      result_.share_out_percent = range(share_of, every);
      result_.left_mg_per_g = detail::scaled(result_.left_mg, 1 / options_.object_mass_g);
      result_.left_mg_per_cm2 = detail::scaled(result_.left_mg, 1 / options_.object_area_cm2);
    }
    doubts();
    remarks();
    message();
  }

  // What a reader should hold against the models though none of them is refused.
  void doubts() {
    double best = 0;
    bool told = false;
    for (const BathModelBelief& model : result_.models) {
      told = told || !std::isnan(model.p_value);
      if (model.p_value > best) best = model.p_value;
    }
    if (told && best < kDoubtful)
      result_.warnings.push_back(
          say("bath.warning.doubtful_fit", {{"p_value", format_number(best, 2)}}));
    suspect_change();
    std::vector<double> residuals;
    double scatter = 0;
    for (const BathDraw& draw : result_.draws)
      scatter += draw.scatter / static_cast<double>(result_.draws.size());
    for (const detail::Observation& reading : treatment_.observations) {
      if (!reading.measured()) continue;
      const double mean = result_.readings_mg_per_l[reading.step].median;
      residuals.push_back((reading.low_mg_per_l - mean) /
                          detail::reading_sigma(treatment_, reading, mean, scatter));
    }
    const std::size_t n = residuals.size();
    if (n < 5) return;
    const double late = (residuals[n - 1] + residuals[n - 2] + residuals[n - 3]) / std::sqrt(3.0);
    if (late > kLateHigh) result_.warnings.push_back(say("bath.warning.late_readings"));
    if (scatter > kWildScatter * options_.priors.scatter.median)
      result_.warnings.push_back(
          say("bath.warning.wild_scatter", {{"percent", format_number(100 * scatter, 2)}}));
  }

  // As likely beforehand as one of the models: likelier than all of them together is a warning.
  void suspect_change() {
    const detail::ChangedHistory changed =
        detail::changed_history(treatment_, options_.priors, first_volume_, options_.seed);
    double all = 0;
    for (const BathModelBelief& model : result_.models) {
      if (!model.refused) all += std::exp(model.log_evidence - changed.log_evidence);
    }
    if (all < 1)
      result_.warnings.push_back(
          say("bath.warning.changed", {{"bath", std::to_string(changed.bath + 1)}}));
  }

  void remarks() {
    if (result_.prior_share > kPriorDecides)
      result_.remarks.push_back(say("bath.warning.prior_decides"));
    const auto unknown =
        std::count_if(log_.baths.begin(), log_.baths.end(), [](const BathRecord& bath) {
          return bath.kind == ReadingKind::measured && std::isnan(bath.blank_mg_per_l);
        });
    if (unknown > 0)
      result_.remarks.push_back(
          say("bath.warning.no_blank_load", {{"baths", std::to_string(unknown)}}));
    if (result_.effective < kFewDraws)
      result_.remarks.push_back(
          say("bath.warning.few_draws", {{"draws", format_number(result_.effective, 2)}}));
  }

  [[nodiscard]] double prior_share() const {
    double mean = 0;
    double square = 0;
    for (const BathDraw& draw : result_.draws) {
      mean += std::log(draw.load_mg);
      square += std::log(draw.load_mg) * std::log(draw.load_mg);
    }
    const auto count = static_cast<double>(result_.draws.size());
    mean /= count;
    const double spread = std::sqrt(std::max(0.0, square / count - mean * mean));
    return spread / std::log(options_.priors.load_mg_per_first_litre.factor);
  }

  void stories() {
    for (const BathStory story : {BathStory::diffusion, BathStory::slow_part, BathStory::reserve}) {
      BathStoryBelief belief;
      belief.story = story;
      for (const BathModelBelief& model : result_.models) {
        if (story_of(model.model) == story) belief.probability += model.probability;
      }
      if (belief.probability < kWorthTelling) continue;
      const auto own = [&](const BathDraw& draw) { return story_of(draw.model) == story; };
      belief.left_mg = range([this](std::size_t i) { return left(i); }, own);
      belief.share_out_percent = range([this](std::size_t i) { return share_out(i); }, own);
      belief.sentence = say("bath.posterior.story",
                            {{"story", say("bath.story." + std::string(story_key(story)))},
                             {"share_percent", detail::range_words(belief.share_out_percent)},
                             {"left_mg", detail::range_words(belief.left_mg)}});
      result_.stories.push_back(belief);
    }
    std::stable_sort(result_.stories.begin(), result_.stories.end(),
                     [](const auto& a, const auto& b) { return a.probability > b.probability; });
    // One story when each middle lies within the other's range: then one range serves both.
    const auto within = [](const Range& inner, const Range& outer) {
      return inner.median >= outer.low && inner.median <= outer.high;
    };
    for (const BathStoryBelief& a : result_.stories) {
      for (const BathStoryBelief& b : result_.stories)
        result_.one_story = result_.one_story && within(a.left_mg, b.left_mg);
    }
  }

  static std::string_view story_key(BathStory story) {
    return story == BathStory::slow_part ? "slow_part" : to_string(story);
  }

  void message() {
    if (result_.bound_only) {
      result_.message =
          say("bath.posterior.bound", {{"high_mg", format_number(result_.left_mg.high, 2)}});
    } else if (result_.one_story) {
      result_.message = say("bath.posterior.one_story",
                            {{"left_mg", detail::range_words(result_.left_mg)},
                             {"share_percent", detail::range_words(result_.share_out_percent)}});
    } else {
      result_.message =
          say("bath.posterior.stories", {{"count", std::to_string(result_.stories.size())}});
    }
  }

  const BathLog& log_;
  const BathInferenceOptions& options_;
  detail::ObservedTreatment treatment_;
  double first_volume_ = 1;
  std::vector<Sampled> sampled_;
  std::vector<const detail::UnitRelease*> taken_;
  BathPosterior result_;
};

}  // namespace

BathPosterior infer_bath_log(const BathLog& log, const BathInferenceOptions& options) {
  const BathInferenceOptions settled = detail::settled(options);
  return Inference(log, settled).make();
}

}  // namespace aeruca
