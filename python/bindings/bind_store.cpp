#include "aeruca/store.hpp"

#include "aeruca/logger_files.hpp"
#include "aeruca/many_loggers.hpp"
#include "aeruca/two_loggers.hpp"
#include "described.hpp"
#include "render/describe_store.hpp"
#include "workbook.hpp"

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

// An interrupt is heeded between two jobs of the calling thread.
void heed_interrupt() {
  const py::gil_scoped_acquire held;
  if (PyErr_CheckSignals() != 0) throw py::error_already_set();
}

// Each answer or None, and what was wrong; answers are moved, for a record is large.
template <class Outcome, class Answer>
py::list answers_and_problems(std::vector<Outcome>& outcomes, Answer answer) {
  py::list all;
  for (Outcome& one : outcomes) {
    auto& found = one.*answer;
    py::object object = found ? py::cast(std::move(*found)) : py::none();
    all.append(py::make_tuple(std::move(object), one.problem));
  }
  return all;
}

py::list read_many(const std::vector<std::string>& paths, const LoggerReadOptions& options,
                   int threads) {
  std::vector<LoggerOutcome> outcomes;
  {
    const py::gil_scoped_release released;
    outcomes = read_loggers(paths, options, threads, heed_interrupt);
  }
  return answers_and_problems(outcomes, &LoggerOutcome::record);
}

LoggerRecord read_files(const std::vector<std::string>& names, const LoggerReadOptions& options,
                        int threads) {
  const py::gil_scoped_release released;
  return read_logger_files(names, options, threads, heed_interrupt);
}

LoggerRecord join(const std::vector<const LoggerRecord*>& records,
                  const LoggerReadOptions& options) {
  std::vector<LoggerRecord> copies;
  for (const LoggerRecord* record : records) copies.push_back(*record);
  return join_records(std::move(copies), options);
}

py::list judge_many(const std::vector<const LoggerRecord*>& records, const StoreOptions& options,
                    int threads) {
  std::vector<StoreOutcome> outcomes;
  {
    const py::gil_scoped_release released;
    outcomes = assess_stores(records, options, threads, heed_interrupt);
  }
  return answers_and_problems(outcomes, &StoreOutcome::assessment);
}

void bind_sensor(py::module_& m) {
  described::bind<SensorCheck>(m);
  m.def(
      "sensor_check",
      [](const std::string& salt, double temperature_c, double reading_rh_percent) {
        return sensor_check(*default_dataset(), salt, temperature_c, reading_rh_percent);
      },
      py::arg("salt"), py::arg("temperature_c"), py::arg("reading_rh_percent"),
      "What the sensor read over a saturated salt; see aeruca.store.sensor_check.");
}

void bind_options(py::module_& m) {
  py::class_<LoggerReadOptions>(m, "LoggerReadOptions", "How a logger record is read.")
      .def(py::init([] {
        LoggerReadOptions options;
        options.workbook = workbook_reader();
        return options;
      }))
      .def_readwrite("max_bad_share", &LoggerReadOptions::max_bad_share)
      .def_readwrite("rh_over_tolerance_percent", &LoggerReadOptions::rh_over_tolerance_percent)
      .def_readwrite("gap_factor", &LoggerReadOptions::gap_factor)
      .def_readwrite("stuck_hours", &LoggerReadOptions::stuck_hours)
      .def_readwrite("stuck_readings", &LoggerReadOptions::stuck_readings)
      .def_readwrite("spike_rh_percent", &LoggerReadOptions::spike_rh_percent)
      .def_readwrite("listed_faults", &LoggerReadOptions::listed_faults)
      .def_readwrite("sheet", &LoggerReadOptions::sheet)
      .def_readwrite("time_column", &LoggerReadOptions::time_column)
      .def_readwrite("temperature_column", &LoggerReadOptions::temperature_column)
      .def_readwrite("rh_column", &LoggerReadOptions::rh_column)
      .def_readwrite("clock_column", &LoggerReadOptions::clock_column)
      .def_readwrite("dew_point_column", &LoggerReadOptions::dew_point_column)
      .def_readwrite("absolute_humidity_column", &LoggerReadOptions::absolute_humidity_column)
      .def_property(
          "date_order",
          [](const LoggerReadOptions& o) { return std::string(to_string(o.date_order)); },
          [](LoggerReadOptions& o, const std::string& word) { o.date_order = date_order(word); })
      .def_property(
          "rh_unit", [](const LoggerReadOptions& o) { return std::string(to_string(o.rh_unit)); },
          [](LoggerReadOptions& o, const std::string& word) { o.rh_unit = rh_unit(word); })
      .def_property(
          "temperature_unit",
          [](const LoggerReadOptions& o) { return std::string(to_string(o.temperature_unit)); },
          [](LoggerReadOptions& o, const std::string& word) {
            o.temperature_unit = temperature_unit(word);
          })
      .def_property(
          "future_times",
          [](const LoggerReadOptions& o) { return std::string(to_string(o.future_times)); },
          [](LoggerReadOptions& o, const std::string& word) {
            o.future_times = future_times(word);
          });
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
      .def_readwrite("checks", &StoreOptions::checks)
      .def_readwrite("drift_rh_percent_per_year", &StoreOptions::drift_rh_percent_per_year)
      .def_property(
          "calibrated",
          [](const StoreOptions& o) {
            return o.calibrated_s ? format_time(*o.calibrated_s).substr(0, 10) : std::string();
          },
          [](StoreOptions& o, const std::string& day) {
            o.calibrated_s = day.empty() ? std::nullopt : std::optional(calibrated_on(day));
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
  described::bind<LoggerFault>(m);
  described::bind<JoinedFile>(m);
  described::bind<FileMeeting>(m);
  described::bind<LoggerRecord>(
      m, {"@staticmethod", "def _from_arrays(", "    times_s: npt.NDArray[np.int64],",
          "    temperature_c: npt.NDArray[np.float64],", "    rh_percent: npt.NDArray[np.float64],",
          "    options: LoggerReadOptions,", ") -> LoggerRecord: ...",
          "def has_temperature(self) -> bool: ...", "def __len__(self) -> int: ..."})
      .def_static("_from_arrays", &record_from_arrays, py::arg("times_s"), py::arg("temperature_c"),
                  py::arg("rh_percent"), py::arg("options"))
      .def("has_temperature", on_object(&LoggerRecord::has_temperature))
      .def("__len__", on_object(&LoggerRecord::size));
}

void bind_onset(py::module_& m) {
  described::bind<OnsetCurve>(
      m, {"def __init__(", "    self,", "    id: str,", "    low_rh_percent: list[float],",
          "    high_rh_percent: list[float],", "    temperature_c: list[float] = ...,",
          "    title: str = ...,", "    source: str = ...,", ") -> None: ..."})
      .def(py::init([](std::string id, std::vector<double> low, std::vector<double> high,
                       std::vector<double> temperature_c, std::string title, std::string source) {
             return OnsetCurve{id, title, source, temperature_c, low, high, kNotGiven};
           }),
           py::arg("id"), py::arg("low_rh_percent"), py::arg("high_rh_percent"),
           py::arg("temperature_c") = std::vector<double>{20.0}, py::arg("title") = "",
           py::arg("source") = "")
      .def(py::pickle(
          [](const OnsetCurve& o) {
            return py::make_tuple(o.id, o.title, o.source, o.temperature_c, o.low_rh_percent,
                                  o.high_rh_percent, o.crystallisation_rh_percent);
          },
          [](const py::tuple& s) {
            return OnsetCurve{s[0].cast<std::string>(),
                              s[1].cast<std::string>(),
                              s[2].cast<std::string>(),
                              s[3].cast<std::vector<double>>(),
                              s[4].cast<std::vector<double>>(),
                              s[5].cast<std::vector<double>>(),
                              s[6].cast<double>()};
          }));
}

void bind_assessment(py::module_& m) {
  described::bind<SensorRange>(m);
  described::bind<Spell>(m);
  described::bind<TimeAbove>(m);
  described::bind<Percentiles>(m);
  described::bind<MonthSummary>(m);
  described::bind<SeasonSummary>(m);
  described::bind<WeekSummary>(m);
  described::bind<StoreAssessment>(m);
}

}  // namespace

void bind_two(py::module_& m) {
  described::bind<TwoLoggers>(m);
  m.def("compare_loggers", &compare_loggers, py::arg("first"), py::arg("first_options"),
        py::arg("second"), py::arg("second_options"), py::arg("place_rh_percent"),
        py::call_guard<py::gil_scoped_release>(),
        "Compare two loggers side by side; see aeruca.store.compare_loggers.");
}

void bind_store(py::module_& m) {
  bind_onset(m);
  bind_sensor(m);
  bind_options(m);
  bind_record(m);
  bind_assessment(m);
  bind_two(m);
  const py::call_guard<py::gil_scoped_release> released;
  m.def("read_logger_files", &read_files, py::arg("names"), py::arg("options"), py::arg("threads"),
        "Read the files of one logger; see aeruca.read_logger.");
  m.def("find_logger_files", &find_logger_files, py::arg("names"),
        "The files that names, folders and patterns stand for.");
  m.def("join_records", &join, py::arg("records"), py::arg("options"), released,
        "Join records of one logger; see aeruca.store.join_records.");
  m.def("judge_store", &assess_store, py::arg("record"), py::arg("options"), released,
        "Judge a record with options; see aeruca.assess_store.");
  m.def("read_loggers", &read_many, py::arg("paths"), py::arg("options"), py::arg("threads"),
        "Read many logger files; see aeruca.store.read_loggers.");
  m.def("judge_stores", &judge_many, py::arg("records"), py::arg("options"), py::arg("threads"),
        "Judge many records, None for one that could not be read; see aeruca.store.assess_stores.");
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
