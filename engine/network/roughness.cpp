#include "network/roughness.hpp"

#include <cmath>

namespace bellhole::network {
namespace {

constexpr std::string_view moody = "Moody, Trans. ASME 66 (1944) 671";

struct Usual {
  Material material;
  double metres;
  std::string_view source;
};
constexpr Usual usual[] = {
    {Material::pe, 1.5e-6, moody},     {Material::pvc, 1.5e-6, moody},
    {Material::steel, 45.7e-6, moody}, {Material::cast_iron, 259e-6, moody},
    {Material::other, 45.7e-6, moody}, {Material::unknown, 45.7e-6, moody},
};

}  // namespace

Roughness roughness_of(const Pipes& pipes, Index pipe) {
  const auto i = static_cast<std::size_t>(pipe);
  if (!std::isnan(pipes.roughness[i].si()))
    return {.value = pipes.roughness[i], .source = "the map"};
  Roughness found;
  for (const Usual& row : usual) {
    if (row.material != pipes.material[i]) continue;
    found = {Length::from_si(row.metres), true, row.source, Evidence::from_memory};
  }
  return found;
}

}  // namespace bellhole::network
