// "rehearse": the steps of a plan through time, before anybody is sent.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "ask/escaping.hpp"
#include "ask/place.hpp"
#include "ask/script.hpp"
#include "ask/shutting.hpp"
#include "network/time_left.hpp"
#include "wire/rehearse.hpp"
#include "wire/time.hpp"

namespace bellhole::ask {
namespace {

constexpr double day_s = 86400.0;

/// What is asked besides the rehearsal itself.
struct Besides {
  std::optional<wire::Blow> blow;
  std::optional<std::string> until;
};

Result<Besides> besides_of(const Question& question) {
  const wire::Object& request = question.request;
  Besides besides;
  if (request.has("hole") || request.has("hole_area") || request.has("full_bore")) {
    BELLHOLE_TRY(blow, wire::read_blow(request));
    besides.blow = blow;
  }
  BELLHOLE_TRY(until, request.text("until"));
  besides.until = until;
  return besides;
}

/// What blows, at the ends of what may be known of its coefficient.
struct Blowing {
  wire::Blow blow;
  std::pair<double, double> coefficients;
  Findings findings;

  [[nodiscard]] plan::Blows ends() const {
    return {{blow.area, coefficients.first, blow.k}, {blow.area, coefficients.second, blow.k}};
  }
};

Result<std::optional<Blowing>> blowing(const Question& question, const plan::Script& script,
                                       const procedure::Profile& profile, units::System system,
                                       const std::optional<wire::Blow>& blow) {
  if (!blow) {
    if (script.kind == plan::Kind::emergency)
      question.assumed.emplace_back(
          "no opening was given: the gas that leaves before it is stopped is not counted, and "
          "pressures are those without it");
    return std::optional<Blowing>();
  }
  if (!script.work)
    return trouble(Code::contradiction, question.request.at("hole"), "",
                   "the work of this plan is no place on a main: leave the opening out, or ask the "
                   "question escape");
  Blowing made{*blow, {}, {no_distance_finding()}};
  made.coefficients = coefficients(*blow, profile, system, question.assumed, made.findings);
  question.assumed.emplace_back(
      "the opening blows from the first step until the first shut-off opens again; at the high and "
      "the expected draw with its greatest coefficient, at the low draw with its least");
  return std::optional(std::move(made));
}

/// Gas that leaves before and after each closing; null where no opening is given.
Result<wire::Json> escape_of(const plan::RehearseQuestion& asked, plan::Rehearsal& made,
                             const std::optional<Blowing>& blowing) {
  if (!blowing) return wire::Json(nullptr);
  network::Scenario begins = asked.begins;
  begins.load = network::LoadCase::low;  // the most pressure at the opening
  BELLHOLE_TRY(blown, escaped({asked.model.network(), asked.model.conditions(), *asked.script.work,
                               blowing->blow, blowing->coefficients,
                               stages_of_plan(asked.script, made.clock, begins), asked.system}));
  append(made.findings, blowing->findings);
  append(made.findings, blown.findings);
  return wire::Json{{"stages", blown.stages},
                    {"lost", wire::lost_reply(asked, made, blown.high.back().fed)},
                    {"caution", no_distance}};
}

/// How cold it may get until then, with the whole plan gone through.
Result<wire::Json> start_of(const Question& question, const plan::RehearseQuestion& asked,
                            const plan::Rehearsal& made, const std::optional<std::string>& until) {
  if (!until) return wire::Json(nullptr);
  BELLHOLE_TRY(clock, clock_hour(*until, question.request.at("until")));
  plan::Movements moves =
      plan::movements(asked.script, made.clock, made.clock.closing.size(), true);
  const network::TimeQuestion time{.begins = asked.begins,
                                   .movers = std::move(moves.movers),
                                   .switches = std::move(moves.switches),
                                   .not_asked = asked.script.out};
  BELLHOLE_TRY(start, network::start_if(asked.model, time, since(clock, asked.begins.hour),
                                        question.context.watch));
  return wire::start_reply(asked.model.network(), start, asked.system, *until);
}

void say_taken(const plan::Script& script, std::vector<std::string>& assumed) {
  say_no_pace(script, assumed);
  assumed.emplace_back("whom no source reaches before anything is shut is not watched");
  assumed.emplace_back(
      "services hold no gas, and the load keeps to its hour: loads rise and fall with the hours of "
      "the day");
  assumed.emplace_back(
      "from when the part is vented until the first shut-off stands open nothing is read on it; a "
      "part that its customers emptied fills faster here than by the steps, and gauges beside it "
      "dip further");
  if (!script.out.empty())
    assumed.emplace_back(
        "who loses gas by the plan draws nothing after the meters are shut, to "
        "the end: relighting comes later");
  if (script.bypass) assumed.emplace_back("the pressures are those without the bypass");
}

}  // namespace

Answer rehearse(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  if (!request.has("plan"))
    return trouble(Code::missing_value, request.at("plan"), "",
                   "give the plan that is rehearsed: the reply of plan --json");
  BELLHOLE_TRY(laid, laid_plan(question, *loaded));
  BELLHOLE_TRY(weather, weather_of_plan(question, *laid, network::LoadCase::high));
  BELLHOLE_TRY(course, temperature_course(question, weather.scenario.hour));
  BELLHOLE_TRY(takes, times_said(question, laid->script));
  BELLHOLE_TRY(ahead, request.quantity<kinds::Duration>("look_ahead"));
  BELLHOLE_TRY(besides, besides_of(question));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  if (ahead && !(ahead->si() > 0.0 && ahead->si() <= 7.0 * day_s))
    return trouble(Code::out_of_range, request.at("look_ahead"), fmt::format("{:g} s", ahead->si()),
                   "look ahead for a time up to 7 days");
  if (!ahead)
    question.assumed.emplace_back("each closing is looked at for 24 hours as if nobody went on");

  const network::Network network = held_to(profile, loaded->network, question.assumed);
  BELLHOLE_TRY(model, network::Model::prepare(network, weather.conditions));
  BELLHOLE_TRY(blows, blowing(question, laid->script, profile, system, besides.blow));
  const plan::RehearseQuestion asked{.model = model,
                                     .profile = profile,
                                     .script = laid->script,
                                     .begins = weather.scenario,
                                     .weather = course,
                                     .takes = takes,
                                     .looks_ahead = ahead.value_or(Duration::from_si(day_s)),
                                     .blows = blows ? std::optional(blows->ends()) : std::nullopt,
                                     .system = system};
  BELLHOLE_TRY(made, plan::rehearse(asked, question.context.watch));
  say_taken(laid->script, question.assumed);
  wire::Json reply = wire::rehearsal_reply(asked, made);
  reply["question"] = "rehearse";
  reply["units"] = system == units::System::us ? "us" : "metric";
  reply["plan"] = {{"id", laid->given.reply.plan_id},
                   {"made_by", laid->given.reply.engine},
                   {"rank", laid->given.plan().rank},
                   {"kind", laid->script.kind == plan::Kind::planned ? "planned" : "emergency"},
                   {"crews", laid->script.crews}};
  wire::put_rehearsal_conditions(reply, asked);
  BELLHOLE_TRY(escape, escape_of(asked, made, blows));
  reply["escape"] = escape;
  BELLHOLE_TRY(start, start_of(question, asked, made, besides.until));
  reply["start_if"] = start;
  wire::put_answer(reply, made.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
