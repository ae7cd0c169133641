// "purge": how fast, how much and how long, and what ends it.
#include "wire/purge.hpp"

#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "wire/closed.hpp"

namespace bellhole::ask {

Answer purge(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(system, wire::read_system(request, {"bore", "length", "speed", "pack_to"}));
  BELLHOLE_TRY(asked, wire::read_purge(request, system));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(answer, restore::purge(asked, profile, system));
  question.assumed.insert(question.assumed.end(), answer.assumed.begin(), answer.assumed.end());
  wire::Json reply = wire::purge_json(answer, asked, profile, system);
  wire::put_answer(reply, answer.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
