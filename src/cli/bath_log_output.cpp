// aeruca bath log: the sums, the fit and the forecast of one log.

#include "cli/bath_output.hpp"
#include "cli/bath_words.hpp"
#include "render/bath_log_text.hpp"

namespace aeruca::cli {

void print_log(const LogRequest& request, Context& context) {
  BathFitOptions options = request.options;
  options.body = request.body.body();
  const BathLog log = with_blank(read_bath_log(request.file), request.blank_mg_per_l);
  const BathSummary summary = summarise_bath_log(log, options.object_mass_g, options.errors);
  const BathFit fit = fit_bath_log(log, options);
  if (fit.status != Status::converged || fit.forecast == ForecastKind::refused)
    context.exit_code = kNoAnswer;
  if (context.json) {
    Json out = detail::bath_log_json(log, summary, fit);
    add_data_line(out, context);
    context.out << detail::document_text(out);
    return;
  }
  context.out << detail::bath_log_text(log, summary, fit, options);
  print_data_line(context);
}

}  // namespace aeruca::cli
