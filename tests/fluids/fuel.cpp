#include "hardchine/fluids/fuel.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

double kg_per_m3(const Density<>& rho) { return in(rho, kilogram_per_cubic_metre); }
Fuel<> fuel_of(double rho_15, FuelBand band = FuelBand::by_density) {
  return {.reference_density = rho_15 * kilogram_per_cubic_metre, .band = band};
}
double correction(double rho_15, double t) { return fuel_at(fuel_of(rho_15), celsius(t)).volume_correction; }
double alpha(double rho_15, FuelBand band = FuelBand::by_density) {
  return thermal_expansion(fuel_of(rho_15, band)).value();
}

std::string refused_field(const std::function<void()>& call) {
  try {
    call();
  } catch (const BadInput& error) {
    return error.field();
  }
  return "";
}

}  // namespace

TEST_CASE("named fuels have the densities of the trade") {
  CHECK(kg_per_m3(petrol().reference_density) == 745.0);
  CHECK(kg_per_m3(diesel().reference_density) == 840.0);
  CHECK(kg_per_m3(diesel(832.0 * kilogram_per_cubic_metre).reference_density) == 832.0);
  // Within the ranges of en_228 (recalled) and en_590 (printed).
  CHECK(petrol().reference_density >= 720.0 * kilogram_per_cubic_metre);
  CHECK(petrol().reference_density <= 775.0 * kilogram_per_cubic_metre);
  CHECK(diesel().reference_density >= 820.0 * kilogram_per_cubic_metre);
  CHECK(diesel().reference_density <= 845.0 * kilogram_per_cubic_metre);
  // Common practice, no source: 6.1 lb/US gal petrol, 7.1 diesel; the defaults lie within 2 % of them.
  CHECK(in(petrol().reference_density, pound_per_us_gallon) == relative(6.1, 0.02));
  CHECK(in(diesel().reference_density, pound_per_us_gallon) == relative(7.1, 0.02));
}

TEST_CASE("volume correction of table 54B") {
  // astm_d1250, table 54B; derived with independent code, seven decimals. No printed table entry was at hand.
  CHECK(alpha(840.0) == printed(8.4378912e-4, 11));
  CHECK(correction(840.0, 25.0) == printed(0.9915411, 7));
  CHECK(correction(840.0, 5.0) == printed(1.0084162, 7));
  CHECK(correction(850.0, 40.0) == printed(0.9791067, 7));
  CHECK(correction(835.0, 25.0) == printed(0.9914513, 7));
  CHECK(correction(745.0, 25.0) == printed(0.9878255, 7));
  CHECK(correction(745.0, 35.0) == printed(0.9755694, 7));
  CHECK(correction(845.0, 38.0) == printed(0.9806368, 7));
  CHECK(correction(845.0, 61.0) == printed(0.9610782, 7));
  // At 15 C nothing is corrected.
  for (const double rho : {660.0, 745.0, 780.0, 800.0, 840.0, 950.0}) {
    CHECK(correction(rho, 15.0) == 1.0);
    CHECK(kg_per_m3(fuel_density(fuel_of(rho), celsius(15.0))) == rho);
  }
  // The density goes with it: rho_15 VCF.
  CHECK(kg_per_m3(fuel_density(diesel(), celsius(25.0))) == printed(840.0 * 0.9915411, 4));
}

TEST_CASE("volume correction against the coefficients for 60 F") {
  // astm_d1250: at the base of 60 F the coefficients (per F) are 192.4571 and 0.2438 for petrol, 103.8720 and 0.2701 for
  // diesel; the correction from t to 15 C is that from t to 60 F over that from 15 C to 60 F, at the density of 60 F.
  // Both sets are rounded in their seventh and fourth digit: alpha agrees to 1e-4, 3e-6 of the volume in 20 K.
  struct Row {
    double rho_60, t, K0, K1;
  };
  for (const Row& r : {Row{745.0, 35.0, 192.4571, 0.2438}, Row{840.0, 30.0, 103.8720, 0.2701}}) {
    const double a = r.K0 / (r.rho_60 * r.rho_60) + r.K1 / r.rho_60;
    const auto to_60 = [&](double t_c) {
      const double x = a * (t_c * 1.8 + 32.0 - 60.0);
      return std::exp(-x * (1.0 + 0.8 * x));
    };
    // At 60 F, derived: petrol 745 at 95 F .9762513, diesel 840 at 86 F .9877689.
    CHECK(to_60(r.t) == printed(r.rho_60 < 800.0 ? 0.9762513 : 0.9877689, 7));
    CHECK(correction(r.rho_60 * to_60(15.0), r.t) == absolute(to_60(r.t) / to_60(15.0), 3e-6));
  }
}

TEST_CASE("density against the linear rule of the trade") {
  // Recalled: rho = rho_15 (1 - a (t - 15)), a = 0.00083/K diesel, 0.00095 to 0.0010 petrol. The rule is rounder than
  // the table: alpha is 0.000844 for diesel and 0.00121 for petrol of 745. Diesel is met to 0.03 % in 20 K.
  CHECK(kg_per_m3(fuel_density(diesel(), celsius(35.0))) == relative(840.0 * (1.0 - 0.00083 * 20.0), 5e-4));
  // Petrol of the trade's rule expands less than the table says, by a fifth; within 0.6 % of the density in 20 K.
  CHECK(kg_per_m3(fuel_density(petrol(), celsius(35.0))) == relative(745.0 * (1.0 - 0.0010 * 20.0), 6e-3));
}

TEST_CASE("bands meet at their seams") {
  // astm_d1250, derived: alpha joins within 1e-4, 2e-5 and 2e-5 (2.4e-5) relative. A misread digit would show.
  const double just_below = 1.0 - 1e-12;
  struct Seam {
    double rho;
    FuelBand lower, upper;
    double tolerance;
  };
  for (const Seam& s : {Seam{770.35, FuelBand::petrol, FuelBand::transition, 1e-4},
                        Seam{787.52, FuelBand::transition, FuelBand::kerosine, 2.5e-5},
                        Seam{838.31, FuelBand::kerosine, FuelBand::diesel, 2.5e-5}}) {
    CAPTURE(s.rho);
    CHECK(alpha(s.rho) == relative(alpha(s.rho * just_below), s.tolerance));
    CHECK(alpha(s.rho) == alpha(s.rho, s.upper));
    CHECK(alpha(s.rho * just_below) == alpha(s.rho * just_below, s.lower));
    CHECK(alpha(s.rho, s.lower) != alpha(s.rho, s.upper));
  }
  // Heavier fuel expands less, through all bands; the seams may step by what was just found.
  for (double rho = 655.0; rho < 1070.0; rho += 1.0) CHECK(alpha(rho + 1.0) < alpha(rho) * (1.0 + 1e-4));
}

TEST_CASE("diesel of 820 to 838 falls in the band of kerosine unless it is named") {
  const Fuel<> light = fuel_of(835.0), named = fuel_of(835.0, FuelBand::diesel);
  CHECK(alpha(835.0) == alpha(835.0, FuelBand::kerosine));
  CHECK(fuel_at(light, celsius(25.0)).volume_correction == printed(0.9914513, 7));  // astm_d1250, derived
  CHECK(fuel_at(light, celsius(25.0)).flags == 0);
  // Named: 186.9696/835^2 + 0.4862/835 = 8.50439e-4, VCF 0.9914743 by hand; flagged because the density is not there.
  CHECK(fuel_at(named, celsius(25.0)).volume_correction == printed(0.9914743, 7));
  CHECK(fuel_at(named, celsius(25.0)).flags == flag(FuelLimit::named_diesel));
  CHECK(fuel_at(fuel_of(840.0, FuelBand::diesel), celsius(25.0)).flags == 0);
  // The largest effect of the name on a diesel of en_590: 1.5 % of alpha at 820.
  CHECK(alpha(820.0, FuelBand::diesel) / alpha(820.0) == absolute(1.0 - 0.015, 5e-4));
}

TEST_CASE("supply less return on volumes corrected to 15 C") {
  // astm_d1250, derived: diesel 845, supply 412.6 L/h at 38 C, return 331.9 L/h at 61 C: 85.629 L/h at 15 C, where the
  // plain difference is 80.7.
  const Fuel<> fuel = diesel(845.0 * kilogram_per_cubic_metre);
  const VolumeFlow<> used = 412.6 * litre_per_hour * fuel_at(fuel, celsius(38.0)).volume_correction -
                            331.9 * litre_per_hour * fuel_at(fuel, celsius(61.0)).volume_correction;
  CHECK(in(used, litre_per_hour) == printed(85.629, 3));
}

TEST_CASE("fuel beyond the published range is flagged") {
  CHECK(fuel_at(diesel(), celsius(-18.0)).flags == 0);
  CHECK(fuel_at(diesel(), celsius(95.0)).flags == 0);
  CHECK(fuel_at(diesel(), celsius(-18.1)).flags == flag(FuelLimit::temperature));
  CHECK(fuel_at(diesel(), celsius(95.1)).flags == flag(FuelLimit::temperature));
  CHECK(fuel_at(fuel_of(652.0), celsius(15.0)).flags == flag(FuelLimit::density));
  CHECK(fuel_at(fuel_of(1076.0), celsius(15.0)).flags == flag(FuelLimit::density));
  CHECK(fuel_at(fuel_of(780.0, FuelBand::petrol), celsius(15.0)).flags == flag(FuelLimit::named_petrol));
  CHECK(fuel_at(fuel_of(760.0, FuelBand::transition), celsius(15.0)).flags == flag(FuelLimit::named_transition));
  CHECK(fuel_at(fuel_of(840.0, FuelBand::kerosine), celsius(15.0)).flags == flag(FuelLimit::named_kerosine));
  const auto at = fuel_at(fuel_of(840.0, FuelBand::kerosine), celsius(100.0));
  REQUIRE(explain(at.flags, *at.method).size() == 2);
  CHECK(explain(at.flags, *at.method)[0] == "fuel temperature outside -18 to 95 C");
  CHECK(cite(*at.method) == "astm_d1250 table 54B, base 15 C (transcribed)");
}

TEST_CASE("fuel refuses bad input by the field's name") {
  const double infinite = std::numeric_limits<double>::infinity();
  const Temperature<> not_set = unset;
  for (const Temperature<>& t : {not_set, celsius(infinite), celsius(-40.1), celsius(110.1)}) {
    CHECK(refused_field([&] { fuel_at(diesel(), t); }) == "fuel temperature");
    CHECK(refused_field([&] { fuel_density(diesel(), t); }) == "fuel temperature");
  }
  for (const double rho : {std::nan(""), infinite, -840.0, 0.0, 599.9, 1100.1, 0.84}) {
    CAPTURE(rho);
    CHECK(refused_field([&] { fuel_at(fuel_of(rho), celsius(15.0)); }) == "fuel density at 15 C");
    CHECK(refused_field([&] { fuel_density(fuel_of(rho), celsius(15.0)); }) == "fuel density at 15 C");
    CHECK(refused_field([&] { thermal_expansion(fuel_of(rho)); }) == "fuel density at 15 C");
  }
  CHECK(refused_field([&] { fuel_at(Fuel<>{}, celsius(15.0)); }) == "fuel density at 15 C");
  CHECK_THROWS_WITH_AS(fuel_at(fuel_of(0.84), celsius(15.0)),
                       "fuel_at: fuel density at 15 C is 0.84 kg/m3; accepted: 600 kg/m3 to 1100 kg/m3", BadInput);
}

TEST_CASE("fuel runs on the strict archetype and gives the double's bits") {
  for (const double rho : {745.0, 780.0, 800.0, 840.0})
    for (const FuelBand band :
         {FuelBand::by_density, FuelBand::petrol, FuelBand::transition, FuelBand::kerosine, FuelBand::diesel}) {
      const Fuel<> fuel = fuel_of(rho, band);
      const Fuel<Strict> strict = fuel;
      const auto at = fuel_at(strict, celsius(Strict(31.0)));
      const auto expected = fuel_at(fuel, celsius(31.0));
      CHECK(at.volume_correction.reveal() == expected.volume_correction);
      CHECK(at.density.value().reveal() == expected.density.value());
      CHECK(at.flags == expected.flags);
      CHECK(fuel_density(strict, celsius(Strict(31.0))).value().reveal() == expected.density.value());
    }
}

TEST_CASE("fuel has the derivatives of its formulas") {
  // Against a central difference with a step of 1e-4 of the input: truncation about 1e-8, rounding about 1e-12/1e-4.
  const auto density = [](const auto& rho, const auto& t) {
    using T = std::remove_cvref_t<decltype(t)>;
    return fuel_density<T>({.reference_density = Density<T>::from_value(rho)}, celsius(t)).value();
  };
  const auto difference = [](auto f, double x) { return (f(x * 1.0001) - f(x * 0.9999)) / (2e-4 * x); };
  for (const double rho : {745.0, 780.0, 800.0, 850.0}) {
    CAPTURE(rho);
    const auto d = density(Dual<2>::input(rho, 0), Dual<2>::input(40.0, 1));
    CHECK(d.derivative[0] == relative(difference([&](double r) { return density(r, 40.0); }, rho), 1e-6));
    CHECK(d.derivative[1] == relative(difference([&](double t) { return density(rho, t); }, 40.0), 1e-6));
  }
  // By definition alpha = -(1/rho) d rho/dt at 15 C.
  const auto at_15 = density(Dual<1>(840.0), Dual<1>::input(15.0, 0));
  CHECK(-at_15.derivative[0] / at_15.value == rounding(alpha(840.0)));
}
