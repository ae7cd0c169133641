// "join": what the gauge of a fusion machine must read, how hot, how long.
#include "wire/join.hpp"

#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "wire/closed.hpp"

namespace bellhole::ask {

Answer join(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(system, wire::read_system(request, {"piston", "drag", "ambient", "heater"}));
  BELLHOLE_TRY(asked, wire::read_join(request));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(answer, restore::join(asked, profile, system));
  question.assumed.insert(question.assumed.end(), answer.assumed.begin(), answer.assumed.end());
  wire::Json reply = wire::join_json(answer, asked, profile, system);
  wire::put_answer(reply, answer.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
