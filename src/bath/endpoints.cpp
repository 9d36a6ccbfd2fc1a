#include "bath/endpoints.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/words.hpp"

namespace aeruca::detail {
namespace {

// One rule of the data set; each kind asks another thing of the bodies.
class Judge {
 public:
  Judge(const BathLog& log, const Dataset& dataset, const Future& future, double object_mass_g)
      : limit_(latest_limit(log)),
        dataset_(dataset),
        future_(future),
        grams_(object_mass_g),
        now_(future.course(0, {})) {
    if (future.treatment().steps.size() > 1) before_ = readings_before();
  }

  EndpointVerdict verdict(const Figure& figure) const {
    EndpointVerdict verdict;
    verdict.figure = figure.id;
    verdict.made_for = figure.conditions;
    verdict.rule = say("bath.endpoint.rule",
                       {{"quantity", quantity_words(figure)}, {"source", source_words(figure)}});
    judge_on_bodies(figure, verdict);
    return verdict;
  }

  [[nodiscard]] EndpointVerdict own_level(double stop_mg_per_l) const {
    Figure own;
    own.quantity = "last bath";
    own.value = stop_mg_per_l;
    EndpointVerdict own_verdict;
    own_verdict.made_for = say("bath.endpoint.own_made_for");
    own_verdict.rule = say("bath.endpoint.rule", {{"quantity", quantity_words(own)},
                                                  {"source", say("bath.endpoint.own")}});
    judge_on_bodies(own, own_verdict);
    return own_verdict;
  }

 private:
  // What the last two baths show, body by body: the course of the log itself.
  [[nodiscard]] std::vector<double> readings_before() const {
    std::vector<double> readings;
    const auto& steps = future_.treatment().steps;
    for (const BathDraw& body : future_.bodies()) {
      const UnitRelease release = unit_release(
          body.model, {body.rate_per_day, body.capacity_l, body.first_extra, body.second_extra, 0},
          steps, Fineness::reading);
      readings.push_back(
          expected_mg_per_l(steps[steps.size() - 2], release, steps.size() - 2, body.load_mg));
    }
    return readings;
  }

  void judge_on_bodies(const Figure& figure, EndpointVerdict& verdict) const {
    if (!can_be_judged(figure, verdict)) return;
    std::size_t met = 0;
    for (std::size_t b = 0; b < future_.bodies().size(); ++b) met += holds(figure, b) ? 1 : 0;
    verdict.probability = static_cast<double>(met) / static_cast<double>(future_.bodies().size());
    verdict.sentence =
        say("bath.endpoint.chance", {{"percent", format_number(100 * verdict.probability, 3)}});
  }

  bool can_be_judged(const Figure& figure, EndpointVerdict& verdict) const {
    if (figure.quantity == "last bath" && !std::isnan(limit_) && limit_ > figure.value) {
      verdict.seen = false;
      verdict.sentence = say("bath.endpoint.unseen", {{"limit_mg_per_l", format_number(limit_, 3)},
                                                      {"level", format_number(figure.value, 3)}});
    } else if (figure.quantity == "nothing detected" && std::isnan(limit_)) {
      verdict.seen = false;
      verdict.sentence = say("bath.endpoint.no_limit");
    } else if (figure.quantity == "residue" && std::isnan(grams_)) {
      verdict.seen = false;
      verdict.sentence = say("bath.endpoint.no_mass");
    } else if (figure.quantity == "successive change" && before_.empty()) {
      verdict.seen = false;
      verdict.sentence = say("bath.endpoint.one_bath");
    }
    return verdict.seen;
  }

  [[nodiscard]] bool holds(const Figure& figure, std::size_t b) const {
    const BathDraw& body = future_.bodies()[b];
    const double reading = now_.reading_mg_per_l[b].back();
    const double blank =
        future_.treatment().steps.back().fill_mg / future_.treatment().steps.back().volume_l;
    if (figure.quantity == "last bath") return reading - blank < figure.value;
    if (figure.quantity == "nothing detected") return reading < limit_;
    if (figure.quantity == "residue") return body.left_mg / grams_ < figure.value / 1000;  // mg/kg
    return std::abs(reading - before_[b]) < figure.value * std::max(before_[b], reading);
  }

  std::string quantity_words(const Figure& figure) const {
    const double value = figure.quantity == "nothing detected" ? limit_ : figure.value;
    std::string key = figure.quantity;
    std::replace(key.begin(), key.end(), ' ', '_');
    return say(
        "bath.endpoint." + key,
        {{"value", std::isnan(value) ? say("bath.endpoint.not_stated") : format_number(value, 3)}});
  }

  [[nodiscard]] std::string source_words(const Figure& figure) const {
    return short_citation(dataset_.source(figure.source));
  }

  double limit_;
  const Dataset& dataset_;
  const Future& future_;
  double grams_;
  Future::Course now_;
  std::vector<double> before_;
};

}  // namespace

double latest_limit(const BathLog& log) {
  const auto stated = std::find_if(
      log.baths.rbegin(), log.baths.rend(),
      [](const BathRecord& bath) { return !std::isnan(bath.detection_limit_mg_per_l); });
  return stated == log.baths.rend() ? kNotGiven : stated->detection_limit_mg_per_l;
}

std::vector<EndpointVerdict> judge_endpoints(const BathLog& log, const Dataset& dataset,
                                             const Future& future, double object_mass_g,
                                             double stop_mg_per_l) {
  const Judge judge(log, dataset, future, object_mass_g);
  std::vector<EndpointVerdict> verdicts;
  if (!std::isnan(stop_mg_per_l)) verdicts.push_back(judge.own_level(stop_mg_per_l));
  for (const Figure& figure : dataset.figures) {
    if (figure.id.rfind("endpoint.", 0) == 0 && figure.chosen)
      verdicts.push_back(judge.verdict(figure));
  }
  return verdicts;
}

}  // namespace aeruca::detail
