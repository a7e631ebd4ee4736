// The bands of the trade and the defaults of the instruments are common practice, no source; the typical slips are
// recalled from a handbook (gerr_1989). What is checked against the outside is the arithmetic: uncertainty by closed
// form and by sampling, causes by putting each back into apparent_slip() or into the inch-rpm identities.
#include "hardchine/propulsion/slip_check.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <random>

#include "archetype.hpp"
#include "bad_fields.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

ScrewAdvance<> advance(double engine, double ratio, double pitch, Speed<> speed) {
  return {.engine_speed = engine * rpm, .reduction_ratio = ratio, .pitch = pitch * inch, .speed = speed};
}

template <class Cause>
const Cause* find(const SlipCheck& check) {
  for (const SlipCause& cause : check.causes)
    if (const auto* found = std::get_if<Cause>(&cause)) return found;
  return nullptr;
}

}  // namespace

TEST_CASE("uncertainty of slip against the closed form and against sampling") {
  const auto a = advance(3200.0, 1.5, 24.0, 37.0 * knot);
  const auto slip = uncertain_slip(a, {.speed = 0.3 * knot});
  // u_s = (1 - s) sqrt(u_V^2 + u_n^2 + u_P^2), with V_t from the identity 1215.2230971 (ten digits).
  const double v_t = 24.0 * 3200.0 / 1.5 / 1215.2230971, s = 1.0 - 37.0 / v_t;
  CHECK(slip.slip == absolute(s, 1e-10));
  const double u = 37.0 / v_t * std::sqrt(std::pow(0.3 / 37.0, 2) + 0.012 * 0.012 + 0.015 * 0.015);
  CHECK(slip.standard_uncertainty == relative(u, 1e-9));
  CHECK(slip.expanded_uncertainty == relative(1.96 * u, 1e-9));
  CHECK(cite(slip) == cite(slip_uncertainty_method));
  CHECK(explain(slip).empty());

  // Sampling: 400000 draws give the standard deviation to 1/sqrt(2 n) = 0.11 % (one sigma). What first order neglects is
  // about the square of the relative uncertainties, 0.05 %. Together three sigma are below 0.5 %.
  std::mt19937_64 engine(20261125);
  std::normal_distribution<double> z;
  double sum = 0.0, squares = 0.0;
  constexpr int n = 400000;
  for (int i = 0; i < n; ++i) {
    const double V = 37.0 + 0.3 * z(engine);
    const double N = 3200.0 * (1.0 + 0.012 * z(engine));
    const double P = 24.0 * (1.0 + 0.015 * z(engine));
    const double x = 1.0 - V * 1215.2230971 * 1.5 / (P * N);
    sum += x;
    squares += x * x;
  }
  const double deviation = std::sqrt(squares / n - sum / n * (sum / n));
  CHECK(slip.standard_uncertainty == relative(deviation, 0.005));
}

TEST_CASE("tachometer 1.2 % and pitch 1.5 % make 3.3 points (common practice, no source)") {
  // The defaults, on a slip of 12 % with a speed that counts as exact: 1.96 x 0.878 x 1.921 %.
  const auto slip = uncertain_slip(advance(3200.0, 1.5, 24.0, 37.0 * knot), {.speed = 0.0 * knot});
  CHECK(slip.expanded_uncertainty / percent == printed(3.3, 1));
  // The first-order formula on Dual: u_i = |ds/dx_i| u(x_i), summed in squares.
  using D = Dual<3>;
  const D s = apparent_slip<D>({.engine_speed = seed<3>(3200.0 * rpm, 0),
                                .reduction_ratio = D(1.5),
                                .pitch = seed<3>(24.0 * inch, 1),
                                .speed = seed<3>(37.0 * knot, 2)});
  const double u[] = {0.012 * (3200.0 * rpm).value(), 0.015 * (24.0 * inch).value(), (0.05 * knot).value()};
  double squares = 0.0;
  for (std::size_t i = 0; i < 3; ++i) squares += s.derivative[i] * u[i] * s.derivative[i] * u[i];
  CHECK(uncertain_slip(advance(3200.0, 1.5, 24.0, 37.0 * knot)).standard_uncertainty == rounding(std::sqrt(squares)));
}

TEST_CASE("typical slips, recalled: table and fit") {
  // 20 kn 0.2538, 30 kn 0.2015, 60 kn 0.1357 (computed with independent code).
  CHECK(typical_slip_over_speed(20.0 * knot) == printed(0.2538, 4));
  CHECK(typical_slip_over_speed(30.0 * knot) == printed(0.2015, 4));
  CHECK(typical_slip_over_speed(60.0 * knot) == printed(0.1357, 4));
  CHECK(typical_slip_method.evidence == Evidence::recalled);
  CHECK(typical_slip_row(BoatType::cruiser_or_light_powerboat, 22.0 * knot).slip == 0.24);
  CHECK(typical_slip_row(BoatType::workboat_or_heavy_powerboat, 22.0 * knot).slip == 0.26);  // its own row
  // A type without a row has that of its speed; a row ends with its last speed.
  CHECK(typical_slip_row(BoatType::outboard_runabout, 30.0 * knot).slip == 0.24);
  CHECK(typical_slip_row(BoatType::outboard_runabout, 30.1 * knot).slip == 0.20);
  CHECK(typical_slip_row(BoatType::outboard_runabout, 5.0 * knot).slip == 0.45);
  CHECK(typical_slip_row(BoatType::outboard_fast_vee, 120.0 * knot).slip == 0.07);
  // The rows follow one another without a gap, and slip falls.
  for (std::size_t i = 1; i < typical_slips.size(); ++i) {
    CHECK(typical_slips[i].above == typical_slips[i - 1].upto);
    CHECK(typical_slips[i].slip < typical_slips[i - 1].slip);
  }
}

TEST_CASE("nothing is not inside a band") {
  const UncertainSlip<> slip{.slip = 0.1, .standard_uncertainty = 0.01, .expanded_uncertainty = 0.02};
  const SlipBand band{0.05, 0.15, BandOrigin::own};
  CHECK(judge_slip(slip, band).position == BandPosition::inside);
  CHECK_THROWS_WITH_AS(judge_slip(UncertainSlip<>{}, band), doctest::Contains("judge_slip: apparent slip is not set"),
                       BadInput);
  CHECK_THROWS_WITH_AS(judge_slip(UncertainSlip<>{.slip = 0.1}, band),
                       doctest::Contains("judge_slip: expanded uncertainty is not set"), BadInput);
  CHECK_THROWS_WITH_AS(judge_slip(slip, {0.15, 0.05, BandOrigin::own}),
                       doctest::Contains("judge_slip: band low is 15 %"), BadInput);
  CHECK_THROWS_AS(judge_slip(slip, {0.05, unset, BandOrigin::own}), BadInput);
}

TEST_CASE("bands of the trade (common practice, no source)") {
  CHECK(trade_slip_band(BoatType::outboard_runabout, RunsAs::steadily)->low == 0.08);
  CHECK(trade_slip_band(BoatType::outboard_runabout, RunsAs::steadily)->high == 0.15);
  CHECK_FALSE(trade_slip_band(BoatType::fast_planing, RunsAs::steadily));
  CHECK(trade_slip_band(BoatType::fast_planing, RunsAs::on_the_hump)->high == 0.60);
}

TEST_CASE("an ordinary slip: inside, no cause, flagged as recalled") {
  const auto check =
      check_slip({.advance = advance(3200.0, 1.5, 24.0, 37.0 * knot), .boat_type = BoatType::fast_planing});
  CHECK(check.slip.slip / percent == printed(12.18114, 5));
  CHECK(in(check.theoretical_speed, knot) == printed(42.132181, 6));
  // Table 20 %, fit 1.4/37^0.57 = 17.88 %; 8 points about both: 9.88 to 28 %.
  CHECK(check.by_typical.band.low == absolute(1.4 / std::pow(37.0, 0.57) - 0.08, 1e-15));
  CHECK(check.by_typical.band.high == absolute(0.28, 1e-15));
  CHECK(check.judged.position == BandPosition::inside);
  CHECK(words(check.judged) == "inside");
  CHECK(check.causes.empty());
  CHECK_FALSE(check.by_trade);
  CHECK_FALSE(check.upside_down);
  CHECK(has_flag(check.flags, SlipCheckLimit::typical_slip_recalled));
  CHECK(has_flag(check.flags, SlipCheckLimit::judged_by_recalled));
  CHECK_FALSE(has_flag(check.flags, SlipCheckLimit::speed_outside_row));
  CHECK(explain(check).size() == 2);
  CHECK(cite(check).find("recalled") != std::string::npos);
  CHECK(causes_without_number(check.judged.position).empty());

  // The ordinary pitch and ratio, put back into apparent slip, give the middle of the band.
  const double middle = check.judged.band.middle();
  auto with = advance(3200.0, 1.5, 24.0, 37.0 * knot);
  with.pitch = check.ordinary_pitch;
  CHECK(apparent_slip(with) == absolute(middle, 1e-15));
  with = advance(3200.0, check.ordinary_ratio, 24.0, 37.0 * knot);
  CHECK(apparent_slip(with) == absolute(middle, 1e-15));
}

TEST_CASE("every cause, put back into apparent slip, lands on the edge and in the middle of the band") {
  struct Case {
    ScrewAdvance<> advance;
    BoatType type;
  };
  const Case cases[] = {{advance(5800.0, 1.75, 19.0, 56.5 * mph), BoatType::outboard_runabout},  // 5.25 %, band 8 to 15
                        {advance(5800.0, 1.75, 19.0, 48.0 * mph), BoatType::outboard_runabout},  // 19.5 %, above
                        {advance(3000.0, 2.0, 26.0, 30.5 * knot), BoatType::fast_planing},       // 5 %, below
                        {advance(2600.0, 1.5, 26.0, 24.0 * knot), BoatType::fast_planing},       // 35 %, above
                        {advance(4400.0, 0.83, 12.0, 61.0 * mph), BoatType::outboard_fast_vee}};  // -1.3 %, below 5
  for (const Case& c : cases) {
    const SlipCheck check = check_slip({.advance = c.advance, .boat_type = c.type});
    CAPTURE(check.slip.slip);
    REQUIRE(check.judged.position != BandPosition::inside);
    const double edge = check.judged.position == BandPosition::below ? check.judged.band.low : check.judged.band.high;
    const double middle = check.judged.band.middle();
    REQUIRE_FALSE(check.causes.empty());
    const auto slip_with = [&](auto&& change) {
      ScrewAdvance<> other = c.advance;
      change(other);
      return apparent_slip(other);
    };
    // A difference of two numbers near one: a few roundings.
    const double tolerance = 4e-15;
    if (const auto* p = find<OtherPitch>(check)) {
      CHECK(slip_with([&](auto& o) { o.pitch = p->at_edge; }) == absolute(edge, tolerance));
      CHECK(slip_with([&](auto& o) { o.pitch = p->at_middle; }) == absolute(middle, tolerance));
      CHECK(in(p->stamped, inch) == in(c.advance.pitch, inch));
      CHECK(std::abs(p->at_edge / p->stamped - 1.0) <= 0.15);
    }
    if (const auto* r = find<OtherRatio>(check)) {
      CHECK(slip_with([&](auto& o) { o.reduction_ratio = r->at_edge; }) == absolute(edge, tolerance));
      CHECK(slip_with([&](auto& o) { o.reduction_ratio = r->at_middle; }) == absolute(middle, tolerance));
    }
    if (const auto* t = find<TachometerOff>(check)) {
      // The truth is the reading over 1 + error.
      CHECK(slip_with([&](auto& o) { o.engine_speed = o.engine_speed / (1.0 + t->at_edge); }) ==
            absolute(edge, tolerance));
      CHECK(slip_with([&](auto& o) { o.engine_speed = o.engine_speed / (1.0 + t->at_middle); }) ==
            absolute(middle, tolerance));
    }
    if (const auto* w = find<CurrentInSpeed>(check)) {
      CHECK(slip_with([&](auto& o) { o.speed -= w->at_edge; }) == absolute(edge, tolerance));
      CHECK(slip_with([&](auto& o) { o.speed -= w->at_middle; }) == absolute(middle, tolerance));
      // Too small a slip asks for a current with the boat.
      CHECK((w->at_edge > Speed<>{}) == (check.judged.position == BandPosition::below));
    }
    if (const auto* u = find<SpeedUnitMistaken>(check)) {
      const double factor = u->knots_were_mph ? 1609.344 / 1852.0 : 1852.0 / 1609.344;
      CHECK(slip_with([&](auto& o) { o.speed = o.speed * factor; }) == absolute(u->slip_then, tolerance));
      CHECK(u->slip_then >= check.judged.band.low);
      CHECK(u->slip_then <= check.judged.band.high);
    }
    CHECK_FALSE(causes_without_number(check.judged.position).empty());
  }
}

TEST_CASE("planted mistakes are found with what they took") {
  // A boat that slips 11.5 %, the middle of the trade's band for a runabout, by the identity V = P N (1 - s)/(1056 r) mph.
  const auto honest = [](double engine, double ratio, double pitch) {
    return pitch * engine / ratio / 1056.0 * (1.0 - 0.115) * mph;
  };
  const auto check = [](const ScrewAdvance<>& a) {
    return check_slip({.advance = a, .boat_type = BoatType::outboard_runabout});
  };
  CHECK(check(advance(5000.0, 1.75, 19.0, honest(5000.0, 1.75, 19.0))).judged.position == BandPosition::inside);

  // The pitch is 20.5 in, stamped 19: for the middle it takes 20.5 again.
  const auto pitch = check(advance(5000.0, 1.75, 19.0, honest(5000.0, 1.75, 20.5)));
  REQUIRE(find<OtherPitch>(pitch) != nullptr);
  CHECK(in(find<OtherPitch>(pitch)->at_middle, inch) == rounding(20.5));
  CHECK(in(pitch.ordinary_pitch, inch) == rounding(20.5));
  CHECK(words(*std::find_if(pitch.causes.begin(), pitch.causes.end(), [](const SlipCause& c) {
          return std::holds_alternative<OtherPitch>(c);
        })) == "true pitch 19.7 in instead of 19 in as stamped (20.5 in for the middle)");

  // A sister unit of 2.0 in place of 1.75, believed to be 1.75: the boat is slower than it should be.
  const auto ratio = check(advance(5000.0, 1.75, 19.0, honest(5000.0, 2.0, 19.0)));
  REQUIRE(find<OtherRatio>(ratio) != nullptr);
  CHECK(find<OtherRatio>(ratio)->at_middle == rounding(2.0));
  CHECK(ratio.ordinary_ratio == rounding(2.0));

  // A tachometer 8 % high.
  const auto tachometer = check(advance(5000.0 * 1.08, 1.75, 19.0, honest(5000.0, 1.75, 19.0)));
  REQUIRE(find<TachometerOff>(tachometer) != nullptr);
  CHECK(find<TachometerOff>(tachometer)->at_middle == relative(0.08, 1e-13));  // a difference of numbers near one

  // 2.5 kn of current with the boat.
  const auto current = check(advance(4000.0, 1.75, 19.0, honest(4000.0, 1.75, 19.0) + 2.5 * knot));
  REQUIRE(find<CurrentInSpeed>(current) != nullptr);
  CHECK(in(find<CurrentInSpeed>(current)->at_middle, knot) == relative(2.5, 1e-13));

  // A number of mph that was taken for knots, and the reverse.
  const double number = in(honest(5000.0, 1.75, 19.0), mph);
  const auto as_knots = check(advance(5000.0, 1.75, 19.0, number * knot));
  REQUIRE(find<SpeedUnitMistaken>(as_knots) != nullptr);
  CHECK(find<SpeedUnitMistaken>(as_knots)->knots_were_mph);
  CHECK(find<SpeedUnitMistaken>(as_knots)->slip_then == absolute(0.115, 1e-15));
  SlipCheckInput typed{.advance = advance(5000.0, 1.75, 19.0, in(honest(5000.0, 1.75, 19.0), knot) * mph),
                       .boat_type = BoatType::outboard_runabout,
                       .speed_typed_in = SpeedTypedIn::miles_per_hour};
  const auto as_mph = check_slip(typed);
  REQUIRE(find<SpeedUnitMistaken>(as_mph) != nullptr);
  CHECK_FALSE(find<SpeedUnitMistaken>(as_mph)->knots_were_mph);
  // The mistake must fit the unit typed: knots cannot have been taken for mph where knots were typed.
  typed.speed_typed_in = SpeedTypedIn::knots;
  CHECK(find<SpeedUnitMistaken>(check_slip(typed)) == nullptr);
  typed.speed_typed_in = SpeedTypedIn::other;
  CHECK(find<SpeedUnitMistaken>(check_slip(typed)) == nullptr);
}

TEST_CASE("a cause that would take more than is believed is not offered") {
  const auto a = advance(2600.0, 1.5, 26.0, 24.0 * knot);  // 35 %, typical up to 31 %
  SlipCheckInput input{.advance = a, .boat_type = BoatType::fast_planing};
  CHECK(find<OtherPitch>(check_slip(input)) != nullptr);
  input.believed.pitch = 1.0 * percent;
  input.believed.tachometer = 1.0 * percent;
  input.believed.current = 0.5 * knot;
  input.believed.highest_reduction_ratio = 1.5;
  for (const SlipCause& cause : check_slip(input).causes) CHECK(std::holds_alternative<SpeedUnitMistaken>(cause));
}

TEST_CASE("a ratio upside down is noticed") {
  // Reduction 2.0 entered as 0.5: V/V_t falls to a quarter, slip about 79 %.
  const auto low =
      check_slip({.advance = advance(3000.0, 0.5, 26.0, 27.0 * knot), .boat_type = BoatType::fast_planing});
  REQUIRE(low.upside_down);
  CHECK(low.upside_down->ratio == 2.0);
  // Nothing else is explained: what follows from a wrong ratio means nothing.
  CHECK(low.judged.position == BandPosition::above);
  CHECK(low.causes.empty());
  CHECK_FALSE(is_set(low.ordinary_pitch));
  CHECK_FALSE(is_set(low.ordinary_ratio));
  CHECK(low.upside_down->slip_then == absolute(apparent_slip(advance(3000.0, 2.0, 26.0, 27.0 * knot)), 4e-16));
  // An overdrive of 0.8 entered as "1.25": slip -57 %.
  const auto high =
      check_slip({.advance = advance(4400.0, 1.25, 12.0, 55.0 * mph), .boat_type = BoatType::vee_bottom_race});
  CHECK(high.slip.slip < -0.3);
  REQUIRE(high.upside_down);
  CHECK(high.upside_down->ratio == rounding(0.8));
  CHECK(high.upside_down->slip_then == absolute(apparent_slip(advance(4400.0, 0.8, 12.0, 55.0 * mph)), 1e-15));
  // A slip that can be believed is left alone, and so is one that 1/r_g does not mend.
  CHECK_FALSE(check_slip({.advance = advance(3000.0, 2.0, 26.0, 27.0 * knot), .boat_type = BoatType::fast_planing})
                  .upside_down);
  CHECK_FALSE(check_slip({.advance = advance(3000.0, 1.0, 26.0, 10.0 * knot), .boat_type = BoatType::fast_planing})
                  .upside_down);
}

TEST_CASE("outside, but by less than the uncertainty: said") {
  // 5.25 % against 8 to 15 %: 2.75 points outside, U 3.6 points.
  const auto check =
      check_slip({.advance = advance(5800.0, 1.75, 19.0, 56.5 * mph), .boat_type = BoatType::outboard_runabout});
  CHECK(check.judged.position == BandPosition::below);
  CHECK_FALSE(check.judged.beyond_uncertainty);
  CHECK(words(check.judged) == "below, but by less than its uncertainty");
  auto sharp =
      SlipCheckInput{.advance = advance(5800.0, 1.75, 19.0, 56.5 * mph), .boat_type = BoatType::outboard_runabout};
  sharp.readings = {.speed = 0.05 * knot, .engine_speed = 0.1 * percent, .pitch = 0.3 * percent};
  CHECK(check_slip(sharp).judged.beyond_uncertainty);
}

TEST_CASE("an own band comes before the others, the hump's before the table's") {
  SlipCheckInput input{.advance = advance(2000.0, 1.5, 26.0, 14.0 * knot), .boat_type = BoatType::fast_planing};
  CHECK(check_slip(input).judged.band.origin == BandOrigin::typical);
  CHECK(has_flag(check_slip(input).flags, SlipCheckLimit::speed_outside_row));  // 14 kn, row of 30 to 45
  input.runs = RunsAs::on_the_hump;
  CHECK(check_slip(input).judged.band.origin == BandOrigin::trade);
  CHECK(check_slip(input).judged.position == BandPosition::inside);
  CHECK_FALSE(has_flag(check_slip(input).flags, SlipCheckLimit::judged_by_recalled));
  input.own_band_low = 0.10;
  input.own_band_high = 0.20;
  CHECK(check_slip(input).judged.band.origin == BandOrigin::own);
  CHECK(check_slip(input).judged.position == BandPosition::above);
  CHECK(check_slip(input).by_trade);  // still shown
}

TEST_CASE("outside 9 to 90 kn the fit over speed is left out of the band and flagged") {
  SlipCheckInput input{.advance = advance(1200.0, 2.0, 16.0, 5.0 * knot),
                       .boat_type = BoatType::sailing_auxiliary_or_barge};
  const auto slow = check_slip(input);
  CHECK_FALSE(is_set(slow.typical_over_speed));
  CHECK(has_flag(slow.flags, SlipCheckLimit::speed_outside_fit));
  CHECK(slow.by_typical.band.low == absolute(0.45 - 0.08, 1e-15));  // the row alone, 8 points about it
  CHECK(slow.by_typical.band.high == absolute(0.45 + 0.08, 1e-15));
  for (const double kn : {9.0, 90.0}) {
    input.advance = advance(6000.0, 1.0, 24.0, kn * knot);
    CHECK(check_slip(input).typical_over_speed == typical_slip_over_speed(kn * knot));
    CHECK_FALSE(has_flag(check_slip(input).flags, SlipCheckLimit::speed_outside_fit));
  }
  for (const double kn : {8.99, 90.01}) {
    input.advance = advance(6000.0, 1.0, 24.0, kn * knot);
    CHECK_FALSE(is_set(check_slip(input).typical_over_speed));
    CHECK(has_flag(check_slip(input).flags, SlipCheckLimit::speed_outside_fit));
  }
  const Limit& limit = slip_check_limits[static_cast<std::size_t>(SlipCheckLimit::speed_outside_fit)];
  CHECK(limit.low == 9.0);
  CHECK(limit.high == 90.0);
}

TEST_CASE("words of the causes") {
  CHECK(words(SlipCause{OtherRatio{1.5, 1.7464, 2.001}}) == "ratio 1.75 instead of 1.5 (2 for the middle)");
  CHECK(words(SlipCause{TachometerOff{0.0512, 0.098}}) == "tachometer reads 5 % high (10 % for the middle)");
  CHECK(words(SlipCause{TachometerOff{-0.0512, -0.098}}) == "tachometer reads 5 % low (10 % for the middle)");
  CHECK(words(SlipCause{CurrentInSpeed{1.23 * knot, 2.0 * knot}}) ==
        "1.2 kn of current with the boat in the speed (2 kn for the middle)");
  CHECK(words(SlipCause{CurrentInSpeed{-1.23 * knot, -2.0 * knot}}, {.speed = mph, .speed_symbol = "mph"}) ==
        "1.4 mph of current against the boat in the speed (2.3 mph for the middle)");
  CHECK(words(SlipCause{SpeedUnitMistaken{true, 0.1153}}) ==
        "the speed was mph and was taken for knots (slip then 11.5 %)");
  CHECK(words(BoatType::not_said) == "boat type not said");
  CHECK(words(BandOrigin::trade) == "band of the trade (practice)");
}

TEST_CASE("every bad field is refused by name") {
  const SlipCheckInput good{.advance = advance(3200.0, 1.5, 24.0, 37.0 * knot),
                            .boat_type = BoatType::fast_planing,
                            .own_band_low = 0.1,
                            .own_band_high = 0.2};
  CHECK(check_bad_fields(good, [](const auto& input) { return check_slip(input); }) == 16);
  auto input = good;
  input.boat_type = BoatType::not_said;
  CHECK_THROWS_WITH_AS(check_slip(input), "check_slip: boat type is not said; accepted: one of the boat types",
                       BadInput);
  input = good;
  input.own_band_low = 0.3;
  CHECK_THROWS_WITH_AS(check_slip(input), "check_slip: own band low is 30 %; accepted: below the upper end, 20 %",
                       BadInput);
  input.own_band_low = 0.3;
  input.own_band_high = 1.0;
  CHECK_THROWS_AS(check_slip(input), BadInput);
  input = good;
  input.advance.speed = 0.0 * knot;
  CHECK_THROWS_AS(check_slip(input), BadInput);
  CHECK_THROWS_AS(typical_slip_row(BoatType::not_said, 20.0 * knot), BadInput);
  CHECK_THROWS_AS(typical_slip_over_speed(0.0 * knot), BadInput);
}

TEST_CASE("the formulas run on the strict archetype and on Dual") {
  const ScrewAdvance<> numbers = advance(3200.0, 1.5, 24.0, 37.0 * knot);
  const ScrewAdvance<Strict> strict = numbers;
  const auto slip = uncertain_slip(strict, SlipReadings<>{});
  CHECK(slip.standard_uncertainty.reveal() == uncertain_slip(numbers).standard_uncertainty);
  CHECK(typical_slip_over_speed(widen<Strict>(20.0 * knot)).reveal() == printed(0.2538, 4));
  // d/dV of 1.4 V^-0.57 is -0.57/V of it.
  const auto fit = typical_slip_over_speed(seed<1>(20.0 * knot, 0));
  CHECK(fit.derivative[0] * (1.0 * knot).value() == rounding(-0.57 / 20.0 * fit.value));
}
