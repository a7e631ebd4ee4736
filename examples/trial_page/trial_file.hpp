// The trial file: what a tester writes down, read from TOML into the library's types.
#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "figure.hpp"
#include "hardchine/craft/drive_train.hpp"
#include "hardchine/craft/hull.hpp"
#include "hardchine/craft/loading.hpp"
#include "hardchine/craft/tank.hpp"
#include "hardchine/craft/thrust_line.hpp"
#include "hardchine/economy/reserve.hpp"
#include "hardchine/fluids/air.hpp"
#include "hardchine/fluids/fuel_co2.hpp"
#include "hardchine/fluids/water.hpp"
#include "hardchine/resistance/added_drag.hpp"
#include "hardchine/trial/acceleration.hpp"
#include "hardchine/trial/findings.hpp"
#include "hardchine/trial/propulsive_coefficient.hpp"
#include "hardchine/trial/run.hpp"

namespace trial_page {

/// A file that cannot be used; what() is the message for the user: file, line, field, value, what is accepted.
struct FileError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Where something stands in the file.
struct Place {
  std::string file;
  unsigned line = 0;
};

/// The error at a place.
FileError error_at(const Place& place, const std::string& message);

/// Runs `formula`; what the library refuses in it becomes an error at `place`, about the field in `block`.
template <class F>
auto at_place(const Place& place, const std::string& block, const F& formula) {
  try {
    return formula();
  } catch (const hardchine::BadInput& e) {
    throw error_at(place,
                   "field " + e.field() + " in " + block + ": value " + e.value() + "; accepted: " + e.accepted());
  }
}

/// An aggregate of the library as read: its values, their last places, and where it stands.
template <class S>
struct Entry {
  S value{};
  S last_place{};
  Place place;
  std::string block;  ///< as the user wrote it: "[[tank]] 2"
};
template <class S, class M>
Figure<M> figure(const Entry<S>& entry, M S::*member) {
  return {entry.value.*member, entry.last_place.*member};
}

/// A weight, or people as one.
struct ReadWeight {
  Entry<hardchine::WeightItem<>> item;
  std::string basis;                  ///< for people: how the mass was got
  hardchine::Mass<> nominal_place{};  ///< of a standard mass: the last place it is stated to
  int persons_asked = 0;              ///< people in it whose mass was asked or weighed
};

/// A tank and what is in it.
struct ReadTank {
  Entry<hardchine::Tank<>> tank;
  std::string contents;
  bool holds_fuel = false, density_stated = false;
  Figure<hardchine::Volume<>> content;  ///< as read; unset if the tank is given by its fill
};

/// One run of a step over the ground.
struct ReadRun {
  bool back = false;
  Figure<hardchine::Speed<>> ground_speed;
  hardchine::Duration<> time = hardchine::unset;  ///< clock time from any start; optional
};

/// One engine-speed step.
struct ReadStep {
  Figure<hardchine::RotationRate<>> engine_speed;
  Figure<hardchine::VolumeFlow<>> fuel_flow;  ///< of all engines together
  std::vector<ReadRun> runs;
  hardchine::Duration<> time = hardchine::unset;  ///< of the step, from any start; optional
  std::string setting;                            ///< of drives and tabs, as written; may be empty
  Figure<hardchine::Angle<>> trim;                ///< measured; optional
  std::optional<bool> planing;                    ///< as observed
  bool full_throttle = false;
  Figure<hardchine::Moment<>> torque;  ///< of one engine; optional
  Place place;
  std::string block;
};

/// Wind, sea, depth and air; each may be unset.
struct ReadConditions {
  Figure<hardchine::Length<>> depth, wave_height;
  Figure<hardchine::Speed<>> wind;
  Figure<hardchine::Temperature<>> air_temperature;
  Figure<hardchine::Pressure<>> air_pressure;
  Figure<double> relative_humidity;
  Place place;
};

/// What the prediction needs beyond the hull.
struct ReadPrediction {
  Entry<hardchine::Loading<>> centre;  ///< LCG and VCG, where they are stated instead of rolled up
  Entry<hardchine::ThrustLine<>> thrust_line;
  Entry<hardchine::AddedDrag<>> added_drag;
  bool appendages_stated = false, air_stated = false, air_density_stated = false;
  Figure<double> roughness_allowance;
  Place place;
};

/// Where the brake power comes from.
struct ReadPower {
  hardchine::PowerSource source = hardchine::PowerSource::none;
  Figure<hardchine::SpecificConsumption<>> specific_consumption;
  double exponent = hardchine::unset;
  Place place;
};

/// A displacement as declared or weighed.
struct ReadDeclared {
  Figure<hardchine::Mass<>> displacement;
  std::string how;  ///< in words; may be empty
};

/// A range as somebody stated it.
struct ReadStatedRange {
  std::string name;
  std::size_t step = 0;  ///< index
  Figure<hardchine::Length<>> distance;
  std::optional<hardchine::Reserve<>> reserve;
  Figure<hardchine::Volume<>> reserve_volume;
};

/// A timed acceleration as noted.
struct ReadAcceleration {
  Figure<hardchine::Speed<>> from, to;
  std::optional<hardchine::StartRule> start;  ///< of a start from rest; nothing if not named or not from rest
  std::vector<Figure<hardchine::Duration<>>> out, back;
  Place place;
  std::string block;
};

/// A whole trial file.
struct TrialFile {
  std::string title;
  std::vector<std::pair<std::string, std::string>> remarks;  ///< label and text, as written
  ReadConditions conditions;
  std::vector<ReadWeight> weights;  ///< weights first, then people
  std::vector<ReadTank> tanks;
  std::string water_words;  ///< which water, and whether it was assumed
  hardchine::Water<> water;
  Figure<hardchine::Volume<>> usable_fuel;
  std::optional<hardchine::Reserve<>> reserve;
  Figure<hardchine::Volume<>> reserve_volume;  ///< of a reserve by volume: nominal
  hardchine::Co2Basis co2_basis = hardchine::Co2Basis::not_chosen;
  Place fuel_place;
  std::optional<ReadDeclared> declared;
  std::optional<Entry<hardchine::DriveTrain<>>> drive;
  std::optional<hardchine::EngineKind> engine;
  hardchine::RotationRate<> least_rated_speed = hardchine::unset, greatest_rated_speed = hardchine::unset;
  std::optional<ReadPower> power;
  Entry<hardchine::Hull<>> hull;           ///< unset fields where the file has none
  std::string beam_taken, deadrise_taken;  ///< where on the real form; "taken as ..." if the file does not say
  hardchine::Length<> waterline_length = hardchine::unset;
  std::optional<ReadPrediction> prediction;
  std::vector<ReadStatedRange> stated_ranges;
  std::vector<ReadAcceleration> accelerations;
  Entry<hardchine::InstrumentUncertainty> uncertainty;
  Entry<hardchine::FindingLimits> limits;
  std::vector<ReadStep> steps;
};

/// Reads a trial file.
/// @param path of a TOML file
/// @return everything in it, checked field by field
/// @throws FileError with one message
TrialFile read_trial_file(const std::string& path);

/// What a trial file holds, for --help.
extern const char* const trial_file_help;

}  // namespace trial_page
