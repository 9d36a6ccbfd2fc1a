#pragma once

/// \file
/// Where a number comes from. Every figure of the data set is one record: value, unit, uncertainty,
/// conditions, source, place in the source and basis. Where sources disagree all stand, and one is
/// chosen with a reason.

#include <string>
#include <string_view>
#include <vector>

namespace aeruca {

/// How a figure came into the data set: read in the source (or an abstract of it), recalled from
/// the named source and not seen, calculated from other figures, or estimated by a stated rule
/// because none was found, with the uncertainty of the rule.
enum class Basis { looked_up, memory, derived, estimated };

/// "looked-up", "memory", "derived" or "estimated", as the data files spell it.
[[nodiscard]] std::string_view to_string(Basis basis);

/// One entry of data/sources.bib.
struct Source {
  std::string key;   ///< as cited by the figures
  std::string text;  ///< authors, year, title, journal in one line
  std::string doi;   ///< empty if none
};

/// "Greenspan 1977": first author and year, as in running text; all before the first comma where
/// there is no year.
[[nodiscard]] std::string short_citation(const Source& source);

/// One figure of the data set.
struct Figure {
  std::string id;          ///< unique key, such as "R05"
  std::string subject;     ///< the reaction equation, species or quantity it speaks of
  std::string quantity;    ///< "log10_k", "enthalpy", "gibbs_energy", "rh_onset" ...
  double value = 0;        ///< NaN: wanted, not found
  std::string unit;        ///< "1" for pure numbers
  double uncertainty = 0;  ///< in the same unit; NaN: not stated
  std::string conditions;  ///< temperature, ionic strength, medium
  std::string source;      ///< key of a Source
  std::string place;       ///< table, page or row, empty if not known
  Basis basis = Basis::memory;
  bool chosen = false;  ///< used by the calculations
  std::string reason;   ///< why chosen or why not
  std::string note;     ///< what the reader should know of it
  std::string file;     ///< data file it was read from
  long line = 0;
};

}  // namespace aeruca
