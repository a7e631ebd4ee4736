#include "hardchine/outcome.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <set>
#include <string>
#include <type_traits>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"

using namespace hardchine;

namespace {

// A made-up method: nothing of it stands in print.
enum class MadeUp : std::uint8_t { too_slow, too_wide, too_steep };
constexpr std::array made_up_limits{
    Limit{"speed coefficient below 1", "nobody_1900 p 1", 1.0, no_limit},
    Limit{"beam load coefficient outside 0.1 to 0.9", "nobody_1900 p 2", 0.1, 0.9},
    Limit{"deadrise above 30 deg", "nobody_1900 p 3", 0.0, 30.0},
};
constexpr Method made_up{"made-up method", "nobody_1900", "eq 1, 2", Evidence::transcribed, made_up_limits, "nothing"};

}  // namespace

TEST_CASE("unset is a NaN of any quantity over any scalar") {
  const Length<> length = unset;
  CHECK(std::isnan(length.value()));
  const double number = unset;
  CHECK(std::isnan(number));
  const long double wide = unset;
  CHECK(std::isnan(wide));
  const Strict strict = unset;
  CHECK(std::isnan(strict.reveal()));
  const Speed<Strict> strict_speed = unset;
  CHECK(std::isnan(strict_speed.value().reveal()));
  const Dual<2> dual = unset;
  CHECK(std::isnan(dual.value));
  CHECK(dual.derivative[0] == 0.0);
  const Angle<Dual<3>> angle = unset;
  CHECK(std::isnan(angle.value().value));
  const Mass<Dual<2, Strict>> nested = unset;
  CHECK(std::isnan(nested.value().value.reveal()));
  // Whole numbers, truth values, text and choices have no unset.
  static_assert(!std::is_convertible_v<Unset, int> && !std::is_convertible_v<Unset, bool>);
  static_assert(!std::is_convertible_v<Unset, std::string> && !std::is_convertible_v<Unset, Outcome>);
  // It is a constant expression, so that it can be a default.
  constexpr Length<> at_compile_time = unset;
  static_assert(!(at_compile_time.value() == at_compile_time.value()));
}

TEST_CASE("plain_number writes up to six significant digits") {
  CHECK(plain_number(0.0) == "0");
  CHECK(plain_number(-2.5) == "-2.5");
  CHECK(plain_number(0.1) == "0.1");
  CHECK(plain_number(1.0 / 3.0) == "0.333333");
  CHECK(plain_number(2.0 / 3.0) == "0.666667");
  CHECK(plain_number(123456.7) == "123457");
  CHECK(plain_number(1e-7) == "1e-07");
  CHECK(plain_number(no_limit) == "inf");
  CHECK(plain_number(-no_limit) == "-inf");
  CHECK(plain_number(std::nan("")) == "nan");
  CHECK(plain_number(-1.23456789e-300) == "-1.23457e-300");
}

TEST_CASE("BadInput names function, field, value and what is accepted") {
  const BadInput error("slip", "pitch", "-2 in", "1 in to 200 in");
  CHECK(error.function() == "slip");
  CHECK(error.field() == "pitch");
  CHECK(error.value() == "-2 in");
  CHECK(error.accepted() == "1 in to 200 in");
  CHECK(std::string(error.what()) == "slip: pitch is -2 in; accepted: 1 in to 200 in");
  static_assert(std::is_base_of_v<std::invalid_argument, BadInput>);
  CHECK_THROWS_AS(throw error, std::invalid_argument);
}

TEST_CASE("every outcome and every mark of evidence has its own words") {
  std::set<std::string_view> seen;
  for (const Outcome outcome :
       {Outcome::converged, Outcome::trim_beyond_range, Outcome::runs_out_of_length, Outcome::unstable_only,
        Outcome::load_not_positive, Outcome::bottom_velocity_undefined, Outcome::not_converged})
    seen.insert(words(outcome));
  CHECK(seen.size() == 7);
  CHECK(seen.count(words(static_cast<Outcome>(200))) == 0);
  CHECK(words(Outcome::converged) == "converged");

  seen.clear();
  for (const Evidence evidence : {Evidence::printed, Evidence::transcribed, Evidence::recalled, Evidence::practice})
    seen.insert(words(evidence));
  CHECK(seen == std::set<std::string_view>{"printed", "transcribed", "recalled", "practice"});
  CHECK(seen.count(words(static_cast<Evidence>(200))) == 0);
}

TEST_CASE("flags are bits into the method's limits") {
  static_assert(flag(MadeUp::too_slow) == 1U && flag(MadeUp::too_wide) == 2U && flag(MadeUp::too_steep) == 4U);
  const Flags flags = flag(MadeUp::too_steep) | flag(MadeUp::too_slow);
  CHECK(has_flag(flags, MadeUp::too_slow));
  CHECK_FALSE(has_flag(flags, MadeUp::too_wide));
  CHECK(has_flag(flags, MadeUp::too_steep));
  CHECK_FALSE(has_flag(0, MadeUp::too_slow));

  const auto sentences = explain(flags, made_up);
  REQUIRE(sentences.size() == 2);
  CHECK(sentences[0] == "speed coefficient below 1");
  CHECK(sentences[1] == "deadrise above 30 deg");
  CHECK(explain(0, made_up).empty());
  CHECK(explain(~Flags{0}, made_up).size() == made_up_limits.size());  // bits beyond the list say nothing
  CHECK(explain(~Flags{0}, Method{"", "", "", Evidence::practice, {}, ""}).empty());
}

TEST_CASE("explain reads all 32 bits") {
  enum class Bit : std::uint8_t { last = 31 };
  std::array<Limit, 32> limits{};
  limits.fill(Limit{"inside", "", 0.0, 1.0});
  limits[31].sentence = "the last one";
  const auto sentences = explain(flag(Bit::last), Method{"", "", "", Evidence::practice, limits, ""});
  REQUIRE(sentences.size() == 1);
  CHECK(sentences[0] == "the last one");
}

TEST_CASE("cite gives source, equations and evidence") { CHECK(cite(made_up) == "nobody_1900 eq 1, 2 (transcribed)"); }

TEST_CASE("outcomes and flags are kept once for a scalar of one lane") {
  static_assert(std::same_as<PerLane<double, Outcome>, Outcome>);
  static_assert(std::same_as<PerLane<Dual<2>, Flags>, Flags>);
  static_assert(std::same_as<PerLane<Dual<2, Strict>, Flags>, PerLane<Strict, Flags>>);
  Flags flags = 0;
  raise_where(flags, true, flag(MadeUp::too_wide));
  raise_where(flags, false, flag(MadeUp::too_steep));
  raise_where(flags, StrictMask(true), flag(MadeUp::too_slow));
  raise_where(flags, StrictMask(false), flag(MadeUp::too_steep));
  CHECK(flags == 3U);
  Outcome outcome = Outcome::not_converged;
  assign_where(outcome, false, Outcome::converged);
  CHECK(outcome == Outcome::not_converged);
  assign_where(outcome, true, Outcome::converged);
  CHECK(outcome == Outcome::converged);
  assign_where(outcome, StrictMask(true), Outcome::unstable_only);
  CHECK(outcome == Outcome::unstable_only);
}
