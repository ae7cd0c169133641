#include "pipe/materials.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <vector>

#include "units/unit.hpp"

namespace bellhole::pipe {
namespace {

constexpr Strength psi(double value, std::string_view source, Evidence evidence) {
  return {Stress::from_si(value * units::psi_pa), source, evidence};
}
constexpr Strength mpa(double value, std::string_view source, Evidence evidence) {
  return {Stress::from_si(value * 1e6), source, evidence};
}

constexpr std::string_view listing = "PPI TR-4 listing; the pipe's own compound decides";
constexpr std::string_view ppi = "PPI comparison of PE4710 and PE3608, 2015 (HDS is half of it)";
constexpr std::string_view is_14885 = "IS 14885 (MRS classes)";
constexpr std::string_view adb =
    "PHMSA advisory bulletins (72 FR 51301): poor history of brittle-like cracking";

constexpr std::array all{
    Material{"PE2406", psi(1250, listing, Evidence::from_memory), std::nullopt, std::nullopt},
    Material{"PE2708", psi(1250, listing, Evidence::seen), psi(800, listing, Evidence::seen),
             mpa(8.0, "listing of a PE2708 compound", Evidence::seen)},
    Material{"PE3408", psi(1600, ppi, Evidence::seen), psi(800, listing, Evidence::from_memory),
             std::nullopt},
    Material{"PE3608", psi(1600, ppi, Evidence::seen), psi(800, listing, Evidence::from_memory),
             std::nullopt},
    Material{"PE4710", psi(1600, listing, Evidence::from_memory),
             psi(1000, listing, Evidence::from_memory), std::nullopt},
    Material{"PE80", std::nullopt, std::nullopt, mpa(8.0, is_14885, Evidence::seen)},
    Material{"PE100", std::nullopt, std::nullopt, mpa(10.0, is_14885, Evidence::seen)},
    Material{"PE2306", std::nullopt, std::nullopt, std::nullopt,
             "an early medium-density code without a strength on record here"},
    Material{"PE3306", std::nullopt, std::nullopt, std::nullopt, adb},
};

std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == ' ' || c == '-' || c == '_') continue;
    out += (c >= 'a' && c <= 'z') ? static_cast<char>(c - 'a' + 'A') : c;
  }
  return out;
}

/// How many characters stand in the same place, then the fewest left over.
int likeness(std::string_view a, std::string_view b) {
  int same = 0;
  for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) same += a[i] == b[i] ? 2 : 0;
  return same - static_cast<int>(a.size() > b.size() ? a.size() - b.size() : b.size() - a.size());
}

}  // namespace

std::span<const Material> materials() { return all; }

Result<const Material*> read_material(std::string_view text, std::string_view where) {
  const std::string wanted = plain(text.substr(0, 40));
  const auto found = std::ranges::find(all, wanted, &Material::name);
  if (found != all.end()) return &*found;
  std::vector<std::string_view> near;
  for (const Material& material : all) near.push_back(material.name);
  std::ranges::stable_sort(near, std::greater<>(),
                           [&](std::string_view name) { return likeness(name, wanted); });
  return trouble(Code::unknown_material, std::string(where), std::string(text),
                 fmt::format("not in the table; nearest are {}, {}, {}; write unknown if the print "
                             "line cannot be read",
                             near[0], near[1], near[2]));
}

}  // namespace bellhole::pipe
