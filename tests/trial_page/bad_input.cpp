// Bad input: for every key of the trial file, from the program's own table of keys, every way of writing it wrong; then
// files that are wrong as a whole. Each is answered with one message, exit status 2 and nothing on the output.
#include <doctest/doctest.h>

#include <optional>
#include <string>
#include <vector>

#include "program.hpp"
#include "trial_keys.hpp"

namespace {

using namespace trial_page;
using namespace trial_page_test;

// ------------------------------------------------------------------------------------------- places in the file

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream stream(text);
  for (std::string line; std::getline(stream, line);) lines.push_back(line);
  return lines;
}
std::string text_from(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

/// Where a key with its value stands: on a line of its own, or in the list of small blocks of a line.
struct Spot {
  std::size_t line, header;  ///< counted from 0; the header of its block
  std::size_t begin, end;    ///< of "key = value" on the line
  std::string block;         ///< as messages name it: "[[tank]] 2", "run 1 of [[step]] 2"
};

/// The end of the value that begins at `at`.
std::size_t value_end(const std::string& line, std::size_t at) {
  if (line[at] == '"') return line.find('"', at + 1) + 1;
  if (line[at] == '[') return line.rfind(']') + 1;
  return line.find_first_of(",}", at) == std::string::npos ? line.size() : line.find_first_of(" ,}", at);
}

/// The first place of a key of a block; nothing if the file has none.
std::optional<Spot> find_key(const std::vector<std::string>& lines, const BlockKeys& block, const std::string& key) {
  const bool small = !block.inside.empty();
  const BlockKeys& outer = small ? keys_of_block(block.inside) : block;
  const std::string header = outer.list ? "[[" + outer.name + "]]" : "[" + outer.name + "]";
  std::size_t at_header = 0;
  int number = 0;
  bool inside = false;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string& line = lines[i];
    if (line.starts_with("[")) {
      inside = line == header;
      if (inside) {
        at_header = i;
        ++number;
      }
      continue;
    }
    if (!inside) continue;
    const std::string name = outer.list ? header + " " + std::to_string(number) : header;
    if (!small) {
      if (!line.starts_with(key + " = ")) continue;
      return Spot{i, at_header, 0, line.size(), name};
    }
    if (!line.starts_with(block.name + " = [")) continue;
    const auto from = line.find(" " + key + " = ");
    if (from == std::string::npos) continue;
    const auto before = line.begin() + static_cast<std::ptrdiff_t>(from);
    const auto item = std::count(line.begin(), before, '{');
    const std::string what = block.name == "times" ? "time" : "run";
    return Spot{i, i, from + 1, value_end(line, from + key.size() + 4),
                what + " " + std::to_string(item) + " of " + name};
  }
  return std::nullopt;
}

std::string replaced(std::vector<std::string> lines, const Spot& spot, const std::string& by) {
  lines[spot.line].replace(spot.begin, spot.end - spot.begin, by);
  return text_from(lines);
}

/// The files in which every key stands at least once: some keys exclude each other.
std::vector<std::vector<std::string>> sound_files() {
  const std::string base = text_of(TRIAL_PAGE_TESTS "/every_key.toml");
  std::string other = with(base, "\"by a point of the shaft\"", "\"by its distance below CG\"");
  other = with(other, "thrust_line_point_x = \"0.60 m\"\n", "");
  other = with(other, "thrust_line_point_z = \"-0.30 m\"\n", "thrust_line_below_cg = \"0.35 m\"\n");
  other = with(other, "source = \"fuel flow\"", "source = \"propeller demand law\"");
  other = with(other, "specific_consumption = \"215 g/kWh\"", "exponent = 2.7");
  return {lines_of(base), lines_of(other)};
}

// --------------------------------------------------------------------------------------------------- wrong values

std::string quoted(const std::string& text) { return "\"" + text + "\""; }

/// Numbers that the range of a key refuses.
std::vector<double> refused_numbers(const Key& key) {
  const double span = key.range.high - key.range.low;
  std::vector<double> numbers{key.range.low - 0.01 * span, key.range.high + 0.01 * span, 1e30, -1e30};
  if (key.range.low_open) numbers.push_back(key.range.low);  // a zero where it is absurd, too
  if (key.range.low >= 0.0) numbers.push_back(-1.0);
  return numbers;
}

/// Every way of writing the value of a key wrong, as TOML.
std::vector<std::string> wrong_values(const Key& key) {
  using hardchine::plain_number;
  std::vector<std::string> wrong{"[]", "{ a = 1 }", "1979-05-27"};
  const auto add = [&](const std::vector<std::string>& more) { wrong.insert(wrong.end(), more.begin(), more.end()); };
  const std::string unit(key.unit.symbol);
  switch (key.kind) {
    case KeyKind::quantity:
      add({"true", "5", "5.5", "-1", "0", "nan", "inf", "-inf", quoted(""), quoted("5"), quoted(unit),
           quoted("x " + unit)});
      for (const std::string number : {"nan", "inf", "-inf", "NaN", "1e400", "1,5", "5 5", "0x10", "--5"})
        wrong.push_back(quoted(number + " " + unit));
      wrong.push_back(quoted(key.quantity == "speed" ? "5 kg" : "5 kn"));
      wrong.push_back(quoted("5 furlongs"));
      for (const double number : refused_numbers(key)) wrong.push_back(quoted(plain_number(number) + " " + unit));
      break;
    case KeyKind::ratio:
      add({"true", "nan", "inf", "-inf", quoted(""), quoted("nan"), quoted("inf"), quoted("x"), quoted("5 kn"),
           quoted("1,5"), quoted("1e400")});
      if (!unit.empty()) add({"5", "0", quoted(unit), quoted("nan %"), quoted("inf %")});
      for (const double number : refused_numbers(key)) {
        if (unit.empty()) wrong.push_back(plain_number(number));
        wrong.push_back(quoted(plain_number(number) + unit));
      }
      break;
    case KeyKind::count:
      add({"true", "2.5", "nan", "inf", quoted("2"), "1000000000000", "-1000000000000", "-1"});
      wrong.push_back(plain_number(key.range.low - 1.0));
      wrong.push_back(plain_number(key.range.high + 1.0));
      break;
    case KeyKind::yes_no:
      add({"1", "0", "1.0", quoted("true"), quoted("yes"), quoted("")});
      break;
    case KeyKind::text:
      add({"5", "5.5", "true", "nan", quoted("a\\nb"), quoted("a\\u001b[31m"), quoted("\\u007f")});
      break;
    case KeyKind::choice:
      add({"5", "true", "nan", quoted(""), quoted("no such word"), quoted(key.words.front() + " "), quoted("a\\nb")});
      break;
    case KeyKind::reserve:
      add({"5", "true", "nan", quoted(""), quoted("some"), quoted("5"), quoted("nan L"), quoted("inf L"),
           quoted("-5 L"), quoted("1e30 L"), quoted("5 kg"), quoted("-1 % of capacity"), quoted("101 % of capacity"),
           quoted("nan % of capacity"), quoted("-1 % per leg"), quoted("1000 % per leg"), quoted("of capacity")});
      break;
    case KeyKind::list:
      add({"5", "true", "nan", quoted("26.0 kn"), "[5]", "[[]]", "[{}]", "[{ nothing = 5 }]"});
      break;
  }
  return wrong;
}

/// One message with what belongs in it, and no page.
void check_refused(const Answer& answer) {
  CAPTURE(answer.err);
  CHECK(answer.status == 2);
  CHECK(answer.out.empty());
  CHECK(std::count(answer.err.begin(), answer.err.end(), '\n') == 1);
  CHECK(holds(answer.err, "accepted: "));
}

std::string at_line(std::size_t line) { return "my.toml:" + std::to_string(line + 1) + ": "; }

/// Calls `visit` with each key, the first sound file that has it, and its place there.
template <class F>
void for_each_key(const F& visit) {
  const std::vector<std::vector<std::string>> files = sound_files();
  for (const BlockKeys& block : trial_file_blocks()) {
    for (const Key& key : block.keys) {
      CAPTURE(block.name);
      CAPTURE(key.name);
      const std::vector<std::string>* lines = nullptr;
      std::optional<Spot> spot;
      for (const auto& file : files) {
        if (spot) break;
        spot = find_key(file, block, key.name);
        lines = &file;
      }
      // A new key must be put into every_key.toml, or it would not be tested.
      REQUIRE_MESSAGE(spot, "no sound file has this key");
      visit(block, key, *lines, *spot);
    }
  }
}

// ------------------------------------------------------------------------------------------------------ the tests

TEST_CASE("the sound files behind the wrong ones are accepted") {
  const Folder folder;
  for (const auto& lines : sound_files()) {
    const Answer answer = run_on(folder, text_from(lines));
    CHECK(answer.status == 0);
    CHECK(answer.err.empty());
  }
}

TEST_CASE("every key with every wrong value") {
  const Folder folder;
  int cases = 0;
  for_each_key([&](const BlockKeys&, const Key& key, const std::vector<std::string>& lines, const Spot& spot) {
    for (const std::string& value : wrong_values(key)) {
      CAPTURE(value);
      ++cases;
      const Answer answer = run_on(folder, replaced(lines, spot, key.name + " = " + value));
      check_refused(answer);
      CHECK(answer.err.starts_with(at_line(spot.line)));
      if (key.kind == KeyKind::list) continue;  // the message is about what is in the list
      CHECK(holds(answer.err, "field " + key.name + " in " + spot.block + ": value "));
    }
  });
  MESSAGE(cases << " wrong values");
}

// Skipped as a test: the gate "fuzz" asks for it by name, and reads the same files under the sanitizers.
TEST_CASE("write every key with every wrong value into SEEDS" * doctest::skip()) {
  const char* const folder = std::getenv("SEEDS");
  REQUIRE(folder != nullptr);
  int number = 10000;  // of one length: in the order of the keys
  for_each_key([&](const BlockKeys&, const Key& key, const std::vector<std::string>& lines, const Spot& spot) {
    for (const std::string& value : wrong_values(key))
      std::ofstream(files::path(folder) / ("wrong_" + std::to_string(++number) + ".toml"), std::ios::binary)
          << replaced(lines, spot, key.name + " = " + value);
  });
}

TEST_CASE("every key missing, misspelt and twice") {
  const Folder folder;
  int cases = 0;
  for_each_key([&](const BlockKeys& block, const Key& key, const std::vector<std::string>& lines, const Spot& spot) {
    const bool small = !block.inside.empty();
    if (!small) {
      ++cases;
      const Answer missing = run_on(folder, replaced(lines, spot, ""));
      CAPTURE(missing.err);
      if (key.required) {
        check_refused(missing);
        CHECK(missing.err.starts_with(at_line(spot.header)));
        CHECK(holds(missing.err, "field " + key.name + " in " + spot.block + ": value not set"));
      } else if (missing.status != 0) {
        check_refused(missing);  // another key needs it
      } else {
        CHECK(missing.err.empty());
        CHECK(holds(missing.out, "Cautions"));
      }
    }

    ++cases;
    const std::string assignment = lines[spot.line].substr(spot.begin, spot.end - spot.begin);
    const std::string value = assignment.substr(key.name.size());
    const std::string misspelt = "q" + key.name;
    const Answer unknown = run_on(folder, replaced(lines, spot, misspelt + value));
    check_refused(unknown);
    CHECK(unknown.err.starts_with(at_line(spot.line)));
    CHECK(
        holds(unknown.err, "field " + misspelt + " in " + spot.block + ": unknown; nearest known: " + key.name + ";"));

    ++cases;
    const Answer twice = run_on(folder, replaced(lines, spot, assignment + (small ? ", " : "\n") + assignment));
    check_refused(twice);
    CHECK(twice.err.starts_with(at_line(spot.line + (small ? 0 : 1))));
    CHECK(holds(twice.err, "not TOML"));
    CHECK(holds(twice.err, key.name));
  });
  MESSAGE(cases << " keys missing, misspelt or twice");
}

TEST_CASE("every block in the wrong brackets, as a value, misspelt, and the required ones missing") {
  const Folder folder;
  const std::string base = text_of(TRIAL_PAGE_TESTS "/every_key.toml");
  int cases = 0;
  for (const BlockKeys& block : trial_file_blocks()) {
    if (!block.inside.empty()) continue;
    CAPTURE(block.name);
    const std::string header = block.list ? "[[" + block.name + "]]" : "[" + block.name + "]";
    const std::string wrong = block.list ? "[" + block.name + "]" : "[[" + block.name + "]]";
    std::string without = base, bracketed = base, misspelt = base;
    while (holds(without, "\n" + header + "\n")) without = without_block(without, header + "\n");
    for (std::size_t at; (at = bracketed.find("\n" + header + "\n")) != std::string::npos;)
      bracketed.replace(at + 1, header.size(), wrong);
    misspelt =
        with(misspelt, "\n" + header + "\n", std::string("\n") + with(header, block.name, block.name + "x") + "\n");
    for (const std::string& text : {bracketed, block.name + " = 5\n" + without, block.name + " = []\n" + without,
                                    block.name + " = [5]\n" + without, misspelt}) {
      // An empty list of blocks that may be missing says nothing.
      if (text.starts_with(block.name + " = []") && block.list && !block.required) continue;
      ++cases;
      const Answer answer = run_on(folder, text);
      check_refused(answer);
      CHECK(holds(answer.err, block.name));
    }
    ++cases;
    const Answer missing = run_on(folder, without);
    CAPTURE(missing.err);
    if (block.required) {
      check_refused(missing);
      CHECK(holds(missing.err, "my.toml: field " + block.name + ": value not set"));
    } else if (missing.status != 0) {
      check_refused(missing);
    }
  }
  MESSAGE(cases << " wrong blocks");
}

TEST_CASE("a file cut off anywhere is refused or is a whole file of fewer blocks") {
  const Folder folder;
  const std::string base = text_of(demo_path);
  const std::size_t first_step = base.find("\n[[step]]");
  std::vector<std::size_t> sizes;
  for (std::size_t size = 0; size < base.size(); size += 41) sizes.push_back(size);  // 41: no multiple of a line
  for (std::size_t at = 0; (at = base.find("\n[", at)) != std::string::npos;) sizes.push_back(++at);
  int refused = 0;
  for (const std::size_t size : sizes) {
    CAPTURE(size);
    const Answer answer = run_on(folder, base.substr(0, size));
    CAPTURE(answer.err);
    if (answer.status == 0) {
      CHECK(size > first_step);
      CHECK(holds(answer.out, "Cautions"));
      continue;
    }
    check_refused(answer);
    ++refused;
  }
  CHECK(refused > 0);
  CHECK(refused < static_cast<int>(sizes.size()));
  MESSAGE(sizes.size() << " cuts, " << refused << " refused");
}

TEST_CASE("files that are none or not to be read") {
  const Folder folder;
  const auto write = [&](const std::string& name, const std::string& text) {
    std::ofstream(folder.path / name, std::ios::binary) << text;
  };
  const std::string base = text_of(TRIAL_PAGE_TESTS "/every_key.toml");
  write("empty.toml", "");
  write("blank.toml", "\n\n# nothing\n");
  write("large.toml", base + std::string(std::size_t{1} << 20U, '#'));
  write("zeros.toml", std::string(1000, '\0'));
  write("utf8.toml", with(base, "\"Helm\"", "\"H\xc3\x28lm\""));
  write("cut_utf8.toml", base + "# \xe2\x82");
  write("latin.toml", with(base, "\"Helm\"", "\"H\xe9lm\""));
  write("deep.toml", "a = " + std::string(100000, '[') + "\n");
  write("long_key.toml", std::string(100000, 'a') + " = 1\n" + base);
  files::create_directory(folder.path / "folder.toml");
  REQUIRE(std::system(("mkfifo '" + (folder.path / "pipe.toml").string() + "'").c_str()) == 0);
  const struct {
    std::string file, part;
  } cases[] = {{"empty.toml", "field weight: value not set"},
               {"blank.toml", "field weight: value not set"},
               {"large.toml", "larger than 1 MiB"},
               {"zeros.toml", "not TOML"},
               {"utf8.toml", "not TOML"},
               {"cut_utf8.toml", "not TOML"},
               {"latin.toml", "not TOML"},
               {"deep.toml", "not TOML"},
               {"long_key.toml", "unknown; nearest known"},
               {"folder.toml", "this is a directory"},
               {"pipe.toml", "no plain file"},
               {"/dev/zero", "no plain file"},
               {"/dev/null", "no plain file"},
               {"/dev/stdin", "no plain file"},
               {"missing.toml", "no such file"}};
  for (const auto& c : cases) {
    CAPTURE(c.file);
    const Answer answer = run(folder, c.file + " </dev/null", 20);
    check_refused(answer);
    CHECK(answer.err.starts_with(c.file));
    CHECK(holds(answer.err, c.part));
    CHECK(answer.err.size() < 2000);
  }
}

TEST_CASE("brackets without a name, and broken lines of all kinds") {
  const Folder folder;
  const std::string base = text_of(TRIAL_PAGE_TESTS "/every_key.toml");
  for (const std::string line : {"[.a]",
                                 "[[[step]]",
                                 "[[.step]]",
                                 "[ .a]",
                                 "[",
                                 "[[",
                                 "[]",
                                 "[[]]",
                                 "[=]",
                                 "[a",
                                 "[[a]",
                                 "[a]]",
                                 "[a..b]",
                                 "= 1",
                                 ". = 1",
                                 "a",
                                 "a =",
                                 "a = =",
                                 "a = [",
                                 "a = [1",
                                 "a = [[[",
                                 "a = {",
                                 "a = { b }",
                                 "a = { b = }",
                                 "a = { = 1 }",
                                 "a = \"",
                                 "a = '''",
                                 "a = \"\"\"",
                                 "a = \"\\q\"",
                                 "a = 1 2",
                                 "a = 1e",
                                 "a = 0x",
                                 "a = --1",
                                 "a = 1__0",
                                 "a = +",
                                 "a = 12:",
                                 "a = t",
                                 "a = n",
                                 "a = 1979-13-45",
                                 "\x01",
                                 "\xc2\xa0[.a]",
                                 "\v[.a]",
                                 "\xef\xbb\xaf",
                                 "\xc3\xa9 = 1",
                                 "a = 1 \xc3\xa9",
                                 "a = \"\\\"\" \xc3\xa9",
                                 "a = 'b\\' \xc3\xa9",
                                 "a = \"\"\"b\"\"\"",
                                 "a = \"\"\"\\\xc3\xa9\"\"\"",
                                 "]",
                                 "}",
                                 "'",
                                 "\""}) {
    CAPTURE(line);
    check_refused(run_on(folder, base + line + "\n"));
    check_refused(run_on(folder, base + line));
    check_refused(run_on(folder, line + "\n" + base));
  }
}

TEST_CASE("a file without permission to read it") {
  if (::geteuid() == 0) {
    MESSAGE("skipped: root may read every file");
    return;
  }
  const Folder folder;
  std::ofstream(folder.path / "locked.toml") << text_of(demo_path);
  files::permissions(folder.path / "locked.toml", files::perms::none);
  const Answer answer = run(folder, "locked.toml");
  check_refused(answer);
  CHECK(holds(answer.err, "no permission to read it"));
}

TEST_CASE("line ends of CR LF and a UTF-8 byte order mark are accepted, and lines are counted alike") {
  const Folder folder;
  const std::string base = text_of(demo_path);
  std::string crlf;
  for (const char c : base) crlf += c == '\n' ? "\r\n" : std::string(1, c);
  const std::string page = text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt");
  CHECK(run_on(folder, crlf).out == page);
  CHECK(run_on(folder, "\xef\xbb\xbf" + base).out == page);
  CHECK(run_on(folder, "\xef\xbb\xbf" + crlf).out == page);
  const Answer wrong = run_on(folder, "\xef\xbb\xbf" + with(crlf, "\"8760 kg\"", "\"8760 kn\""));
  check_refused(wrong);
  CHECK(wrong.err.starts_with("my.toml:" + std::to_string(line_of(base, "\"8760 kg\"")) + ": "));
}

TEST_CASE("the same step twice is refused, with another setting it is another step") {
  const Folder folder;
  const std::string base = text_of(demo_path);
  const std::string step =
      "\n[[step]]\nengine_speed = \"2600 rpm\"\nout = \"30.1 kn\"\nback = \"28.9 kn\"\nfuel_flow = \"137.0 L/h\"\n";
  const Answer twice = run_on(folder, base + step);
  check_refused(twice);
  CHECK(holds(twice.err, "field engine_speed in [[step]] 9: value the same as in [[step]] 8"));
  CHECK(run_on(folder, base + step + "setting = \"tabs down\"\n").status == 0);
}

TEST_CASE("keys that need or exclude each other") {
  const Folder folder;
  const std::string base = text_of(TRIAL_PAGE_TESTS "/every_key.toml");
  const struct {
    std::string from, to, part;
  } cases[] = {
      {"fill = \"80 %\"\n", "fill = \"80 %\"\ncontent = \"560 L\"\n",
       "field fill in [[tank]] 1: value given, and content too"},
      {"fill = \"80 %\"\n", "", "field fill in [[tank]] 1: value not set; accepted: either fill"},
      {"air_pressure = \"1016 hPa\"\n", "", "field air_pressure in [conditions]: value not set"},
      {"greatest_rated_speed = \"2700 rpm\"\n", "", "field greatest_rated_speed in [drive]: value not set"},
      {"greatest_rated_speed = \"2700 rpm\"", "greatest_rated_speed = \"2500 rpm\"",
       "field least_rated_speed in [drive]"},
      {"source = \"fuel flow\"", "source = \"measured torque\"", "field specific_consumption in [power]"},
      {"specific_consumption = \"215 g/kWh\"\n", "",
       "field specific_consumption in [power]: value not set; accepted: needed"},
      {"specific_consumption =", "exponent = 2.7\nspecific_consumption =", "field exponent in [power]"},
      {"engine_speed = \"2300 rpm\"\ndistance", "engine_speed = \"2310 rpm\"\ndistance",
       "field engine_speed in [[stated_range]] 1: value \"2310 rpm\"; accepted: that of a step: 2000, 2300, 2600 rpm"},
      {"to = \"25 kn\"", "to = \"15 kn\"", "field to in [[acceleration]] 2"},
      {"start = \"back-extrapolation\"\n", "", "field start in [[acceleration]] 1: value not set"},
      {"from = \"15 kn\"\n", "from = \"15 kn\"\nstart = \"trigger\"\n", "field start in [[acceleration]] 2"},
      {"out = \"10.4 s\"\nback = \"11.0 s\"\n", "", "field out in [[acceleration]] 1: value not set"},
      {"out = \"20.2 kn\"\nback = \"19.3 kn\"\n", "", "field out in [[step]] 1: value not set"},
      {"setting = \"tabs up\"\n", "setting = \"tabs up\"\nfull_throttle = true\n", "field full_throttle in [[step]] 3"},
  };
  for (const auto& c : cases) {
    CAPTURE(c.part);
    const Answer answer = run_on(folder, with(base, c.from, c.to));
    check_refused(answer);
    CHECK(holds(answer.err, c.part));
  }
  const Answer unrated = run_on(folder, with(with(with(base, "rated_power = \"280 kW\"\n", ""), "\"fuel flow\"",
                                                  "\"rated power at full throttle\""),
                                             "specific_consumption = \"215 g/kWh\"\n", ""));
  check_refused(unrated);
  CHECK(holds(unrated.err, "with rated_power and rated_engine_speed in [drive]"));
}

}  // namespace
