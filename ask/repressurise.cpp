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
  BELLHOLE_TRY(given, put_back_given(question));
  BELLHOLE_TRY(done, question.request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(model, network::Model::prepare(given.network, given.weather.conditions));
  BELLHOLE_TRY(refill, plan::repressurise({.model = model,
                                           .profile = given.profile,
                                           .conditions = given.weather.scenario,
                                           .part = given.part,
                                           .system = given.system},
                                          question.context.watch));
  wire::Json reply = wire::repressurise_json(given.network, given.part, refill, given.system);
  put_given(reply, given, "repressurise");
  question.assumed.insert(question.assumed.end(), refill.assumed.begin(), refill.assumed.end());
  wire::put_answer(reply, refill.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
