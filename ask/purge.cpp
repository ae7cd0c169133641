// "purge": how fast, how much and how long, and what ends it; of one main, or of a plan: the way
// from its feeds to its vents.
#include "wire/purge.hpp"

#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/documents.hpp"
#include "ask/part_given.hpp"
#include "ask/place.hpp"
#include "wire/closed.hpp"
#include "wire/purge_path.hpp"

namespace bellhole::ask {
namespace {

Answer purge_of_plan(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(given, put_back_given(question));
  BELLHOLE_TRY(speed, request.quantity<kinds::Speed>("speed"));
  BELLHOLE_TRY(stack, wire::read_stack(request));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  if (speed && !(speed->si() > 0.0))
    return trouble(Code::out_of_range, "speed", "nought or less", "give a positive speed");
  const network::Network& network = given.network;
  BELLHOLE_TRY(model, network::Model::prepare(network, given.weather.conditions));
  BELLHOLE_TRY(path, plan::purge_path({.model = model,
                                       .profile = given.profile,
                                       .conditions = given.weather.scenario,
                                       .part = given.part,
                                       .speed = speed,
                                       .stack = stack,
                                       .system = given.system}));
  wire::Json reply = wire::purge_path_json(network, given.part, path);
  put_given(reply, given, "purge");
  reply["base"] = wire::base_json({network.base_pressure, network.base_temperature});
  wire::put(reply, "barometer", network.barometer);
  wire::put(reply, "temperature", given.weather.conditions.ground);
  reply["stack"] = wire::stack_json(stack);
  question.assumed.insert(question.assumed.end(), path.assumed.begin(), path.assumed.end());
  wire::put_answer(reply, path.findings, question.assumed);
  return reply;
}

}  // namespace

Answer purge(const Question& question) {
  const wire::Object& request = question.request;
  if (request.has("network") || request.has("plan")) return purge_of_plan(question);
  BELLHOLE_TRY(system, wire::read_system(request, {"bore", "length", "speed", "pack_to"}));
  BELLHOLE_TRY(asked, wire::read_purge(request, system));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(answer, restore::purge(asked, profile, system));
  question.assumed.insert(question.assumed.end(), answer.assumed.begin(), answer.assumed.end());
  wire::Json reply = wire::purge_json(answer, asked, profile, system);
  wire::put_answer(reply, answer.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
