#include "wire/job_facts.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

using namespace job;

Json text(const std::string& value) { return value.empty() ? Json(nullptr) : Json(value); }
Json number(const std::optional<double>& value) {
  return value ? number_or_null(*value) : Json(nullptr);
}
Json moment(const std::optional<Moment>& value) {
  return value ? Json(print_moment(*value)) : Json(nullptr);
}
Json date(const std::optional<procedure::Days>& value) {
  return value ? Json(procedure::print_date(value->last)) : Json(nullptr);
}

}  // namespace

Json stamp_json(const Stamp& stamp) {
  return {{"happened_at", print_moment(stamp.happened_at)},
          {"entered_at", print_moment(stamp.entered_at)},
          {"by", text(stamp.by)},
          {"device", stamp.device},
          {"source", to_string(stamp.source)},
          {"event", stamp.event}};
}

Json fact_json(const Opened& fact) {
  return {{"title", fact.title},
          {"place", text(fact.place)},
          {"work_order", text(fact.work_order)},
          {"work", to_string(fact.work)},
          {"lon", number(fact.lon)},
          {"lat", number(fact.lat)}};
}
Json fact_json(const Closed& fact) { return {{"says", text(fact.says)}}; }
Json fact_json(const Planned& fact) {
  return {{"plan_id", fact.plan_id},
          {"result", fact.result},
          {"rank", fact.rank},
          {"engine", fact.engine},
          {"network", text(fact.network)},
          {"procedure", text(fact.procedure)}};
}
Json fact_json(const PlanAccepted& fact) {
  return {{"plan_id", fact.plan_id},
          {"result", fact.result},
          {"engine", fact.engine},
          {"because", text(fact.because)}};
}
Json fact_json(const PipeFound& fact) {
  return {{"about", fact.about},
          {"pipe", pipe_words(fact.found)},
          {"says", text(fact.says)},
          {"print_line", text(fact.print_line)},
          {"map_said", text(fact.map_said)},
          {"photos", fact.photos}};
}
Json fact_json(const Joined& fact) { return {{"person", fact.person}, {"role", fact.role}}; }
Json fact_json(const Left& fact) { return {{"person", fact.person}}; }
Json fact_json(const Qualified& fact) {
  return {{"person", fact.person}, {"task", fact.task}, {"expires", date(fact.expires)}};
}
Json fact_json(const Instrument& fact) {
  return {{"id", fact.id},
          {"scale", to_string(fact.scale)},
          {"range", text(fact.range)},
          {"read_to", text(fact.read_to)},
          {"due", date(fact.due)}};
}
Json fact_json(const Kit& fact) {
  return {{"item", fact.item},
          {"id", text(fact.id)},
          {"says", text(fact.says)},
          {"answer", to_string(fact.answer)},
          {"due", date(fact.due)}};
}
Json fact_json(const Prompt& fact) {
  return {{"says", fact.says}, {"answer", to_string(fact.answer)}};
}
Json fact_json(const StepAnswer& fact) {
  return {{"step", fact.step},
          {"answer", to_string(fact.answer)},
          {"second", text(fact.second)},
          {"says", text(fact.says)}};
}
Json fact_json(const Reading& fact) {
  Json json = {{"point", fact.point},
               {"step", text(fact.step)},
               {"instrument", text(fact.instrument)},
               {"typed", text(fact.typed)},
               {"scale", to_string(fact.scale)}};
  switch (fact.scale) {
    case Scale::gauge:
      put(json, "pressure", GaugePressure::from_si(fact.si));
      break;
    case Scale::absolute:
      put(json, "pressure", AbsolutePressure::from_si(fact.si));
      break;
    case Scale::temperature:
      put(json, "temperature", Temperature::from_si(fact.si));
      break;
    case Scale::gas:
      put(json, "gas", fact.si);
      break;
    case Scale::lel:
      put(json, "lel", fact.si);
      break;
  }
  return json;
}
Json fact_json(const Bars& fact) {
  Json json = {{"about", fact.about}};
  put(json, "gap", fact.gap);
  put(json, "pump", fact.pump);
  return json;
}
Json fact_json(const Act& fact) {
  return {{"did", to_string(fact.did)},
          {"about", text(fact.about)},
          {"second", text(fact.second)},
          {"says", text(fact.says)}};
}
Json fact_json(const GatePassed& fact) {
  return {{"gate", to_string(fact.gate)}, {"reason", fact.reason}, {"second", fact.second}};
}
Json fact_json(const Signed& fact) { return {{"what", fact.what}}; }
Json fact_json(const HandedOver& fact) {
  return {{"from", fact.from}, {"to", fact.to}, {"says", text(fact.says)}};
}
Json fact_json(const Tested& fact) {
  Json json = {{"section", fact.section},
               {"medium", text(fact.medium)},
               {"instrument", text(fact.instrument)},
               {"company", text(fact.company)},
               {"employee", text(fact.employee)},
               {"elevation", text(fact.elevation)},
               {"leaks", text(fact.leaks)},
               {"began", moment(fact.began)},
               {"ended", moment(fact.ended)},
               {"held", to_string(fact.held)}};
  put(json, "at_start", fact.at_start);
  put(json, "at_end", fact.at_end);
  return json;
}
Json fact_json(const Purged& fact) {
  Json json = {{"section", fact.section},         {"direction", text(fact.direction)},
               {"medium", text(fact.medium)},     {"vent", text(fact.vent)},
               {"detector", text(fact.detector)}, {"at_vent", text(fact.at_vent)},
               {"began", moment(fact.began)},     {"ended", moment(fact.ended)}};
  put(json, "volume", fact.volume);
  put(json, "reading_1", fact.reading_1);
  put(json, "reading_2", fact.reading_2);
  return json;
}
Json fact_json(const Meter& fact) {
  return {{"meter", fact.meter}, {"did", to_string(fact.did)}, {"says", text(fact.says)}};
}
Json fact_json(const Laid& fact) {
  Json json = {{"about", text(fact.about)},       {"what", fact.what},
               {"says", text(fact.says)},         {"element", text(fact.element)},
               {"lon", number(fact.lon)},         {"lat", number(fact.lat)},
               {"marked", to_string(fact.marked)}};
  put(json, "depth", fact.depth);
  put(json, "station", fact.station);
  json["offsets"] = Json::array();
  for (const auto& offset : fact.offsets) {
    Json one = {{"from", offset.from}};
    put(one, "distance", offset.distance);
    json["offsets"].push_back(one);
  }
  return json;
}
Json fact_json(const ResultRecorded& fact) {
  return {{"question", fact.question},
          {"engine", fact.engine},
          {"verdict", text(fact.verdict)},
          {"request", text(fact.request)},
          {"result", fact.result}};
}
Json fact_json(const Photo& fact) {
  return {{"blob", fact.blob}, {"view", fact.view}, {"about", text(fact.about)}};
}
Json fact_json(const Note& fact) { return {{"says", fact.says}}; }
Json fact_json(const Corrected& fact) {
  return {{"corrects", fact.event},
          {"because", fact.because},
          {"instead", fact.instead ? Json(kind_of(fact.instead->is)) : Json(nullptr)}};
}

}  // namespace bellhole::wire
