#include "wire/pipe_run.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "flatten/grades.hpp"
#include "wire/squeeze.hpp"

namespace bellhole::wire {
namespace {

constexpr std::array fineness_words{"draft", "ordinary", "fine"};
constexpr std::array stage_words{"close", "hold", "open", "rest"};

Result<pipe::Walls> walls_of(const squeeze::Found& found) {
  if (!found.readings.empty()) return pipe::walls_measured(found.size, found.readings, "wall");
  if (!found.ratio)
    return trouble(Code::missing_value, "dr", "", "give dr or sdr, or a measured wall");
  return pipe::walls_by_ratio(found.size, *found.ratio, "dr");
}

Result<bool> read_times(const Object& request, flatten::PipeRun& run) {
  BELLHOLE_TRY(closing,
               request.need<kinds::Duration>("close_in", "give the time from touch to gap"));
  BELLHOLE_TRY(hold, request.quantity<kinds::Duration>("hold"));
  BELLHOLE_TRY(opening, request.quantity<kinds::Duration>("open_in"));
  BELLHOLE_TRY(rest, request.quantity<kinds::Duration>("rest"));
  run.closing = closing;
  run.hold = hold;
  run.opening = opening;
  run.rest = rest;
  return true;
}

Json band_json(const flatten::Band& band) {
  return {{"low", number_or_null(band.low.si())},
          {"expected", number_or_null(band.expected.si())},
          {"high", number_or_null(band.high.si())}};
}

Json pairs(const std::vector<std::pair<Length, Length>>& list) {
  Json json = Json::array();
  for (const auto& [a, b] : list) json.push_back({a.si(), b.si()});
  return json;
}

Json outline_json(const flatten::Outline& outline) {
  return {{"inner_m", pairs(outline.inner)}, {"outer_m", pairs(outline.outer)}};
}

Json energy_json(const flatten::Energy& energy) {
  return {{"by_bars_j", energy.by_bars},
          {"by_gas_j", energy.by_gas},
          {"strain_j", energy.strain},
          {"hourglass_j", energy.hourglass},
          {"damped_j", energy.damped},
          {"rubbed_j", energy.rubbed},
          {"kinetic_j", energy.kinetic},
          {"off", number_or_null(energy.off())},
          {"most_kinetic_share", energy.most_kinetic_share}};
}

Json nodes_json(const std::vector<flatten::Vector>& nodes) {
  Json json = Json::array();
  for (const auto& node : nodes) json.push_back(node);
  return json;
}

Json mesh_json(const flatten::Pressed& pressed) {
  Json bricks = Json::array();
  for (const auto& brick : pressed.mesh.bricks) bricks.push_back(brick);
  return {{"bricks", bricks},
          {"nodes_m", nodes_json(pressed.mesh.nodes)},
          {"at_least_gap_m", nodes_json(pressed.at_least_gap)},
          {"at_end_m", nodes_json(pressed.at_end)}};
}

Json history_json(const AskedRun& asked, const flatten::Pressed& pressed) {
  const auto strength =
      flatten::strength_of(asked.pipe.material->name, *asked.pipe.temperature, asked.run.closing);
  const flatten::Jaws jaws{asked.run.od,    asked.run.wall,    asked.run.bar_radius,
                           strength->yield, strength->modulus, asked.run.pressure};
  const flatten::Walls walls{asked.walls.minimum, asked.walls.nominal, asked.walls.maximum};
  Json list = Json::array();
  for (const flatten::Sample& sample : pressed.samples) {
    Json item;
    item["stage"] = stage_words[sample.stage];
    put(item, "at", sample.real);
    put(item, "gap", sample.gap);
    item["force_n"] = band_json(flatten::band_about(sample.force, jaws, walls, sample.gap));
    list.push_back(std::move(item));
  }
  return list;
}

}  // namespace

Result<AskedRun> read_pipe_run(const Object& request) {
  AskedRun asked;
  BELLHOLE_TRY(pipe, read_pipe(request, asked.pipe));
  static_cast<void>(pipe);
  BELLHOLE_TRY(walls, walls_of(asked.pipe));
  asked.walls = walls;
  if (asked.pipe.material == nullptr)
    return trouble(Code::missing_value, request.at("material"), "", "give the material's code");
  BELLHOLE_TRY(temperature, request.need<kinds::Temperature>("pipe_temperature",
                                                             "give the temperature of the wall"));
  BELLHOLE_TRY(pressure, request.quantity<kinds::GaugePressure>("pressure"));
  BELLHOLE_TRY(gap, request.need<kinds::Length>("gap", "give the gap of the stops"));
  BELLHOLE_TRY(radius, request.need<kinds::Length>("bar_radius", "give the radius of the bars"));
  BELLHOLE_TRY(times, read_times(request, asked.run));
  static_cast<void>(times);
  BELLHOLE_TRY(fineness, request.text("bricks"));
  BELLHOLE_TRY(which, one_of(fineness.value_or("ordinary"), {"draft", "ordinary", "fine"},
                             request.at("bricks")));
  BELLHOLE_TRY(friction, request.number("friction"));
  if (friction && !(*friction >= 0.0 && *friction <= 1.0))
    return trouble(Code::out_of_range, request.at("friction"), fmt::format("{:g}", *friction),
                   "a coefficient from 0 to 1");
  if (!friction) request.assumed()->emplace_back("no friction between pipe and bars");
  BELLHOLE_TRY(mesh, request.flag("mesh"));
  const auto share = flatten::share_of(asked.pipe.material->name, temperature);
  if (!share)
    return trouble(Code::out_of_range, request.at("material"),
                   std::string(asked.pipe.material->name),
                   "no yield is on record for this material at this temperature");
  if (pressure && pressure->si() < 0.0)
    return trouble(Code::out_of_range, request.at("pressure"), fmt::format("{:g}", pressure->si()),
                   "a gas main is not below the air's pressure");
  if (!pressure) request.assumed()->emplace_back("no gas in the pipe: no pressure was given");
  asked.pipe.temperature = temperature;
  asked.run.od = asked.pipe.size.od;
  asked.run.wall = walls.nominal;
  asked.run.gap = gap;
  asked.run.bar_radius = radius;
  asked.run.pressure = pressure.value_or(GaugePressure());
  asked.run.share = *share;
  asked.run.friction = friction.value_or(0.0);
  asked.run.bricks = static_cast<flatten::Fineness>(which);
  asked.with_mesh = mesh.value_or(false);
  return asked;
}

Json pipe_run_json(const AskedRun& asked, const flatten::PipeRunAnswer& answer) {
  Json json;
  json["question"] = "flatten";
  json["size"] = asked.pipe.size.name;
  put(json, "od", asked.run.od);
  put(json, "wall", asked.run.wall);
  json["material"] = asked.pipe.material->name;
  put(json, "pipe_temperature", *asked.pipe.temperature);
  put(json, "gap", asked.run.gap);
  put(json, "bar_radius", asked.run.bar_radius);
  put(json, "pressure", asked.run.pressure);
  json["bricks"] = {{"fineness", fineness_words[static_cast<std::size_t>(asked.run.bricks)]},
                    {"count", answer.pressed.bricks},
                    {"steps", answer.pressed.steps}};
  json["clocks"] = number_or_null(answer.pressed.clocks);
  json["history"] = history_json(asked, answer.pressed);
  json["energy"] = energy_json(answer.pressed.energy);
  Json ear;
  put(ear, "over_inner", answer.ear.over_inner);
  put(ear, "over_outer", answer.ear.over_outer);
  ear["inner"] = number_or_null(answer.ear.inner);
  ear["outer"] = number_or_null(answer.ear.outer);
  json["ear_strain"] = ear;
  put(json, "width", answer.width);
  json["at_least_gap"] = outline_json(answer.at_least_gap);
  json["at_end"] = outline_json(answer.at_end);
  json["opened"] = asked.run.opening.has_value();
  json["height_at_end_m"] = pairs(answer.height_after);
  json["mesh"] = asked.with_mesh ? mesh_json(answer.pressed) : Json(nullptr);
  return json;
}

}  // namespace bellhole::wire
