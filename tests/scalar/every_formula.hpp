// Every formula in every scalar: what the test files scalar/every_formula_*.cpp share. A formula is one line there, a
// call through `as`, which turns numbers, quantities and inputs over double into the scalar at hand; all members of the
// answer, whatever it is, are compared. A scan of the headers names the formula that has no line.
#pragma once

// clang counts the constants of a formula, double in every scalar, as promoted where the scalar is long double.
#pragma GCC diagnostic ignored "-Wdouble-promotion"

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "archetype.hpp"
#include "hardchine/fields.hpp"
#include "hardchine/scalar/dual.hpp"

namespace every_formula {

using namespace hardchine;

// ---- the inputs

// The input over double in scalar T.
template <class T>
struct As {
  T operator()(double x) const { return T(x); }
  template <class U>
  Quantity<U, T> operator()(const Quantity<U>& q) const {
    return widen<T>(q);
  }
  template <template <class> class A>
  A<T> operator()(const A<double>& input) const {
    if constexpr (std::convertible_to<const A<double>&, A<T>>)
      return input;
    else
      return widen_fields<A<T>>(input);
  }
  template <template <class> class A>
  std::vector<A<T>> operator()(const std::vector<A<double>>& rows) const {
    return {rows.begin(), rows.end()};
  }
};

// ---- the answers

// Converts to the type of any member.
struct AnyMember {
  template <class X>
  operator X() const;  // NOLINT(google-explicit-constructor): only named, to count members
};
template <class R, bool before, class... M>
constexpr int count_members() {
  constexpr bool fits = requires { R{M{}...}; };
  if constexpr (before && !fits)
    return static_cast<int>(sizeof...(M)) - 1;
  else  // fewer than fit may be too few: a member without a default
    return count_members<R, fits, M..., AnyMember>();
}
template <class R>
inline constexpr int members = count_members<R, false>();
// As many in every scalar: counted once.
template <template <class> class R, class T>
inline constexpr int members<R<T>> = count_members<R<double>, false>();

// An answer taken apart: its numbers, and all else as words (outcomes, flags, methods).
struct Told {
  std::vector<long double> numbers = {};
  std::vector<std::string> words = {};

  template <class X>
  void tell(const X& x) {
    if constexpr (is_quantity<X>)
      tell(x.value());
    else if constexpr (std::floating_point<X>)
      numbers.push_back(x);
    else if constexpr (requires { x.reveal(); })
      tell(x.reveal());  // Strict
    else if constexpr (requires { x.derivative; })
      tell(x.value);  // Dual
    else if constexpr (std::is_enum_v<X>)
      words.push_back(std::to_string(static_cast<long>(x)));
    else if constexpr (std::integral<X>)
      words.push_back(std::to_string(x));
    else if constexpr (std::convertible_to<X, std::string_view>)
      words.emplace_back(x);
    else if constexpr (std::same_as<X, const Method*>)
      words.emplace_back(x == nullptr ? "no method" : x->name);
    else if constexpr (requires { x.has_value(); }) {
      words.emplace_back(x.has_value() ? "given" : "none");
      if (x.has_value()) tell(*x);
    } else if constexpr (requires { x.begin(); })
      for (const auto& entry : x) tell(entry);
    else if constexpr (requires { x.fraction(); })
      tell_each(x.kind(), x.fraction(), x.volume());  // Reserve
    else if constexpr (requires { x.brake_power(); })
      tell_each(x.source(), x.outcome(), x.brake_power(), x.exponent());  // StatedPower
    else
      tell_members(x);
  }

 private:
  template <class... X>
  void tell_each(const X&... x) {
    (tell(x), ...);
  }
  template <class R>
  void tell_members(const R& r) {
    constexpr int n = members<R>;
    if constexpr (n == 1) {
      const auto& [a] = r;
      tell_each(a);
    } else if constexpr (n == 2) {
      const auto& [a, b] = r;
      tell_each(a, b);
    } else if constexpr (n == 3) {
      const auto& [a, b, c] = r;
      tell_each(a, b, c);
    } else if constexpr (n == 4) {
      const auto& [a, b, c, d] = r;
      tell_each(a, b, c, d);
    } else if constexpr (n == 5) {
      const auto& [a, b, c, d, e] = r;
      tell_each(a, b, c, d, e);
    } else if constexpr (n == 6) {
      const auto& [a, b, c, d, e, f] = r;
      tell_each(a, b, c, d, e, f);
    } else if constexpr (n == 7) {
      const auto& [a, b, c, d, e, f, g] = r;
      tell_each(a, b, c, d, e, f, g);
    } else if constexpr (n == 8) {
      const auto& [a, b, c, d, e, f, g, h] = r;
      tell_each(a, b, c, d, e, f, g, h);
    } else if constexpr (n == 9) {
      const auto& [a, b, c, d, e, f, g, h, i] = r;
      tell_each(a, b, c, d, e, f, g, h, i);
    } else if constexpr (n == 11) {
      const auto& [a, b, c, d, e, f, g, h, i, j, k] = r;
      tell_each(a, b, c, d, e, f, g, h, i, j, k);
    } else if constexpr (n == 13) {
      const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m] = r;
      tell_each(a, b, c, d, e, f, g, h, i, j, k, l, m);
    } else {
      static_assert(n == 31, "an answer with another number of members: add its case here, like those above");
      const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n_, o, p, q, r_, s, t, u, v, w, x, y, z, A, B, C, D, E] = r;
      tell_each(a, b, c, d, e, f, g, h, i, j, k, l, m, n_, o, p, q, r_, s, t, u, v, w, x, y, z, A, B, C, D, E);
    }
  }
};

// ---- the comparison

struct Tolerance {
  double relative;
  double absolute;
};
// A formula written out: each rounding is half a unit in the last place, and the worst amplifications are the power of
// -40 in the viscosity of water and the difference 1 - V/V_t of a small slip.
inline constexpr Tolerance written_out{32.0 * std::numeric_limits<double>::epsilon(), 0.0};
// An equilibrium: its last step, below 1e-9, squares the error away, and what is left is a few roundings times the
// condition of the balances, below 100. Its residuals, over the weight, are rounding and nothing else: a few units.
inline constexpr Tolerance solved{500.0 * std::numeric_limits<double>::epsilon(),
                                  16.0 * std::numeric_limits<double>::epsilon()};

template <class T>
inline constexpr std::string_view scalar_name = "Strict";
template <>
inline constexpr std::string_view scalar_name<long double> = "long double";
template <>
inline constexpr std::string_view scalar_name<Dual<2>> = "Dual<2>";

inline void check_same(const Told& expected, const Told& told, const Tolerance& tolerance, std::string_view scalar) {
  CAPTURE(scalar);
  CHECK(told.words == expected.words);
  REQUIRE(told.numbers.size() == expected.numbers.size());
  for (std::size_t i = 0; i < told.numbers.size(); ++i) {
    const long double x = told.numbers[i], y = expected.numbers[i];
    if (std::isnan(x) && std::isnan(y)) continue;  // unset in both
    CAPTURE(i);
    CAPTURE(x);
    CAPTURE(y);
    CHECK(std::abs(x - y) <= std::max<long double>(tolerance.relative * std::abs(y), tolerance.absolute));
  }
}

// The formulas of a test file.
class Formulas {
 public:
  // Compares a formula in the scalars with itself in double. `name` is the name that the header gives it.
  template <class... T, class F>
  void in_scalars(std::string_view name, const F& formula, const Tolerance& tolerance = written_out) {
    CAPTURE(name);
    names_.emplace(name);
    const Told expected = told<double>(formula);
    const bool finite =
        std::any_of(expected.numbers.begin(), expected.numbers.end(), [](long double x) { return std::isfinite(x); });
    CHECK((finite || expected.numbers.empty()));
    CHECK(expected.numbers.size() + expected.words.size() > 0);
    (check_same(expected, told<T>(formula), tolerance, scalar_name<T>), ...);
  }
  template <class F>
  void add(std::string_view name, const F& formula, const Tolerance& tolerance = written_out) {
    in_scalars<long double, Dual<2>, Strict>(name, formula, tolerance);
  }
  const std::set<std::string>& names() const { return names_; }

 private:
  template <class T, class F>
  static Told told(const F& formula) {
    Told t;
    t.tell(formula(As<T>{}));
    return t;
  }
  std::set<std::string> names_;
};

// ---- the scan

// No formulas of the trade: the scalars themselves and what reads tables, texts and literals. Each has its own tests.
inline bool is_machinery(const std::string& header) {
  static const std::set<std::string> names{"fields.hpp", "outcome.hpp", "text.hpp", "literals.hpp", "version.hpp"};
  return header.starts_with("scalar/") || names.contains(header);
}

// The text after the bracket that closes the one at `from`.
inline std::size_t after_bracket(const std::string& text, std::size_t from, char open, char close) {
  int depth = 0;
  for (std::size_t i = from; i < text.size(); ++i) {
    if (text[i] == open) ++depth;
    if (text[i] == close && --depth == 0) return i + 1;
  }
  return text.size();
}

// The function that a template declares, or nothing: a struct, an alias; a function that gives no number (words,
// explanations, checks).
inline std::string formula_declared(const std::string& declaration) {
  std::string rest = declaration.substr(after_bracket(declaration, declaration.find('<'), '<', '>'));
  if (const auto at = rest.find("requires("); at != std::string::npos)
    rest.erase(at, after_bracket(rest, at, '(', ')') - at);
  const auto parameters = rest.find('(');
  if (parameters == std::string::npos) return {};
  auto begin = parameters;
  while (begin > 0 && (std::isalnum(static_cast<unsigned char>(rest[begin - 1])) || rest[begin - 1] == '_')) --begin;
  const std::string before = rest.substr(0, begin);
  for (const char* other : {"struct ", "class ", "using ", "concept ", "= ", "std::string", "void ", "bool "})
    if (before.find(other) != std::string::npos) return {};
  return rest.substr(begin, parameters - begin);
}

// The public function templates of the headers that give numbers, and where each stands.
inline std::map<std::string, std::string> formulas_of_headers(const std::filesystem::path& include) {
  std::map<std::string, std::string> found;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(include)) {
    const std::string header = std::filesystem::relative(entry.path(), include).generic_string();
    if (entry.path().extension() != ".hpp" || is_machinery(header)) continue;
    std::ifstream file(entry.path());
    std::vector<std::string> namespaces;
    for (std::string line; std::getline(file, line);) {
      if (line.starts_with("namespace ") && line.ends_with("{")) namespaces.push_back(line);
      if (line.starts_with("}  // namespace") && !namespaces.empty()) namespaces.pop_back();
      if (!line.starts_with("template <")) continue;
      std::string declaration = line;
      while (line.find_first_of("{;") == std::string::npos && std::getline(file, line)) declaration += ' ' + line;
      const bool inside = std::any_of(namespaces.begin(), namespaces.end(), [](const std::string& name) {
        return name.ends_with("detail {");  // not for users
      });
      const std::string name = inside ? std::string{} : formula_declared(declaration);
      if (!name.empty()) found.emplace(name, header);
    }
  }
  return found;
}

// Which test file a header belongs to: a new folder goes to the last.
enum class TestFile { boat_screw_and_fuel, planing, the_rest };
inline TestFile test_file_of(const std::string& header) {
  static const std::map<std::string, TestFile> files{{"units.hpp", TestFile::boat_screw_and_fuel},
                                                     {"craft", TestFile::boat_screw_and_fuel},
                                                     {"fluids", TestFile::boat_screw_and_fuel},
                                                     {"economy", TestFile::boat_screw_and_fuel},
                                                     {"propulsion", TestFile::boat_screw_and_fuel},
                                                     {"resistance", TestFile::planing},
                                                     {"prediction", TestFile::planing}};
  const auto file = files.find(header.substr(0, header.find('/')));
  return file == files.end() ? TestFile::the_rest : file->second;
}

inline void check_complete(const Formulas& formulas, TestFile file) {
  const auto found = formulas_of_headers(std::filesystem::path(HARDCHINE_SOURCE) / "include" / "hardchine");
  for (const auto& formula : found) {
    const std::string &name = formula.first, &header = formula.second;
    if (test_file_of(header) != file) continue;
    const bool compared_in_every_scalar = formulas.names().contains(name);
    CAPTURE(name);
    CAPTURE(header);
    CHECK(compared_in_every_scalar);
  }
  for (const std::string& name : formulas.names()) {
    const bool stands_in_a_header = found.contains(name) && test_file_of(found.at(name)) == file;
    CAPTURE(name);
    CHECK(stands_in_a_header);
  }
}

}  // namespace every_formula
