#include "cli/box_request.hpp"

#include <algorithm>
#include <cmath>

#include "aeruca/errors.hpp"
#include "aeruca/logger_files.hpp"
#include "base/calendar.hpp"

namespace aeruca::cli {
namespace {

constexpr std::int64_t kDaySeconds = 86400;

Climate climate_of(const BoxRequest& request, const std::optional<LoggerRecord>& outside) {
  if (outside && (request.outside_rh || request.temperature_c))
    throw UsageError("--outside", "goes with neither --outside-rh nor --temperature");
  if (!outside && !(request.outside_rh && request.temperature_c))
    throw UsageError("--outside-rh, --temperature",
                     "both are needed, or --outside with the record of a logger");
  Climate climate = outside ? aeruca::climate_of(*outside)
                            : constant_climate(*request.temperature_c, *request.outside_rh);
  climate.inside_temperature_c = request.inside_c.value_or(kNotGiven);
  return climate;
}

std::optional<ExchangeFit> exchange_of(const BoxRequest& request, const Enclosure& box,
                                       const Dataset& dataset,
                                       const std::optional<LoggerRecord>& outside,
                                       const LoggerRecord* record) {
  const bool given = !std::isnan(request.box.exchange_per_day);
  const bool inside = !request.inside.empty();
  const int ways = (given ? 1 : 0) + (request.decay.empty() ? 0 : 1) + (inside ? 1 : 0);
  const bool from_record = ways == 0 && record != nullptr && outside;
  if (ways != 1 && !from_record)
    throw UsageError("--exchange, --decay, --inside", "one of them is needed");
  if (request.decay.empty() != std::isnan(request.background))
    throw UsageError("--decay, --background", "one goes with the other");
  if (!request.decay.empty()) return fit_decay(read_decay(request.decay), request.background);
  if (given) return std::nullopt;
  if (!outside) throw UsageError("--inside", "needs --outside over the same time");
  if (from_record) return fit_exchange(dataset, box, *record, *outside);
  return fit_exchange(dataset, box, read_logger_files({request.inside}, request.read), *outside);
}

std::optional<std::int64_t> start_of(const BoxRequest& request) {
  if (request.from.empty()) return std::nullopt;
  const auto days = detail::parse_date(request.from);
  if (!days) throw InputError("--from", request.from, "a date such as 2024-03-31");
  return *days * kDaySeconds;
}

Enclosure box_of(const BoxRequest& request) {
  Enclosure box = request.box;
  box.volume_m3 = request.volume_m3.value_or(kNotGiven);
  if (request.moisture.empty()) return box;
  const MoisturePoints points = read_moisture(request.moisture);
  box.contents_rh_percent = points.rh_percent;
  box.contents_moisture_percent = points.moisture_percent;
  return box;
}

// Options of a box: each is kept, so that one without a box can be told.
class BoxOptions {
 public:
  BoxOptions(Command& command, BoxRequest& request) : command_(command), request_(request) {}

  template <class Value>
  Option* add(const char* name, Value& value, const char* meaning) {
    Option* option = command_.add_option(name, value, meaning);
    request_.asked.push_back(option);
    return option;
  }

 private:
  Command& command_;
  BoxRequest& request_;
};

void add_leakage(BoxOptions& options, BoxRequest& request, BoxStands stands) {
  const bool alone = stands == BoxStands::alone;
  options.add("--exchange", request.box.exchange_per_day,
              alone ? "air exchanged, volumes a day; or --decay or --inside"
                    : "air exchanged, volumes a day; or --decay, or found with --outside");
  options.add("--decay", request.decay,
              "decay test: CSV of hours and a tracer such as CO2, to find the exchange");
  options.add("--background", request.background, "of that tracer outside, in its unit");
  if (alone)
    options.add("--inside", request.inside,
                "logger file from inside, to find the exchange with --outside");
  options.add("--exchange-spread", request.spread,
              "relative standard deviation of the exchange (default 0.25, or of the fit)");
}

void add_buffers(BoxOptions& options, BoxRequest& request) {
  options.add("--gel-kg", request.box.gel_kg, "dry silica gel, kg (default none)");
  options.add("--gel", request.box.gel, "isotherm of the gel by its id (default: not known)");
  options.add("--contents", request.box.contents_g_per_rh,
              "water the contents take up, g per % RH (default none)");
  options.add("--contents-kg", request.box.contents_kg,
              "in place of it their dry mass, beside --moisture");
  options.add("--moisture", request.moisture,
              "CSV of % RH and moisture of the contents, g per 100 g dry");
}

void add_outside(BoxOptions& options, BoxRequest& request) {
  options.add("--outside-rh", request.outside_rh, "humidity outside the box, % RH");
  options.add("--temperature", request.temperature_c, "degrees C, 0 to 50");
  options.add("--outside", request.outside, "logger file from outside instead");
  options.add("--inside-temperature", request.inside_c,
              "degrees C inside where it is not that outside");
  options
      .add("--outside-spread", request.options.outside_rh_sd,
           "standard deviation of the humidity outside, % RH")
      ->capture_default_str();
}

void add_question(BoxOptions& options, BoxRequest& request, BoxStands stands) {
  const bool alone = stands == BoxStands::alone;
  Option* start = options.add("--start", request.box.start_rh_percent,
                              alone ? "humidity of air, gel and contents at the start, % RH"
                                    : "the same of air, gel and contents at the start, % RH "
                                      "(default: the last day of the record)");
  if (alone) start->required();
  options.add("--from", request.from,
              alone ? "date of the start, to give that of the next visit"
                    : "date of the start (default: the end of the record)");
  options.add("--limit", request.limit,
              alone ? "limit inside, % RH" : "limit inside, % RH (default: the set-point)");
  options.add("--days", request.options.days, "between two visits")->capture_default_str();
  options.add("--draws", request.options.draws, "for the ranges; 0: none")->capture_default_str();
  options.add("--seed", request.options.seed, "of the draws")->capture_default_str();
}

}  // namespace

void add_box_options(Command& command, BoxRequest& request, BoxStands stands) {
  BoxOptions options(command, request);
  Option* volume = options.add("--volume", request.volume_m3, "air inside the box, m3");
  if (stands == BoxStands::alone) volume->required();
  add_leakage(options, request, stands);
  add_buffers(options, request);
  add_outside(options, request);
  add_question(options, request, stands);
}

bool BoxRequest::given() const {
  return std::any_of(asked.begin(), asked.end(),
                     [](const Option* one) { return one->count() > 0; });
}

ReviewedBox review_box(const BoxRequest& request, const Dataset& dataset,
                       const LoggerRecord* record, const StoreAssessment* store) {
  ReviewRequest asked;
  asked.start_s = start_of(request);
  std::optional<LoggerRecord> outside;
  if (!request.outside.empty()) outside = read_logger_files({request.outside}, request.read);
  asked.enclosure = box_of(request);
  ReviewedBox answer;
  answer.fit = exchange_of(request, asked.enclosure, dataset, outside, record);
  if (answer.fit && answer.fit->status != Status::converged) return answer;
  asked.options = request.options;
  if (answer.fit) {
    asked.enclosure.exchange_per_day = answer.fit->exchange_per_day;
    asked.options.exchange_relative_sd = answer.fit->relative_sd;
  }
  if (request.spread) asked.options.exchange_relative_sd = *request.spread;
  asked.options.limit_rh_percent = request.limit.value_or(kNotGiven);
  asked.climate = climate_of(request, outside);
  answer.review = review_enclosure(dataset, asked, record, store);
  return answer;
}

}  // namespace aeruca::cli
