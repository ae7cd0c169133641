// "job-radio": the state of one shut-off as a code to read over the radio, and what a code says
// that was heard. What was heard comes as drafts of events: whoever takes them in is the witness.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "ask/job_read.hpp"
#include "job/radio.hpp"
#include "units/print.hpp"

namespace bellhole::ask {
namespace {

using job::Radio;
using units::Toward;
using wire::Json;

std::string says(const Radio& radio, job::Instant at, units::System system) {
  std::string text =
      fmt::format("{} {}, {} UTC", radio.letter,
                  radio.did ? job::to_string(*radio.did) : std::string_view("not shut yet"),
                  job::local_clock({at, 0}).substr(0, 5));
  if (radio.gap) text += ", gap at most " + units::print(*radio.gap, system, Toward::up);
  if (radio.part) text += ", part at most " + units::print(*radio.part, system, Toward::up);
  return text + (radio.cut ? ", the main is cut" : ", the main is not cut");
}

Json heard_drafts(const Radio& radio, const std::string& code, job::Instant at) {
  const std::string letter(1, radio.letter), when = job::print_utc(at);
  const auto draft = [&](const char* kind, Json fact) {
    return Json{
        {"kind", kind}, {"fact", std::move(fact)}, {"source", "imported"}, {"happened_at", when}};
  };
  const std::string heard = "heard over the radio: " + code;
  Json drafts = Json::array();
  if (radio.gap) {
    Json bars = {{"about", letter}};
    wire::put(bars, "gap", *radio.gap);
    drafts.push_back(draft("bars", std::move(bars)));
  }
  if (radio.part) {
    Json reading = {{"point", letter + "-part"}, {"typed", heard}};
    wire::put(reading, "pressure", *radio.part);
    drafts.push_back(draft("reading", std::move(reading)));
  }
  if (radio.did)
    drafts.push_back(
        draft("act", {{"did", job::to_string(*radio.did)}, {"about", letter}, {"says", heard}}));
  return drafts;
}

Finding found(std::string rule, Grade grade, std::string says, std::string action) {
  return {.rule = std::move(rule),
          .grade = grade,
          .says = std::move(says),
          .source = "what was heard",
          .evidence = Evidence::entered,
          .action = std::move(action),
          .about = "the code"};
}

}  // namespace

Answer job_radio(const Question& question) {
  BELLHOLE_TRY(log, read_job(question));
  BELLHOLE_TRY(about, question.request.text("about"));
  BELLHOLE_TRY(code, question.request.text("code"));
  BELLHOLE_TRY(when, question.request.text("heard_at"));
  if (const auto done = question.request.done(); !done) return std::unexpected(done.error());
  if (about.has_value() == code.has_value())
    return trouble(Code::contradiction, "about", about.value_or(""),
                   "give the letter of a shut-off (about), or a code that was heard (code)");
  Radio radio;
  job::Instant at{0};
  Findings findings;
  if (about) {
    BELLHOLE_TRY(made, job::radio_of(log.state, *about));
    // What is shown is what goes over: rounded as the other end will read it.
    BELLHOLE_TRY(sent, job::read_radio(job::radio_code(made), "code"));
    radio = sent;
    for (const job::Event& event : log.log.events()) at = std::max(at, event.entered_at.at);
    at = job::radio_moment(radio, at);
  } else {
    BELLHOLE_TRY(read, job::read_radio(*code, "code"));
    if (!when)
      return trouble(Code::missing_value, "heard_at", "", "say when it was heard (RFC 3339)");
    BELLHOLE_TRY(heard, job::read_moment(*when, "heard_at"));
    radio = read;
    at = job::radio_moment(radio, heard.at);
  }
  const bool other = radio.job_mark != job::radio_mark(log.state.job);
  if (other)
    findings.push_back(found("job.radio_other", Grade::halt, "this code is of another job",
                             "enter nothing of it; ask which job the other hole is on"));
  else if (code)
    findings.push_back(found("job.radio_heard", Grade::info,
                             "heard, not seen: the other hole's own log settles it",
                             "bring the logs together when the devices meet"));
  const std::string clean = job::radio_code(radio);
  Json reply = {{"code", clean},
                {"spelled", job::spelled(clean)},
                {"about", std::string(1, radio.letter)},
                {"did", radio.did ? Json(job::to_string(*radio.did)) : Json(nullptr)},
                {"cut", radio.cut},
                {"at", job::print_utc(at)},
                {"says", says(radio, at, log.system)},
                {"drafts", code && !other ? heard_drafts(radio, clean, at) : Json::array()}};
  wire::put(reply, "gap", radio.gap);
  wire::put(reply, "part", radio.part);
  put_job_head(reply, "job-radio", log);
  wire::put_answer(reply, findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
