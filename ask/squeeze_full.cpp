// "squeeze" in the engine of every question: forces by the closed form, or computed when asked.
#include <nlohmann/json.hpp>

#include "ask/squeeze_by.hpp"

namespace bellhole::ask {
namespace {

Result<std::vector<flatten::Sample>> computed(const flatten::PipeRun& closing, Watch& watch,
                                              Lanes& lanes) {
  BELLHOLE_TRY(run, flatten::run(closing, watch, lanes));
  return std::move(run.pressed.samples);
}

}  // namespace

Answer squeeze_full(const Question& question) { return squeeze_by(question, computed); }

}  // namespace bellhole::ask
