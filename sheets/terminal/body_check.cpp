#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {

namespace {

std::string steps_check_text(const Json& steps) {
  std::string out = fmt::format("Steps of the plan document {}\n  made by {}\n",
                                word(steps, "plan_id", "without an id").substr(0, 16),
                                word(steps, "made_by", "an unknown engine"));
  for (const Json& plan : steps.at("plans"))
    out += fmt::format("  plan {}: {} steps, {}\n", plan.at("rank").get<int>(),
                       plan.at("steps").get<int>(), word(plan, "verdict"));
  return out;
}

}  // namespace

std::string check_body(const Json& reply, units::System system) {
  if (const auto steps = reply.find("steps"); steps != reply.end()) return steps_check_text(*steps);
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
