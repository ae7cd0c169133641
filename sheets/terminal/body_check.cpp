#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {

std::string check_body(const Json& reply, units::System system) {
  const Json& network = reply.at("network");
  const Json& counts = reply.at("counts");
  const auto count = [&](const char* key) { return counts.value(key, 0); };
  std::string out = fmt::format("{}\n", word(network, "name", "network without a name"));
  out += fmt::format("  from {}, map of {}, {}\n", word(network, "imported_from", "-"),
                     word(network, "map_date", "an unknown date"), word(network, "crs", "-"));
  out += fmt::format(
      "  {} of main in {} pipes and {} nodes; {} valves, {} regulators, {} sources, {} customers, "
      "{} features\n",
      shown<kinds::Length>(counts, "length", system), count("pipes"), count("nodes"),
      count("valves"), count("regulators"), count("sources"), count("customers"),
      count("features"));
  out += fmt::format("  {} notes of its import travel with it\n  network {}\n", count("notes"),
                     word(network, "hash"));
  return out;
}

}  // namespace bellhole::sheets
