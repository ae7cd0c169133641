#include "gas/components.hpp"

#include <array>

namespace bellhole::gas {
namespace {

// Poling, Prausnitz, O'Connell, The Properties of Gases and Liquids, 5th ed. (2001), Appendix A;
// from memory.
constexpr std::array table{
    Component{"CH4", 16.0425e-3, 190.564, 4.599e6, 0.0115},
    Component{"N2", 28.0134e-3, 126.20, 3.398e6, 0.037},
    Component{"CO2", 44.0095e-3, 304.12, 7.374e6, 0.225},
    Component{"C2H6", 30.0690e-3, 305.32, 4.872e6, 0.099},
    Component{"C3H8", 44.0956e-3, 369.83, 4.248e6, 0.152},
    Component{"iC4", 58.1222e-3, 407.85, 3.640e6, 0.186},
    Component{"nC4", 58.1222e-3, 425.12, 3.796e6, 0.200},
    Component{"iC5", 72.1488e-3, 460.39, 3.381e6, 0.229},
    Component{"nC5", 72.1488e-3, 469.70, 3.370e6, 0.252},
    Component{"C6", 86.1754e-3, 507.60, 3.025e6, 0.300},
    Component{"H2", 2.01588e-3, 32.98, 1.293e6, -0.217},
    Component{"O2", 31.9988e-3, 154.58, 5.043e6, 0.022},
    Component{"CO", 28.0101e-3, 132.85, 3.494e6, 0.045},
    Component{"H2S", 34.0809e-3, 373.40, 8.963e6, 0.090},
    Component{"He", 4.0026e-3, 5.19, 0.227e6, -0.390},
    Component{"Ar", 39.948e-3, 150.86, 4.898e6, -0.002},
};

}  // namespace

std::span<const Component> components() { return table; }

const Component* component_named(std::string_view formula) {
  for (const Component& component : table) {
    if (component.formula == formula) return &component;
  }
  return nullptr;
}

std::string component_names() {
  std::string text;
  for (const Component& component : table) {
    if (!text.empty()) text += ", ";
    text += component.formula;
  }
  return text;
}

}  // namespace bellhole::gas
