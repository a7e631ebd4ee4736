#include "hardchine/fluids/water.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <functional>
#include <string>
#include <vector>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

double kg_per_m3(const Density<>& rho) { return in(rho, kilogram_per_cubic_metre); }
double m2_per_s(const KinematicViscosity<>& nu) { return in(nu, square_metre_per_second); }
double pa_s(const DynamicViscosity<>& mu) { return in(mu, pascal_second); }
double pa(const Pressure<>& p) { return in(p, pascal); }

// Degrees Celsius (ITS-90) of the same temperature on IPTS-68, t_68 = 1.00024 t_90.
Temperature<> celsius_68(double t_68) { return celsius(t_68 / 1.00024); }

// The field that a call refuses; empty if it accepts.
std::string refused_field(const std::function<void()>& call) {
  try {
    call();
  } catch (const BadInput& error) {
    return error.field();
  }
  return "";
}

// Both sides of a derivative: exact by Dual, and a central difference.
struct Slopes {
  double exact, difference;
};
template <class Formula>
Slopes slopes(const Formula& formula, double x, double step) {
  const auto at = formula(Dual<1>::input(x, 0));
  return {at.value().derivative[0], (formula(x + step).value() - formula(x - step).value()) / (2.0 * step)};
}

}  // namespace

TEST_CASE("sea water density is TEOS-10: the GSW table") {
  // teos10_2010 by GSW-Python 3.6.16 (tests/references/sea_water.py). Both evaluate the same Gibbs functions, GSW as one
  // polynomial over all pressures: only rounding differs, a few units of 1.1e-13 in the last place of 1000.
  std::ifstream table(HARDCHINE_TEST_DATA "/references/sea_water.csv");
  REQUIRE(table.good());
  std::string line;
  int rows = 0;
  while (std::getline(table, line)) {
    if (line.empty() || line[0] == '#' || line[0] == 'S') continue;
    const std::size_t comma = line.find(','), last_comma = line.rfind(',');
    const double S_A = std::stod(line), t = std::stod(line.substr(comma + 1));
    const double rho = std::stod(line.substr(last_comma + 1));
    CAPTURE(line);
    CHECK(kg_per_m3(sea_water_density(celsius(t), absolute_salinity(S_A))) == absolute(rho, 1e-12));
    ++rows;
  }
  CHECK(rows == 56);
}

TEST_CASE("sea water density is TEOS-10: corners of the accepted range and slopes") {
  // teos10_2010 by GSW-Python 3.6.16: rho_t_exact, rho beta_const_t_exact and -rho alpha_wrt_t_exact at p = 0. The slopes
  // carry the rounding of second derivatives in GSW: 1e-12 relative.
  struct Corner {
    double S_A, t, rho;
  };
  for (const Corner& c : {Corner{0.0, -2.0, 999.6704210467666}, Corner{0.0, 40.0, 992.2163536224533},
                          Corner{42.0, -2.0, 1033.720014767266}, Corner{42.0, 40.0, 1023.0066194325556}}) {
    CAPTURE(c.S_A);
    CAPTURE(c.t);
    CHECK(kg_per_m3(sea_water_density(celsius(c.t), absolute_salinity(c.S_A))) == absolute(c.rho, 1e-12));
  }
  struct Slope {
    double S_A, t, by_salinity, by_temperature;
  };
  // The first three: fresh water, where the square root in the formula has an infinite slope.
  for (const Slope& s : {Slope{0.0, 0.0, 0.8234800878284793, 0.06772469035005815},
                         Slope{0.0, 15.0, 0.7767832508477457, -0.1507093819317725},
                         Slope{0.0, 40.0, 0.7460808224879604, -0.38247534275267336},
                         Slope{35.16504, 15.0, 0.7671085844132269, -0.21952774261782682},
                         Slope{42.0, -2.0, 0.8094388751638271, -0.0478252804151477}}) {
    CAPTURE(s.S_A);
    CAPTURE(s.t);
    const auto rho = sea_water_density(celsius(Dual<2>::input(s.t, 0)), absolute_salinity(Dual<2>::input(s.S_A, 1)));
    CHECK(is_finite(rho));
    CHECK(rho.value().derivative[0] == relative(s.by_temperature, 1e-12));
    CHECK(rho.value().derivative[1] == relative(s.by_salinity, 1e-12));
  }
}

TEST_CASE("sea water density is TEOS-10: values derived with independent code") {
  // teos10_2010, derived: printed to ten decimals; 2e-13 for the last place of a double of this size.
  struct Row {
    double S_A, t, rho;
  };
  for (const Row& r :
       {Row{0.0, 15.0, 999.1026062737}, Row{35.16504, 0.0, 1028.1071845749}, Row{35.16504, 15.0, 1025.9760294438},
        Row{35.16504, 25.0, 1023.3436313881}, Row{20.0, 10.0, 1015.1954040093}, Row{10.0, 5.0, 1007.8667211388}})
    CHECK(kg_per_m3(sea_water_density(celsius(r.t), absolute_salinity(r.S_A))) == absolute(r.rho, 0.5e-10 + 2e-13));
}

TEST_CASE("EOS-80 gives the check values of UNESCO 44") {
  // unesco_44 (recalled): printed to five decimals at temperatures of IPTS-68.
  CHECK(kg_per_m3(sea_water_density_eos80(celsius_68(5.0), practical_salinity(0.0))) == printed(999.96675, 5));
  CHECK(kg_per_m3(sea_water_density_eos80(celsius_68(5.0), practical_salinity(35.0))) == printed(1027.67547, 5));
  CHECK(kg_per_m3(sea_water_density_eos80(celsius_68(25.0), practical_salinity(0.0))) == printed(997.04796, 5));
  CHECK(kg_per_m3(sea_water_density_eos80(celsius_68(25.0), practical_salinity(35.0))) == printed(1023.34306, 5));
  // unesco_44, derived with independent code, six decimals.
  CHECK(kg_per_m3(sea_water_density_eos80(celsius_68(15.0), practical_salinity(35.0))) == printed(1025.972754, 6));
}

TEST_CASE("EOS-80 less TEOS-10 at practical salinity 35 lies between -0.0043 and +0.0008 kg/m3") {
  // unesco_44 and teos10_2010 (GSW), derived with independent code at 0, 5 ... 35 C: -0.004260 at 20 C, 0.000811 at 35 C.
  double lowest = 1.0, highest = -1.0;
  for (const double t : {0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0}) {
    const Density<> difference = sea_water_density_eos80(celsius(t), practical_salinity(35.0)) -
                                 sea_water_density(celsius(t), standard_sea_salinity);
    lowest = std::min(lowest, kg_per_m3(difference));
    highest = std::max(highest, kg_per_m3(difference));
  }
  CHECK(lowest == printed(-0.004260, 6));
  CHECK(highest == printed(0.000811, 6));
}

TEST_CASE("viscosity of fresh water gives the published check value") {
  // iapws_sr6_08, table 8 (transcribed): 889.996774 uPa s at 298.15 K.
  CHECK(1e6 * pa_s(fresh_water_viscosity(celsius(25.0))) == printed(889.996774, 6));
  // iapws_sr6_08, derived with independent code, nine digits.
  CHECK(pa_s(fresh_water_viscosity(celsius(25.0))) == printed(8.8999677e-4, 11));
  CHECK(pa_s(fresh_water_viscosity(celsius(15.0))) == printed(1.13754782e-3, 11));
  CHECK(pa_s(fresh_water_viscosity(celsius(20.0))) == printed(1.00156726e-3, 11));
}

TEST_CASE("vapour pressure of fresh water gives check values and the printed handbook table") {
  // wagner_pruss_2002, derived with independent code to eight digits; 100 C and above lie beyond the accepted range.
  CHECK(pa(fresh_water_vapour_pressure(273.16 * kelvin)) == printed(611.65707, 5));
  CHECK(pa(fresh_water_vapour_pressure(300.0 * kelvin)) == printed(3536.7176, 4));
  // crc_handbook_1992, printed, kPa to four decimals. Its own formula is another: they part by up to 0.042 % (35 C).
  struct Row {
    double t, p_v;
  };
  for (const Row& r : {Row{5.0, 0.8726}, Row{10.0, 1.2281}, Row{15.0, 1.7056}, Row{20.0, 2.3388}, Row{25.0, 3.1690},
                       Row{30.0, 4.2455}, Row{35.0, 5.6267}}) {
    CAPTURE(r.t);
    CHECK(in(fresh_water_vapour_pressure(celsius(r.t)), kilopascal) == relative(r.p_v, 5e-4));
  }
}

TEST_CASE("ITTC fresh rows lie on the formulas") {
  // ittc_7_5_02_01_03, transcribed, against teos10_2010, iapws_sr6_08 and wagner_pruss_2002. Density printed to four
  // decimals: 6e-5 found, 5e-5 of it the rounding of the table. Viscosity and vapour pressure printed to five digits:
  // 5e-5 relative is half their last digit, the rest is what was found.
  for (const double t : {1.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0}) {
    CAPTURE(t);
    const Water<> formula = fresh_water(celsius(t)), row = ittc_fresh_water(celsius(t));
    CHECK(kg_per_m3(row.density) == absolute(kg_per_m3(formula.density), 6e-5));
    CHECK(m2_per_s(row.kinematic_viscosity) == relative(m2_per_s(formula.kinematic_viscosity), 6e-5));
    CHECK(pa(row.vapour_pressure) == relative(pa(formula.vapour_pressure), 1e-4));
  }
}

TEST_CASE("ITTC sea rows are one atmosphere too deep") {
  // ittc_7_5_02_01_03, transcribed. Its density is TEOS-10 at a sea pressure of 10.1325 dbar, as if the absolute
  // pressure of one atmosphere had been entered as sea pressure: column `deep` is gsw.rho_t_exact(35.16504, t, 10.1325)
  // of GSW-Python 3.6.16, which every row meets to the rounding of its four decimals. So against sea pressure 0 every
  // row is too high by what one atmosphere compresses sea water: 0.0480 kg/m3 in cold to 0.0433 in warm water.
  struct Row {
    double t, deep;
  };
  double previous = 1.0;
  for (const Row& r : {Row{1.0, 1028.0940547668104}, Row{5.0, 1027.7225377116265}, Row{10.0, 1026.9999553916418},
                       Row{15.0, 1026.0209948106783}, Row{20.0, 1024.8102589877487}, Row{25.0, 1023.3873351169484},
                       Row{30.0, 1021.7693641443695}}) {
    CAPTURE(r.t);
    const Water<> formula = sea_water(celsius(r.t)), row = ittc_sea_water(celsius(r.t));
    CHECK(kg_per_m3(row.density) == absolute(r.deep, 5e-5));
    const double excess = kg_per_m3(row.density) - kg_per_m3(formula.density);
    CHECK(excess >= 0.0433 - 0.5e-4);
    CHECK(excess <= 0.0480 + 0.5e-4);
    CHECK(excess < previous);
    previous = excess;
    // The table divides by its own density. Five digits round to 4.2e-5; the rest is what was found (5 C: 3.8e-5).
    const double mu = pa_s(sea_water_viscosity(celsius(r.t), standard_sea_salinity));
    CHECK(m2_per_s(row.kinematic_viscosity) == relative(mu / kg_per_m3(row.density), 6e-5));
    // Against the density at sea pressure 0 its excess of 42 to 47 ppm comes on top.
    CHECK(m2_per_s(row.kinematic_viscosity) == relative(m2_per_s(formula.kinematic_viscosity), 6e-5 + 4.7e-5));
    CHECK(pa(row.vapour_pressure) == relative(pa(formula.vapour_pressure), 1e-4));
  }
}

TEST_CASE("ITTC rows are looked up, not interpolated") {
  // ittc_7_5_02_01_03, transcribed.
  CHECK(kg_per_m3(ittc_sea_water(celsius(15.0)).density) == rounding(1026.0210));
  CHECK(m2_per_s(ittc_sea_water(celsius(15.0)).kinematic_viscosity) == rounding(1.1892e-6));
  CHECK(pa(ittc_fresh_water(fahrenheit(59.0)).vapour_pressure) == rounding(1705.8));
  CHECK(cite(*ittc_sea_water(celsius(1.0)).method) ==
        "ittc_7_5_02_01_03 tables of fresh and sea water, 2011 (transcribed)");
  for (const double t : {12.0, 15.001, 0.0, 31.0, std::nan(""), std::numeric_limits<double>::infinity()}) {
    CAPTURE(t);
    CHECK(refused_field([&] { ittc_fresh_water(celsius(t)); }) == "water temperature");
    CHECK(refused_field([&] { ittc_sea_water(celsius(t)); }) == "water temperature");
  }
}

TEST_CASE("what salt does to viscosity and vapour pressure, by hand at the corner of the range") {
  // sharqawy_2010, by hand at 40 C and 42 g/kg: A = 1.541 + 0.7992 - 0.15232 = 2.18788, B = 7.974 - 3.0244 + 0.75584 =
  // 5.70544, 1 + 0.042 A + 0.042^2 B = 1 + 0.09189096 + 0.01006439616; 1 + 0.57357 x 42/958 = 1 + 24.08994/958.
  const Temperature<> t = celsius(40.0);
  const Salinity<> S = absolute_salinity(42.0);
  CHECK(pa_s(sea_water_viscosity(t, S)) / pa_s(fresh_water_viscosity(t)) == relative(1.10195535616, 1e-11));
  CHECK(pa(fresh_water_vapour_pressure(t)) / pa(sea_water_vapour_pressure(t, S)) ==
        relative(1.0 + 24.08994 / 958.0, 1e-14));
}

TEST_CASE("fresh and sea water put the parts together") {
  const Water<> fresh = fresh_water(celsius(15.0)), sea = sea_water(celsius(15.0)),
                brackish = sea_water(celsius(15.0), absolute_salinity(10.0)),
                none = sea_water(celsius(15.0), absolute_salinity(0.0));
  CHECK(kg_per_m3(sea.density) == printed(1025.9760294438, 9));  // teos10_2010, derived
  CHECK(sea.density == sea_water_density(celsius(15.0), practical_salinity(35.0)));
  CHECK(m2_per_s(sea.kinematic_viscosity) ==
        rounding(pa_s(sea_water_viscosity(celsius(15.0), standard_sea_salinity)) / kg_per_m3(sea.density)));
  CHECK(pa(sea.vapour_pressure) == pa(sea_water_vapour_pressure(celsius(15.0), standard_sea_salinity)));
  // Sea water without salt is fresh water; brackish water lies between.
  CHECK(kg_per_m3(none.density) == kg_per_m3(fresh.density));
  CHECK(m2_per_s(none.kinematic_viscosity) == m2_per_s(fresh.kinematic_viscosity));
  CHECK(pa(none.vapour_pressure) == pa(fresh.vapour_pressure));
  CHECK(fresh.density < brackish.density);
  CHECK(brackish.density < sea.density);
  CHECK(sea.vapour_pressure < brackish.vapour_pressure);
  CHECK(brackish.vapour_pressure < fresh.vapour_pressure);
  CHECK(sea.method == &default_water);
  CHECK(sea.flags == 0);
  CHECK_NOTHROW(check_fields("test", sea));
  // Common practice, no source: sea water is taken as 0.98 of the vapour pressure of fresh water; two digits.
  CHECK(pa(sea.vapour_pressure) / pa(fresh.vapour_pressure) == printed(0.98, 2));
}

TEST_CASE("salinity enters in either of its measures") {
  CHECK(in_absolute_salinity(practical_salinity(35.0)) == rounding(35.16504));  // teos10_2010
  CHECK(in_practical_salinity(standard_sea_salinity) == rounding(35.0));
  CHECK(in_absolute_salinity(absolute_salinity(8)) == rounding(8.0));
  CHECK(standard_sea_salinity.mass_fraction == rounding(0.03516504));
}

TEST_CASE("water beyond a published range is flagged, not refused") {
  const Water<> cold_sea = sea_water(celsius(-1.5)), cold_fresh = fresh_water(celsius(-1.5));
  CHECK(has_flag(cold_sea.flags, WaterLimit::vapour_pressure_below_triple_point));
  CHECK(has_flag(cold_sea.flags, WaterLimit::sea_viscosity_below_zero));
  CHECK(explain(cold_sea.flags, *cold_sea.method).size() == 2);
  CHECK(cold_fresh.flags == flag(WaterLimit::vapour_pressure_below_triple_point));
  CHECK(explain(cold_fresh.flags, *cold_fresh.method).front() ==
        "vapour pressure extrapolated below the triple point of water, 0.01 C");
  CHECK(sea_water(celsius(0.005)).flags == flag(WaterLimit::vapour_pressure_below_triple_point));
  CHECK(sea_water(celsius(0.02)).flags == 0);
}

TEST_CASE("water refuses bad input by the field's name") {
  const double infinite = std::numeric_limits<double>::infinity();
  const Temperature<> not_set = unset;
  const Salinity<> no_salinity;
  const Salinity<> fine = absolute_salinity(10.0);
  std::vector<Temperature<>> bad = {not_set,        celsius(std::nan("")), celsius(infinite), celsius(-infinite),
                                    celsius(-2.01), celsius(40.01),        15.0 * kelvin};
  for (const Temperature<>& t : bad) {
    CAPTURE(t.value());
    const std::vector<std::function<void()>> calls = {[&] { fresh_water(t); },
                                                      [&] { sea_water(t); },
                                                      [&] { sea_water_density(t, fine); },
                                                      [&] { sea_water_density_eos80(t, fine); },
                                                      [&] { fresh_water_viscosity(t); },
                                                      [&] { sea_water_viscosity(t, fine); },
                                                      [&] { fresh_water_vapour_pressure(t); },
                                                      [&] { sea_water_vapour_pressure(t, fine); }};
    for (const auto& call : calls) CHECK(refused_field(call) == "water temperature");
  }
  const std::vector<Salinity<>> bad_salinity = {no_salinity,
                                                absolute_salinity(std::nan("")),
                                                absolute_salinity(infinite),
                                                absolute_salinity(-0.01),
                                                absolute_salinity(42.01),
                                                Salinity<>{.mass_fraction = 35.0}};
  for (const Salinity<>& s : bad_salinity) {
    CAPTURE(s.mass_fraction);
    const std::vector<std::function<void()>> calls = {
        [&] { sea_water(celsius(15.0), s); }, [&] { sea_water_density(celsius(15.0), s); },
        [&] { sea_water_density_eos80(celsius(15.0), s); }, [&] { sea_water_viscosity(celsius(15.0), s); },
        [&] { sea_water_vapour_pressure(celsius(15.0), s); }};
    for (const auto& call : calls) CHECK(refused_field(call) == "absolute salinity");
  }
  // The ends of the range are in it.
  for (const double t : {-2.0, 40.0})
    for (const double s : {0.0, 42.0}) CHECK_NOTHROW(sea_water(celsius(t), absolute_salinity(s)));
  CHECK_NOTHROW(sea_water(fahrenheit(104.0)));
  CHECK_THROWS_WITH_AS(sea_water(celsius(45.0)), "sea_water: water temperature is 45 C; accepted: -2 C to 40 C",
                       BadInput);
  CHECK_THROWS_WITH_AS(sea_water(celsius(15.0), practical_salinity(50.0)),
                       "sea_water: absolute salinity is 50.2358 g/kg; accepted: 0 g/kg to 42 g/kg", BadInput);
  CHECK_THROWS_WITH_AS(fresh_water(not_set), "fresh_water: water temperature is not set; accepted: -2 C to 40 C",
                       BadInput);
}

TEST_CASE("water runs on the strict archetype and gives the double's bits") {
  for (const double t : {-1.0, 0.0, 15.0, 40.0})
    for (const double s : {0.0, 10.0, 35.16504}) {
      const auto strict_t = celsius(Strict(t));
      const auto strict_s = absolute_salinity(Strict(s));
      const auto sea = sea_water(strict_t, strict_s);
      const Water<> expected = sea_water(celsius(t), absolute_salinity(s));
      CHECK(sea.density.value().reveal() == expected.density.value());
      CHECK(sea.kinematic_viscosity.value().reveal() == expected.kinematic_viscosity.value());
      CHECK(sea.vapour_pressure.value().reveal() == expected.vapour_pressure.value());
      CHECK(sea.flags == expected.flags);
      CHECK(fresh_water(strict_t).density.value().reveal() == fresh_water(celsius(t)).density.value());
      CHECK(sea_water_density_eos80(strict_t, strict_s).value().reveal() ==
            sea_water_density_eos80(celsius(t), absolute_salinity(s)).value());
      CHECK(in_practical_salinity(practical_salinity(Strict(s))).reveal() ==
            in_practical_salinity(practical_salinity(s)));
    }
  CHECK(sea_water(celsius(Strict(15.0))).density.value().reveal() == sea_water(celsius(15.0)).density.value());
}

TEST_CASE("water has the derivatives of its formulas") {
  // Against a central difference: step h, truncation about h^2, rounding about 1e-16/h of the value. With h = 1e-3 and
  // these smooth formulas both are below 1e-6 of the slope.
  for (const double t : {0.5, 15.0, 38.0}) {
    CAPTURE(t);
    const auto by_temperature = [&](auto formula) {
      const Slopes s = slopes(formula, t, 1e-3);
      CHECK(s.exact == relative(s.difference, 1e-6));
    };
    by_temperature([](const auto& x) { return sea_water(celsius(x)).density; });
    by_temperature([](const auto& x) { return sea_water(celsius(x)).kinematic_viscosity; });
    by_temperature([](const auto& x) { return sea_water(celsius(x)).vapour_pressure; });
    by_temperature([](const auto& x) { return fresh_water(celsius(x)).kinematic_viscosity; });
    by_temperature([](const auto& x) { return sea_water_density_eos80(celsius(x), standard_sea_salinity); });
  }
  for (const double s_a : {1.0, 20.0, 41.0}) {
    CAPTURE(s_a);
    const auto by_salinity = [&](auto formula) {
      const Slopes s = slopes(formula, s_a, 1e-3);
      CHECK(s.exact == relative(s.difference, 1e-6));
    };
    const auto sea = [](const auto& x) {
      return sea_water<std::remove_cvref_t<decltype(x)>>(celsius(15.0), absolute_salinity(x));
    };
    by_salinity([&](const auto& x) { return sea(x).density; });
    by_salinity([&](const auto& x) { return sea(x).kinematic_viscosity; });
    by_salinity([&](const auto& x) { return sea(x).vapour_pressure; });
    by_salinity([](const auto& x) {
      return sea_water_density_eos80<std::remove_cvref_t<decltype(x)>>(celsius(15.0), absolute_salinity(x));
    });
  }
  // At fresh water the slope of EOS-80 is that of its linear term: b/(35.16504/35) (unesco_44), b at t_68 = 0.
  const auto fresh = sea_water_density_eos80<Dual<1>>(celsius(0.0), absolute_salinity(Dual<1>::input(0.0, 0)));
  CHECK(fresh.value().derivative[0] == rounding(0.824493 * 35.0 / 35.16504));
}

TEST_CASE("water widens to another scalar with its flags") {
  const Water<> cold = sea_water(celsius(-1.0));
  const Water<Dual<2>> wide = cold;
  CHECK(wide.density.value().value == cold.density.value());
  CHECK(wide.flags == cold.flags);
  CHECK(wide.method == cold.method);
}

TEST_CASE("every water method says where it comes from and where it holds") {
  for (const Method* method : {&teos10_density, &eos80_density, &iapws_viscosity, &sea_viscosity_factor,
                               &iapws_vapour_pressure, &raoult_vapour_pressure, &default_water, &ittc_water}) {
    CAPTURE(method->name);
    CHECK_FALSE(method->key.empty());
    CHECK_FALSE(method->equations.empty());
    CHECK_FALSE(method->limits.empty());
    CHECK_FALSE(method->instead_beyond.empty());
    CHECK(method->evidence == Evidence::transcribed);
  }
}
