// "feeds": what feeds a place.
#include <nlohmann/json.hpp>

#include "ask/place.hpp"
#include "network/feeds.hpp"
#include "wire/flow.hpp"

namespace bellhole::ask {
namespace {

using Traced = std::pair<std::string, network::Feeds>;

/// A node may be any, a station's too: nothing is shut here. Every other place is as for a plan.
Result<Traced> trace(const Question& question, const network::Network& network,
                     units::System system) {
  BELLHOLE_TRY(node, question.request.text("node"));
  if (node && !question.request.has("pipe") && !question.request.has("at")) {
    BELLHOLE_TRY(index, network::find_node(network, *node, "node"));
    return Traced{"node " + *node, network::feeds_of(network, index)};
  }
  BELLHOLE_TRY(work, work_of(question, network));
  const plan::Piece& piece = work.pieces.front();
  return Traced{plan::describe(network, work, system),
                network::feeds_of(network, piece.pipe, (piece.begin + piece.end) * 0.5)};
}

}  // namespace

Answer feeds(const Question& question) {
  BELLHOLE_TRY(hash, question.request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  const network::Network& network = loaded->network;
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(traced, trace(question, network, system));
  BELLHOLE_TRY(done, question.request.done());
  static_cast<void>(done);
  const auto& [place, feeds] = traced;
  wire::Json reply = wire::feeds_reply(network, feeds);
  reply["question"] = "feeds";
  reply["units"] = system == units::System::us ? "us" : "metric";
  reply["place"] = place;
  wire::put_answer(reply, network::findings(network, feeds), question.assumed);
  return reply;
}

}  // namespace bellhole::ask
