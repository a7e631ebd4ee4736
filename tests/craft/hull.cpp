#include "hardchine/craft/hull.hpp"

#include <doctest/doctest.h>

#include <string>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

constexpr Hull<> workboat{.chine_beam = 3.2 * metre, .deadrise = 18.0 * degree, .projected_chine_length = 10.8 * metre};

std::string refusal(const Hull<>& hull) {
  try {
    check_fields("planing", hull);
    return "";
  } catch (const BadInput& error) {
    return error.what();
  }
}

// As a formula takes it: the hull may be of numbers where the speed is not.
template <class T>
T aspect(const Hull<T>& hull, const Length<T>& wetted) {
  return T(wetted / hull.chine_beam);
}

}  // namespace

TEST_CASE("a hull says where its beam and deadrise were taken, and is one unstepped hull unless told") {
  CHECK(workboat.beam_taken == BeamTaken::maximum_over_chines);
  CHECK(workboat.deadrise_taken == DeadriseTaken::mid_chine);
  CHECK(workboat.number_of_hulls == 1);
  CHECK_FALSE(workboat.stepped);
  CHECK(refusal(workboat).empty());
  CHECK(count_fields<Hull<>>() == 3);
}

TEST_CASE("the door of a hull") {
  CHECK(refusal(Hull<>{}) == "planing: chine beam is not set; accepted: above 0.05 m to 30 m");
  Hull<> hull = workboat;
  hull.chine_beam = -3.2 * metre;
  CHECK(refusal(hull) == "planing: chine beam is -3.2 m; accepted: above 0.05 m to 30 m");
  hull = workboat;
  hull.deadrise = 46.0 * degree;
  CHECK(refusal(hull) == "planing: deadrise is 46 deg; accepted: 0 deg to 45 deg");
  hull.deadrise = 18.0 * radian;  // degrees taken for radians
  CHECK(refusal(hull) == "planing: deadrise is 1031.32 deg; accepted: 0 deg to 45 deg");
  // A flat plate and the limit are hulls.
  hull.deadrise = 0.0 * degree;
  CHECK(refusal(hull).empty());
  hull.deadrise = 45.0 * degree;
  CHECK(refusal(hull).empty());
  hull = workboat;
  hull.projected_chine_length = 10800.0 * metre;  // millimetres taken for metres
  CHECK(refusal(hull) == "planing: projected chine length is 10800 m; accepted: above 0.1 m to 150 m");
  hull.projected_chine_length = unset;
  CHECK(refusal(hull) == "planing: projected chine length is not set; accepted: above 0.1 m to 150 m");
}

TEST_CASE("a hull of numbers meets other scalars, choices included") {
  Hull<> hull = workboat;
  hull.beam_taken = BeamTaken::mean_over_chines;
  hull.deadrise_taken = DeadriseTaken::in_stagnation_area;
  hull.number_of_hulls = 2;
  hull.stepped = true;
  const auto same_choices = [&](const auto& wide) {
    return wide.beam_taken == hull.beam_taken && wide.deadrise_taken == hull.deadrise_taken &&
           wide.number_of_hulls == 2 && wide.stepped;
  };
  const Hull<Dual<2>> dual = hull;
  CHECK(same_choices(dual));
  CHECK(in(plain(dual.chine_beam), metre) == 3.2);
  CHECK(in(plain(dual.deadrise), degree) == 18.0);
  const Hull<Strict> strict = hull;
  CHECK(same_choices(strict));
  CHECK(in(strict.projected_chine_length, metre).reveal() == 10.8);
  CHECK(aspect<Strict>(hull, Strict(9.6) * metre).reveal() == relative(3.0, 2.3e-16));
  const Dual<1> lambda = aspect<Dual<1>>(hull, seed<1>(9.6 * metre, 0));
  CHECK(lambda.derivative[0] == relative(1.0 / 3.2, 2.3e-16));
}
