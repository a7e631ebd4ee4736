// The whole result as JSON, for other programs.
#pragma once

#include <string>

#include "page.hpp"

namespace trial_page {

/// The result of a trial as one JSON object. A quantity is an object with value (not rounded), last_place and unit; what
/// is not known is null.
/// @param trial as read
/// @param day as reduced from it
/// @param system units of the values
/// @return JSON text with a line break at its end
std::string json(const TrialFile& trial, const ReducedDay& day, UnitSystem system);

}  // namespace trial_page
