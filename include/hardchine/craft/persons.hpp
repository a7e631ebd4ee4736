/// @file
/// Standard masses of a person, by name. There is no default: a report says which one was taken.
#pragma once

#include "hardchine/craft/loading.hpp"

namespace hardchine {

/// Where the mass of a person comes from.
enum class PersonStandard : std::uint8_t {
  iso_12217,        ///< 75 kg an adult
  iso_12217_child,  ///< 37.5 kg a child
  cfr_46_170        ///< 185 lb, US passenger vessels
};

/// The mass of one person by a named standard.
/// @param standard iso_12217: 75 kg, iso_12217_child: 37.5 kg (iso_12217_3, printed); cfr_46_170: 185 lb
///   (cfr_46_170_090, paragraph (d)(1), printed; since 1 December 2011)
/// @return mass of one person
/// Source: iso_12217_3 and cfr_46_170_090 by name (printed)
constexpr Mass<> person_mass(PersonStandard standard) {
  switch (standard) {
    case PersonStandard::iso_12217:
      return 75.0 * kilogram;
    case PersonStandard::iso_12217_child:
      return 37.5 * kilogram;
    case PersonStandard::cfr_46_170:
      return 185.0 * pound_mass;
  }
  return unset;
}

/// The standard's name as a report prints it.
/// @param standard a named standard
/// @return for example "ISO 12217-3, adult"
constexpr std::string_view words(PersonStandard standard) {
  switch (standard) {
    case PersonStandard::iso_12217:
      return "ISO 12217-3, adult";
    case PersonStandard::iso_12217_child:
      return "ISO 12217-3, child";
    case PersonStandard::cfr_46_170:
      return "46 CFR 170.090";
  }
  return "unknown";
}

}  // namespace hardchine
