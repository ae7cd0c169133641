// The components of natural gas and their critical constants.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace bellhole::gas {

struct Component {
  std::string_view formula;
  double kg_per_mol;
  double critical_k, critical_pa, acentric;
};

/// Methane first.
std::span<const Component> components();
const Component* component_named(std::string_view formula);
std::string component_names();  ///< for messages: "CH4, N2, CO2 …"

}  // namespace bellhole::gas
