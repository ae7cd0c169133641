// Roughness of pipe walls, taken where neither the map nor the mapping gives one. Said once per
// material in the report.
#pragma once

#include <array>
#include <string_view>

#include "network/columns.hpp"

namespace bellhole::maps {

struct RoughnessRow {
  network::Material material;
  Length value;
  std::string_view source;
};

inline constexpr std::array roughness_table{
    RoughnessRow{network::Material::pe, Length::from_si(1.5e-6),
                 "drawn tubing, Moody 1944 (from memory)"},
    RoughnessRow{network::Material::pvc, Length::from_si(1.5e-6),
                 "drawn tubing, Moody 1944 (from memory)"},
    RoughnessRow{network::Material::steel, Length::from_si(45.7e-6),
                 "commercial steel 0.0018 in, Crane TP-410"},
    RoughnessRow{network::Material::cast_iron, Length::from_si(0.26e-3),
                 "cast iron, Moody 1944 (from memory)"},
};

}  // namespace bellhole::maps
