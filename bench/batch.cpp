// How a batch grows: a thousand cases against a million, one thread against two.
#include "hardchine/scalar/batch.hpp"

#include <algorithm>
#include <atomic>
#include <cstdlib>
#include <new>

#include "cases.hpp"
#include "equilibrium_batch.hpp"
#include "rows.hpp"

namespace {

/// Calls of operator new in this program, and their bytes.
std::atomic<std::size_t> allocations{0}, allocated_bytes{0};

}  // namespace

void* operator new(std::size_t size) {
  allocations.fetch_add(1, std::memory_order_relaxed);
  allocated_bytes.fetch_add(size, std::memory_order_relaxed);
  if (void* const p = std::malloc(size)) return p;
  throw std::bad_alloc();
}
void operator delete(void* p) noexcept { std::free(p); }
void operator delete(void* p, std::size_t) noexcept { std::free(p); }
// The same for what needs more than the usual alignment, such as packs of lanes.
void* operator new(std::size_t size, std::align_val_t alignment) {
  allocations.fetch_add(1, std::memory_order_relaxed);
  allocated_bytes.fetch_add(size, std::memory_order_relaxed);
  const auto to = static_cast<std::size_t>(alignment);
  if (void* const p = std::aligned_alloc(to, (size + to - 1) / to * to)) return p;
  throw std::bad_alloc();
}
void operator delete(void* p, std::align_val_t) noexcept { std::free(p); }
void operator delete(void* p, std::size_t, std::align_val_t) noexcept { std::free(p); }

namespace bench {
namespace {

using namespace hardchine;

constexpr std::size_t million = 1000000;

/// The set, ten times over.
Cases many_cases() {
  const Cases& c = cases();
  const auto repeated = [](const std::vector<double>& column) {
    std::vector<double> all;
    all.reserve(million);
    while (all.size() < million) all.insert(all.end(), column.begin(), column.end());
    return all;
  };
  return {.beam = repeated(c.beam),
          .deadrise = repeated(c.deadrise),
          .mass = repeated(c.mass),
          .lcg = repeated(c.lcg),
          .vcg = repeated(c.vcg),
          .speed = repeated(c.speed),
          .inclination = repeated(c.inclination),
          .lever = repeated(c.lever),
          .lambda = {},
          .flat_lift = {}};
}

/// A row that solves `n` cases a batch. Its counters say how often a batch allocates, and how many bytes.
void add_batch_row(const char* name, std::size_t n, int threads, clockid_t clock) {
  benchmark::RegisterBenchmark(name, [=](benchmark::State& state) {
    // Made when the first such row runs, so that a run of other rows does without them.
    static const Cases set = many_cases();
    static Answers answers(million);
    std::size_t calls = 0, bytes = 0;
    const auto solve = [&](std::size_t first) {
      const double* beams = set.beam.data();
      benchmark::DoNotOptimize(beams);
      const std::size_t calls_before = allocations, bytes_before = allocated_bytes;
      solve_batch([](const auto& in) { return planing_equilibrium_paper_general(in); }, set, first, n, answers,
                  threads);
      calls += allocations - calls_before;
      bytes += allocated_bytes - bytes_before;
    };
    run_row(state, std::max(n, number_of_cases), n, clock, solve);
    state.counters["allocations_per_batch"] = double(calls) / double(state.iterations());
    state.counters["allocated_bytes_per_batch"] = double(bytes) / double(state.iterations());
  });
}

}  // namespace

void add_batch_rows() {
  add_batch_row("batch/1e3", 1000, 1, CLOCK_THREAD_CPUTIME_ID);
  add_batch_row("batch/1e6", million, 1, CLOCK_THREAD_CPUTIME_ID);
  // By the clock on the wall, against each other.
  add_batch_row("threads/1", million, 1, CLOCK_MONOTONIC);
  add_batch_row("threads/2", million, 2, CLOCK_MONOTONIC);
}

}  // namespace bench
