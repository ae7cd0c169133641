// "vent": how long the shut section blows down through a stack.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "linepack/vent.hpp"
#include "wire/closed.hpp"

namespace bellhole::ask {
namespace {

using wire::Json;

/// Where a blow-down counts as done if nobody says: one inch of water, 2.5 mbar.
constexpr auto done_us = GaugePressure::from_si(249.08891),
               done_metric = GaugePressure::from_si(250.0);

Result<linepack::Stack> read_stack(const wire::Object& request) {
  linepack::Stack stack;
  BELLHOLE_TRY(bore, request.need<kinds::Length>("stack_bore", "give the bore of the vent stack"));
  BELLHOLE_TRY(length,
               request.need<kinds::Length>("stack_length", "give the length of the vent stack"));
  BELLHOLE_TRY(height, request.quantity<kinds::Length>("stack_height"));
  BELLHOLE_TRY(loss, request.number("loss"));
  BELLHOLE_TRY(roughness, request.quantity<kinds::Length>("roughness"));
  stack.bore = bore;
  stack.length = length;
  stack.height = height.value_or(Length());
  stack.loss = loss.value_or(stack.loss);
  stack.roughness = roughness.value_or(stack.roughness);
  if (stack.loss < 0.0 || stack.roughness.si() < 0.0 || stack.roughness.si() > 0.1 * bore.si()) {
    return trouble(Code::out_of_range, request.at("loss"),
                   fmt::format("{:g}, {:g} m", stack.loss, stack.roughness.si()),
                   "K is nought or more, the roughness at most a tenth of the bore");
  }
  auto& assumed = *request.assumed();
  if (!height)
    assumed.emplace_back("the stack's mouth counts as level with the section: no height was given");
  if (!loss)
    assumed.emplace_back("K 0.5 for the stack's entrance, nothing for bends and valves in it");
  if (!roughness) assumed.emplace_back("stack of steel pipe, 0.046 mm rough inside");
  return stack;
}

Result<linepack::VentQuestion> read_vent(const wire::Object& request, units::System system) {
  linepack::VentQuestion asked;
  BELLHOLE_TRY(volume, wire::read_volume(request));
  BELLHOLE_TRY(base, wire::read_base(request, system));
  BELLHOLE_TRY(barometer, wire::read_barometer(request));
  BELLHOLE_TRY(temperature, wire::read_gas_temperature(request, base));
  BELLHOLE_TRY(gas, wire::read_gas(request));
  BELLHOLE_TRY(from, request.need<kinds::GaugePressure>("pressure",
                                                        "give the pressure in the shut section"));
  BELLHOLE_TRY(to, request.quantity<kinds::GaugePressure>("down_to"));
  BELLHOLE_TRY(stack, read_stack(request));
  asked.gas = gas::flowing(gas, temperature);
  asked.closed = {volume, temperature, barometer, base, asked.gas.k_per_pa};
  asked.from = from;
  asked.to = to.value_or(system == units::System::us ? done_us : done_metric);
  asked.stack = stack;
  if (!to) {
    request.assumed()->push_back(
        fmt::format("down to {}, since no pressure was given", units::print(asked.to, system)));
  }
  return asked;
}

/// What a vent-down leaves open, whatever the numbers say.
Finding not_gas_free() {
  Finding finding;
  finding.rule = "vent.not_gas_free";
  finding.grade = Grade::warn;
  finding.says =
      "a section at the air's pressure is full of gas: it is neither purged nor shut off tight, "
      "and "
      "gas that lets by goes on leaving through the stack";
  finding.action = "watch the shut-offs (shut_off_tight, vent shut), then purge before it is cut";
  finding.source = "what this arithmetic does not hold";
  finding.about = "vent";
  return finding;
}

Json stack_json(const linepack::Stack& stack) {
  Json json;
  wire::put(json, "bore", stack.bore);
  wire::put(json, "length", stack.length);
  wire::put(json, "height", stack.height);
  json["loss"] = stack.loss;
  wire::put(json, "roughness", stack.roughness);
  return json;
}

}  // namespace

Answer vent(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(system, wire::read_system(request, {"pressure", "volume", "stack_bore"}));
  BELLHOLE_TRY(asked, read_vent(request, system));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(vented, linepack::vent(asked));
  question.assumed.emplace_back(
      "the gas keeps its temperature: gas that blows down fast is colder, and the pressure comes "
      "up "
      "a little again once the vent is shut");
  Json reply;
  reply["question"] = "vent";
  reply["units"] = wire::word_of(system);
  reply["base"] = wire::base_json(asked.closed.base);
  wire::put(reply, "volume", asked.closed.volume);
  wire::put(reply, "temperature", asked.closed.temperature);
  wire::put(reply, "barometer", asked.closed.barometer);
  reply["gravity"] = asked.gas.gravity;
  wire::put(reply, "pressure", asked.from);
  wire::put(reply, "down_to", asked.to);
  reply["stack"] = stack_json(asked.stack);
  wire::put(reply, "takes", vented.takes);
  wire::put(reply, "choked_until", vented.choked_until);
  wire::put(reply, "rests_at", vented.rests_at);
  wire::put(reply, "gas", vented.gas);
  wire::put(reply, "gas", vented.mass);
  Json course = Json::array();
  for (const linepack::VentPoint& point : vented.course) {
    Json item;
    wire::put(item, "at", point.at);
    wire::put(item, "pressure", point.pressure);
    wire::put(item, "flow", point.flow);
    item["choked"] = point.choked;
    course.push_back(item);
  }
  reply["course"] = course;
  wire::put_answer(reply, {not_gas_free()}, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
