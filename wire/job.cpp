#include "wire/job.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/job_facts.hpp"
#include "wire/recording.hpp"

namespace bellhole::wire {
namespace {

using namespace job;

template <class T>
Json list(const std::vector<Said<T>>& all) {
  Json out = Json::array();
  for (const Said<T>& one : all) out.push_back(said_json(one));
  return out;
}
template <class T>
Json maybe(const std::optional<Said<T>>& one) {
  return one ? said_json(*one) : Json(nullptr);
}

Json steps_json(const State& state) {
  Json out = Json::array();
  for (const StepState& step : state.steps) {
    Json json = {{"id", step.step.id},
                 {"kind", plan::to_string(step.step.kind)},
                 {"does", step.step.does},
                 {"about", step.step.about},
                 {"hold_point", step.step.hold_point},
                 {"point_of_no_return", step.step.point_of_no_return},
                 {"names_needed", step.step.names_needed},
                 {"behind", step.behind()}};
    json["answer"] = maybe(step.answer);
    out.push_back(json);
  }
  return out;
}

Json shutoffs_json(const State& state) {
  Json out = Json::array();
  for (const ShutoffState& shutoff : state.shutoffs) {
    Json json;
    json["id"] = shutoff.letter;
    json["kind"] = shutoff.planned ? Json(shutoff.planned->kind) : Json(nullptr);
    json["element"] = shutoff.planned ? Json(shutoff.planned->element) : Json(nullptr);
    json["place"] = shutoff.planned ? Json(shutoff.planned->place) : Json(nullptr);
    const bool mapped = shutoff.planned && shutoff.planned->mapped;
    json["mapped"] = mapped ? Json(pipe_words(*shutoff.planned->mapped)) : Json(nullptr);
    json["found"] = maybe(shutoff.found);
    json["differs"] = mapped && shutoff.found
                          ? Json(differs(*shutoff.planned->mapped, shutoff.found->what.found))
                          : Json(nullptr);
    json["shut"] = shutoff.shut();
    json["acts"] = list(shutoff.acts);
    json["bars"] = list(shutoff.bars);
    out.push_back(json);
  }
  return out;
}

Json people_json(const State& state) {
  Json out = Json::array();
  for (const PersonState& person : state.people)
    out.push_back({{"id", person.id},
                   {"roles", list(person.roles)},
                   {"left", maybe(person.left)},
                   {"qualifications", list(person.qualifications)},
                   {"signs", list(person.signs)}});
  return out;
}

Json gates_json(const State& state) {
  Json out = Json::array();
  for (const Gate gate : {Gate::cut, Gate::open_after_cut, Gate::put_back}) {
    const Findings reasons = gate_reasons(state, gate);
    out.push_back(
        {{"gate", to_string(gate)}, {"clear", reasons.empty()}, {"against", to_json(reasons)}});
  }
  return out;
}

Json conflicts_json(const State& state) {
  Json out = Json::array();
  for (const Conflict& conflict : state.conflicts) {
    Json sides = Json::array();
    for (const auto& side : conflict.sides)
      sides.push_back({{"says", side.says}, {"stamp", stamp_json(side.stamp)}});
    out.push_back({{"about", conflict.about}, {"sides", sides}, {"used", conflict.used}});
  }
  return out;
}

Json outage_json(const State& state) {
  Json meters = Json::array();
  for (const auto& [id, visits] : state.meters)
    meters.push_back(
        {{"meter", id}, {"now", to_string(visits.back().what.did)}, {"visits", list(visits)}});
  Json affected = Json::array(), unvisited = Json::array();
  if (state.plan)
    for (const std::string& id : state.plan->what.meters) {
      affected.push_back(id);
      if (!state.meters.contains(id)) unvisited.push_back(id);
    }
  return {{"affected", affected}, {"not_visited", unvisited}, {"meters", meters}};
}

void put_rest(Json& json, const State& state) {
  Json prompts = Json::array();
  for (const PromptState& prompt : state.prompts)
    prompts.push_back({{"says", prompt.says}, {"answer", maybe(prompt.answer)}});
  json["prompts"] = prompts;
  Json instruments = Json::array();
  for (const auto& [id, one] : state.instruments) instruments.push_back(said_json(one));
  json["instruments"] = instruments;
  json["kit"] = list(state.kit);
  json["readings"] = list(state.readings);
  json["acts"] = list(state.acts);
  json["handovers"] = list(state.handovers);
  json["tests"] = list(state.tests);
  json["purges"] = list(state.purges);
  json["laid"] = list(state.laid);
  json["results"] = list(state.results);
  json["photos"] = list(state.photos);
  json["notes"] = list(state.notes);
  Json corrections = Json::array(), passings = Json::array();
  for (const Correction& correction : state.corrections) {
    Json one = said_json(correction.said);
    one["kind"] = correction.kind.empty() ? Json(nullptr) : Json(correction.kind);
    corrections.push_back(one);
  }
  for (const Passing& passing : state.passings) {
    Json one = said_json(passing.said);
    one["passed"] = to_json(passing.reasons);
    passings.push_back(one);
  }
  json["corrections"] = corrections;
  json["gates_passed"] = passings;
}

Json plan_json(const State& state) {
  if (!state.plan) return nullptr;
  Json json = said_json(*state.plan);
  json["accepted"] = maybe(state.accepted);
  json["pipe_found_since"] = maybe(state.found_since);
  return json;
}

}  // namespace

Result<Log> read_log(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(lines, read_lines(bytes, name));
  if (lines.empty())
    return trouble(Code::missing_value, std::string(name), "no event",
                   "give a log: one event a line");
  for (const Line& line : lines) {
    if (!line.event) return std::unexpected(line.event.error());
    if (line.event->job != lines.front().event->job)
      return trouble(Code::contradiction, fmt::format("{}, line {}", name, line.number),
                     line.event->job, "give the log of one job");
  }
  // By their bytes, so that of two edited lines under one hash the same one is kept in any order.
  std::ranges::sort(lines, {}, &Line::bytes);
  std::vector<Event> events;
  for (Line& line : lines) events.push_back(std::move(*line.event));
  return Log::of(std::move(events));
}

Json state_json(const Log& log, const State& state) {
  Json json;
  json["job"] = state.job;
  json["events"] = state.events;
  json["opened"] = maybe(state.opened);
  json["closed"] = maybe(state.closed);
  json["plan"] = plan_json(state);
  json["cut"] = state.cut();
  json["steps"] = steps_json(state);
  json["shutoffs"] = shutoffs_json(state);
  json["gates"] = gates_json(state);
  json["people"] = people_json(state);
  json["outage"] = outage_json(state);
  json["conflicts"] = conflicts_json(state);
  put_rest(json, state);
  json["heads"] = heads_json(log.heads());
  return json;
}

Json audit_json(const Audit& audit) {
  Json deviations = Json::array(), squeezes = Json::array();
  for (const Deviation& deviation : audit.deviations) {
    Json json = to_json(deviation.finding);
    json["at"] = deviation.at && !deviation.event.empty() ? Json(print_moment(*deviation.at))
                                                          : Json(nullptr);
    json["by"] = deviation.by.empty() ? Json(nullptr) : Json(deviation.by);
    json["device"] = deviation.device.empty() ? Json(nullptr) : Json(deviation.device);
    json["event"] = deviation.event.empty() ? Json(nullptr) : Json(deviation.event);
    deviations.push_back(json);
  }
  for (const JudgedSqueeze& squeeze : audit.squeezes)
    squeezes.push_back(
        {{"id", squeeze.letter},
         {"began", squeeze.began ? Json(print_moment(*squeeze.began)) : Json(nullptr)},
         {"recording", recording_json(*squeeze.judged)}});
  return {{"deviations", deviations}, {"squeezes", squeezes}};
}

Json handover_json(const Handover& handover) {
  Json lines = Json::array();
  for (const HandoverLine& line : handover.lines)
    lines.push_back({{"head", line.head}, {"says", line.says}});
  Json json = {{"lines", lines}, {"words", handover.words}};
  put(json, "read_aloud", handover.read_aloud);
  return json;
}

std::vector<LogLine> log_lines(const std::vector<Line>& lines) {
  std::vector<LogLine> out;
  for (const Line& line : lines) {
    LogLine one{.number = line.number};
    if (line.event)
      one.event = *line.event;
    else
      one.why_not = line.event.error().value + ": " + line.event.error().fix;
    out.push_back(std::move(one));
  }
  return out;
}

namespace {
constexpr std::array broken_words{"edited",  "unread", "removed", "moved",
                                  "doubled", "forked", "strange"};
}

Json faults_json(const std::vector<ChainFault>& faults) {
  Json out = Json::array();
  for (const ChainFault& fault : faults)
    out.push_back({{"how", broken_words[static_cast<std::size_t>(fault.how)]},
                   {"line", fault.line == 0 ? Json(nullptr) : Json(fault.line)},
                   {"says", fault.says},
                   {"event", fault.event.empty() ? Json(nullptr) : Json(fault.event)}});
  return out;
}

Findings faults_found(const std::vector<ChainFault>& faults, std::string_view name) {
  Findings out;
  for (const ChainFault& fault : faults)
    out.push_back(
        {.rule = "job.record_broken",
         .grade = Grade::halt,
         .says = fault.line == 0 ? fault.says : fmt::format("line {}: {}", fault.line, fault.says),
         .source = "the chain of the log itself",
         .evidence = Evidence::derived,
         .action = "the record does not stand: compare it with the store and the devices",
         .about = std::string(name)});
  return out;
}

Result<std::vector<Head>> read_heads(const std::vector<std::string>& texts,
                                     std::string_view where) {
  std::vector<Head> heads;
  for (const std::string& text : texts) {
    const auto last = text.rfind(' ');
    const auto middle =
        last == std::string::npos || last == 0 ? std::string::npos : text.rfind(' ', last - 1);
    const std::string hash = last == std::string::npos ? "" : text.substr(last + 1);
    if (middle == std::string::npos || hash.size() != 64)
      return trouble(Code::unreadable_value, std::string(where), text,
                     "write device, number of its last event, and the hash: phone-1 42 9f86d0…");
    BELLHOLE_TRY(number, units::parse_number(text.substr(middle + 1, last - middle - 1), where));
    if (!(number >= 1.0) || number > 1e15)
      return trouble(Code::out_of_range, std::string(where), text, "events are numbered from 1");
    heads.push_back({text.substr(0, middle), static_cast<std::int64_t>(number), hash});
  }
  return heads;
}

Json heads_json(const std::vector<Head>& heads) {
  Json out = Json::array();
  for (const Head& head : heads)
    out.push_back(fmt::format("{} {} {}", head.device, head.sequence, head.hash));
  return out;
}

}  // namespace bellhole::wire
