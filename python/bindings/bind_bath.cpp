#include <sstream>

#include "aeruca/bath.hpp"
#include "aeruca/bath_fit.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/weigh_out.hpp"
#include "pybind.hpp"

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
  py::class_<BathRecord>(m, "BathRecord", "One bath of a log; units in the names.")
      .def_readonly("start", &BathRecord::start)
      .def_readonly("end", &BathRecord::end)
      .def_readonly("start_day", &BathRecord::start_day, "days since 1970-01-01")
      .def_readonly("end_day", &BathRecord::end_day, "days since 1970-01-01")
      .def_readonly("volume_l", &BathRecord::volume_l)
      .def_property_readonly(
          "kind", [](const BathRecord& bath) { return std::string(to_string(bath.kind)); })
      .def_readonly("chloride_mg_per_l", &BathRecord::chloride_mg_per_l)
      .def_readonly("error_mg_per_l", &BathRecord::error_mg_per_l)
      .def_readonly("detection_limit_mg_per_l", &BathRecord::detection_limit_mg_per_l)
      .def_readonly("blank_mg_per_l", &BathRecord::blank_mg_per_l)
      .def_readonly("temperature_c", &BathRecord::temperature_c)
      .def_readonly("dilution", &BathRecord::dilution)
      .def_readonly("method", &BathRecord::method)
      .def_readonly("note", &BathRecord::note)
      .def_readonly("line", &BathRecord::line);
  py::class_<BathLog>(m, "BathLog", "A bath log as read.")
      .def_readonly("file", &BathLog::file)
      .def_readonly("baths", &BathLog::baths)
      .def_readonly("warnings", &BathLog::warnings)
      .def("__len__", [](const BathLog& log) { return log.baths.size(); })
      .def("__repr__", [](const BathLog& log) {
        return "<BathLog " + log.file + ", " + std::to_string(log.baths.size()) + " baths>";
      });
  py::class_<ReadingErrors>(m, "ReadingErrors",
                            "How good readings are where the log does not say (standard errors).")
      .def(py::init<double, double, double>(), py::arg("relative") = 0.05,
           py::arg("absolute_mg_per_l") = 0.0, py::arg("volume_relative") = 0.02)
      .def_readonly("relative", &ReadingErrors::relative)
      .def_readonly("absolute_mg_per_l", &ReadingErrors::absolute_mg_per_l)
      .def_readonly("volume_relative", &ReadingErrors::volume_relative);
  m.def("read_bath_log", &read_bath_log, py::arg("path"), py::call_guard<py::gil_scoped_release>());
  m.def("_with_blank", &with_blank);
  m.def("_reading_error_mg_per_l", [](const BathRecord& bath, const ReadingErrors& errors) {
    return reading_error_mg_per_l(bath, bath.chloride_mg_per_l, errors);
  });
}

void bind_summary(py::module_& m) {
  py::class_<BathExtract>(m, "BathExtract", "What one bath took out (mg).")
      .def_readonly("mg", &BathExtract::mg)
      .def_readonly("error_mg", &BathExtract::error_mg)
      .def_readonly("most_mg", &BathExtract::most_mg)
      .def_readonly("cumulative_mg", &BathExtract::cumulative_mg)
      .def_readonly("cumulative_error_mg", &BathExtract::cumulative_error_mg)
      .def_readonly("share_percent", &BathExtract::share_percent)
      .def_readonly("sqrt_days", &BathExtract::sqrt_days);
  py::class_<BathSummary>(m, "BathSummary",
                          "Sums, shares, straightness, late ratio and tail of a bath log.")
      .def_readonly("baths", &BathSummary::baths)
      .def_readonly("total_mg", &BathSummary::total_mg)
      .def_readonly("total_error_mg", &BathSummary::total_error_mg)
      .def_readonly("undetected_mg", &BathSummary::undetected_mg)
      .def_readonly("total_mg_per_g", &BathSummary::total_mg_per_g)
      .def_readonly("total_error_mg_per_g", &BathSummary::total_error_mg_per_g)
      .def_readonly("detection_mg", &BathSummary::detection_mg)
      .def_readonly("detection_mg_per_g", &BathSummary::detection_mg_per_g)
      .def_readonly("sqrt_line_residual", &BathSummary::sqrt_line_residual)
      .def_readonly("slow_start", &BathSummary::slow_start)
      .def_readonly("late_ratio", &BathSummary::late_ratio)
      .def_readonly("late_ratio_error", &BathSummary::late_ratio_error)
      .def_readonly("ratio_steady", &BathSummary::ratio_steady)
      .def_readonly("tail_mg", &BathSummary::tail_mg)
      .def_readonly("tail_low_mg", &BathSummary::tail_low_mg)
      .def_readonly("tail_high_mg", &BathSummary::tail_high_mg)
      .def_readonly("warnings", &BathSummary::warnings);
  m.def("_summarise_bath_log", &summarise_bath_log);
}

std::string repr(const BathFit& fit) {
  return "<BathFit " + std::string(to_string(fit.status)) + ": " + fit.message + ">";
}

void bind_range(py::module_& m) {
  py::class_<Range>(m, "Range", "Median and 5-95 % range.")
      .def_readonly("low", &Range::low)
      .def_readonly("median", &Range::median)
      .def_readonly("high", &Range::high)
      .def("__repr__", [](const Range& range) {
        std::ostringstream text;
        text << "<Range " << range.median << " (" << range.low << " to " << range.high << ")>";
        return text.str();
      });
}

void bind_fit(py::module_& m) {
  py::class_<FittedParameter>(m, "FittedParameter",
                              "A parameter of the release model: posterior range beside the prior.")
      .def_readonly("name", &FittedParameter::name)
      .def_readonly("range", &FittedParameter::range)
      .def_readonly("prior_low", &FittedParameter::prior_low)
      .def_readonly("prior_high", &FittedParameter::prior_high)
      .def("__repr__", [](const FittedParameter& parameter) {
        std::ostringstream text;
        text << "<FittedParameter " << parameter.name << " " << parameter.range.median << ">";
        return text.str();
      });
  py::class_<BathFit>(m, "BathFit",
                      "What a bath log says of the chloride still inside; ranges are 5-95 %.")
      .def_property_readonly("status",
                             [](const BathFit& fit) { return std::string(to_string(fit.status)); })
      .def_readonly("message", &BathFit::message)
      .def_readonly("parameters", &BathFit::parameters)
      .def_readonly("load_mg", &BathFit::load_mg)
      .def_readonly("rate_per_day", &BathFit::rate_per_day)
      .def_readonly("left_mg", &BathFit::left_mg)
      .def_readonly("left_mg_per_g", &BathFit::left_mg_per_g)
      .def_readonly("share_out_percent", &BathFit::share_out_percent)
      .def_readonly("next_reading_mg_per_l", &BathFit::next_reading_mg_per_l)
      .def_readonly("next_mean_mg_per_l", &BathFit::next_mean_mg_per_l)
      .def_readonly("next_volume_l", &BathFit::next_volume_l)
      .def_readonly("next_days", &BathFit::next_days)
      .def_readonly("readings_mg_per_l", &BathFit::readings_mg_per_l)
      .def_readonly("chi_squared", &BathFit::chi_squared)
      .def_readonly("degrees_of_freedom", &BathFit::degrees_of_freedom)
      .def_readonly("p_value", &BathFit::p_value)
      .def_readonly("partition_weights", &BathFit::partition_weights)
      .def_readonly("convergence", &BathFit::convergence)
      .def_readonly("prior_edge", &BathFit::prior_edge)
      .def_property_readonly(
          "forecast", [](const BathFit& fit) { return std::string(to_string(fit.forecast)); })
      .def_readonly("more_days", &BathFit::more_days)
      .def_readonly("more_baths", &BathFit::more_baths)
      .def_readonly("forecast_reason", &BathFit::forecast_reason)
      .def_readonly("warnings", &BathFit::warnings)
      .def("__repr__", &repr);
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
  py::class_<WeighedReagent>(m, "WeighedReagent", "One reagent to weigh.")
      .def_readonly("name", &WeighedReagent::name)
      .def_readonly("formula", &WeighedReagent::formula)
      .def_readonly("molar_mass_g_per_mol", &WeighedReagent::molar_mass_g_per_mol)
      .def_readonly("grams", &WeighedReagent::grams)
      .def("__repr__", [](const WeighedReagent& reagent) {
        std::ostringstream text;
        text << "<WeighedReagent " << reagent.grams << " g " << reagent.name << ">";
        return text.str();
      });
  py::class_<WeighOut>(m, "WeighOut",
                       "What to weigh for a bath, with the mistakes people make and cautions.")
      .def_readonly("salt", &WeighOut::salt)
      .def_readonly("form", &WeighOut::form)
      .def_readonly("reagents", &WeighOut::reagents)
      .def_readonly("mol_per_l", &WeighOut::mol_per_l)
      .def_readonly("percent_w_v", &WeighOut::percent_w_v)
      .def_readonly("sodium_mol_per_l", &WeighOut::sodium_mol_per_l)
      .def_readonly("blank_mg_per_l", &WeighOut::blank_mg_per_l)
      .def_property_readonly(
          "traps",
          [](const WeighOut& out) {
            std::vector<std::pair<std::string, double>> traps;
            for (const auto& trap : out.traps) traps.emplace_back(trap.mistake, trap.factor);
            return traps;
          },
          "(mistake, strength got over strength wanted)")
      .def_readonly("cautions", &WeighOut::cautions)
      .def_property_readonly(
          "dissolves", [](const WeighOut& out) { return std::string(to_string(out.dissolves)); },
          "\"yes\", \"no\" or \"not known\"")
      .def_readonly("solubility_words", &WeighOut::solubility_words);
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

}  // namespace

void bind_bath(py::module_& m) {
  bind_model(m);
  bind_log(m);
  bind_summary(m);
  bind_range(m);
  bind_fit(m);
  bind_weigh_out(m);
}
