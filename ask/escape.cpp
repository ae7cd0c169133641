// "escape": how much gas leaves through a hole or a broken main. Never how far it reaches.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/documents.hpp"
#include "ask/place.hpp"
#include "ask/shutting.hpp"
#include "linepack/vent.hpp"
#include "network/opening.hpp"
#include "plan/regions.hpp"
#include "procedure/judge.hpp"
#include "wire/closed.hpp"
#include "wire/escape.hpp"

namespace bellhole::ask {
namespace {

constexpr std::string_view caution =
    "This is how much gas leaves, not how far it reaches: wind, ground, drains and buildings "
    "decide "
    "that. No distance to keep follows from it; keep the one of the procedure and measure with an "
    "instrument.";

Finding caution_finding() {
  Finding finding;
  finding.rule = "escape.no_distance";
  finding.grade = Grade::warn;
  finding.says = caution;
  finding.action = "keep people and sparks away by the procedure and by instrument";
  finding.source = "what this arithmetic does not hold";
  finding.about = "escape";
  return finding;
}

/// The coefficients to reckon with: as given, or the profile's range.
std::pair<double, double> coefficients(const wire::Blow& blow, const procedure::Profile& profile,
                                       units::System system, std::vector<std::string>& assumed,
                                       Findings& findings) {
  if (blow.coefficient) return *blow.coefficient;
  const auto one = [&](std::string_view rule) {
    const auto ruling = profile.ruling(rule, {});
    if (!ruling.number()) {
      findings.push_back(procedure::not_set(
          ruling, {std::string(ruling.rule->asks), std::nullopt, "cd", "", ""}, system));
      return 1.0;  // no hole passes more than a nozzle without loss
    }
    append(findings, procedure::caveats(ruling, "cd", system));
    assumed.push_back(fmt::format("{}: {:g} ({}; {})", ruling.rule->asks, *ruling.number(),
                                  ruling.used()->source, to_string(ruling.used()->evidence)));
    return *ruling.number();
  };
  const double low = one("escape.coefficient_low"), high = one("escape.coefficient_high");
  return {std::min(low, high), std::max(low, high)};
}

network::Escape answer_of(const wire::EscapeQuestion& asked, double coefficient) {
  const network::Opening opening{asked.blow.area, coefficient, asked.blow.k};
  if (!asked.mains.empty())
    return network::escape(asked.mains, opening, gas::flowing(asked.gas, asked.temperature),
                           asked.barometer);
  const AbsolutePressure inside = absolute(asked.pressure, asked.barometer);
  const double constant = gas::molar_gas_constant / asked.gas.kg_per_mol;
  const auto out = gas::through({asked.blow.area->si(), coefficient},
                                {constant, asked.temperature.si(), asked.z, asked.blow.k},
                                inside.si(), asked.barometer.si());
  return {MassFlow::from_si(out.kg_per_s), out.regime, inside, {}, MassFlow::from_si(out.kg_per_s)};
}

wire::Json opening_json(const wire::Blow& blow) {
  wire::Json json;
  wire::put(json, "diameter", blow.diameter);
  wire::put(json, "area", blow.area);
  json["full_bore"] = !blow.area;
  return json;
}

/// The most gas is what people act on: it stands at the top of the reply.
wire::Json reply_of(const wire::Json& low, const wire::Json& high,
                    const std::pair<double, double>& range) {
  wire::Json reply = high;
  reply["high"] = high;
  reply["low"] = low;
  reply["end"] = range.first < range.second ? "high" : "only";
  return reply;
}

void put_head(wire::Json& reply, units::System system, const procedure::Profile& profile,
              const gas::Base& base, const wire::Blow& blow) {
  reply["question"] = "escape";
  reply["units"] = wire::word_of(system);
  reply["profile"] = {{"id", profile.id()}, {"title", profile.title()}};
  reply["caution"] = caution;
  reply["base"] = wire::base_json(base);
  reply["opening"] = opening_json(blow);
  reply["isentropic_k"] = blow.k;
  wire::put(reply, "duration", blow.duration);
}

// ---- in a network

/// Nothing shut, then each of "close" shut in turn.
struct Stages {
  std::vector<std::string> after;
  std::vector<network::Scenario> scenarios;
};
Result<Stages> stages_of(const Question& question, const network::Network& network,
                         const network::Scenario& open) {
  BELLHOLE_TRY(closed, question.request.texts("close"));
  Stages stages{{"nothing shut"}, {open}};
  for (const std::string& text : closed) {
    network::Scenario next = stages.scenarios.back();
    BELLHOLE_TRY(one, shut(question, network, text, next));
    static_cast<void>(one);
    stages.after.push_back(text);
    stages.scenarios.push_back(std::move(next));
  }
  return stages;
}

/// What a part that no source feeds any more still holds, and how long a hole lets it out.
struct Held {
  Volume volume;
  StdVolume gas;
  std::optional<Duration> empties;  ///< through a hole, at the low coefficient
};

/// Volume of everything that hangs together with a place.
Volume volume_around(const network::Network& network, const network::Scenario& scenario,
                     const network::Closure& place) {
  const plan::Regions regions(network, scenario);
  const std::int32_t here = regions.at(place.pipe, place.station);
  double volume = 0.0;
  for (const plan::RegionPiece& piece : regions.pieces()) {
    if (piece.region != here) continue;
    const auto pipe = static_cast<std::size_t>(piece.piece.pipe);
    volume +=
        linepack::volume_of(network.pipes.bore[pipe], piece.piece.end - piece.piece.begin).si();
  }
  return Volume::from_si(volume);
}

/// `from`: pressure at the place before it was cut off, without the opening: the most that it held.
Held held_of(const network::Network& network, const network::Conditions& conditions,
             const network::Scenario& scenario, const network::Closure& place,
             const wire::Blow& blow, double coefficient, GaugePressure from) {
  constexpr auto nearly_empty = GaugePressure::from_si(250.0);  // an inch of water
  const auto flowing = gas::flowing(conditions.gas, conditions.ground);
  const linepack::Closed closed{volume_around(network, scenario, place),
                                conditions.ground,
                                network.barometer,
                                {network.base_pressure, network.base_temperature},
                                flowing.k_per_pa};
  Held held{closed.volume, {}, std::nullopt};
  if (!std::isfinite(from.si())) return held;
  held.gas = linepack::held(closed, from) - linepack::held(closed, GaugePressure());
  if (blow.area)
    held.empties = linepack::empties(closed, flowing, from, nearly_empty,
                                     {blow.area->si(), coefficient}, blow.k);
  return held;
}

Finding not_fed(const std::string& after, const Held& held, units::System system) {
  Finding finding = caution_finding();
  finding.rule = "escape.drains";
  finding.says = fmt::format(
      "with {} shut no source reaches the opening: up to {} that the part still holds go on leaving"
      "{}",
      after, units::print(held.gas, system, units::Toward::up),
      held.empties ? fmt::format(", for {} or longer",
                                 units::print(*held.empties, system, units::Toward::up))
                   : std::string());
  finding.quantity = "gas that the part still holds";
  finding.value_si = held.gas.si();
  finding.unit_si = "std m3";
  finding.action = "keep away until an instrument says that nothing leaves";
  finding.about = after;
  return finding;
}

wire::Json stage_json(const std::string& after, const network::OpeningState& low,
                      const network::OpeningState& high) {
  wire::Json json;
  json["after"] = after;
  json["fed"] = high.fed;
  wire::put(json, "pressure_before", high.before);
  json["kg_per_s"] = high.escape.flow.si();
  json["kg_per_s_low"] = low.escape.flow.si();
  json["regime"] = gas::name(high.escape.regime);
  json["customers_short"] = high.customers_short;
  return json;
}

Answer escape_in_network(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  const network::Network& network = loaded->network;
  BELLHOLE_TRY(system, units_of(question));
  // The low load leaves the most pressure at the opening: the most gas.
  BELLHOLE_TRY(weather, weather_of(question, network::LoadCase::low));
  if (!request.has("load"))
    question.assumed.emplace_back("the low load, at which the pressure is highest");
  BELLHOLE_TRY(blow, wire::read_blow(request));
  BELLHOLE_TRY(place_text, request.need_text("pipe", "say where: --pipe ID@STATION"));
  BELLHOLE_TRY(work, place_on_pipe(network, place_text, question.assumed));
  BELLHOLE_TRY(stages, stages_of(question, network, weather.scenario));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  const network::Closure place{work.pieces.front().pipe, work.pieces.front().begin};
  Findings findings{caution_finding()};
  std::pair<double, double> range{1.0, 1.0};
  if (blow.area) range = coefficients(blow, profile, system, question.assumed, findings);
  const auto states = [&](double coefficient) {
    return network::open_at(network, weather.conditions, place, {blow.area, coefficient, blow.k},
                            stages.scenarios);
  };
  BELLHOLE_TRY(high, states(range.second));
  BELLHOLE_TRY(low, range.first < range.second ? states(range.first)
                                               : Result<std::vector<network::OpeningState>>(high));
  const gas::Base base{network.base_pressure, network.base_temperature};
  const auto end_of = [&](double coefficient, const network::OpeningState& state) {
    return wire::escape_end_json(
        {blow.area ? std::optional(coefficient) : std::nullopt, state.escape}, blow,
        weather.conditions.gas, base, network.barometer);
  };
  wire::Json reply =
      reply_of(end_of(range.first, low.front()), end_of(range.second, high.front()), range);
  put_head(reply, system, profile, base, blow);
  wire::put(reply, "pressure", high.front().before);
  wire::put(reply, "temperature", weather.conditions.ground);
  wire::put(reply, "barometer", network.barometer);
  reply["gravity"] = weather.conditions.gas.gravity;
  reply["z"] = nullptr;
  reply["place"] = place_text;
  wire::Json list = wire::Json::array();
  auto last_fed = GaugePressure::from_si(std::nan(""));
  for (std::size_t i = 0; i < high.size(); ++i) {
    wire::Json stage = stage_json(stages.after[i], low[i], high[i]);
    std::optional<Held> held;
    if (!high[i].fed) {
      held = held_of(network, weather.conditions, stages.scenarios[i], place, blow, range.first,
                     last_fed);
      findings.push_back(not_fed(stages.after[i], *held, system));
    } else {
      last_fed = high[i].before;
    }
    wire::put(stage, "volume", held ? std::optional(held->volume) : std::optional<Volume>());
    wire::put(stage, "holds", held ? std::optional(held->gas) : std::optional<StdVolume>());
    wire::put(stage, "empties", held ? held->empties : std::optional<Duration>());
    list.push_back(stage);
  }
  reply["stages"] = list;
  wire::put_answer(reply, findings, question.assumed);
  return reply;
}

}  // namespace

Answer escape(const Question& question) {
  const wire::Object& request = question.request;
  if (request.has("network")) return escape_in_network(question);
  BELLHOLE_TRY(system, wire::read_system(request, {"pressure", "hole", "hole_area"}));
  BELLHOLE_TRY(asked, wire::read_escape(request, system));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  Findings findings{caution_finding()};
  std::pair<double, double> range{1.0, 1.0};
  if (asked.blow.area)
    range = coefficients(asked.blow, profile, system, question.assumed, findings);
  const auto end_of = [&](double coefficient) {
    const wire::EscapeEnd end{asked.blow.area ? std::optional(coefficient) : std::nullopt,
                              answer_of(asked, coefficient)};
    return wire::escape_end_json(end, asked.blow, asked.gas, asked.base, asked.barometer);
  };
  wire::Json reply = reply_of(end_of(range.first), end_of(range.second), range);
  put_head(reply, system, profile, asked.base, asked.blow);
  reply["stages"] = wire::Json::array();
  reply["place"] = nullptr;
  wire::put(reply, "pressure", asked.pressure);
  wire::put(reply, "temperature", asked.temperature);
  wire::put(reply, "barometer", asked.barometer);
  reply["gravity"] = asked.gas.gravity;
  reply["z"] = asked.mains.empty() ? wire::Json(asked.z) : wire::Json(nullptr);
  wire::put_answer(reply, findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
