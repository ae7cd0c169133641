// "watch": how long a gauge on a closed length must be watched, and what its readings mean.
#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "wire/closed.hpp"
#include "wire/watch.hpp"

namespace bellhole::ask {

Answer watch(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(system, wire::read_system(request, {"pressure", "gauge_step", "volume", "draw"}));
  BELLHOLE_TRY(asked, wire::read_watch(request, system));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(watched, linepack::watch(asked, profile, system));
  question.assumed.insert(question.assumed.end(), watched.assumed.begin(), watched.assumed.end());
  wire::Json reply = wire::watch_json(watched, asked, profile, system);
  wire::put_answer(reply, watched.findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
