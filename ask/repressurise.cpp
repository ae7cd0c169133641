// "repressurise": gas back into the part of a plan without a surge.
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/documents.hpp"
#include "ask/part_given.hpp"
#include "ask/place.hpp"
#include "wire/closed.hpp"
#include "wire/repressurise.hpp"

namespace bellhole::ask {

Answer repressurise(const Question& question) {
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
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(model, network::Model::prepare(network, weather.conditions));
  BELLHOLE_TRY(refill, plan::repressurise({.model = model,
                                           .profile = profile,
                                           .conditions = weather.scenario,
                                           .part = part,
                                           .system = system},
                                          question.context.watch));
  wire::Json reply = wire::repressurise_json(network, part, refill, system);
  reply["question"] = "repressurise";
  reply["units"] = wire::word_of(system);
  reply["profile"] = {{"id", profile.id()}, {"title", profile.title()}};
  reply["plan_id"] = given->reply.plan_id;
  reply["rank"] = given->plan().rank;
  question.assumed.insert(question.assumed.end(), refill.assumed.begin(), refill.assumed.end());
  wire::put_answer(reply, refill.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
