#include <fmt/format.h>

#include <algorithm>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

std::string listed(const Json& words) {
  std::string out;
  for (const Json& item : words) out += (out.empty() ? "" : "; ") + item.get<std::string>();
  return out;
}

std::string count_out(const Json& customers, const Json& must) {
  std::string out = fmt::format("{:>9}", customers.size());
  if (!must.empty()) out += fmt::format("  MUST NOT LOSE GAS: {}", listed(must));
  return out;
}

std::string later(const Json& stage, std::size_t out_before, System system) {
  return fmt::format("                         then by {}: {}; open again: {}; {} out, {} fewer\n",
                     shown<kinds::Duration>(stage, "holds_at", system, Toward::up),
                     listed(stage.at("shut")), listed(stage.at("opened")),
                     stage.at("customers_out").size(),
                     out_before - std::min(out_before, stage.at("customers_out").size()));
}

}  // namespace

std::string front_text(const Json& reply, System system) {
  const Json& front = reply.at("front");
  if (front.empty()) return "";
  std::string out =
      "\n  Minutes until the gas is stopped against customers out\n"
      "    gas stopped   customers out\n";
  for (const Json& entry : front) {
    std::string shut;
    for (const Json& shutoff : entry.at("shutoffs"))
      shut += (shut.empty() ? "" : "; ") + word(shutoff, "says");
    const auto rank = entry.at("rank");
    out += fmt::format("    {:>11} {}\n                         {}{}; reads {}\n",
                       shown<kinds::Duration>(entry, "time_to_stop", system, Toward::up),
                       count_out(entry.at("customers_out"), entry.at("must_not_lose_out")),
                       rank.is_number() ? fmt::format("plan {}: ", rank.get<int>()) : "", shut,
                       word(entry, "verdict"));
    const Json& stages = entry.at("stages");
    for (std::size_t i = 1; i < stages.size(); ++i)
      out += later(stages.at(i), entry.at("customers_out").size(), system);
  }
  const bool complete = reply.at("front_proof").at("complete").get<bool>();
  return out + (complete ? "    no other plan on this map is as fast and puts as few out\n"
                         : "    the search stopped at its limit: another may be faster or put "
                           "fewer out\n");
}

}  // namespace bellhole::sheets
