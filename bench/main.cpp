// hardchine_bench: see docs/performance.md. Prints Google Benchmark's table; --benchmark_out=FILE writes JSON.
#include <cstdio>
#include <exception>
#include <vector>

#include "rows.hpp"

int main(int argc, char** argv) {
  // Repetitions in random order, so that what else the machine does falls on all rows alike; medians count. What the
  // command line says comes later and wins.
  static char repetitions[] = "--benchmark_repetitions=9";
  static char interleaving[] = "--benchmark_enable_random_interleaving=true";
  static char time[] = "--benchmark_min_time=0.03";
  std::vector<char*> arguments{argv[0], repetitions, interleaving, time};
  arguments.insert(arguments.end(), argv + 1, argv + argc);
  int count = int(arguments.size());
  benchmark::Initialize(&count, arguments.data());
  if (benchmark::ReportUnrecognizedArguments(count, arguments.data())) return 2;
  try {
    bench::add_planing_equilibrium_rows();
    bench::add_one_evaluation_row();
    bench::add_closed_equilibrium_rows();
    bench::add_batch_rows();
    bench::add_slip_rows();
    bench::add_friction_line_rows();
    bench::add_water_rows();
  } catch (const std::exception& error) {
    std::fprintf(stderr, "hardchine_bench: %s\n", error.what());
    return 1;
  }
  benchmark::RunSpecifiedBenchmarks();
}
