#include "aeruca/many_loggers.hpp"

#include <atomic>
#include <chrono>
#include <cmath>
#include <stdexcept>
#include <thread>

#include "aeruca/errors.hpp"
#include "base/side_by_side.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;

namespace {

constexpr std::int64_t kStart = 1704067200;  // 2024-01-01T00:00

// Hourly readings of a month that swing about `mean`.
LoggerRecord record_about(double mean, bool with_temperature = true) {
  std::vector<std::int64_t> times;
  std::vector<double> temperature;
  std::vector<double> rh;
  for (int i = 0; i < 720; ++i) {
    times.push_back(kStart + 3600 * i);
    if (with_temperature) temperature.push_back(20 + std::sin(i));
    rh.push_back(mean + 4 * std::sin(i / 9.0) + 0.1 * std::sin(i * 7));
  }
  return make_logger_record(times, temperature, rh);
}

std::string log_text(const LoggerRecord& record) {
  std::string text = "time,T,RH\n";
  for (std::size_t i = 0; i < record.size(); ++i) {
    text += format_time(record.times_s[i]) + "," + std::to_string(record.temperature_c[i]) + "," +
            std::to_string(record.rh_percent[i]) + "\n";
  }
  return text;
}

}  // namespace

TEST_CASE("every job is done once, whatever the number of threads") {
  for (const int threads : {0, 1, 2, 7}) {
    std::vector<std::atomic<int>> done(100);
    int rests = 0;
    detail::side_by_side(
        done.size(), threads, [&](std::size_t i) { ++done[i]; }, [&] { ++rests; });
    for (const auto& times : done) CHECK(times == 1);
    if (threads == 1) CHECK(rests == 100);
  }
  detail::side_by_side(0, 4, [](std::size_t) { throw std::logic_error("there is no job"); });
  CHECK_THROWS_WITH(detail::side_by_side(1, 257, [](std::size_t) {}),
                    "threads = 257: accepted is 0 to 256");
}

TEST_CASE("what a job or the pause between two throws ends the work and is thrown on") {
  std::atomic<int> done = 0;
  const auto fails = [&](std::size_t i) {
    if (i == 3) throw std::runtime_error("third");
    ++done;
  };
  CHECK_THROWS_WITH(detail::side_by_side(1000, 1, fails), "third");
  CHECK(done == 3);
  done = 0;
  const auto stop = [] { throw std::runtime_error("stop"); };
  CHECK_THROWS_WITH(detail::side_by_side(
                        1000, 1, [&](std::size_t) { ++done; }, stop),
                    "stop");
  CHECK(done == 1);
}

TEST_CASE("of two problems that of the first job is thrown, though it came later") {
  std::atomic<bool> second = false;
  const auto fails = [&](std::size_t i) {
    if (i == 1) {
      second = true;
      throw std::runtime_error("second");
    }
    while (!second) std::this_thread::yield();
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
    throw std::runtime_error("first");
  };
  CHECK_THROWS_WITH(detail::side_by_side(2, 2, fails), "first");
}

TEST_CASE("a logger file that cannot be used costs its own outcome and no other") {
  const aeruca_test::OwnFolder folder;
  const std::vector<std::string> paths{folder.write("first.csv", log_text(record_about(40))),
                                       folder.write("other.csv", "nothing of a logger\n"),
                                       folder.write("third.csv", log_text(record_about(50))),
                                       "/no/such/log.csv"};
  for (const int threads : {1, 3}) {
    const auto outcomes = read_loggers(paths, {}, threads);
    REQUIRE(outcomes.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) CHECK(outcomes[i].path == paths[i]);
    for (const std::size_t i : {0U, 2U}) {
      REQUIRE(outcomes[i].record);
      CHECK(outcomes[i].problem.empty());
      CHECK(outcomes[i].record->rh_percent == read_logger_csv(paths[i]).rh_percent);
    }
    CHECK_FALSE(outcomes[1].record);
    CHECK(outcomes[1].problem.find("names a time and a humidity column") != std::string::npos);
    CHECK_FALSE(outcomes[3].record);
    CHECK(outcomes[3].problem == "/no/such/log.csv: cannot be opened; a readable file is wanted");
  }
  CHECK_THROWS_AS(read_loggers(paths, {.gap_factor = 1}), InputError);
}

TEST_CASE("many records are judged as each one alone, on any number of threads") {
  std::vector<LoggerRecord> records;
  for (int i = 0; i < 40; ++i) records.push_back(record_about(36 + 0.3 * i, i != 5));
  std::vector<const LoggerRecord*> asked;
  for (const LoggerRecord& record : records) asked.push_back(&record);
  asked.push_back(nullptr);
  StoreOptions options;
  options.onset = {"band", "", "", {20.0}, {42.0}, {46.0}};
  options.cooler_c = 1;
  for (const int threads : {1, 2, 5}) {
    const auto outcomes = assess_stores(asked, options, threads);
    REQUIRE(outcomes.size() == 41);
    for (std::size_t i = 0; i < records.size(); ++i) {
      if (i == 5) continue;
      REQUIRE(outcomes[i].assessment);
      const StoreAssessment alone = assess_store(records[i], options);
      CHECK(outcomes[i].assessment->reason == alone.reason);
      CHECK(outcomes[i].assessment->probability_active == alone.probability_active);
      CHECK(outcomes[i].assessment->above_low.share.expected == alone.above_low.share.expected);
    }
    CHECK_FALSE(outcomes[5].assessment);
    CHECK(outcomes[5].problem.find("the record has no temperatures") != std::string::npos);
    CHECK(outcomes[40].problem == "there is no record to judge");
  }
  options.active_share = 2;
  CHECK_THROWS_AS(assess_stores(asked, options), InputError);
}
