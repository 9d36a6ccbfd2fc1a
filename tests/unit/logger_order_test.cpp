#include "store/logger_order.hpp"

#include <algorithm>
#include <random>

#include "catch.hpp"
#include "seeded.hpp"

using namespace aeruca;

TEST_CASE("the line of each reading is kept in runs") {
  test::Random random(11);
  for (int trial = 0; trial < 200; ++trial) {
    LineNumbers kept;
    std::vector<long> wanted;
    long line = 1;
    while (wanted.size() < 60) {
      const long count = static_cast<long>(random() % 4);
      line += static_cast<long>(random() % 3);
      if (test::chance(random, 0.3)) {
        kept.add(line);
        wanted.push_back(line--);
      } else {
        kept.add(line, static_cast<std::size_t>(count));
        for (long k = 0; k < count; ++k) wanted.push_back(line++);
      }
    }
    if (trial % 2 == 0) {
      kept.reverse();
      std::reverse(wanted.begin(), wanted.end());
    }
    REQUIRE(kept.size() == wanted.size());
    std::size_t bad = 0;
    for (std::size_t i = 0; i < wanted.size(); ++i) bad += kept[i] == wanted[i] ? 0U : 1U;
    CHECK(bad == 0);
  }
}

TEST_CASE("any disorder ends in the order of a stable sort, the first of equal times kept") {
  test::Random random(12);
  for (int trial = 0; trial < 300; ++trial) {
    detail::RawSeries series;
    const int n = 2 + static_cast<int>(random() % 80);
    const std::uint64_t reach = 1 + random() % 40;
    for (int i = 0; i < n; ++i) {
      const auto moved =
          static_cast<std::int64_t>(test::chance(random, 0.2) ? random() % reach : 0);
      series.add(600 * (i - moved), 20, static_cast<double>(i), i + 2);
    }
    std::vector<std::size_t> order(series.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    const bool turned = [&] {
      int falling = 0;
      for (std::size_t i = 1; i < series.size(); ++i)
        falling += series.times_s[i] < series.times_s[i - 1] ? 1 : 0;
      return n >= 3 && 2 * falling > n;
    }();
    if (turned) std::reverse(order.begin(), order.end());
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return series.times_s[a] < series.times_s[b];
    });
    std::vector<double> wanted;
    std::vector<long> lines;
    for (std::size_t k = 0; k < order.size(); ++k) {
      if (k > 0 && series.times_s[order[k]] == series.times_s[order[k - 1]]) continue;
      wanted.push_back(series.rh_percent[order[k]]);
      lines.push_back(series.lines[order[k]]);
    }
    detail::FaultLog log(1000);
    detail::put_in_order(series, true, {}, log);
    CHECK(series.rh_percent == wanted);
    CHECK(std::is_sorted(series.times_s.begin(), series.times_s.end()));
    std::vector<long> found;
    for (std::size_t i = 0; i < series.size(); ++i) found.push_back(series.lines[i]);
    CHECK(found == lines);
  }
}

TEST_CASE("the median interval is that of sorting the steps") {
  test::Random random(13);
  for (int trial = 0; trial < 300; ++trial) {
    detail::RawSeries series;
    const int n = 2 + static_cast<int>(random() % 700);
    const double regular = test::uniform(random, 0, 1);
    std::int64_t time = 0;
    for (int i = 0; i < n; ++i) {
      series.add(time, 20, 40, i + 2);
      time += test::chance(random, regular) ? 600 : static_cast<std::int64_t>(random() % 1200);
    }
    std::vector<std::int64_t> steps;
    for (std::size_t i = 1; i < series.size(); ++i) {
      if (series.times_s[i] != series.times_s[i - 1])
        steps.push_back(series.times_s[i] - series.times_s[i - 1]);
    }
    std::sort(steps.begin(), steps.end());
    detail::FaultLog log(0);
    const double found = detail::put_in_order(series, true, {}, log);
    CHECK(found == (steps.empty() ? 0.0 : static_cast<double>(steps[(steps.size() - 1) / 2])));
  }
}
