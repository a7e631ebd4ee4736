// The trial page as text.
#pragma once

#include <string>

#include "reduced_day.hpp"

namespace trial_page {

/// The units of a page. Fuel economy is given in nautical and statute miles per US gallon and litres per nautical mile in
/// each of them.
enum class UnitSystem { us, nautical, metric };

/// The page: load, runs, economy, propeller, cruise, prediction, cautions.
/// @param trial as read
/// @param day as reduced from it
/// @param system units to print in
/// @return lines of at most 100 characters, unless a name in the file is long
std::string page(const TrialFile& trial, const ReducedDay& day, UnitSystem system);

}  // namespace trial_page
