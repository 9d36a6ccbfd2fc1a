#include "render/bath_log_text.hpp"
#include "render/describe_bath.hpp"
#include "render/json.hpp"

namespace aeruca::detail {
namespace {

// What went into each bath and what came out of it, in one place.
Json summary_json(const BathLog& log, const BathSummary& summary) {
  Json json = json_of(summary);
  for (std::size_t k = 0; k < log.baths.size(); ++k) {
    Json bath = json_of(log.baths[k]);
    bath.update(json["baths"][k]);
    json["baths"][k] = bath;
  }
  return json;
}

Json fit_json(const BathFit& fit) {
  // Without a fit there are no figures, and a 0 would be taken for one.
  if (fit.degrees_of_freedom < 1 && fit.status != Status::converged)
    return {{"status", to_string(fit.status)}, {"message", fit.message}};
  Json json = json_of(fit);
  Json forecast{{"kind", json["forecast"]}, {"reason", json["forecast_reason"]}};
  for (const char* figure : {"more_days", "more_baths"}) {
    forecast[figure] = json[figure];
    json.erase(figure);
  }
  json.erase("forecast_reason");
  json["forecast"] = forecast;
  return json;
}

}  // namespace

Json bath_log_json(const BathLog& log, const BathSummary& summary, const BathFit& fit) {
  return {{"file", log.file}, {"summary", summary_json(log, summary)}, {"fit", fit_json(fit)}};
}

}  // namespace aeruca::detail
