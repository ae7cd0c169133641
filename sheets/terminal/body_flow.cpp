#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

constexpr std::size_t customers_shown = 20;

std::string extreme_text(std::string_view what, const Json& extreme, System system, Toward toward) {
  if (!extreme.is_object()) return fmt::format("{} not known", what);
  const auto pressure = [&](const char* key) {
    const Json& value = extreme.at(key);
    return value.is_number()
               ? units::print(GaugePressure::from_si(value.get<double>()), system, toward)
               : std::string("no limit set: decide");
  };
  return fmt::format("{} {} at {} (limit {})", what, pressure("pa_gauge"),
                     word(extreme, "node", word(extreme, "customer", "-")),
                     pressure("limit_pa_gauge"));
}

std::string customers_text(std::string_view title, const Json& customers, System system) {
  std::string out;
  if (customers.empty()) return out;
  out += fmt::format("\n{} {}\n", customers.size(), title);
  for (std::size_t i = 0; i < std::min(customers.size(), customers_shown); ++i) {
    out += fmt::format("  {:<12} {:<24} {}{}\n", word(customers[i], "id"),
                       word(customers[i], "street"),
                       shown<kinds::GaugePressure>(customers[i], "pressure", system, Toward::down),
                       customers[i].at("must_not_lose").get<bool>() ? "  MUST NOT LOSE GAS" : "");
  }
  if (customers.size() > customers_shown)
    out += fmt::format("  and {} more: --json lists all\n", customers.size() - customers_shown);
  return out;
}

}  // namespace

std::string flow_body(const Json& reply, System system) {
  std::string out =
      word(reply, "outcome") == "solved"
          ? "The network carries the load.\n"
          : "The network cannot carry the load: a converged solution with less for those below.\n";
  out += fmt::format("  {} into the network; {}\n",
                     shown<kinds::MassFlow>(reply, "into_network", system), word(reply, "law"));
  if (const std::string says = word(reply, "limit_temperature_says"); !says.empty())
    out += "  " + says + '\n';
  out += "\nTiers\n";
  for (const Json& tier : reply.at("tiers")) {
    out += fmt::format("  {:<10} {}\n             {}\n", word(tier, "id"),
                       extreme_text("lowest ", tier.at("lowest"), system, Toward::down),
                       extreme_text("highest", tier.at("highest"), system, Toward::up));
  }
  if (!reply.at("regulators").empty()) out += "\nRegulators\n";
  for (const Json& regulator : reply.at("regulators")) {
    out += fmt::format("  {:<10} {:<10} {} in, {} out, {}\n", word(regulator, "id"),
                       word(regulator, "mode"),
                       shown<kinds::GaugePressure>(regulator, "inlet", system),
                       shown<kinds::GaugePressure>(regulator, "outlet", system),
                       shown<kinds::MassFlow>(regulator, "flow", system));
  }
  out += "\nSources\n";
  for (const Json& source : reply.at("sources")) {
    out += fmt::format("  {:<10} {}{}\n", word(source, "id"),
                       shown<kinds::MassFlow>(source, "flow", system),
                       source.at("at_capacity").get<bool>() ? ", at its capacity" : "");
  }
  out += customers_text("customers fall short of their least pressure", reply.at("short"), system);
  out += customers_text("customers without any gas", reply.at("out"), system);
  return out + "\n  --json lists every node and main.\n";
}

std::string feeds_body(const Json& reply, System system) {
  std::string out = fmt::format("{}: gas comes from {} of {} sides\n", word(reply, "place"),
                                reply.at("fed_sides").get<std::size_t>(), reply.at("sides").size());
  const auto joined = [](const Json& ids) {
    std::string text;
    for (const Json& id : ids) text += (text.empty() ? "" : ", ") + id.get<std::string>();
    return text;
  };
  for (const Json& side : reply.at("sides")) {
    out += fmt::format("\n  from {}{}{}\n", word(side, "toward"),
                       word(side, "pipe").empty() ? "" : " along main " + word(side, "pipe"),
                       side.at("fed").get<bool>() ? "" : ": no gas comes this way");
    for (const Json& feed : side.at("feeds")) {
      out += fmt::format("    source {} over {} of main\n", word(feed, "source"),
                         shown<kinds::Length>(feed, "length", system));
      if (!feed.at("regulators").empty())
        out += "      through regulators " + joined(feed.at("regulators")) + '\n';
      if (!feed.at("backwards").empty())
        out += "      BACKWARDS through regulators " + joined(feed.at("backwards")) + '\n';
      if (!feed.at("valves").empty())
        out += "      past valves " + joined(feed.at("valves")) + '\n';
    }
  }
  return out;
}

}  // namespace bellhole::sheets
