// The trial page, run as a user runs it: exit status, what is on each stream, nothing printed of a wrong file.
#include "figure.hpp"
#include "hardchine/economy/fuel_economy.hpp"

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace {

using namespace hardchine;
namespace files = std::filesystem;

std::string text_of(const files::path& path) {
  std::ifstream stream(path, std::ios::binary);
  REQUIRE(stream.good());
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

const std::string demo_path = TRIAL_PAGE_FOLDER "/demo.toml";

/// A folder of this test's own, gone at the end.
struct Folder {
  files::path path = files::temp_directory_path() / ("trial_page_test_" + std::to_string(::getpid()));
  Folder() { files::create_directories(path); }
  ~Folder() { files::remove_all(path); }
};

struct Answer {
  int status;
  std::string out, err;
};

/// Runs the program in the folder.
Answer run(const Folder& folder, const std::string& arguments) {
  const std::string command =
      "cd '" + folder.path.string() + "' && '" TRIAL_PAGE_PROGRAM "' " + arguments + " >out 2>err";
  const int status = std::system(command.c_str());
  REQUIRE(WIFEXITED(status));
  return {WEXITSTATUS(status), text_of(folder.path / "out"), text_of(folder.path / "err")};
}

/// Replaces the first occurrence, which must be there.
std::string with(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  CAPTURE(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

/// The text without the block that starts with `header`, up to the next header.
std::string without_block(const std::string& text, const std::string& header) {
  const auto from = text.find("\n" + header);
  CAPTURE(header);
  REQUIRE(from != std::string::npos);
  const auto to = text.find("\n[", from + 1);
  return text.substr(0, from) + (to == std::string::npos ? "\n" : text.substr(to));
}

Answer run_on(const std::string& text, const std::string& options = "") {
  const Folder folder;
  std::ofstream(folder.path / "my.toml", std::ios::binary) << text;
  return run(folder, "my.toml " + options);
}

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// The line of the file on which the text stands, counted from 1.
std::size_t line_of(const std::string& text, const std::string& part) {
  const auto at = text.find(part);
  REQUIRE(at != std::string::npos);
  return 1 + static_cast<std::size_t>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

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
  CHECK(holds(page, "2600   29.7        37.09           19.9"));
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
    // All before the prediction is the same.
    const auto before = whole.find("Calm-water prediction");
    CHECK(answer.out.substr(0, before) == whole.substr(0, before));
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
  for (const std::string block : {"[trial]", "[water]", "[drive]", "[hull]", "[prediction]"})
    least = without_block(least, block);
  const Answer answer = run_on(least);
  check_page(answer);
  CHECK(holds(answer.out, "standard sea water at 15 C (assumed: the file names none)"));
  CHECK(holds(answer.out, "no theoretical speed and no slip: the file has no [drive] block"));
  CHECK(holds(answer.out, "no beam load coefficient and no F_n by beam: the file gives no chine beam"));
  CHECK(holds(answer.out, "no prediction: the file has no [prediction] block"));

  const Answer no_place = run_on(with(without_block(demo, "[prediction]"), "x = \"4.31 m\"\n", ""));
  check_page(no_place);
  CHECK(holds(no_place.out, "10510     -  -0.01  1.14"));
}

TEST_CASE("one step is enough") {
  std::string one = text_of(demo_path);
  one = one.substr(0, one.find("[[step]]"));
  const Answer answer = run_on(one + "[[step]]\nengine_speed = \"2600 rpm\"\nout = \"30.3 kn\"\nback = \"29.1 kn\"\n" +
                               "fuel_flow = \"137.3 L/h\"\n");
  check_page(answer);
  CHECK(holds(answer.out, "top speed                   29.7 kn at 2600 rpm"));
}

TEST_CASE("more runs than a pair, and runs that give no speed") {
  std::string head = text_of(demo_path);
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
      {"depth in knots", "\"38 m\"", "\"38 kn\"", "38 kn", {"field depth in [trial]", "\"38 kn\"", "m, mm"}},
      {"water too hot", "\"13 C\"", "\"60 C\"", "60 C", {"field water temperature in [water]", "60 C", "C to "}},
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
  // A change of unit adds no digit and takes none.
  CHECK(number(v, knot) == "27.4");
  CHECK(number(v, mph) == "31.5");
  CHECK(number(v, kilometre_per_hour) == "50.7");
  CHECK(number(q, litre_per_hour) == "310");
  CHECK(number(q, us_gallon_per_hour) == "81.9");
  CHECK(number(Figure<Speed<>>{9.8 * knot, 0.1 * knot}, kilometre_per_hour) == "18");
  // A difference near zero keeps its place; nominal figures are exact; what is unset is a dash.
  CHECK(number(Figure<double>{0.0, 0.07}) == "0.0");
  CHECK(number(Figure<double>{-0.02, 0.07}) == "0.0");
  CHECK(number(Figure<double>{225.0, 0.0}) == "225");
  CHECK(number(Figure<double>{112.5, 0.0}) == "112.5");
  CHECK(number(Figure<double>{}) == "-");
  CHECK(number(Figure<double>{10513.2, 8.7}) == "10510");
}

}  // namespace
