#include "ask/plan_given.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "ask/documents.hpp"

namespace bellhole::ask {
namespace {

Result<network::Index> index_in(const std::vector<std::string>& ids,
                                const wire::GivenShutoff& shutoff) {
  const auto found = std::ranges::find(ids, shutoff.element);
  if (found == ids.end())
    return trouble(Code::unknown_element, "shut-off " + shutoff.letter, shutoff.element,
                   "the plan was made for another network");
  return static_cast<network::Index>(found - ids.begin());
}

Result<std::size_t> position_of(const Question& question, const wire::PlanReply& reply,
                                std::optional<std::int64_t> rank) {
  if (!rank) {
    if (reply.plans.size() > 1)
      question.assumed.push_back(
          fmt::format("the first of {} plans, since no rank was given", reply.plans.size()));
    return std::size_t{0};
  }
  const auto found = std::ranges::find(reply.plans, *rank, &wire::GivenPlan::rank);
  if (found == reply.plans.end())
    return trouble(Code::unknown_element, question.request.at("rank"), std::to_string(*rank),
                   fmt::format("the document lists {} plans", reply.plans.size()));
  return static_cast<std::size_t>(found - reply.plans.begin());
}

}  // namespace

Result<std::optional<PlanGiven>> plan_given(const Question& question, const std::string& network) {
  BELLHOLE_TRY(rank, question.request.whole("rank"));
  if (!question.request.has("plan")) {
    if (rank)
      return trouble(Code::contradiction, question.request.at("rank"), std::to_string(*rank),
                     "a rank picks one plan of a document: give the plan too");
    return std::optional<PlanGiven>();
  }
  BELLHOLE_TRY(bytes, plan_bytes_of(question, "plan"));
  BELLHOLE_TRY(reply, wire::read_plan_reply(bytes, "plan"));
  if (reply.network != network)
    return trouble(Code::contradiction, question.request.at("plan"), reply.network.substr(0, 12),
                   "the plan was made for another network: ask the question plan again with this "
                   "one");
  BELLHOLE_TRY(at, position_of(question, reply, rank));
  return std::optional(PlanGiven{std::move(reply), at});
}

Result<bool> shut(const network::Network& network, const wire::GivenShutoff& shutoff,
                  network::Scenario& scenario) {
  if (shutoff.kind == "valve") {
    BELLHOLE_TRY(valve, index_in(network.valves.id, shutoff));
    scenario.valves.push_back({valve, network::Position::closed});
  } else if (shutoff.kind == "regulator_outlet") {
    BELLHOLE_TRY(regulator, index_in(network.regulators.id, shutoff));
    scenario.regulators_shut.push_back(regulator);
  } else if (shutoff.kind == "source_outlet") {
    BELLHOLE_TRY(source, index_in(network.sources.id, shutoff));
    scenario.sources_shut.push_back(source);
  } else {
    BELLHOLE_TRY(pipe, index_in(network.pipes.id, shutoff));
    scenario.closures.push_back({pipe, shutoff.station.value_or(Length())});
  }
  return true;
}

}  // namespace bellhole::ask
