#include "aeruca/collection.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <numeric>
#include <tuple>

#include "aeruca/logger_files.hpp"
#include "base/side_by_side.hpp"
#include "store/logger_series.hpp"
#include "store/store_options.hpp"

namespace aeruca {
namespace {

ObjectRisk read_and_judged(const std::string& path, const LoggerReadOptions& read,
                           const StoreOptions& judge) {
  std::optional<ObjectRisk> row;
  std::string problem;
  detail::answer_or_problem(row, problem, [&] {
    const LoggerRecord record = read_logger_csv(path, read);
    return object_risk(record, assess_store(record, judge));
  });
  if (row) return *row;
  ObjectRisk refused;
  refused.file = path;
  refused.problem = problem;
  return refused;
}

// Smaller: nearer to the head of the table.
auto place_of(const ObjectRisk& object) {
  const bool known = !std::isnan(object.probability_dormant);
  const int kind = !object.problem.empty() ? 2 : (known ? 0 : 1);
  const auto most_first = [](double value) { return std::isnan(value) ? 0 : -value; };
  return std::tuple(kind, known ? object.probability_dormant : 0,
                    most_first(object.probability_active), most_first(object.share_too_humid),
                    most_first(object.too_humid_by_rh_percent), std::string_view(object.file));
}

std::size_t& count_of(Collection& collection, const ObjectRisk& object) {
  if (!object.problem.empty()) return collection.unusable;
  switch (object.verdict) {
    case Verdict::active:
      return collection.active;
    case Verdict::borderline:
      return collection.borderline;
    case Verdict::dormant:
      return collection.dormant;
    case Verdict::not_known:
      break;
  }
  return collection.not_known;
}

}  // namespace

ObjectRisk object_risk(const LoggerRecord& record, const StoreAssessment& a,
                       const std::string& name) {
  ObjectRisk row;
  row.file = name.empty() ? record.file : name;
  row.verdict = a.verdict;
  row.probability_dormant = a.probability_dormant;
  row.probability_active = a.probability_active;
  row.share_too_humid = a.above_low.share.as_read;
  row.share_above_high = a.above_high.share.as_read;
  row.worst_spell_h = a.readings > 0 ? a.above_low.longest.hours : kNotGiven;
  if (a.above_low.longest.hours > 0) {
    row.worst_spell_start_s = a.above_low.longest.start_s;
    row.worst_spell_end_s = a.above_low.longest.end_s;
  }
  if (record.size() > 0) {
    row.start_s = record.times_s.front();
    row.end_s = record.times_s.back();
  }
  row.utc = record.utc;
  row.readings = a.readings;
  row.coverage = a.coverage;
  row.median_rh_percent = a.rh_percent.p50;
  row.set_point_rh_percent = a.set_point_rh_percent;
  row.too_humid_by_rh_percent = a.too_humid_by_rh_percent;
  row.faults =
      std::accumulate(record.fault_counts.begin(), record.fault_counts.end(), std::size_t{0});
  row.dropped = record.dropped;
  row.reason = a.reason;
  return row;
}

Collection ranked(std::vector<ObjectRisk> objects, const OnsetCurve& onset) {
  std::sort(objects.begin(), objects.end(),
            [](const ObjectRisk& a, const ObjectRisk& b) { return place_of(a) < place_of(b); });
  Collection collection;
  collection.onset = onset;
  int rank = 0;
  for (ObjectRisk& object : objects) {
    const bool judged = object.problem.empty() && !std::isnan(object.probability_dormant);
    object.rank = judged ? std::optional<int>(++rank) : std::nullopt;
    ++count_of(collection, object);
  }
  collection.objects = std::move(objects);
  return collection;
}

Collection judge_collection(const std::vector<std::string>& names, const LoggerReadOptions& read,
                            const StoreOptions& judge, int threads,
                            const std::function<void(std::size_t, std::size_t)>& progress) {
  detail::check_options(read);
  detail::check_options(judge);
  const std::vector<std::string> paths = find_logger_files(names);
  std::vector<ObjectRisk> objects(paths.size());
  std::atomic<std::size_t> done = 0;
  detail::side_by_side(
      paths.size(), threads,
      [&](std::size_t i) {
        objects[i] = read_and_judged(paths[i], read, judge);
        ++done;
      },
      [&] {
        if (progress) progress(done, paths.size());
      });
  return ranked(std::move(objects), judge.onset);
}

}  // namespace aeruca
