#include "hardchine/fields.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "archetype.hpp"
#include "hardchine/craft/drive_train.hpp"
#include "hardchine/craft/hull.hpp"
#include "hardchine/craft/loading.hpp"
#include "hardchine/craft/operating_point.hpp"
#include "hardchine/craft/tank.hpp"
#include "hardchine/craft/thrust_line.hpp"
#include "hardchine/fluids/water.hpp"
#include "hardchine/scalar/dual.hpp"
#include "hardchine/text.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

// A made-up aggregate: parts, a choice, a field without a unit, one in per cent, open and closed ends.
template <class T = double>
struct Inner {
  T ratio = unset;
  Length<T> depth = unset;
  static constexpr auto fields() {
    return FieldTable{field("ratio", &Inner::ratio, plain_ratio, above(0.0, 1.0)),
                      field("depth", &Inner::depth, shown(foot, "ft"), between(-3.0, 7.0), Need::optional)};
  }
  template <class U>
  requires(!std::same_as<U, T>) constexpr operator Inner<U>() const { return widen_fields<Inner<U>>(*this); }
};
enum class Colour { plain, striped };
template <class T = double>
struct Outer {
  Speed<T> speed = unset;
  Inner<T> first{};
  Colour colour = Colour::plain;
  T share = unset;
  Inner<T> second{};
  static constexpr auto fields() {
    return FieldTable{field("speed", &Outer::speed, shown(knot, "kn"), between(1.0, 150.0)),
                      part("first", &Outer::first), choice("colour", &Outer::colour),
                      field("share", &Outer::share, shown_percent, between(0.0, 100.0)),
                      part("second", &Outer::second)};
  }
  template <class U>
  requires(!std::same_as<U, T>) constexpr operator Outer<U>() const { return widen_fields<Outer<U>>(*this); }
};

// Puts `x` units of field number `index` into the aggregate.
template <class S>
void put(S& aggregate, int index, double x) {
  int i = 0;
  for_each_field(aggregate, [&](const auto& entry, auto& value) {
    using V = std::remove_cvref_t<decltype(value)>;
    if (i++ != index) return;
    if constexpr (is_quantity<V>)
      value = V::from_value(typename V::value_type(x * entry.unit.factor));
    else
      value = V(x * entry.unit.factor);
  });
}

struct FieldInWords {
  std::string name, unit;
  Range range;
  Need need;
};
template <class S>
std::vector<FieldInWords> table_of() {
  std::vector<FieldInWords> rows;
  const S aggregate{};
  for_each_field(aggregate, [&](const auto& entry, const auto&) {
    rows.push_back({std::string(entry.name), std::string(entry.unit.symbol), entry.range, entry.need});
  });
  return rows;
}

// An aggregate with every field inside its range, each at another place of it.
template <class S>
S valid() {
  S aggregate{};
  const auto rows = table_of<S>();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double share = 0.2 + 0.5 * static_cast<double>(i) / static_cast<double>(rows.size());
    put(aggregate, static_cast<int>(i), rows[i].range.low + share * (rows[i].range.high - rows[i].range.low));
  }
  return aggregate;
}

// That check_fields refuses the aggregate and says why.
template <class S>
void check_refused(const S& aggregate, const FieldInWords& row, const std::string& value) {
  CAPTURE(row.name);
  CAPTURE(value);
  const std::string u = row.unit.empty() ? "" : " " + row.unit;
  const std::string accepted = (row.range.low_open ? "above " : "") + plain_number(row.range.low) + u + " to " +
                               plain_number(row.range.high) + u;
  try {
    check_fields("some_function", aggregate);
    FAIL_CHECK("not refused");
  } catch (const BadInput& error) {
    CHECK(error.function() == "some_function");
    CHECK(error.field() == row.name);
    CHECK(error.value() == (value == "not set" ? value : value + u));
    CHECK(error.accepted() == accepted);
    CHECK(std::string(error.what()) ==
          "some_function: " + row.name + " is " + error.value() + "; accepted: " + accepted);
  }
}

// Every field of S against every kind of bad value; the neighbours stay valid.
template <class S>
void check_every_field() {
  const auto rows = table_of<S>();
  REQUIRE(rows.size() == static_cast<std::size_t>(count_fields<S>()));
  REQUIRE_FALSE(rows.empty());
  CHECK_NOTHROW(check_fields("some_function", valid<S>()));
  for (std::size_t n = 0; n < rows.size(); ++n) {
    const FieldInWords& row = rows[n];
    const int i = static_cast<int>(n);
    CAPTURE(row.name);
    CHECK_FALSE(row.name.empty());
    CHECK(row.range.low < row.range.high);
    CHECK(std::isfinite(row.range.low));
    CHECK(std::isfinite(row.range.high));  // else an infinite value would pass the door
    for (std::size_t other = 0; other < n; ++other) CHECK(rows[other].name != row.name);

    S s = valid<S>();
    put(s, i, not_a_number);  // an unset field is a NaN
    if (row.need == Need::required)
      check_refused(s, row, "not set");
    else
      CHECK_NOTHROW(check_fields("some_function", s));

    s = valid<S>();
    put(s, i, infinite);
    check_refused(s, row, "inf");
    put(s, i, -infinite);
    check_refused(s, row, "-inf");

    const double span = row.range.high - row.range.low;
    put(s, i, row.range.low - 0.5 * span);
    check_refused(s, row, plain_number(row.range.low - 0.5 * span));
    put(s, i, row.range.high + 0.5 * span);
    check_refused(s, row, plain_number(row.range.high + 0.5 * span));

    put(s, i, row.range.high);
    CHECK_NOTHROW(check_fields("some_function", s));
    put(s, i, row.range.low);
    if (row.range.low_open)
      check_refused(s, row, plain_number(row.range.low));
    else
      CHECK_NOTHROW(check_fields("some_function", s));
  }
}

// A default aggregate is refused by its first required field.
template <class S>
void check_default_refused() {
  for (const FieldInWords& row : table_of<S>())
    if (row.need == Need::required) return check_refused(S{}, row, "not set");
  FAIL_CHECK("no required field");
}

// Every symbol that messages show reads back with text.hpp as the same unit.
template <class S>
void check_symbols() {
  const S aggregate{};
  for_each_field(aggregate, [](const auto& entry, const auto& value) {
    using V = std::remove_cvref_t<decltype(value)>;
    const std::string symbol(entry.unit.symbol);
    CAPTURE(std::string(entry.name));
    CAPTURE(symbol);
    CHECK(entry.unit.factor > 0.0);
    if constexpr (is_quantity<V>) {
      REQUIRE_FALSE(symbol.empty());
      const auto read = read_quantity<V>("1 " + symbol, entry.name);
      CHECK(bare_value(read.value) == entry.unit.factor);
      CHECK(bare_value(read.last_place) == entry.unit.factor);
    } else {
      CHECK((symbol.empty() || symbol == "%"));
      CHECK(read_ratio("1 " + symbol, entry.name).value == entry.unit.factor);
    }
  });
}

double revealed(double x) { return x; }
double revealed(const Strict& x) { return x.reveal(); }
template <int N, class B>
double revealed(const Dual<N, B>& x) {
  return revealed(x.value);
}

// The numbers of an aggregate in the table's order, parts included.
template <class S>
std::vector<double> numbers(const S& aggregate) {
  std::vector<double> list;
  for_each_field(aggregate, [&](const auto&, const auto& value) { list.push_back(revealed(bare_value(value))); });
  return list;
}

// That `To` holds the same numbers and choices.
template <class To, class From>
void check_widened(const From& from) {
  const To to = from;
  CHECK(numbers(to) == numbers(from));
  const auto source = From::fields();
  const auto target = To::fields();
  [&]<std::size_t... I>(std::index_sequence<I...>) {
    const auto one = [&](const auto& a, const auto& b) {
      CHECK(a.name == b.name);
      if constexpr (!requires { a.range; } && !HasFields<std::remove_cvref_t<decltype(from.*(a.member))>>) {
        CAPTURE(std::string(a.name));
        CHECK((to.*(b.member) == from.*(a.member)));
      }
    };
    (one(entry_of<I>(source), entry_of<I>(target)), ...);
  }
  (std::make_index_sequence<decltype(source)::size>{});
  // Twice widened, and unset stays unset.
  const To empty = From{};
  for (const double x : numbers(empty)) CHECK(std::isnan(x));
  CHECK_NOTHROW(check_fields("some_function", to));
}
template <template <class> class S>
void check_widens(const S<double>& from) {
  // No entry of the table, choices included, stands there twice.
  std::set<std::string_view> names;
  for_each_entry(S<double>::fields(), [&](const auto& entry) { names.insert(entry.name); });
  CHECK(names.size() == decltype(S<double>::fields())::size);
  check_widened<S<Strict>>(from);
  check_widened<S<Dual<2>>>(from);
  check_widened<S<Dual<1, Strict>>>(from);
}

}  // namespace

TEST_CASE_TEMPLATE("the door refuses every kind of bad value in every field", S, Hull<>, Loading<>, WeightItem<>,
                   Tank<>, DriveTrain<>, OperatingPoint<>, ThrustLine<>, Water<>, Salinity<>, Inner<>, Hull<Dual<2>>,
                   Loading<Dual<1>>, OperatingPoint<Dual<3>>) {
  check_every_field<S>();
}

TEST_CASE("the door refuses a bad part inside an aggregate") {
  // Names repeat in the two parts, so that check_every_field does not apply.
  const auto rows = table_of<Outer<>>();
  REQUIRE(rows.size() == 6);
  CHECK(count_fields<Outer<>>() == 6);
  const std::vector<std::string> names = {"speed", "ratio", "depth", "share", "ratio", "depth"};
  for (std::size_t i = 0; i < rows.size(); ++i) CHECK(rows[i].name == names[i]);
  for (const int i : {1, 4}) {
    Outer<> s = valid<Outer<>>();
    CHECK_NOTHROW(check_fields("some_function", s));
    put(s, i, 2.0);
    check_refused(s, rows[static_cast<std::size_t>(i)], "2");
    put(s, i, not_a_number);
    check_refused(s, rows[static_cast<std::size_t>(i)], "not set");
  }
  Outer<> s = valid<Outer<>>();
  s.share = 1.01;
  check_refused(s, rows[3], "101");
  s.share = 1.0;
  s.second.depth = -4.0 * foot;
  check_refused(s, rows[5], "-4");
}

TEST_CASE_TEMPLATE("a default aggregate is refused", S, Hull<>, Loading<>, WeightItem<>, Tank<>, DriveTrain<>,
                   OperatingPoint<>, ThrustLine<>, Water<>, Outer<>, Hull<Strict>, Water<Dual<2>>) {
  check_default_refused<S>();
}

TEST_CASE_TEMPLATE("every shown symbol reads back as its unit", S, Hull<>, Loading<>, WeightItem<>, Tank<>,
                   DriveTrain<>, OperatingPoint<>, ThrustLine<>, Water<>, Outer<>) {
  check_symbols<S>();
}

TEST_CASE("aggregates widen to other scalars with all their choices") {
  Hull<> hull = valid<Hull<>>();
  hull.beam_taken = BeamTaken::in_stagnation_area;
  hull.deadrise_taken = DeadriseTaken::transom;
  hull.number_of_hulls = 2;
  hull.stepped = true;
  check_widens(hull);
  check_widens(valid<Loading<>>());
  WeightItem<> item = valid<WeightItem<>>();
  item.name = "gear";
  check_widens(item);
  CHECK(WeightItem<Strict>(item).name == "gear");
  Tank<> tank = valid<Tank<>>();
  tank.name = "fuel port";
  check_widens(tank);
  CHECK(Tank<Dual<2>>(tank).name == "fuel port");
  DriveTrain<> drive = valid<DriveTrain<>>();
  drive.lines = 3;
  check_widens(drive);
  OperatingPoint<> point = valid<OperatingPoint<>>();
  point.origin = PointOrigin::predicted;
  check_widens(point);
  ThrustLine<> line = valid<ThrustLine<>>();
  line.reference = ThrustReference::point;
  check_widens(line);
  check_widens(valid<Water<>>());
  check_widens(valid<Salinity<>>());
  Outer<> outer = valid<Outer<>>();
  outer.colour = Colour::striped;
  check_widens(outer);
}

TEST_CASE("a widened aggregate has no derivatives") {
  const Hull<Dual<2>> hull = valid<Hull<>>();
  for_each_field(hull, [](const auto&, const auto& value) {
    CHECK(bare_value(value).derivative[0] == 0.0);
    CHECK(bare_value(value).derivative[1] == 0.0);
  });
}

TEST_CASE("is_set and require_set") {
  CHECK(is_set(0.0));
  CHECK(is_set(infinite));
  CHECK_FALSE(is_set(not_a_number));
  CHECK(is_set(3.0 * metre));
  CHECK_FALSE(is_set(Length<>(unset)));
  CHECK_FALSE(is_set(Length<Strict>(unset)));
  CHECK(is_set(Strict(1.0) * metre));
  CHECK_FALSE(is_set(Dual<2>(unset)));
  Dual<1> kink(0.0);
  kink.derivative[0] = infinite;
  CHECK(is_set(kink));  // the value counts
  CHECK_NOTHROW(require_set("f", "LCG", 1.0 * metre, "set"));
  try {
    require_set("f", "LCG", Length<>(unset), "-5 m to 150 m");
    FAIL_CHECK("not refused");
  } catch (const BadInput& error) {
    CHECK(std::string(error.what()) == "f: LCG is not set; accepted: -5 m to 150 m");
  }
}

TEST_CASE("ranges in words") {
  CHECK(accepted_range(between(0.0, 45.0), shown(degree, "deg")) == "0 deg to 45 deg");
  CHECK(accepted_range(above(0.05, 30.0), shown(metre, "m")) == "above 0.05 m to 30 m");
  CHECK(accepted_range(between(0.3, 10.0), plain_ratio) == "0.3 to 10");
  CHECK(accepted_range(between(0.0, 100.0), shown_percent) == "0 % to 100 %");
}

TEST_CASE("a limit entered in its own unit is accepted, though the unit is no round number in SI") {
  // x * u / u may come out one unit in the last place high; a limit is a decimal that a user may write.
  std::mt19937_64 random(45);
  std::uniform_int_distribution<int> hundredths(1, 100000);
  int refused = 0;
  double example = 0.0;
  for (int i = 0; i < 2000; ++i) {
    const double limit = 0.01 * hundredths(random);
    for (const ShownUnit unit : {shown(degree, "deg"), shown(inch, "in"), shown(foot, "ft"), shown(knot, "kn"),
                                 shown(rpm, "rpm"), shown(litre_per_hour, "L/h"), shown_percent}) {
      const double value = limit * unit.factor;
      try {
        check_value("f", "x", value, unit, between(limit, 2.0 * limit));
        check_value("f", "x", value, unit, between(0.0, limit));
      } catch (const BadInput&) {
        ++refused;
        example = limit;
      }
    }
  }
  CAPTURE(example);
  CHECK(refused == 0);
}

TEST_CASE("a value just beyond a limit does not read in the message like the limit") {
  for (const double x : {45.0000001, 45.0 * (1.0 + 1e-12), -1e-9}) {
    try {
      check_value("f", "deadrise", x * degree, shown(degree, "deg"), between(0.0, 45.0));
    } catch (const BadInput& error) {
      CHECK(error.value() != "45 deg");
      CHECK(error.value() != "0 deg");
    }
  }
  CHECK_THROWS_AS(check_value("f", "x", 45.0000001 * degree, shown(degree, "deg"), between(0.0, 45.0)), BadInput);
}

TEST_CASE("a strict scalar passes the same door") {
  CHECK_NOTHROW(check_fields("f", Hull<Strict>(valid<Hull<>>())));
  Hull<Strict> hull = valid<Hull<>>();
  hull.deadrise = Strict(50.0) * degree;
  try {
    check_fields("f", hull);
    FAIL_CHECK("not refused");
  } catch (const BadInput& error) {
    CHECK(error.field() == "deadrise");
    CHECK(error.accepted() == "0 deg to 45 deg");
  }
  hull.deadrise = unset;
  CHECK_THROWS_AS(check_fields("f", hull), BadInput);
}

TEST_CASE("a field above zero takes no number whose reciprocal is infinite") {
  Inner<> inner{.ratio = 1e-40};
  CHECK_THROWS_WITH_AS(check_fields("f", inner), "f: ratio is 1e-40; accepted: 1e-30 to 1", BadInput);
  inner.ratio = 1e-30;
  CHECK_NOTHROW(check_fields("f", inner));
}
