#include <fmt/format.h>

#include <map>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

std::string mains_words(const Json& main) {
  std::string words = word(main, "size", "size not recorded");
  if (const auto& ratio = main.at("ratio"); ratio.is_number())
    words += fmt::format(" DR {:g}", ratio.get<double>());
  const std::string material = word(main, "material", "unknown");
  return words + ' ' +
         word(main, "grade", material == "unknown" ? "of a material not recorded" : material);
}

std::string shutoff_text(const Json& shutoff, System system) {
  std::string out = fmt::format("    {}  {}", word(shutoff, "id"), word(shutoff, "says"));
  if (shutoff.at("pipe").is_string())
    out += fmt::format("  ({}{})", mains_words(shutoff),
                       word(shutoff, "street").empty() ? "" : ", " + word(shutoff, "street"));
  out += '\n';
  for (const Json& offset : shutoff.at("offsets")) {
    const std::string toward = word(offset, "toward");
    out += fmt::format("         {} {} {}\n", shown<kinds::Length>(offset, "distance", system),
                       toward.empty() ? "from" : toward + " of", word(offset, "from"));
  }
  if (const Json& sheet = shutoff.at("squeeze"); sheet.is_object()) {
    const auto stop = sheet.find("stop");
    const bool chosen = stop != sheet.end() && stop->is_object();
    out += fmt::format("         {}; sheet reads {}\n",
                       chosen ? fmt::format("stop {}, {} between the bars", word(*stop, "id"),
                                            shown<kinds::Length>(*stop, "gap", system))
                              : fmt::format("gap wanted between the bars {}, no stop chosen",
                                            shown<kinds::Length>(sheet, "stop_gap", system)),
                       word(sheet, "verdict"));
  }
  for (const Json& other : shutoff.at("nearby")) {
    out += fmt::format("         another main within reach of the dig: {} ({}) {} away\n",
                       word(other, "pipe"), mains_words(other),
                       shown<kinds::Length>(other, "distance", system, Toward::down));
  }
  return out + fmt::format("         if it fails: {}\n", word(shutoff.at("if_it_fails"), "says"));
}

std::string pressure_text(std::string_view what, const Json& pressure, System system,
                          Toward toward) {
  if (!pressure.is_object()) return fmt::format("    {} not known\n", what);
  const auto shown_pressure = [&](const char* key) {
    const Json& value = pressure.at(key);
    return value.is_number()
               ? units::print(GaugePressure::from_si(value.get<double>()), system, toward)
               : std::string("no limit set: decide");
  };
  const std::string place = word(pressure, "node", word(pressure, "customer", "-"));
  return fmt::format("    {} {} at {} (limit {}, tier {})\n", what, shown_pressure("pa_gauge"),
                     place, shown_pressure("limit_pa_gauge"), word(pressure, "tier", "-"));
}

/// Regulators, taps and the like one by one; what comes in dozens as a count.
std::string equipment_text(const Json& equipment) {
  std::string out;
  std::map<std::string, int> counts;
  for (const Json& item : equipment) {
    const std::string kind = word(item, "kind");
    if (kind == "valve" || kind == "excess_flow_valve" || kind == "stub") {
      ++counts[kind];
      continue;
    }
    out += fmt::format("    on the part: {}{}{}\n", kind, " " + word(item, "id"),
                       word(item, "says").empty() ? "" : ": " + word(item, "says"));
  }
  for (const auto& [kind, count] : counts)
    out += fmt::format("    on the part: {} of kind {}\n", count, kind);
  return out;
}

std::string plan_text(const Json& plan, System system) {
  std::string out = fmt::format("\n  Plan {}: {}\n    {}\n", plan.at("rank").get<int>(),
                                word(plan, "why"), word(plan, "beats_next"));
  for (const Json& shutoff : plan.at("shutoffs")) out += shutoff_text(shutoff, system);
  const Json& isolated = plan.at("isolated");
  out += fmt::format("    without gas: {} of main, {} inside",
                     shown<kinds::Length>(isolated, "length", system),
                     shown<kinds::Volume>(isolated, "volume", system));
  out += fmt::format("; time to stop the gas {}\n",
                     shown<kinds::Duration>(plan, "time_to_stop", system, Toward::up));
  out += pressure_text("lowest pressure", plan.at("lowest_pressure"), system, Toward::down);
  out += pressure_text("highest pressure", plan.at("highest_pressure"), system, Toward::up);
  if (const std::string says = word(plan, "limit_temperature_says"); !says.empty())
    out += "    " + says + '\n';
  out += equipment_text(isolated.at("equipment"));
  for (const Json& customer : plan.at("customers_out")) {
    if (!customer.at("must_not_lose").get<bool>()) break;  // those come first
    out += fmt::format("    MUST NOT LOSE GAS: {} {} ({})\n", word(customer, "id"),
                       word(customer, "why_not"), word(customer, "cause"));
  }
  return out;
}

}  // namespace

std::string plan_body(const Json& reply, System system) {
  const Json& work = reply.at("work");
  std::string out =
      fmt::format("Work: {} ({}), {} there now\n", word(work, "says"), mains_words(work),
                  shown<kinds::GaugePressure>(work, "pressure", system));
  for (const Json& plan : reply.at("plans")) out += plan_text(plan, system);
  out += front_text(reply, system);
  const Json& proof = reply.at("proof");
  out += fmt::format(
      "\n  {} cuts looked at, {} networks solved; {}\n", proof.at("examined").get<std::int64_t>(),
      proof.at("solved").get<std::int64_t>(),
      proof.at("optimal").get<bool>() ? "no better plan exists on this map, by these costs"
                                      : "the search stopped at its limit: a better plan may exist");
  for (const Json& item : reply.at("passed_over"))
    out += fmt::format("  passed over: {}: {}\n", word(item, "element"), word(item, "why"));
  if (!reply.at("plans").empty()) out += steps_text(reply.at("plans").at(0), system);
  return out;
}

}  // namespace bellhole::sheets
