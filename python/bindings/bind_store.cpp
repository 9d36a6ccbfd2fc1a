#include "aeruca/store.hpp"
#include "pybind.hpp"

namespace {

using namespace aeruca;
using TimeArray = py::array_t<std::int64_t, py::array::c_style | py::array::forcecast>;

std::span<const std::int64_t> span_of(const TimeArray& array) {
  return {array.data(), static_cast<std::size_t>(array.size())};
}

LoggerRecord record_from_arrays(const TimeArray& times_s, const DoubleArray& temperature_c,
                                const DoubleArray& rh_percent, const LoggerReadOptions& options) {
  const auto times = span_of(times_s);
  const auto temperatures = ::span_of(temperature_c);
  const auto humidities = ::span_of(rh_percent);
  py::gil_scoped_release released;
  return make_logger_record(times, temperatures, humidities, options);
}

py::dict fault_counts(const LoggerRecord& record) {
  py::dict counts;
  for (std::size_t kind = 0; kind < kFaultKinds; ++kind) {
    counts[py::str(std::string(to_string(static_cast<FaultKind>(kind))))] =
        record.fault_counts[kind];
  }
  return counts;
}

std::vector<std::pair<std::size_t, std::size_t>> stuck_stretches(const LoggerRecord& record) {
  std::vector<std::pair<std::size_t, std::size_t>> stretches;
  for (const Stretch& stretch : record.stuck) stretches.emplace_back(stretch.first, stretch.last);
  return stretches;
}

void bind_options(py::module_& m) {
  py::class_<LoggerReadOptions>(m, "LoggerReadOptions", "How a logger record is read.")
      .def(py::init<>())
      .def_readwrite("max_bad_share", &LoggerReadOptions::max_bad_share)
      .def_readwrite("rh_over_tolerance_percent", &LoggerReadOptions::rh_over_tolerance_percent)
      .def_readwrite("gap_factor", &LoggerReadOptions::gap_factor)
      .def_readwrite("stuck_hours", &LoggerReadOptions::stuck_hours)
      .def_readwrite("stuck_readings", &LoggerReadOptions::stuck_readings)
      .def_readwrite("listed_faults", &LoggerReadOptions::listed_faults)
      .def_readwrite("time_column", &LoggerReadOptions::time_column)
      .def_readwrite("temperature_column", &LoggerReadOptions::temperature_column)
      .def_readwrite("rh_column", &LoggerReadOptions::rh_column);
  py::class_<StoreOptions>(m, "StoreOptions", "How a store record is judged; units in the names.")
      .def(py::init<>())
      .def_readwrite("onset", &StoreOptions::onset)
      .def_readwrite("accuracy_rh_percent", &StoreOptions::accuracy_rh_percent)
      .def_property(
          "accuracy_meaning",
          [](const StoreOptions& o) { return std::string(to_string(o.accuracy_meaning)); },
          [](StoreOptions& o, const std::string& meaning) {
            o.accuracy_meaning = accuracy_meaning(meaning);
          })
      .def_readwrite("random_rh_percent", &StoreOptions::random_rh_percent)
      .def_readwrite("cooler_c", &StoreOptions::cooler_c)
      .def_readwrite("hysteresis_rh_percent", &StoreOptions::hysteresis_rh_percent)
      .def_readwrite("active_spell_h", &StoreOptions::active_spell_h)
      .def_readwrite("active_share", &StoreOptions::active_share)
      .def_readwrite("dormant_share", &StoreOptions::dormant_share)
      .def_readwrite("dormant_probability", &StoreOptions::dormant_probability)
      .def_readwrite("minimum_coverage", &StoreOptions::minimum_coverage)
      .def_readwrite("minimum_days", &StoreOptions::minimum_days)
      .def_readwrite("minimum_readings", &StoreOptions::minimum_readings);
}

void bind_record(py::module_& m) {
  py::class_<LoggerFault>(m, "LoggerFault",
                          "One fault of a logger file: what, where, what was done.")
      .def_property_readonly("kind",
                             [](const LoggerFault& f) { return std::string(to_string(f.kind)); })
      .def_property_readonly("action",
                             [](const LoggerFault& f) { return std::string(to_string(f.action)); })
      .def_readonly("line", &LoggerFault::line)
      .def_readonly("field", &LoggerFault::field)
      .def_readonly("reason", &LoggerFault::reason)
      .def("__repr__", [](const LoggerFault& f) {
        return "<LoggerFault line " + std::to_string(f.line) + ", " + f.field + ": " + f.reason +
               ">";
      });
  py::class_<LoggerRecord>(m, "LoggerRecord",
                           "Readings in order of time, and what was wrong on the way.")
      .def_static("_from_arrays", &record_from_arrays, py::arg("times_s"), py::arg("temperature_c"),
                  py::arg("rh_percent"), py::arg("options"))
      .def_readonly("file", &LoggerRecord::file)
      .def_readonly("utc", &LoggerRecord::utc)
      .def_property_readonly("times_s", [](const LoggerRecord& r) { return to_array(r.times_s); })
      .def_property_readonly("temperature_c",
                             [](const LoggerRecord& r) { return to_array(r.temperature_c); })
      .def_property_readonly("rh_percent",
                             [](const LoggerRecord& r) { return to_array(r.rh_percent); })
      .def_readonly("interval_s", &LoggerRecord::interval_s)
      .def_readonly("gap_limit_s", &LoggerRecord::gap_limit_s)
      .def_property_readonly("stuck", &stuck_stretches)
      .def_readonly("faults", &LoggerRecord::faults)
      .def_property_readonly("fault_counts", &fault_counts)
      .def_readonly("rows", &LoggerRecord::rows)
      .def_readonly("dropped", &LoggerRecord::dropped)
      .def("has_temperature", on_object(&LoggerRecord::has_temperature))
      .def("__len__", on_object(&LoggerRecord::size));
}

void bind_parts(py::module_& m) {
  py::class_<OnsetCurve>(m, "OnsetCurve",
                         "A humidity limit (% RH), constant or changing with temperature.")
      .def(py::init([](std::string id, std::vector<double> low, std::vector<double> high,
                       std::vector<double> temperature_c, std::string title, std::string source) {
             return OnsetCurve{id, title, source, temperature_c, low, high};
           }),
           py::arg("id"), py::arg("low_rh_percent"), py::arg("high_rh_percent"),
           py::arg("temperature_c") = std::vector<double>{20.0}, py::arg("title") = "",
           py::arg("source") = "")
      .def_readonly("id", &OnsetCurve::id)
      .def_readonly("title", &OnsetCurve::title)
      .def_readonly("source", &OnsetCurve::source)
      .def_readonly("temperature_c", &OnsetCurve::temperature_c)
      .def_readonly("low_rh_percent", &OnsetCurve::low_rh_percent)
      .def_readonly("high_rh_percent", &OnsetCurve::high_rh_percent);
  py::class_<SensorRange>(m, "SensorRange",
                          "A figure as read, and at the ends of the sensor's accuracy.")
      .def_readonly("as_read", &SensorRange::as_read)
      .def_readonly("if_reads_high", &SensorRange::if_reads_high)
      .def_readonly("if_reads_low", &SensorRange::if_reads_low)
      .def_readonly("expected", &SensorRange::expected);
  py::class_<Spell>(m, "Spell", "Readings in a row above a limit.")
      .def_readonly("hours", &Spell::hours)
      .def_readonly("start_s", &Spell::start_s)
      .def_readonly("end_s", &Spell::end_s)
      .def_readonly("touches_gap", &Spell::touches_gap);
  py::class_<TimeAbove>(m, "TimeAbove", "Time above one limit.")
      .def_readonly("share", &TimeAbove::share)
      .def_readonly("longest", &TimeAbove::longest)
      .def_readonly("longest_h", &TimeAbove::longest_h);
  py::class_<Percentiles>(m, "Percentiles",
                          "5th, 50th and 95th percentile, weighted with known time.")
      .def_readonly("p5", &Percentiles::p5)
      .def_readonly("p50", &Percentiles::p50)
      .def_readonly("p95", &Percentiles::p95);
  py::class_<MonthSummary>(m, "MonthSummary", "One calendar month of a store record.")
      .def_readonly("year", &MonthSummary::year)
      .def_readonly("month", &MonthSummary::month)
      .def_readonly("known_hours", &MonthSummary::known_hours)
      .def_readonly("mean_rh_percent", &MonthSummary::mean_rh_percent)
      .def_readonly("share_above_low", &MonthSummary::share_above_low)
      .def_readonly("share_above_high", &MonthSummary::share_above_high);
}

void bind_assessment(py::module_& m) {
  py::class_<StoreAssessment>(m, "StoreAssessment", "What a record says of the store.")
      .def_readonly("options", &StoreAssessment::options)
      .def_readonly("start_s", &StoreAssessment::start_s)
      .def_readonly("end_s", &StoreAssessment::end_s)
      .def_readonly("period_hours", &StoreAssessment::period_hours)
      .def_readonly("known_hours", &StoreAssessment::known_hours)
      .def_readonly("coverage", &StoreAssessment::coverage)
      .def_readonly("longest_gap_hours", &StoreAssessment::longest_gap_hours)
      .def_readonly("gaps", &StoreAssessment::gaps)
      .def_readonly("readings", &StoreAssessment::readings)
      .def_readonly("left_out", &StoreAssessment::left_out)
      .def_readonly("temperature_c", &StoreAssessment::temperature_c)
      .def_readonly("rh_percent", &StoreAssessment::rh_percent)
      .def_readonly("surface_rh_percent", &StoreAssessment::surface_rh_percent)
      .def_readonly("above_low", &StoreAssessment::above_low)
      .def_readonly("above_high", &StoreAssessment::above_high)
      .def_readonly("share_condensing", &StoreAssessment::share_condensing)
      .def_readonly("excursions", &StoreAssessment::excursions)
      .def_readonly("wet_dry_cycles", &StoreAssessment::wet_dry_cycles)
      .def_readonly("time_of_wetness_hours", &StoreAssessment::time_of_wetness_hours)
      .def_readonly("months", &StoreAssessment::months)
      .def_readonly("worst_month", &StoreAssessment::worst_month)
      .def_readonly("probability_below_all_time", &StoreAssessment::probability_below_all_time)
      .def_readonly("probability_dormant", &StoreAssessment::probability_dormant)
      .def_readonly("probability_borderline", &StoreAssessment::probability_borderline)
      .def_readonly("probability_active", &StoreAssessment::probability_active)
      .def_property_readonly(
          "verdict", [](const StoreAssessment& a) { return std::string(to_string(a.verdict)); })
      .def_readonly("reason", &StoreAssessment::reason)
      .def_readonly("warnings", &StoreAssessment::warnings)
      .def("__repr__", [](const StoreAssessment& a) {
        return "<StoreAssessment " + std::string(to_string(a.verdict)) + ": " + a.reason + ">";
      });
}

}  // namespace

void bind_store(py::module_& m) {
  bind_parts(m);
  bind_options(m);
  bind_record(m);
  bind_assessment(m);
  const py::call_guard<py::gil_scoped_release> released;
  m.def("read_logger_csv", &read_logger_csv, py::arg("path"), py::arg("options"), released,
        "Read a logger file; see aeruca.read_logger.");
  m.def("judge_store", &assess_store, py::arg("record"), py::arg("options"), released,
        "Judge a record with options; see aeruca.assess_store.");
  m.def("limit_onset", py::overload_cast<double>(&onset_curve), py::arg("limit_rh_percent"),
        "A limit of the user's own (% RH), the same at all temperatures.");
  m.def(
      "published_onset",
      [](const std::string& id) { return published_onset(*default_dataset(), id); }, py::arg("id"),
      "A published humidity band by its id; the chosen one when the id is empty.");
  m.def(
      "salt_onset",
      [](const std::string& salt) { return salt_onset_curve(*default_dataset(), salt); },
      py::arg("salt"), "Deliquescence of a salt as a limit.");
  m.def("surface_rh_percent", py::vectorize(&surface_rh_percent), py::arg("rh_percent"),
        py::arg("temperature_c"), py::arg("cooler_c"),
        "Humidity (% RH) at a surface cooler than the air by cooler_c (K). 0 to 60 degrees C; NaN "
        "in, NaN out.");
}
