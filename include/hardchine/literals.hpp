/// @file
/// Opt-in: numbers with their unit, `using namespace hardchine::literals;` and then `40_kn`, `24.5_in`, `15_degC`.
///
/// A suffix is the symbol that text.hpp reads, with an underscore for each blank and slash: "US gal/h" is `_US_gal_h`.
/// `40_kn` is `40.0 * knot` to the last bit. A number with decimals is read as long double and then rounded to double;
/// where that rounds twice (about one number in four thousand) it is one unit in the last place off `27.4 * knot`.
///
/// A minus sign is no part of a literal. `-3_deg` is minus three degrees, but `-1_degC` is minus (1 C as kelvin), below
/// absolute zero, which every door refuses: write `celsius(-1.0)`.
#pragma once

#include "hardchine/units.hpp"

namespace hardchine {

namespace detail {
/// The number of a literal times its unit, as `40.0 * knot` multiplies.
/// @param number as the compiler read it
/// @param unit a named unit
template <class Number, class U>
consteval Quantity<U> of_unit(Number number, const Quantity<U, double>& unit) {
  return static_cast<double>(number) * unit;
}
}  // namespace detail

/// Numbers with their unit.
namespace literals {

/// @name Length
/// @{

/// The number in the unit of the suffix.
consteval Length<> operator""_m(long double x) { return detail::of_unit(x, metre); }
consteval Length<> operator""_m(unsigned long long x) { return detail::of_unit(x, metre); }
consteval Length<> operator""_mm(long double x) { return detail::of_unit(x, millimetre); }
consteval Length<> operator""_mm(unsigned long long x) { return detail::of_unit(x, millimetre); }
consteval Length<> operator""_cm(long double x) { return detail::of_unit(x, centimetre); }
consteval Length<> operator""_cm(unsigned long long x) { return detail::of_unit(x, centimetre); }
consteval Length<> operator""_km(long double x) { return detail::of_unit(x, kilometre); }
consteval Length<> operator""_km(unsigned long long x) { return detail::of_unit(x, kilometre); }
consteval Length<> operator""_ft(long double x) { return detail::of_unit(x, foot); }
consteval Length<> operator""_ft(unsigned long long x) { return detail::of_unit(x, foot); }
consteval Length<> operator""_in(long double x) { return detail::of_unit(x, inch); }
consteval Length<> operator""_in(unsigned long long x) { return detail::of_unit(x, inch); }
consteval Length<> operator""_nmi(long double x) { return detail::of_unit(x, nautical_mile); }
consteval Length<> operator""_nmi(unsigned long long x) { return detail::of_unit(x, nautical_mile); }
consteval Length<> operator""_mi(long double x) { return detail::of_unit(x, statute_mile); }
consteval Length<> operator""_mi(unsigned long long x) { return detail::of_unit(x, statute_mile); }

/// @}

/// @name Area
/// @{

/// The number in the unit of the suffix.
consteval Area<> operator""_m2(long double x) { return detail::of_unit(x, square_metre); }
consteval Area<> operator""_m2(unsigned long long x) { return detail::of_unit(x, square_metre); }
consteval Area<> operator""_ft2(long double x) { return detail::of_unit(x, square_foot); }
consteval Area<> operator""_ft2(unsigned long long x) { return detail::of_unit(x, square_foot); }

/// @}

/// @name Volume
/// @{

/// The number in the unit of the suffix.
consteval Volume<> operator""_L(long double x) { return detail::of_unit(x, litre); }
consteval Volume<> operator""_L(unsigned long long x) { return detail::of_unit(x, litre); }
consteval Volume<> operator""_US_gal(long double x) { return detail::of_unit(x, us_gallon); }
consteval Volume<> operator""_US_gal(unsigned long long x) { return detail::of_unit(x, us_gallon); }
consteval Volume<> operator""_imp_gal(long double x) { return detail::of_unit(x, imperial_gallon); }
consteval Volume<> operator""_imp_gal(unsigned long long x) { return detail::of_unit(x, imperial_gallon); }
consteval Volume<> operator""_m3(long double x) { return detail::of_unit(x, cubic_metre); }
consteval Volume<> operator""_m3(unsigned long long x) { return detail::of_unit(x, cubic_metre); }

/// @}

/// @name Time
/// @{

/// The number in the unit of the suffix.
consteval Duration<> operator""_s(long double x) { return detail::of_unit(x, second); }
consteval Duration<> operator""_s(unsigned long long x) { return detail::of_unit(x, second); }
consteval Duration<> operator""_min(long double x) { return detail::of_unit(x, minute); }
consteval Duration<> operator""_min(unsigned long long x) { return detail::of_unit(x, minute); }
consteval Duration<> operator""_h(long double x) { return detail::of_unit(x, hour); }
consteval Duration<> operator""_h(unsigned long long x) { return detail::of_unit(x, hour); }

/// @}

/// @name Speed
/// @{

/// The number in the unit of the suffix.
consteval Speed<> operator""_kn(long double x) { return detail::of_unit(x, knot); }
consteval Speed<> operator""_kn(unsigned long long x) { return detail::of_unit(x, knot); }
consteval Speed<> operator""_mph(long double x) { return detail::of_unit(x, mph); }
consteval Speed<> operator""_mph(unsigned long long x) { return detail::of_unit(x, mph); }
consteval Speed<> operator""_km_h(long double x) { return detail::of_unit(x, kilometre_per_hour); }
consteval Speed<> operator""_km_h(unsigned long long x) { return detail::of_unit(x, kilometre_per_hour); }
consteval Speed<> operator""_m_s(long double x) { return detail::of_unit(x, metre_per_second); }
consteval Speed<> operator""_m_s(unsigned long long x) { return detail::of_unit(x, metre_per_second); }
consteval Speed<> operator""_ft_s(long double x) { return detail::of_unit(x, foot_per_second); }
consteval Speed<> operator""_ft_s(unsigned long long x) { return detail::of_unit(x, foot_per_second); }

/// @}

/// @name Mass
/// @{

/// The number in the unit of the suffix.
consteval Mass<> operator""_kg(long double x) { return detail::of_unit(x, kilogram); }
consteval Mass<> operator""_kg(unsigned long long x) { return detail::of_unit(x, kilogram); }
consteval Mass<> operator""_lb(long double x) { return detail::of_unit(x, pound_mass); }
consteval Mass<> operator""_lb(unsigned long long x) { return detail::of_unit(x, pound_mass); }
consteval Mass<> operator""_t(long double x) { return detail::of_unit(x, tonne); }
consteval Mass<> operator""_t(unsigned long long x) { return detail::of_unit(x, tonne); }
consteval Mass<> operator""_g(long double x) { return detail::of_unit(x, gram); }
consteval Mass<> operator""_g(unsigned long long x) { return detail::of_unit(x, gram); }
consteval Mass<> operator""_long_ton(long double x) { return detail::of_unit(x, long_ton); }
consteval Mass<> operator""_long_ton(unsigned long long x) { return detail::of_unit(x, long_ton); }
consteval Mass<> operator""_short_ton(long double x) { return detail::of_unit(x, short_ton); }
consteval Mass<> operator""_short_ton(unsigned long long x) { return detail::of_unit(x, short_ton); }

/// @}

/// @name Force, moment
/// @{

/// The number in the unit of the suffix.
consteval Force<> operator""_N(long double x) { return detail::of_unit(x, newton); }
consteval Force<> operator""_N(unsigned long long x) { return detail::of_unit(x, newton); }
consteval Force<> operator""_kN(long double x) { return detail::of_unit(x, kilonewton); }
consteval Force<> operator""_kN(unsigned long long x) { return detail::of_unit(x, kilonewton); }
consteval Force<> operator""_lbf(long double x) { return detail::of_unit(x, pound_force); }
consteval Force<> operator""_lbf(unsigned long long x) { return detail::of_unit(x, pound_force); }
consteval Moment<> operator""_N_m(long double x) { return detail::of_unit(x, newton_metre); }
consteval Moment<> operator""_N_m(unsigned long long x) { return detail::of_unit(x, newton_metre); }
consteval Moment<> operator""_kN_m(long double x) { return detail::of_unit(x, kilonewton_metre); }
consteval Moment<> operator""_kN_m(unsigned long long x) { return detail::of_unit(x, kilonewton_metre); }

/// @}

/// @name Power; hp is mechanical, PS metric
/// @{

/// The number in the unit of the suffix.
consteval Power<> operator""_kW(long double x) { return detail::of_unit(x, kilowatt); }
consteval Power<> operator""_kW(unsigned long long x) { return detail::of_unit(x, kilowatt); }
consteval Power<> operator""_hp(long double x) { return detail::of_unit(x, horsepower); }
consteval Power<> operator""_hp(unsigned long long x) { return detail::of_unit(x, horsepower); }
consteval Power<> operator""_PS(long double x) { return detail::of_unit(x, metric_horsepower); }
consteval Power<> operator""_PS(unsigned long long x) { return detail::of_unit(x, metric_horsepower); }
consteval Power<> operator""_W(long double x) { return detail::of_unit(x, watt); }
consteval Power<> operator""_W(unsigned long long x) { return detail::of_unit(x, watt); }

/// @}

/// @name Pressure
/// @{

/// The number in the unit of the suffix.
consteval Pressure<> operator""_hPa(long double x) { return detail::of_unit(x, hectopascal); }
consteval Pressure<> operator""_hPa(unsigned long long x) { return detail::of_unit(x, hectopascal); }
consteval Pressure<> operator""_kPa(long double x) { return detail::of_unit(x, kilopascal); }
consteval Pressure<> operator""_kPa(unsigned long long x) { return detail::of_unit(x, kilopascal); }
consteval Pressure<> operator""_Pa(long double x) { return detail::of_unit(x, pascal); }
consteval Pressure<> operator""_Pa(unsigned long long x) { return detail::of_unit(x, pascal); }
consteval Pressure<> operator""_bar(long double x) { return detail::of_unit(x, bar); }
consteval Pressure<> operator""_bar(unsigned long long x) { return detail::of_unit(x, bar); }
consteval Pressure<> operator""_inHg(long double x) { return detail::of_unit(x, inch_of_mercury); }
consteval Pressure<> operator""_inHg(unsigned long long x) { return detail::of_unit(x, inch_of_mercury); }
consteval Pressure<> operator""_psi(long double x) { return detail::of_unit(x, pound_per_square_inch); }
consteval Pressure<> operator""_psi(unsigned long long x) { return detail::of_unit(x, pound_per_square_inch); }

/// @}

/// @name Angle, rotation
/// @{

/// The number in the unit of the suffix.
consteval Angle<> operator""_deg(long double x) { return detail::of_unit(x, degree); }
consteval Angle<> operator""_deg(unsigned long long x) { return detail::of_unit(x, degree); }
consteval Angle<> operator""_rad(long double x) { return detail::of_unit(x, radian); }
consteval Angle<> operator""_rad(unsigned long long x) { return detail::of_unit(x, radian); }
consteval RotationRate<> operator""_rpm(long double x) { return detail::of_unit(x, rpm); }
consteval RotationRate<> operator""_rpm(unsigned long long x) { return detail::of_unit(x, rpm); }
consteval RotationRate<> operator""_rev_s(long double x) { return detail::of_unit(x, revolution_per_second); }
consteval RotationRate<> operator""_rev_s(unsigned long long x) { return detail::of_unit(x, revolution_per_second); }

/// @}

/// @name Density
/// @{

/// The number in the unit of the suffix.
consteval Density<> operator""_kg_m3(long double x) { return detail::of_unit(x, kilogram_per_cubic_metre); }
consteval Density<> operator""_kg_m3(unsigned long long x) { return detail::of_unit(x, kilogram_per_cubic_metre); }
consteval Density<> operator""_kg_L(long double x) { return detail::of_unit(x, kilogram_per_litre); }
consteval Density<> operator""_kg_L(unsigned long long x) { return detail::of_unit(x, kilogram_per_litre); }
consteval Density<> operator""_lb_ft3(long double x) { return detail::of_unit(x, pound_per_cubic_foot); }
consteval Density<> operator""_lb_ft3(unsigned long long x) { return detail::of_unit(x, pound_per_cubic_foot); }
consteval Density<> operator""_lb_US_gal(long double x) { return detail::of_unit(x, pound_per_us_gallon); }
consteval Density<> operator""_lb_US_gal(unsigned long long x) { return detail::of_unit(x, pound_per_us_gallon); }

/// @}

/// @name Kinematic viscosity
/// @{

/// The number in the unit of the suffix.
consteval KinematicViscosity<> operator""_m2_s(long double x) { return detail::of_unit(x, square_metre_per_second); }
consteval KinematicViscosity<> operator""_m2_s(unsigned long long x) {
  return detail::of_unit(x, square_metre_per_second);
}
consteval KinematicViscosity<> operator""_ft2_s(long double x) { return detail::of_unit(x, square_foot_per_second); }
consteval KinematicViscosity<> operator""_ft2_s(unsigned long long x) {
  return detail::of_unit(x, square_foot_per_second);
}

/// @}

/// @name Fuel flow, specific consumption
/// @{

/// The number in the unit of the suffix.
consteval VolumeFlow<> operator""_L_h(long double x) { return detail::of_unit(x, litre_per_hour); }
consteval VolumeFlow<> operator""_L_h(unsigned long long x) { return detail::of_unit(x, litre_per_hour); }
consteval VolumeFlow<> operator""_US_gal_h(long double x) { return detail::of_unit(x, us_gallon_per_hour); }
consteval VolumeFlow<> operator""_US_gal_h(unsigned long long x) { return detail::of_unit(x, us_gallon_per_hour); }
consteval VolumeFlow<> operator""_imp_gal_h(long double x) { return detail::of_unit(x, imperial_gallon_per_hour); }
consteval VolumeFlow<> operator""_imp_gal_h(unsigned long long x) {
  return detail::of_unit(x, imperial_gallon_per_hour);
}
consteval SpecificConsumption<> operator""_g_kWh(long double x) { return detail::of_unit(x, gram_per_kilowatt_hour); }
consteval SpecificConsumption<> operator""_g_kWh(unsigned long long x) {
  return detail::of_unit(x, gram_per_kilowatt_hour);
}
consteval SpecificConsumption<> operator""_lb_hp_h(long double x) {
  return detail::of_unit(x, pound_per_horsepower_hour);
}
consteval SpecificConsumption<> operator""_lb_hp_h(unsigned long long x) {
  return detail::of_unit(x, pound_per_horsepower_hour);
}

/// @}

/// @name Temperature, absolute; only from zero upwards
/// @{

/// The number in the unit of the suffix.
consteval Temperature<> operator""_degC(long double x) { return celsius(static_cast<double>(x)); }
consteval Temperature<> operator""_degC(unsigned long long x) { return celsius(static_cast<double>(x)); }
consteval Temperature<> operator""_degF(long double x) { return fahrenheit(static_cast<double>(x)); }
consteval Temperature<> operator""_degF(unsigned long long x) { return fahrenheit(static_cast<double>(x)); }
consteval Temperature<> operator""_K(long double x) { return detail::of_unit(x, kelvin); }
consteval Temperature<> operator""_K(unsigned long long x) { return detail::of_unit(x, kelvin); }

/// @}

}  // namespace literals
}  // namespace hardchine
