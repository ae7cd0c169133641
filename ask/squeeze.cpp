// "squeeze": one squeeze sheet from what is known of one pipe; no map needed. "pace" is the same
// pipe and tool seen from the clock.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "ask/squeeze_by.hpp"
#include "squeeze/forces.hpp"
#include "squeeze/refit.hpp"
#include "wire/recording.hpp"
#include "wire/squeeze.hpp"

namespace bellhole::ask {
namespace {

struct Asked {
  squeeze::Question question;
  procedure::Profile profile;
  units::System units;
  squeeze::Sheet sheet;
  std::optional<squeeze::Recording> recording;
};

Result<Asked> assess(const Question& question, bool places, Compute compute) {
  BELLHOLE_TRY(asked, wire::read_squeeze(question.request));
  BELLHOLE_TRY(units, wire::read_units(question.request, asked));
  const bool iso = asked.pipe.size.system == pipe::System::iso;
  BELLHOLE_TRY(profile, profile_of(question, iso ? "metric" : "us"));
  BELLHOLE_TRY(tool, tool_of(question));
  BELLHOLE_TRY(stops, stops_of(question));
  std::optional<squeeze::Recording> recording;
  if (!places) {
    BELLHOLE_TRY(read, wire::read_recording(question.request, units));
    recording = read;
  }
  bool full = false;
  squeeze::Forces forces;
  if (places) {
    BELLHOLE_TRY(read, question.request.flag("full"));
    full = read.value_or(false);
    if (full && compute == nullptr)
      return trouble(Code::out_of_range, question.request.at("full"), "true",
                     "this engine has no solver: ask the engine of every question");
    BELLHOLE_TRY(scale, question.request.number("yield_scale"));
    if (scale && !(*scale > squeeze::least_scale && *scale < squeeze::most_scale))
      return trouble(Code::out_of_range, question.request.at("yield_scale"),
                     fmt::format("{:g}", *scale),
                     fmt::format("a share between {:g} and {:g}, as refit gives it",
                                 squeeze::least_scale, squeeze::most_scale));
    forces.yield_scale = scale;
  }
  const Result<bool> done = question.request.done();
  if (!done) return std::unexpected(done.error());
  asked.places = places;
  asked.tool = tool;
  if (stops) {
    if (!asked.stops) asked.stops.emplace();
    asked.stops->insert(asked.stops->end(), stops->begin(), stops->end());
  }
  BELLHOLE_TRY(sheet, squeeze::assess(asked, profile, units, forces));
  if (full && forces.closing) {
    BELLHOLE_TRY(samples, compute(*forces.closing, question.context.watch, question.context.lanes));
    forces.computed = std::move(samples);
    BELLHOLE_TRY(again, squeeze::assess(asked, profile, units, forces));
    sheet = std::move(again);
  }
  question.assumed.insert(question.assumed.end(), sheet.assumed.begin(), sheet.assumed.end());
  return Asked{std::move(asked), std::move(profile), units, std::move(sheet), std::move(recording)};
}

}  // namespace

Answer squeeze_by(const Question& question, Compute compute) {
  BELLHOLE_TRY(asked, assess(question, true, compute));
  wire::Json reply = wire::sheet_json(asked.sheet, asked.question, asked.profile, asked.units);
  const bool iso = asked.question.pipe.size.system == pipe::System::iso;
  BELLHOLE_TRY(prompts, prompts_of(question, iso ? "metric" : "us"));
  reply["prompts"] = wire::prompts_json(prompts);
  wire::put_answer(reply, asked.sheet.findings, question.assumed);
  return reply;
}

Answer squeeze(const Question& question) { return squeeze_by(question, nullptr); }

Answer pace(const Question& question) {
  BELLHOLE_TRY(asked, assess(question, false, nullptr));
  wire::Json reply = wire::pace_json(asked.sheet, asked.profile, asked.units);
  reply["recording"] = nullptr;
  if (asked.recording) {
    BELLHOLE_TRY(judged, squeeze::judge(*asked.recording, asked.sheet, asked.units));
    reply["recording"] = wire::recording_json(judged);
    append(asked.sheet.findings, std::move(judged.findings));
  }
  wire::put_answer(reply, asked.sheet.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
