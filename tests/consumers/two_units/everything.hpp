// All that the library has, in both units of the program.
#pragma once

#include <hardchine/hardchine.hpp>
#include <hardchine/literals.hpp>
#include <hardchine/text.hpp>
#include <hardchine/trial/findings.hpp>

/// What a unit of the program sees.
struct Seen {
  hardchine::Speed<> speed;         ///< of the same text
  const hardchine::Method* method;  ///< of the findings
  const hardchine::Limit* a_limit;  ///< the first of the prismatic planing method
};

/// From the unit that is not main.
Seen seen_elsewhere();
