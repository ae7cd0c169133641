#include <fmt/format.h>

#include <algorithm>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

constexpr std::size_t customers_shown = 25;

/// "holds" where the time is null: never short in the time that was looked at.
std::string time_text(const Json& customer, const char* key, System system) {
  const auto found = customer.find(std::string(key) + "_s");
  if (found == customer.end() || !found->is_number()) return "holds";
  return units::print(Duration::from_si(found->get<double>()), system, Toward::down);
}

std::string readings_text(const Json& reply, System system) {
  std::string out;
  for (const Json& reading : reply.at("readings")) {
    if (out.empty()) out = "\nGauges\n";
    const Json& factor = reading.at("draw_factor");
    out += fmt::format(
        "  {:<10} {:<14} {} read, {} expected{}\n", shown<kinds::Duration>(reading, "at", system),
        word(reading, "place"), shown<kinds::GaugePressure>(reading, "pressure", system),
        shown<kinds::GaugePressure>(reading, "expected", system),
        factor.is_number() ? fmt::format(", {:.2f} times the expected draw", factor.get<double>())
                           : std::string(", no draw explains it"));
  }
  return out;
}

}  // namespace

std::string time_left_body(const Json& reply, System system) {
  std::string out = wrapped("", word(reply, "says") + ".", 0);
  if (const Json& start = reply.at("start_if"); start.is_object())
    out += wrapped("", word(start, "says") + ".", 0);
  const Json& customers = reply.at("customers");
  if (!customers.empty()) {
    out += fmt::format("\n  {:<12} {:<22} {:<14} {:<12} {:<12}\n", "customer", "street",
                       "TIME LEFT", "expected", "at most");
  }
  for (std::size_t i = 0; i < std::min(customers.size(), customers_shown); ++i) {
    const Json& customer = customers[i];
    const bool at_once = customer.at("at_once").get<bool>();
    out += fmt::format("  {:<12} {:<22} {:<14} {:<12} {:<12}{}{}\n", word(customer, "id"),
                       word(customer, "street").substr(0, 22),
                       at_once ? "out at once" : time_text(customer, "time_left", system),
                       at_once ? "" : time_text(customer, "expected", system),
                       at_once ? "" : time_text(customer, "longest", system),
                       customer.at("cut_off").get<bool>() ? "" : "still fed, too little",
                       customer.at("must_not_lose").get<bool>() ? "  MUST NOT LOSE GAS" : "");
  }
  if (customers.size() > customers_shown)
    out += fmt::format("  and {} more: --json lists all\n", customers.size() - customers_shown);
  return out + readings_text(reply, system);
}

}  // namespace bellhole::sheets
