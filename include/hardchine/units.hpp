/// @file
/// Quantities and named units. Everything is SI and coherent inside; a named unit is an SI constant, so that
/// `40.0 * knot` enters and `in(v, knot)` leaves. The one place where a conversion factor is spelled.
///
/// Policies, checked at the end of this file: Angle is a plane angle (trim, deadrise, shaft angle only);
/// RotationRate is a frequency, revolutions per second as in propeller formulas; Moment is newton metre and has the
/// dimension of energy; P = 2 pi n Q; temperature is kelvin and enters by celsius() or fahrenheit(); a pound of
/// displacement is a mass, weight is mass times standard gravity.
///
/// Source: nist_sp811, nist_hb44 (recalled; recomputed from the definitions, compared with GNU units).
#pragma once

#include <boost/units/quantity.hpp>
#include <boost/units/systems/si.hpp>
#include <concepts>
#include <numbers>
#include <type_traits>

#if defined(__FAST_MATH__) || (defined(__FINITE_MATH_ONLY__) && __FINITE_MATH_ONLY__)
#error "hardchine needs IEEE arithmetic: -ffast-math and -ffinite-math-only delete its checks for NaN and infinity"
#endif

namespace hardchine {

/// A quantity of SI unit `U` held in scalar `T`.
template <class U, class T = double>
using Quantity = boost::units::quantity<U, T>;

/// SI units of the compound dimensions that Boost.Units does not name.
namespace si_units {
namespace si = boost::units::si;
/// The unit of a product.
template <class A, class B>
using Product = typename boost::units::multiply_typeof_helper<A, B>::type;
/// The unit of a ratio.
template <class A, class B>
using Ratio = typename boost::units::divide_typeof_helper<A, B>::type;
using VolumeFlow = Ratio<si::volume, si::time>;           ///< m3/s
using MassFlow = Ratio<si::mass, si::time>;               ///< kg/s
using SpecificConsumption = Ratio<si::mass, si::energy>;  ///< kg/J
using DistancePerVolume = Ratio<si::length, si::volume>;  ///< m/m3
using MassMoment = Product<si::mass, si::length>;         ///< kg m
}  // namespace si_units

/// @name Quantities over any scalar, SI inside
/// @{

/// The quantity of that name, held in its SI unit.
template <class T = double>
using Length = Quantity<boost::units::si::length, T>;
template <class T = double>
using Area = Quantity<boost::units::si::area, T>;
template <class T = double>
using Volume = Quantity<boost::units::si::volume, T>;
template <class T = double>
using Duration = Quantity<boost::units::si::time, T>;
template <class T = double>
using Speed = Quantity<boost::units::si::velocity, T>;
template <class T = double>
using Acceleration = Quantity<boost::units::si::acceleration, T>;
template <class T = double>
using Mass = Quantity<boost::units::si::mass, T>;
template <class T = double>
using Force = Quantity<boost::units::si::force, T>;
/// Force times arm, newton metre; the dimension of energy (never si::torque, which is newton metre per radian).
template <class T = double>
using Moment = Quantity<boost::units::si::energy, T>;
template <class T = double>
using Power = Quantity<boost::units::si::power, T>;
template <class T = double>
using Pressure = Quantity<boost::units::si::pressure, T>;
template <class T = double>
using Angle = Quantity<boost::units::si::plane_angle, T>;
/// Revolutions per second: the n of propeller formulas (never si::angular_velocity, which is radian per second).
template <class T = double>
using RotationRate = Quantity<boost::units::si::frequency, T>;
/// Absolute temperature in kelvin; enter it with celsius() or fahrenheit().
template <class T = double>
using Temperature = Quantity<boost::units::si::temperature, T>;
template <class T = double>
using Density = Quantity<boost::units::si::mass_density, T>;
template <class T = double>
using KinematicViscosity = Quantity<boost::units::si::kinematic_viscosity, T>;
template <class T = double>
using DynamicViscosity = Quantity<boost::units::si::dynamic_viscosity, T>;
template <class T = double>
using VolumeFlow = Quantity<si_units::VolumeFlow, T>;
template <class T = double>
using MassFlow = Quantity<si_units::MassFlow, T>;
/// Fuel mass per energy delivered (g/kWh, lb/(hp h)).
template <class T = double>
using SpecificConsumption = Quantity<si_units::SpecificConsumption, T>;
/// Fuel economy, distance per volume (nautical miles per gallon).
template <class T = double>
using DistancePerVolume = Quantity<si_units::DistancePerVolume, T>;
/// Fuel economy, volume per distance (litres per nautical mile); the dimension of an area.
template <class T = double>
using VolumePerDistance = Area<T>;
template <class T = double>
using MassMoment = Quantity<si_units::MassMoment, T>;

/// @}

/// True for any quantity over any scalar.
template <class Q>
inline constexpr bool is_quantity = false;
/// So it is.
template <class U, class T>
inline constexpr bool is_quantity<Quantity<U, T>> = true;

/// One hundredth, for ratios quoted in per cent.
inline constexpr double percent = 0.01;

/// @name Named units: length
/// @{

/// One of the unit of that name.
inline constexpr Length<> metre = Length<>::from_value(1.0);
inline constexpr Length<> millimetre = Length<>::from_value(0.001);
inline constexpr Length<> centimetre = Length<>::from_value(0.01);
inline constexpr Length<> kilometre = Length<>::from_value(1000.0);
inline constexpr Length<> foot = Length<>::from_value(0.3048);
inline constexpr Length<> inch = Length<>::from_value(0.0254);
inline constexpr Length<> statute_mile = Length<>::from_value(1609.344);
inline constexpr Length<> nautical_mile = Length<>::from_value(1852.0);
/// @}

/// @name Named units: area, volume
/// @{

/// One of the unit of that name.
inline constexpr Area<> square_metre = Area<>::from_value(1.0);
inline constexpr Area<> square_foot = Area<>::from_value(0.09290304);
inline constexpr Volume<> cubic_metre = Volume<>::from_value(1.0);
inline constexpr Volume<> litre = Volume<>::from_value(0.001);
inline constexpr Volume<> us_gallon = Volume<>::from_value(0.003785411784);
inline constexpr Volume<> imperial_gallon = Volume<>::from_value(0.00454609);
/// @}

/// @name Named units: time, rotation
/// @{

/// One of the unit of that name.
inline constexpr Duration<> second = Duration<>::from_value(1.0);
inline constexpr Duration<> minute = Duration<>::from_value(60.0);
inline constexpr Duration<> hour = Duration<>::from_value(3600.0);
inline constexpr RotationRate<> revolution_per_second = RotationRate<>::from_value(1.0);
inline constexpr RotationRate<> rpm = RotationRate<>::from_value(1.0 / 60.0);
/// @}

/// @name Named units: speed, acceleration
/// @{

/// One of the unit of that name.
inline constexpr Speed<> metre_per_second = Speed<>::from_value(1.0);
inline constexpr Speed<> knot = Speed<>::from_value(1852.0 / 3600.0);
inline constexpr Speed<> mph = Speed<>::from_value(0.44704);
inline constexpr Speed<> kilometre_per_hour = Speed<>::from_value(1.0 / 3.6);
inline constexpr Speed<> foot_per_second = Speed<>::from_value(0.3048);
inline constexpr Acceleration<> metre_per_second_squared = Acceleration<>::from_value(1.0);
inline constexpr Acceleration<> foot_per_second_squared = Acceleration<>::from_value(0.3048);
/// Standard gravity g_0, exact by definition.
inline constexpr Acceleration<> standard_gravity = Acceleration<>::from_value(9.80665);
/// @}

/// @name Named units: mass, force
/// @{

/// One of the unit of that name.
inline constexpr Mass<> kilogram = Mass<>::from_value(1.0);
inline constexpr Mass<> gram = Mass<>::from_value(0.001);
inline constexpr Mass<> tonne = Mass<>::from_value(1000.0);
inline constexpr Mass<> pound_mass = Mass<>::from_value(0.45359237);
inline constexpr Mass<> short_ton = Mass<>::from_value(2000.0 * 0.45359237);
inline constexpr Mass<> long_ton = Mass<>::from_value(1016.0469088);
inline constexpr Mass<> slug = Mass<>::from_value(0.45359237 * 9.80665 / 0.3048);
inline constexpr Force<> newton = Force<>::from_value(1.0);
inline constexpr Force<> kilonewton = Force<>::from_value(1000.0);
inline constexpr Force<> pound_force = Force<>::from_value(0.45359237 * 9.80665);
inline constexpr Moment<> newton_metre = Moment<>::from_value(1.0);
inline constexpr Moment<> kilonewton_metre = Moment<>::from_value(1000.0);
inline constexpr Moment<> foot_pound = Moment<>::from_value(0.3048 * 0.45359237 * 9.80665);
/// One million British thermal units (international table): 1 Btu warms a pound of water by 1 F, 4186.8 J/(kg K).
inline constexpr Moment<> million_btu = Moment<>::from_value(1e6 * 0.45359237 * 4186.8 / 1.8);
/// @}

/// @name Named units: power, pressure
/// @{

/// One of the unit of that name.
inline constexpr Power<> watt = Power<>::from_value(1.0);
inline constexpr Power<> kilowatt = Power<>::from_value(1000.0);
/// Mechanical horsepower, 550 ft lbf/s.
inline constexpr Power<> horsepower = Power<>::from_value(550.0 * 0.3048 * 0.45359237 * 9.80665);
/// Metric horsepower (PS, ch, cv), 75 kgf m/s: 1.4 % less than the mechanical one.
inline constexpr Power<> metric_horsepower = Power<>::from_value(75.0 * 9.80665);
inline constexpr Pressure<> pascal = Pressure<>::from_value(1.0);
inline constexpr Pressure<> kilopascal = Pressure<>::from_value(1000.0);
inline constexpr Pressure<> hectopascal = Pressure<>::from_value(100.0);
inline constexpr Pressure<> bar = Pressure<>::from_value(100000.0);
inline constexpr Pressure<> standard_atmosphere = Pressure<>::from_value(101325.0);
inline constexpr Pressure<> pound_per_square_inch = Pressure<>::from_value(0.45359237 * 9.80665 / (0.0254 * 0.0254));
/// Conventional inch of mercury at 0 C.
inline constexpr Pressure<> inch_of_mercury = Pressure<>::from_value(3386.389);
/// @}

/// @name Named units: angle
/// @{

/// One of the unit of that name.
inline constexpr Angle<> radian = Angle<>::from_value(1.0);
inline constexpr Angle<> degree = Angle<>::from_value(std::numbers::pi / 180.0);
/// @}

/// @name Named units: temperature, density, viscosity
/// @{

/// One of the unit of that name.
inline constexpr Temperature<> kelvin = Temperature<>::from_value(1.0);
inline constexpr Density<> kilogram_per_cubic_metre = Density<>::from_value(1.0);
inline constexpr Density<> kilogram_per_litre = Density<>::from_value(1000.0);
inline constexpr Density<> pound_per_cubic_foot = Density<>::from_value(0.45359237 / (0.3048 * 0.3048 * 0.3048));
inline constexpr Density<> pound_per_us_gallon = Density<>::from_value(0.45359237 / 0.003785411784);
inline constexpr Density<> slug_per_cubic_foot =
    Density<>::from_value(0.45359237 * 9.80665 / (0.3048 * 0.3048 * 0.3048 * 0.3048));
inline constexpr KinematicViscosity<> square_metre_per_second = KinematicViscosity<>::from_value(1.0);
inline constexpr KinematicViscosity<> square_foot_per_second = KinematicViscosity<>::from_value(0.09290304);
inline constexpr DynamicViscosity<> pascal_second = DynamicViscosity<>::from_value(1.0);
/// @}

/// @name Named units: fuel flow and economy
/// @{

/// One of the unit of that name.
inline constexpr VolumeFlow<> litre_per_hour = VolumeFlow<>::from_value(0.001 / 3600.0);
inline constexpr VolumeFlow<> us_gallon_per_hour = VolumeFlow<>::from_value(0.003785411784 / 3600.0);
inline constexpr VolumeFlow<> imperial_gallon_per_hour = VolumeFlow<>::from_value(0.00454609 / 3600.0);
inline constexpr MassFlow<> kilogram_per_second = MassFlow<>::from_value(1.0);
inline constexpr MassFlow<> kilogram_per_hour = MassFlow<>::from_value(1.0 / 3600.0);
inline constexpr SpecificConsumption<> gram_per_kilowatt_hour = SpecificConsumption<>::from_value(0.001 / 3.6e6);
inline constexpr SpecificConsumption<> pound_per_horsepower_hour =
    SpecificConsumption<>::from_value(0.45359237 / (550.0 * 0.3048 * 0.45359237 * 9.80665 * 3600.0));
inline constexpr DistancePerVolume<> nautical_mile_per_us_gallon =
    DistancePerVolume<>::from_value(1852.0 / 0.003785411784);
inline constexpr DistancePerVolume<> statute_mile_per_us_gallon =
    DistancePerVolume<>::from_value(1609.344 / 0.003785411784);
inline constexpr DistancePerVolume<> nautical_mile_per_litre = DistancePerVolume<>::from_value(1852.0 / 0.001);
inline constexpr DistancePerVolume<> kilometre_per_litre = DistancePerVolume<>::from_value(1000.0 / 0.001);
inline constexpr VolumePerDistance<> litre_per_nautical_mile = VolumePerDistance<>::from_value(0.001 / 1852.0);
inline constexpr VolumePerDistance<> litre_per_kilometre = VolumePerDistance<>::from_value(0.001 / 1000.0);
/// @}

/// The number of `unit`s in `q`: `in(v, knot)`. The way out of the unit system.
/// @param q any quantity
/// @param unit a named unit of the same dimension
/// @return q / unit as a plain scalar; `in(x * u, u)` is x to one unit in the last place
template <class U, class T>
constexpr T in(const Quantity<U, T>& q, const std::type_identity_t<Quantity<U, double>>& unit) {
  return q.value() / unit.value();
}

/// Zero of the Celsius scale.
inline constexpr Temperature<> celsius_zero = Temperature<>::from_value(273.15);

/// The temperature of `t` degrees Celsius.
/// @param t temperature in degrees Celsius, any
/// @return absolute temperature, kelvin
template <class T>
requires(!std::integral<T> && !is_quantity<T>) constexpr Temperature<T> celsius(const T& t) {
  return Temperature<T>::from_value(t + celsius_zero.value());
}
/// The same for a number, whole ones too.
/// @param t temperature in degrees Celsius, any
/// @return absolute temperature, kelvin
constexpr Temperature<> celsius(double t) { return celsius<double>(t); }

/// The temperature of `t` degrees Fahrenheit, K = (F + 459.67)/1.8.
/// @param t temperature in degrees Fahrenheit, any
/// @return absolute temperature, kelvin
template <class T>
requires(!std::integral<T> && !is_quantity<T>) constexpr Temperature<T> fahrenheit(const T& t) {
  return Temperature<T>::from_value((t + 459.67) / 1.8);
}
/// The same for a number, whole ones too.
/// @param t temperature in degrees Fahrenheit, any
/// @return absolute temperature, kelvin
constexpr Temperature<> fahrenheit(double t) { return fahrenheit<double>(t); }
static_assert(std::same_as<decltype(celsius(15)), Temperature<>>, "a whole number of degrees is no whole kelvin");

/// Degrees Celsius of an absolute temperature, t/C = T/K - 273.15.
/// @param temperature absolute temperature, any K
/// @return degrees Celsius as a plain scalar
template <class T>
constexpr T in_celsius(const Temperature<T>& temperature) {
  return temperature.value() - celsius_zero.value();
}

static_assert(std::same_as<decltype(newton * metre), Moment<>>, "force times arm is Moment");
static_assert(std::same_as<decltype(newton_metre * rpm), Power<>>, "P = 2 pi n Q comes out as a power");
static_assert(std::same_as<decltype(rpm * metre), Speed<>>, "n D is a speed, J = V/(n D) is plain");
static_assert(!std::convertible_to<Angle<>, double>, "an angle is no number");

}  // namespace hardchine
