// Any bytes as a case file: our own error, or a case that can be assessed, printed and written as
// JSON.

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "aeruca/assessment.hpp"
#include "aeruca/render.hpp"
#include "demand.hpp"

namespace {

using aeruca::Dataset;
using aeruca::PhaseKind;
using aeruca::Species;

constexpr std::array<std::string_view, 18> kKept{
    "Cu(+)",  "CuCl(+)", "CuCl2(-)",   "CuCl3(2-)",      "CuOH(+)",     "CuCO3(aq)",
    "copper", "cuprite", "tenorite",   "nantokite",      "atacamite",   "malachite",
    "halite", "gypsum",  "bischofite", "clinoatacamite", "brochantite", "Cu(CO3)2(2-)"};

// Loaded once, and less most of its copper, its salts and what no species left rests on: the reader
// sees no difference, and solving and drawing take a third of the time.
std::shared_ptr<const Dataset> few_species() {
  auto few = std::make_shared<Dataset>(*aeruca::default_dataset());
  const std::size_t copper = few->component_index("Cu(2+)");
  std::erase_if(few->species, [&](const Species& species) {
    const bool many = species.kind == PhaseKind::solid ||
                      (species.components[copper] != 0 && species.name != "Cu(2+)");
    return many && std::find(kKept.begin(), kKept.end(), species.name) == kKept.end();
  });
  std::erase_if(few->figures, [&](const aeruca::Figure& figure) {
    const bool constant = figure.quantity == "log10_k" || figure.quantity == "gibbs_energy" ||
                          figure.quantity == "enthalpy" || figure.quantity == "entropy" ||
                          figure.quantity == "heat_capacity";
    return constant && std::none_of(few->species.begin(), few->species.end(), [&](const auto& one) {
             return std::find(one.figures.begin(), one.figures.end(), figure.id) !=
                    one.figures.end();
           });
  });
  few->index_names();
  return few;
}

void check(aeruca::CaseFile file) {
  static const std::shared_ptr<const Dataset> dataset = few_species();
  file.store.log.clear();  // logs have harnesses of their own
  file.bath.log.clear();
  const aeruca::CaseAssessment assessment = aeruca::assess_case(file, dataset);
  demand(assessment.sections.size() == 4);
  for (const aeruca::CaseSection& section : assessment.sections) demand(!section.answer.empty());
  demand(!aeruca::to_text(assessment, 60).empty());
  demand(aeruca::to_json(assessment).front() == '{');
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return answer_or_refuse(
      data, size, [](std::string_view text) { check(aeruca::parse_case_file(text, "case.toml")); });
}
