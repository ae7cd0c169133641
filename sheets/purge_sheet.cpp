#include "sheets/purge_sheet.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/form_parts.hpp"
#include "sheets/parts.hpp"
#include "sheets/purge_parts.hpp"

namespace bellhole::sheets {
namespace {

using units::System;

std::string speed_words(std::optional<double> si, System system) {
  if (!si) return std::string(not_known);
  return units::print(Speed::from_si(*si), system, units::Toward::up);
}

std::string gas_words(std::optional<double> si, System system) {
  if (!si) return std::string(not_known);
  return paper_units(units::print(StdVolume::from_si(*si), system, units::Toward::up));
}

double draw_main_facts(Canvas& canvas, const Box& at, const Reply& reply, System system) {
  return draw_facts(
      canvas, at,
      {{"main", print(amounts::diameter, reply.number("bore_m"), system) + " bore, " +
                    print(amounts::stretch, reply.number("length_m"), system)},
       {"speed", bold(speed_words(reply.number("speed_m_per_s"), system)) +
                     " or faster; at least " +
                     speed_words(reply.number("least_speed_m_per_s"), system)},
       {"one volume", lasting(reply.number("time_s"))},
       {"planned", bold(lasting(reply.number("time_planned_s"))) + ", " +
                       gas_words(reply.number("gas_used_std_m3"), system) + " of gas"},
       {"mixed, 1 to 99 %", print(amounts::stretch, reply.number("mixing_m"), system)},
       {"slug, if used",
        gas_words(reply.number("slug_gas_std_m3"), system) + " of inert gas" +
            (reply.flag("slug_asked").value_or(false) ? ": decide, too slow without one" : "")},
       {"inlet at the feed",
        bold(print(amounts::least_allowed, reply.number("inlet_pa_gauge"), system))}},
      112);
}

}  // namespace

std::string feed_words(const std::string& feed) {
  if (feed == "bypass") return "the bypass";
  if (feed == "rider") return "a rider valve";
  if (feed == "valve") return "the valve itself";
  if (feed == "squeeze") return "the squeeze itself, a little open";
  return "the mains filled before";
}

void set_legs(Flow& flow, const std::vector<Reply>& legs, System system) {
  flow.heading("Legs, in this order; no pause from the first gas to the last reading", 60);
  std::size_t number = 0;
  for (const Reply& leg : legs) {
    ++number;
    Text says = bold(
        fmt::format("{}. From {} to the vent at {}.", number, leg.text("from"), leg.text("vent")));
    says += " Feed through " + feed_words(leg.text("feed")) + ". ";
    std::vector<std::string> mains;
    for (const Reply& run : leg.list("runs"))
      if (mains.empty() || mains.back() != run.text("pipe")) mains.push_back(run.text("pipe"));
    says += joined(mains, ", ") + ": " + print(amounts::stretch, leg.number("length_m"), system) +
            ", " + print(amounts::volume, leg.number("volume_m3"), system) + ". ";
    says += bold(speed_words(leg.number("speed_m_per_s"), system)) + " or faster, " +
            bold(lasting(leg.number("time_planned_s"))) + " planned (one volume " +
            lasting(leg.number("time_s")) + ")";
    if (leg.has("inlet_pa_gauge"))
      says += "; inlet " + print(amounts::least_allowed, leg.number("inlet_pa_gauge"), system);
    if (leg.has("purging_pa_gauge"))
      says += "; beside the feed " +
              print(amounts::lowest, leg.number("purging_pa_gauge"), system) + " while it runs";
    says += ".";
    flow.block([&](const Box& at) { return draw_tick(flow.canvas(), at, says, table_type); });
    flow.block([&](const Box& at) {
      return draw_form(flow.canvas(), at,
                       {{"began", "% gas, 1st", "time", "% gas, 2nd", "time", "read by"},
                        {1, 1, 1, 1, 1, 1.2},
                        {},
                        1});
    });
    flow.space(3);
  }
}

void set_services(Flow& flow, const std::vector<Reply>& services) {
  if (services.empty()) return;
  flow.heading("Services, nearest first: purged, or none there", 50);
  flow.columns(3, 12, [&] {
    for (const Reply& service : services) {
      const std::string valve = service.text("excess_flow_valve");
      flow.block([&](const Box& at) {
        return draw_tick(
            flow.canvas(), at,
            service.text("customer") +
                (service.has("street") ? ", " + service.text("street") : std::string()) +
                (valve == "yes"       ? ", excess-flow valve"
                 : valve == "unknown" ? ", excess-flow valve not known"
                                      : ""),
            fine_type);
      });
    }
  });
}

Result<std::string> purge_sheet(const wire::Json& json, const Options& options) {
  Faults faults;
  const Reply reply(json, "", faults);
  const bool of_plan = json.contains("legs");
  const FormTitle title{
      of_plan ? "Purge of the part · plan " + short_id(reply.text("plan_id")) : "Purge of a main",
      reply.at("profile").text("title"), "purge", wire::sha256(wire::canonical(json))};
  auto bytes = form_sheet(reply, options, title, "purge", [&](Flow& flow) {
    Canvas& canvas = flow.canvas();
    if (!of_plan) {
      flow.block([&](const Box& at) { return draw_main_facts(canvas, at, reply, options.system); });
      flow.space(3);
    }
    const Reply stack = reply.at("stack");
    flow.paragraph(bold("Vent stack: ") +
                   (stack ? print(amounts::diameter, stack.number("bore_m"), options.system) +
                                " bore, mouth " +
                                print(amounts::place, stack.number("height_m"), options.system) +
                                " above the ground"
                          : std::string("not given: decide on size and height")) +
                   ". Ends on percent gas by volume, two readings, from an instrument that reads "
                   "it; never on %LEL.");
    flow.space(3);
    set_cautions(flow, reply);
    if (of_plan) {
      set_legs(flow, reply.list("legs"), options.system);
      set_services(flow, reply.list("services"));
    } else {
      flow.heading("Readings at the vent, percent gas by volume", 60);
      flow.block([&](const Box& at) {
        return draw_form(
            canvas, at,
            {{"time", "% gas by volume", "instrument", "read by"}, {1, 1.2, 1.4, 1.2}, {}, 6});
      });
    }
    flow.space(4);
    flow.block([&](const Box& at) {
      return draw_pen_grid(
          canvas, at,
          {"instrument number", "calibrated until", "wind", "purge began", "purge ended",
           "stack shut", "purged by", "vent watched by", "accepted by, name and date"},
          3);
    });
  });
  if (faults.first()) return std::unexpected(*faults.first());
  return bytes;
}

}  // namespace bellhole::sheets
