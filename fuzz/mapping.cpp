// Mapping files: one that reads has mains to import, one that does not says what to do about it.
#include <cstdint>
#include <cstdlib>

#include "maps/mapping.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace bellhole;
  const auto mapping = maps::read_mapping({reinterpret_cast<const char*>(data), size}, "fuzz");
  const bool good = mapping ? !mapping->entries("mains").empty() : !mapping.error().fix.empty();
  if (!good) std::abort();
  return 0;
}
