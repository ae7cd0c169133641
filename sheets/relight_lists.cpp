#include "sheets/relight_lists.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"

namespace bellhole::sheets {
namespace {

constexpr double row_height = 25;

struct Job {
  const Reply& reply;
  Options options;
};

/// "expected, from shortest to longest", rounded up.
std::string band_words(const Reply& band) {
  if (!band) return std::string(not_known);
  return lasting(band.number("expected_s")) + " (from " + lasting(band.number("shortest_s")) +
         " to " + lasting(band.number("longest_s")) + ")";
}

std::string whole_words(std::optional<double> number) {
  return number ? fmt::format("{:.0f}", *number) : std::string(not_known);
}

std::string sector_words(const Reply& reply) {
  const auto names = reply.at("sector").texts("names");
  return names.empty() ? "everything that is out" : listed(names);
}

double draw_title(Canvas& canvas, const Box& at, const Job& job) {
  double y = at.y;
  y += canvas.text({at.x, y}, at.w, bold("Meters to shut, and to light again"), {size::title});
  y += canvas.text({at.x, y}, at.w, "Sector: " + sector_words(job.reply), {size::subtitle});
  return y - at.y;
}

double draw_numbers(Canvas& canvas, const Box& at, const Job& job) {
  const Reply& reply = job.reply;
  const Reply shut = reply.at("shut");
  std::string list = "no list yet";
  if (shut)
    list = shut.flag("same").value_or(false)
               ? "the meters listed are the affected ones, each of them"
               : "NOT THE SAME. Not shut: " + listed(shut.texts("not_shut")) +
                     ". Shut, not affected: " + listed(shut.texts("not_affected"));
  return draw_facts(canvas, at,
                    {{"Affected", bold(whole_words(reply.number("affected")) + " meters")},
                     {"List of shut meters", list},
                     {"Technicians", whole_words(reply.number("technicians"))},
                     {"Visits, with second ones", whole_words(reply.number("visits_needed"))},
                     {"Until all are shut", band_words(reply.at("shutting"))},
                     {"Until the first ones are back", band_words(reply.at("first_ones"))},
                     {"Until all are back", bold(band_words(reply.at("all")))}},
                    150);
}

std::string place_words(const Reply& visit, units::System system) {
  std::string place = visit.text("street").empty() ? "street not recorded" : visit.text("street");
  if (!visit.text("pipe").empty())
    place += ", main " + visit.text("pipe") + " at " +
             print(amounts::place, visit.number("station_m"), system);
  return place;
}

std::string marks_of(const Reply& visit) {
  std::vector<std::string> marks;
  if (visit.flag("must_not_lose").value_or(false))
    marks.push_back("MUST NOT LOSE GAS" +
                    (visit.text("why_not").empty() ? "" : " (" + visit.text("why_not") + ")"));
  const auto valve = visit.flag("excess_flow_valve");
  if (!valve)
    marks.emplace_back("excess-flow valve: not known");
  else if (*valve)
    marks.emplace_back("excess-flow valve");
  if (visit.text("cause") == "found") marks.emplace_back("found, on no map");
  return joined(marks, " · ");
}

/// A visit with boxes and lines to fill in.
double draw_visit(Canvas& canvas, const Box& at, const Reply& visit, const std::string& number,
                  const std::array<const char*, 2>& boxes, units::System system) {
  constexpr double left = 30, box = 94, line = 56, pad = 2;
  canvas.text({at.x, at.y + pad + 2}, left, bold(number), table_type);
  const double width = at.w - left - 2 * box - 2 * line - 8;
  Text says = bold(visit.need_text("id")) + "  " + place_words(visit, system);
  if (const std::string marks = marks_of(visit); !marks.empty()) says += ". " + bold(marks);
  const double text = canvas.text({at.x + left, at.y + pad}, width, says, fine_type);
  double x = at.x + left + width + 8;
  for (const char* label : boxes) {
    tick_box(canvas, {x, at.y + pad});
    canvas.text({x + tick_side + 3, at.y + pad + 3}, box - tick_side - 5, label, fine_type);
    x += box;
  }
  for (const char* label : {"time", "by"}) {
    write_line(canvas, {x, at.y + pad - 1, line - 6, 20}, label);
    x += line;
  }
  const double height = std::max(text + 2 * pad, row_height);
  canvas.line({at.x, at.y + height}, {at.right(), at.y + height}, {0.4});
  return height;
}

double draw_signatures(Canvas& canvas, const Box& at, const std::array<const char*, 3>& labels) {
  const double width = at.w / static_cast<double>(labels.size());
  double height = 0;
  for (std::size_t i = 0; i < labels.size(); ++i)
    height = std::max(
        height,
        write_line(canvas, {at.x + static_cast<double>(i) * width, at.y + 4, width - 10, 26},
                   labels[i]));
  return height + 8;
}

void set_shut_list(Flow& flow, const Job& job, const std::vector<Reply>& visits) {
  flow.heading("List of meters to shut: one line each, signed", 60);
  for (const Reply& visit : visits)
    flow.block([&](const Box& at) {
      return draw_visit(flow.canvas(), at, visit, whole_words(visit.number("position")),
                        {"shut at meter", "shut at curb"}, job.options.system);
    });
  flow.block([&](const Box& at) {
    return draw_signatures(flow.canvas(), at,
                           {"counted by", "counted again by another", "meters shut, in figures"});
  });
}

void set_rounds(Flow& flow, const Job& job, const std::vector<Reply>& visits) {
  double rounds = 0;
  for (const Reply& visit : visits) rounds = std::max(rounds, visit.number("round").value_or(0));
  for (double round = 1; round <= rounds; ++round) {
    flow.heading(fmt::format("Relight, round {:.0f}: in this order", round), 60);
    for (const Reply& visit : visits) {
      if (visit.number("round") != round) continue;
      flow.block([&](const Box& at) {
        return draw_visit(flow.canvas(), at, visit, whole_words(visit.number("place")),
                          {"lit", "locked, tagged"}, job.options.system);
      });
    }
  }
  flow.block([&](const Box& at) {
    return draw_signatures(
        flow.canvas(), at,
        {"lit, in figures", "left shut, in figures", "together the affected: counted by"});
  });
}

void set_streets(Flow& flow, const Reply& reply) {
  flow.heading("Streets to walk, both sides, for meters that no list has", 40);
  for (const Reply& street : reply.list("streets")) {
    const std::string name =
        street.text("name").empty() ? "street not recorded" : street.text("name");
    flow.block([&](const Box& at) {
      return draw_tick(
          flow.canvas(), at,
          bold(name) +
              fmt::format(", {} meters{}", whole_words(street.number("meters")),
                          street.flag("walked").value_or(false) ? ": recorded as walked" : ""));
    });
  }
}

std::size_t compose(Canvas& canvas, std::size_t pages, const Job& job, const std::string& id) {
  const Reply& reply = job.reply;
  const Frame frame{size_of(job.options.paper),
                    "Bellhole · relight · plan " + id,
                    sector_words(reply),
                    reply.text("engine"),
                    pages,
                    true};
  Flow flow(canvas, frame);
  flow.block([&](const Box& at) { return draw_title(canvas, at, job); });
  flow.space(4);
  flow.block([&](const Box& at) {
    return draw_verdict(canvas, at, reply.need_text("verdict"), reply.list("findings"), false);
  });
  flow.space(6);
  flow.block([&](const Box& at) { return draw_numbers(canvas, at, job); });
  flow.space(4);
  if (!reply.list("streets").empty()) set_streets(flow, reply);
  if (const auto visits = reply.need_list("visits"); visits.empty()) {
    set_lines(
        flow, "No meter to shut, and none to light",
        {"Nobody on record loses gas. A service that no map shows may still hang on the part: "
         "look before gas goes back."});
  } else {
    flow.new_page();
    set_shut_list(flow, job, visits);
    flow.new_page();
    set_rounds(flow, job, visits);
  }
  set_findings(flow, reply.text("verdict"), reply.list("findings"),
               "Further findings, and who decides");
  set_lines(flow, "Before gas goes back", reply.texts("cautions"));
  set_lines(flow, "Taken for granted", reply.texts("assumed"));
  return flow.close();
}

/// RFC 4180: quoted where it must be; an apostrophe before what a spreadsheet would reckon.
std::string cell(std::string text) {
  if (!text.empty() && std::string_view("=+-@\t\r").find(text.front()) != std::string_view::npos)
    text.insert(0, 1, '\'');
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + '"';
}

std::string line_of(const std::vector<std::string>& cells) {
  std::string line;
  for (const std::string& text : cells) line += (line.empty() ? "" : ",") + cell(text);
  return line + "\r\n";
}

}  // namespace

Result<std::string> relight_sheet(const wire::Json& json, const Options& options) {
  Faults faults;
  const Reply reply(json, "", faults);
  const Job job{reply, options};
  const std::string plan = reply.at("plan").text("plan_id");
  const std::string id = plan.empty() ? "none" : short_id(plan);
  const Info info{"Relight: " + sector_words(reply), "Plan " + plan, ""};
  auto bytes = set_on_paper(size_of(options.paper), info, [&](Canvas& canvas, std::size_t pages) {
    return compose(canvas, pages, job, id);
  });
  if (faults.first()) return std::unexpected(*faults.first());
  return bytes;
}

Result<std::string> relight_csv(const wire::Json& json) {
  Faults faults;
  const Reply reply(json, "", faults);
  std::string out = line_of({"meter", "how", "time", "by", "order", "round", "street", "main",
                             "station (m)", "must not lose", "excess-flow valve", "cause"});
  for (const Reply& visit : reply.need_list("visits")) {
    const Reply row = visit.at("listed");
    const auto valve = visit.flag("excess_flow_valve");
    const auto station = visit.number("station_m");
    const std::vector<std::string> cells{visit.need_text("id"),
                                         row ? row.need_text("how") : "not yet",
                                         row.text("time"),
                                         row.text("by"),
                                         whole_words(visit.number("position")),
                                         whole_words(visit.number("round")),
                                         visit.text("street"),
                                         visit.text("pipe"),
                                         station ? fmt::format("{:.1f}", *station) : "",
                                         visit.flag("must_not_lose").value_or(false) ? "yes" : "no",
                                         valve ? (*valve ? "yes" : "no") : "not known",
                                         visit.text("cause")};
    out += line_of(cells);
  }
  for (const Reply& lit : reply.need_list("lit"))
    out += line_of({lit.need_text("id"), "relit", lit.text("time"), lit.text("by"), "", "", "", "",
                    "", "", "", ""});
  if (faults.first()) return std::unexpected(*faults.first());
  return out;
}

}  // namespace bellhole::sheets
