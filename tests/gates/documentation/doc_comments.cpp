// What a doc comment of a public function must say, checked on what Doxygen reads: doc_comments XML_FOLDER SOURCE.
//
// The XML holds everything, the inside of headers too (namespaces detail and *_detail), which only serves to see who
// can throw. A function throws if its body stands at a door (check_fields, check_value ...) or throws BadInput, or calls
// by name one that does.
#include <algorithm>
#include <boost/property_tree/ptree.hpp>
#include <boost/property_tree/xml_parser.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "../../method_definitions.hpp"

namespace fs = std::filesystem;
using Node = boost::property_tree::ptree;

namespace {

struct Parameter {
  std::string name, type;
};

struct Function {
  std::string name, scope, type, file, body, brief, text, returns;
  int line = 0;
  bool is_member = false, is_public = true;
  std::vector<Parameter> parameters;
  std::map<std::string, std::string> documented;  // parameter -> description
  std::vector<std::string> throws;
  bool can_throw = false, by_recalled = false;
};

struct Field {
  std::string name, type, text, file;
  int line = 0;
};

// The text of a node and all below, in the order of the page.
void append_text(const Node& node, std::string& text) {
  text += node.data();
  for (const auto& [tag, child] : node) {
    if (tag == "<xmlattr>") continue;
    append_text(child, text);
  }
}
std::string text_of(const Node& node) {
  std::string text;
  append_text(node, text);
  text = std::regex_replace(text, std::regex(R"(\s+)"), " ");
  text.erase(0, text.find_first_not_of(' '));
  text.erase(text.find_last_not_of(' ') + 1);
  return text;
}
std::string text_of(const Node& node, const char* path) {
  const auto child = node.get_child_optional(path);
  return child ? text_of(*child) : "";
}

template <class Visit>
void walk(const Node& node, const std::string& tag, const Visit& visit) {
  for (const auto& [name, child] : node) {
    if (name == tag) visit(child);
    walk(child, tag, visit);
  }
}

bool matches(const std::string& text, const std::string& pattern) {
  return std::regex_search(text, std::regex(pattern));
}

class Headers {
 public:
  explicit Headers(fs::path source) : source_(std::move(source)) {}

  const std::vector<std::string>& lines(const std::string& file) {
    auto& kept = files_[file];
    if (kept.empty()) {
      std::ifstream stream(source_ / "include" / file);
      for (std::string line; std::getline(stream, line);) kept.push_back(line);
    }
    return kept;
  }
  std::string body(const std::string& file, int from, int to) {
    std::string text;
    const auto& all = lines(file);
    for (int i = std::max(from, 1); i <= to && i <= static_cast<int>(all.size()); ++i) {
      const std::string& line = all[static_cast<std::size_t>(i - 1)];
      text += line.substr(0, line.find("//")) + "\n";
    }
    return text;
  }
  std::set<std::string> recalled_methods() const {
    std::set<std::string> names;
    for (const MethodDefinition& method : method_definitions(source_))
      if (method.body.find("Evidence::recalled") != std::string::npos) names.insert(method.name);
    return names;
  }

 private:
  fs::path source_;
  std::map<std::string, std::vector<std::string>> files_;
};

const char* const door = R"(\b(check_fields|check_value|check_counts|require_set)\b|\bthrow BadInput|\bBadInput\()";

const char* const inside = "(^|::|_)detail(::|$)";

// Units as the headers write them, and ways to say how far a value may go.
const char* const unit_words =
    R"((^|[\s(])(kn|knots?|m|mm|ft|nmi|lb|kg|t|deg|degrees?|rpm|L|m2|m3|L/h|kW|kN|N|N m|Pa|hPa|kPa|K|C|F|kg/m3|m/s2?|m2/s|h|s|%|J/kg|MJ/kg|g/kg|GJ/m3|kg/s|g/kWh|L/nmi|nmi/L|coherent SI)(?=[\s,;:.)-]|$)|\d in(?=[\s,;:.)-]|$))";
const char* const range_words =
    R"(\d\S*( \S+){0,2} to |\babove -?\d|\bbelow -?\d|, to \d|\bany\b(?! order)|\bfrom \d|\bup to |\bfinite\b|\bat least\b|\bone of\b|\binside the\b|\bpositive\b|\bor more\b)";
const char* const elsewhere = R"(\bas (?:for )?(\w+)\(\)|\bof (\w+)\(\)|\bas above\b|\bfield tables?\b)";

// Free functions of the formula floors that hold no formula, each with its reason; a name that is gone is a fault.
const std::map<std::string, std::string> no_formula{{"words", "a value in words"},
                                                    {"explain", "flags in words"},
                                                    {"cite", "the source itself"},
                                                    {"source", "the source itself"},
                                                    {"method_of", "the source itself"},
                                                    {"shown_unit", "a choice of unit"},
                                                    {"function_at", "words of a message"},
                                                    {"check_deadrise", "a door"},
                                                    {"check_limits", "a door"},
                                                    {"through_cg_parallel_to_keel", "makes an input"},
                                                    {"thrust_below_cg", "makes an input"},
                                                    {"shaft_line", "makes an input"},
                                                    {"no_reserve", "makes an input"},
                                                    {"reserve_of_capacity", "makes an input"},
                                                    {"reserve_thirds", "makes an input"},
                                                    {"reserve_per_leg", "makes an input"},
                                                    {"reserve_volume", "makes an input"},
                                                    {"no_power_source", "makes an input"},
                                                    {"equal_steps", "makes an input"},
                                                    {"predicted_point", "copies a running state"},
                                                    {"running_state", "calls the balance that is named"},
                                                    {"speed_power_curve", "calls power_needed() for each speed"}};

const std::set<std::string> numbers{"double", "T", "B", "long double", "P"};

// The name of a type without qualifiers and template arguments; of a sequence or optional, of what is in it.
std::string bare_type(std::string type) {
  type = std::regex_replace(type, std::regex(R"(\b(const|constexpr|inline)\b|&)"), "");
  const std::regex around(R"(\s*std::(?:type_identity_t|span|vector|optional|initializer_list)\s*<(.*)>\s*)");
  for (std::smatch within; std::regex_match(type, within, around);) type = within[1].str();
  return std::regex_replace(type, std::regex(R"(<.*|\s)"), "");
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) return 2;
  const fs::path folder = argv[1];
  Headers headers(argv[2]);

  std::vector<Function> functions;
  std::map<std::string, std::vector<Field>> fields;  // of each struct
  std::set<std::string> inputs;                      // structs with a field table
  std::set<std::string> quantities;                  // aliases of Quantity
  for (const auto& entry : fs::directory_iterator(folder)) {
    const std::string file_name = entry.path().filename().string();
    if (!matches(file_name, "^(namespace|struct|class).*\\.xml$")) continue;
    Node tree;
    boost::property_tree::read_xml(entry.path().string(), tree, boost::property_tree::xml_parser::no_concat_text);
    walk(tree, "compounddef", [&](const Node& compound) {
      const std::string scope = text_of(compound, "compoundname");
      const bool is_namespace = compound.get<std::string>("<xmlattr>.kind") == "namespace";
      walk(compound, "memberdef", [&](const Node& member) {
        const std::string kind = member.get<std::string>("<xmlattr>.kind");
        const std::string name = text_of(member, "name");
        const std::string file = member.get<std::string>("location.<xmlattr>.file", "");
        if (file.rfind("hardchine/", 0) != 0) return;
        const int line = member.get<int>("location.<xmlattr>.line", 0);
        if (kind == "typedef" && matches(text_of(member, "definition"), "typedef (Quantity|Area) ?<"))
          quantities.insert(name);
        if (kind == "variable" && !is_namespace)
          fields[scope].push_back({name, text_of(member, "type"),
                                   text_of(member, "briefdescription") + text_of(member, "detaileddescription"), file,
                                   line});
        if (kind != "function") return;
        Function f;
        f.is_public = member.get<std::string>("<xmlattr>.prot") == "public";
        f.name = name;
        f.scope = scope;
        f.is_member = !is_namespace;
        f.type = text_of(member, "type");
        f.file = file;
        f.line = line;
        f.brief = text_of(member, "briefdescription");
        const int from = member.get<int>("location.<xmlattr>.bodystart", 0);
        const int to = member.get<int>("location.<xmlattr>.bodyend", from);
        f.body = headers.body(file, from, std::max(from, to));
        for (const auto& [tag, child] : member)
          if (tag == "param") f.parameters.push_back({text_of(child, "declname"), text_of(child, "type")});
        if (const auto detailed = member.get_child_optional("detaileddescription")) {
          f.text = f.brief + text_of(*detailed);
          walk(*detailed, "parameterlist", [&](const Node& list) {
            const std::string list_kind = list.get<std::string>("<xmlattr>.kind");
            walk(list, "parameteritem", [&](const Node& item) {
              const std::string description = text_of(item, "parameterdescription");
              walk(item, "parametername", [&](const Node& parameter) {
                if (list_kind == "param") f.documented[text_of(parameter)] = description;
                if (list_kind == "exception") f.throws.push_back(text_of(parameter));
              });
            });
          });
          walk(*detailed, "simplesect", [&](const Node& section) {
            if (section.get<std::string>("<xmlattr>.kind") == "return") f.returns += text_of(section);
          });
        }
        // A table of figures is a result's: it has no ranges to keep.
        if (!is_namespace && f.name == "fields" && f.body.find("figure(") == std::string::npos)
          inputs.insert(scope.substr(scope.rfind(':') + 1));
        functions.push_back(std::move(f));
      });
    });
  }

  // Who can throw: the doors, then by name all that call one that can, until nothing changes.
  std::set<std::string> throwing;
  const std::regex call(R"(\b(\w+)(<[^;(){}]{0,80}>)?\()");
  for (bool changed = true; changed;) {
    changed = false;
    for (Function& f : functions) {
      // Without an input there is no bad input; the exception itself is none either.
      const bool no_input = f.parameters.empty() && !f.is_member;
      if (f.can_throw || no_input || f.scope == "hardchine::BadInput") continue;
      bool can = matches(f.body, door);
      for (std::sregex_iterator it(f.body.begin(), f.body.end(), call), end; it != end && !can; ++it)
        can = (*it)[1] != "at" && throwing.contains((*it)[1]);  // at() is a container's
      if (!can) continue;
      f.can_throw = changed = true;
      throwing.insert(f.name);
    }
  }

  // Who answers by a recalled method: names one, or a flag that says so, itself or in the inside of the headers.
  const std::set<std::string> recalled_methods = headers.recalled_methods();
  std::set<std::string> recalling;
  const std::regex identifier(R"(\b[a-z]\w*\b)");
  for (bool changed = true; changed;) {
    changed = false;
    for (Function& f : functions) {
      for (std::sregex_iterator it(f.body.begin(), f.body.end(), identifier), end; it != end && !f.by_recalled; ++it) {
        const std::string word = (*it)[0];
        f.by_recalled = recalled_methods.contains(word) || word.find("recalled") != std::string::npos ||
                        (word != f.name && recalling.contains(word));
        changed = changed || f.by_recalled;
      }
      if (f.by_recalled && matches(f.scope, inside)) recalling.insert(f.name);
    }
  }

  int faults = 0, checked = 0, recalled = 0, sources = 0, doors = 0;
  const auto fault = [&](const std::string& file, int line, const std::string& what) {
    std::cout << "include/" << file << ":" << line << ": " << what << "\n";
    ++faults;
  };
  std::set<std::string> names;
  for (const Function& f : functions) names.insert(f.name);

  std::sort(functions.begin(), functions.end(), [](const Function& a, const Function& b) {
    return std::tie(a.file, a.line, a.name) < std::tie(b.file, b.line, b.name);
  });
  for (const Function& f : functions) {
    if (!f.is_public || matches(f.scope, inside)) continue;
    // One sentence says all of an operator, a literal, a field table; Doxygen demands that sentence.
    if (f.name.rfind("operator", 0) == 0 || f.name == "fields") continue;
    ++checked;
    const std::string who = f.name + "(): ";
    if (matches(f.brief, "^\\s*$")) fault(f.file, f.line, who + "no first sentence");

    // Parameters. One without a name takes its meaning from its type.
    for (const Parameter& p : f.parameters) {
      if (p.name.empty()) continue;
      const auto documented = f.documented.find(p.name);
      if (documented == f.documented.end() || matches(documented->second, "^\\s*$")) {
        fault(f.file, f.line, who + "parameter " + p.name + " without @param");
        continue;
      }
      const std::string& description = documented->second;
      const std::string type = bare_type(p.type);
      const bool quantity = quantities.contains(type);
      const bool number = numbers.contains(type);
      const bool input = inputs.contains(type);
      const bool of_quantities =
          input && std::any_of(fields[f.scope + "::" + type].begin(), fields[f.scope + "::" + type].end(),
                               [&](const Field& field) { return quantities.contains(bare_type(field.type)); });
      std::smatch to;
      if (std::regex_search(description, to, std::regex(elsewhere))) {
        for (std::size_t i = 1; i < to.size(); ++i)
          if (to[i].matched && !names.contains(to[i]))
            fault(f.file, f.line, who + "parameter " + p.name + " refers to " + to[i].str() + "(), which is not there");
        continue;
      }
      if ((quantity || of_quantities) && !matches(description, unit_words))
        fault(f.file, f.line, who + "parameter " + p.name + " (" + type + ") without a unit: " + description);
      if ((quantity || number || input) && !matches(description, range_words))
        fault(f.file, f.line, who + "parameter " + p.name + " (" + type + ") without its range: " + description);
    }

    // Result. The sentence of a member function without parameters says what it gives.
    std::string of_class = f.scope.substr(0, f.scope.find('<'));  // without the arguments of a specialisation
    of_class.erase(of_class.find_last_not_of(' ') + 1);
    const bool constructor = f.is_member && of_class.substr(of_class.rfind(':') + 1) == f.name;
    const bool asked = f.is_member && f.parameters.empty();
    if (!constructor && !asked && !matches(f.type, "(^| )void$") && matches(f.returns, "^\\s*$"))
      fault(f.file, f.line, who + "no @return");

    // Errors, both ways.
    const bool says = std::find(f.throws.begin(), f.throws.end(), "BadInput") != f.throws.end();
    doors += f.can_throw ? 1 : 0;
    if (f.can_throw && !says) fault(f.file, f.line, who + "can throw BadInput and does not say @throws BadInput");
    if (!f.can_throw && says) fault(f.file, f.line, who + "says @throws BadInput and nothing in it throws");

    // What cites and explains itself says it when it runs.
    if (f.by_recalled && !std::set<std::string>{"words", "explain", "cite"}.contains(f.name)) {
      ++recalled;
      if (!matches(f.text, "\\brecalled\\b"))
        fault(f.file, f.line, who + "answers by a recalled method and does not say so");
    }

    // Source: the formulas are the free functions of these floors. An overload that says it is the same has it there.
    const bool formula_floor =
        matches(f.file, "/(craft|fluids|resistance|propulsion|seakeeping|economy|trial|prediction)/");
    const bool same = f.brief.rfind("The same", 0) == 0 &&
                      std::count_if(functions.begin(), functions.end(),
                                    [&](const Function& other) { return other.name == f.name; }) > 1;
    if (formula_floor && !f.is_member && !no_formula.contains(f.name) && !same) {
      ++sources;
      if (!matches(f.text, "Source:"))
        fault(f.file, f.line, who + "a formula without its Source:");
      else if (!matches(f.text, "\\b(printed|transcribed|recalled|practice)\\b"))
        fault(f.file, f.line, who + "a source without its evidence (printed, transcribed, recalled, practice)");
    }
  }

  // Fields of inputs: a number or quantity has its unit and range beside it.
  for (const auto& [name, reason] : no_formula)
    if (!names.contains(name)) fault("hardchine", 0, name + "() is listed as no formula and is not there");

  int members = 0;
  for (const auto& [scope, list] : fields) {
    if (matches(scope, inside) || !inputs.contains(scope.substr(scope.rfind(':') + 1))) continue;
    for (const Field& field : list) {
      const std::string type = bare_type(field.type);
      if (!quantities.contains(type) && !numbers.contains(type)) continue;
      ++members;
      const std::string who = scope.substr(scope.rfind(':') + 1) + "::" + field.name;
      if (quantities.contains(type) && !matches(field.text, unit_words))
        fault(field.file, field.line, who + " without a unit: " + field.text);
      if (!matches(field.text, range_words)) fault(field.file, field.line, who + " without its range: " + field.text);
    }
  }
  std::printf("%d functions, %d with a door, %d formulas with a source, %d recalled, %d fields, %d faults\n", checked,
              doors, sources, recalled, members, faults);
  // Fewer means that the XML was not read.
  return faults == 0 && checked > 200 && doors > 80 && sources > 80 && recalled > 3 && members > 150 ? 0 : 1;
}
