#include "wire/plan_given.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "wire/steps.hpp"

namespace bellhole::wire {
namespace {

Result<GivenShutoff> read_shutoff(const Object& object) {
  GivenShutoff shutoff;
  BELLHOLE_TRY(letter, object.need_text("id", "a shut-off has a letter"));
  BELLHOLE_TRY(kind, object.need_text("kind", "a shut-off has a kind"));
  BELLHOLE_TRY(known,
               one_of(kind, {"squeeze", "valve", "regulator_outlet", "source_outlet", "placed"},
                      object.at("kind")));
  static_cast<void>(known);
  BELLHOLE_TRY(element, object.need_text("element", "a shut-off names what is shut"));
  BELLHOLE_TRY(station, object.quantity<kinds::Length>("station"));
  BELLHOLE_TRY(two, object.flag("double"));
  BELLHOLE_TRY(time, object.quantity<kinds::Duration>("time_to_shut"));
  if ((kind == "squeeze" || kind == "placed") && !station)
    return trouble(Code::missing_value, object.at("station_m"), "",
                   "a squeeze stands at a station of its main");
  return GivenShutoff{letter, kind, element, station, two, time};
}

Result<bool> read_out(const Object& object, GivenPlan& plan) {
  BELLHOLE_TRY(customers, object.objects("customers_out"));
  for (const Object& customer : customers) {
    BELLHOLE_TRY(id, customer.need_text("id", "a customer has an id"));
    BELLHOLE_TRY(cause, customer.text("cause"));
    plan.customers_out.push_back({id, cause.value_or("isolated")});
  }
  return true;
}

Result<std::vector<GivenPiece>> read_pieces(const Object& object) {
  std::vector<GivenPiece> list;
  BELLHOLE_TRY(pieces, object.objects("pieces"));
  for (const Object& piece : pieces) {
    BELLHOLE_TRY(pipe, piece.need_text("pipe", "a piece lies on a main"));
    BELLHOLE_TRY(begin, piece.need<kinds::Length>("from_station", "a piece begins at a station"));
    BELLHOLE_TRY(end, piece.need<kinds::Length>("to_station", "a piece ends at a station"));
    list.push_back({pipe, begin, end});
  }
  return list;
}

Result<bool> read_part(const Object& object, GivenPlan& plan) {
  BELLHOLE_TRY(isolated, object.object("isolated"));
  if (!isolated) return true;
  BELLHOLE_TRY(volume, isolated->quantity<kinds::Volume>("volume"));
  BELLHOLE_TRY(held, isolated->quantity<kinds::StdVolume>("gas_held"));
  plan.volume = volume;
  plan.gas_held = held;
  BELLHOLE_TRY(pieces, read_pieces(*isolated));
  plan.isolated = pieces;
  return true;
}

Result<bool> read_order(const Object& object, GivenPlan& plan) {
  BELLHOLE_TRY(order, object.object("order"));
  if (!order) return true;
  BELLHOLE_TRY(closing, order->texts("closing"));
  BELLHOLE_TRY(opening, order->texts("opening"));
  BELLHOLE_TRY(bypass, order->flag("bypass"));
  plan.closing = closing;
  plan.opening = opening;
  plan.bypass = bypass.value_or(false);
  return true;
}

Result<GivenPlan> read_plan(const Object& object, plan::Kind kind, std::size_t position) {
  GivenPlan plan;
  BELLHOLE_TRY(rank, object.whole("rank"));
  plan.rank = rank.value_or(static_cast<std::int64_t>(position) + 1);
  BELLHOLE_TRY(cost, object.whole("cost_crew_s"));
  BELLHOLE_TRY(must, object.whole("must_not_lose"));
  plan.cost_crew_s = cost.value_or(0);
  plan.must_not_lose = must.value_or(0);
  BELLHOLE_TRY(shutoffs, object.objects("shutoffs"));
  for (const Object& shutoff : shutoffs) {
    BELLHOLE_TRY(one, read_shutoff(shutoff));
    plan.shutoffs.push_back(std::move(one));
  }
  for (const auto& read :
       {read_out(object, plan), read_part(object, plan), read_order(object, plan)})
    if (!read) return std::unexpected(read.error());
  if (object.has("steps")) {
    BELLHOLE_TRY(paper, read_plan_on_paper(object, kind, position));
    plan.checked = std::move(paper.checked);
  }
  return plan;
}

Result<bool> read_conditions(const Object& object, PlanReply& reply) {
  BELLHOLE_TRY(network, object.object("network"));
  if (network) {
    BELLHOLE_TRY(hash, network->text("hash"));
    reply.network = hash.value_or("");
  }
  BELLHOLE_TRY(conditions, object.object("conditions"));
  if (!conditions) return true;
  BELLHOLE_TRY(air, conditions->quantity<kinds::Temperature>("temperature"));
  BELLHOLE_TRY(hour, conditions->number("hour"));
  BELLHOLE_TRY(crews, conditions->whole("crews"));
  reply.air = air;
  reply.hour = hour;
  reply.crews = std::max<std::int64_t>(crews.value_or(1), 1);
  return true;
}

}  // namespace

Result<PlanReply> read_plan_reply(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(json, parse_json(bytes, name, plan_cap));
  std::vector<std::string> assumed;
  BELLHOLE_TRY(object, Object::of(json, std::string(name), &assumed));
  BELLHOLE_TRY(question, object.text("question"));
  if (question != "plan")
    return trouble(Code::unreadable_document, std::string(name), question.value_or(""),
                   "give the reply of plan --json");
  PlanReply reply;
  BELLHOLE_TRY(kind, object.need_text("kind", "a plan says planned or emergency"));
  BELLHOLE_TRY(which, one_of(kind, {"planned", "emergency"}, object.at("kind")));
  reply.kind = which == 0 ? plan::Kind::planned : plan::Kind::emergency;
  BELLHOLE_TRY(id, object.text("plan_id"));
  BELLHOLE_TRY(engine, object.text("engine"));
  reply.plan_id = id.value_or("");
  reply.engine = engine.value_or("");
  BELLHOLE_TRY(work, object.object("work"));
  if (work) {
    BELLHOLE_TRY(pieces, read_pieces(*work));
    reply.work = pieces;
  }
  BELLHOLE_TRY(conditions, read_conditions(object, reply));
  static_cast<void>(conditions);
  BELLHOLE_TRY(plans, object.objects("plans"));
  if (plans.empty())
    return trouble(Code::missing_value, object.at("plans"), "", "this document lists no plan");
  for (std::size_t i = 0; i < plans.size(); ++i) {
    BELLHOLE_TRY(one, read_plan(plans[i], reply.kind, i));
    reply.plans.push_back(std::move(one));
  }
  return reply;
}

}  // namespace bellhole::wire
