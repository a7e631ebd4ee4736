/// @file
/// How a row of the benchmark is registered and what it reports.
///
/// A row has exactly its name: nothing here asks Google Benchmark for what it would append to the name (arguments,
/// repetitions, kind of time). One iteration is a block of cases, the next iteration takes the next block of the set.
#pragma once

#include <benchmark/benchmark.h>
#include <time.h>

#include <cstddef>

namespace bench {

/// Nanoseconds on a clock of the system.
inline double clock_ns(clockid_t clock) {
  timespec now{};
  clock_gettime(clock, &now);
  return 1e9 * double(now.tv_sec) + double(now.tv_nsec);
}

/// Runs the loop of a row and sets its counter `ns_per_case`.
/// @param clock CLOCK_THREAD_CPUTIME_ID: what the row itself took; CLOCK_MONOTONIC where threads are the point
template <class Block>
void run_row(benchmark::State& state, std::size_t set_size, std::size_t cases_per_iteration, clockid_t clock,
             Block& block) {
  std::size_t first = 0;
  const double start = clock_ns(clock);
  for ([[maybe_unused]] auto _ : state) {
    block(first);
    benchmark::ClobberMemory();
    first += cases_per_iteration;
    if (first + cases_per_iteration > set_size) first = 0;
  }
  state.counters["ns_per_case"] =
      (clock_ns(clock) - start) / (double(state.iterations()) * double(cases_per_iteration));
}

/// A row that runs `block(first)` on cases `first` to `first` + `cases_per_iteration` - 1 of a set of `set_size`.
template <class Block>
void add_row(const char* name, std::size_t set_size, std::size_t cases_per_iteration, Block block) {
  benchmark::RegisterBenchmark(name, [=](benchmark::State& state) mutable {
    run_row(state, set_size, cases_per_iteration, CLOCK_THREAD_CPUTIME_ID, block);
  });
}

/// @name The rows, by file
/// @{
void add_planing_equilibrium_rows();
void add_one_evaluation_row();
void add_closed_equilibrium_rows();
void add_batch_rows();
void add_slip_rows();
void add_friction_line_rows();
void add_water_rows();
/// @}

}  // namespace bench
