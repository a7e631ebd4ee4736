#include "trial_file.hpp"

namespace trial_page {

const char* const trial_file_help = R"(
The trial file is TOML text. Quantities are text with their unit, "27.4 kn"; a
bare number where a unit is due is refused. demo.toml beside the source is a
template with each entry explained.

Required
  [[weight]]  one or more: name, mass; x, y, z if known
  [[people]]  one or more: name, count, and either each = "85 kg" or
              standard = "ISO 12217 adult" | "ISO 12217 child" | "46 CFR 170.090";
              x, y, z if known
  [[tank]]    one or more: name, contents = "diesel" | "petrol" | "fresh water" |
              "sea water" | "other", capacity, fill = "80 %"; density (required
              for "other"; otherwise the standard one at 15 C); x, y, z if known
  [fuel]      usable_fuel of what the tanks hold when full, reserve =
              "10 % of capacity" | "thirds" | "20 % per leg" | "150 L" | "none"
  [[step]]    one or more: engine_speed, fuel_flow of all engines together, and
              the speeds over ground out and back; more runs than a pair as
              runs = [{ out = "27.1 kn", time = "0 min" }, { back = ... }, ...];
              planing = true | false if it was observed

Optional
  [trial]     title, date, place, depth, wind, sea, remark: printed as written
  [water]     kind = "sea" | "fresh", temperature, practical_salinity; without it
              standard sea water at 15 C, and the page says so
  [drive]     reduction_ratio (engine turns for one of the propeller), pitch;
              diameter, rated_engine_speed, rated_power (of one engine), lines:
              for theoretical speed and apparent slip
  [hull]      chine_beam, deadrise, projected_chine_length, number_of_hulls,
              stepped, beam_taken = "maximum over chines" | "mean over chines" |
              "in the stagnation area", deadrise_taken = "mid-chine" | "transom" |
              "in the stagnation area"
  [prediction] for the calm-water prediction; needs chine_beam, deadrise and
              projected_chine_length of [hull]. thrust_line =
              "by a point of the shaft" (thrust_inclination, thrust_line_point_x,
              thrust_line_point_z), "by its distance below CG"
              (thrust_inclination, thrust_line_below_cg) or
              "through CG, parallel to keel" (nothing beside it); lcg and vcg if
              the load does not give them; appendage_fraction = "10 %" of the bare
              drag; frontal_area and air_drag_coefficient together, air_density;
              roughness_allowance

Places: x forward of the transom, y to starboard, z above the keel.
Units: m mm cm km ft in nmi mi; kg lb t g "long ton" "short ton"; L "US gal"
"imp gal" m3; kn mph km/h m/s ft/s; L/h "US gal/h" "imp gal/h"; rpm rev/s;
kW hp PS W; deg rad; C F K; kg/m3 kg/L lb/ft3 "lb/US gal"; m2 ft2; s min h.

A figure is printed to the places that what it was made from bears out: write
"27.4 kn" for a speed read to a tenth, "310 L/h" for a flow read to a litre an hour.

Exit status: 0 the page was printed; 1 it could not be written; 2 the file or the
command line is wrong, with one message and no page.
)";

}  // namespace trial_page
