#include "hardchine/resistance/friction_line.hpp"

#include <doctest/doctest.h>

#include "archetype.hpp"
#include "csv.hpp"
#include "hardchine/scalar/dual.hpp"
#include "hardchine/scalar/root.hpp"
#include "near.hpp"

using namespace hardchine;

TEST_CASE("ITTC 1957 line against print: molland_2011, worked examples of chapters 4, 5 and 10") {
  struct Row {
    double re, cf;
    int decimals;
  };
  // Tolerance: half a unit of the last printed decimal. (The book also prints .00189 at 2.0e8; exact is .0018836.)
  for (const Row& r : {Row{1.944e8, .001896, 6}, Row{2.917e8, .001794, 6}, Row{2.991e8, .0017884, 7},
                       Row{2.0e9, .00141, 5}, Row{1e5, .0083, 4}, Row{1e9, .00153, 5}}) {
    CAPTURE(r.re);
    CHECK(friction_coefficient(FrictionLine::ittc_1957, r.re) == printed(r.cf, r.decimals));
  }
}

TEST_CASE("Schoenherr line against print: savitsky_1964 Table 1 and 2, savitsky_brown_1976 example") {
  // Tolerance: half a unit of the last printed decimal.
  struct Row {
    double re, cf;
  };
  for (const Row& r :
       {Row{3.61e8, .00174}, Row{2.42e8, .00184}, Row{1.73e8, .00192}, Row{3.22e8, .00177}, Row{2.55e8, .00182}}) {
    CAPTURE(r.re);
    CHECK(friction_coefficient(FrictionLine::schoenherr, r.re) == printed(r.cf, 5));
  }
}

TEST_CASE("friction lines against SciPy (tests/references/friction_lines.csv, brentq)") {
  int rows = 0;
  for (const auto& row : read_csv("references/friction_lines.csv")) {
    const double re = number(row, "Re");
    CAPTURE(re);
    // Rounding of log10 and of its square; brentq stops at 4 units in the last place.
    CHECK(friction_coefficient(FrictionLine::ittc_1957, re) == relative(number(row, "CF_ittc57"), 1e-14));
    CHECK(friction_coefficient(FrictionLine::schoenherr, re) == relative(number(row, "CF_schoenherr"), 1e-13));
    ++rows;
  }
  CHECK(rows >= 25);
}

TEST_CASE(
    "the Schoenherr line with the textbook's constant, molland_2011 eq 4.10: values computed independently of this "
    "library") {
  struct Row {
    double re, cf;
  };
  for (const Row& r :
       {Row{1e5, .0071853}, Row{1e6, .0044133}, Row{1e7, .0029369}, Row{1e8, .0020740}, Row{1e9, .0015324}}) {
    CAPTURE(r.re);
    CHECK(friction_coefficient(FrictionLine::schoenherr_textbook, r.re) == printed(r.cf, 7));
  }
}

TEST_CASE("bracketed_root finds the Schoenherr line where SciPy's brentq finds it") {
  for (const auto& row : read_csv("references/friction_lines.csv")) {
    const double lg = std::log10(number(row, "Re"));
    const auto gap = [&](double cf) { return 0.242 / std::sqrt(cf) - lg - std::log10(cf); };
    const auto root = bracketed_root(gap, 1e-4, 1e-1);
    CHECK(root.converged);
    CHECK(root.x == relative(number(row, "CF_schoenherr"), 1e-13));
  }
}

TEST_CASE("friction_coefficient refuses Reynolds numbers that the lines were not made for") {
  for (const double re : {-1.0, 0.0, 100.0, 0.99e5, 1e13, std::nan("")})
    CHECK_THROWS_AS(friction_coefficient(FrictionLine::ittc_1957, re), BadInput);
  CHECK_NOTHROW(friction_coefficient(FrictionLine::ittc_1957, 1e5));
}

TEST_CASE("one formula for every scalar") {
  for (const FrictionLine line :
       {FrictionLine::ittc_1957, FrictionLine::schoenherr, FrictionLine::schoenherr_textbook}) {
    const double re = 3.7e7;
    const double cf = friction_coefficient(line, re);
    CHECK(friction_coefficient(line, Strict(re)).reveal() == cf);
    const auto dual = friction_coefficient(line, Dual<1>::input(re, 0));
    CHECK(dual.value == cf);
    // Central difference with a relative step of 1e-5: truncation and rounding leave about 1e-9.
    const double h = re * 1e-5;
    const double slope = (friction_coefficient(line, re + h) - friction_coefficient(line, re - h)) / (2.0 * h);
    CHECK(dual.derivative[0] == relative(slope, 1e-8));
    CHECK(method_of(line).key.size() > 0);
  }
}
