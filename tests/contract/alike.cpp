#include "tests/contract/alike.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace bellhole::contract {
namespace {

using nlohmann::json;

bool close(double a, double b) {
  const double apart = std::abs(a - b);
  return apart <= about_zero || apart <= relative * std::max(std::abs(a), std::abs(b));
}

void collect(const json& wanted, const json& got, const std::string& path,
             std::vector<std::string>& found) {
  const auto say = [&](const std::string& what) {
    found.push_back((path.empty() ? "document" : path) + ": " + what);
  };
  if (wanted.is_object() && got.is_object()) {
    const std::string stem = path.empty() ? "" : path + ".";
    for (const auto& [key, value] : wanted.items()) {
      if (got.contains(key)) {
        collect(value, got.at(key), stem + key, found);
      } else {
        found.push_back(stem + key + ": missing");
      }
    }
    for (const auto& item : got.items())
      if (!wanted.contains(item.key())) found.push_back(stem + item.key() + ": not wanted");
  } else if (wanted.is_array() && got.is_array()) {
    if (wanted.size() != got.size()) {
      say("wanted " + std::to_string(wanted.size()) + " entries, got " +
          std::to_string(got.size()));
      return;
    }
    for (std::size_t i = 0; i < wanted.size(); ++i)
      collect(wanted[i], got[i], path + "[" + std::to_string(i) + "]", found);
  } else if (wanted.is_number() && got.is_number()) {
    if (!close(wanted.get<double>(), got.get<double>()))
      say("wanted " + wanted.dump() + ", got " + got.dump());
  } else if (wanted != got) {
    say("wanted " + wanted.dump() + ", got " + got.dump());
  }
}

}  // namespace

std::vector<std::string> differences(const json& wanted, const json& got) {
  std::vector<std::string> found;
  collect(wanted, got, "", found);
  return found;
}

}  // namespace bellhole::contract
