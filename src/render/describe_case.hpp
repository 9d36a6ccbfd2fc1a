#pragma once

// The results of `casefile`, described once, and the records of the data set they name.

#include <string>

#include "aeruca/assessment.hpp"
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
    take("value", &F::value, "", "figure");
    take("low", &F::low, "", "from");
    take("high", &F::high, "", "to");
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
    take("ph", &P::ph, "", "pH");
    take("eh_v", &P::eh_v, "V", "potential against the standard hydrogen electrode");
    take("eh_uncertainty_v", &P::eh_uncertainty_v, "V", "its standard uncertainty");
    take("log10_activity", &P::log10_activity, "", "log10 activities");
    take("log10_carbonate", &P::log10_carbonate, "", "log10 activity of the carbonate");
  }
};

template <>
struct Description<StoreOdds> {
  static constexpr std::string_view name = "StoreOdds";
  static constexpr std::string_view meaning = "Chances of each state by the store record.";
  template <class Take>
  static void figures(Take take) {
    take("dormant", &StoreOdds::dormant, "", "dormant", chance);
    take("borderline", &StoreOdds::borderline, "", "borderline", chance);
    take("active", &StoreOdds::active, "", "active", chance);
    take("rule", &StoreOdds::rule, "", "how the verdict follows");
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
    take("mass_g", &CaseObject::mass_g, "g", "mass");
    take("features", &CaseObject::features, "", "features");
    take("silver_nitrate_test", &CaseObject::silver_nitrate_test, "", "silver nitrate test");
    take("notes", &CaseObject::notes, "", "notes");
  }
};

template <>
struct Description<Source> {
  static constexpr std::string_view name = "Source";
  static constexpr std::string_view meaning = "Where figures come from.";
  template <class Take>
  static void figures(Take take) {
    take("key", &Source::key, "", "key");
    take("text", &Source::text, "", "source");
    take("doi", &Source::doi, "", "doi");
  }
};

template <>
struct Description<Figure> {
  static constexpr std::string_view name = "Figure";
  static constexpr std::string_view meaning =
      "One figure of the data set, with where it comes from.";
  template <class Take>
  static void figures(Take take) {
    take("id", &Figure::id, "", "name");
    take("subject", &Figure::subject, "", "of");
    take("quantity", &Figure::quantity, "", "quantity");
    take("value", &Figure::value, "", "value", digits(7));
    take("unit", &Figure::unit, "", "unit");
    take("uncertainty", &Figure::uncertainty, "", "standard uncertainty", digits(3));
    take("conditions", &Figure::conditions, "", "conditions");
    take("source", &Figure::source, "", "source");
    take("place", &Figure::place, "", "place in it");
    take("basis", &Figure::basis, "", "basis");
    take("chosen", &Figure::chosen, "", "used", apart);
    take("reason", &Figure::reason, "", "why used, or not");
    take("note", &Figure::note, "", "note");
    take("file", &Figure::file, "", "file of the data set", apart);
    take("line", &Figure::line, "", "its line", apart);
  }
};

}  // namespace aeruca::detail
