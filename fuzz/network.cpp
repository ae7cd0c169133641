// Network documents: what reads is whole, and is written and read again as the same network.
#include <cstdint>
#include <cstdlib>

#include "wire/network_file.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace bellhole;
  const auto network = wire::read_network({reinterpret_cast<const char*>(data), size}, "fuzz");
  if (!network) {
    if (network.error().fix.empty()) std::abort();
    return 0;
  }
  const std::string written = wire::write_network(*network);
  const auto again = wire::read_network(written, "written");
  if (!again || wire::write_network(*again) != written) std::abort();
  return 0;
}
