// The keys of a trial file: what stands in each block, in which unit and range. The reader takes units and ranges from
// here and nothing that does not stand here; the tests make their wrong values from it.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "hardchine/craft/hull.hpp"
#include "hardchine/craft/persons.hpp"
#include "hardchine/craft/thrust_line.hpp"
#include "hardchine/fields.hpp"
#include "hardchine/fluids/fuel_co2.hpp"
#include "hardchine/text.hpp"
#include "hardchine/trial/acceleration.hpp"
#include "hardchine/trial/findings.hpp"
#include "hardchine/trial/propulsive_coefficient.hpp"

namespace trial_page {

/// How the value of a key is written.
enum class KeyKind {
  quantity,  ///< text with a unit
  ratio,     ///< a number, or text with a per cent sign
  count,     ///< a whole number
  yes_no,    ///< true or false
  text,      ///< one line of text
  choice,    ///< one of several words
  reserve,   ///< a reserve by name
  list       ///< a list of small blocks
};

/// One key.
struct Key {
  std::string name;
  KeyKind kind = KeyKind::text;
  std::string_view quantity = {};  ///< of a quantity: the word for its dimension
  hardchine::ShownUnit unit = hardchine::plain_ratio;
  hardchine::Range range = {0.0, 0.0};  ///< accepted, in that unit; of a temperature in C
  bool required = false;                ///< the block is refused without it
  std::vector<std::string> words = {};  ///< of a choice
};

/// One block with its keys.
struct BlockKeys {
  std::string name;
  bool list = false;        ///< [[name]], as often as wanted
  bool required = false;    ///< the file is refused without it
  std::string inside = {};  ///< of the small blocks in a list: the block that holds the list
  std::vector<Key> keys = {};
};

/// All blocks, in the order of the template.
const std::vector<BlockKeys>& trial_file_blocks();
/// The block of a name.
const BlockKeys& keys_of_block(std::string_view name);

/// The key of a field of the library: its trade name in small letters with underscores.
std::string key_of(std::string_view name);

/// Whether an entry of a field table is read as it stands: numbers, quantities, counts, yes or no. Other choices are
/// words of the file.
template <class S, class E>
inline constexpr bool reads_itself = requires(const E& e) {
  e.range;
}
|| std::same_as<E, hardchine::Count<S>> || std::same_as<E, hardchine::Choice<S, bool>>;

/// Calls `visit` for each entry of an aggregate's field table that is read as it stands.
template <class S, class F>
void for_each_entry(const F& visit) {
  const auto one = [&]<class E>(const E& entry) {
    if constexpr (reads_itself<S, E>) visit(entry);
  };
  hardchine::for_each_entry(S::fields(), one);
}

/// Words of the file with what they mean.
template <class E, std::size_t N>
using Words = std::array<std::pair<std::string_view, E>, N>;
template <class E, std::size_t N>
constexpr Words<E, N> words_for(const std::pair<std::string_view, E> (&list)[N]) {
  return std::to_array(list);
}

inline constexpr auto person_standards =
    words_for<hardchine::PersonStandard>({{"ISO 12217 adult", hardchine::PersonStandard::iso_12217},
                                          {"ISO 12217 child", hardchine::PersonStandard::iso_12217_child},
                                          {"46 CFR 170.090", hardchine::PersonStandard::cfr_46_170}});

enum class Contents { diesel, petrol, fresh_water, sea_water, other };
inline constexpr auto tank_contents = words_for<Contents>({{"diesel", Contents::diesel},
                                                           {"petrol", Contents::petrol},
                                                           {"fresh water", Contents::fresh_water},
                                                           {"sea water", Contents::sea_water},
                                                           {"other", Contents::other}});

enum class WaterKind { sea, fresh };
inline constexpr auto water_kinds = words_for<WaterKind>({{"sea", WaterKind::sea}, {"fresh", WaterKind::fresh}});

inline constexpr auto co2_bases =
    words_for<hardchine::Co2Basis>({{"40 CFR 98 gasoline", hardchine::Co2Basis::cfr_40_98_gasoline},
                                    {"40 CFR 98 distillate 2", hardchine::Co2Basis::cfr_40_98_distillate_2},
                                    {"EIA middle distillate", hardchine::Co2Basis::eia_middle_distillate},
                                    {"MEPC.282(70) diesel", hardchine::Co2Basis::mepc_diesel_gas_oil},
                                    {"IPCC 2006 gasoline", hardchine::Co2Basis::ipcc_gasoline},
                                    {"IPCC 2006 diesel", hardchine::Co2Basis::ipcc_diesel}});

inline constexpr auto engine_kinds =
    words_for<hardchine::EngineKind>({{"diesel", hardchine::EngineKind::diesel},
                                      {"petrol injected", hardchine::EngineKind::petrol_injected},
                                      {"petrol carburetted", hardchine::EngineKind::petrol_carburetted}});

inline constexpr auto power_sources =
    words_for<hardchine::PowerSource>({{"measured torque", hardchine::PowerSource::measured_torque},
                                       {"rated power at full throttle", hardchine::PowerSource::full_throttle_at_rated},
                                       {"fuel flow", hardchine::PowerSource::fuel_flow_with_specific_consumption},
                                       {"propeller demand law", hardchine::PowerSource::propeller_demand_law}});

inline constexpr auto beams_taken =
    words_for<hardchine::BeamTaken>({{"maximum over chines", hardchine::BeamTaken::maximum_over_chines},
                                     {"mean over chines", hardchine::BeamTaken::mean_over_chines},
                                     {"in the stagnation area", hardchine::BeamTaken::in_stagnation_area}});
inline constexpr auto deadrises_taken =
    words_for<hardchine::DeadriseTaken>({{"mid-chine", hardchine::DeadriseTaken::mid_chine},
                                         {"transom", hardchine::DeadriseTaken::transom},
                                         {"in the stagnation area", hardchine::DeadriseTaken::in_stagnation_area}});

enum class ThrustWay { point, below_cg, through_cg };
inline constexpr auto thrust_ways = words_for<ThrustWay>({{"by a point of the shaft", ThrustWay::point},
                                                          {"by its distance below CG", ThrustWay::below_cg},
                                                          {"through CG, parallel to keel", ThrustWay::through_cg}});

inline constexpr auto start_rules =
    words_for<hardchine::StartRule>({{"back-extrapolation", hardchine::StartRule::back_extrapolation},
                                     {"last standstill sample", hardchine::StartRule::last_standstill_sample},
                                     {"crossing of 0.5 mph", hardchine::StartRule::interpolated_crossing},
                                     {"trigger", hardchine::StartRule::trigger}});

}  // namespace trial_page
