// The day reduced: every figure of the page, computed by the library before anything is printed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "hardchine/craft/running_state.hpp"
#include "hardchine/economy/best_cruise.hpp"
#include "hardchine/economy/range.hpp"
#include "hardchine/trial/reduced_runs.hpp"
#include "trial_file.hpp"

namespace trial_page {

/// One line of the load.
struct LoadLine {
  std::string name;
  std::string basis;                     ///< of people: how the mass was got; of a tank: what is in it
  Figure<hardchine::Volume<>> capacity;  ///< of a tank
  Figure<double> fill;                   ///< of a tank
  Figure<hardchine::Density<>> density;  ///< of what is in a tank
  Figure<hardchine::Mass<>> mass;
  Figure<hardchine::Length<>> x, y, z;
};

/// The load as tested.
struct Load {
  std::vector<LoadLine> lines;
  Figure<hardchine::Mass<>> displacement;
  Figure<hardchine::Length<>> lcg, tcg, vcg;  ///< unset where an item has no place
  Figure<hardchine::Volume<>> displaced_volume;
  Figure<double> beam_load_coefficient;  ///< unset without a chine beam
};

/// What the method says at a measured speed: figures, or words in their stead.
struct Predicted {
  std::string instead;  ///< why there are no figures; empty if there are
  Figure<hardchine::Angle<>> trim;
  Figure<hardchine::Length<>> wetted_keel, wetted_chine;
  Figure<hardchine::Force<>> bare_drag, total_drag;
  Figure<hardchine::Power<>> effective_power;
  std::vector<std::string> cautions;  ///< validity, a sentence a flag
};

/// One engine-speed step, reduced.
struct Step {
  Figure<hardchine::RotationRate<>> engine_speed;
  std::vector<ReadRun> runs;
  Figure<hardchine::Speed<>> out, back;  ///< mean over ground each way; unset if there was no such run
  std::string averaging;                 ///< how the speed was made, or why there is none
  Figure<hardchine::Speed<>> speed;      ///< through the water; unset if the runs give none
  Figure<hardchine::Speed<>> apparent_current;
  Figure<double> volume_froude_number, beam_froude_number;
  Figure<hardchine::VolumeFlow<>> fuel_flow;
  Figure<hardchine::DistancePerVolume<>> distance_per_volume;
  Figure<hardchine::VolumePerDistance<>> volume_per_distance;
  hardchine::RangeOutcome range_outcome = hardchine::RangeOutcome::reserve_leaves_no_fuel;
  Figure<hardchine::Length<>> range;
  Figure<hardchine::Duration<>> endurance;
  Figure<hardchine::Speed<>> theoretical_speed;  ///< unset without a drive
  Figure<double> apparent_slip;
  bool planing = false, planing_observed = false;
  bool near_hump = false;  ///< averages of runs do not hold there
  std::optional<Predicted> predicted;
};

/// Volume Froude numbers near the hump, where the same throttle gives different speeds with and against the wind
/// (common practice).
inline constexpr hardchine::Range hump_froude_numbers = hardchine::between(1.5, 2.5);

/// Everything that the page prints.
struct ReducedDay {
  Load load;
  Figure<hardchine::Volume<>> fuel_capacity, held_back;
  std::vector<Step> steps;
  std::vector<std::string> run_cautions;
  hardchine::PlaningRule planing_rule;
  std::optional<std::size_t> hump;  ///< the dip of fuel economy over speed
  hardchine::BestCruise cruise;     ///< indices into steps
  std::string no_prediction;        ///< one line why; empty if there is one
  std::string prediction_method;
};

/// Reduces a trial.
/// @throws FileError where the library refuses what the file says
ReducedDay reduce(const TrialFile& trial);

}  // namespace trial_page
