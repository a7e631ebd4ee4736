/// @file
/// Water as the methods need it, and its density, viscosity and vapour pressure from temperature and salinity.
///
/// The default is TEOS-10 at sea pressure 0 for the density, IAPWS with the sea-water factor of 2010 for the viscosity
/// and the IAPWS vapour-pressure equation with Raoult's law. Standard water for published figures is 15 C, fresh or of
/// absolute salinity 35.16504 g/kg (practical salinity 35). By name there are EOS-80 and the rows of the ITTC table.
/// The ITTC sea rows are about one atmosphere too deep: their density is 0.043 to 0.048 kg/m3 (44 ppm) above TEOS-10 at
/// sea pressure 0 and equals TEOS-10 at a sea pressure of 10.1325 dbar, as if an absolute pressure of 0.101325 MPa had
/// been entered as a sea pressure. Nothing for a boat; much for a check to 1e-4.
#pragma once

#include <array>
#include <cmath>
#include <span>

#include "hardchine/fields.hpp"

namespace hardchine {

/// Properties of the water.
template <class T = double>
struct Water {
  Density<T> density = unset;                         ///< rho, 900 to 1200 kg/m3
  KinematicViscosity<T> kinematic_viscosity = unset;  ///< nu, 1e-7 to 1e-5 m2/s
  Pressure<T> vapour_pressure = unset;                ///< p_v, 0 to 20 kPa; optional
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});    ///< bits into the limits of `method`
  const Method* method = nullptr;                     ///< who answered; null if the values are the user's own

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("water density", &Water::density, shown(kilogram_per_cubic_metre, "kg/m3"), between(900.0, 1200.0)),
        field("kinematic viscosity", &Water::kinematic_viscosity, shown(square_metre_per_second, "m2/s"),
              between(1e-7, 1e-5)),
        field("vapour pressure", &Water::vapour_pressure, shown(kilopascal, "kPa"), between(0.0, 20.0),
              Need::optional)};
  }
  /// The same water in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Water<U>() const {
    Water<U> water = widen_fields<Water<U>>(*this);
    water.flags = per_lane<U>(flags);
    water.method = method;
    return water;
  }
};

/// Limits of the water methods; the place in `water_limits` is the bit in the flags.
enum class WaterLimit : std::uint8_t {
  temperature,                         ///< refused at the door
  salinity,                            ///< refused at the door
  vapour_pressure_below_triple_point,  ///< extrapolated and flagged
  sea_viscosity_below_zero             ///< extrapolated and flagged
};
/// The limits of the water methods, in the order of WaterLimit.
inline constexpr auto water_limits = std::to_array<Limit>({
    {"water temperature outside -2 to 40 C", "teos10_2010", -2.0, 40.0},
    {"absolute salinity outside 0 to 42 g/kg", "teos10_2010", 0.0, 42.0},
    {"vapour pressure extrapolated below the triple point of water, 0.01 C", "wagner_pruss_2002", 0.01, no_limit},
    {"viscosity of sea water extrapolated below 0 C", "sharqawy_2010", 0.0, 180.0},
});

/// Density of fresh and sea water at sea pressure 0, TEOS-10.
inline constexpr Method teos10_density{
    .name = "density of water and sea water, TEOS-10 at sea pressure 0",
    .key = "teos10_2010",
    .equations = "pressure derivative of the Gibbs functions IAPWS-09 and IAPWS-08 at p = 0",
    .evidence = Evidence::transcribed,
    .limits = std::span(water_limits).first(2),
    .instead_beyond = "a measured density"};
/// Density of sea water at one atmosphere, EOS-80.
inline constexpr Method eos80_density{.name = "density of sea water, EOS-80 at one atmosphere",
                                      .key = "unesco_44",
                                      .equations = "one-atmosphere equation of state",
                                      .evidence = Evidence::transcribed,
                                      .limits = std::span(water_limits).first(2),
                                      .instead_beyond = "a measured density"};
/// Viscosity of fresh water at 0.1 MPa.
inline constexpr Method iapws_viscosity{.name = "viscosity of fresh water, IAPWS at 0.1 MPa",
                                        .key = "iapws_sr6_08",
                                        .equations = "eq 7, table 5",
                                        .evidence = Evidence::transcribed,
                                        .limits = std::span(water_limits).first(1),
                                        .instead_beyond = "a measured viscosity"};
/// Viscosity of sea water over that of fresh water.
inline constexpr Method sea_viscosity_factor{.name = "viscosity of sea water over that of fresh water",
                                             .key = "sharqawy_2010",
                                             .equations = "eq 22",
                                             .evidence = Evidence::transcribed,
                                             .limits = std::span(water_limits).subspan(3, 1),
                                             .instead_beyond = "a measured viscosity"};
/// Vapour pressure of fresh water.
inline constexpr Method iapws_vapour_pressure{.name = "vapour pressure of fresh water, IAPWS",
                                              .key = "wagner_pruss_2002",
                                              .equations = "vapour-pressure equation",
                                              .evidence = Evidence::transcribed,
                                              .limits = std::span(water_limits).subspan(2, 1),
                                              .instead_beyond = "a vapour pressure over ice"};
/// Vapour pressure of sea water under that of fresh water.
inline constexpr Method raoult_vapour_pressure{.name = "vapour pressure of sea water by Raoult's law",
                                               .key = "sharqawy_2010",
                                               .equations = "Raoult's law for sea salt",
                                               .evidence = Evidence::transcribed,
                                               .limits = std::span(water_limits).subspan(2, 1),
                                               .instead_beyond = "a measured vapour pressure"};
/// What fresh_water() and sea_water() answer with: the limits of all parts, so that the flags of a Water are bits here.
inline constexpr Method default_water{
    .name = "water: density TEOS-10, viscosity IAPWS and sea-water factor, vapour pressure IAPWS and Raoult",
    .key = "teos10_2010",
    .equations = "at sea pressure 0, with iapws_sr6_08 eq 7, sharqawy_2010 eq 22, wagner_pruss_2002",
    .evidence = Evidence::transcribed,
    .limits = water_limits,
    .instead_beyond = "measured properties"};
/// The rows that ittc_fresh_water() and ittc_sea_water() look up.
inline constexpr auto ittc_water_limits = std::to_array<Limit>({
    {"water temperature is not that of a row", "ittc_7_5_02_01_03, the rows 1, 5, 10, 15, 20, 25, 30 C", 1.0, 30.0},
});
/// Fresh and sea water of the ITTC table.
inline constexpr Method ittc_water{.name = "fresh and sea water properties, ITTC",
                                   .key = "ittc_7_5_02_01_03",
                                   .equations = "tables of fresh and sea water, 2011",
                                   .evidence = Evidence::transcribed,
                                   .limits = ittc_water_limits,
                                   .instead_beyond = "fresh_water() and sea_water()"};

/// One gram of salt per kilogram of sea water.
inline constexpr double gram_per_kilogram = in(gram, kilogram);

/// Absolute salinity S_A; enter it with absolute_salinity() or practical_salinity().
template <class T = double>
struct Salinity {
  T mass_fraction = unset;  ///< kilogram of salt per kilogram of sea water, 0 to 42 g/kg

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("absolute salinity", &Salinity::mass_fraction, ShownUnit{gram_per_kilogram, "g/kg"},
                            between(water_limits[1].low, water_limits[1].high))};
  }
  /// The same salinity in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Salinity<U>() const {
    return widen_fields<Salinity<U>>(*this);
  }
};

/// S_A/S_P of standard sea water: 35.16504 g/kg at a practical salinity of 35 (teos10_2010, transcribed).
inline constexpr double reference_salinity_ratio = 35.16504 / 35.0;

/// The absolute salinity of `S_A` grams of salt per kilogram of sea water.
/// @param S_A grams per kilogram; 0 to 42 is accepted by the functions that use it
/// @return the salinity
/// Source: teos10_2010, a definition (transcribed)
template <Scalar T>
constexpr Salinity<T> absolute_salinity(const T& S_A) {
  return {.mass_fraction = S_A * gram_per_kilogram};
}
/// The absolute salinity of `S_A` grams of salt per kilogram of sea water.
/// @param S_A grams per kilogram; 0 to 42 is accepted by the functions that use it
/// @return the salinity
/// Source: teos10_2010, a definition (transcribed)
constexpr Salinity<> absolute_salinity(double S_A) { return absolute_salinity<double>(S_A); }

/// The absolute salinity of a practical salinity, S_A = S_P 35.16504/35 g/kg. The salinity anomaly is ignored, up to
/// 0.09 g/kg in the Baltic and in estuaries (teos10_2010, transcribed).
/// @param S_P practical salinity, a plain number as a conductivity meter shows it; 0 to 41.8 is accepted
/// @return the salinity
/// Source: teos10_2010 (transcribed)
template <Scalar T>
constexpr Salinity<T> practical_salinity(const T& S_P) {
  return absolute_salinity<T>(S_P * reference_salinity_ratio);
}
/// The absolute salinity of a practical salinity, the anomaly ignored.
/// @param S_P practical salinity, a plain number; 0 to 41.8 is accepted by the functions that use it
/// @return the salinity
/// Source: teos10_2010 (transcribed)
constexpr Salinity<> practical_salinity(double S_P) { return practical_salinity<double>(S_P); }

/// Grams of salt per kilogram of sea water.
/// @param salinity any absolute salinity
/// @return S_A as a plain scalar
/// Source: teos10_2010, a definition (transcribed)
template <class T>
constexpr T in_absolute_salinity(const Salinity<T>& salinity) {
  return salinity.mass_fraction / gram_per_kilogram;
}
/// The practical salinity of an absolute one, the anomaly ignored.
/// @param salinity any absolute salinity
/// @return S_P as a plain scalar
/// Source: teos10_2010 (transcribed)
template <class T>
constexpr T in_practical_salinity(const Salinity<T>& salinity) {
  return in_absolute_salinity(salinity) / reference_salinity_ratio;
}

/// Salinity of standard sea water, S_A = 35.16504 g/kg, S_P = 35 (teos10_2010, transcribed).
inline constexpr Salinity<> standard_sea_salinity = absolute_salinity(35.16504);

namespace detail {

/// How far a temperature in C may be off because it came from degrees Fahrenheit or from text.
inline constexpr double conversion_rounding = 1e-9;

/// The door of the water functions.
template <class T>
void check_water_temperature(std::string_view function, const Temperature<T>& temperature) {
  check_value(function, "water temperature", in_celsius(temperature), ShownUnit{1.0, "C"},
              between(water_limits[0].low - conversion_rounding, water_limits[0].high + conversion_rounding));
}

/// a_0 + a_1 x + a_2 x^2 + ...
template <class T, std::size_t N>
constexpr T power_series(const T& x, const double (&a)[N]) {
  T sum(a[N - 1]);
  for (std::size_t i = N - 1; i-- > 0;) sum = a[i] + x * sum;
  return sum;
}

/// The square root of a salinity with a derivative that stays finite at fresh water, where it is always multiplied by
/// the salinity: S sqrt(S) has the derivative 0 there, but 0 times the infinite slope of sqrt would be not a number.
template <class T>
T salinity_root(const T& S) {
  using std::sqrt;
  return sqrt(larger(S, T(1e-300)));
}

}  // namespace detail

/// Density of fresh or sea water at sea pressure 0, TEOS-10: v = 1e-8 (g + h) m3/kg with x^2 = 0.0248826675584615 S_A
/// and y = t/40, the pressure derivatives of the Gibbs functions of water (IAPWS-09) and sea salt (IAPWS-08) at p = 0.
/// @param temperature in-situ temperature (ITS-90), -2 to 40 C
/// @param salinity absolute salinity, 0 (fresh) to 42 g/kg
/// @return rho; equal to the reference implementation of TEOS-10 to rounding
/// @throws BadInput if either is not set or out of range
/// Source: teos10_2010, transcribed.
template <Scalar T>
Density<T> sea_water_density(const Temperature<T>& temperature, const std::type_identity_t<Salinity<T>>& salinity) {
  detail::check_water_temperature("sea_water_density", temperature);
  check_fields("sea_water_density", salinity);
  using detail::power_series;
  const T S_A = in_absolute_salinity(salinity);
  const T y = in_celsius(temperature) / 40.0;
  const T x2 = 0.0248826675584615 * S_A;
  const T x = detail::salinity_root(x2);
  const T g = power_series(y, {100015.695367145, -270.983805184062, 1455.0364540468, -672.50778314507, 397.968445406972,
                               -194.618310617595, 63.5113936641785, -9.63108119393062});
  const T h0 =
      power_series(y, {-3310.49154044839, 729.116529735046, -860.764303783977, 694.244814133268, -297.728741987187});
  const T h1 =
      power_series(y, {199.459603073901, -175.292041186547, 383.058066002476, -460.319931801257, 234.565187611355});
  const T h2 = -54.7919133532887 + 36.0284195611086 * x - 22.6683558512829 * y;
  const T h = x2 * (h0 + x * (h1 + x * h2));
  const T v = 1e-8 * (g + h);
  return (1.0 / v) * kilogram_per_cubic_metre;
}

/// Density of sea water at one atmosphere, EOS-80: rho = w + b S + c S^1.5 + 4.8314e-4 S^2 with powers of
/// t_68 = 1.00024 t_90. By name only, for comparison with older figures; TEOS-10 is the default.
/// @param temperature in-situ temperature (ITS-90), -2 to 40 C
/// @param salinity 0 to 42 g/kg; enter it with practical_salinity(), which is what the formula takes
/// @return rho
/// @throws BadInput if either is not set or out of range
/// Source: unesco_44, transcribed.
template <Scalar T>
Density<T> sea_water_density_eos80(const Temperature<T>& temperature,
                                   const std::type_identity_t<Salinity<T>>& salinity) {
  detail::check_water_temperature("sea_water_density_eos80", temperature);
  check_fields("sea_water_density_eos80", salinity);
  using detail::power_series;
  const T S = in_practical_salinity(salinity);
  const T t = 1.00024 * in_celsius(temperature);
  const T w = power_series(t, {999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9});
  const T b = power_series(t, {0.824493, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9});
  const T c = power_series(t, {-5.72466e-3, 1.0227e-4, -1.6546e-6});
  const T rho = w + b * S + c * S * detail::salinity_root(S) + 4.8314e-4 * S * S;
  return rho * kilogram_per_cubic_metre;
}

/// Viscosity of fresh water at 0.1 MPa, mu = 1e-6 sum a_i (T/300 K)^b_i Pa s; published for -20 to 110 C.
/// @param temperature -2 to 40 C; below 0 C the liquid is supercooled
/// @return mu
/// @throws BadInput if it is not set or out of range
/// Source: iapws_sr6_08, eq 7 and table 5, transcribed.
template <Scalar T>
DynamicViscosity<T> fresh_water_viscosity(const Temperature<T>& temperature) {
  detail::check_water_temperature("fresh_water_viscosity", temperature);
  using std::pow;
  const T ratio = temperature / (300.0 * kelvin);
  const T sum =
      280.68 * pow(ratio, -1.9) + 511.45 * pow(ratio, -7.7) + 61.131 * pow(ratio, -19.6) + 0.45903 * pow(ratio, -40.0);
  return (1e-6 * sum) * pascal_second;
}

/// Viscosity of sea water, mu = mu_fresh (1 + A S + B S^2) with S in kg/kg; claimed to 1.5 %.
/// @param temperature -2 to 40 C; published from 0 C, extrapolated below
/// @param salinity absolute salinity, 0 to 42 g/kg
/// @return mu
/// @throws BadInput if either is not set or out of range
/// Source: sharqawy_2010, eq 22, transcribed, on iapws_sr6_08.
template <Scalar T>
DynamicViscosity<T> sea_water_viscosity(const Temperature<T>& temperature,
                                        const std::type_identity_t<Salinity<T>>& salinity) {
  detail::check_water_temperature("sea_water_viscosity", temperature);
  check_fields("sea_water_viscosity", salinity);
  const T S = salinity.mass_fraction;
  const T t = in_celsius(temperature);
  const T A = 1.541 + 1.998e-2 * t - 9.52e-5 * t * t;
  const T B = 7.974 - 7.561e-2 * t + 4.724e-4 * t * t;
  const T factor = 1.0 + A * S + B * S * S;
  return fresh_water_viscosity(temperature) * factor;
}

/// Vapour pressure of fresh water: ln(p/p_c) = (T_c/T) (a_1 q + a_2 q^1.5 + a_3 q^3 + a_4 q^3.5 + a_5 q^4 + a_6 q^7.5),
/// q = 1 - T/T_c; published from the triple point to the critical point.
/// @param temperature -2 to 40 C; extrapolated below 0.01 C
/// @return p_v
/// @throws BadInput if it is not set or out of range
/// Source: wagner_pruss_2002, transcribed.
template <Scalar T>
Pressure<T> fresh_water_vapour_pressure(const Temperature<T>& temperature) {
  detail::check_water_temperature("fresh_water_vapour_pressure", temperature);
  using std::exp, std::sqrt;
  constexpr Temperature<> T_c = 647.096 * kelvin;
  constexpr Pressure<> p_c = 22.064e6 * pascal;
  const T T_over_T_c = temperature / T_c;
  const T q = 1.0 - T_over_T_c;
  const T root = sqrt(q);
  const T q3 = integer_power<3>(q);
  const T sum = -7.85951783 * q + 1.84408259 * q * root - 11.7866497 * q3 + 22.6807411 * q3 * root -
                15.9618719 * q3 * q + 1.80122502 * integer_power<7>(q) * root;
  const T p_over_p_c = exp(sum / T_over_T_c);
  return p_over_p_c * p_c;
}

/// Vapour pressure of sea water by Raoult's law, p_v = p_v,fresh/(1 + 0.57357 S/(1000 - S)) with S in g/kg.
/// @param temperature -2 to 40 C; extrapolated below 0.01 C
/// @param salinity absolute salinity, 0 to 42 g/kg
/// @return p_v
/// @throws BadInput if either is not set or out of range
/// Source: sharqawy_2010, transcribed, on wagner_pruss_2002.
template <Scalar T>
Pressure<T> sea_water_vapour_pressure(const Temperature<T>& temperature,
                                      const std::type_identity_t<Salinity<T>>& salinity) {
  detail::check_water_temperature("sea_water_vapour_pressure", temperature);
  check_fields("sea_water_vapour_pressure", salinity);
  const T S = in_absolute_salinity(salinity);
  const T lowering = 1.0 / (1.0 + 0.57357 * S / (1000.0 - S));
  return fresh_water_vapour_pressure(temperature) * lowering;
}

/// Fresh water: density TEOS-10 at sea pressure 0, viscosity and vapour pressure IAPWS.
/// @param temperature -2 to 40 C; below 0.01 C the vapour pressure is flagged
/// @return density, kinematic viscosity nu = mu/rho, vapour pressure; flags are bits into the limits of default_water
/// @throws BadInput if the temperature is not set or out of range
/// Source: teos10_2010, iapws_sr6_08, wagner_pruss_2002, transcribed.
template <Scalar T>
Water<T> fresh_water(const Temperature<T>& temperature) {
  detail::check_water_temperature("fresh_water", temperature);
  Water<T> water;
  water.density = sea_water_density(temperature, absolute_salinity(0.0));
  water.kinematic_viscosity = fresh_water_viscosity(temperature) / water.density;
  water.vapour_pressure = fresh_water_vapour_pressure(temperature);
  water.method = &default_water;
  constexpr auto triple_point = WaterLimit::vapour_pressure_below_triple_point;
  raise_where(water.flags, in_celsius(temperature) < T(water_limits[2].low), flag(triple_point));
  return water;
}

/// Sea water: density TEOS-10 at sea pressure 0, viscosity and vapour pressure IAPWS with their sea-water factors.
/// @param temperature -2 to 40 C; below 0.01 C the vapour pressure and below 0 C the viscosity is flagged
/// @param salinity absolute salinity, 0 to 42 g/kg; standard sea water (S_P 35) if left out
/// @return density, kinematic viscosity nu = mu/rho, vapour pressure; flags are bits into the limits of default_water
/// @throws BadInput if either is not set or out of range
/// Source: teos10_2010, iapws_sr6_08, sharqawy_2010, wagner_pruss_2002, transcribed.
template <Scalar T>
Water<T> sea_water(const Temperature<T>& temperature,
                   const std::type_identity_t<Salinity<T>>& salinity = standard_sea_salinity) {
  detail::check_water_temperature("sea_water", temperature);
  check_fields("sea_water", salinity);
  Water<T> water = fresh_water(temperature);
  water.density = sea_water_density(temperature, salinity);
  water.kinematic_viscosity = sea_water_viscosity(temperature, salinity) / water.density;
  water.vapour_pressure = sea_water_vapour_pressure(temperature, salinity);
  constexpr auto below_zero = WaterLimit::sea_viscosity_below_zero;
  raise_where(water.flags, in_celsius(temperature) < T(water_limits[3].low), flag(below_zero));
  return water;
}

namespace detail {

/// A row of the ITTC tables: temperature in C, density in kg/m3, kinematic viscosity in 1e-6 m2/s, vapour pressure in Pa.
struct IttcRow {
  double t, rho, nu, p_v;
};
inline constexpr auto ittc_fresh_rows = std::to_array<IttcRow>({{1.0, 999.9018, 1.7312, 657.09},
                                                                {5.0, 999.9666, 1.5182, 872.58},
                                                                {10.0, 999.7025, 1.3063, 1228.2},
                                                                {15.0, 999.1026, 1.1386, 1705.8},
                                                                {20.0, 998.2072, 1.0034, 2339.3},
                                                                {25.0, 997.0476, 0.89266, 3169.9},
                                                                {30.0, 995.6495, 0.80071, 4247.0}});
inline constexpr auto ittc_sea_rows = std::to_array<IttcRow>({{1.0, 1028.0941, 1.7926, 643.63},
                                                              {5.0, 1027.7225, 1.5762, 854.71},
                                                              {10.0, 1027.0000, 1.3604, 1203.0},
                                                              {15.0, 1026.0210, 1.1892, 1670.9},
                                                              {20.0, 1024.8103, 1.0508, 2291.4},
                                                              {25.0, 1023.3873, 0.93713, 3105.0},
                                                              {30.0, 1021.7694, 0.84253, 4160.0}});

inline Water<> ittc_row(std::string_view function, std::span<const IttcRow> rows, const Temperature<>& temperature) {
  constexpr std::string_view accepted = "1, 5, 10, 15, 20, 25 or 30 C, the rows of the table";
  require_set(function, "water temperature", temperature, accepted);
  const double t = in_celsius(temperature);
  for (const IttcRow& row : rows)
    if (std::abs(t - row.t) < conversion_rounding)
      return {.density = row.rho * kilogram_per_cubic_metre,
              .kinematic_viscosity = row.nu * 1e-6 * square_metre_per_second,
              .vapour_pressure = row.p_v * pascal,
              .method = &ittc_water};
  throw BadInput(function, "water temperature", plain_number(t) + " C", accepted);
}

}  // namespace detail

/// Fresh water as the ITTC table has it, for work that must quote it. Rows only, no interpolation: between rows 5 K
/// apart a straight line would be up to 0.5 % off in viscosity. Printed values carry no derivative.
/// @param temperature one of 1, 5, 10, 15, 20, 25, 30 C
/// @return density, kinematic viscosity and vapour pressure of that row
/// @throws BadInput for any other temperature
/// Source: ittc_7_5_02_01_03 (2011), transcribed.
inline Water<> ittc_fresh_water(const Temperature<>& temperature) {
  return detail::ittc_row("ittc_fresh_water", detail::ittc_fresh_rows, temperature);
}

/// Sea water of 35.16504 g/kg as the ITTC table has it, for work that must quote it; its density is about one atmosphere
/// too deep, 44 ppm (see the head of this file). Rows only, no interpolation.
/// @param temperature one of 1, 5, 10, 15, 20, 25, 30 C
/// @return density, kinematic viscosity and vapour pressure of that row
/// @throws BadInput for any other temperature
/// Source: ittc_7_5_02_01_03 (2011), transcribed.
inline Water<> ittc_sea_water(const Temperature<>& temperature) {
  return detail::ittc_row("ittc_sea_water", detail::ittc_sea_rows, temperature);
}

}  // namespace hardchine
