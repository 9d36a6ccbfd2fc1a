#pragma once

// The minerals guide and what it makes of a grain, described once.

#include <string>

#include "aeruca/minerals.hpp"
#include "base/text.hpp"
#include "render/figures.hpp"

namespace aeruca::detail {

template <>
struct Description<FieldTest> {
  static constexpr std::string_view name = "FieldTest";
  static constexpr std::string_view meaning = "A question put to a lifted grain.";
  static constexpr std::string_view keyed_by = "id";
  template <class Take>
  static void figures(Take take) {
    take("id", &FieldTest::id, "", "test", at_a_glance);
    take("question", &FieldTest::question, "", "what it answers", at_a_glance);
    take("outcomes", &FieldTest::outcomes, "", "outcomes", at_a_glance);
    take("how", &FieldTest::how, "", "how it is done");
    take("misleads", &FieldTest::misleads, "", "its false results");
    take("caution", &FieldTest::caution, "", "caution");
    take("source", &FieldTest::source, "", "source");
    take("place", &FieldTest::place, "", "place in it");
    take("basis", &FieldTest::basis, "", "basis");
  }
};

template <>
struct Description<Mineral> {
  static constexpr std::string_view name = "Mineral";
  static constexpr std::string_view meaning = "A solid as it is met on an object.";
  template <class Take>
  static void figures(Take take) {
    take("name", &Mineral::name, "", "mineral", at_a_glance);
    take("also", &Mineral::also, "", "other names");
    take("formula", &Mineral::formula, "", "formula", at_a_glance);
    take("group", &Mineral::group, "", "what it means the same as", at_a_glance);
    take("colour", &Mineral::colour, "", "colour", at_a_glance);
    take("habit", &Mineral::habit, "", "habit", at_a_glance);
    take("means", &Mineral::means, "", "what it means for activity", at_a_glance);
    take("does_not_mean", &Mineral::does_not_mean, "", "what it does not mean", at_a_glance);
    take("usual", &Mineral::usual, "", "outcomes of field tests that most grains give");
    take("possible", &Mineral::possible, "", "outcomes that some grains give");
    take("on_copper", &Mineral::on_copper, "", "how often it is met on copper alloys");
    take("molar_mass_g_per_mol", known<&Mineral::molar_mass_g_per_mol>(), "g/mol", "molar mass",
         digits(6));
    take("density_g_per_cm3", known<&Mineral::density_g_per_cm3>(), "g/cm3", "density", digits(3));
    take("density_figure", &Mineral::density_figure, "", "figure of the density");
    take("molar_volume_cm3_per_mol", known<&Mineral::molar_volume_cm3_per_mol>(), "cm3/mol",
         "molar volume", digits(3));
    take("molar_volume_uncertainty", known<&Mineral::molar_volume_uncertainty>(), "cm3/mol",
         "standard uncertainty of the molar volume", digits(2));
    take("note", &Mineral::note, "", "note");
    take("source", &Mineral::source, "", "source of colour, habit and tests");
    take("place", &Mineral::place, "", "place in it");
    take("basis", &Mineral::basis, "", "basis of colour, habit and tests");
    take("group_source", &Mineral::group_source, "", "source of what it means");
    take("group_place", &Mineral::group_place, "", "what of it");
    take("group_basis", &Mineral::group_basis, "", "basis of what it means");
  }
};

template <>
struct Description<MineralSight> {
  static constexpr std::string_view name = "MineralSight";
  static constexpr std::string_view meaning = "One outcome of a field test.";
  template <class Take>
  static void figures(Take take) {
    take("test", &MineralSight::test, "", "test");
    take("outcome", &MineralSight::outcome, "", "outcome");
  }
  static std::string said(const MineralSight& sight) { return sight.test + "=" + sight.outcome; }
};

template <>
struct Description<MineralCandidate> {
  static constexpr std::string_view name = "MineralCandidate";
  static constexpr std::string_view meaning = "A mineral beside what was seen.";
  template <class Take>
  static void figures(Take take) {
    take("name", &MineralCandidate::name, "", "mineral", at_a_glance);
    take("formula", &MineralCandidate::formula, "", "formula");
    take("group", &MineralCandidate::group, "", "what it means the same as");
    take("usual", &MineralCandidate::usual, "", "seen and usual for it");
    take("possible", &MineralCandidate::possible, "", "seen and possible for it");
    take("silent", &MineralCandidate::silent, "", "tests of which nothing is known for it");
    take("against", &MineralCandidate::against, "", "seen and against it");
    take("on_copper", &MineralCandidate::on_copper, "", "how often it is met on copper alloys");
  }
};

template <>
struct Description<OutcomeLeaves> {
  static constexpr std::string_view name = "OutcomeLeaves";
  static constexpr std::string_view meaning = "What one outcome of a test would leave.";
  template <class Take>
  static void figures(Take take) {
    take("outcome", &OutcomeLeaves::outcome, "", "outcome");
    take("minerals", &OutcomeLeaves::minerals, "", "leaves");
  }
  static std::string said(const OutcomeLeaves& leaves) {
    return leaves.outcome + " leaves " + join(leaves.minerals, ", ");
  }
};

template <>
struct Description<NextFieldTest> {
  static constexpr std::string_view name = "NextFieldTest";
  static constexpr std::string_view meaning = "The field test that tells candidates apart.";
  template <class Take>
  static void figures(Take take) {
    take("test", &NextFieldTest::test, "", "test", at_a_glance);
    take("question", &NextFieldTest::question, "", "what it answers", at_a_glance);
    take("how", &NextFieldTest::how, "", "how it is done");
    take("misleads", &NextFieldTest::misleads, "", "its false results");
    take("caution", &NextFieldTest::caution, "", "caution");
    take("leaves", &NextFieldTest::leaves, "", "what each outcome would leave");
  }
  static std::string said(const NextFieldTest& next) { return next.question; }
};

template <>
struct Description<MineralIdentification> {
  static constexpr std::string_view name = "MineralIdentification";
  static constexpr std::string_view meaning = "What a grain may be, from what was seen of it.";
  using M = MineralIdentification;
  template <class Take>
  static void figures(Take take) {
    take("seen", &M::seen, "", "seen", at_a_glance);
    take("candidates", &M::candidates, "", "minerals that fit, best first", at_a_glance);
    take("nearest", &M::nearest, "", "where none fits, the nearest", at_a_glance);
    take("next", &M::next, "", "test that would tell them apart", at_a_glance);
    take("message", &M::message, "", "why there is no more", at_a_glance);
    take("activity", &M::activity, "", "what this says of activity", at_a_glance);
    take("misled", &M::misled, "", "how the tests may have misled");
    take("cautions", &M::cautions, "", "cautions");
  }
};

}  // namespace aeruca::detail
