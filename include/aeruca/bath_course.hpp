#pragma once

/// \file
/// How the baths of a log went, and how further ones would go, moment by moment: for drawings.
///
/// The bodies of a posterior are carried through the log once more, every bath cut into pieces that
/// keep all their liquid, so the concentration is seen rising within each bath. Ranges are over the
/// bodies, stories mixed: where the stories disagree the band is wide and says so.

#include <vector>

#include "aeruca/bath_posterior.hpp"

namespace aeruca {

struct BathCourseOptions {
  std::size_t points = 8;         ///< moments in each bath, 1 to 100
  std::size_t baths_to_come = 0;  ///< like the last one, 0 to 60
  std::size_t bodies = 150;       ///< of the posterior, 20 to 2000
  ReadingErrors errors;
};

struct BathCoursePoint {
  double day = 0;        ///< since 1970-01-01T00:00
  std::size_t bath = 0;  ///< position, from 0; those to come count on
  bool to_come = false;
  Range reading_mg_per_l;
  Range out_mg;  ///< taken out so far
  Range left_mg;
};

/// Empty for a posterior without bodies. Throws InputError for options outside their ranges.
[[nodiscard]] std::vector<BathCoursePoint> bath_course(const BathLog& log,
                                                       const BathPosterior& posterior,
                                                       const BathCourseOptions& options = {});

}  // namespace aeruca
