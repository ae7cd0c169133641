// The facts of events, one reader a kind. Their keys stand in schema/event.schema.json.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <limits>
#include <nlohmann/json.hpp>

#include "wire/event.hpp"
#include "wire/fact_reader.hpp"
#include "wire/squeeze.hpp"
#include "wire/steps.hpp"

namespace bellhole::wire {
namespace {

using namespace job;
using Read = Result<Fact>;

Read opened(FactReader& read) {
  Opened fact;
  fact.title = read.need("title");
  fact.place = read.text("place");
  fact.work_order = read.text("work_order");
  fact.work = read.need_word<Work>("work", {"planned", "emergency", "drill"});
  fact.lon = read.number("lon");
  fact.lat = read.number("lat");
  return read.done(std::move(fact));
}

/// A pipe with the keys of the question "pace", beside a squeeze.
std::optional<squeeze::Question> pipe_at(FactReader& read, std::string_view key) {
  const auto object = read.kept(read.object().object(key));
  if (!object) return {};
  auto asked = read_squeeze(*object);
  if (asked) {
    if (const auto done = object->done(); !done) asked = std::unexpected(done.error());
  }
  return read.kept(std::move(asked));
}

PlannedShutoff shutoff_of(const Object& object, FactReader& outer) {
  FactReader read(object);
  PlannedShutoff shutoff;
  shutoff.letter = read.need("id");
  shutoff.kind = read.need("kind");
  shutoff.element = read.text("element");
  shutoff.place = read.text("place");
  shutoff.mapped = pipe_at(read, "pipe");
  shutoff.lon = read.number("lon");
  shutoff.lat = read.number("lat");
  shutoff.station = read.quantity<kinds::Length>("station").value_or(
      Length::from_si(std::numeric_limits<double>::quiet_NaN()));
  outer.kept(read.done(Note{}));
  return shutoff;
}

Read planned(FactReader& read) {
  Planned fact;
  fact.plan_id = read.need("plan_id");
  fact.engine = read.text("engine");
  fact.network = read.text("network");
  fact.procedure = read.text("procedure");
  fact.result = read.hash("result", true);
  fact.rank = read.kept(read.object().whole("rank")).value_or(1);
  for (const Object& step : read.kept(read.object().objects("steps")))
    fact.steps.push_back(read.kept(read_one_step(step)));
  for (const Object& shutoff : read.kept(read.object().objects("shutoffs")))
    fact.shutoffs.push_back(shutoff_of(shutoff, read));
  fact.prompts = read.texts("prompts");
  fact.meters = read.texts("meters");
  return read.done(std::move(fact));
}

Read plan_accepted(FactReader& read) {
  PlanAccepted fact;
  fact.plan_id = read.need("plan_id");
  fact.engine = read.text("engine");
  fact.because = read.text("because");
  fact.result = read.hash("result", true);
  return read.done(std::move(fact));
}

Read pipe_found(FactReader& read) {
  PipeFound fact;
  fact.about = read.need("about");
  auto found = pipe_at(read, "pipe");
  if (!found) read.need("pipe");
  fact.found = found.value_or(squeeze::Question{});
  fact.says = read.text("says");
  fact.print_line = read.text("print_line");
  fact.map_said = read.text("map_said");
  fact.photos = read.hashes("photos");
  return read.done(std::move(fact));
}

Read joined(FactReader& read) {
  Joined fact{read.need("person"), read.need("role")};
  return read.done(std::move(fact));
}
Read left(FactReader& read) {
  Left fact{read.need("person")};
  return read.done(std::move(fact));
}

Read qualified(FactReader& read) {
  Qualified fact{read.need("person"), read.need("task"), {}};
  const auto expires = read.date("expires");
  if (!expires) read.need("expires");
  fact.expires = expires.value_or(procedure::Days{});
  return read.done(std::move(fact));
}

Read instrument(FactReader& read) {
  Instrument fact;
  fact.id = read.need("id");
  fact.scale = read.need_word<Scale>("scale", {"gauge", "absolute", "temperature", "gas", "lel"});
  fact.range = read.text("range");
  fact.read_to = read.text("read_to");
  fact.due = read.date("due");
  return read.done(std::move(fact));
}

Read kit(FactReader& read) {
  Kit fact;
  fact.item = read.need("item");
  fact.id = read.text("id");
  fact.says = read.text("says");
  fact.answer = read.answer();
  fact.due = read.date("due");
  return read.done(std::move(fact));
}

Read prompt(FactReader& read) {
  Prompt fact{read.need("says"), read.answer()};
  return read.done(std::move(fact));
}

Read step(FactReader& read) {
  StepAnswer fact;
  fact.step = read.need("step");
  fact.second = read.text("second");
  fact.says = read.text("says");
  fact.answer = read.answer();
  return read.done(std::move(fact));
}

/// One value under the key of its scale: pressure, pressure_absolute, temperature, gas, lel.
void measured(FactReader& read, Reading& fact) {
  std::vector<std::pair<Scale, double>> given;
  const auto take = [&](Scale scale, const auto& value) {
    if (value) given.emplace_back(scale, value->si());
  };
  take(Scale::gauge, read.quantity<kinds::GaugePressure>("pressure"));
  take(Scale::absolute, read.quantity<kinds::AbsolutePressure>("pressure_absolute"));
  take(Scale::temperature, read.quantity<kinds::Temperature>("temperature"));
  take(Scale::gas, read.quantity<kinds::Fraction>("gas"));
  take(Scale::lel, read.quantity<kinds::Fraction>("lel"));
  if (given.size() != 1) {
    read.wrong(Code::missing_value, "pressure", fmt::format("{} values", given.size()),
               "a reading has one value: pressure, pressure_absolute, temperature, gas or lel");
    return;
  }
  fact.scale = given.front().first;
  fact.si = given.front().second;
}

Read reading(FactReader& read) {
  Reading fact;
  fact.point = read.need("point");
  fact.step = read.text("step");
  fact.instrument = read.text("instrument");
  fact.typed = read.text("typed");
  measured(read, fact);
  return read.done(std::move(fact));
}

Read bars(FactReader& read) {
  Bars fact;
  fact.about = read.need("about");
  fact.gap = read.kept(read.object().need<kinds::Length>("gap", "give the gap between the bars"));
  if (fact.gap.si() < 0.0)
    read.wrong(Code::out_of_range, "gap", fmt::format("{:g} m", fact.gap.si()),
               "a gap is nought or more");
  fact.pump = read.quantity<kinds::GaugePressure>("pump");
  return read.done(std::move(fact));
}

Read act(FactReader& read) {
  Act fact;
  fact.did = read.need_word<Did>("did", {"shut", "undone", "cut", "opened", "put_back"});
  fact.about = read.text("about");
  fact.second = read.text("second");
  fact.says = read.text("says");
  return read.done(std::move(fact));
}

Read gate_passed(FactReader& read) {
  GatePassed fact;
  fact.gate = read.need_word<Gate>("gate", {"cut", "open_after_cut", "put_back"});
  fact.reason = read.need("reason");
  fact.second = read.need("second");
  return read.done(std::move(fact));
}

Read signed_off(FactReader& read) {
  Signed fact{read.need("what")};
  return read.done(std::move(fact));
}

Read handed_over(FactReader& read) {
  HandedOver fact{read.need("from"), read.need("to"), read.text("says")};
  return read.done(std::move(fact));
}

Read tested(FactReader& read) {
  Tested fact;
  fact.section = read.need("section");
  fact.medium = read.text("medium");
  fact.instrument = read.text("instrument");
  fact.company = read.text("company");
  fact.employee = read.text("employee");
  fact.elevation = read.text("elevation");
  fact.leaks = read.text("leaks");
  fact.began = read.moment("began");
  fact.ended = read.moment("ended");
  fact.at_start = read.quantity<kinds::GaugePressure>("at_start");
  fact.at_end = read.quantity<kinds::GaugePressure>("at_end");
  fact.held = read.answer("held");
  return read.done(std::move(fact));
}

Read purged(FactReader& read) {
  Purged fact;
  fact.section = read.need("section");
  fact.direction = read.text("direction");
  fact.medium = read.text("medium");
  fact.vent = read.text("vent");
  fact.detector = read.text("detector");
  fact.at_vent = read.text("at_vent");
  fact.volume = read.quantity<kinds::Volume>("volume");
  fact.reading_1 = read.quantity<kinds::Fraction>("reading_1");
  fact.reading_2 = read.quantity<kinds::Fraction>("reading_2");
  fact.began = read.moment("began");
  fact.ended = read.moment("ended");
  return read.done(std::move(fact));
}

Read meter(FactReader& read) {
  Meter fact;
  fact.meter = read.need("meter");
  fact.says = read.text("says");
  fact.did = read.need_word<Meter::Did>("did", {"off", "on", "not_home"});
  return read.done(std::move(fact));
}

Read laid(FactReader& read) {
  Laid fact;
  fact.about = read.text("about");
  fact.what = read.need("what");
  fact.says = read.text("says");
  for (const Object& one : read.kept(read.object().objects("offsets"))) {
    FactReader offset(one);
    const std::string from = offset.need("from");
    const Length distance =
        offset.kept(one.need<kinds::Length>("distance", "give the tape's reading"));
    read.kept(offset.done(Note{}));
    fact.offsets.push_back({from, distance});
  }
  fact.depth = read.quantity<kinds::Length>("depth");
  fact.element = read.text("element");
  fact.station = read.quantity<kinds::Length>("station");
  fact.lon = read.number("lon");
  fact.lat = read.number("lat");
  fact.marked =
      read.word<Answer>("marked", {"yes", "no", "not_needed", "unknown"}, Answer::unknown);
  return read.done(std::move(fact));
}

Read result(FactReader& read) {
  ResultRecorded fact;
  fact.question = read.need("question");
  fact.engine = read.need("engine");
  fact.verdict = read.text("verdict");
  fact.request = read.hash("request", false);
  fact.result = read.hash("result", true);
  return read.done(std::move(fact));
}

Read photo(FactReader& read) {
  Photo fact;
  fact.blob = read.hash("blob", true);
  fact.view = read.need("view");
  fact.about = read.text("about");
  return read.done(std::move(fact));
}

Read note(FactReader& read) {
  Note fact{read.need("says")};
  return read.done(std::move(fact));
}
Read closed(FactReader& read) {
  Closed fact{read.text("says")};
  return read.done(std::move(fact));
}

Read corrected(FactReader& read) {
  Corrected fact;
  fact.event = read.hash("event", true);
  fact.because = read.need("because");
  const std::string kind = read.text("kind");
  const auto inner = read.kept(read.object().object("fact"));
  if (kind.empty() != !inner || kind == "corrected")
    read.wrong(Code::contradiction, "kind", kind,
               "give kind and fact of what stands instead, or neither; a correction is corrected "
               "by another of the same event");
  if (inner && kind != "corrected")
    fact.instead = std::make_shared<const Fact>(read.kept(read_fact(kind, *inner)));
  return read.done(std::move(fact));
}

struct Entry {
  std::string_view kind;
  Read (*read)(FactReader&);
};
constexpr std::array readers{Entry{"opened", opened},
                             Entry{"planned", planned},
                             Entry{"plan_accepted", plan_accepted},
                             Entry{"pipe_found", pipe_found},
                             Entry{"joined", joined},
                             Entry{"left", left},
                             Entry{"qualified", qualified},
                             Entry{"instrument", instrument},
                             Entry{"kit", kit},
                             Entry{"prompt", prompt},
                             Entry{"step", step},
                             Entry{"reading", reading},
                             Entry{"bars", bars},
                             Entry{"act", act},
                             Entry{"gate_passed", gate_passed},
                             Entry{"signed", signed_off},
                             Entry{"handed_over", handed_over},
                             Entry{"tested", tested},
                             Entry{"purged", purged},
                             Entry{"meter", meter},
                             Entry{"laid", laid},
                             Entry{"result", result},
                             Entry{"photo", photo},
                             Entry{"note", note},
                             Entry{"closed", closed},
                             Entry{"corrected", corrected}};

}  // namespace

bool is_kind(std::string_view kind) {
  return std::ranges::find(readers, kind, &Entry::kind) != readers.end();
}

Result<Fact> read_fact(const std::string& kind, const Object& object) {
  const auto found = std::ranges::find(readers, std::string_view(kind), &Entry::kind);
  if (found == readers.end())
    return trouble(Code::unreadable_value, object.where(), kind,
                   "this is no kind of event; docs/handbook/records.md lists them");
  FactReader reader(object);
  return found->read(reader);
}

}  // namespace bellhole::wire
