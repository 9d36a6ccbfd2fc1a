// aeruca store box: the humidity in a box, how long until a limit, how much gel.

#include <cmath>
#include <memory>
#include <optional>

#include "aeruca/enclosure.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/logger_files.hpp"
#include "base/calendar.hpp"
#include "cli/commands.hpp"
#include "render/enclosure_report.hpp"

namespace aeruca::cli {
namespace {

struct BoxRequest {
  Enclosure box;
  EnclosureOptions options;
  std::optional<double> outside_rh, temperature_c, inside_c, limit, spread;
  LoggerReadOptions read;
  std::string outside, inside, decay, from;
  double background = kNotGiven;
};

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

std::optional<ExchangeFit> exchange_of(const BoxRequest& request, const Dataset& dataset,
                                       const std::optional<LoggerRecord>& outside) {
  const int ways = (std::isnan(request.box.exchange_per_day) ? 0 : 1) +
                   (request.decay.empty() ? 0 : 1) + (request.inside.empty() ? 0 : 1);
  if (ways != 1) throw UsageError("--exchange, --decay, --inside", "one of them is needed");
  if (request.decay.empty() != std::isnan(request.background))
    throw UsageError("--decay, --background", "one goes with the other");
  if (!request.decay.empty()) return fit_decay(read_decay(request.decay), request.background);
  if (request.inside.empty()) return std::nullopt;
  if (!outside) throw UsageError("--inside", "needs --outside over the same time");
  return fit_exchange(dataset, request.box, read_logger_files({request.inside}, request.read),
                      *outside);
}

std::optional<std::int64_t> start_of(const BoxRequest& request) {
  if (request.from.empty()) return std::nullopt;
  const auto days = detail::parse_date(request.from);
  if (!days) throw InputError("--from", request.from, "a date such as 2024-03-31");
  return days;
}

void run(BoxRequest& request, Context& context) {
  const auto dataset = context.dataset();
  const auto start = start_of(request);
  request.read.workbook = context.workbook;
  std::optional<LoggerRecord> outside;
  if (!request.outside.empty()) outside = read_logger_files({request.outside}, request.read);
  const auto fit = exchange_of(request, *dataset, outside);
  if (fit && fit->status != Status::converged) {
    context.err << detail::exchange_text(*fit);
    context.exit_code = kNoAnswer;
    return;
  }
  if (fit) request.box.exchange_per_day = fit->exchange_per_day;
  if (fit) request.options.exchange_relative_sd = fit->relative_sd;
  if (request.spread) request.options.exchange_relative_sd = *request.spread;
  request.options.limit_rh_percent = request.limit.value_or(kNotGiven);
  const EnclosureForecast forecast =
      forecast_enclosure(*dataset, request.box, climate_of(request, outside), request.options);
  context.out << (context.json ? detail::enclosure_json(forecast, fit, *dataset)
                               : detail::enclosure_text(forecast, fit, start));
  if (forecast.status != Status::converged) context.exit_code = kNoAnswer;
}

void add_box(Command& command, BoxRequest& request) {
  command.add_option("--volume", request.box.volume_m3, "air inside, m3")->required();
  command.add_option("--exchange", request.box.exchange_per_day,
                     "air exchanged, volumes a day; or --decay or --inside");
  command.add_option("--decay", request.decay,
                     "decay test: CSV of hours and a tracer such as CO2, to find the exchange");
  command.add_option("--background", request.background, "of that tracer outside, in its unit");
  command.add_option("--inside", request.inside,
                     "logger file from inside, to find the exchange with --outside");
  command.add_option("--gel-kg", request.box.gel_kg, "dry silica gel, kg (default none)");
  command.add_option("--gel", request.box.gel,
                     "isotherm of the gel by its id (default: not known)");
  command.add_option("--contents", request.box.contents_g_per_rh,
                     "water the contents take up, g per % RH (default none)");
  command
      .add_option("--start", request.box.start_rh_percent,
                  "humidity of air, gel and contents at the start, % RH")
      ->required();
}

void add_outside(Command& command, BoxRequest& request) {
  command.add_option("--outside-rh", request.outside_rh, "humidity outside, % RH");
  command.add_option("--temperature", request.temperature_c, "degrees C, 0 to 50");
  command.add_option("--outside", request.outside, "logger file from outside instead");
  command.add_option("--inside-temperature", request.inside_c,
                     "degrees C inside where it is not that outside");
}

void add_question(Command& command, BoxRequest& request) {
  command.add_option("--limit", request.limit, "limit inside, % RH");
  command.add_option("--days", request.options.days, "between two visits")->capture_default_str();
  command.add_option("--from", request.from, "date of the start, to give that of the next visit");
  command.add_option("--exchange-spread", request.spread,
                     "relative standard deviation of the exchange (default 0.25, or of the fit)");
  command
      .add_option("--outside-spread", request.options.outside_rh_sd,
                  "standard deviation of the humidity outside, % RH")
      ->capture_default_str();
  command.add_option("--draws", request.options.draws, "for the ranges; 0: none")
      ->capture_default_str();
  command.add_option("--seed", request.options.seed, "of the draws")->capture_default_str();
}

}  // namespace

Command* add_store_box(Command& store, Context& context) {
  auto request = std::make_shared<BoxRequest>();
  Command* command = store.add_subcommand(
      "box", "humidity in a box, a bag or a case: days to a limit, mass of gel, date of a visit");
  add_box(*command, *request);
  add_outside(*command, *request);
  add_question(*command, *request);
  command->callback([request, &context] { run(*request, context); });
  return command;
}

}  // namespace aeruca::cli
