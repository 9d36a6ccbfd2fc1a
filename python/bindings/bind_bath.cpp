#include "aeruca/bath.hpp"
#include "aeruca/bath_fit.hpp"
#include "aeruca/bath_meter.hpp"
#include "aeruca/bath_rinse.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/weigh_out.hpp"
#include "described.hpp"
#include "render/describe_bath.hpp"
#include "render/describe_bath_making.hpp"
#include "render/describe_bath_rinse.hpp"

namespace {

using namespace aeruca;

PorousBody body_of(const std::string& shape, const std::string& load, double biot) {
  return {body_shape(shape), initial_load(load), biot};
}

// The arrays have been broadcast to one length by the Python side.
std::vector<BathStep> steps_of(const DoubleArray& alpha, const DoubleArray& days,
                               const DoubleArray& fill, const DoubleArray& carry_over) {
  if (alpha.size() != days.size() || fill.size() != days.size() ||
      carry_over.size() != days.size()) {
    throw InputError("alpha, fill, carry_over", "arrays of other lengths",
                     "one value for each bath");
  }
  std::vector<BathStep> steps;
  for (py::ssize_t k = 0; k < days.size(); ++k) {
    steps.push_back({alpha.data()[k], days.data()[k], fill.data()[k], carry_over.data()[k]});
  }
  return steps;
}

py::tuple table(const std::string& shape, const std::string& load, double biot,
                const DoubleArray& rates, const DoubleArray& alpha, const DoubleArray& days,
                const DoubleArray& fill, const DoubleArray& carry_over, double accuracy) {
  const PorousBody body = body_of(shape, load, biot);
  const auto steps = steps_of(alpha, days, fill, carry_over);
  ModeOptions options;
  options.accuracy = accuracy;
  BathTable result;
  {
    const auto span = span_of(rates);
    py::gil_scoped_release released;
    result = bath_table(body, steps, span, options);
  }
  const std::vector<py::ssize_t> size{rates.size(), days.size()};
  return py::make_tuple(to_array(result.in_bath, size), to_array(result.left, size),
                        result.truncation_error);
}

py::tuple curve(const std::string& shape, const std::string& load, double biot,
                const DoubleArray& alpha, const DoubleArray& tau_of_bath, const DoubleArray& fill,
                const DoubleArray& carry_over, const DoubleArray& tau) {
  const auto points = bath_curve(body_of(shape, load, biot),
                                 steps_of(alpha, tau_of_bath, fill, carry_over), span_of(tau));
  std::vector<double> in_bath, left;
  for (const BathPoint& point : points) {
    in_bath.push_back(point.in_bath);
    left.push_back(point.left);
  }
  return py::make_tuple(to_array(in_bath), to_array(left));
}

void bind_model(py::module_& m) {
  m.def("_bath_table", &table);
  m.def("_bath_curve", &curve);
  m.def("_mode_roots", [](const std::string& shape, double alpha, std::size_t count, double biot) {
    return to_array(mode_roots(body_shape(shape), alpha, count, biot));
  });
  m.def("_fraction_of_final_release",
        [](const std::string& shape, const DoubleArray& alpha, const DoubleArray& tau) {
          const BodyShape body = body_shape(shape);
          return py::vectorize([body](double a, double t) {
            return fraction_of_final_release(body, a, t);
          })(alpha, tau);
        });
}

void bind_log(py::module_& m) {
  described::bind<BathRecord>(m);
  described::bind<BathLog>(m, {"def __len__(self) -> int: ..."})
      .def("__len__", [](const BathLog& log) { return log.baths.size(); });
  described::bind<ReadingErrors>(m, {"def __init__(", "    self,", "    relative: float = 0.05,",
                                     "    absolute_mg_per_l: float = 0.0,",
                                     "    volume_relative: float = 0.02,", ") -> None: ..."})
      .def(py::init<double, double, double>(), py::arg("relative") = 0.05,
           py::arg("absolute_mg_per_l") = 0.0, py::arg("volume_relative") = 0.02);
  m.def("read_bath_log", &read_bath_log, py::arg("path"), py::call_guard<py::gil_scoped_release>());
  m.def("_with_blank", &with_blank);
  m.def("_reading_error_mg_per_l", [](const BathRecord& bath, const ReadingErrors& errors) {
    return reading_error_mg_per_l(bath, bath.chloride_mg_per_l, errors);
  });
}

void bind_summary(py::module_& m) {
  described::bind<BathExtract>(m);
  described::bind<BathSummary>(m);
  m.def("_summarise_bath_log", &summarise_bath_log);
}

void bind_fit(py::module_& m) {
  described::bind<Range>(m);
  described::bind<FittedParameter>(m);
  described::bind<BathFit>(m);
  m.def("_fit_bath_log",
        [](const BathLog& log, const std::string& shape, const std::string& load, double biot,
           std::vector<double> alphas, const ReadingErrors& errors, double object_mass_g,
           double next_volume_l, double next_days, double stop_mg_per_l, std::size_t grid) {
          BathFitOptions options;
          options.body = body_of(shape, load, biot);
          options.alphas = std::move(alphas);
          options.errors = errors;
          options.object_mass_g = object_mass_g;
          options.next_volume_l = next_volume_l;
          options.next_days = next_days;
          options.stop_mg_per_l = stop_mg_per_l;
          options.grid = grid;
          py::gil_scoped_release released;
          return fit_bath_log(log, options);
        });
}

void bind_weigh_out(py::module_& m) {
  described::bind<WeighedReagent>(m);
  described::bind<WeighOutTrap>(m);
  described::bind<BathSolubility>(m);
  described::bind<WeighOut>(m);
  described::bind<MeterAnswer>(m);
  m.def("_chloride_by_meter",
        [](const std::shared_ptr<const Dataset>& dataset, double conductivity_us_per_cm,
           double tds_mg_per_l, double temperature_c, double blank_us_per_cm,
           double chloride_sought_mg_per_l, double error_us_per_cm, double error_percent,
           const std::string& salt, double mol_per_l) {
          const MeterRequest request{
              conductivity_us_per_cm,   tds_mg_per_l,    temperature_c, blank_us_per_cm,
              chloride_sought_mg_per_l, error_us_per_cm, error_percent};
          if (salt.empty()) return chloride_by_meter(*dataset, request);
          return chloride_by_meter(dataset, request, {salt, mol_per_l, temperature_c});
        });
  m.def("_bath_salts", &bath_salts);
  m.def("_shelf_forms", &shelf_forms);
  m.def("_weigh_out", [](const Dataset& dataset, const std::string& salt, double strength,
                         bool molar, double volume_l, const std::string& form,
                         double purity_percent, double reagent_chloride_percent) {
    return weigh_out(dataset,
                     {salt, strength, molar ? StrengthUnit::mol_per_l : StrengthUnit::percent_w_v,
                      volume_l, form, purity_percent, reagent_chloride_percent});
  });
}

void bind_forecast(py::module_& m) {
  described::bind<ForecastBath>(m);
  described::bind<BathForecast>(m);
  described::bind<BathPlan>(m);
  described::bind<BathComparison>(m);
  m.def("_forecast_baths", [](const std::string& shape, const std::string& load, double biot,
                              double rate_per_day, std::vector<double> volumes_l,
                              std::vector<double> days, double load_mg, double capacity_l,
                              double fill_mg_per_l, double carry_over) {
    return forecast_baths({body_of(shape, load, biot), rate_per_day, load_mg, std::move(volumes_l),
                           std::move(days), capacity_l, fill_mg_per_l, carry_over});
  });
  m.def("_compare_bath_counts",
        [](const std::string& shape, const std::string& load, double biot, double alpha,
           double total_tau, const std::vector<std::size_t>& counts, bool divided) {
          return compare_bath_counts(body_of(shape, load, biot), alpha, total_tau, counts,
                                     divided ? BathLiquid::divided : BathLiquid::each);
        });
}

void bind_rinse(py::module_& m) {
  described::bind<RinseLeft>(m);
  described::bind<RinseStep>(m);
  described::bind<RinseResult>(m);
  m.def("_rinse_pores",
        [](double pore_ml, double porosity, double body_cm3, double pore_factor,
           double start_mg_per_l, double rinse_l, double clinging_ml, double water_mg_per_l,
           std::optional<std::size_t> rinses, double target_percent, double minutes,
           double rate_per_day, const std::string& shape) {
          return rinse_pores({pore_ml, porosity, body_cm3, pore_factor, start_mg_per_l, rinse_l,
                              clinging_ml, water_mg_per_l, rinses, target_percent, minutes,
                              rate_per_day, PorousBody{body_shape(shape)}});
        });
}

using DatasetPointer = std::shared_ptr<Dataset>;

BathAir air_of(bool open) {
  return open ? BathAir::open : BathAir::shut_out;
}

void bind_chemistry(py::module_& m) {
  described::bind<CopperOverSolid>(m);
  m.def("_bath_water", [](const DatasetPointer& dataset, const std::string& salt, double mol_per_l,
                          double temperature_c, bool open) {
    return bath_water(dataset, {salt, mol_per_l, temperature_c}, air_of(open));
  });
  m.def("_copper_over", [](const DatasetPointer& dataset, const std::string& salt, double mol_per_l,
                           double temperature_c, const std::string& solid, bool open) {
    return copper_over(dataset, {salt, mol_per_l, temperature_c}, solid, air_of(open));
  });
}

}  // namespace

void bind_bath(py::module_& m) {
  bind_model(m);
  bind_log(m);
  bind_summary(m);
  bind_fit(m);
  bind_weigh_out(m);
  bind_forecast(m);
  bind_rinse(m);
  bind_chemistry(m);
}
