// The salts of a store as an analysis found them: what they are at every humidity.

#include <cmath>

#include "aeruca/salt_analysis.hpp"
#include "base/number_text.hpp"
#include "base/text.hpp"
#include "base/words.hpp"
#include "casefile/sections.hpp"

namespace aeruca::detail {
namespace {

constexpr const char* kKey = "store.salt_analysis";
constexpr int kDriest = 5, kMoistest = 98;  // % RH

MixtureSweep sweep_of(const CaseFile& file, const DatasetPointer& dataset, double temperature_c) {
  const auto found = read_salt_analysis(existing_log(file, kKey, file.store.salt_analysis));
  std::vector<double> humidities;
  for (int rh = kDriest; rh <= kMoistest; ++rh) humidities.push_back(rh);
  MixtureOptions options;
  options.temperature_c = temperature_c;
  try {
    return SaltMixture(dataset, analyse_salts(found, *dataset).ions, options).sweep(humidities);
  } catch (const InputError& problem) {
    throw file.fault(kKey, problem.what());
  } catch (const UnknownName& problem) {
    throw file.fault(kKey, problem.what());
  }
}

std::vector<std::string> row(double from, double to, bool brine,
                             const std::vector<std::string>& solids) {
  return {say("word.range", {{"low", fixed_text(from, 1)}, {"high", fixed_text(to, 1)}}),
          say(brine ? "word.yes" : "word.no"),
          solids.empty() ? say("word.none") : join(solids, ", ")};
}

// Windows between onsets; a sweep that was not answered throughout has none to show.
CaseTable windows_table(const MixtureSweep& sweep) {
  CaseTable table;
  table.title =
      say("dry.mixture.title", {{"temperature_c", format_number(sweep.temperature_c, 3)}});
  table.columns = {"% RH", say("page.mixture.brine"), say("page.mixture.solids")};
  double from = kDriest;
  bool brine = sweep.states.front().brine;
  std::vector<std::string> solids;
  for (const auto& [name, moles] : sweep.states.front().solids) solids.push_back(name);
  for (const MixtureOnset& onset : sweep.onsets) {
    table.rows.push_back(row(from, onset.rh_percent, brine, solids));
    from = onset.rh_percent;
    brine = onset.brine_when_moister;
    solids = onset.moister;
  }
  table.rows.push_back(row(from, kMoistest, brine, solids));
  table.note = say("dry.mixture.note");
  return table;
}

}  // namespace

void add_mixture(const CaseFile& file, const DatasetPointer& dataset, double temperature_c,
                 StoreAnswer& answer) {
  answer.mixture = sweep_of(file, dataset, temperature_c);
  const MixtureSweep& sweep = *answer.mixture;
  CaseSection& section = answer.section;
  if (!std::isnan(sweep.mutual_deliquescence_rh_percent))
    section.findings.push_back(range_of(
        "mutual_deliquescence_rh_percent", say("label.dry.mutual_deliquescence_rh_percent"),
        sweep.mutual_deliquescence_rh_percent,
        sweep.mutual_deliquescence_rh_percent - sweep.mutual_deliquescence_uncertainty_percent,
        sweep.mutual_deliquescence_rh_percent + sweep.mutual_deliquescence_uncertainty_percent,
        "% RH"));
  for (const MixtureState& state : sweep.states) {
    if (state.status == Status::converged) continue;
    add_warnings(section, {say("page.mixture.no_answer", {{"reason", state.message}})});
    return;
  }
  section.tables.push_back(windows_table(sweep));
  add_warnings(section, sweep.warnings);
}

}  // namespace aeruca::detail
