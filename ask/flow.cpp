// "flow": the steady state of a network for one weather and hour, with anything shut that the
// request names.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/place.hpp"
#include "network/locate.hpp"
#include "wire/flow.hpp"

namespace bellhole::ask {
namespace {

using network::Index;
using network::Network;

/// Shuts one element: "V-7" a valve, "R-2" a regulator's outlet, "GATE" a source, "M-12" a whole
/// main at both ends, "M-12@41m" a main at a station.
Result<bool> shut(const Question& question, const Network& network, const std::string& text,
                  network::Scenario& scenario) {
  const auto index_in = [&](const std::vector<std::string>& ids) {
    const auto found = std::ranges::find(ids, text);
    return found == ids.end() ? network::none : static_cast<Index>(found - ids.begin());
  };
  if (const Index v = index_in(network.valves.id); v != network::none) {
    scenario.valves.push_back({v, network::Position::closed});
    return true;
  }
  if (const Index r = index_in(network.regulators.id); r != network::none) {
    scenario.regulators_shut.push_back(r);
    return true;
  }
  if (const Index s = index_in(network.sources.id); s != network::none) {
    scenario.sources_shut.push_back(s);
    return true;
  }
  if (const Index p = index_in(network.pipes.id); p != network::none) {
    const auto& length = network.pipes.length[static_cast<std::size_t>(p)];
    scenario.closures.push_back({p, Length()});
    scenario.closures.push_back({p, length});
    question.assumed.push_back(fmt::format(
        "main {} is shut at both of its ends; name a station to shut it at one place", text));
    return true;
  }
  if (text.find('@') == std::string::npos) {
    return trouble(Code::unknown_element, "close", text,
                   "name a valve, a regulator, a source, a main, or a main's place as ID@STATION");
  }
  BELLHOLE_TRY(work, place_on_pipe(network, text, question.assumed));
  scenario.closures.push_back({work.pieces.front().pipe, work.pieces.front().begin});
  return true;
}

}  // namespace

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
