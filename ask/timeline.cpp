// "timeline": a plan from the first dig to the last customer back, with crews and a band; its other
// plans beside it.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "ask/lost.hpp"
#include "ask/part_given.hpp"
#include "ask/place.hpp"
#include "plan/purge_path.hpp"
#include "plan/timeline.hpp"
#include "wire/plan.hpp"
#include "wire/relight.hpp"
#include "wire/timeline.hpp"

namespace bellhole::ask {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// What the request says of the people, the same for every plan.
struct People {
  std::int64_t crews = 1;
  std::optional<std::int64_t> technicians;
  std::optional<restore::Rate> rate;
  std::optional<double> revisits;
  std::optional<std::string> authority;
};

Result<People> people_of(const Question& question, const wire::PlanReply& reply) {
  constexpr std::int64_t most_crews = 100;
  const wire::Object& request = question.request;
  People people;
  BELLHOLE_TRY(crews, request.whole("crews"));
  if (crews && (*crews < 1 || *crews > most_crews))
    return trouble(Code::out_of_range, request.at("crews"), std::to_string(*crews),
                   fmt::format("give a number from 1 to {}", most_crews));
  people.crews = crews.value_or(std::min(reply.crews, most_crews));
  if (!crews) question.assumed.push_back("as many crews as the plan was made for");
  BELLHOLE_TRY(technicians, wire::read_technicians(request));
  people.technicians = technicians;
  BELLHOLE_TRY(rate, wire::read_rate(request));
  people.rate = rate;
  BELLHOLE_TRY(revisits, wire::read_revisits(request));
  people.revisits = revisits;
  BELLHOLE_TRY(authority, request.text("authority"));
  people.authority = authority;
  return people;
}

plan::ShutKind kind_of(const std::string& word) {
  for (const plan::ShutKind kind :
       {plan::ShutKind::squeeze, plan::ShutKind::valve, plan::ShutKind::regulator_outlet,
        plan::ShutKind::source_outlet})
    if (wire::to_string(kind) == word) return kind;
  return plan::ShutKind::placed;
}

/// The place of a shut-off, as far as its times need it; shut() has looked that it exists.
plan::Place place_of(const Network& network, const wire::GivenShutoff& shutoff) {
  plan::Place place;
  place.kind = kind_of(shutoff.kind);
  network::Scenario scenario;
  if (!shut(network, shutoff, scenario)) return place;
  if (!scenario.closures.empty()) {
    place.element = place.pipe = scenario.closures.front().pipe;
    place.station = scenario.closures.front().station;
  } else if (!scenario.valves.empty()) {
    place.element = scenario.valves.front().valve;
    place.pipe = network.valves.pipe[at(place.element)];
    place.station = network.valves.station[at(place.element)];
  }
  const bool two = shutoff.two.value_or(true);
  place.squeezes = two ? plan::Squeezes::two : plan::Squeezes::one;
  return place;
}

Result<std::vector<plan::Piece>> part_of(const Network& network, const wire::GivenPlan& plan) {
  std::vector<plan::Piece> part;
  for (const wire::GivenPiece& piece : plan.isolated) {
    const auto found = std::ranges::find(network.pipes.id, piece.pipe);
    if (found == network.pipes.id.end())
      return trouble(Code::unknown_element, "plan.isolated", piece.pipe,
                     "the plan was made for another network");
    part.push_back({static_cast<Index>(found - network.pipes.id.begin()), piece.begin, piece.end});
  }
  return part;
}

/// What every plan of the reply is asked with.
struct Shared {
  const network::Model& model;
  const Network& network;
  const procedure::Profile& profile;
  const Weather& weather;
  const People& people;
  units::System system;
};

Result<plan::TimelineQuestion> asked_of(const Question& question, const Shared& shared,
                                        const PlanGiven& given) {
  const wire::GivenPlan& plan = given.plan();
  plan::TimelineQuestion asked{shared.network, shared.weather.conditions, shared.profile};
  asked.kind = given.reply.kind;
  asked.crews = shared.people.crews;
  asked.technicians = shared.people.technicians;
  asked.rate = shared.people.rate;
  asked.revisits = shared.people.revisits;
  asked.authority = shared.people.authority;
  asked.system = shared.system;
  asked.steps = plan.checked.steps;
  asked.volume = plan.volume;
  asked.held = plan.gas_held;
  BELLHOLE_TRY(part, part_of(shared.network, plan));
  asked.part = std::move(part);
  BELLHOLE_TRY(lost, lost_by(question, shared.model, shared.weather, given));
  BELLHOLE_TRY(back, part_given(shared.network, given, {}));
  BELLHOLE_TRY(purge, plan::purge_path({.model = shared.model,
                                        .profile = shared.profile,
                                        .conditions = shared.weather.scenario,
                                        .part = back,
                                        .system = shared.system,
                                        .solve = false}));
  asked.purging = purge.time_planned;
  for (const wire::GivenShutoff& shutoff : plan.shutoffs)
    asked.shutoffs.push_back({shutoff.letter, place_of(shared.network, shutoff)});
  const auto along = along_from(shared.network, plan);
  for (const LostCustomer& one : lost)
    asked.out.push_back({meter_of(shared.network, one.customer, one.why, along), one.closing});
  return asked;
}

Result<std::vector<plan::PlanCourse>> courses_of(const Question& question, const Shared& shared,
                                                 PlanGiven given) {
  std::vector<plan::PlanCourse> courses;
  for (given.at = 0; given.at < given.reply.plans.size(); ++given.at) {
    BELLHOLE_TRY(asked, asked_of(question, shared, given));
    BELLHOLE_TRY(course, plan::course_of(asked));
    const auto must = std::ranges::count_if(
        asked.out, [](const plan::CustomerLost& out) { return out.meter.must_not_lose; });
    courses.push_back({given.plan().rank, must, asked.out.size(), std::move(course), {}});
  }
  return courses;
}

}  // namespace

Answer timeline(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  const Network network = held_to(profile, loaded->network, question.assumed);
  BELLHOLE_TRY(given, plan_given(question, hash));
  if (!given)
    return trouble(Code::missing_value, request.at("plan"), "",
                   "give a plan: the reply of plan --json");
  BELLHOLE_TRY(weather, weather_of(question, network::LoadCase::high,
                                   {given->reply.air, given->reply.hour, false}));
  BELLHOLE_TRY(people, people_of(question, given->reply));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);

  BELLHOLE_TRY(model, network::Model::prepare(network, weather.conditions));
  const Shared shared{model, network, profile, weather, people, system};
  BELLHOLE_TRY(asked, asked_of(question, shared, *given));
  BELLHOLE_TRY(answer, plan::timeline(asked));
  BELLHOLE_TRY(courses, courses_of(question, shared, *given));
  append(answer.findings, plan::rank_by_times(courses));
  wire::Json reply = wire::timeline_json(asked, answer, courses, system);
  reply["question"] = "timeline";
  reply["units"] = system == units::System::us ? "us" : "metric";
  reply["procedure"] = profile.id();
  reply["authority"] = people.authority ? wire::Json(*people.authority) : wire::Json(nullptr);
  reply["plan"] = {{"plan_id", given->reply.plan_id}, {"rank", given->plan().rank}};
  question.assumed.insert(question.assumed.end(), answer.assumed.begin(), answer.assumed.end());
  wire::put_answer(reply, answer.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
