/// @file
/// What is held back from the usable fuel, by name.
///
/// A Reserve has no default: a range can only be asked for with the reserve said, "no reserve" included. Reserves are
/// rules of the trade; how much to carry is the skipper's judgement, and local codes may ask for more.
#pragma once

#include <string>

#include "hardchine/fields.hpp"

namespace hardchine {

/// The rule by which fuel is held back.
enum class ReserveKind : std::uint8_t {
  none,         ///< everything usable is burnt
  of_capacity,  ///< a fraction of the tank capacity is held back
  thirds,       ///< a third out, a third back, a third in hand
  per_leg,      ///< each leg's burn times 1 + fraction must be aboard
  volume        ///< a fixed volume is held back
};

template <class T>
class Reserve;
template <class T = double>
Reserve<T> no_reserve();
template <class T>
requires(!is_quantity<T>) Reserve<T> reserve_of_capacity(const T& fraction);
template <class T = double>
Reserve<T> reserve_thirds();
template <class T>
requires(!is_quantity<T>) Reserve<T> reserve_per_leg(const T& fraction);
template <class T>
Reserve<T> reserve_volume(const Volume<T>& volume);

/// A named reserve; made by no_reserve(), reserve_of_capacity(), reserve_thirds(), reserve_per_leg() or
/// reserve_volume() and by nothing else.
template <class T = double>
class Reserve {
 public:
  ReserveKind kind() const { return kind_; }           ///< the rule
  const T& fraction() const { return fraction_; }      ///< of capacity or of each leg's burn; 0 for the other rules
  const Volume<T>& volume() const { return volume_; }  ///< held back by a fixed volume; 0 for the other rules

  /// The same reserve in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Reserve<U>() const {
    return Reserve<U>(kind_, U(fraction_), widen<U>(volume_));
  }

 private:
  template <class U>
  friend class Reserve;
  friend Reserve no_reserve<T>();
  friend Reserve reserve_of_capacity<T>(const T& fraction);
  friend Reserve reserve_thirds<T>();
  friend Reserve reserve_per_leg<T>(const T& fraction);
  friend Reserve reserve_volume<T>(const Volume<T>& volume);

  constexpr Reserve(ReserveKind kind, const T& fraction, const Volume<T>& volume)
      : kind_(kind), fraction_(fraction), volume_(volume) {}

  ReserveKind kind_;
  T fraction_;
  Volume<T> volume_;
};

/// Nothing held back: the usable fuel is burnt to the last drop. For comparisons, never for a plan.
/// @return the reserve
template <class T>
Reserve<T> no_reserve() {
  return Reserve<T>(ReserveKind::none, T(0.0), Volume<T>::from_value(T(0.0)));
}

/// A fraction of the tank capacity held back; 10 % is usual in published ranges.
/// @param fraction of capacity, 0 to 100 % (0.1 is 10 %)
/// @return the reserve
/// @throws BadInput if the fraction is unset or out of range
template <class T>
requires(!is_quantity<T>) Reserve<T> reserve_of_capacity(const T& fraction) {
  check_value("reserve_of_capacity", "fraction of capacity", fraction, shown_percent, between(0.0, 100.0));
  return Reserve<T>(ReserveKind::of_capacity, fraction, Volume<T>::from_value(T(0.0)));
}

/// A third of the usable fuel out, a third back, a third in hand.
/// @return the reserve
template <class T>
Reserve<T> reserve_thirds() {
  return Reserve<T>(ReserveKind::thirds, T(0.0), Volume<T>::from_value(T(0.0)));
}

/// For each leg its burn times 1 + fraction must be aboard; 20 % is usual.
/// @param fraction of the leg's burn, 0 to 500 % (0.2 is 20 %)
/// @return the reserve
/// @throws BadInput if the fraction is unset or out of range
template <class T>
requires(!is_quantity<T>) Reserve<T> reserve_per_leg(const T& fraction) {
  check_value("reserve_per_leg", "fraction of each leg's burn", fraction, shown_percent, between(0.0, 500.0));
  return Reserve<T>(ReserveKind::per_leg, fraction, Volume<T>::from_value(T(0.0)));
}

/// A fixed volume held back.
/// @param volume 0 to 1e6 L
/// @return the reserve
/// @throws BadInput if the volume is unset or out of range
template <class T>
Reserve<T> reserve_volume(const Volume<T>& volume) {
  check_value("reserve_volume", "volume held back", volume, shown(litre, "L"), between(0.0, 1e6));
  return Reserve<T>(ReserveKind::volume, T(0.0), volume);
}

/// The reserve in the words of a report, for example "10 % of capacity held back".
/// @param reserve any reserve over double
/// @param unit any unit of volume, in which a fixed volume is written, L unless given
/// @param symbol what is printed after that number
/// @return the words; numbers with at most six significant digits
inline std::string words(const Reserve<double>& reserve, const Volume<>& unit = litre, std::string_view symbol = "L") {
  const std::string in_percent = plain_number(reserve.fraction() / percent) + " %";
  switch (reserve.kind()) {
    case ReserveKind::none:
      return "nothing held back";
    case ReserveKind::of_capacity:
      return in_percent + " of capacity held back";
    case ReserveKind::thirds:
      return "thirds: one third of usable fuel out, one third back, one third in hand";
    case ReserveKind::per_leg:
      return in_percent + " of each leg's burn held back";
    case ReserveKind::volume:
      return plain_number(in(reserve.volume(), unit)) + ' ' + std::string(symbol) + " held back";
  }
  return "unknown reserve";
}

}  // namespace hardchine
