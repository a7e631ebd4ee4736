// The trial page, run as a user runs it: exit status, what is on each stream, nothing printed of a wrong file.
#include "figure.hpp"
#include "hardchine/economy/fuel_economy.hpp"
#include "program.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace {

using namespace hardchine;
using namespace trial_page_test;

/// A page was printed and nothing was said on the error stream.
void check_page(const Answer& answer) {
  CHECK(answer.status == 0);
  CHECK(answer.err.empty());
  CHECK(holds(answer.out, "Cautions"));
  CHECK(holds(answer.out, "kill cord"));
}

TEST_CASE("the demo gives the stored pages (a regression: they were made by this program and read by eye)") {
  const Folder folder;
  for (const std::string units : {"us", "nautical", "metric"}) {
    CAPTURE(units);
    const Answer answer = run(folder, "'" + demo_path + "' --units " + units);
    check_page(answer);
    CHECK(answer.out == text_of(files::path(TRIAL_PAGE_FOLDER) / ("demo_" + units + ".txt")));
  }
  CHECK(run(folder, "'" + demo_path + "'").out == text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt"));
}

// By hand, with bc from the numbers in demo.toml and the definitions alone: m = sum m_i, V = (out + back)/2, q/V,
// V/q, F = 1330 L - 0.10 * 1400 L, P n/r, 1 - V/(P n/r). The last digit is the page's rounding.
TEST_CASE("figures of the demo agree with a calculation by hand") {
  const std::string page = text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt");
  // 8760 + 210 + 135 + 2*88 + 3*75 + 0.8*700*0.84 + 0.76*700*0.84 + 0.6*150*0.9991 = 10513.2 kg, LCG 4.26 m
  CHECK(holds(page, "10510  4.26"));
  // 2600 rpm: (30.3 + 29.1)/2 = 29.7 kn; 137.3/29.7 = 4.6229 L/nmi; 29.7/137.3*3.785411784 = 0.81884 nmi/US gal,
  // times 1.150779448 = 0.94231 mi/US gal; 1190/137.3 = 8.6672 h, times 29.7 = 257.41 nmi
  CHECK(holds(page, "2600   29.7      137.3       0.819      0.942    4.62    257       8.67"));
  // 26 in * 2600 rpm/1.5 = 37.0850 kn; 1 - 29.7/37.0850 = 0.19914
  CHECK(holds(page, "2600   29.7         37.1           19.9"));
}

TEST_CASE("what the prediction cannot say is said in words, and no figure stands beside it") {
  const std::string page = text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt");
  CHECK(holds(page, "   900    7.3  no figures: C_v below 1"));
  CHECK(holds(page, "  1500   11.7  no figures: wetted keel longer than the projected chine length"));
  CHECK(holds(page, "hump, under-predicted: volume Froude number 1.5 to 2.5"));
}

TEST_CASE("no trace of a figure that is not a number") {
  for (const std::string units : {"us", "nautical", "metric"}) {
    const std::string page = text_of(files::path(TRIAL_PAGE_FOLDER) / ("demo_" + units + ".txt"));
    for (const std::string word : {"nan", "inf ", "-0.0 ", "e+0"}) CHECK_FALSE(holds(page, word));
  }
}

TEST_CASE("a page without a prediction is complete and says in one line why") {
  const std::string demo = text_of(demo_path);
  const struct {
    std::string what, text, reason;
  } cases[] = {
      {"no block", without_block(demo, "[prediction]"), "no prediction: the file has no [prediction] block\n"},
      {"two hulls", with(demo, "number_of_hulls = 1", "number_of_hulls = 2"),
       "no prediction: the method takes one hull, and the file gives 2\n"},
      {"stepped", with(demo, "stepped = false", "stepped = true"),
       "no prediction: the method takes a bottom without steps, and the file gives a stepped one\n"},
  };
  const std::string whole = run_on(demo).out;
  for (const auto& c : cases) {
    CAPTURE(c.what);
    const Answer answer = run_on(c.text);
    check_page(answer);
    CHECK(holds(answer.out, c.reason));
    // All that was measured is the same.
    const auto measured = [](const std::string& page) {
      const auto from = page.find("Load as tested"), to = page.find("Calm-water prediction");
      REQUIRE(to != std::string::npos);
      return page.substr(from, to - from);
    };
    CHECK(measured(answer.out) == measured(whole));
  }
}

TEST_CASE("letters beyond ASCII keep the columns in line") {
  const Answer answer = run_on(with(text_of(demo_path), "\"Fuel, port\"", "\"R\u00e9serve\""));
  check_page(answer);
  // Column of the mass: as many letters before it as in the line below it.
  const auto letters_before = [&](const std::string& name, const std::string& mass) {
    const auto from = answer.out.find(name);
    REQUIRE(from != std::string::npos);
    const auto line = answer.out.substr(from, answer.out.find('\n', from) - from);
    return std::count_if(line.begin(), line.begin() + static_cast<std::ptrdiff_t>(line.find("  " + mass + "  ")),
                         [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
  };
  CHECK(letters_before("R\u00e9serve", "470") == letters_before("Fuel, starboard", "450"));
}

TEST_CASE("what is optional may be left out") {
  const std::string demo = text_of(demo_path);
  std::string least = demo;
  for (const std::string block : {"[trial]", "[conditions]", "[water]", "[declared]", "[drive]", "[power]", "[hull]",
                                  "[prediction]", "[[stated_range]]", "[[acceleration]]", "[[acceleration]]"})
    least = without_block(least, block);
  least = with(least, "co2_basis = ", "# ");
  const Answer answer = run_on(least);
  check_page(answer);
  CHECK(holds(answer.out, "standard sea water at 15 C (assumed: the file names none)"));
  CHECK(holds(answer.out, "no theoretical speed and no slip: the file has no [drive] block"));
  CHECK(holds(answer.out, "no beam load coefficient and no F_n by beam: the file gives no chine beam"));
  CHECK(holds(answer.out, "no prediction: the file has no [prediction] block"));
  CHECK(holds(answer.out, "no CO2: [fuel] names no co2_basis"));
  CHECK(holds(answer.out, "no propulsive coefficient: the file has no [power] block"));
  CHECK(holds(answer.out, "depth   not stated"));
  CHECK_FALSE(holds(answer.out, "Timed acceleration"));

  const Answer no_place = run_on(with(without_block(demo, "[prediction]"), "x = \"4.31 m\"\n", ""));
  check_page(no_place);
  CHECK(holds(no_place.out, "10510     -  -0.01  1.14"));
}

TEST_CASE("one step is enough: a page without a best cruise") {
  std::string one = without_block(text_of(demo_path), "[[stated_range]]");
  one = one.substr(0, one.find("[[step]]"));
  const Answer answer = run_on(one + "[[step]]\nengine_speed = \"2600 rpm\"\nout = \"30.3 kn\"\nback = \"29.1 kn\"\n" +
                               "fuel_flow = \"137.3 L/h\"\n");
  check_page(answer);
  CHECK(holds(answer.out, "top speed                   29.7 kn at 2600 rpm"));
  CHECK(holds(answer.out, "best economy, planing       none: one step only, nothing to compare"));
}

TEST_CASE("more runs than a pair, and runs that give no speed") {
  std::string head = without_block(text_of(demo_path), "[[stated_range]]");
  head = head.substr(0, head.find("[[step]]"));
  const auto step = [&](const std::string& runs) {
    return run_on(head + "[[step]]\nengine_speed = \"2300 rpm\"\nfuel_flow = \"108.1 L/h\"\nruns = [" + runs + "]\n");
  };
  // (26.0 + 2*24.6 + 25.6)/4 = 25.2, half-difference (26.0 + 25.6)/4 - 24.6/2 = 0.6
  const Answer three = step(R"({ out = "26.0 kn", time = "0 min" }, { back = "24.6 kn", time = "8 min" },
                               { out = "25.6 kn", time = "16 min" })");
  check_page(three);
  CHECK(holds(three.out, "2300  25.8  24.6   25.2              0.6"));
  CHECK(holds(three.out, "mean of means"));

  const Answer one = step(R"({ out = "26.0 kn" })");
  check_page(one);
  CHECK(holds(one.out, "note: one run one way: the current is not removed from the speed"));

  const Answer same_way = step(R"({ out = "26.0 kn" }, { out = "25.8 kn" })");
  check_page(same_way);
  CHECK(holds(same_way.out, "no speed: all runs one way: the current cannot be removed"));
  CHECK(holds(same_way.out, "no top speed: no step has a speed"));
}

TEST_CASE("a reserve that leaves no fuel is said in words") {
  const Answer answer = run_on(with(text_of(demo_path), "\"10 % of capacity\"", "\"1340 L\""));
  check_page(answer);
  CHECK(holds(answer.out, "no range: the reserve leaves no fuel to burn"));
}

TEST_CASE("every reserve has its name on the page") {
  const std::string demo = text_of(demo_path);
  const struct {
    std::string written, printed;
  } cases[] = {{"thirds", "thirds: one third"},
               {"20 % per leg", "20 % of each leg's burn"},
               {"150 L", "150 L held back"},
               {"none", "nothing held back"}};
  for (const auto& c : cases) {
    CAPTURE(c.written);
    const Answer answer = run_on(with(demo, "10 % of capacity", c.written));
    check_page(answer);
    CHECK(holds(answer.out, "reserve: " + c.printed));
  }
}

struct Wrong {
  std::string what, from, to;      ///< the demo with `from` replaced by `to`
  std::string at;                  ///< what stands on the line that the message names; empty: a message without line
  std::vector<std::string> parts;  ///< what the message says
};

TEST_CASE("a wrong file: exit status 2, one message with file, line, field, value, what is accepted, no page") {
  const std::string demo = text_of(demo_path);
  const std::vector<Wrong> cases{
      {"required field missing",
       "mass = \"8760 kg\"\n",
       "",
       "[[weight]]",
       {"field mass in [[weight]] 1", "not set", "0 kg to 1"}},
      {"bare number",
       "\"8760 kg\"",
       "8760",
       "8760",
       {"field mass in [[weight]] 1", "value 8760", "bare number", "kg, lb, t"}},
      {"bare number in quotes",
       "\"8760 kg\"",
       "\"8760\"",
       "\"8760\"",
       {"field mass", "\"8760\" without a unit", "kg, lb, t"}},
      {"bare real number", "\"27.0 kn\"", "27.5", "27.5", {"field back in [[step]] 7", "value 27.5", "kn, mph, km/h"}},
      {"wrong unit", "\"8760 kg\"", "\"8760 kn\"", "8760 kn", {"field mass", "\"8760 kn\"", "kg, lb, t"}},
      {"ambiguous unit",
       "capacity = \"700 L\"",
       "capacity = \"185 gal\"",
       "185 gal",
       {"field capacity in [[tank]] 1", "\"185 gal\"", "US gal, imp gal"}},
      {"comma for a point", "\"27.0 kn\"", "\"27,0 kn\"", "27,0 kn", {"field back", "\"27,0 kn\""}},
      {"not a number",
       "\"27.0 kn\"",
       "\"nan kn\"",
       "nan kn",
       {"field back", "\"nan kn\"", "a number with a unit of speed"}},
      {"unknown key",
       "fuel_flow = \"10.8",
       "feul_flow = \"10.8",
       "feul_flow",
       {"field feul_flow in [[step]] 1", "unknown", "nearest known: fuel_flow"}},
      {"unknown block",
       "[drive]",
       "[drives]",
       "[drives]",
       {"field drives in the file", "unknown", "nearest known: drive"}},
      {"fill over 100 %",
       "fill = \"80 %\"",
       "fill = \"120 %\"",
       "120 %",
       {"field fill in [[tank]] 1", "value 120 %", "0 % to 100 %"}},
      {"bare fill", "fill = \"80 %\"", "fill = 80", "fill = 80", {"field fill in [[tank]] 1", "value 80", "per cent"}},
      {"negative speed",
       "\"7.6 kn\"",
       "\"-7.6 kn\"",
       "-7.6 kn",
       {"field out in [[step]] 1", "-7.6 kn", "above 0 kn to 150 kn"}},
      {"no such contents",
       "\"fresh water\"",
       "\"beer\"",
       "\"beer\"",
       {"field contents in [[tank]] 3", "\"beer\"", "\"diesel\""}},
      {"other contents without density",
       "\"fresh water\"",
       "\"other\"",
       "[[tank]]\nname = \"Fresh",
       {"field density in [[tank]] 3", "not set", "500 kg/m3 to 1500 kg/m3"}},
      {"no such standard",
       "\"ISO 12217 adult\"",
       "\"ISO 12217\"",
       "\"ISO 12217\"",
       {"field standard in [[people]] 2", "46 CFR 170.090"}},
      {"mass twice",
       "standard =",
       "each = \"75 kg\"\nstandard =",
       "each = \"75 kg\"",
       {"field each in [[people]] 2", "either each"}},
      {"no count",
       "count = 2",
       "count = \"2\"",
       "count = \"2\"",
       {"field count in [[people]] 1", "a whole number from 0 to 1000"}},
      {"no such reserve",
       "\"10 % of capacity\"",
       "\"10 %\"",
       "\"10 %\"",
       {"field reserve in [fuel]", "\"10 %\"", "\"thirds\""}},
      {"reserve out of range",
       "\"10 % of capacity\"",
       "\"110 % of capacity\"",
       "110 %",
       {"field reserve in [fuel]", "110 %"}},
      {"usable above capacity",
       "\"1330 L\"",
       "\"1500 L\"",
       "1500 L",
       {"field usable fuel in [fuel]", "1500 L", "capacity of 1400 L"}},
      {"single brackets", "[[people]]\nname = \"Helm", "[people]\nname = \"Helm", "", {"my.toml"}},
      {"prediction without beam",
       "chine_beam = \"3.20 m\"\n",
       "",
       "[prediction]",
       {"field chine_beam in [hull]", "not set"}},
      {"prediction without LCG",
       "x = \"4.31 m\"\n",
       "",
       "[prediction]",
       {"field lcg in [prediction]", "not set", "x of every item"}},
      {"no such thrust line",
       "\"by a point of the shaft\"",
       "\"shaft\"",
       "\"shaft\"",
       {"field thrust_line in [prediction]", "\"shaft\"", "through CG, parallel to keel"}},
      {"thrust line without its point",
       "thrust_line_point_z = \"-0.30 m\"\n",
       "",
       "[prediction]",
       {"field thrust_line_point_z in [prediction]", "not set"}},
      {"inclination with a thrust line through CG",
       "\"by a point of the shaft\"",
       "\"through CG, parallel to keel\"",
       "thrust_inclination",
       {"field thrust_inclination in [prediction]", "9.0 deg",
        "not with thrust_line = \"through CG, parallel to keel\""}},
      {"distance below CG with a point of the shaft",
       "thrust_line_point_x",
       "thrust_line_below_cg = \"0.3 m\"\nthrust_line_point_x",
       "thrust_line_below_cg",
       {"field thrust_line_below_cg in [prediction]", "not with thrust_line = \"by a point of the shaft\"",
        "thrust_inclination, thrust_line_point_x, thrust_line_point_z"}},
      {"point of the shaft with a distance below CG",
       "\"by a point of the shaft\"",
       "\"by its distance below CG\"\nthrust_line_below_cg = \"0.3 m\"",
       "thrust_line_point_x",
       {"field thrust_line_point_x in [prediction]", "not with thrust_line = \"by its distance below CG\""}},
      {"air drag coefficient without an area",
       "frontal_area = \"11.0 m2\"",
       "",
       "[prediction]",
       {"field frontal_area in [prediction]", "not set", "air_drag_coefficient"}},
      {"frontal area without a coefficient",
       "air_drag_coefficient = 0.7",
       "",
       "[prediction]",
       {"field air_drag_coefficient in [prediction]", "not set", "frontal_area"}},
      {"too many hulls",
       "number_of_hulls = 1",
       "number_of_hulls = 7",
       "number_of_hulls",
       {"field number_of_hulls in [hull]", "value 7", "a whole number from 1 to 6"}},
      {"planing in words",
       "engine_speed = \"900 rpm\"",
       "engine_speed = \"900 rpm\"\nplaning = \"yes\"",
       "planing = \"yes\"",
       {"field planing in [[step]] 1", "\"yes\"", "true or false"}},
      {"LCG ahead of the chines",
       "appendage_fraction",
       "lcg = \"11 m\"\nappendage_fraction",
       "[prediction]",
       {"field LCG in [prediction]", "ahead of the bow"}},
      {"stepped in words",
       "stepped = false",
       "stepped = \"no\"",
       "stepped = \"no\"",
       {"field stepped in [hull]", "true or false"}},
      {"depth in knots", "\"70 m\"", "\"70 kn\"", "70 kn", {"field depth in [conditions]", "\"70 kn\"", "m, mm"}},
      {"water too hot", "\"13 C\"", "\"60 C\"", "60 C", {"field temperature in [water]", "60 C", "-2 C to 40 C"}},
      {"salt in fresh water",
       "kind = \"sea\"",
       "practical_salinity = 30\nkind = \"fresh\"",
       "practical_salinity",
       {"field practical_salinity in [water]", "fresh water"}},
      {"broken TOML", "mass = \"8760 kg\"", "mass = \"8760 kg", "mass = \"8760 kg", {"not TOML"}},
      {"key twice", "x = \"4.31 m\"", "mass = \"1 kg\"", "mass = \"1 kg\"", {"not TOML", "mass"}},
      {"not UTF-8", "\"Tools and spares\"", "\"Tools \xff\"", "\xff", {"not TOML"}},
      {"line break in a key",
       "\ncount = 2",
       "\n\"c\\nt\" = 2",
       "\"c\\nt\"",
       {"field \"c?t\" in [[people]] 1", "unknown"}},
      {"control character in a text",
       "\"Tools and spares\"",
       "\"Tools\\u001b[31m\"",
       "Tools",
       {"field name in [[weight]] 2"}},
  };
  for (const Wrong& c : cases) {
    CAPTURE(c.what);
    const std::string text = with(demo, c.from, c.to);
    const Answer answer = run_on(text);
    CAPTURE(answer.err);
    CHECK(answer.status == 2);
    CHECK(answer.out.empty());
    CHECK(std::count(answer.err.begin(), answer.err.end(), '\n') == 1);
    CHECK(holds(answer.err, "accepted: "));
    if (!c.at.empty()) CHECK(answer.err.starts_with("my.toml:" + std::to_string(line_of(text, c.at)) + ": "));
    for (const std::string& part : c.parts) CHECK(holds(answer.err, part));
  }
}

TEST_CASE("blocks that are required") {
  const std::string demo = text_of(demo_path);
  for (const std::string block : {"weight", "people", "tank", "step"}) {
    CAPTURE(block);
    std::string text = demo;
    while (holds(text, "\n[[" + block + "]]")) text = without_block(text, "[[" + block + "]]");
    const Answer answer = run_on(text);
    CHECK(answer.status == 2);
    CHECK(answer.out.empty());
    CHECK(holds(answer.err, "my.toml: field " + block + ": value not set; accepted: blocks [[" + block + "]]"));
  }
  const Answer no_fuel = run_on(without_block(demo, "[fuel]"));
  CHECK(no_fuel.status == 2);
  CHECK(holds(no_fuel.err, "my.toml: field fuel: value not set; accepted: one block [fuel]"));
}

TEST_CASE("a file that is none, and a wrong command line") {
  const Folder folder;
  std::ofstream(folder.path / "empty.toml").flush();
  files::create_directory(folder.path / "folder.toml");
  const struct {
    std::string arguments, part;
  } cases[] = {
      {"missing.toml", "missing.toml: there is no such file"},   {"folder.toml", "folder.toml: this is a directory"},
      {"empty.toml", "empty.toml: field weight: value not set"}, {"", "file is required"},
      {"'" + demo_path + "' --units furlongs", "furlongs"},      {"'" + demo_path + "' --colour", "--colour"}};
  for (const auto& c : cases) {
    CAPTURE(c.arguments);
    const Answer answer = run(folder, c.arguments);
    CAPTURE(answer.err);
    CHECK(answer.status == 2);
    CHECK(answer.out.empty());
    CHECK(holds(answer.err, c.part));
    CHECK(holds(answer.err, "accepted: "));
  }
}

TEST_CASE("--help says what the file accepts") {
  const Answer answer = run(Folder(), "--help");
  CHECK(answer.status == 0);
  CHECK(answer.err.empty());
  for (const std::string word :
       {"--units", "[[weight]]", "[[people]]", "[[tank]]", "[fuel]", "[[step]]", "[prediction]"})
    CHECK(holds(answer.out, word));
}

TEST_CASE("a page that cannot be written is no success") {
  if (!files::exists("/dev/full")) return;
  const Folder folder;
  const int status = std::system(("'" TRIAL_PAGE_PROGRAM "' '" + demo_path + "' >/dev/full 2>/dev/null").c_str());
  CHECK(WEXITSTATUS(status) == 1);
}

TEST_CASE("last places: the derivative-weighted root sum of squares, printed without false digits") {
  using trial_page::derive;
  using trial_page::Figure;
  using trial_page::number;
  const auto speed = read_quantity<Speed<>>("27.4 kn", "speed");
  const auto flow = read_quantity<VolumeFlow<>>("310 L/h", "flow");
  const Figure<Speed<>> v{speed.value, speed.last_place};
  const Figure<VolumeFlow<>> q{flow.value, flow.last_place};
  const auto per_distance = derive([](const auto& a, const auto& b) { return volume_per_distance(a, b); }, v, q);
  // By hand: 310/27.4 * sqrt((0.1/27.4)^2 + (1/310)^2) = 0.0551. 1e-12: rounding of doubles.
  const double expected = 310.0 / 27.4 * std::sqrt(std::pow(0.1 / 27.4, 2) + std::pow(1.0 / 310.0, 2));
  CHECK(std::abs(in(per_distance.last_place, litre_per_nautical_mile) - expected) < 1e-12);
  CHECK(number(per_distance, litre_per_nautical_mile) == "11.3");
  // A change of unit keeps the place: the power of ten nearest to 0.1 kn = 0.115 mph = 0.185 km/h is 0.1, to
  // 1 L/h = 0.264 US gal/h it is 0.1, to 0.1 L/h = 0.026 US gal/h 0.01, to 1 kg = 2.2 lb 1, to 0.01 m = 0.033 ft 0.1.
  CHECK(number(v, knot) == "27.4");
  CHECK(number(v, mph) == "31.5");
  CHECK(number(v, kilometre_per_hour) == "50.7");
  CHECK(number(q, litre_per_hour) == "310");
  CHECK(number(q, us_gallon_per_hour) == "81.9");
  CHECK(number(Figure<VolumeFlow<>>{137.3 * litre_per_hour, 0.1 * litre_per_hour}, us_gallon_per_hour) == "36.27");
  CHECK(number(Figure<Mass<>>{210.0 * kilogram, 1.0 * kilogram}, pound_mass) == "463");
  CHECK(number(Figure<Length<>>{4.31 * metre, 0.01 * metre}, foot) == "14.1");
  // One digit more only where the number passes a power of ten.
  CHECK(number(Figure<Speed<>>{7.6 * knot, 0.1 * knot}, kilometre_per_hour) == "14.1");
  CHECK(number(Figure<Speed<>>{7.0 * knot, 0.1 * knot}, kilometre_per_hour) == "13.0");
  CHECK(number(Figure<Speed<>>{9.8 * knot, 0.1 * knot}, mph) == "11.3");
  // A difference near zero keeps its place; a figure without any place is exact; what is unset is a dash.
  CHECK(number(Figure<double>{0.0, 0.07}) == "0.0");
  CHECK(number(Figure<double>{-0.02, 0.07}) == "0.0");
  CHECK(number(Figure<double>{225.0, 0.0}) == "225");
  CHECK(number(Figure<double>{112.5, 0.0}) == "112.5");
  CHECK(number(Figure<double>{}) == "-");
  CHECK(number(Figure<double>{10513.2, 8.7}) == "10510");
  // Digits at most: rounding that passes a power of ten does not add one.
  CHECK(number(Figure<double>{37.085, 0.01}, 1.0, {.most_digits = 3}) == "37.1");
  CHECK(number(Figure<double>{9.997, 0.001}, 1.0, {.most_digits = 3}) == "10.0");
  CHECK(number(Figure<double>{4.68, 0.01}, 1.0, {.most_digits = 3, .finest_place = -1}) == "4.7");
}

TEST_CASE("a nominal figure gains no digit by a change of unit") {
  using trial_page::Figure;
  using trial_page::number;
  // 225 kg = 496.04 lb, 37.85 L = 9.9989 US gal, 185 lb = 83.915 kg
  CHECK(number(Figure<Mass<>>{.value = 225.0 * kilogram, .nominal_place = 1.0 * kilogram}, pound_mass) == "496");
  CHECK(number(Figure<Volume<>>{.value = 37.85 * litre, .nominal_place = 0.01 * litre}, us_gallon) == "9.999");
  CHECK(number(Figure<Mass<>>{.value = 185.0 * pound_mass, .nominal_place = 1.0 * pound_mass}, kilogram) == "84");
  // It adds nothing to the last place of what is made from it.
  const auto twice = trial_page::derive([](const auto& x) { return 2.0 * x; },
                                        Figure<Mass<>>{.value = 75.0 * kilogram, .nominal_place = 1.0 * kilogram});
  CHECK(twice.last_place == 0.0 * kilogram);

  const std::string demo = text_of(demo_path);
  CHECK(holds(flat(text_of(TRIAL_PAGE_FOLDER "/demo_us.txt")), "3 x 75 kg, ISO 12217-3, adult 496 "));
  const Answer reserve = run_on(with(demo, "10 % of capacity", "37.85 L"), "--units us");
  check_page(reserve);
  CHECK(holds(flat(reserve.out), "reserve: 9.999 US gal held back"));
  CHECK_FALSE(holds(reserve.out, "9.9989"));
}

TEST_CASE("a column has the place of its finest figure, but for one that is not good for it") {
  using trial_page::Column;
  using trial_page::Figure;
  Column<double> column(1.0);
  // Finest place 0.0023, nearest 0.001: 0.0042 is within five of it, 0.0105 and 0.043 go to their own nearest power.
  const std::vector<Figure<double>> figures{{2.9312, 0.043},  {1.0983, 0.0105}, {0.9541, 0.0042},
                                            {0.9423, 0.0023}, {0.5, 0.0},       {}};
  for (const Figure<double>& figure : figures) column.add(figure);
  std::vector<std::string> printed;
  for (const Figure<double>& figure : figures) printed.push_back(column(figure));
  CHECK(printed == std::vector<std::string>{"2.9", "1.10", "0.954", "0.942", "0.5", "-"});
  // Speeds written to a tenth keep their tenth down the column in each system of units.
  for (const std::string row : {"   900  14.1  13.0   13.5", "  2600  56.1  53.9   55.0"})
    CHECK(holds(text_of(TRIAL_PAGE_FOLDER "/demo_metric.txt"), row));
}

TEST_CASE("planing as observed comes before the rule, and is printed only where somebody observed") {
  const std::string demo = text_of(demo_path);
  const std::string rule = "volume Froude number 2 or more and faster than the hump";
  const std::string plain = text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt");
  CHECK(holds(flat(plain), "planing: " + rule));
  CHECK_FALSE(holds(plain, "as observed"));
  const auto observed = [&](const std::string& speed, const std::string& planing) {
    const std::string line = "[[step]]\nengine_speed = \"" + speed + "\"\n";
    return run_on(with(demo, line, line + "planing = " + planing + "\n"));
  };
  const Answer slow = observed("2000 rpm", "true");
  check_page(slow);
  CHECK(holds(flat(slow.out), "planing: as observed at 2000 rpm; elsewhere " + rule));
  CHECK(holds(flat(slow.out), "planing here: 2000, 2150, 2300, 2450, 2600 rpm"));
  const Answer fast = observed("2300 rpm", "false");
  check_page(fast);
  CHECK(holds(flat(fast.out), "planing here: 2150, 2450, 2600 rpm"));
  CHECK(holds(fast.out, "best economy, planing       22.9 kn at 2150 rpm"));
}

TEST_CASE("each page has its own units, down to areas, densities, pitch and cruise economy") {
  const auto page = [](const std::string& units) {
    return flat(text_of(files::path(TRIAL_PAGE_FOLDER) / ("demo_" + units + ".txt")));
  };
  // By hand: 11.0 m2 = 118.4 ft2 and 0.1 m2 = 1.08 ft2; 1.217 kg/m3 = 0.0760 lb/ft3; 1026.4 kg/m3 = 64.08 lb/ft3; 26 in = 660.4 mm, 1 in = 25.4 mm, nearest ten;
  // 840 kg/m3 = 7.010 lb/US gal; 108.1 L/h at 25.2 kn: 4.290 L/nmi = 2.316 L/km = 0.8824 nmi/US gal = 1.0155 mi/US gal
  for (const std::string part :
       {"still air on 118 ft2", "air density 0.0760 lb/ft3 (of the day)", "density 64.08 lb/ft3", "pitch of 26 in",
        "Fuel, port 7.01 lb/US gal (standard at 15 C)", "1.016 mi/US gal, 0.882 nmi/US gal"})
    CHECK(holds(page("us"), part));
  for (const std::string part :
       {"still air on 11.0 m2", "density 1026.4 kg/m3", "pitch of 26 in", "840 kg/m3", "4.29 L/nmi, 0.882 nmi/US gal"})
    CHECK(holds(page("nautical"), part));
  for (const std::string part :
       {"still air on 11.0 m2", "density 1026.4 kg/m3", "pitch of 660 mm", "840 kg/m3", "2.32 L/km, 4.29 L/nmi"})
    CHECK(holds(page("metric"), part));
}

TEST_CASE("what the file does not say is not claimed") {
  const std::string demo = text_of(demo_path);
  const Answer where =
      run_on(with(with(demo, "beam_taken = \"maximum over chines\"\n", ""), "deadrise_taken = \"mid-chine\"\n", ""));
  check_page(where);
  CHECK(holds(flat(where.out), "chine beam 3.20 m (taken as maximum over chines)"));
  CHECK(holds(flat(where.out), "(taken as mid-chine)"));
  const Answer bare =
      run_on(with(with(with(demo, "appendage_fraction = \"14 %\"", ""), "frontal_area = \"11.0 m2\"", ""),
                  "air_drag_coefficient = 0.7", ""));
  check_page(bare);
  CHECK(holds(flat(bare.out), "no appendages or air stated: total = bare"));
}

TEST_CASE("the water says its salinity and where its properties are extrapolated") {
  const std::string demo = text_of(demo_path);
  const Answer brackish = run_on(with(demo, "kind = \"sea\"", "kind = \"sea\"\npractical_salinity = 20.5"));
  check_page(brackish);
  CHECK(holds(brackish.out, "water: sea water at 13 C, practical salinity 20.5, density"));
  const Answer cold = run_on(with(demo, "\"13 C\"", "\"-1 C\""));
  check_page(cold);
  CHECK(holds(cold.out, "note on the water: viscosity of sea water extrapolated below 0 C"));
  CHECK_FALSE(holds(text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt"), "note on the water"));
}

TEST_CASE("steps near the hump are named, and their runs published") {
  CHECK(holds(flat(text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt")), "publish each run. Here: 1800, 2000 rpm"));
  const std::string demo = text_of(demo_path);
  const std::string pair = "out = \"20.2 kn\"\nback = \"19.3 kn\"\n";
  const Answer three = run_on(with(
      demo, pair, R"(runs = [{ out = "20.2 kn" }, { back = "19.3 kn" }, { out = "20.0 kn" }])" + std::string("\n")));
  check_page(three);
  CHECK(holds(three.out, "2000 rpm, runs as they were made, kn: out 20.2, back 19.3, out 20.0"));
}

}  // namespace
