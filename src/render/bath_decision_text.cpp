#include "render/bath_decision_text.hpp"

#include <cmath>
#include <sstream>

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

std::string percent(double probability) {
  return format_number(100 * probability, probability > 0.99 && probability < 1 ? 3 : 2) + " %";
}

std::string whole_percent(double probability) {
  return std::to_string(std::lround(100 * probability)) + " %";
}

std::string ranged(const Range& range) {
  if (std::isnan(range.high)) return "-";
  if (std::isnan(range.median) || std::isinf(range.low)) return say("page.bath.never");
  const std::string high =
      std::isinf(range.high) ? say("page.bath.never") : format_number(range.high, 3);
  const std::string median =
      std::isinf(range.median) ? say("page.bath.never") : format_number(range.median, 3);
  return say("page.bath.range",
             {{"median", median}, {"low", format_number(range.low, 3)}, {"high", high}});
}

void print_stories(const BathPosterior& posterior, std::ostream& out) {
  std::vector<std::vector<std::string>> rows{{say("page.bath.story"), say("page.bath.probability"),
                                              say("page.bath.out_percent"),
                                              say("page.bath.left_mg")}};
  for (const BathStoryBelief& story : posterior.stories) {
    rows.push_back({say("bath.story." + std::string(story.story == BathStory::slow_part
                                                        ? "slow_part"
                                                        : to_string(story.story))),
                    whole_percent(story.probability), ranged(story.share_out_percent),
                    ranged(story.left_mg)});
  }
  out << aligned(rows) << '\n';
}

void print_chances(const BathDecision& decision, std::ostream& out) {
  std::vector<std::string> parts;
  for (const LeftChance& chance : decision.left_chances) {
    parts.push_back(
        say("page.bath.left_chance", {{"share_percent", format_number(chance.share_percent, 3)},
                                      {"probability", whole_percent(chance.probability)}}));
  }
  out << say("page.bath.left_chances", {{"chances", join(parts, ", ")}}) << '\n';
}

void print_choices(const BathDecision& decision, std::ostream& out) {
  out << '\n'
      << say("page.bath.choices", {{"days", format_number(decision.considered_days, 3)}}) << '\n';
  std::vector<std::vector<std::string>> rows{{say("page.bath.choice"), say("page.bath.left_mg"),
                                              say("page.bath.gain_mg"), say("page.bath.worth")}};
  for (const BathChoice& choice : decision.choices) {
    rows.push_back({choice.choice, ranged(choice.left_mg), ranged(choice.gain_mg),
                    whole_percent(choice.worth_while)});
  }
  out << aligned(rows) << say("page.bath.days_saved", {{"days", ranged(decision.days_saved)}})
      << '\n';
}

void print_endpoints(const BathDecision& decision, std::ostream& out) {
  out << '\n' << say("page.bath.endpoints") << '\n';
  for (const EndpointVerdict& verdict : decision.endpoints) {
    out << "  " << verdict.rule << ": " << verdict.sentence << "\n    "
        << say("page.bath.made_for", {{"what", verdict.made_for}}) << '\n';
  }
}

void print_measurements(const BathDecision& decision, std::ostream& out) {
  out << '\n' << say("page.bath.measurements") << '\n';
  for (const MeasurementValue& value : decision.measurements) {
    out << "  " << value.measurement << ": "
        << say("page.bath.narrower",
               {{"percent", std::to_string(std::lround(value.narrowing_percent))}})
        << '\n';
  }
}

void print_models(const BathPosterior& posterior, std::ostream& out) {
  out << '\n' << say("page.bath.models") << '\n';
  std::vector<std::vector<std::string>> rows{{say("page.bath.model"), say("page.bath.probability"),
                                              "p", say("page.bath.left_mg"),
                                              say("page.bath.effective")}};
  for (const BathModelBelief& model : posterior.models) {
    rows.push_back({std::string(to_string(model.model)),
                    model.refused ? say("page.bath.refused") : percent(model.probability),
                    format_number(model.p_value, 2), ranged(model.left_mg),
                    format_number(model.effective, 3)});
  }
  out << aligned(rows);
}

void print_scheme(const std::string& label, const BathScheme& scheme, std::ostream& out) {
  if (scheme.days.empty()) {
    out << label << say("page.bath.no_scheme") << '\n';
    return;
  }
  std::vector<std::string> days;
  days.reserve(scheme.days.size());
  for (const double one : scheme.days) days.push_back(format_number(one, 3));
  out << label
      << say("page.bath.scheme", {{"baths", std::to_string(scheme.days.size())},
                                  {"litres", format_number(scheme.bath_l, 3)},
                                  {"days", join(days, " + ")},
                                  {"left_mg", ranged(scheme.left_mg)}})
      << '\n';
}

}  // namespace

std::string bath_decision_text(const BathDecision& decision, const Dataset& dataset) {
  std::ostringstream out;
  out << decision.message << "\n\n";
  const BathPosterior& posterior = decision.posterior;
  if (decision.status != Status::converged) return out.str();
  out << say("page.bath.taken_out", {{"mg", ranged(decision.out_mg)}}) << '\n'
      << posterior.message << '\n';
  if (!std::isnan(posterior.left_mg_per_g.high))
    out << say("page.bath.left_per_gram", {{"mg_per_g", ranged(posterior.left_mg_per_g)}}) << '\n';
  if (!std::isnan(posterior.left_mg_per_cm2.high))
    out << say("page.bath.left_per_area", {{"mg_per_cm2", ranged(posterior.left_mg_per_cm2)}})
        << '\n';
  print_stories(posterior, out);
  print_chances(decision, out);
  if (!std::isnan(decision.hidden_mg))
    out << say("page.bath.hidden",
               {{"limit_mg_per_l", format_number(decision.detection_limit_mg_per_l, 3)},
                {"mg", format_number(decision.hidden_mg, 3)}})
        << '\n';
  print_choices(decision, out);
  print_endpoints(decision, out);
  out << '\n' << say("page.bath.forecast") << decision.forecast_reason << '\n';
  print_measurements(decision, out);
  print_models(posterior, out);
  out << '\n' << say("page.bath.low_reading") << '\n' << say("page.bath.posterior_ground") << '\n';
  for (const std::string& warning : posterior.warnings) out << "! " << warning << '\n';
  for (const std::string& remark : posterior.remarks) out << "! " << remark << '\n';
  out << '\n'
      << say("page.bath.data_set_rules",
             {{"version", dataset.version}, {"hash", dataset.content_hash}})
      << '\n';
  return out.str();
}

std::string bath_schedule_text(const BathSchedule& schedule) {
  std::ostringstream out;
  out << schedule.message << "\n\n";
  if (schedule.status != Status::converged) return out.str();
  std::vector<std::vector<std::string>> rows{{say("page.bath.baths"), say("page.bath.bath_days"),
                                              "L", say("page.bath.left_mg"),
                                              say("page.bath.below_target")}};
  for (const BathScheme& scheme : schedule.equal) {
    rows.push_back({std::to_string(scheme.days.size()), format_number(scheme.days.front(), 3),
                    format_number(scheme.bath_l, 3), ranged(scheme.left_mg),
                    std::isnan(scheme.below_target) ? "-" : whole_percent(scheme.below_target)});
  }
  out << aligned(rows) << '\n';
  print_scheme(say("page.bath.best"), schedule.best, out);
  out << say("page.bath.timing", {{"percent", format_number(schedule.gain_of_timing_percent, 2)}})
      << '\n';
  if (!std::isnan(schedule.equal.front().below_target)) {
    print_scheme(say("page.bath.least_time"), schedule.least_time, out);
    print_scheme(say("page.bath.least_water"), schedule.least_water, out);
  }
  for (const std::string& remark : schedule.remarks) out << "! " << remark << '\n';
  return out.str();
}

}  // namespace aeruca::detail
