#include "render/mixture_text.hpp"

#include <cmath>

#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"
#include "render/describe_mixture.hpp"
#include "render/json.hpp"
#include "render/mixture_chart.hpp"

namespace aeruca::detail {

namespace {

constexpr std::size_t kRangeWidth = 18;
constexpr std::size_t kBrineWidth = 10;

std::string humidity(double rh_percent) {
  return fixed_text(rh_percent, 1);
}

std::string solids_text(const std::vector<std::string>& solids) {
  return solids.empty() ? say("word.none") : join(solids, ", ");
}

std::vector<std::string> names_of(const MixtureState& state) {
  std::vector<std::string> names;
  for (const auto& [name, moles] : state.solids) names.push_back(name);
  return names;
}

std::string window_row(double from, double to, bool brine, const std::vector<std::string>& solids) {
  const std::string range = say("word.range", {{"low", humidity(from)}, {"high", humidity(to)}});
  return "  " + padded(range, kRangeWidth) +
         padded(say(brine ? "word.yes" : "word.no"), kBrineWidth) + solids_text(solids) + "\n";
}

// Where states were not answered the window says so, each reason once.
std::string windows(const MixtureSweep& sweep) {
  std::string text = "  " + padded("% RH", kRangeWidth) +
                     padded(say("page.mixture.brine"), kBrineWidth) + say("page.mixture.solids") +
                     "\n";
  const auto answered = [](const MixtureState& s) { return s.status == Status::converged; };
  std::size_t i = 0;
  while (i < sweep.states.size()) {
    std::size_t last = i;
    while (last + 1 < sweep.states.size() &&
           answered(sweep.states[last + 1]) == answered(sweep.states[i]))
      ++last;
    const double end = sweep.states[last].rh_percent;
    double from = sweep.states[i].rh_percent;
    if (!answered(sweep.states[i])) {
      text += "  " +
              padded(say("word.range", {{"low", humidity(from)}, {"high", humidity(end)}}),
                     kRangeWidth) +
              say("page.mixture.no_answer", {{"reason", sweep.states[i].message}}) + "\n";
    } else {
      bool brine = sweep.states[i].brine;
      std::vector<std::string> solids = names_of(sweep.states[i]);
      for (const MixtureOnset& onset : sweep.onsets) {
        if (onset.rh_percent < from || onset.rh_percent > end) continue;
        text += window_row(from, onset.rh_percent, brine, solids);
        from = onset.rh_percent;
        brine = onset.brine_when_moister;
        solids = onset.moister;
      }
      text += window_row(from, end, brine, solids);
    }
    i = last + 1;
  }
  return text;
}

std::string charge_line(const SaltAnalysis& analysis) {
  const std::string where = analysis.assigned_to.empty()
                                ? say("page.mixture.shared_out")
                                : say("page.mixture.assigned", {{"ion", analysis.assigned_to}});
  return say("page.mixture.charge",
             {{"percent", format_number(analysis.error_percent, 2)}, {"assigned", where}}) +
         "\n";
}

}  // namespace

std::string Description<MixtureState>::said(const MixtureState& state) {
  if (state.status != Status::converged) return state.message;
  return humidity(state.rh_percent) + " % RH: " + solids_text(names_of(state)) +
         (state.brine ? " + " + say("page.mixture.brine") : "");
}

std::string Description<MixtureOnset>::said(const MixtureOnset& onset) {
  const auto side = [](const std::vector<std::string>& solids, bool brine) {
    return solids_text(solids) + (brine ? " + " + say("page.mixture.brine") : "");
  };
  return humidity(onset.rh_percent) + " % RH: " + side(onset.drier, onset.brine_when_drier) +
         " | " + side(onset.moister, onset.brine_when_moister);
}

std::string mixture_text(const SaltAnalysis& analysis, const MixtureSweep& sweep,
                         const Dataset& dataset) {
  std::string text =
      say("page.mixture.title", {{"temperature_c", format_number(sweep.temperature_c)}}) + "\n";
  std::vector<std::string> ions;
  for (const auto& [name, moles] : sweep.ions) ions.push_back(name + " " + format_number(moles, 3));
  text += say("page.mixture.ions", {{"ions", join(ions, ", ")}}) + "\n" + charge_line(analysis);
  for (const std::string& ion : analysis.below_limit)
    text += say("page.water.below_limit", {{"ion", ion}}) + "\n";
  text += "\n" + windows(sweep) + "\n" + mixture_chart(sweep) + "\n";
  text += std::isnan(sweep.mutual_deliquescence_rh_percent)
              ? say("page.mixture.no_onset")
              : say("page.mixture.onset",
                    {{"rh_percent", humidity(sweep.mutual_deliquescence_rh_percent)},
                     {"uncertainty",
                      format_number(sweep.mutual_deliquescence_uncertainty_percent, 2)}});
  text += "\n" + say("page.mixture.proof") + "\n";
  for (const std::string& warning : sweep.warnings)
    text += say("page.note", {{"note", warning}}) + "\n";
  return text + say("page.mixture.hysteresis") + "\n" +
         say("page.data_set_line", {{"version", dataset.version}, {"hash", dataset.content_hash}}) +
         "\n";
}

std::string mixture_json(const SaltAnalysis& analysis, const MixtureSweep& sweep,
                         const Dataset& dataset) {
  Json charge = Json::object();
  charge["error_percent"] = json_of(analysis.error_percent);
  charge["assigned_to"] = json_of(analysis.assigned_to);
  charge["below_limit"] = json_of(analysis.below_limit);
  return document_text({{"analysis", std::move(charge)},
                        {"mixture", json_of(sweep)},
                        {"data_set", data_set_json(dataset)}});
}

}  // namespace aeruca::detail
