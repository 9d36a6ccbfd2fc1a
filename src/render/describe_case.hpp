#pragma once

// The results of `casefile`, described once.

#include <string>

#include "aeruca/assessment.hpp"
#include "render/describe_bath.hpp"
#include "render/describe_bath_posterior.hpp"
#include "render/describe_dataset.hpp"
#include "render/describe_enclosure.hpp"
#include "render/describe_mixture.hpp"
#include "render/describe_stability.hpp"
#include "render/describe_store.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<CaseFinding> {
  static constexpr std::string_view name = "CaseFinding";
  static constexpr std::string_view meaning = "One figure or fact.";
  using F = CaseFinding;
  template <class Take>
  static void figures(Take take) {
    take("key", &F::key, "", "name for programs");
    take("label", &F::label, "", "finding");
    take("value", known<&F::value>(), "", "figure");
    take("low", known<&F::low>(), "", "from");
    take("high", known<&F::high>(), "", "to");
    take("unit", &F::unit, "", "unit");
    take("text", &F::text, "", "in words");
    take("note", &F::note, "", "note");
  }
};

template <>
struct Description<CaseTable> {
  static constexpr std::string_view name = "CaseTable";
  static constexpr std::string_view meaning = "A table of the assessment, all cells as text.";
  template <class Take>
  static void figures(Take take) {
    take("title", &CaseTable::title, "", "title");
    take("columns", &CaseTable::columns, "", "columns");
    take("rows", &CaseTable::rows, "", "rows");
    take("note", &CaseTable::note, "", "note");
  }
};

template <>
struct Description<CaseSection> {
  static constexpr std::string_view name = "CaseSection";
  static constexpr std::string_view meaning = "One question, its answer, and what that rests on.";
  using S = CaseSection;
  template <class Take>
  static void figures(Take take) {
    take("id", &S::id, "", "name for programs");
    take("title", &S::title, "", "title");
    take("question", &S::question, "", "question");
    take("status", &S::status, "", "how far it is answered");
    take("answer", &S::answer, "", "answer");
    take("findings", &S::findings, "", "findings");
    take("tables", &S::tables, "", "tables");
    take("remarks", &S::remarks, "", "remarks");
    take("warnings", &S::warnings, "", "warnings");
    take("missing", &S::missing, "", "input that would have helped");
    take("figures", &S::figures, "", "constants used");
  }
};

template <>
struct Description<CaseWaterPoint> {
  static constexpr std::string_view name = "CaseWaterPoint";
  static constexpr std::string_view meaning = "A water of the case among the stability fields.";
  using P = CaseWaterPoint;
  template <class Take>
  static void figures(Take take) {
    take("name", &P::name, "", "water");
    take("temperature_c", &P::temperature_c, "degrees C", "temperature");
    take("ph", known<&P::ph>(), "", "pH");
    take("eh_v", known<&P::eh_v>(), "V", "potential against the standard hydrogen electrode");
    take("eh_uncertainty_v", known<&P::eh_uncertainty_v>(), "V", "its standard uncertainty");
    take("log10_activity", &P::log10_activity, "", "log10 activities");
    take("log10_carbonate", known<&P::log10_carbonate>(), "", "log10 activity of the carbonate");
  }
};

template <>
struct Description<CaseDiagram> {
  static constexpr std::string_view name = "CaseDiagram";
  static constexpr std::string_view meaning = "Stability fields that a case asks for.";
  using D = CaseDiagram;
  template <class Take>
  static void figures(Take take) {
    take("name", &D::name, "", "water, or pit");
    take("fields", &D::fields, "", "fields over pH and Eh", apart);
    take("ph", known<&D::ph>(), "", "pH");
    take("eh_v", known<&D::eh_v>(), "V", "potential against the standard hydrogen electrode");
    take("eh_uncertainty_v", known<&D::eh_uncertainty_v>(), "V", "its standard uncertainty");
    take("note", &D::note, "", "what the conditions stand for");
  }
};

template <>
struct Description<StoreOdds> {
  static constexpr std::string_view name = "StoreOdds";
  static constexpr std::string_view meaning = "Chances of each state by the store record.";
  template <class Take>
  static void figures(Take take) {
    take("dormant", known<&StoreOdds::dormant>(), "", "dormant", chance);
    take("borderline", known<&StoreOdds::borderline>(), "", "borderline", chance);
    take("active", known<&StoreOdds::active>(), "", "active", chance);
    take("rule", &StoreOdds::rule, "", "how the verdict follows");
  }
};

template <>
struct Description<SheetBox> {
  static constexpr std::string_view name = "SheetBox";
  static constexpr std::string_view meaning = "One box of the front sheet.";
  using B = SheetBox;
  template <class Take>
  static void figures(Take take) {
    take("id", &B::id, "", "name for programs");
    take("title", &B::title, "", "title");
    take("tone", &B::tone, "", "what it asks of the reader");
    take("verdict", &B::verdict, "", "verdict");
    take("figure", &B::figure, "", "figure with its range");
    take("figure_of", &B::figure_of, "", "what the figure is of");
    take("sentences", &B::sentences, "", "sentences");
    take("section", &B::section, "", "section behind it");
  }
};

template <>
struct Description<FrontSheet> {
  static constexpr std::string_view name = "FrontSheet";
  static constexpr std::string_view meaning = "What to do first, on one page.";
  template <class Take>
  static void figures(Take take) {
    take("boxes", &FrontSheet::boxes, "", "boxes");
    take("measure", &FrontSheet::measure, "", "what would tell most");
    take("caution", &FrontSheet::caution, "", "caution");
  }
};

template <>
struct Description<NextMeasurement> {
  static constexpr std::string_view name = "NextMeasurement";
  static constexpr std::string_view meaning = "What to measure next.";
  template <class Take>
  static void figures(Take take) {
    take("what", &NextMeasurement::what, "", "measure");
    take("why", &NextMeasurement::why, "", "because");
  }
};

template <>
struct Description<Caution> {
  static constexpr std::string_view name = "Caution";
  static constexpr std::string_view meaning = "What to take care of.";
  template <class Take>
  static void figures(Take take) {
    take("subject", &Caution::subject, "", "subject");
    take("text", &Caution::text, "", "caution");
  }
};

template <>
struct Description<InputFile> {
  static constexpr std::string_view name = "InputFile";
  static constexpr std::string_view meaning = "A file the assessment rests on.";
  template <class Take>
  static void figures(Take take) {
    take("role", &InputFile::role, "", "role");
    take("path", &InputFile::path, "", "path");
    take("content_hash", &InputFile::content_hash, "", "content");
  }
};

template <>
struct Description<CaseObservation> {
  static constexpr std::string_view name = "CaseObservation";
  static constexpr std::string_view meaning = "What was seen on one day.";
  template <class Take>
  static void figures(Take take) {
    take("date", &CaseObservation::date, "", "date");
    take("kind", &CaseObservation::kind, "", "kind");
    take("text", &CaseObservation::text, "", "in words");
    take("seen", &CaseObservation::seen, "", "seen of a lifted grain");
  }
};

template <>
struct Description<CaseObject> {
  static constexpr std::string_view name = "CaseObject";
  static constexpr std::string_view meaning = "The object itself.";
  template <class Take>
  static void figures(Take take) {
    take("name", &CaseObject::name, "", "object");
    take("material", &CaseObject::material, "", "material");
    take("mass_g", known<&CaseObject::mass_g>(), "g", "mass");
    take("features", &CaseObject::features, "", "features");
    take("silver_nitrate_test", &CaseObject::silver_nitrate_test, "", "silver nitrate test");
    take("notes", &CaseObject::notes, "", "notes");
  }
};

template <>
struct Description<CaseAssessment> {
  static constexpr std::string_view name = "CaseAssessment";
  static constexpr std::string_view meaning = "The assessment of one object.";
  using A = CaseAssessment;
  template <class Take>
  static void figures(Take take) {
    take("library_version", &A::library_version, "", "version of the library");
    take("complete", &A::complete, "", "every section found what it looked for");
    take("verdict", &A::verdict, "", "verdict", at_a_glance);
    take("probability", known<&A::probability>(), "", "that the store record fits it", chance,
         at_a_glance);
    take("probability_of", &A::probability_of, "", "what that is of");
    take("odds", &A::odds, "", "chances of each state by the store record");
    take("reason", &A::reason, "", "reason", at_a_glance);
    take("front", &A::front, "", "front sheet");
    take("in_short", &A::in_short, "", "in short");
    take("ask_a_conservator", &A::ask_a_conservator, "", "the object forbids treatment by number");
    take("sections", &A::sections, "", "sections");
    take("waters", &A::waters, "", "waters among the stability fields");
    take("not_known", &A::not_known, "", "what is not known");
    take("next", &A::next, "", "what to measure next");
    take("cautions", &A::cautions, "", "cautions");
    take("limits", &A::limits, "", "limits of the method");
    figures_behind(take);
  }
  static std::string said(const A& a) {
    return a.file.object.name + ": " + std::string(to_string(a.verdict));
  }

 private:
  template <class Take>
  static void figures_behind(Take& take) {
    take("constants", &A::constants, "", "constants used");
    take("sources", &A::sources, "", "their sources");
    take("inputs", &A::inputs, "", "files it rests on");
    take(
        "object", [](const A& a) { return a.file.object; }, "", "the object", apart);
    take(
        "observations", [](const A& a) { return a.file.observations; }, "", "what was seen", apart);
    take("record", &A::record, "", "the humidity record, as read", apart);
    take("store", &A::store, "", "what it says of the store", apart);
    take("mixture", &A::mixture, "", "the salts that an analysis found, over humidity", apart);
    take("box", &A::box, "", "by when its box must be looked at again", apart);
    take("box_exchange", &A::box_exchange, "", "exchange of that box, where it was measured",
         apart);
    take("bath_log", &A::bath_log, "", "the bath log, with the blank that was taken off", apart);
    take("bath_errors", &A::bath_errors, "", "how good readings were taken to be", apart);
    take("bath_summary", &A::bath_summary, "", "the sums of the log", apart);
    take("bath_decision", &A::bath_decision, "", "what to do with the bath", apart);
    take("bath_fit", &A::bath_fit, "", "the fit of the log, where one story serves", apart);
    take("diagrams", &A::diagrams, "", "stability fields of each water, then of a pit", apart);
  }
};

}  // namespace aeruca::detail
