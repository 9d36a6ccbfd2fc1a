#include "aeruca/bath_bodies.hpp"
#include "aeruca/bath_course.hpp"
#include "aeruca/bath_decision.hpp"
#include "aeruca/bath_posterior.hpp"
#include "aeruca/bath_schedule.hpp"
#include "described.hpp"
#include "render/describe_bath_posterior.hpp"

namespace {

using namespace aeruca;

std::vector<BathStep> steps_of(const DoubleArray& tau, const DoubleArray& alpha,
                               const DoubleArray& fill, const DoubleArray& carry_over) {
  std::vector<BathStep> steps;
  for (py::ssize_t k = 0; k < tau.size(); ++k) {
    steps.push_back({alpha.data()[k], tau.data()[k], fill.data()[k], carry_over.data()[k]});
  }
  return steps;
}

std::vector<BathModel> models_of(const std::vector<std::string>& names) {
  std::vector<BathModel> models;
  for (const std::string& name : names) models.push_back(bath_model(name));
  return models;
}

using Priors = std::map<std::string, std::pair<double, double>>;  // name -> (median, factor)

BathPriors priors_of(const Priors& given) {
  BathPriors priors;
  const std::map<std::string, LogNormalPrior*> known{
      {"rate_per_day", &priors.rate_per_day},
      {"load_mg_per_first_litre", &priors.load_mg_per_first_litre},
      {"first_alpha", &priors.first_alpha},
      {"biot", &priors.biot},
      {"spread", &priors.spread},
      {"slow_odds", &priors.slow_odds},
      {"slowness", &priors.slowness},
      {"solid_over_dissolved", &priors.solid_over_dissolved},
      {"scatter", &priors.scatter}};
  for (const auto& [name, prior] : given) {
    const auto found = known.find(name);
    if (found == known.end()) {
      std::string names;
      for (const auto& [one, unused] : known) names += (names.empty() ? "" : ", ") + one;
      throw InputError("priors", name, names);
    }
    *found->second = {prior.first, prior.second};
  }
  return priors;
}

BathInferenceOptions inference_options(const std::vector<std::string>& models, const Priors& priors,
                                       const ReadingErrors& errors, double object_mass_g,
                                       double object_area_cm2, std::size_t draws,
                                       std::uint64_t seed) {
  BathInferenceOptions options;
  options.models = models_of(models);
  options.priors = priors_of(priors);
  options.errors = errors;
  options.object_mass_g = object_mass_g;
  options.object_area_cm2 = object_area_cm2;
  options.draws = draws;
  options.seed = seed;
  return options;
}

}  // namespace

void bind_bath_posterior(py::module_& m) {
  m.def("_stores_series",
        [](const std::vector<std::tuple<std::string, std::string, double, double, double, double>>&
               given,
           const DoubleArray& tau, const DoubleArray& alpha, const DoubleArray& fill,
           const DoubleArray& carry_over) {
          std::vector<ChlorideStore> stores;
          for (const auto& [shape, load, load_share, capacity_share, rate, biot] : given) {
            stores.push_back(
                {body_shape(shape), initial_load(load), load_share, capacity_share, rate, biot});
          }
          const BathSeries series = stores_series(stores, steps_of(tau, alpha, fill, carry_over));
          std::vector<double> in_bath, left;
          for (const BathPoint& end : series.ends) {
            in_bath.push_back(end.in_bath);
            left.push_back(end.left);
          }
          return py::make_tuple(to_array(in_bath), to_array(left));
        });
  m.def("_spread_stores", [](double spread, std::size_t count) {
    std::vector<std::tuple<std::string, std::string, double, double, double, double>> stores;
    for (const ChlorideStore& store : spread_stores(spread, count)) {
      stores.emplace_back(to_string(store.shape), to_string(store.load), store.load_share,
                          store.capacity_share, store.rate, store.biot);
    }
    return stores;
  });
  m.def("_reserve_series",
        [](double solid_over_dissolved, const DoubleArray& tau, const DoubleArray& alpha,
           const DoubleArray& fill, const DoubleArray& carry_over) {
          std::vector<double> in_bath, left, front;
          for (const ReservePoint& end :
               reserve_series({solid_over_dissolved}, steps_of(tau, alpha, fill, carry_over))) {
            in_bath.push_back(end.in_bath);
            left.push_back(end.left);
            front.push_back(end.front);
          }
          return py::make_tuple(to_array(in_bath), to_array(left), to_array(front));
        });
  described::bind<BathDraw>(m);
  described::bind<BathModelBelief>(m);
  described::bind<BathStoryBelief>(m);
  described::bind<BathPosterior>(m);
  described::bind<LeftChance>(m);
  described::bind<BathChoice>(m);
  described::bind<EndpointVerdict>(m);
  described::bind<MeasurementValue>(m);
  described::bind<BathDecision>(m);
  m.def(
      "_infer_bath_log", [](const BathLog& log, const std::vector<std::string>& models,
                            const Priors& priors, const ReadingErrors& errors, double object_mass_g,
                            double object_area_cm2, std::size_t draws, std::uint64_t seed) {
        const BathInferenceOptions options =
            inference_options(models, priors, errors, object_mass_g, object_area_cm2, draws, seed);
        py::gil_scoped_release released;
        return infer_bath_log(log, options);
      });
  m.def("_decide_bath",
        [](const BathLog& log, const Dataset& dataset, const std::vector<std::string>& models,
           const Priors& priors, const ReadingErrors& errors, double object_mass_g,
           double object_area_cm2, std::size_t draws, std::uint64_t seed, double next_volume_l,
           double next_days, double target_left_mg, double blank_mg_per_l, double stop_mg_per_l) {
          BathDecisionOptions options;
          options.inference = inference_options(models, priors, errors, object_mass_g,
                                                object_area_cm2, draws, seed);
          options.next_volume_l = next_volume_l;
          options.next_days = next_days;
          options.target_left_mg = target_left_mg;
          options.blank_mg_per_l = blank_mg_per_l;
          options.stop_mg_per_l = stop_mg_per_l;
          py::gil_scoped_release released;
          return decide_bath(log, dataset, options);
        });
  described::bind<BathCoursePoint>(m);
  m.def("_bath_course", [](const BathLog& log, const BathPosterior& posterior, std::size_t points,
                           std::size_t baths_to_come, const ReadingErrors& errors) {
    BathCourseOptions options;
    options.points = points;
    options.baths_to_come = baths_to_come;
    options.errors = errors;
    py::gil_scoped_release released;
    return bath_course(log, posterior, options);
  });
  described::bind<BathScheme>(m);
  described::bind<BathSchedule>(m);
  m.def("_schedule_baths",
        [](const BathLog& log, const std::vector<std::string>& models, const Priors& priors,
           const ReadingErrors& errors, std::size_t draws, std::uint64_t seed, double total_days,
           double bath_l, double water_l, std::size_t baths_most, double target_left_mg,
           double blank_mg_per_l, double temperature_c, double log_temperature_c) {
          BathScheduleOptions options;
          options.inference =
              inference_options(models, priors, errors, kNotGiven, kNotGiven, draws, seed);
          options.total_days = total_days;
          options.bath_l = bath_l;
          options.water_l = water_l;
          options.baths_most = baths_most;
          options.target_left_mg = target_left_mg;
          options.blank_mg_per_l = blank_mg_per_l;
          options.temperature_c = temperature_c;
          options.log_temperature_c = log_temperature_c;
          py::gil_scoped_release released;
          return schedule_baths(log, options);
        });
  m.def("_parse_bath_log", [](const std::string& text, const std::string& name) {
    return parse_bath_log(text, name);
  });
}
