// "flow": the steady state of a network for one weather and hour, with anything shut that the
// request names.
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/place.hpp"
#include "ask/shutting.hpp"
#include "network/steady.hpp"
#include "wire/flow.hpp"

namespace bellhole::ask {

using network::Network;

Answer flow(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  const Network& network = loaded->network;
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(weather, weather_of(question, network::LoadCase::expected));
  BELLHOLE_TRY(closed, request.texts("close"));
  for (const std::string& text : closed) {
    BELLHOLE_TRY(one, shut(question, network, text, weather.scenario));
    static_cast<void>(one);
  }
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);

  BELLHOLE_TRY(model, network::Model::prepare(network, weather.conditions));
  BELLHOLE_TRY(state, model.solve(weather.scenario));
  BELLHOLE_TRY(limit, network::limit_temperature(model, weather.scenario));
  wire::Json reply = wire::flow_reply(model, state);
  wire::put_limit(reply, limit, system);
  reply["question"] = "flow";
  reply["units"] = system == units::System::us ? "us" : "metric";
  wire::Json conditions;
  wire::put(conditions, "temperature", weather.scenario.air);
  wire::put(conditions, "ground_temperature", weather.conditions.ground);
  wire::put(conditions, "hour", weather.scenario.hour);
  conditions["load"] = weather.scenario.load == network::LoadCase::low        ? "low"
                       : weather.scenario.load == network::LoadCase::expected ? "expected"
                                                                              : "high";
  conditions["closed"] = closed;
  reply["conditions"] = conditions;
  wire::put_answer(reply, network::findings(model, weather.scenario, state, system),
                   question.assumed);
  return reply;
}

}  // namespace bellhole::ask
