// "pressure-test": between which pressures, for how long, and what the readings mean.
#include "wire/pressure_test.hpp"

#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "wire/closed.hpp"

namespace bellhole::ask {

Answer pressure_test(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(system, wire::read_system(request, {"size", "mop", "volume", "start"}));
  BELLHOLE_TRY(asked, wire::read_pressure_test(request, system));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(answer, restore::pressure_test(asked, profile, system));
  question.assumed.insert(question.assumed.end(), answer.assumed.begin(), answer.assumed.end());
  wire::Json reply = wire::pressure_test_json(answer, asked, profile, system);
  wire::put_answer(reply, answer.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
