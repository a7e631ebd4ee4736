// The functions on Lanes against arithmetic in 50 digits: their errors are at
// most those that the header states. The one translation unit that includes
// Boost.Multiprecision.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <bit>
#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <functional>
#include <iterator>
#include <limits>
#include <map>
#include <numbers>
#include <random>
#include <regex>
#include <string>
#include <vector>

#include "csv.hpp"
#include "hardchine/scalar/lanes.hpp"

using namespace hardchine;

namespace {

using Exact = boost::multiprecision::number<boost::multiprecision::cpp_bin_float<50>, boost::multiprecision::et_off>;
using Pack = Lanes<>;
using Numbers = std::array<double, lanes_width>;

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double greatest = std::numeric_limits<double>::max();
constexpr double least_normal = std::numeric_limits<double>::min();
constexpr double least = std::numeric_limits<double>::denorm_min();
constexpr double right_angle = std::numbers::pi / 2.0;
constexpr double greatest_angle = 1e6;

// Exact arithmetic is slow where nothing is optimised.
#if defined(__OPTIMIZE__)
constexpr int exact_packs = 250, stride = 1;
constexpr int dense_packs = 20000;
#else
constexpr int exact_packs = 10, dense_packs = 1000, stride = 7;
#endif

// ---- what the header states

// The errors of a function in its doc comment, in ulp: for the near range and
// the whole one if there are two.
struct Stated {
  double near, whole;
};
Stated stated_errors(const std::string& name, double power = 0.0) {
  static const std::string header = [] {
    std::ifstream file(HARDCHINE_SOURCE "/include/hardchine/scalar/lanes.hpp");
    return std::string(std::istreambuf_iterator<char>(file), {});
  }();
  const auto function = header.find("friend Lanes " + name + "(");
  REQUIRE(function != std::string::npos);
  const auto before = header.rfind("friend Lanes ", function - 1);
  const std::string comment = header.substr(before, function - before);
  static const std::regex ulp(R"(([0-9.]+)(?: \+ ([0-9.]+) \|power\|)? ulp)");
  std::vector<double> errors;
  for (std::sregex_iterator it(comment.begin(), comment.end(), ulp), end; it != end; ++it)
    errors.push_back(std::stod((*it)[1]) + ((*it)[2].matched ? std::stod((*it)[2]) * std::abs(power) : 0.0));
  REQUIRE_FALSE(errors.empty());
  return {errors.front(), errors.back()};
}

// ---- the functions, each written once for packs, exact numbers, long double
// and double

struct Function {
  std::string name;
  std::function<Pack(const Pack&)> lanes;
  std::function<Exact(const Exact&)> exact;
  std::function<long double(long double)> dense;
  std::function<double(double)> library;  // what C says of zeros, infinities and NaN
  bool (*defined)(double);                // elsewhere the result is not a number
  double least_x, greatest_x;             // where the dense draws are even
  double power = 0.0;
};

template <class F>
Function function(const char* name, const F& f, bool (*defined)(double), double least_x, double greatest_x) {
  return {name, f, f, f, f, defined, least_x, greatest_x};
}
Function power_function(double p) {
  const bool whole = std::trunc(p) == p;
  return {"pow",
          [p](const Pack& x) { return pow(x, p); },
          [p](const Exact& x) -> Exact {
            const Exact size = exp(Exact(Exact(p) * log(Exact(abs(x)))));
            return x < 0 && std::fmod(p, 2.0) != 0.0 ? Exact(-size) : size;
          },
          [p](long double x) { return std::pow(x, static_cast<long double>(p)); },
          [p](double x) { return std::pow(x, p); },
          whole ? [](double) { return true; } : [](double x) { return !(x < 0.0) || std::isinf(x); },
          whole ? -4.0 : 0.0,
          4.0,
          p};
}

bool everywhere(double) { return true; }
bool from_zero(double x) { return !(x < 0.0); }
bool an_angle(double x) { return !(std::abs(x) > greatest_angle); }

const std::vector<Function>& functions() {
  static const std::vector<Function> list = [] {
    std::vector<Function> all{function(
                                  "sqrt",
                                  [](const auto& x) {
                                    using std::sqrt;
                                    return sqrt(x);
                                  },
                                  from_zero, 0.0, 4.0),
                              function(
                                  "exp",
                                  [](const auto& x) {
                                    using std::exp;
                                    return exp(x);
                                  },
                                  everywhere, -745.0, 710.0),
                              function(
                                  "log",
                                  [](const auto& x) {
                                    using std::log;
                                    return log(x);
                                  },
                                  from_zero, 0.0, 4.0),
                              function(
                                  "log10",
                                  [](const auto& x) {
                                    using std::log10;
                                    return log10(x);
                                  },
                                  from_zero, 0.0, 4.0),
                              function(
                                  "sin",
                                  [](const auto& x) {
                                    using std::sin;
                                    return sin(x);
                                  },
                                  an_angle, -right_angle, right_angle),
                              function(
                                  "cos",
                                  [](const auto& x) {
                                    using std::cos;
                                    return cos(x);
                                  },
                                  an_angle, -right_angle, right_angle),
                              function(
                                  "tan",
                                  [](const auto& x) {
                                    using std::tan;
                                    return tan(x);
                                  },
                                  an_angle, -right_angle, right_angle),
                              function(
                                  "atan",
                                  [](const auto& x) {
                                    using std::atan;
                                    return atan(x);
                                  },
                                  everywhere, -4.0, 4.0),
                              function(
                                  "tanh",
                                  [](const auto& x) {
                                    using std::tanh;
                                    return tanh(x);
                                  },
                                  everywhere, -4.0, 4.0)};
    for (const double p :
         {0.6, 1.1, 0.4, -0.4, 1.0 / 1.1, 1.0 / 3.0, 0.5, 1.5, 2.0, 3.0, -1.0, -7.0, 37.5, -100.0, 1e-3})
      all.push_back(power_function(p));
    return all;
  }();
  return list;
}

// ---- errors

// In units in the last place of the exact result; infinite where a zero, an
// infinity or NaN is not what it must be.
template <class Real>
double error_in_ulp(double y, const Real& exact) {
  using std::abs, std::frexp, std::ldexp;
  if (std::isnan(y)) return infinite;
  const Real overflows = ldexp(Real(1), 1024) - ldexp(Real(1), 970);
  // The last double before infinity is half an ulp away from what overflows.
  if (abs(exact) >= overflows && std::isinf(y)) return (y > 0.0) == (exact > 0) ? 0.0 : infinite;
  if (std::isinf(y)) return infinite;
  int exponent = 0;
  frexp(exact, &exponent);
  const Real ulp = ldexp(Real(1), std::max(exponent - 53, -1074));
  return static_cast<double>(abs(Real(Real(y) - exact)) / ulp);
}

double error_of(const Function& f, double x, double y) {
  if (!f.defined(x) || std::isnan(x)) return std::isnan(y) ? 0.0 : infinite;
  if (x == 0.0 || std::isinf(x)) {
    const double expected = f.library(x);
    // atan and pow of these are numbers like others: one rounding each.
    if (std::isfinite(expected) && expected != 0.0) return error_in_ulp(y, Exact(expected));
    return y == expected && std::signbit(y) == std::signbit(expected) ? 0.0 : infinite;
  }
  return error_in_ulp(y, f.exact(Exact(x)));
}

struct Worst {
  double error = 0.0, x = 0.0;
  void see(double e, double at) {
    if (e > error) *this = {e, at};
  }
};

// Eight results; the same to the last bit in every place of the pack, whatever
// stands beside.
Numbers results(const Function& f, const Numbers& x, std::size_t turn) {
  Numbers y, turned = x, y_turned;
  f.lanes(Pack::load(x)).store(y);
  std::rotate(turned.begin(), turned.begin() + static_cast<std::ptrdiff_t>(turn), turned.end());
  f.lanes(Pack::load(turned)).store(y_turned);
  for (std::size_t i = 0; i < x.size(); ++i) {
    CAPTURE(x[(i + turn) % x.size()]);
    const double a = y[(i + turn) % x.size()], b = y_turned[i];
    const bool same =
        std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b) || (std::isnan(a) && std::isnan(b));
    if (!same) CHECK(a == b);
  }
  return y;
}

using Engine = std::mt19937_64;  // its numbers are specified, those of
                                 // distributions are not
double share(Engine& engine) { return static_cast<double>(engine() >> 11U) * 0x1p-53; }
double even(Engine& engine, double low, double high) { return low + (high - low) * share(engine); }
// Any double by its bits: all magnitudes alike, NaN and infinity now and then,
// subnormal numbers too.
double any_double(Engine& engine) {
  switch (engine() % 64) {
    case 0:
      return engine() % 2 == 0 ? infinite : -infinite;
    case 1:
      return not_a_number;
    case 2:
      return std::copysign(std::bit_cast<double>(engine() >> 12U), engine() % 2 == 0 ? 1.0 : -1.0);
    default:
      return std::bit_cast<double>(engine());
  }
}
// A magnitude evenly in its logarithm, either sign.
double any_size(Engine& engine, double low, double high) {
  const double x = low * std::exp(std::log(high / low) * share(engine));
  return engine() % 2 == 0 ? x : -x;
}

double near_draw(Engine& engine, const Function& f) { return even(engine, f.least_x, f.greatest_x); }
double whole_draw(Engine& engine, const Function& f) {
  if (f.defined == an_angle)
    return engine() % 2 == 0 ? any_size(engine, 1e-9, greatest_angle) : even(engine, -1e6, 1e6);
  switch (engine() % 3) {
    case 0:
      return any_double(engine);
    case 1:
      return any_size(engine, 1e-9, 1e9);
    default:
      return near_draw(engine, f);
  }
}

}  // namespace

TEST_CASE("largest errors against 50 digits: even draws, all magnitudes, all lanes") {
  for (const Function& f : functions()) {
    const Stated stated = f.name == "sqrt" ? Stated{0.5, 0.5} : stated_errors(f.name, f.power);
    Engine engine(20240711);
    Worst near, whole;
    for (int pack = 0; pack < exact_packs; ++pack)
      for (const bool is_near : {true, false}) {
        Numbers x;
        for (double& each : x) each = is_near ? near_draw(engine, f) : whole_draw(engine, f);
        const Numbers y = results(f, x, 1 + engine() % 7);
        for (std::size_t i = 0; i < x.size(); ++i) (is_near ? near : whole).see(error_of(f, x[i], y[i]), x[i]);
      }
    CAPTURE(f.name);
    CAPTURE(f.power);
    CAPTURE(near.x);
    CAPTURE(whole.x);
    CHECK(near.error <= stated.near);
    CHECK(whole.error <= stated.whole);
    CHECK(near.error > 0.3);  // the ruler works
  }
}

TEST_CASE(
    "largest errors where the kernels turn: edges of range, ends of "
    "reductions, multiples of pi/2") {
  std::vector<double> edges{0.0, least, 3.0 * least, least_normal, 1e-300, 1e-160, 1e-17, 0x1p-26, 1e-5, 0.5, 1.0, 2.0,
                            3.0, 10.0, 22.0, 44.0, 1e5, greatest_angle, 1e15, 0x1p52, 0x1p53, 1e160, 1e300, greatest,
                            infinite, std::sqrt(0.5), std::sqrt(2.0), std::tan(right_angle / 4.0),
                            std::tan(right_angle * 0.75),
                            // exp: the last finite, the last normal, the last above zero
                            709.782712893384, 708.3964185322641, 745.1332191019411, 746.0, 710.0, 0.35};
  for (int k = 1; k < 40; k += stride) {
    edges.push_back((k - 0.5) * std::numbers::ln2);
    edges.push_back(k * std::numbers::ln2);
    edges.push_back((k - 0.5) * right_angle);
    edges.push_back(k * right_angle);
  }
  for (int k = 40; k <= 636619; k += stride * (k / 9)) edges.push_back(k * right_angle);
  edges.push_back(2.0 * greatest_angle);
  std::vector<double> points{not_a_number};
  for (const double edge : edges)
    for (const double sign : {1.0, -1.0})
      for (const double x : {edge, std::nextafter(edge, infinite), std::nextafter(edge, -infinite)})
        points.push_back(sign * x);
  while (points.size() % lanes_width != 0) points.push_back(1.0);
  for (const Function& f : functions()) {
    const double stated = f.name == "sqrt" ? 0.5 : stated_errors(f.name, f.power).whole;
    Worst worst;
    for (std::size_t at = 0; at < points.size(); at += lanes_width) {
      Numbers x;
      std::copy_n(points.begin() + static_cast<std::ptrdiff_t>(at), lanes_width, x.begin());
      const Numbers y = results(f, x, 1 + at / lanes_width % 7);
      for (std::size_t i = 0; i < x.size(); ++i) {
        const double error = error_of(f, x[i], y[i]);
        worst.see(error, x[i]);
        if (!(error <= stated)) {
          CAPTURE(f.name);
          CAPTURE(f.power);
          CAPTURE(x[i]);
          CAPTURE(y[i]);
          CHECK(error <= stated);
        }
      }
    }
    CAPTURE(f.name);
    CHECK(worst.error <= stated);
  }
}

TEST_CASE("the doubles nearest to multiples of pi/2 of all angles") {
  // The worst there is for the reduction: among 636619 multiples the nearest
  // double is 2e-17 off. Sine and cosine of a distance d from a multiple are d
  // and 1 - d^2/2; d in 50 digits.
  const Exact half_pi = boost::math::constants::pi<Exact>() / 2;
  const double stated = stated_errors("sin").whole;
  Worst worst;
  double nearest = 1.0;
  constexpr int step = stride == 1 ? 1 : 101;
  for (int k = 1; k + lanes_width * step <= 636619; k += lanes_width * step) {
    Numbers x, sines, cosines;
    std::array<Exact, lanes_width> distance;
    for (std::size_t i = 0; i < x.size(); ++i) {
      const Exact multiple = (k + static_cast<int>(i) * step) * half_pi;
      x[i] = static_cast<double>(multiple);
      distance[i] = Exact(x[i]) - multiple;
    }
    sin(Pack::load(x)).store(sines);
    cos(Pack::load(x)).store(cosines);
    for (std::size_t i = 0; i < x.size(); ++i) {
      const bool odd = (k + static_cast<int>(i) * step) % 2 != 0;
      const double small = std::abs(odd ? cosines[i] : sines[i]), large = std::abs(odd ? sines[i] : cosines[i]);
      const Exact d = abs(distance[i]);
      worst.see(error_in_ulp(small, Exact(d - d * d * d / 6)), x[i]);
      nearest = std::min(nearest, static_cast<double>(d));
      if (large != 1.0) CHECK(large == 1.0);
    }
  }
  CAPTURE(worst.x);
  CHECK(worst.error <= stated);
  CHECK(nearest < 1e-15);
}

TEST_CASE("largest errors in dense draws, against long double where it is longer") {
  if (std::numeric_limits<long double>::digits < 64) return;
  for (const Function& f : functions()) {
    if (f.name == "sqrt") continue;
    const Stated stated = stated_errors(f.name, f.power);
    Engine engine(7);
    Worst near, whole;
    for (int pack = 0; pack < dense_packs; ++pack)
      for (const bool is_near : {true, false}) {
        Numbers x, y;
        for (double& each : x) each = is_near ? near_draw(engine, f) : whole_draw(engine, f);
        f.lanes(Pack::load(x)).store(y);
        for (std::size_t i = 0; i < x.size(); ++i) {
          if (!f.defined(x[i]) || x[i] == 0.0 || !std::isfinite(x[i])) continue;
          (is_near ? near : whole).see(error_in_ulp(y[i], f.dense(static_cast<long double>(x[i]))), x[i]);
        }
      }
    CAPTURE(f.name);
    CAPTURE(f.power);
    CAPTURE(near.x);
    CAPTURE(whole.x);
    // What C computes in long double is good to a 1000th of these units; its
    // pow to 1e-3 |power| at worst.
    CHECK(near.error <= stated.near);
    CHECK(whole.error <= stated.whole);
    // And the header does not state more than there is.
    if (f.name != "pow" && dense_packs > 10000) CHECK(std::max(near.error, whole.error) >= stated.whole / 1.4);
  }
}

TEST_CASE("powers at the edges are what C says of them") {
  const std::array<double, 16> bases{0.0,  -0.0, least, -least,    0.5,      -0.5,     1.0,       -1.0,
                                     1.25, -2.0, 1e300, -greatest, greatest, infinite, -infinite, not_a_number};
  for (const double power :
       {0.0,   -0.0, 1.0,  -1.0,  2.0,          -2.0,  3.0,    -3.0,     0.5,      -0.5,      1.0 / 3.0,   1e-300,
        least, 1e3,  1e17, -1e17, 0x1p53 - 1.0, 1e300, -1e300, greatest, infinite, -infinite, not_a_number})
    for (std::size_t at = 0; at < bases.size(); at += lanes_width) {
      Numbers x, y;
      std::copy_n(bases.begin() + static_cast<std::ptrdiff_t>(at), lanes_width, x.begin());
      pow(Pack::load(x), power).store(y);
      for (std::size_t i = 0; i < x.size(); ++i) {
        const double expected = std::pow(x[i], power);
        CAPTURE(x[i]);
        CAPTURE(power);
        if (std::isnan(expected)) {
          CHECK(std::isnan(y[i]));
        } else if (expected == 0.0 || std::isinf(expected)) {
          CHECK(y[i] == expected);
          CHECK(std::signbit(y[i]) == std::signbit(expected));
        } else {
          // C's own pow: 1 ulp. One to any power is one.
          const double bound = std::isfinite(power) ? stated_errors("pow", power).whole + 1.0 : 0.0;
          CHECK(error_in_ulp(y[i], Exact(expected)) <= bound);
        }
      }
    }
}

TEST_CASE(
    "the coefficients are those of lane_kernels.csv, found outside the "
    "library") {
  namespace kernels = lanes_detail;
  std::map<std::string, std::vector<double>> table;
  for (const CsvRow& row : read_csv("references/lane_kernels.csv")) {
    auto& terms = table[row.at("kernel")];
    CHECK(number(row, "power") == static_cast<double>(terms.size()));
    CHECK(number(row, "error") < 0.1);  // of half an ulp
    terms.push_back(number(row, "coefficient"));
  }
  const auto list = [](const auto& terms) { return std::vector<double>(std::begin(terms), std::end(terms)); };
  CHECK(table.at("exp") == list(kernels::exp_terms));
  CHECK(table.at("log") == list(kernels::log_terms));
  CHECK(table.at("sin") == list(kernels::sin_terms));
  CHECK(table.at("cos") == list(kernels::cos_terms));
  CHECK(table.at("atan") == list(kernels::atan_terms));
  CHECK(table.size() == 5);
  // The constants in parts add up to the constant, within half an ulp of the
  // last part.
  const auto sum_is = [](const auto& parts, const Exact& constant) {
    Exact left = constant;
    for (const double part : parts) left -= part;
    return abs(left) <= abs(Exact(*std::rbegin(parts))) * 0x1p-53;
  };
  CHECK(sum_is(kernels::ln2, boost::math::constants::ln_two<Exact>()));
  CHECK(sum_is(kernels::half_pi, Exact(boost::math::constants::pi<Exact>() / 2)));
  CHECK(sum_is(kernels::log10_e, Exact(1 / boost::math::constants::ln_ten<Exact>())));
}
