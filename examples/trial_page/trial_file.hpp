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
#include "hardchine/fluids/water.hpp"
#include "hardchine/resistance/added_drag.hpp"

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
};

/// A tank and what is in it.
struct ReadTank {
  Entry<hardchine::Tank<>> tank;
  std::string contents;
  bool holds_fuel = false;
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
  std::optional<bool> planing;  ///< as observed
  Place place;
  std::string block;
};

/// What the prediction needs beyond the hull.
struct ReadPrediction {
  Entry<hardchine::Loading<>> centre;  ///< LCG and VCG, where they are stated instead of rolled up
  Entry<hardchine::ThrustLine<>> thrust_line;
  Entry<hardchine::AddedDrag<>> added_drag;
  bool appendages_stated = false, air_stated = false;
  Figure<double> roughness_allowance;
  Place place;
};

/// A whole trial file.
struct TrialFile {
  std::string title;
  std::vector<std::pair<std::string, std::string>> conditions;  ///< label and text, as written
  std::vector<ReadWeight> weights;                              ///< weights first, then people
  std::vector<ReadTank> tanks;
  std::string water_words;  ///< which water, and whether it was assumed
  hardchine::Water<> water;
  Figure<hardchine::Volume<>> usable_fuel;
  std::optional<hardchine::Reserve<>> reserve;
  Figure<hardchine::Volume<>> reserve_volume;  ///< of a reserve by volume: nominal
  Place fuel_place;
  std::optional<Entry<hardchine::DriveTrain<>>> drive;
  Entry<hardchine::Hull<>> hull;  ///< unset fields where the file has none
  std::string beam_taken,
      deadrise_taken;  ///< where on the real form, in words; "taken as ..." if the file does not say
  std::optional<ReadPrediction> prediction;
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
