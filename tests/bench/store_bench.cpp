#include <benchmark/benchmark.h>

#include <cmath>
#include <string>

#include "aeruca/store.hpp"

namespace {

using namespace aeruca;

std::string log_text(std::int64_t rows) {
  std::string text = "time,temperature,RH\n";
  for (std::int64_t i = 0; i < rows; ++i) {
    const double x = static_cast<double>(i);
    text += format_time(1704067200 + 60 * i) + "," + std::to_string(20 + std::sin(x)) + "," +
            std::to_string(41 + 5 * std::sin(x / 9000) + 0.3 * std::sin(x * x)) + "\n";
  }
  return text;
}

void read_rows(benchmark::State& state) {
  const std::string text = log_text(state.range(0));
  for (auto _ : state) benchmark::DoNotOptimize(parse_logger_csv(text, "log.csv"));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}

void judge_rows(benchmark::State& state) {
  const LoggerRecord record = parse_logger_csv(log_text(state.range(0)), "log.csv");
  StoreOptions options;
  options.onset = {"band", "", "", {20.0}, {42.0}, {46.0}};
  options.cooler_c = static_cast<double>(state.range(1));
  for (auto _ : state) benchmark::DoNotOptimize(assess_store(record, options));
  state.SetItemsProcessed(state.iterations() * state.range(0));
}

BENCHMARK(read_rows)->Arg(10000)->Arg(1000000)->Unit(benchmark::kMillisecond);
BENCHMARK(judge_rows)
    ->Args({10000, 0})
    ->Args({1000000, 0})
    ->Args({1000000, 1})
    ->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
