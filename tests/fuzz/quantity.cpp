// Fuzzing of the quantity parser: whatever is typed, it is refused with its field or read to a finite value that reads
// back from the shortest number that prints it.
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

template <class Read>
void try_to_read(std::string_view text, const Read& read) {
  try {
    read(text);
  } catch (const BadInput& refusal) {
    demand(refusal.field() == "a field", "refused without its field", text);
    demand(!refusal.accepted().empty(), "refused without saying what is accepted", text);
    demand(std::string_view(refusal.what()).find('\n') == std::string_view::npos, "a message of two lines", text);
  }
}

template <class Q>
void read_and_print(std::string_view text) {
  const auto read = read_quantity<Q>(text, "a field");
  demand(std::isfinite(read.value.value()), "not finite", text);
  demand(read.last_place.value() > 0.0 && std::isfinite(read.last_place.value()), "no last place", text);
  if constexpr (!std::same_as<Q, Temperature<>>) {
    const auto& symbols = UnitSymbols<typename detail::UnitOf<Q>::type>::list;
    for (const UnitSymbol& symbol : symbols) {
      const double number = read.value.value() / symbol.factor;
      if (!(std::abs(number) <= 1e290)) continue;  // refused as no number that a quantity can hold
      // Small numbers may have more places than a last place can stand for.
      if (number != 0.0 && std::abs(number) < 1e-250) continue;
      const auto again = read_quantity<Q>(joined({shortest(number), " ", symbol.symbol}), "a field");
      const double off = std::abs(again.value.value() - read.value.value());
      demand(off <= 4e-16 * std::abs(read.value.value()), "does not read back", text);
    }
  }
  const std::string printed = fixed(read.value.value(), 3);
  demand(!printed.empty() && printed != "-0.000", "does not print", text);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try_to_read(text, read_and_print<Length<>>);
  try_to_read(text, read_and_print<Volume<>>);
  try_to_read(text, read_and_print<Speed<>>);
  try_to_read(text, read_and_print<Mass<>>);
  try_to_read(text, read_and_print<Power<>>);
  try_to_read(text, read_and_print<Pressure<>>);
  try_to_read(text, read_and_print<Angle<>>);
  try_to_read(text, read_and_print<RotationRate<>>);
  try_to_read(text, read_and_print<Density<>>);
  try_to_read(text, read_and_print<VolumeFlow<>>);
  try_to_read(text, read_and_print<SpecificConsumption<>>);
  try_to_read(text, read_and_print<Moment<>>);
  try_to_read(text, read_and_print<Temperature<>>);
  try_to_read(text, [](std::string_view typed) {
    const ReadRatio ratio = read_ratio(typed, "a field");
    demand(std::isfinite(ratio.value) && ratio.last_place > 0.0, "a ratio that is none", typed);
  });
  return 0;
}
