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
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  const network::Network network = held_to(profile, loaded->network, question.assumed);
  BELLHOLE_TRY(given, plan_given(question, hash));
  if (!given)
    return trouble(Code::missing_value, request.at("plan"), "",
                   "give the plan that is put back: --plan FILE, the reply of plan --json");
  BELLHOLE_TRY(riders, request.texts("rider"));
  BELLHOLE_TRY(part, part_given(network, *given, riders));
  BELLHOLE_TRY(weather, weather_of(question, network::LoadCase::high,
                                   {.air = given->reply.air, .hour = given->reply.hour}));
  BELLHOLE_TRY(speed, request.quantity<kinds::Speed>("speed"));
  BELLHOLE_TRY(stack, wire::read_stack(request));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  if (speed && !(speed->si() > 0.0))
    return trouble(Code::out_of_range, "speed", "nought or less", "give a positive speed");
  BELLHOLE_TRY(model, network::Model::prepare(network, weather.conditions));
  BELLHOLE_TRY(path, plan::purge_path({.model = model,
                                       .profile = profile,
                                       .conditions = weather.scenario,
                                       .part = part,
                                       .speed = speed,
                                       .stack = stack,
                                       .system = system}));
  wire::Json reply = wire::purge_path_json(network, part, path);
  reply["question"] = "purge";
  reply["units"] = wire::word_of(system);
  reply["profile"] = {{"id", profile.id()}, {"title", profile.title()}};
  reply["plan_id"] = given->reply.plan_id;
  reply["rank"] = given->plan().rank;
  reply["base"] = wire::base_json({network.base_pressure, network.base_temperature});
  wire::put(reply, "barometer", network.barometer);
  wire::put(reply, "temperature", weather.conditions.ground);
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
