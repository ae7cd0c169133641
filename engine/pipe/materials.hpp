// PE materials by their code, with what their strength rests on.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "units/quantity.hpp"

namespace bellhole::pipe {

/// A strength on record and how well it is known.
struct Strength {
  Stress value;
  std::string_view source;
  Evidence evidence = Evidence::from_memory;
};

struct Material {
  std::string_view name;            ///< "PE4710"
  std::optional<Strength> hdb_73;   ///< hydrostatic design basis at 73 degF
  std::optional<Strength> hdb_140;  ///< at 140 degF; depends on the compound, PPI TR-4 lists it
  std::optional<Strength> mrs;      ///< minimum required strength at 20 degC, 50 years
  std::string_view history =
      {};  ///< what is published against old pipe of this code; empty: nothing
};

std::span<const Material> materials();

/// Reads "PE4710", "PE 4710", "pe-4710". Errors: unknown_material, with the nearest codes as the
/// fix.
Result<const Material*> read_material(std::string_view text, std::string_view where);

}  // namespace bellhole::pipe
