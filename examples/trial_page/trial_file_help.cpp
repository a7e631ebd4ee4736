#include "trial_file.hpp"

namespace trial_page {

const char* const trial_file_help = R"help(
The trial file is TOML text. Quantities are text with their unit, "27.4 kn"; a
bare number where a unit is due is refused. demo.toml beside the source is a
template with each entry explained; wrong_trial.toml shows every finding.

Required
  [[weight]]  one or more: name, mass; x, y, z if known
  [[people]]  one or more: name, count, and either each = "85 kg" or
              standard = "ISO 12217 adult" | "ISO 12217 child" | "46 CFR 170.090";
              x, y, z if known
  [[tank]]    one or more: name, contents = "diesel" | "petrol" | "fresh water" |
              "sea water" | "other", capacity, fill = "80 %" or content = "560 L";
              density (required for "other"; otherwise the standard one at 15 C);
              x, y, z if known
  [fuel]      usable_fuel of what the tanks hold when full, reserve =
              "10 % of capacity" | "thirds" | "20 % per leg" | "150 L" | "none";
              co2_basis if CO2 is wanted: "40 CFR 98 distillate 2" |
              "40 CFR 98 gasoline" | "EIA middle distillate" |
              "MEPC.282(70) diesel" | "IPCC 2006 diesel" | "IPCC 2006 gasoline"
  [[step]]    one or more: engine_speed, fuel_flow of all engines together, and
              the speeds over ground out and back; more runs than a pair as
              runs = [{ out = "27.1 kn", time = "0 min" }, { back = ... }, ...].
              If noted: trim (measured), setting (of drives or tabs, in words),
              planing = true | false, full_throttle = true, time = "35 min" from
              any instant, torque of one engine

Optional
  [trial]     title, date, place, sea, remark: printed as written
  [conditions] depth, wind, wave_height, air_temperature with air_pressure,
              relative_humidity
  [water]     kind = "sea" | "fresh", temperature, practical_salinity; without it
              standard sea water at 15 C, and the page says so
  [declared]  displacement weighed or declared, how: held against the load
  [drive]     reduction_ratio (engine turns for one of the propeller), pitch: for
              theoretical speed and apparent slip, so never for a waterjet.
              diameter, rated_engine_speed, rated_power (of one engine), lines,
              engine = "diesel" | "petrol injected" | "petrol carburetted",
              least_rated_speed and greatest_rated_speed (the maker's band)
  [power]     source = "measured torque" (of the steps) | "rated power at full
              throttle" | "fuel flow" with specific_consumption = "215 g/kWh" |
              "propeller demand law" with exponent = 2.7: for the propulsive
              coefficient
  [hull]      chine_beam, deadrise, projected_chine_length, number_of_hulls,
              stepped, waterline_length, beam_taken = "maximum over chines" |
              "mean over chines" | "in the stagnation area", deadrise_taken =
              "mid-chine" | "transom" | "in the stagnation area"
  [prediction] for the calm-water prediction; needs chine_beam, deadrise and
              projected_chine_length of [hull]. thrust_line =
              "by a point of the shaft" (thrust_inclination, thrust_line_point_x,
              thrust_line_point_z), "by its distance below CG"
              (thrust_inclination, thrust_line_below_cg) or
              "through CG, parallel to keel" (nothing beside it); lcg and vcg if
              the load does not give them; appendage_fraction = "10 %" of the bare
              drag; frontal_area and air_drag_coefficient together, air_density;
              roughness_allowance
  [[stated_range]]  engine_speed of a step, distance, name, reserve
  [[acceleration]]  from (a start from rest without it), to, out and back, or
              times = [{ out = "10.4 s" }, { back = "11.0 s" }, ...]; from rest
              start = "back-extrapolation" | "last standstill sample" |
              "crossing of 0.5 mph" | "trigger"
  [uncertainty] and [limits] of the findings; the defaults in brackets:
              speed_uncertainty (0.05 kn), tachometer_uncertainty (1.2 %),
              pitch_uncertainty (1.5 %), fuel_flow_uncertainty (2.5 %),
              weighing_uncertainty (0.5 %), tank_sender_uncertainty (4 %), ...;
              half_difference (1.5 kn), speed_fall (0.3 kn), flow_fall (2 %),
              displacement_difference (1 %), wind (10 kn), waves (0.3 m), ...;
              a key that does not exist is answered with all that do

Places: x forward of the transom, y to starboard, z above the keel.
Units: m mm cm km ft in nmi mi; kg lb t g "long ton" "short ton"; L "US gal"
"imp gal" m3; kn mph km/h m/s ft/s; L/h "US gal/h" "imp gal/h"; rpm rev/s;
kW hp PS W; "N m" "ft lbf"; g/kWh "lb/(hp h)"; deg rad; C F K; hPa inHg psi;
kg/m3 kg/L lb/ft3 "lb/US gal"; m2 ft2; s min h; g m/s2.

A figure is printed to the places that what it was made from bears out: write
"27.4 kn" for a speed read to a tenth, "310 L/h" for a flow read to a litre an hour.

Exit status: 0 the page was printed; 1 it could not be written, or with --strict it
holds a finding; 2 the file or the command line is wrong, with one message and no
page.
)help";

}  // namespace trial_page
