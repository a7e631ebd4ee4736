// Bad fields from a field table: no list is written twice, and a new field cannot be forgotten.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "hardchine/fields.hpp"

// The aggregate with a number, in the unit of the entry, in field number `index` of its table (of all parts).
template <class S>
S with_field(S s, int index, double number) {
  int i = 0;
  hardchine::for_each_field(s, [&]<class V>(const auto& entry, V& value) {
    if (i++ != index) return;
    if constexpr (hardchine::is_quantity<V>)
      value = V::from_value(number * entry.unit.factor);
    else
      value = number * entry.unit.factor;
  });
  return s;
}

// Every field of the table: not a number, infinite, below and above its range are refused by its name and range.
// A field that may stay unset takes not a number for that.
template <class S, class Call>
int check_bad_fields(const S& good, Call&& call) {
  CHECK_NOTHROW(call(good));
  int index = 0;
  hardchine::for_each_field(good, [&](const auto& entry, const auto& given) {
    const double infinite = std::numeric_limits<double>::infinity();
    const double below = entry.range.low_open ? entry.range.low : entry.range.low - 1.0;
    for (const double bad : {std::nan(""), infinite, -infinite, below, entry.range.high * 1.01 + 1.0}) {
      CAPTURE(entry.name);
      CAPTURE(bad);
      const bool left_out = std::isnan(bad) && entry.need == hardchine::Need::optional && !hardchine::is_set(given);
      if (left_out) continue;
      try {
        call(with_field(good, index, bad));
        FAIL("accepted");
      } catch (const hardchine::BadInput& refusal) {
        CHECK(refusal.field() == entry.name);
        // An optional field that must be set for another one is asked for in other words.
        if (!std::isnan(bad) || entry.need == hardchine::Need::required)
          CHECK(refusal.accepted() == accepted_range(entry.range, entry.unit));
      }
    }
    ++index;
  });
  return index;
}
