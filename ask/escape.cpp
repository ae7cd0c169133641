// "escape": how much gas leaves through a hole or a broken main. Never how far it reaches.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/documents.hpp"
#include "ask/escaping.hpp"
#include "ask/place.hpp"
#include "ask/script.hpp"
#include "ask/shutting.hpp"
#include "wire/closed.hpp"
#include "wire/escape.hpp"

namespace bellhole::ask {
namespace {

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
  reply["caution"] = no_distance;
  reply["base"] = wire::base_json(base);
  reply["opening"] = opening_json(blow);
  reply["isentropic_k"] = blow.k;
  wire::put(reply, "duration", blow.duration);
}

// ---- in a network

/// Nothing shut, then each of "close" shut in turn.
Result<std::vector<EscapeStage>> stages_said(const Question& question,
                                             const network::Network& network,
                                             const network::Scenario& open) {
  BELLHOLE_TRY(closed, question.request.texts("close"));
  std::vector<EscapeStage> stages{{"nothing shut", open, std::nullopt, std::nullopt}};
  for (const std::string& text : closed) {
    EscapeStage next{text, stages.back().scenario, std::nullopt, std::nullopt};
    BELLHOLE_TRY(one, shut(question, network, text, next.scenario));
    static_cast<void>(one);
    stages.push_back(std::move(next));
  }
  return stages;
}

/// Where it blows: "pipe", else the work of the plan.
Result<network::Closure> place_of(const Question& question, const network::Network& network,
                                  const std::optional<LaidPlan>& plan) {
  if (plan && !question.request.has("pipe")) {
    if (plan->script.work) return *plan->script.work;
    return trouble(Code::missing_value, question.request.at("pipe"), "",
                   "the work of this plan is no place on a main: say where, --pipe ID@STATION");
  }
  BELLHOLE_TRY(text, question.request.need_text("pipe", "say where: --pipe ID@STATION"));
  BELLHOLE_TRY(work, place_on_pipe(network, text, question.assumed));
  return network::Closure{work.pieces.front().pipe, work.pieces.front().begin};
}

Result<std::vector<EscapeStage>> stages_of(const Question& question,
                                           const network::Network& network, const Weather& weather,
                                           const std::optional<LaidPlan>& plan,
                                           const procedure::Profile& profile) {
  if (!plan) return stages_said(question, network, weather.scenario);
  if (question.request.has("close"))
    return trouble(Code::contradiction, question.request.at("close"), "close and plan",
                   "the plan says what is shut: give one of the two");
  BELLHOLE_TRY(takes, times_said(question, plan->script));
  say_no_pace(plan->script, question.assumed);
  return stages_of_plan(plan->script, plan::clock_of(plan->script, profile, takes),
                        weather.scenario);
}

std::string words_of(const network::Network& network, const network::Closure& place) {
  return fmt::format("{}@{:.1f}m", network.pipes.id[static_cast<std::size_t>(place.pipe)],
                     place.station.si());
}

Answer escape_in_network(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  const network::Network& network = loaded->network;
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(plan, laid_plan(question, *loaded));
  // The low load leaves the most pressure at the opening: the most gas.
  BELLHOLE_TRY(weather, plan ? weather_of_plan(question, *plan, network::LoadCase::low)
                             : weather_of(question, network::LoadCase::low));
  if (!request.has("load"))
    question.assumed.emplace_back("the low load, at which the pressure is highest");
  BELLHOLE_TRY(blow, wire::read_blow(request));
  BELLHOLE_TRY(place, place_of(question, network, plan));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(stages, stages_of(question, network, weather, plan, profile));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  Findings findings{no_distance_finding()};
  const auto range = coefficients(blow, profile, system, question.assumed, findings);
  BELLHOLE_TRY(made, escaped({network, weather.conditions, place, blow, range, stages, system}));
  const gas::Base base{network.base_pressure, network.base_temperature};
  const auto end_of = [&](double coefficient, const network::OpeningState& state) {
    return wire::escape_end_json(
        {blow.area ? std::optional(coefficient) : std::nullopt, state.escape}, blow,
        weather.conditions.gas, base, network.barometer);
  };
  wire::Json reply = reply_of(end_of(range.first, made.low.front()),
                              end_of(range.second, made.high.front()), range);
  put_head(reply, system, profile, base, blow);
  wire::put(reply, "pressure", made.high.front().before);
  wire::put(reply, "temperature", weather.conditions.ground);
  wire::put(reply, "barometer", network.barometer);
  reply["gravity"] = weather.conditions.gas.gravity;
  reply["z"] = nullptr;
  reply["place"] =
      request.has("pipe") ? request.json().at("pipe") : wire::Json(words_of(network, place));
  reply["stages"] = made.stages;
  reply["lost"] = made.lost;
  append(findings, made.findings);
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
  Findings findings{no_distance_finding()};
  const auto range = coefficients(asked.blow, profile, system, question.assumed, findings);
  const auto end_of = [&](double coefficient) {
    const wire::EscapeEnd end{asked.blow.area ? std::optional(coefficient) : std::nullopt,
                              answer_of(asked, coefficient)};
    return wire::escape_end_json(end, asked.blow, asked.gas, asked.base, asked.barometer);
  };
  wire::Json reply = reply_of(end_of(range.first), end_of(range.second), range);
  put_head(reply, system, profile, asked.base, asked.blow);
  reply["stages"] = wire::Json::array();
  reply["lost"] = nullptr;
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
