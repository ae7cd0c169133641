// "time-left": how long each customer has gas after something is shut.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "ask/conditions.hpp"
#include "ask/documents.hpp"
#include "ask/found.hpp"
#include "ask/place.hpp"
#include "ask/script.hpp"
#include "ask/shutting.hpp"
#include "units/parse.hpp"
#include "wire/time.hpp"

namespace bellhole::ask {
namespace {

using network::Network;

constexpr double minute = 60.0, day = 86400.0;

/// "12 N-4 40psig" or "08:12 N-4 40psig": minutes since the shutting, or the clock.
Result<network::Reading> reading_of(const Question& question, const Network& network,
                                    const std::string& text, double begins) {
  const auto first = text.find(' '), last = text.rfind(' ');
  if (first == std::string::npos || first == last) {
    return trouble(Code::unreadable_value, "readings", text,
                   "give MINUTES or HH:MM, the place, and the pressure: \"12 N-4 40psig\"");
  }
  const std::string moment = text.substr(0, first),
                    place = text.substr(first + 1, last - first - 1);
  network::Reading reading;
  if (moment.find(':') != std::string::npos) {
    BELLHOLE_TRY(clock, clock_hour(moment, "readings"));
    reading.at = since(clock, begins);
  } else {
    BELLHOLE_TRY(minutes, units::parse_number(moment, "readings"));
    reading.at = Duration::from_si(minutes * minute);
  }
  BELLHOLE_TRY(pressure, units::parse<kinds::GaugePressure>(text.substr(last + 1), "readings"));
  if (!pressure.assumed.empty()) question.assumed.push_back(pressure.assumed);
  reading.pressure = pressure.value;
  reading.place_says = place;
  BELLHOLE_TRY(where, gauge_place(question, network, place));
  reading.place = where;
  return reading;
}

Result<std::vector<network::Reading>> readings_of(const Question& question, const Network& network,
                                                  double begins) {
  BELLHOLE_TRY(texts, question.request.texts("readings"));
  std::vector<network::Reading> readings;
  for (const std::string& text : texts) {
    BELLHOLE_TRY(reading, reading_of(question, network, text, begins));
    if (!readings.empty() && reading.at < readings.back().at) {
      return trouble(Code::contradiction, "readings", text, "give readings in the order of time");
    }
    readings.push_back(reading);
  }
  return readings;
}

struct Asked {
  network::Conditions conditions;
  network::TimeQuestion time;
  std::optional<std::string> until;
  std::vector<std::string> closed;
};

/// What "close" names, at once or over "over".
Result<bool> read_closed(const Question& question, const Network& network, Asked& asked) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(closed, request.texts("close"));
  if (closed.empty()) {
    return trouble(Code::missing_value, "close", "nothing is shut",
                   "name what is shut: a valve, a regulator, a source, a main or ID@STATION; or "
                   "give a plan");
  }
  asked.closed = closed;
  network::Scenario shut_then = asked.time.begins;
  for (const std::string& text : closed) {
    BELLHOLE_TRY(one, shut(question, network, text, shut_then));
    static_cast<void>(one);
  }
  BELLHOLE_TRY(over, request.quantity<kinds::Duration>("over"));
  if (!over) question.assumed.push_back("shut at once, since no time was given: the short end");
  Shutting made = shutting(shut_then, asked.time.begins, over.value_or(Duration{}));
  asked.time.movers = std::move(made.movers);
  asked.time.switches = std::move(made.switches);
  return true;
}

/// The closings of a plan, each at its own time and pace; time begins with the first.
Result<bool> read_plan(const Question& question, const LaidPlan& plan,
                       const procedure::Profile& profile, Asked& asked) {
  for (const char* key : {"close", "over"}) {
    if (question.request.has(key))
      return trouble(Code::contradiction, question.request.at(key), "",
                     "the plan says what is shut, and how fast: give one of the two");
  }
  const plan::Script& script = plan.script;
  BELLHOLE_TRY(takes, times_said(question, script));
  const plan::Clock clock = plan::clock_of(script, profile, takes);
  if (clock.closing.empty())
    return trouble(Code::missing_value, question.request.at("plan"), "",
                   "the steps of this plan shut nothing");
  plan::Movements moves = plan::movements_from_first(script, clock);
  asked.time.movers = std::move(moves.movers);
  asked.time.switches = std::move(moves.switches);
  asked.time.begins.hour =
      plan::hour_of(clock.steps[clock.closing.front()].begins, asked.time.begins.hour);
  for (const std::size_t step : clock.closing) asked.closed.push_back(script.steps[step].about);
  say_no_pace(script, question.assumed);
  question.assumed.emplace_back(
      "time begins with the first closing of the plan; those on the part go on drawing");
  return true;
}

Result<Asked> read(const Question& question, const Network& network,
                   const procedure::Profile& profile, const std::optional<LaidPlan>& plan) {
  const wire::Object& request = question.request;
  Asked asked;
  BELLHOLE_TRY(weather, plan ? weather_of_plan(question, *plan, network::LoadCase::high)
                             : weather_of(question, network::LoadCase::high));
  asked.conditions = weather.conditions;
  asked.time.begins = weather.scenario;
  BELLHOLE_TRY(what, plan ? read_plan(question, *plan, profile, asked)
                          : read_closed(question, network, asked));
  static_cast<void>(what);
  BELLHOLE_TRY(horizon, request.quantity<kinds::Duration>("horizon"));
  asked.time.horizon = horizon.value_or(Duration::from_si(day));
  if (!horizon) question.assumed.push_back("looked 24 hours ahead, since no horizon was given");
  BELLHOLE_TRY(readings, readings_of(question, network, asked.time.begins.hour));
  asked.time.readings = std::move(readings);
  BELLHOLE_TRY(until, request.text("until"));
  asked.until = until;
  asked.time.low_pressure = profile.ruling("linepack.low_pressure", {}).as<kinds::GaugePressure>();
  return asked;
}

}  // namespace

Answer time_left(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(network, as_found(question, loaded->network));
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(plan, laid_plan(question, *loaded));
  BELLHOLE_TRY(asked, read(question, network, profile, plan));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);

  BELLHOLE_TRY(model, network::Model::prepare(network, asked.conditions));
  BELLHOLE_TRY(left, network::time_left(model, asked.time, question.context.watch));
  wire::Json reply = wire::time_reply(model, asked.time, left, system);
  reply["question"] = "time-left";
  reply["units"] = system == units::System::us ? "us" : "metric";
  reply["start_if"] = nullptr;
  if (asked.until) {
    BELLHOLE_TRY(clock, clock_hour(*asked.until, "until"));
    BELLHOLE_TRY(start, network::start_if(model, asked.time, since(clock, asked.time.begins.hour),
                                          question.context.watch));
    reply["start_if"] = wire::start_reply(network, start, system, *asked.until);
  }
  wire::Json conditions;
  wire::put(conditions, "temperature", asked.time.begins.air);
  wire::put(conditions, "ground_temperature", asked.conditions.ground);
  wire::put(conditions, "hour", asked.time.begins.hour);
  conditions["closed"] = asked.closed;
  conditions["procedure"] = profile.id();
  reply["conditions"] = conditions;
  question.assumed.push_back(
      "services hold no gas, and the load keeps to its hour: loads rise and fall with the hours "
      "of the day");
  if (left.fit) {
    question.assumed.push_back(
        "the draw that the gauges tell stands in place of the map's low, expected and high draw");
  }
  wire::put_answer(reply, network::findings(model, asked.time, left, system), question.assumed);
  return reply;
}

}  // namespace bellhole::ask
