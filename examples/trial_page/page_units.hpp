// What a page is printed in: the named units of each system, and figures with their unit.
#pragma once

#include <fmt/format.h>

#include <array>
#include <string>
#include <string_view>

#include "figure.hpp"
#include "page.hpp"

namespace trial_page {

/// A unit with its symbol.
template <class Q>
struct Named {
  Q unit;
  std::string_view symbol;
};

/// What a page is printed in.
struct Units {
  std::string_view name;
  Named<hardchine::Speed<>> speed;
  Named<hardchine::Length<>> distance, length, pitch;
  Named<hardchine::Area<>> area;
  Named<hardchine::Mass<>> mass;
  Named<hardchine::Volume<>> volume, displaced;
  Named<hardchine::Density<>> density, contents_density;
  Named<hardchine::VolumeFlow<>> flow;
  Named<hardchine::Force<>> force;
  Named<hardchine::Power<>> power;
  Named<hardchine::MassFlow<>> co2_flow;
  Named<hardchine::MassPerDistance<>> co2_distance;
  Named<hardchine::Pressure<>> pressure;
};

inline constexpr Named<hardchine::DistancePerVolume<>> nautical_economy{hardchine::nautical_mile_per_us_gallon,
                                                                        "nmi/US gal"};
inline constexpr Named<hardchine::DistancePerVolume<>> statute_economy{hardchine::statute_mile_per_us_gallon,
                                                                       "mi/US gal"};
inline constexpr Named<hardchine::VolumePerDistance<>> litres_a_mile{hardchine::litre_per_nautical_mile, "L/nmi"};
inline constexpr Named<hardchine::VolumePerDistance<>> litres_a_kilometre{hardchine::litre_per_kilometre, "L/km"};

inline constexpr hardchine::Volume<> cubic_foot = hardchine::foot * hardchine::foot * hardchine::foot;

inline Units units_of(UnitSystem system) {
  using namespace hardchine;
  Units units{.name = "nautical",
              .speed = {knot, "kn"},
              .distance = {nautical_mile, "nmi"},
              .length = {metre, "m"},
              .pitch = {inch, "in"},
              .area = {square_metre, "m2"},
              .mass = {kilogram, "kg"},
              .volume = {litre, "L"},
              .displaced = {cubic_metre, "m3"},
              .density = {kilogram_per_cubic_metre, "kg/m3"},
              .contents_density = {kilogram_per_cubic_metre, "kg/m3"},
              .flow = {litre_per_hour, "L/h"},
              .force = {kilonewton, "kN"},
              .power = {kilowatt, "kW"},
              .co2_flow = {kilogram_per_hour, "kg/h"},
              .co2_distance = {kilogram / nautical_mile, "kg/nmi"},
              .pressure = {hectopascal, "hPa"}};
  if (system == UnitSystem::metric) {
    units.name = "metric";
    units.speed = {kilometre_per_hour, "km/h"};
    units.distance = {kilometre, "km"};
    units.pitch = {millimetre, "mm"};
    units.co2_distance = {kilogram / kilometre, "kg/km"};
  } else if (system == UnitSystem::us) {
    units.name = "US";
    units.speed = {mph, "mph"};
    units.distance = {statute_mile, "mi"};
    units.length = {foot, "ft"};
    units.area = {square_foot, "ft2"};
    units.mass = {pound_mass, "lb"};
    units.volume = {us_gallon, "US gal"};
    units.displaced = {cubic_foot, "ft3"};
    units.density = {pound_per_cubic_foot, "lb/ft3"};
    units.contents_density = {pound_per_us_gallon, "lb/US gal"};
    units.flow = {us_gallon_per_hour, "US gal/h"};
    units.force = {pound_force, "lbf"};
    units.power = {horsepower, "hp"};
    units.co2_flow = {pound_mass / hour, "lb/h"};
    units.co2_distance = {pound_mass / statute_mile, "lb/mi"};
    units.pressure = {inch_of_mercury, "inHg"};
  }
  return units;
}

inline constexpr Named<hardchine::RotationRate<>> in_rpm{hardchine::rpm, "rpm"};
inline constexpr Named<hardchine::Angle<>> in_degrees{hardchine::degree, "deg"};
inline constexpr Named<hardchine::Duration<>> in_hours{hardchine::hour, "h"};
inline constexpr Named<hardchine::Duration<>> in_seconds{hardchine::second, "s"};
inline constexpr Named<double> in_percent{hardchine::percent, "%"};

/// A figure in a named unit, the symbol after it.
template <class Q>
std::string with_unit(const Figure<Q>& figure, const Named<Q>& named, const Print& print = {}) {
  return fmt::format("{} {}", number(figure, named.unit, print), named.symbol);
}

}  // namespace trial_page
