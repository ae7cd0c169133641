// "check": what in a network contradicts itself, cannot be, or is not known.
#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "ask/questions.hpp"
#include "network/check.hpp"

namespace bellhole::ask {
namespace {

wire::Json counted(const network::Network& net) {
  double length = 0.0;
  for (const Length pipe : net.pipes.length) length += pipe.si();
  wire::Json json;
  json["nodes"] = net.nodes.size();
  json["pipes"] = net.pipes.size();
  json["valves"] = net.valves.size();
  json["regulators"] = net.regulators.size();
  json["sources"] = net.sources.size();
  json["customers"] = net.customers.size();
  json["features"] = net.features.size();
  json["notes"] = net.notes.size();
  wire::put(json, "length", Length::from_si(length));
  return json;
}

}  // namespace

Answer check(const Question& question) {
  BELLHOLE_TRY(hash, question.request.need_text("network", "name a network that is loaded"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(units_word, question.request.text("units"));
  BELLHOLE_TRY(which, wire::one_of(units_word.value_or("us"), {"us", "metric"}, "units"));
  const Result<bool> done = question.request.done();
  if (!done) return std::unexpected(done.error());
  const network::Network& net = loaded->network;
  BELLHOLE_TRY(fits, network::check_columns(net));
  static_cast<void>(fits);
  wire::Json reply;
  reply["question"] = "check";
  reply["units"] = which == 0 ? "us" : "metric";
  reply["network"] = {{"hash", loaded->hash},
                      {"name", net.name},
                      {"crs", net.crs},
                      {"imported_from", net.imported_from},
                      {"map_date", net.map_date}};
  reply["counts"] = counted(net);
  wire::put_answer(reply,
                   network::check(net, which == 0 ? units::System::us : units::System::metric),
                   question.assumed);
  return reply;
}

}  // namespace bellhole::ask
