// Typed values: whatever a person types is a finite value, or trouble with a way out.
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "units/parse.hpp"

namespace {

using namespace bellhole;

void must(bool holds) {
  if (!holds) std::abort();
}

void must_help(const Trouble& trouble) { must(!trouble.fix.empty() && trouble.where == "--typed"); }

template <class Quantity>
void read(std::string_view text) {
  using Kind = typename Quantity::kind;
  if (const auto one = units::parse<Kind>(text, "--typed")) {
    must(std::isfinite(one->value.si()));
  } else {
    must_help(one.error());
  }
  if (const auto range = units::parse_range<Kind>(text, "--typed")) {
    must(std::isfinite(range->low.si()) && std::isfinite(range->high.si()));
  } else {
    must_help(range.error());
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  read<Length>(text);
  read<GaugePressure>(text);
  read<AbsolutePressure>(text);
  read<Temperature>(text);
  read<Duration>(text);
  read<Speed>(text);
  return 0;
}
