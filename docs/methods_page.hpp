// The page docs/methods.md, made from the methods' own arrays of limits. make_methods.cpp prints it; tests/docs/methods.cpp
// fails when the page in the folder is another, or when a method of the headers is not in the list below.
#pragma once

#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include "hardchine/craft/persons_capacity.hpp"
#include "hardchine/economy/out_and_back.hpp"
#include "hardchine/fluids/fuel_co2.hpp"
#include "hardchine/hardchine.hpp"
#include "hardchine/prediction/speed_power.hpp"
#include "hardchine/propulsion/slip_check.hpp"
#include "hardchine/seakeeping/porpoising.hpp"
#include "hardchine/trial/acceleration.hpp"
#include "hardchine/trial/conditions.hpp"
#include "hardchine/trial/findings.hpp"
#include "hardchine/trial/least_squares_runs.hpp"
#include "hardchine/trial/propulsive_coefficient.hpp"

namespace methods_page {

struct Entry {
  std::string_view header;  // below include/hardchine/
  std::string_view name;    // in the code
  const hardchine::Method* method;
};

// One line a method, in the order of the page: a new method is one more line.
inline std::vector<Entry> entries() {
  using namespace hardchine;
  return {
      {"prediction/speed_power.hpp", "power_needed_method", &power_needed_method},
      {"prediction/speed_power.hpp", "top_speed_method", &top_speed_method},
      {"prediction/speed_power.hpp", "drag_bias_method", &drag_bias_method},
      {"resistance/planing_equilibrium.hpp", "planing_closed_method", &planing_closed_method},
      {"resistance/planing_equilibrium.hpp", "planing_general_method", &planing_general_method},
      {"resistance/planing_equilibrium.hpp", "planing_short_method", &planing_short_method},
      {"resistance/added_drag.hpp", "still_air_drag_method", &still_air_drag_method},
      {"resistance/friction_line.hpp", "ittc_1957_method", &ittc_1957_method},
      {"resistance/friction_line.hpp", "schoenherr_method", &schoenherr_method},
      {"resistance/friction_line.hpp", "schoenherr_textbook_method", &schoenherr_textbook_method},
      {"propulsion/slip.hpp", "slip_method", &slip_method},
      {"propulsion/slip_check.hpp", "slip_check_method", &slip_check_method},
      {"propulsion/slip_check.hpp", "slip_uncertainty_method", &slip_uncertainty_method},
      {"propulsion/slip_check.hpp", "typical_slip_method", &typical_slip_method},
      {"propulsion/slip_check.hpp", "trade_slip_bands_method", &trade_slip_bands_method},
      {"seakeeping/porpoising.hpp", "porpoising_chart_method", &porpoising_chart_method},
      {"economy/fuel_economy.hpp", "fuel_economy_method", &fuel_economy_method},
      {"economy/range.hpp", "cruising_range_method", &cruising_range_method},
      {"economy/economy_curve.hpp", "monotone_cubic_method", &monotone_cubic_method},
      {"economy/best_cruise.hpp", "best_cruise_method", &best_cruise_method},
      {"economy/out_and_back.hpp", "out_and_back_method", &out_and_back_method},
      {"trial/reduced_runs.hpp", "one_way_run_method", &one_way_run_method},
      {"trial/reduced_runs.hpp", "pair_of_runs_method", &pair_of_runs_method},
      {"trial/reduced_runs.hpp", "mean_of_means_method", &mean_of_means_method},
      {"trial/least_squares_runs.hpp", "least_squares_runs_method", &least_squares_runs_method},
      {"trial/acceleration.hpp", "acceleration_method", &acceleration_method},
      {"trial/acceleration.hpp", "acceleration_energy_method", &acceleration_energy_method},
      {"trial/conditions.hpp", "conditions_method", &conditions_method},
      {"trial/propulsive_coefficient.hpp", "propulsive_coefficient_method", &propulsive_coefficient_method},
      {"trial/propulsive_coefficient.hpp", "specific_consumption_method", &specific_consumption_method},
      {"trial/findings.hpp", "findings_method", &findings_method},
      {"craft/persons_capacity.hpp", "persons_capacity_method", &persons_capacity_method},
      {"fluids/water.hpp", "default_water", &default_water},
      {"fluids/water.hpp", "ittc_water", &ittc_water},
      {"fluids/water.hpp", "teos10_density", &teos10_density},
      {"fluids/water.hpp", "eos80_density", &eos80_density},
      {"fluids/water.hpp", "iapws_viscosity", &iapws_viscosity},
      {"fluids/water.hpp", "sea_viscosity_factor", &sea_viscosity_factor},
      {"fluids/water.hpp", "iapws_vapour_pressure", &iapws_vapour_pressure},
      {"fluids/water.hpp", "raoult_vapour_pressure", &raoult_vapour_pressure},
      {"fluids/air.hpp", "iso_2533_air", &iso_2533_air},
      {"fluids/air.hpp", "cipm_air", &cipm_air},
      {"fluids/fuel.hpp", "fuel_volume_correction", &fuel_volume_correction},
      {"fluids/fuel_co2.hpp", "co2_gross_heat_method", &co2_gross_heat_method},
      {"fluids/fuel_co2.hpp", "co2_volume_method", &co2_volume_method},
      {"fluids/fuel_co2.hpp", "co2_mass_method", &co2_mass_method},
      {"fluids/fuel_co2.hpp", "co2_net_heat_method", &co2_net_heat_method},
  };
}

// What a limit's numbers say: the range in the unit that its sentence names. Where the sentences are verdicts with a
// threshold of their own (findings, conditions of the day) the numbers are no range in which a method holds.
inline std::string range(const hardchine::Method& method, const hardchine::Limit& limit) {
  using hardchine::joined;
  using hardchine::plain_number;
  const auto of = [&](const auto& limits) { return method.limits.data() == limits.data(); };
  if (of(hardchine::finding_limits) || of(hardchine::condition_limits)) return "as the sentence says";
  if (limit.low == limit.high) return "no range: a remark";
  if (std::isinf(limit.high)) return joined({"from ", plain_number(limit.low)});
  return joined({plain_number(limit.low), " to ", plain_number(limit.high)});
}

inline std::string page() {
  using hardchine::joined;
  const std::vector<Entry> list = entries();
  std::string text =
      "# Methods and where they hold\n\n"
      "Made by `docs/make_methods.cpp` from the arrays of limits in the headers: do not edit it by hand.\n\n"
      "Outside a range a method still answers, and its flag goes up: `explain(result)` gives the sentence where the\n"
      "result carries flags; a finding carries its own words.\n"
      "Marks: see [evidence.md](evidence.md); sources: [references.bib](references.bib).\n";
  std::string_view folder;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const Entry& e = list[i];
    const std::string_view this_folder = e.header.substr(0, e.header.find('/'));
    if (this_folder != folder) text += joined({"\n## ", this_folder, "\n"});
    folder = this_folder;

    const hardchine::Method& m = *e.method;
    text += joined({"\n### ", m.name, "\n\n", "`", e.name, "` in `", e.header, "`. Source: ", m.key, ", ", m.equations,
                    "; ", words(m.evidence), ".\n"});
    const Entry* same = nullptr;  // an earlier method with the same limits
    for (std::size_t k = i; k-- > 0;) {
      const auto other = list[k].method->limits;
      if (!m.limits.empty() && other.data() == m.limits.data() && other.size() == m.limits.size()) same = &list[k];
    }
    std::string remarks;
    if (m.limits.empty()) remarks += "No published range.\n";
    if (same != nullptr) remarks += joined({"Ranges: those of `", same->name, "`.\n"});
    if (!m.instead_beyond.empty()) remarks += joined({"Instead, outside: ", m.instead_beyond, ".\n"});
    if (!remarks.empty()) text += "\n" + remarks;
    if (m.limits.empty() || same != nullptr) continue;
    text += "\n| flag | holds | source |\n|---|---|---|\n";
    for (const hardchine::Limit& limit : m.limits)
      text += joined({"| ", limit.sentence, " | ", range(m, limit), " | ", limit.source, " |\n"});
  }
  return text;
}

}  // namespace methods_page
