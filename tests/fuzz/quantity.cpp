// Fuzzing of the quantity parser: whatever is typed, it is refused with its field, or read to the finite value that the C
// library reads in it, which reads back from the shortest number that prints it.
#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <string_view>

#include "hardchine/text.hpp"

namespace {

using namespace hardchine;

void demand(bool holds, const char* what, std::string_view text) {
  if (holds) return;
  std::fprintf(stderr, "%s: \"%.*s\"\n", what, static_cast<int>(text.size()), text.data());
  std::abort();
}

std::string shortest(double x) {
  char buffer[64];
  return std::string(buffer, std::to_chars(buffer, buffer + sizeof buffer, x).ptr);
}

// The number at the start of the text by the C library, whose end must be where the parser saw it: before a unit.
double number_by_strtod(std::string_view text, std::string_view unit) {
  const std::string copy(detail::trimmed(text));
  char* end = nullptr;
  const double number = std::strtod(copy.c_str(), &end);
  demand(detail::trimmed(end) == unit, "the number ends elsewhere by strtod", text);
  return number;
}

// The text is refused, or `read` gives its value.
template <class Read>
void try_to_read(std::string_view text, const Read& read) {
  try {
    read(text);
  } catch (const BadInput& refusal) {
    const std::string_view message = refusal.what();
    demand(message.size() < 400, "a message without end", text);
    const auto control = [](char c) { return (static_cast<unsigned char>(c) < 32) || c == 127; };
    demand(std::none_of(message.begin(), message.end(), control), "a control character in a message", text);
    demand(refusal.field() == "a field", "refused without its field", text);
    demand(!refusal.accepted().empty(), "refused without saying what is accepted", text);
  }
}

// What is typed as number and unit is what is read.
template <class Q>
void read_back(std::string_view text, const ReadQuantity<Q>& read, const UnitSymbol& symbol) {
  const double value = read.value.value(), number = value / symbol.factor;
  // A number out of these has no place for its last digit, or none for its unit: refused, as it should be.
  if (number != 0.0 && !(std::abs(number) <= 1e290 && std::abs(number) >= 1e-250)) return;
  const auto again = read_quantity<Q>(joined({shortest(number), " ", symbol.symbol}), "a field");
  // Division and product by the factor round once each; an SI unit gives the same bits.
  const double off = std::abs(again.value.value() - value);
  demand(off <= (symbol.factor == 1.0 ? 0.0 : 4e-16 * std::abs(value)), "does not read back", text);
}

template <class Q>
void read_and_print(std::string_view text) {
  const auto read = read_quantity<Q>(text, "a field");
  const double value = read.value.value();
  demand(std::isfinite(value), "not finite", text);
  demand(read.last_place.value() > 0.0 && std::isfinite(read.last_place.value()), "no last place", text);
  if constexpr (std::same_as<Q, Temperature<>>) {
    demand(value > 0.0, "not above absolute zero", text);
    const auto again = read_quantity<Q>(joined({shortest(value), " K"}), "a field");
    demand(value < 1e-250 || again.value.value() == value, "a temperature does not read back", text);
  } else {
    const auto& symbols = UnitSymbols<typename detail::UnitOf<Q>::type>::list;
    int meant = 0;
    for (const UnitSymbol& symbol : symbols) {
      read_back<Q>(text, read, symbol);
      const std::string_view body = detail::trimmed(text);
      const std::string_view rest = detail::trimmed(body.substr(detail::read_number(body).length));
      if (rest != symbol.symbol) continue;
      ++meant;
      demand(number_by_strtod(text, symbol.symbol) * symbol.factor == value, "another number by strtod", text);
    }
    demand(meant == 1, "no unit or two units", text);
    const UnitSymbol& first = symbols.front();
    const double number = value / first.factor;
    if (std::abs(number) < 1e15) {
      // Three decimals: the text in the unit is within half of the last, and the rounding of the number itself.
      const Q unit = Q::from_value(first.factor);
      const auto printed = read_quantity<Q>(to_text(read.value, unit, first.symbol, 3), "a field");
      demand(std::abs(printed.value.value() / first.factor - number) <= 0.0005 + 1e-15 * std::abs(number),
             "prints as another", text);
    }
  }
  const std::string printed = fixed(value, 3);
  demand(!printed.empty() && printed != "-0.000", "does not print", text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try_to_read(text, read_and_print<Length<>>);
  try_to_read(text, read_and_print<Area<>>);
  try_to_read(text, read_and_print<Volume<>>);
  try_to_read(text, read_and_print<Duration<>>);
  try_to_read(text, read_and_print<Speed<>>);
  try_to_read(text, read_and_print<Mass<>>);
  try_to_read(text, read_and_print<Force<>>);
  try_to_read(text, read_and_print<Power<>>);
  try_to_read(text, read_and_print<Pressure<>>);
  try_to_read(text, read_and_print<Angle<>>);
  try_to_read(text, read_and_print<RotationRate<>>);
  try_to_read(text, read_and_print<Density<>>);
  try_to_read(text, read_and_print<KinematicViscosity<>>);
  try_to_read(text, read_and_print<Acceleration<>>);
  try_to_read(text, read_and_print<VolumeFlow<>>);
  try_to_read(text, read_and_print<SpecificConsumption<>>);
  try_to_read(text, read_and_print<Moment<>>);
  try_to_read(text, read_and_print<Temperature<>>);
  try_to_read(text, [](std::string_view typed) {
    const ReadRatio ratio = read_ratio(typed, "a field");
    demand(std::isfinite(ratio.value) && ratio.last_place > 0.0, "a ratio that is none", typed);
    const bool in_percent = detail::trimmed(typed).ends_with('%');
    const double number = number_by_strtod(typed, in_percent ? "%" : "");
    demand((in_percent ? number * percent : number) == ratio.value, "another ratio by strtod", typed);
    if (ratio.value != 0.0 && !(std::abs(ratio.value) <= 1e290 && std::abs(ratio.value) >= 1e-250)) return;
    demand(read_ratio(shortest(ratio.value), "a field").value == ratio.value, "a ratio does not read back", typed);
  });
  return 0;
}
