#include "ask/part_given.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "ask/place.hpp"
#include "wire/closed.hpp"

namespace bellhole::ask {
namespace {

using network::Index;

constexpr std::array kind_words{"squeeze", "valve", "regulator_outlet", "source_outlet", "placed"};

Result<Index> index_in(const std::vector<std::string>& ids, const std::string& id,
                       const std::string& where) {
  const auto found = std::ranges::find(ids, id);
  if (found == ids.end())
    return trouble(Code::unknown_element, where, id, "the plan was made for another network");
  return static_cast<Index>(found - ids.begin());
}

Result<plan::PartEnd> end_of(const network::Network& network, const wire::GivenShutoff& shutoff) {
  const std::string where = "shut-off " + shutoff.letter;
  plan::PartEnd end;
  end.letter = shutoff.letter;
  end.kind =
      static_cast<plan::ShutKind>(std::ranges::find(kind_words, shutoff.kind) - kind_words.begin());
  const auto& ids = end.kind == plan::ShutKind::valve              ? network.valves.id
                    : end.kind == plan::ShutKind::regulator_outlet ? network.regulators.id
                    : end.kind == plan::ShutKind::source_outlet    ? network.sources.id
                                                                   : network.pipes.id;
  BELLHOLE_TRY(element, index_in(ids, shutoff.element, where));
  if (end.kind == plan::ShutKind::valve) {
    end.element = element;
    end.pipe = network.valves.pipe[static_cast<std::size_t>(element)];
    end.station = network.valves.station[static_cast<std::size_t>(element)];
  } else if (shutoff.station) {
    end.pipe = element;
    end.station = *shutoff.station;
  } else {
    end.element = element;
  }
  return end;
}

}  // namespace

Result<plan::Part> part_given(const network::Network& network, const PlanGiven& given,
                              const std::vector<std::string>& riders) {
  plan::Part part;
  for (const wire::GivenShutoff& shutoff : given.plan().shutoffs) {
    BELLHOLE_TRY(end, end_of(network, shutoff));
    part.ends.push_back(std::move(end));
  }
  for (const wire::GivenPiece& piece : given.reply.work) {
    BELLHOLE_TRY(pipe, index_in(network.pipes.id, piece.pipe, "work"));
    part.work.push_back({pipe, piece.begin, piece.end});
  }
  if (part.work.empty())
    return trouble(Code::missing_value, "work", "", "this plan does not say where the work is");
  for (const wire::GivenCustomer& customer : given.plan().customers_out) {
    BELLHOLE_TRY(out, index_in(network.customers.id, customer.id, "customers_out"));
    part.out.push_back(out);
  }
  const auto end_at = [&](const std::string& letter) {
    return static_cast<std::size_t>(std::ranges::find(part.ends, letter, &plan::PartEnd::letter) -
                                    part.ends.begin());
  };
  for (const std::string& letter : given.plan().opening)
    if (end_at(letter) < part.ends.size()) part.opening.push_back(end_at(letter));
  for (const std::string& letter : riders) {
    if (end_at(letter) == part.ends.size())
      return trouble(Code::unknown_element, "rider", letter, "name a shut-off of the plan");
    part.ends[end_at(letter)].rider = true;
  }
  part.bypass = given.plan().bypass;
  return part;
}

Result<PutBackGiven> put_back_given(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, wire::word_of(system)));
  network::Network network = held_to(profile, loaded->network, question.assumed);
  BELLHOLE_TRY(given, plan_given(question, hash));
  if (!given)
    return trouble(Code::missing_value, request.at("plan"), "",
                   "give the plan that is put back: --plan FILE, the reply of plan --json");
  BELLHOLE_TRY(riders, request.texts("rider"));
  BELLHOLE_TRY(part, part_given(network, *given, riders));
  BELLHOLE_TRY(weather, weather_of(question, network::LoadCase::high,
                                   {.air = given->reply.air, .hour = given->reply.hour}));
  return PutBackGiven{
      system, std::move(profile), std::move(network), std::move(*given), std::move(part), weather};
}

void put_given(wire::Json& reply, const PutBackGiven& given, const char* question) {
  reply["question"] = question;
  reply["units"] = wire::word_of(given.system);
  reply["profile"] = {{"id", given.profile.id()}, {"title", given.profile.title()}};
  reply["plan_id"] = given.plan.reply.plan_id;
  reply["rank"] = given.plan.plan().rank;
}

}  // namespace bellhole::ask
