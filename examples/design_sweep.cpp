// design_sweep: millions of hulls, loads and speeds of a workboat; the best that keeps clear of porpoising.
// Exit status: 0 printed, 1 could not be written, 2 wrong input, 130 stopped by Ctrl-C (what was done is printed).
// Without arguments it runs on demo values.
#include <fmt/format.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <hardchine/prediction/speed_power.hpp>
#include <hardchine/scalar/batch.hpp>
#include <hardchine/seakeeping/porpoising.hpp>
#include <hardchine/text.hpp>
#include <iterator>
#include <limits>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

using namespace hardchine;

namespace {

using Page = std::back_insert_iterator<std::string>;

// Set by Ctrl-C, read between blocks, at most every 5 ms.
std::atomic<bool> interrupted = false;
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler may set it");

extern "C" void on_interrupt(int) {
  interrupted = true;
  std::signal(SIGINT, SIG_DFL);  // a second Ctrl-C ends the program at once
}

// ---- what is asked

struct Typed {
  std::string beam = "2.6 m to 3.8 m", deadrise = "12 deg to 24 deg", chine_length = "9 m to 13 m";
  std::string displacement = "8 t to 13 t", lcg = "34 % to 46 %", vcg = "1.14 m";
  std::string thrust_angle = "9 deg", thrust_below_cg = "0.60 m";
  std::string coefficient = "55 %", appendages = "14 %", air_drag_area = "7.7 m2", water_temperature = "15 C";
  std::string speeds = "20 kn to 40 kn", speed_step = "2 kn", at;
  std::string least_margin = "1.0 deg";  // as porpoising_marginal_below: three times what the chart's reading may err
  std::string least = "drag-per-tonne", chart;
  std::uint64_t combinations = 10'000'000, seed = 1;
  int threads = 0;  // as many as the machine has
  bool fresh_water = false;
};

template <class Q>
struct Between {
  Q low, high;
  Q at(double share) const { return low + (high - low) * share; }
};

template <class Read>
auto read_between(const std::string& text, const char* field, const Read& read) {
  const std::size_t to = text.find(" to ");
  Between<decltype(read(text, field))> range{read(text.substr(0, to), field),
                                             read(to == std::string::npos ? text : text.substr(to + 4), field)};
  if (range.high < range.low)
    throw BadInput("design_sweep", field, joined({"\"", text, "\""}), "the lower end first, \"2.6 m to 3.8 m\"");
  return range;
}

// A share must carry its sign: 0.5 typed for 0.5 % would pass as 50 %.
double read_share(const std::string& text, const char* field) {
  if (text.find('%') == std::string::npos)
    throw BadInput("design_sweep", field, joined({"\"", text, "\" without %"}),
                   "a number with %, for example \"34 %\"");
  return read_ratio(text, field).value;
}

// What a design is drawn from, in the order of its random numbers.
enum Drawn : std::size_t { beam, chine_length, displacement, deadrise, lcg };
inline constexpr std::size_t drawn = 5;
using Shares = std::array<double, drawn>;  // 0 to 1: how far up its range each one lies

struct Space {
  Between<Length<>> beam, chine_length;
  Between<Mass<>> displacement;
  Between<Angle<>> deadrise;
  Between<double> lcg_over_chine_length;
  std::vector<Speed<>> speeds;
  std::size_t shown_speed = 0;  // of the table of one more limit
  SpeedPowerInput<> base;       // what does not vary
  Angle<> least_margin;
  bool per_tonne = true;
  std::uint64_t combinations = 0, seed = 0;

  PlaningInput<> design(const Shares& share) const {
    PlaningInput<> in = base.craft;
    in.hull.chine_beam = beam.at(share[Drawn::beam]);
    in.hull.projected_chine_length = chine_length.at(share[Drawn::chine_length]);
    in.hull.deadrise = deadrise.at(share[Drawn::deadrise]);
    in.loading.mass = displacement.at(share[Drawn::displacement]);
    in.loading.lcg = in.hull.projected_chine_length * lcg_over_chine_length.at(share[Drawn::lcg]);
    return in;
  }
};

// Random numbers of design `number`. They depend on nothing else, so that neither blocks nor threads matter: a counter
// through the mixing function of SplitMix64 (Steele, Lea, Flood 2014; recalled).
Shares shares_of(std::uint64_t seed, std::uint64_t number) {
  const auto mixed = [](std::uint64_t x) {
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9U;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebU;
    return x ^ (x >> 31);
  };
  constexpr std::uint64_t golden = 0x9e3779b97f4a7c15U;
  const std::uint64_t start = mixed(seed * golden + 1);
  Shares share;
  for (std::size_t i = 0; i < drawn; ++i)
    share[i] = double(mixed(start + golden * (drawn * number + i + 1)) >> 11) * 0x1p-53;
  return share;
}

// ---- one combination, in any scalar

// Beside the flags of planing_limits.
inline constexpr Flags porpoising_undecided = Flags{1} << planing_limits.size();

template <class T>
struct Judged {
  PerLane<T, Outcome> outcome;
  PerLane<T, Flags> flags;
  PerLane<T, std::uint8_t> refused_field;
  Force<T> total_drag;
  Angle<T> trim;
  Angle<T> margin;  // to porpoising: of the chart, or at least that; 0 where undecided
};

template <class T>
PorpoisingMargin<T> porpoising(const PlaningInput<T>& craft, const RunningState<T>& state, const Angle<T>& trim) {
  const Volume<T> volume = displaced_volume(craft.loading.mass, craft.water.density);
  return porpoising_margin<T>({.lift_coefficient = lift_coefficient_of_load<T>(
                                   {.beam_load_coefficient = beam_load_coefficient(volume, craft.hull.chine_beam),
                                    .beam_froude_number = state.beam_froude_number}),
                               .deadrise = craft.hull.deadrise,
                               .trim = trim});
}

constexpr auto judge = []<class T>(const PlaningInput<T>& in) {
  const RunningState<T> state = planing_equilibrium(in);
  const auto zero = Angle<T>::from_value(T(0.0));
  // Where there is no equilibrium there is no trim, and the chart refuses a pack with one that is not a number.
  const PorpoisingMargin<T> chart = porpoising<T>(in, state, select(is_finite(state.trim), state.trim, zero));
  Judged<T> r{state.outcome, state.flags, state.refused_field, state.total_drag, state.trim, zero};
  r.margin = select(is_finite(chart.limit), Angle<T>(chart.limit - state.trim), zero);
  const auto mark = [](Flags& flags, PorpoisingOutcome outcome) {
    if (outcome == PorpoisingOutcome::undecided) flags |= porpoising_undecided;
  };
  if constexpr (std::same_as<PerLane<T, Flags>, Flags>) {
    mark(r.flags, chart.outcome);
  } else {
    for (std::size_t i = 0; i < r.flags.size(); ++i) mark(r.flags[i], chart.outcome[i]);
  }
  return r;
};

// ---- the rules

enum class Rule : std::size_t { no_answer, undecided, small_margin, dry_chine, low_trim, outside, kept };
inline constexpr std::size_t rules = std::size_t(Rule::kept);

// A prism that runs outside what the method was fitted to is no candidate. Not asked: the hump and wetted sides, where
// the drag is too low but an answer stands (they are noted beside the best).
inline constexpr Flags outside_published = [] {
  Flags all = 0;
  for (const PlaningLimit limit :
       {PlaningLimit::trim_range, PlaningLimit::wetted_ratio_range, PlaningLimit::lift_speed_range,
        PlaningLimit::bottom_velocity_speed_range, PlaningLimit::procedure_speed_range, PlaningLimit::deadrise_range,
        PlaningLimit::reynolds_range, PlaningLimit::bow_in_the_water, PlaningLimit::spray_root_broken,
        PlaningLimit::negative_dynamic_lift, PlaningLimit::not_planing, PlaningLimit::second_equilibrium})
    all |= flag(limit);
  return all;
}();
// The method begins here, and porpoising is not what threatens below it: bow steering and broaching are.
inline constexpr Angle<> least_trim = 2.0 * degree;

struct Best {
  double measure = std::numeric_limits<double>::infinity();  // what is made least: kN or kN/t
  std::uint64_t number = 0;                                  // of the combination
  bool is_better_than(const Best& b) const { return measure < b.measure; }
  bool found() const { return measure < std::numeric_limits<double>::infinity(); }
};

// Limits that are tried one at a time: each range in four parts, by the random number of the design.
inline constexpr std::size_t limited = 4, parts = 4;

struct AtSpeed {
  std::array<std::uint64_t, rules + 1> first = {};  // combinations by the first rule that they break, or kept
  std::array<std::array<Best, parts>, limited> best =
      {};  // by part of the range of beam, length, displacement, deadrise

  // The best with one range cut to its parts `from` to below `to`.
  Best within(std::size_t which, std::size_t from, std::size_t to) const {
    Best b;
    for (std::size_t i = from; i < to; ++i)
      if (best[which][i].is_better_than(b)) b = best[which][i];
    return b;
  }
  Best overall() const { return within(0, 0, parts); }
};

struct Swept {
  std::vector<AtSpeed> at;
  std::array<std::uint64_t, rules> broken = {};  // combinations that break a rule, each one counted
  std::uint64_t done = 0;
  std::uint64_t kept() const {
    std::uint64_t n = 0;
    for (const AtSpeed& s : at) n += s.first[rules];
    return n;
  }
};

std::string grouped(std::uint64_t n) {
  std::string text = fmt::format("{}", n);
  for (std::size_t i = text.size(); i > 3; i -= 3) text.insert(i - 3, 1, ',');
  return text;
}

// A bar on the terminal; nothing where the error stream goes elsewhere.
class Progress {
 public:
  explicit Progress(std::uint64_t all) : all_(all) {}
  void show(std::uint64_t done) {
    const auto now = Clock::now();
    if (!on_terminal_ || now - shown_ < std::chrono::milliseconds(100)) return;
    shown_ = now;
    const double share = double(done) / double(all_), seconds = since_start();
    const auto full = static_cast<std::size_t>(30.0 * share);
    fmt::print(stderr, "\r[{}{}] {:3.0f} %  {} of {}  {} s left ", std::string(full, '#'), std::string(30 - full, '.'),
               100.0 * share, grouped(done), grouped(all_), fixed(seconds * (1.0 - share) / std::max(share, 1e-9), 0));
    std::fflush(stderr);
  }
  void end(std::uint64_t done) const {
    if (!on_terminal_) return;
    const double seconds = since_start();
    fmt::print(stderr, "\r{:<79}\r{} combinations in {} s, {} million a second\n", "", grouped(done), fixed(seconds, 1),
               fixed(double(done) / std::max(seconds, 1e-9) / 1e6, 2));
  }

 private:
  using Clock = std::chrono::steady_clock;
  double since_start() const { return std::chrono::duration<double>(Clock::now() - start_).count(); }
  std::uint64_t all_;
  bool on_terminal_ = isatty(STDERR_FILENO) == 1;
  Clock::time_point start_ = Clock::now(), shown_ = start_;
};

// Where the columns belong.
constexpr auto run_speed = [](auto& in) -> auto& { return in.speed; };
constexpr auto hull_beam = [](auto& in) -> auto& { return in.hull.chine_beam; };
constexpr auto hull_length = [](auto& in) -> auto& { return in.hull.projected_chine_length; };
constexpr auto hull_deadrise = [](auto& in) -> auto& { return in.hull.deadrise; };
constexpr auto load_mass = [](auto& in) -> auto& { return in.loading.mass; };
constexpr auto load_lcg = [](auto& in) -> auto& { return in.loading.lcg; };

// Block by block: the memory does not grow with the number of combinations.
Swept sweep(const Space& space, int threads) {
  const std::size_t speeds = space.speeds.size(), designs = std::max<std::size_t>(1, 32768 / speeds);
  const std::size_t block = designs * speeds;
  std::vector<double> speed(block), beams(block), lengths(block), masses(block), deadrises(block), lcgs(block);
  std::vector<double> drags(block), trims(block), margins(block);
  std::vector<Outcome> outcomes(block);
  std::vector<Flags> flags(block);
  std::vector<Shares> shares(designs);
  for (std::size_t i = 0; i < block; ++i) speed[i] = in(space.speeds[i % speeds], knot);

  Swept all{.at = std::vector<AtSpeed>(speeds)};
  Progress progress(space.combinations);
  while (all.done < space.combinations && !interrupted) {
    const auto cases = std::size_t(std::min<std::uint64_t>(block, space.combinations - all.done));
    for (std::size_t d = 0; d * speeds < cases; ++d) {
      shares[d] = shares_of(space.seed, all.done / speeds + d);
      const PlaningInput<> design = space.design(shares[d]);
      for (std::size_t i = d * speeds; i < (d + 1) * speeds; ++i) {
        beams[i] = in(design.hull.chine_beam, metre);
        lengths[i] = in(design.hull.projected_chine_length, metre);
        masses[i] = in(design.loading.mass, tonne);
        deadrises[i] = in(design.hull.deadrise, degree);
        lcgs[i] = in(design.loading.lcg, metre);
      }
    }
    const auto of = [&](std::vector<double>& v) { return std::span(v.data(), cases); };
    const BatchReport report =
        batch(judge, space.base.craft,
              inputs(column(of(speed), knot, run_speed), column(of(beams), metre, hull_beam),
                     column(of(lengths), metre, hull_length), column(of(masses), tonne, load_mass),
                     column(of(deadrises), degree, hull_deadrise), column(of(lcgs), metre, load_lcg)),
              outputs(column(of(drags), kilonewton, [](const auto& r) { return r.total_drag; }),
                      column(of(trims), degree, [](const auto& r) { return r.trim; }),
                      column(of(margins), degree, [](const auto& r) { return r.margin; })),
              {.outcomes = std::span(outcomes).first(cases),
               .flags = std::span(flags).first(cases),
               .threads = threads,
               .progress = [&](std::size_t done) {
                 progress.show(all.done + done);
                 return !interrupted;
               }});

    const double least_margin = in(space.least_margin, degree), lowest = in(least_trim, degree);
    for (std::size_t i = 0; i < report.done; ++i) {
      AtSpeed& here = all.at[i % speeds];
      const bool answered = outcomes[i] == Outcome::converged;
      const bool undecided = (flags[i] & porpoising_undecided) != 0;
      const std::array<bool, rules> breaks{!answered,
                                           answered && undecided,
                                           answered && !undecided && !(margins[i] >= least_margin),
                                           answered && has_flag(flags[i], PlaningLimit::dry_chine),
                                           answered && trims[i] < lowest,
                                           answered && trims[i] >= lowest && (flags[i] & outside_published) != 0};
      std::size_t first = rules;
      for (std::size_t r = rules; r-- > 0;) {
        if (!breaks[r]) continue;
        ++all.broken[r];
        first = r;
      }
      ++here.first[first];
      if (first < rules) continue;
      const Best candidate{space.per_tonne ? drags[i] / masses[i] : drags[i], all.done + i};
      for (std::size_t w = 0; w < limited; ++w) {
        Best& best = here.best[w][std::size_t(double(parts) * shares[i / speeds][w])];
        if (candidate.is_better_than(best)) best = candidate;
      }
    }
    all.done += report.done;
  }
  progress.end(all.done);
  return all;
}

// ---- the page

std::string figure(double x) {  // three figures: no semi-empirical drag deserves more
  if (!std::isfinite(x)) return "-";
  const int whole = x == 0.0 ? 0 : static_cast<int>(std::floor(std::log10(std::abs(x))));
  return fixed(x, 2 - whole);
}
std::string share(std::uint64_t part, std::uint64_t all) {
  return all == 0 ? "-" : fixed(100.0 * double(part) / double(all), 1);
}

constexpr auto design_row = "{:>6}{:>8}{:>9}{:>11}{:>7}{:>7}{:>8}{:>8}{:>8}{:>8}{}\n";
void print_design_head(Page out, const std::string& start, const std::string& start_units) {
  fmt::format_to(out, "  {}", start);
  fmt::format_to(out, design_row, "beam", "length", "deadrise", "displaced", "LCG", "trim", "margin", "drag", "drag",
                 "power", "  notes");
  fmt::format_to(out, "  {}", start_units);
  fmt::format_to(out, design_row, "m", "m", "deg", "t", "%", "deg", "deg", "kN", "kN/t", "kW", "");
}

// The numbers of a winner come from the function for one boat, not from the sweep.
void print_design(Page out, const Space& space, const Best& best, std::vector<std::string_view>& notes) {
  if (!best.found()) {
    fmt::format_to(out, "  none passes the rules\n");
    return;
  }
  SpeedPowerInput<> run = space.base;
  run.craft = space.design(shares_of(space.seed, best.number / space.speeds.size()));
  run.craft.speed = space.speeds[best.number % space.speeds.size()];
  const PowerNeeded<> needed = power_needed(run);
  const PorpoisingMargin<> margin = porpoising(run.craft, needed.state, needed.state.trim);
  std::string marks;
  for (const std::string_view sentence : explain(needed)) {
    const auto at = std::find(notes.begin(), notes.end(), sentence);
    marks += fmt::format("{}{}", marks.empty() ? "  [" : ",", at - notes.begin() + 1);
    if (at == notes.end()) notes.push_back(sentence);
  }
  if (!marks.empty()) marks += "]";
  const Hull<>& hull = run.craft.hull;
  const Loading<>& load = run.craft.loading;
  const double lcg_share = load.lcg / hull.projected_chine_length;
  fmt::format_to(out, design_row, fixed(in(hull.chine_beam, metre), 2),
                 fixed(in(hull.projected_chine_length, metre), 1), fixed(in(hull.deadrise, degree), 1),
                 fixed(in(load.mass, tonne), 2), fixed(lcg_share / percent, 1), fixed(in(needed.state.trim, degree), 1),
                 joined({margin.bound == PorpoisingBound::lower_bound ? ">=" : "",
                         fixed(in(margin.limit - needed.state.trim, degree), 1)}),
                 figure(in(needed.total_drag, kilonewton)),
                 figure(in(needed.total_drag, kilonewton) / in(load.mass, tonne)),
                 figure(in(needed.brake_power, kilowatt)), marks);
}

std::string speed_text(const Speed<>& v) {
  const double kn = in(v, knot);
  return fixed(kn, kn == std::round(kn) ? 0 : 1);
}

void print_rules(Page out, const Space& space, const Swept& swept) {
  const std::array<std::string, rules> names{
      "no equilibrium",
      "porpoising undecided: outside the chart",
      fmt::format("porpoising margin below {}", to_text(space.least_margin, degree, "deg", 1)),
      "chine dry by the formula",
      fmt::format("trim below {}", to_text(least_trim, degree, "deg", 0)),
      "outside another published range"};
  std::array<std::uint64_t, rules + 1> first = {};
  for (const AtSpeed& s : swept.at)
    for (std::size_t r = 0; r <= rules; ++r) first[r] += s.first[r];
  constexpr auto row = "  {:<42}{:>15}{:>8}{:>20}{:>8}\n";
  fmt::format_to(out, "\nWhat the rules exclude\n");
  fmt::format_to(out, row, "", "break it", "%", "break it first", "%");
  for (std::size_t r = 0; r < rules; ++r)
    fmt::format_to(out, row, names[r], grouped(swept.broken[r]), share(swept.broken[r], swept.done), grouped(first[r]),
                   share(first[r], swept.done));
  fmt::format_to(out, row, "kept", "", "", grouped(first[rules]), share(first[rules], swept.done));
}

void print_page(Page out, const Space& space, const Swept& swept, const Typed& t, bool demo) {
  fmt::format_to(out, "Design sweep{}\n", demo ? " (demo values; --help says how to give yours)" : "");
  fmt::format_to(out, "  hull: chine beam {}; chine length {}; deadrise {}\n", t.beam, t.chine_length, t.deadrise);
  fmt::format_to(out, "  load: {}; LCG {} of the chine length; VCG {}; {} water of {}\n", t.displacement, t.lcg, t.vcg,
                 t.fresh_water ? "fresh" : "sea", t.water_temperature);
  fmt::format_to(out, "  speed: {}, every {}\n", t.speeds, t.speed_step);
  fmt::format_to(out, "  thrust: {} to the keel, {} below the CG\n", t.thrust_angle, t.thrust_below_cg);
  fmt::format_to(out, "  drag on top of the bare hull: appendages {}, air drag area {}\n", t.appendages,
                 t.air_drag_area);
  fmt::format_to(out, "  power: at an overall propulsive coefficient of {} on total drag\n", t.coefficient);
  fmt::format_to(out, "  seed {}: designs drawn evenly from these ranges, each run at every speed\n\n", space.seed);
  if (swept.done < space.combinations)
    fmt::format_to(out, "Stopped by Ctrl-C: {} of {} combinations done. What follows is of these.\n",
                   grouped(swept.done), grouped(space.combinations));
  else
    fmt::format_to(out, "{} combinations, all done\n", grouped(swept.done));
  print_rules(out, space, swept);

  const std::string_view measure = space.per_tonne ? "least total drag per tonne" : "least brake power";
  std::vector<std::string_view> notes;
  fmt::format_to(out, "\nBest at each speed: {}\n", measure);
  constexpr auto start = "{:>5}{:>8}";
  print_design_head(out, fmt::format(start, "speed", "kept"), fmt::format(start, "kn", "%"));
  for (std::size_t s = 0; s < space.speeds.size(); ++s) {
    const AtSpeed& at = swept.at[s];
    std::uint64_t run = 0;
    for (const std::uint64_t n : at.first) run += n;
    fmt::format_to(out, "  ");
    fmt::format_to(out, start, speed_text(space.speeds[s]), share(at.first[rules], run));
    print_design(out, space, at.overall(), notes);
  }

  const AtSpeed& shown = swept.at[space.shown_speed];
  fmt::format_to(out, "\nThe same at {} kn with one limit drawn tighter\n",
                 speed_text(space.speeds[space.shown_speed]));
  print_design_head(out, fmt::format("{:<26}", "limit"), std::string(26, ' '));
  const auto one_limit = [&](std::size_t which, bool at_least, const char* name, const auto& range, const auto& unit,
                             const char* symbol, int decimals) {
    if (!(range.low < range.high)) return;
    for (std::size_t k = 1; k < parts; ++k) {
      fmt::format_to(out, "  {:<26}",
                     fmt::format("{} {} {}", name, at_least ? "at least" : "at most",
                                 to_text(range.at(double(k) / double(parts)), unit, symbol, decimals)));
      print_design(out, space, at_least ? shown.within(which, k, parts) : shown.within(which, 0, k), notes);
    }
  };
  one_limit(Drawn::beam, false, "beam", space.beam, metre, "m", 2);
  one_limit(Drawn::chine_length, false, "length", space.chine_length, metre, "m", 1);
  one_limit(Drawn::displacement, !space.per_tonne, "load", space.displacement, tonne, "t", 2);
  one_limit(Drawn::deadrise, true, "deadrise", space.deadrise, degree, "deg", 1);
  for (std::size_t i = 0; i < notes.size(); ++i) fmt::format_to(out, "  [{}] {}\n", i + 1, notes[i]);

  fmt::format_to(
      out,
      "\nNotes\n"
      "  - beam, length: of the chines; LCG: forward of the transom, of the chine length; displaced: mass afloat\n"
      "  - margin: trim at which porpoising begins less the running trim; >= where the chart ends with a lower bound.\n"
      "    It reads to {}; the trim is an estimate too, and weight shifts under way: hence the least margin\n"
      "  - {}\n  - {}\n",
      to_text(porpoising_reading_error, degree, "deg", 1), cite(planing_closed_method), cite(porpoising_chart_method));
  fmt::format_to(
      out,
      "A first look at where to look closer, no design. A search finds where a method is too kind: read the notes\n"
      "beside the best. Least drag in flat water is all it asks: it likes little deadrise, which slams in waves,\n"
      "and knows no structural weight, stability, freeboard or sea-keeping. Slamming and porpoising injure backs\n"
      "and throw people out of boats. Real hulls drag 0 to 20 % more than the prismatic method says (practice).\n"
      "Estimates only: they do not replace model tests, trials step by step (kill cord, life-jackets, lookout,\n"
      "clear water), local codes or a licensed naval architect.\n");
}

// ---- the chart, drawn by gnuplot

bool gnuplot_is_here() {
  const char* const path = std::getenv("PATH");
  std::string_view rest = path == nullptr ? "" : path;
  while (!rest.empty()) {
    const std::string folder(rest.substr(0, rest.find(':')));
    if (!folder.empty() && access(joined({folder, "/gnuplot"}).c_str(), X_OK) == 0) return true;
    rest.remove_prefix(std::min(rest.size(), folder.size() + 1));
  }
  return false;
}

std::string chart_script(const Space& space, const Swept& swept, const std::string& file) {
  std::string script;
  const auto out = std::back_inserter(script);
  std::string quoted_file;
  for (const char c : file) quoted_file.append(c == '\'' ? 2 : 1, c);
  const bool one_deadrise = !(space.deadrise.low < space.deadrise.high);
  const std::size_t lines = one_deadrise ? 1 : parts;

  fmt::format_to(out, "$best << END\n");
  for (std::size_t s = 0; s < space.speeds.size(); ++s) {
    fmt::format_to(out, "{}", in(space.speeds[s], knot));
    for (std::size_t k = 0; k < lines; ++k) {
      const Best best = swept.at[s].within(Drawn::deadrise, k, parts);
      double measure = best.found() ? best.measure : std::numeric_limits<double>::quiet_NaN();
      if (!space.per_tonne)
        measure = in(measure * kilonewton * space.speeds[s] / space.base.overall_propulsive_coefficient, kilowatt);
      if (std::isfinite(measure))
        fmt::format_to(out, " {}", measure);
      else
        fmt::format_to(out, " NaN");
    }
    fmt::format_to(out, "\n");
  }
  fmt::format_to(out, "END\n$rules << END\n");
  for (std::size_t s = 0; s < space.speeds.size(); ++s) {
    const auto& first = swept.at[s].first;
    double all = 0.0;
    for (const std::uint64_t n : first) all += double(n);
    fmt::format_to(out, "{}", in(space.speeds[s], knot));
    double below = 0.0;  // bars are drawn from the top of the stack down
    std::array<double, rules + 1> tops = {};
    for (std::size_t r = rules + 1; r-- > 0;) tops[r] = below += all > 0.0 ? 100.0 * double(first[r]) / all : 0.0;
    for (const double top : tops) fmt::format_to(out, " {}", top);
    fmt::format_to(out, "\n");
  }
  const double from = in(space.speeds.front(), knot), to = in(space.speeds.back(), knot);
  const double step = space.speeds.size() > 1 ? in(space.speeds[1] - space.speeds[0], knot) : 2.0;
  fmt::format_to(out,
                 "END\n"
                 "set terminal svg size 960,760 dynamic font 'sans-serif,15' background 'white'\n"
                 "set output '{}'\nset encoding utf8\nset colorsequence podo\nset datafile missing 'NaN'\n"
                 "set multiplot\nset lmargin at screen 0.115\nset rmargin at screen 0.72\n"
                 "set grid linecolor 'grey80'\nset xrange [{}:{}]\nset key at screen 0.735,0.86 left top Left reverse "
                 "spacing 1.3 samplen 2.5\n",
                 quoted_file, from - 0.7 * step, to + 0.7 * step);
  fmt::format_to(out,
                 "set tmargin at screen 0.86\nset bmargin at screen 0.44\nset format x ''\n"
                 "set title \"{} at each speed\\n{{/*0.8 {} of {} combinations{}, {} pass the rules}}\" offset 0,0.3\n"
                 "set ylabel '{}' offset 0.5\n",
                 space.per_tonne ? "Least total drag per tonne" : "Least brake power", grouped(swept.done),
                 grouped(space.combinations), swept.done < space.combinations ? " (stopped)" : "",
                 grouped(swept.kept()), space.per_tonne ? "total drag over displacement, kN/t" : "brake power, kW");
  for (std::size_t k = 0; k < lines; ++k)
    fmt::format_to(
        out, "{}$best using 1:{} with linespoints linetype {} linewidth 2 pointtype {} title '{}'",
        k == 0 ? "plot " : ", ", k + 2, k + 1, 2 * k + 5,
        fmt::format("deadrise from {}°", fixed(in(space.deadrise.at(double(k) / double(parts)), degree), 0)));
  fmt::format_to(out,
                 "\nunset title\nset tmargin at screen 0.40\nset bmargin at screen 0.09\nset format x\n"
                 "set xlabel 'speed, kn' offset 0,0.3\nset ylabel 'combinations, %' offset 0.5\nset yrange [0:100]\n"
                 "set boxwidth {}\nset style fill solid 0.85 border linecolor 'white'\nset key at screen 0.735,0.41 "
                 "samplen 0.8 title 'excluded by' left\n",
                 0.75 * step);
  struct Bar {
    const char *title, *colour;
  };
  constexpr std::array<Bar, rules + 1> bars{{{"no equilibrium", "#404040"},
                                             {"porpoising undecided", "#b8860b"},
                                             {"small porpoising margin", "#d2691e"},
                                             {"dry chine", "#6495ed"},
                                             {"trim below 2°", "#9370db"},
                                             {"another range", "#a9a9a9"},
                                             {"none: kept", "#2e8b57"}}};
  for (std::size_t r = 0; r <= rules; ++r)
    fmt::format_to(out, "{}$rules using 1:{} with boxes linecolor '{}' title '{}'", r == 0 ? "plot " : ", ", r + 2,
                   bars[r].colour, bars[r].title);
  fmt::format_to(out, "\nunset multiplot\nset output\n");
  return script;
}

// What became of the chart, in a sentence.
std::string draw_chart(const Space& space, const Swept& swept, const std::string& file) {
  if (swept.kept() == 0) return "no chart: no combination passes the rules";
  if (!gnuplot_is_here()) return "no chart: gnuplot is not here (Debian: gnuplot-nox)";
  const std::string script = chart_script(space, swept, file);
  std::signal(SIGPIPE, SIG_IGN);  // a plotting program that ends early is no reason to lose the tables
  std::FILE* const gnuplot = popen("gnuplot", "w");
  bool drawn_whole = gnuplot != nullptr;
  if (gnuplot != nullptr) {
    drawn_whole = std::fwrite(script.data(), 1, script.size(), gnuplot) == script.size();
    drawn_whole = pclose(gnuplot) == 0 && drawn_whole;
  }
  return drawn_whole ? fmt::format("chart: {}", file) : fmt::format("no chart: gnuplot could not draw {}", file);
}

// ---- reading

Space read(const Typed& t) {
  const auto length = [](const std::string& text, const char* field) {
    return read_quantity<Length<>>(text, field).value;
  };
  const auto angle = [](const std::string& text, const char* field) {
    return read_quantity<Angle<>>(text, field).value;
  };
  const auto mass = [](const std::string& text, const char* field) { return read_quantity<Mass<>>(text, field).value; };
  const auto velocity = [](const std::string& text, const char* field) {
    return read_quantity<Speed<>>(text, field).value;
  };
  const auto temperature = read_quantity<Temperature<>>(t.water_temperature, "water temperature").value;
  Space space{
      .beam = read_between(t.beam, "chine beam", length),
      .chine_length = read_between(t.chine_length, "chine length", length),
      .displacement = read_between(t.displacement, "displacement", mass),
      .deadrise = read_between(t.deadrise, "deadrise", angle),
      .lcg_over_chine_length = read_between(t.lcg, "LCG", read_share),
      .speeds = {},
      .shown_speed = 0,
      .base = {.craft = {.loading = {.vcg = length(t.vcg, "VCG")},
                         .water = t.fresh_water ? fresh_water(temperature) : sea_water(temperature),
                         .thrust_line = thrust_below_cg(angle(t.thrust_angle, "thrust angle"),
                                                        length(t.thrust_below_cg, "thrust below CG")),
                         .added_drag = {.appendage_fraction = read_share(t.appendages, "appendages"),
                                        .frontal_area = read_quantity<Area<>>(t.air_drag_area, "air drag area").value,
                                        .air_drag_coefficient = 1.0}},  // the area comes with its coefficient
               .overall_propulsive_coefficient = read_share(t.coefficient, "coefficient")},
      .least_margin = angle(t.least_margin, "least margin"),
      .per_tonne = t.least == "drag-per-tonne",
      .combinations = t.combinations,
      .seed = t.seed};
  if (!(space.least_margin >= Angle<>{} && space.least_margin <= 10.0 * degree))
    throw BadInput("design_sweep", "least margin", t.least_margin, "0 to 10 deg");

  const Between<Speed<>> speeds = read_between(t.speeds, "speeds", velocity);
  const Speed<> step = velocity(t.speed_step, "speed step");
  const double steps = std::floor((speeds.high - speeds.low) / step + 1e-9);  // the last one in spite of rounding
  if (!(step > Speed<>{} && steps < 200.0))
    throw BadInput("design_sweep", "speed step", t.speed_step, "above 0, for at most 200 speeds");
  for (double i = 0.0; i <= steps; ++i) space.speeds.push_back(speeds.low + step * i);
  const Speed<> at = t.at.empty() ? space.speeds[space.speeds.size() / 2] : velocity(t.at, "at");
  for (std::size_t s = 0; s < space.speeds.size(); ++s)
    if (magnitude(space.speeds[s] - at) < magnitude(space.speeds[space.shown_speed] - at)) space.shown_speed = s;

  // All corners are let in by the library: so is what lies between, and no combination is refused on the way.
  for (unsigned corner = 0; corner < 1U << (drawn + 1); ++corner) {
    Shares ends;
    for (std::size_t i = 0; i < drawn; ++i) ends[i] = (corner >> i) & 1U ? 1.0 : 0.0;
    SpeedPowerInput<> run = space.base;
    run.craft = space.design(ends);
    run.craft.speed = (corner >> drawn) & 1U ? space.speeds.back() : space.speeds.front();
    static_cast<void>(power_needed(run));
    static_cast<void>(judge(run.craft));
  }
  return space;
}

}  // namespace

int main(int argc, char** argv) {
  Typed t;
  CLI::App app("Sweeps hull, load and speed of a workboat for the least drag that keeps clear of porpoising.",
               "design_sweep");
  const bool demo = argc == 1;
  const auto text = [&](const char* name, std::string& value, const char* help) {
    app.add_option(name, value, help)->capture_default_str();
  };
  text("--beam", t.beam, "over the chines, a range or one value");
  text("--chine-length", t.chine_length, "chines seen from above, a range or one value");
  text("--deadrise", t.deadrise, "a range or one value");
  text("--displacement", t.displacement, "mass afloat, a range or one value");
  text("--lcg", t.lcg, "centre of gravity forward of the transom, share of the chine length with %");
  text("--vcg", t.vcg, "centre of gravity above the keel");
  text("--thrust-angle", t.thrust_angle, "to the keel, positive when it lifts");
  text("--thrust-below-cg", t.thrust_below_cg, "distance of the thrust line, positive below");
  text("--coefficient", t.coefficient, "overall propulsive coefficient on total drag, with %");
  text("--appendages", t.appendages, "share of the bare drag, with %");
  text("--air-drag-area", t.air_drag_area, "frontal area times drag coefficient");
  text("--water-temperature", t.water_temperature, "of the water");
  app.add_flag("--fresh-water", t.fresh_water, "else sea water");
  text("--speeds", t.speeds, "a range or one value");
  text("--speed-step", t.speed_step, "between the speeds");
  text("--at", t.at, "speed of the second table, default the middle one");
  text("--least-margin", t.least_margin, "to porpoising, 0 to 10 deg");
  text("--least", t.least, "what is made least");
  app.get_option("--least")->check(CLI::IsMember({"drag-per-tonne", "power"}));
  app.add_option("--combinations", t.combinations, "how many, 1 to 1e12")
      ->capture_default_str()
      ->check(CLI::Range(std::uint64_t{1}, std::uint64_t{1'000'000'000'000}));
  app.add_option("--seed", t.seed, "another number draws other designs")->capture_default_str();
  app.add_option("--threads", t.threads, "1 to 1024, default all; the results are the same")
      ->check(CLI::Range(1, 1024));
  text("--chart", t.chart, "an SVG file to be written by gnuplot, \"sweep.svg\"");
  app.footer(
      "Every quantity carries its unit: bare numbers are refused. What is not given is the demo's.\n"
      "Ctrl-C stops the sweep and keeps what is done. Estimates for flat water: beware of porpoising and slamming.");
  try {
    app.parse(argc, argv);
    const Space space = read(t);
    std::signal(SIGINT, on_interrupt);
    const Swept swept =
        sweep(space, t.threads > 0 ? t.threads : int(std::max(1U, std::thread::hardware_concurrency())));
    std::string page;
    print_page(std::back_inserter(page), space, swept, t, demo);
    if (!t.chart.empty()) page += joined({draw_chart(space, swept, t.chart), "\n"});
    if (std::fwrite(page.data(), 1, page.size(), stdout) != page.size() || std::fflush(stdout) != 0) return 1;
    return swept.done < space.combinations ? 130 : 0;
  } catch (const CLI::Success& e) {
    return app.exit(e);
  } catch (const CLI::ParseError& e) {
    fmt::print(stderr, "design_sweep: {}\n", e.what());
    return 2;
  } catch (const BadInput& e) {
    fmt::print(stderr, "design_sweep: {}\n", e.what());
    return 2;
  }
}
