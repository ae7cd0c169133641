// "gauge": which pipes would have read like this. "refit": what the company's own pump log makes of
// the yield on record.
#include "wire/gauge.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ask/questions.hpp"
#include "wire/closed.hpp"

namespace bellhole::ask {

Answer gauge(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(system, wire::read_system(request, {"bar_radius", "ram_area", "pressure"}));
  BELLHOLE_TRY(asked, wire::read_gauge(request));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(answer, squeeze::read_gauge(asked, system));
  question.assumed.insert(question.assumed.end(), answer.assumed.begin(), answer.assumed.end());
  wire::Json reply = wire::gauge_json(asked, answer);
  reply["units"] = wire::word_of(system);
  wire::put_answer(reply, answer.findings, question.assumed);
  return reply;
}

Answer refit(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(system, wire::read_system(request, {}));
  BELLHOLE_TRY(log, request.need_text("log", "give the table of the company's squeezes"));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(squeezes, wire::read_pump_log(log));
  const squeeze::Refit answer = squeeze::refit(squeezes);
  wire::Json reply = wire::refit_json(answer);
  reply["id"] = "refit-" + wire::sha256(log).substr(0, 12);
  reply["units"] = wire::word_of(system);
  question.assumed.emplace_back(
      "each pressure was read while the bars moved, on a gauge that reads true");
  wire::put_answer(reply, answer.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
