// The body of timeline: how long, who is out how long, step by step, what would save time.
#include <fmt/format.h>

#include <algorithm>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

constexpr std::size_t outages_shown = 12;

std::string time_of(const Json& object, const char* key, System system) {
  return shown<kinds::Duration>(object, key, system, Toward::up);
}

std::string who(const Json& step) {
  const Json& crew = step.at("crew");
  return crew.is_number() ? fmt::format("crew {}", crew.get<std::int64_t>()) : word(step, "role");
}

/// A hold point and the critical path have a sign each, and a word below.
std::string steps_text_of(const Json& reply, System system) {
  std::string out = fmt::format("\n  {:<3} {:<16} {:<16} {:<12} {:<12} {:<12}\n", "", "step", "who",
                                "begins", "ends", "at latest");
  for (const Json& step : reply.at("steps")) {
    const char* critical = step.at("critical").get<bool>() ? "#" : " ";
    const char* hold = step.at("hold_point").get<bool>() ? "H" : " ";
    out += fmt::format("  {}{}  {:<16} {:<16} {:<12} {:<12} {:<12}{}\n", critical, hold,
                       word(step, "id").substr(0, 16), who(step).substr(0, 16),
                       time_of(step.at("begins"), "expected", system),
                       time_of(step.at("ends"), "expected", system),
                       time_of(step.at("ends"), "longest", system),
                       step.at("known").get<bool>() ? "" : "  no time set");
  }
  return out +
         "  # the job is as long as it is because of these; H nobody goes on before a person "
         "answers\n";
}

std::string outages_text(const Json& reply, System system) {
  const Json& outages = reply.at("outages");
  if (outages.empty()) return "";
  std::string out = fmt::format("\n  {:<12} {:<22} {:<12} {:<12} {:<12}\n", "customer", "street",
                                "out at", "back at", "at longest");
  for (std::size_t i = 0; i < std::min(outages.size(), outages_shown); ++i) {
    const Json& outage = outages[i];
    out +=
        fmt::format("  {:<12} {:<22} {:<12} {:<12} {:<12}{}\n", word(outage, "id"),
                    word(outage, "street").substr(0, 22), time_of(outage, "lost", system),
                    time_of(outage, "back", system), time_of(outage.at("lasts"), "longest", system),
                    outage.at("must_not_lose").get<bool>() ? "MUST NOT LOSE GAS" : "");
  }
  if (outages.size() > outages_shown)
    out += fmt::format("  and {} more: --json lists all\n", outages.size() - outages_shown);
  return out;
}

std::string plans_text(const Json& reply, System system) {
  const Json& plans = reply.at("plans");
  if (plans.size() < 2) return "";
  std::string out = fmt::format("\n  {:<6} {:<14} {:<12} {:<12} {:<10} {}\n", "plan",
                                "by real times", "gas stopped", "job", "customers", "hours out");
  for (const Json& plan : plans) {
    const Json& rank = plan.at("real_rank");
    const Json& hours = plan.at("customer_hours");
    out += fmt::format(
        "  {:<6} {:<14} {:<12} {:<12} {:<10} {}\n", plan.at("rank").get<std::int64_t>(),
        rank.is_number() ? fmt::format("{}", rank.get<std::int64_t>()) : "not known",
        plan.at("stopped").is_object() ? (plan.at("stopped_known").get<bool>() ? "" : "over ") +
                                             time_of(plan.at("stopped"), "expected", system)
                                       : "not known",
        time_of(plan.at("lasts"), "expected", system), plan.at("customers").get<std::int64_t>(),
        hours.is_object() ? fmt::format("{:.0f}", hours.at("expected").get<double>())
                          : "not known");
  }
  return out;
}

std::string gas_text(const Json& gas, System system) {
  const auto mass = [&](const char* key) {
    return gas.at(key).is_number()
               ? units::print(Mass::from_si(gas.at(key).get<double>()), system, Toward::up)
               : std::string("not known");
  };
  return "\n" +
         wrapped("  ",
                 fmt::format("Gas to the air: {} vented, {} by the purge; methane {}, as carbon "
                             "dioxide {}.",
                             shown<kinds::StdVolume>(gas, "vented", system, Toward::up),
                             shown<kinds::StdVolume>(gas, "purged", system, Toward::up),
                             mass("methane_kg"), mass("co2e_kg")),
                 2);
}

}  // namespace

std::string timeline_body(const Json& reply, System system) {
  std::string out = wrapped("", word(reply, "says") + ".", 0);
  for (const Json& saving : reply.at("savings"))
    out += wrapped("  ", word(saving, "says") + ".", 2);
  return out + steps_text_of(reply, system) + outages_text(reply, system) +
         plans_text(reply, system) + gas_text(reply.at("gas"), system);
}

}  // namespace bellhole::sheets
