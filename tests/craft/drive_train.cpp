#include "hardchine/craft/drive_train.hpp"

#include <doctest/doctest.h>

#include <string>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

std::string refusal(const DriveTrain<>& drive) {
  try {
    check_fields("slip", drive);
    return "";
  } catch (const BadInput& error) {
    return error.what();
  }
}

}  // namespace

TEST_CASE("a drive train needs its ratio and pitch; the rest may stay open") {
  DriveTrain<> drive{.reduction_ratio = 1.5, .pitch = 24.0 * inch};
  CHECK(refusal(drive).empty());
  CHECK(drive.lines == 1);
  CHECK_FALSE(is_set(drive.diameter));
  CHECK_FALSE(is_set(drive.rated_engine_speed));
  CHECK_FALSE(is_set(drive.rated_power));
  CHECK(refusal(DriveTrain<>{}) == "slip: reduction ratio is not set; accepted: 0.3 to 10");
  drive.pitch = unset;
  CHECK(refusal(drive) == "slip: pitch is not set; accepted: 1 in to 200 in");
}

TEST_CASE("the door of a drive train") {
  const DriveTrain<> good{.reduction_ratio = 2.0,
                          .pitch = 610.0 * millimetre,
                          .diameter = 560.0 * millimetre,
                          .rated_engine_speed = 2800.0 * rpm,
                          .rated_power = 294.0 * kilowatt,
                          .lines = 2};
  CHECK(refusal(good).empty());
  DriveTrain<> drive = good;
  drive.pitch = 24.0 * metre;  // inches taken for metres
  CHECK(refusal(drive) == "slip: pitch is 944.882 in; accepted: 1 in to 200 in");
  drive = good;
  drive.reduction_ratio = 0.0;
  CHECK(refusal(drive) == "slip: reduction ratio is 0; accepted: 0.3 to 10");
  // What is open may stay so, but what is given must make sense.
  drive = good;
  drive.diameter = 0.0 * inch;
  CHECK(refusal(drive) == "slip: diameter is 0 in; accepted: 2 in to 200 in");
  drive = good;
  drive.rated_engine_speed = 2800.0 * revolution_per_second;  // turns a minute taken for turns a second
  CHECK(refusal(drive) == "slip: rated engine speed is 168000 rpm; accepted: 100 rpm to 20000 rpm");
  drive = good;
  drive.rated_power = -1.0 * kilowatt;
  CHECK(refusal(drive) == "slip: rated power is -1 kW; accepted: 0.5 kW to 20000 kW");
}

TEST_CASE("a drive train in other scalars keeps its count of lines") {
  const DriveTrain<> drive{.reduction_ratio = 2.0, .pitch = 24.0 * inch, .rated_power = 294.0 * kilowatt, .lines = 2};
  const DriveTrain<Strict> strict = drive;
  CHECK(strict.lines == 2);
  CHECK(strict.reduction_ratio.reveal() == 2.0);
  CHECK(in(strict.pitch, inch).reveal() == relative(24.0, 2.3e-16));
  CHECK_FALSE(is_set(strict.diameter));
  CHECK_NOTHROW(check_fields("slip", strict));
  const DriveTrain<Dual<3>> dual = drive;
  CHECK(dual.lines == 2);
  CHECK(in(plain(dual.rated_power), kilowatt) == 294.0);
  CHECK_NOTHROW(check_fields("slip", dual));
}
