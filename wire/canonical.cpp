// Canonical JSON (RFC 8785): keys sorted by UTF-16 code unit, no blanks, numbers as ECMAScript
// writes them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "wire/json.hpp"

namespace bellhole::wire {
namespace {

/// ECMA-262 Number::toString. fmt gives the shortest digits that read back as the same double.
std::string number_text(double number) {
  if (number == 0.0) return "0";
  // The shortest digits in some layout: take digits and decimal exponent out of it.
  const std::string shortest = fmt::format("{}", std::abs(number));
  const auto e = shortest.find('e');
  const std::string mantissa = shortest.substr(0, e);
  const auto point = mantissa.find('.');
  const std::string whole = mantissa.substr(0, point);
  std::string digits = whole + (point == std::string::npos ? "" : mantissa.substr(point + 1));
  const auto first = digits.find_first_not_of('0');
  digits = digits.substr(first);
  while (digits.size() > 1 && digits.back() == '0') digits.pop_back();
  const int power_of_ten = e == std::string::npos ? 0 : std::atoi(shortest.c_str() + e + 1);
  // value = 0.digits x 10^n
  const int n = power_of_ten + static_cast<int>(whole.size()) - static_cast<int>(first);
  const int k = static_cast<int>(digits.size());
  std::string out = number < 0 ? "-" : "";
  if (k <= n && n <= 21) return out + digits + std::string(static_cast<std::size_t>(n - k), '0');
  if (0 < n && n <= 21)
    return out + digits.substr(0, static_cast<std::size_t>(n)) + "." +
           digits.substr(static_cast<std::size_t>(n));
  if (-6 < n && n <= 0) return out + "0." + std::string(static_cast<std::size_t>(-n), '0') + digits;
  const std::string power = fmt::format("e{}{}", n - 1 < 0 ? "-" : "+", std::abs(n - 1));
  if (k == 1) return out + digits + power;
  return out + digits.substr(0, 1) + "." + digits.substr(1) + power;
}

/// UTF-16 order differs from byte order only above the basic plane: surrogates sort before
/// U+E000..U+FFFF.
std::u16string utf16(const std::string& utf8) {
  std::u16string out;
  for (std::size_t i = 0; i < utf8.size();) {
    const auto byte = static_cast<unsigned char>(utf8[i]);
    const int length = byte < 0x80 ? 1 : byte < 0xE0 ? 2 : byte < 0xF0 ? 3 : 4;
    std::uint32_t point = length == 1 ? byte : byte & (0xFFu >> (length + 1));
    for (int j = 1; j < length && i + static_cast<std::size_t>(j) < utf8.size(); ++j) {
      point = (point << 6) |
              (static_cast<unsigned char>(utf8[i + static_cast<std::size_t>(j)]) & 0x3Fu);
    }
    i += static_cast<std::size_t>(length);
    if (point >= 0x10000) {
      point -= 0x10000;
      out += static_cast<char16_t>(0xD800 + (point >> 10));
      out += static_cast<char16_t>(0xDC00 + (point & 0x3FF));
    } else {
      out += static_cast<char16_t>(point);
    }
  }
  return out;
}

void write(const Json& json, std::string& out) {
  if (json.is_object()) {
    std::vector<std::pair<std::u16string, const std::string*>> keys;
    for (const auto& item : json.items()) keys.emplace_back(utf16(item.key()), &item.key());
    std::ranges::sort(keys, {}, &decltype(keys)::value_type::first);
    out += '{';
    bool first = true;
    for (const auto& [order, key] : keys) {
      if (!first) out += ',';
      first = false;
      out += Json(*key).dump(-1, ' ', false, Json::error_handler_t::replace) + ':';
      write(json.find(*key).value(), out);
    }
    out += '}';
  } else if (json.is_array()) {
    out += '[';
    for (std::size_t i = 0; i < json.size(); ++i) {
      if (i > 0) out += ',';
      write(json[i], out);
    }
    out += ']';
  } else if (json.is_number_float()) {
    out += number_text(json.get<double>());
  } else {
    out += json.dump(-1, ' ', false, Json::error_handler_t::replace);
  }
}

}  // namespace

std::string canonical(const Json& json) {
  std::string out;
  write(json, out);
  return out;
}

}  // namespace bellhole::wire
