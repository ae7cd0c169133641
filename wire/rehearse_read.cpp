#include <fmt/format.h>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "wire/rehearse.hpp"

namespace bellhole::wire {
namespace {

using network::Index;
using network::Network;

constexpr double longest_s = 1e8;  // three years: no step of a plan takes longer
constexpr std::string_view ask_again = "ask the question plan again, with this version";

Result<Index> index_of(const std::vector<std::string>& ids, const std::string& id,
                       const std::string& where) {
  const auto found = std::ranges::find(ids, id);
  if (found == ids.end())
    return trouble(Code::unknown_element, where, id, "this network has no such element");
  return static_cast<Index>(found - ids.begin());
}

/// The element under a key; none where it is null.
Result<Index> element(const Object& object, std::string_view key,
                      const std::vector<std::string>& ids) {
  BELLHOLE_TRY(id, object.text(key));
  if (!id) return network::none;
  return index_of(ids, *id, object.at(key));
}

Result<std::vector<squeeze::Stretch>> read_pace(const Object& sheet, std::string_view key) {
  std::vector<squeeze::Stretch> pace;
  BELLHOLE_TRY(table, sheet.object(key));
  if (!table) return pace;
  BELLHOLE_TRY(steps, table->objects("steps"));
  for (const Object& step : steps) {
    squeeze::Stretch stretch;
    BELLHOLE_TRY(from, step.need<kinds::Length>("from_gap", "a stretch begins at a gap"));
    BELLHOLE_TRY(to, step.need<kinds::Length>("to_gap", "a stretch ends at a gap"));
    BELLHOLE_TRY(starts, step.need<kinds::Duration>("starts", "a stretch begins at a time"));
    BELLHOLE_TRY(ends, step.need<kinds::Duration>("ends", "a stretch ends at a time"));
    if (!(starts.si() >= 0.0 && ends > starts && ends.si() <= longest_s) ||
        (!pace.empty() && starts < pace.back().ends))
      return trouble(Code::contradiction, step.at("ends_s"), fmt::format("{:g} s", ends.si()),
                     "stretches of a timetable follow one another");
    stretch.from = from;
    stretch.to = to;
    stretch.starts = starts;
    stretch.ends = ends;
    pace.push_back(stretch);
  }
  return pace;
}

/// Its timetables, where it has a sheet that says what the pipe is.
Result<bool> read_sheet(const Object& shutoff, plan::ScriptShutoff& made) {
  BELLHOLE_TRY(sheet, shutoff.object("squeeze"));
  if (!sheet) return true;
  BELLHOLE_TRY(pipe, sheet->object("pipe"));
  if (!pipe) return true;
  BELLHOLE_TRY(od, pipe->quantity<kinds::Length>("od"));
  BELLHOLE_TRY(wall, pipe->quantity<kinds::Length>("wall_max"));
  if (!od || !wall) return true;
  if (!(wall->si() > 0.0 && od->si() > 2.0 * wall->si()))
    return trouble(Code::out_of_range, pipe->at("wall_max_m"), fmt::format("{:g} m", wall->si()),
                   "two walls are less than the diameter");
  BELLHOLE_TRY(closing, read_pace(*sheet, "close"));
  BELLHOLE_TRY(opening, read_pace(*sheet, "open"));
  made.closing = plan::travel_of(closing, *od, *wall);
  made.opening = plan::travel_of(opening, *od, *wall);
  return true;
}

Result<plan::Place> place_of(const GivenShutoff& given, const Network& network,
                             const std::string& where) {
  plan::Place place;
  place.time_s = given.time_to_shut ? given.time_to_shut->si() : std::nan("");
  const auto in = [&](const std::vector<std::string>& ids) {
    return index_of(ids, given.element, where);
  };
  if (given.kind == "valve" || given.kind == "regulator_outlet" || given.kind == "source_outlet") {
    const bool valve = given.kind == "valve", outlet = given.kind == "regulator_outlet";
    BELLHOLE_TRY(index, in(valve    ? network.valves.id
                           : outlet ? network.regulators.id
                                    : network.sources.id));
    place.kind = valve    ? plan::ShutKind::valve
                 : outlet ? plan::ShutKind::regulator_outlet
                          : plan::ShutKind::source_outlet;
    place.element = index;
    return place;
  }
  BELLHOLE_TRY(pipe, in(network.pipes.id));
  place.kind = given.kind == "squeeze" ? plan::ShutKind::squeeze : plan::ShutKind::placed;
  place.element = place.pipe = pipe;
  place.station = given.station.value_or(Length());
  return place;
}

Result<bool> read_shutoffs(const Object& object, const GivenPlan& given, const Network& network,
                           plan::Script& script) {
  BELLHOLE_TRY(shutoffs, object.objects("shutoffs"));
  for (std::size_t i = 0; i < shutoffs.size(); ++i) {
    plan::ScriptShutoff made;
    BELLHOLE_TRY(place, place_of(given.shutoffs[i], network, shutoffs[i].at("element")));
    BELLHOLE_TRY(says, shutoffs[i].text("says"));
    made.letter = given.shutoffs[i].letter;
    made.place = place;
    made.says = says.value_or("");
    BELLHOLE_TRY(sheet, read_sheet(shutoffs[i], made));
    static_cast<void>(sheet);
    script.shutoffs.push_back(std::move(made));
  }
  return true;
}

/// Where the gauges hang; what they are was read with the steps.
Result<bool> read_points(const Object& object, const Network& network, plan::Script& script) {
  BELLHOLE_TRY(points, object.objects("gauge_points"));
  for (std::size_t i = 0; i < points.size(); ++i) {
    plan::GaugePoint& point = script.points[i];
    BELLHOLE_TRY(at, points[i].text("at"));
    BELLHOLE_TRY(node, element(points[i], "node", network.nodes.id));
    BELLHOLE_TRY(pipe, element(points[i], "pipe", network.pipes.id));
    BELLHOLE_TRY(customer, element(points[i], "customer", network.customers.id));
    BELLHOLE_TRY(regulator, element(points[i], "regulator", network.regulators.id));
    BELLHOLE_TRY(tier, element(points[i], "tier", network.tiers.id));
    BELLHOLE_TRY(station, points[i].quantity<kinds::Length>("station"));
    BELLHOLE_TRY(toward, points[i].whole("toward"));
    if (node == network::none && pipe == network::none)
      return trouble(Code::missing_value, points[i].at("node"), point.id,
                     "this plan does not say where its gauges hang: " + std::string(ask_again));
    const Length there = station.value_or(Length());
    if (pipe != network::none && there > network.pipes.length[static_cast<std::size_t>(pipe)])
      return trouble(Code::out_of_range, points[i].at("station_m"),
                     fmt::format("{:g} m", there.si()), "the main is shorter than that");
    point.at = at.value_or(point.id);
    point.node = node;
    point.pipe = pipe;
    point.customer = customer;
    point.regulator = regulator;
    point.tier = tier;
    point.station = there;
    point.toward = static_cast<int>(toward.value_or(0) < 0 ? -1 : toward.value_or(0) > 0 ? 1 : 0);
  }
  return true;
}

Result<bool> read_out(const GivenPlan& given, const Network& network, plan::Script& script) {
  for (const GivenCustomer& customer : given.customers_out) {
    BELLHOLE_TRY(index, index_of(network.customers.id, customer.id, "customers_out"));
    script.out.push_back(index);
  }
  std::ranges::sort(script.out);
  return true;
}

/// Times that a clock can be made of.
Result<bool> check_times(const GivenPlan& given) {
  for (const GivenShutoff& shutoff : given.shutoffs)
    if (const double time = shutoff.time_to_shut.value_or(Duration{}).si();
        !(time >= 0.0 && time <= longest_s))
      return trouble(Code::out_of_range, "shut-off " + shutoff.letter, fmt::format("{:g} s", time),
                     "correct the time until it is shut");
  for (const plan::Step& step : given.checked.steps) {
    if (!step.watch) continue;
    if (const double time = step.watch->least.value_or(Duration{}).si();
        !(time >= 0.0 && time <= longest_s))
      return trouble(Code::out_of_range, "step " + step.id, fmt::format("{:g} s", time),
                     "correct the time to watch");
  }
  return true;
}

/// The middle of the work, where it lies on one main.
Result<bool> read_work(const Object& document, const Network& network, plan::Script& script) {
  BELLHOLE_TRY(work, document.object("work"));
  if (!work) return true;
  BELLHOLE_TRY(pipe, element(*work, "pipe", network.pipes.id));
  BELLHOLE_TRY(from, work->quantity<kinds::Length>("from_station"));
  BELLHOLE_TRY(to, work->quantity<kinds::Length>("to_station"));
  if (pipe != network::none && from && to)
    script.work = network::Closure{pipe, (*from + *to) * 0.5};
  return true;
}

}  // namespace

Result<plan::Script> read_script(std::string_view bytes, std::string_view name,
                                 const PlanReply& reply, std::size_t at, const Network& network) {
  const GivenPlan& given = reply.plans[at];
  BELLHOLE_TRY(json, parse_json(bytes, name, plan_cap));
  std::vector<std::string> assumed;
  BELLHOLE_TRY(document, Object::of(json, std::string(name), &assumed));
  BELLHOLE_TRY(plans, document.objects("plans"));
  if (given.checked.steps.empty())
    return trouble(Code::missing_value, plans[at].at("steps"), "",
                   "this plan has no steps: " + std::string(ask_again));
  plan::Script script;
  script.kind = reply.kind;
  script.crews = reply.crews;
  script.points = given.checked.points;
  script.steps = given.checked.steps;
  script.bypass = given.bypass;
  for (const auto& read : {check_times(given), read_shutoffs(plans[at], given, network, script),
                           read_points(plans[at], network, script),
                           read_out(given, network, script), read_work(document, network, script)})
    if (!read) return std::unexpected(read.error());
  return script;
}

}  // namespace bellhole::wire
