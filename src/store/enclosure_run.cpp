#include "store/enclosure_run.hpp"

#include <algorithm>
#include <cmath>

#include "store/enclosure_gel_mass.hpp"

namespace aeruca::detail {
namespace {

constexpr std::size_t kCurvePoints = 200;
constexpr double kLongestDays = 36500;  // a hundred years: how far a constant climate is followed
constexpr const char* kUsualGel = "thu-2013";

}  // namespace

std::vector<KnownGel> gels_for(const Dataset& dataset, const Enclosure& enclosure) {
  std::vector<KnownGel> gels;
  gels.emplace_back(gel_isotherm(dataset, enclosure.gel.empty() ? kUsualGel : enclosure.gel));
  if (!enclosure.gel.empty()) return gels;
  for (GelIsotherm& gel : gel_isotherms(dataset)) {
    if (gel.id != kUsualGel) gels.emplace_back(std::move(gel));
  }
  return gels;
}

EnclosureRun::EnclosureRun(const Enclosure& enclosure, const Climate& climate,
                           const EnclosureOptions& options)
    : enclosure_(enclosure), climate_(climate), options_(options), contents_(enclosure) {
  for (std::size_t i = 0; i <= kCurvePoints; ++i)
    stops_.push_back(options.days * static_cast<double>(i) / kCurvePoints);
}

bool EnclosureRun::limited() const {
  return !std::isnan(options_.limit_rh_percent);
}

double EnclosureRun::horizon() const {
  return climate_.constant() ? std::max(kLongestDays, options_.days) : climate_.until_days.back();
}

Moisture EnclosureRun::moisture(const Variant& one, double gel_kg) const {
  return {one.gel->table, one.capacity * gel_kg / enclosure_.volume_m3, contents_};
}

EnclosureRun::Range EnclosureRun::range(const KnownGel& gel, double gel_kg) const {
  Range range{0, 1};
  if (gel_kg > 0) range = {gel.isotherm.low_rh_percent / 100, gel.isotherm.high_rh_percent / 100};
  if (!enclosure_.contents_rh_percent.empty()) {
    range.low = std::max(range.low, enclosure_.contents_rh_percent.front() / 100);
    range.high = std::min(range.high, enclosure_.contents_rh_percent.back() / 100);
  }
  return range;
}

Course EnclosureRun::course(const Variant& one, double gel_kg) const {
  Course course{one.start_h, one.exchange_per_day, options_.days};
  const Range valid = range(*one.gel, gel_kg);
  course.low_h = valid.low;
  course.high_h = valid.high;
  return course;
}

Followed EnclosureRun::followed(const Variant& one, const std::vector<ClimatePiece>& pieces,
                                double gel_kg) const {
  Followed found;
  const Watcher watch = [&](double, double h) { found.h.push_back(h); };
  Course way = course(one, gel_kg);
  if (limited()) {
    way.limit_h = options_.limit_rh_percent / 100;
    way.horizon_days = horizon();
  }
  found.end = follow(moisture(one, gel_kg), pieces, way, stops_, watch);
  found.h.resize(stops_.size(), kNotGiven);
  const bool lost = found.end.out_of_range && found.end.limit_days == kNever;
  if (limited() && !lost) found.days_to_limit = found.end.limit_days;
  return found;
}

double EnclosureRun::gel_for_visit(const Variant& one, const std::vector<ClimatePiece>& pieces,
                                   double guess_kg) const {
  const double limit_h = options_.limit_rh_percent / 100;
  if (guess_kg > 0 && std::isfinite(guess_kg)) {
    const double found = gel_mass_from(guess_kg, growth(one, pieces));
    if (!std::isnan(found)) return found;
  }
  const auto excess = [&](double gel_kg) {
    Course way = course(one, gel_kg);
    way.high_h = 1;  // beyond the limit, where nothing is read off
    return follow(moisture(one, gel_kg), pieces, way).peak_h - limit_h;
  };
  return gel_mass(enclosure_.volume_m3, excess);
}

// Gel that takes up so much of what it could to the limit: nearly in proportion to the mass, and
// exactly where they meet.
Growth EnclosureRun::growth(const Variant& one, const std::vector<ClimatePiece>& pieces) const {
  const auto sorbed = [&one](double h) { return one.gel->table.at(std::log(h)).value; };
  return [this, &one, &pieces, sorbed](double gel_kg) {
    const double limit_h = options_.limit_rh_percent / 100;
    Course way = course(one, gel_kg);
    way.high_h = 1;  // beyond the limit, where nothing is read off
    const double peak_h = follow(moisture(one, gel_kg), pieces, way).peak_h;
    const double start = sorbed(one.start_h);
    return std::max(sorbed(peak_h) - start, 1e-9) / std::max(sorbed(limit_h) - start, 1e-9);
  };
}

}  // namespace aeruca::detail
