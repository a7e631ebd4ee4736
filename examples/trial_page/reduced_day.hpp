// The day reduced: every figure of the page, computed by the library before anything is printed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "hardchine/craft/running_state.hpp"
#include "hardchine/economy/best_cruise.hpp"
#include "hardchine/economy/range.hpp"
#include "hardchine/fluids/fuel_co2.hpp"
#include "hardchine/seakeeping/porpoising.hpp"
#include "hardchine/trial/conditions.hpp"
#include "hardchine/trial/findings.hpp"
#include "hardchine/trial/reduced_runs.hpp"
#include "trial_file.hpp"

namespace trial_page {

/// One line of the load.
struct LoadLine {
  std::string name;
  std::string basis;                     ///< of people: how the mass was got; of a tank: what is in it
  Figure<hardchine::Volume<>> capacity;  ///< of a tank
  Figure<double> fill;                   ///< of a tank given by its fill
  Figure<hardchine::Volume<>> content;   ///< of a tank given by its content
  Figure<hardchine::Density<>> density;  ///< of what is in a tank
  bool density_stated = false;           ///< by the file; else the standard one
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

/// What the porpoising chart says of a planing step.
struct Porpoising {
  hardchine::PorpoisingOutcome outcome = hardchine::PorpoisingOutcome::undecided;
  hardchine::PorpoisingBound bound = hardchine::PorpoisingBound::none;
  bool on_measured_trim = false;             ///< else on the predicted one
  Figure<hardchine::Angle<>> limit, margin;  ///< unset where the chart has none
};

/// The brake power of a step and the overall propulsive coefficient that it implies.
struct Propulsive {
  Figure<hardchine::Power<>> brake_power;  ///< unset without a source
  Figure<double> coefficient;              ///< unset for a blank
  std::string words;                       ///< the source, or why there is a blank
  std::vector<std::string> cautions;
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
  bool near_hump = false;           ///< averages of runs do not hold there
  std::string setting;              ///< of drives and tabs, as written
  Figure<hardchine::Angle<>> trim;  ///< measured
  Figure<hardchine::MassFlow<>> co2_per_time;
  Figure<hardchine::MassPerDistance<>> co2_per_distance;
  Figure<double> depth_froude_number;  ///< unset without a depth
  hardchine::DepthStatement depth = hardchine::DepthStatement::deep;
  std::optional<Predicted> predicted;
  std::optional<Porpoising> porpoising;  ///< of a planing step with beam, deadrise and a trim
  std::string no_porpoising;             ///< why there is none
  std::optional<Propulsive> propulsive;  ///< where the file names a source of power
};

/// A timed acceleration, both ways combined.
struct ReducedAcceleration {
  Figure<hardchine::Speed<>> from, to;
  std::optional<hardchine::StartRule> start;
  hardchine::CombinationOutcome outcome = hardchine::CombinationOutcome::one_way_only;
  Figure<hardchine::Duration<>> time, out_mean, back_mean;  ///< the first unset unless combined
  int out = 0, back = 0;                                    ///< how many
};

/// Everything that the page prints.
struct ReducedDay {
  Load load;
  Figure<double> declared_difference;  ///< declared displacement over the roll-up, less one; unset if none is declared
  Figure<hardchine::Volume<>> fuel_capacity, held_back;
  hardchine::Density<> fuel_density = hardchine::unset;  ///< mean of the fuel tanks by capacity
  Figure<hardchine::Density<>> air_density;              ///< of the day; unset if the file has no air
  std::vector<std::string> air_cautions;
  std::vector<std::string> co2_cautions;
  std::vector<Step> steps;
  std::vector<std::string> run_cautions;
  hardchine::PlaningRule planing_rule;
  std::optional<std::size_t> hump;  ///< the dip of fuel economy over speed
  hardchine::BestCruise cruise;     ///< indices into steps
  std::string no_prediction;        ///< one line why; empty if there is one
  std::string prediction_method;
  std::vector<ReducedAcceleration> accelerations;
  std::vector<hardchine::Finding> findings;
};

/// Adds what is judged from the reduced figures: CO2, conditions, accelerations, porpoising, propulsive coefficients,
/// findings.
/// @throws FileError where the library refuses what the file says
void judge(const TrialFile& trial, ReducedDay& day);

/// Reduces a trial.
/// @throws FileError where the library refuses what the file says
ReducedDay reduce(const TrialFile& trial);

}  // namespace trial_page
