#include "aeruca/bath_bodies.hpp"
#include "aeruca/bath_posterior.hpp"
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

// name -> (median, factor)
BathPriors priors_of(const std::map<std::string, std::pair<double, double>>& given) {
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
  m.def("_infer_bath_log", [](const BathLog& log, const std::vector<std::string>& models,
                              const std::map<std::string, std::pair<double, double>>& priors,
                              const ReadingErrors& errors, double object_mass_g,
                              double object_area_cm2, std::size_t draws, std::uint64_t seed) {
    BathInferenceOptions options;
    options.models = models_of(models);
    options.priors = priors_of(priors);
    options.errors = errors;
    options.object_mass_g = object_mass_g;
    options.object_area_cm2 = object_area_cm2;
    options.draws = draws;
    options.seed = seed;
    py::gil_scoped_release released;
    return infer_bath_log(log, options);
  });
  m.def("_parse_bath_log", &parse_bath_log);
}
