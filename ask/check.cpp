// "check": what in a network, or in the steps of a plan, contradicts itself, cannot be, or is not
// known.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "ask/questions.hpp"
#include "network/check.hpp"
#include "wire/steps.hpp"

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

Answer check_network(const Question& question, wire::Json reply, units::System system) {
  BELLHOLE_TRY(hash, question.request.need_text(
                         "network", "name a network that is loaded, or a plan under steps"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  const Result<bool> done = question.request.done();
  if (!done) return std::unexpected(done.error());
  const network::Network& net = loaded->network;
  BELLHOLE_TRY(fits, network::check_columns(net));
  static_cast<void>(fits);
  reply["network"] = {{"hash", loaded->hash},
                      {"name", net.name},
                      {"crs", net.crs},
                      {"imported_from", net.imported_from},
                      {"map_date", net.map_date}};
  reply["counts"] = counted(net);
  wire::put_answer(reply, network::check(net, system), question.assumed);
  return reply;
}

/// The findings of one plan of a document; where it lists several, each says which.
Findings findings_of(const wire::PlanOnPaper& paper, bool several) {
  Findings findings = plan::check_steps(paper.checked);
  if (!several) return findings;
  for (Finding& finding : findings) {
    finding.says = fmt::format("plan {}: {}", paper.rank, finding.says);
    finding.about = fmt::format("plan {}, {}", paper.rank, finding.about);
  }
  return findings;
}

Answer check_plan(const Question& question, wire::Json reply) {
  if (question.request.has("network"))
    return trouble(Code::contradiction, question.request.at("steps"), "network and steps",
                   "give a network to check, or a plan whose steps are checked");
  BELLHOLE_TRY(bytes, plan_bytes_of(question, "steps"));
  BELLHOLE_TRY(only, question.request.whole("plan"));
  const Result<bool> done = question.request.done();
  if (!done) return std::unexpected(done.error());
  BELLHOLE_TRY(document, wire::read_plan_document(bytes, "steps"));
  Findings findings;
  wire::Json plans = wire::Json::array();
  for (const wire::PlanOnPaper& paper : document.plans) {
    if (only && paper.rank != *only) continue;
    Findings found = findings_of(paper, !only && document.plans.size() > 1);
    plans.push_back({{"rank", paper.rank},
                     {"steps", paper.checked.steps.size()},
                     {"verdict", to_string(verdict_of(found))}});
    append(findings, std::move(found));
  }
  if (plans.empty())
    return trouble(Code::unknown_element, question.request.at("plan"), std::to_string(*only),
                   fmt::format("the document lists {} plans", document.plans.size()));
  reply["steps"] = {{"plan_id", document.plan_id}, {"made_by", document.engine}, {"plans", plans}};
  wire::put_answer(reply, findings, question.assumed);
  return reply;
}

}  // namespace

Answer check(const Question& question) {
  BELLHOLE_TRY(units_word, question.request.text("units"));
  BELLHOLE_TRY(which, wire::one_of(units_word.value_or("us"), {"us", "metric"}, "units"));
  wire::Json reply;
  reply["question"] = "check";
  reply["units"] = which == 0 ? "us" : "metric";
  if (question.request.has("steps")) return check_plan(question, std::move(reply));
  return check_network(question, std::move(reply),
                       which == 0 ? units::System::us : units::System::metric);
}

}  // namespace bellhole::ask
