// SHA-256 (FIPS 180-4), the name of everything that is kept: networks, requests, results, events.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace bellhole::wire {

/// The 32 bytes of the digest.
std::array<std::uint8_t, 32> sha256(std::string_view bytes);

/// The digest as 64 lower-case hexadecimal digits.
std::string sha256_hex(std::string_view bytes);

}  // namespace bellhole::wire
