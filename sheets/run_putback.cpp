// The pages of a run sheet that put the part back: test, joints, purge, gas back.
#include <fmt/format.h>

#include "sheets/amounts.hpp"
#include "sheets/form_parts.hpp"
#include "sheets/parts.hpp"
#include "sheets/purge_parts.hpp"
#include "sheets/run_parts.hpp"

namespace bellhole::sheets {
namespace {

using units::System;

std::string or_decide(const std::string& printed) {
  return printed == not_known ? "decide" : printed;
}

void set_test(Flow& flow, const Reply& test, System system) {
  flow.heading("Test of the new pipe", 60);
  const auto pressure = [&](const auto& amount, const char* key) {
    return or_decide(print(amount, test.number(key), system));
  };
  flow.paragraph(
      test ? bold("Between " + pressure(amounts::least_allowed, "least_pa_gauge") + " and " +
                  pressure(amounts::most_allowed, "most_pa_gauge")) +
                 ", for " + bold(or_decide(lasting(test.number("duration_needed_s")))) +
                 " or longer; keep " +
                 bold(test.has("keep_off_m") ? keep_off_words(*test.number("keep_off_m"), system)
                                             : std::string("decide")) +
                 " off every end. Least by: " + paper_units(test.text("least_by")) +
                 "; most by: " + paper_units(test.text("most_by")) +
                 ". As the map has the pipe: ask pressure-test again with the pipe, its volume and "
                 "the gauge."
           : Text("What the main is stands not on the map: ask pressure-test with the pipe found."),
      table_type);
  flow.space(3);
  flow.block([&](const Box& at) {
    return draw_form(
        flow.canvas(), at,
        {{"test", "time", "gauge", "gas temperature", "barometer", "pipe's id", "read by"},
         {1, 0.8, 1, 1.2, 1, 1.1, 1},
         {{"first"}, {"last"}},
         0});
  });
  flow.space(5);
}

void set_joints(Flow& flow, const Reply& join, System system) {
  flow.heading("Joints: each looked at, each tie-in soaped at line pressure", 60);
  if (join) {
    const auto temperature = [&](const char* key) {
      return or_decide(print(amounts::temperature, join.number(key), system));
    };
    flow.paragraph(bold("Butt fusion: ") + "heater " + temperature("heater_least_k") + " to " +
                       temperature("heater_most_k") + ", bead " +
                       or_decide(print(amounts::small_up, join.number("bead_m"), system)) +
                       " or more, faces together within " +
                       or_decide(lasting(join.number("removal_s"))) + ", cooling " +
                       bold(or_decide(min_s(join.number("cooling_s")))) +
                       " or more. The machine's gauge: ask join with its piston and drag.",
                   table_type);
    flow.space(3);
  }
  flow.block([&](const Box& at) {
    return draw_form(
        flow.canvas(), at,
        {{"joint", "fuser", "gauge", "heater", "bead", "cooled", "looked at", "soaped at", "seen"},
         {1, 1, 0.9, 0.9, 0.8, 0.9, 1, 0.9, 0.9},
         {},
         4});
  });
  flow.space(5);
}

void set_gas_back(Flow& flow, const RunJob& job, const Reply& back) {
  flow.heading("Gas back, slowly", 60);
  const auto opening = job.plan.at("order").texts("opening");
  flow.paragraph(
      bold("Open " + (opening.empty() ? std::string("as lettered") : joined(opening, ", then "))) +
          ", each when both its gauges read alike. Ask repressurise on the day for what "
          "every gauge then reads.",
      table_type);
  flow.space(3);
  Form form{
      {"opened", "began", "gauges alike", "open", "gauge, gas side", "gauge, part side", "by"},
      {0.8, 0.9, 1, 0.9, 1.1, 1.1, 1},
      {},
      0};
  for (const std::string& letter : opening) form.rows.push_back({letter});
  if (form.rows.empty()) form.empty_rows = 3;
  flow.block([&](const Box& at) { return draw_form(flow.canvas(), at, form); });
  flow.space(3);
  const auto known = back.texts("excess_flow_valves"),
             not_known = back.texts("excess_flow_not_known");
  if (!known.empty())
    flow.paragraph(bold("Excess-flow valves, reset where shut: ") + joined(known, ", ") + ".",
                   table_type);
  if (!not_known.empty())
    flow.paragraph(bold("Not known whether fitted with one: ") + joined(not_known, ", ") + ".",
                   table_type);
}

}  // namespace

void set_putback(Flow& flow, const RunJob& job) {
  const Reply back = job.plan.at("putting_back");
  if (!back) return;
  flow.new_page();
  set_test(flow, back.at("test"), job.options.system);
  set_joints(flow, back.at("join"), job.options.system);
  set_run_on(flow, "To decide before test and joints", back.texts("decide"));
  flow.space(3);
  const Reply purge = back.at("purge");
  set_legs(flow, purge.list("legs"), job.options.system);
  set_services(flow, purge.list("services"));
  flow.space(4);
  set_gas_back(flow, job, back);
}

}  // namespace bellhole::sheets
