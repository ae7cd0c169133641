#include "sheets/test_sheet.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/form_parts.hpp"
#include "sheets/marks.hpp"
#include "sheets/parts.hpp"

namespace bellhole::sheets {
namespace {

using units::System;

std::string ends_words(const Reply& reply) {
  std::vector<std::string> words;
  for (std::string end : reply.texts("ends")) {
    if (end == "live_valve") end = "valve with live gas behind it";
    words.push_back(end);
  }
  return words.empty() ? "not given: write them below" : joined(words, ", ");
}

/// The window in large, what to fill to and for how long beside it.
double draw_window(Canvas& canvas, const Box& at, const Reply& reply, System system) {
  const double third = (at.w - 16) / 3;
  struct Cell {
    std::string name, big, rest;
  };
  const std::vector<Cell> cells{
      {"FILL TO", print(amounts::least_allowed, reply.number("fill_pa_gauge"), system),
       "or more, so that the end stays above the least"},
      {"BETWEEN",
       print(amounts::least_allowed, reply.number("least_pa_gauge"), system) + " and " +
           print(amounts::most_allowed, reply.number("most_pa_gauge"), system),
       "from the first reading to the last"},
      {"FOR",
       reply.has("duration_needed_s") ? lasting(reply.number("duration_needed_s")) : "decide",
       "between the two, or longer"}};
  double tallest = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const double x = at.x + static_cast<double>(i) * (third + 8) + 5, width = third - 10;
    double y = at.y + 3;
    y += canvas.text({x, y}, width, bold(cells[i].name), fine_type);
    y += canvas.text({x, y}, width, bold(cells[i].big), {size::subtitle});
    y += canvas.text({x, y}, width, cells[i].rest, fine_type);
    tallest = std::max(tallest, y + 4 - at.y);
  }
  for (std::size_t i = 0; i < cells.size(); ++i)
    canvas.box({at.x + static_cast<double>(i) * (third + 8), at.y, third, tallest}, Fill::none,
               {1.4});
  return tallest;
}

double draw_test_facts(Canvas& canvas, const Box& at, const Reply& reply, System system) {
  const auto energy = reply.number("energy_j");
  return draw_facts(
      canvas, at,
      {{"least by", paper_units(reply.text("least_by"))},
       {"most by", paper_units(reply.text("most_by"))},
       {"ends", bold(ends_words(reply))},
       {"keep off the ends",
        bold(reply.has("keep_off_m") ? keep_off_words(*reply.number("keep_off_m"), system)
                                     : std::string("no limit set: decide"))},
       {"energy of the gas",
        energy ? fmt::format("{:.0f} kJ", *energy / 1e3) : std::string(not_known)},
       {"volume", print(amounts::volume, reply.number("volume_m3"), system)},
       {"smallest leak that shows",
        reply.has("smallest_leak_std_m3_per_s")
            ? paper_units(
                  units::print(StdFlow::from_si(*reply.number("smallest_leak_std_m3_per_s")),
                               system, units::Toward::up)) +
                  ", by " + reply.text("smallest_by")
            : std::string(not_known)}},
      112);
}

std::vector<std::string> reading_row(const std::string& name, const Reply& reading, System system) {
  if (!reading) return {name};
  return {name,
          "",
          paper_units(units::print(
              GaugePressure::from_si(reading.number("pressure_pa_gauge").value_or(0)), system)),
          print(amounts::temperature, reading.number("temperature_k"), system),
          reading.has("barometer_pa_abs")
              ? fmt::format("{:.1f} hPa", *reading.number("barometer_pa_abs") / 100.0)
              : "",
          ""};
}

void set_readings(Flow& flow, const Reply& reply, System system) {
  flow.heading("Readings: the gas's temperature, not the air's", 60);
  Form form{{"reading", "time", "gauge", "gas temperature", "barometer", "read by"},
            {1, 1, 1.3, 1.5, 1.2, 1.3},
            {reading_row("start", reply.at("start"), system)},
            0};
  for (int i = 1; i <= 5; ++i) form.rows.push_back({fmt::format("{}", i)});
  form.rows.push_back(reading_row("end", reply.at("end"), system));
  flow.block([&](const Box& at) { return draw_form(flow.canvas(), at, form); });
  flow.space(5);
  flow.heading("Instruments", 40);
  flow.block([&](const Box& at) {
    return draw_form(flow.canvas(), at,
                     {{"instrument", "number", "range", "smallest division", "calibrated until"},
                      {1.4, 1.2, 1.2, 1.2, 1.2},
                      {{"gauge"}, {"thermometer"}, {"barometer"}, {"relief, set at"}},
                      0});
  });
}

void set_judgement(Flow& flow, const Reply& reply) {
  flow.space(5);
  flow.heading("Judgement", 40);
  const std::string says = reply.text("says");
  flow.paragraph(says.empty() ? Text("Not judged yet: enter the readings and ask again.")
                              : bold(paper_units(says)));
  flow.space(3);
  for (const char* choice : {"no leak found", "leak: found at, and what was done",
                             "not explained: read again, nothing is put back on these readings"}) {
    flow.block([&](const Box& at) { return draw_tick(flow.canvas(), at, choice, fine_type); });
  }
}

/// Pre-tested pipe by its id, and every joint that no test reaches.
void set_joints(Flow& flow, const Reply& reply, System system) {
  flow.space(3);
  flow.heading("Pipe tested before it goes in, and tie-ins soaped at line pressure", 40);
  Form form{{"pipe or joint", "pressure", "for, or what was seen", "time", "by"},
            {1.4, 1.2, 1.6, 0.9, 1.1},
            {},
            3};
  const auto pressure = [&](const Reply& item) {
    return item.has("pressure_pa_gauge")
               ? print(amounts::lowest, item.number("pressure_pa_gauge"), system)
               : std::string();
  };
  for (const Reply& pipe : reply.list("pretested"))
    form.rows.push_back({"pipe " + pipe.text("id"), pressure(pipe),
                         pipe.has("duration_s") ? lasting(pipe.number("duration_s")) : ""});
  for (const Reply& joint : reply.list("tie_ins")) {
    const std::string shows = joint.text("shows");
    form.rows.push_back({"tie-in " + joint.text("id"), pressure(joint),
                         shows == "bubbles"      ? "BUBBLES"
                         : shows == "no_bubbles" ? "no bubbles"
                                                 : ""});
  }
  flow.block([&](const Box& at) { return draw_form(flow.canvas(), at, form); });
}

}  // namespace

Result<std::string> test_sheet(const wire::Json& json, const Options& options) {
  Faults faults;
  const Reply reply(json, "", faults);
  const FormTitle title{"Pressure test  " + form_pipe_words(reply.need("pipe")),
                        reply.at("profile").text("title"), "pressure-test",
                        wire::sha256(wire::canonical(json))};
  auto bytes = form_sheet(reply, options, title, "pressure test", [&](Flow& flow) {
    Canvas& canvas = flow.canvas();
    flow.block([&](const Box& at) { return draw_window(canvas, at, reply, options.system); });
    flow.space(4);
    flow.block([&](const Box& at) { return draw_test_facts(canvas, at, reply, options.system); });
    flow.space(3);
    set_cautions(flow, reply);
    set_readings(flow, reply, options.system);
    set_judgement(flow, reply);
    set_joints(flow, reply, options.system);
    flow.space(4);
    flow.block([&](const Box& at) {
      return draw_pen_grid(canvas, at,
                           {"medium", "filled at", "let down at", "tested by", "watched by",
                            "accepted by, name and date"},
                           3);
    });
  });
  if (faults.first()) return std::unexpected(*faults.first());
  return bytes;
}

}  // namespace bellhole::sheets
