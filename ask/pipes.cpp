// "pipes": the sizes, ratios and materials on record, for a door that lets somebody choose.
#include <nlohmann/json.hpp>

#include "ask/questions.hpp"
#include "pipe/materials.hpp"
#include "pipe/sizes.hpp"
#include "pipe/walls.hpp"

namespace bellhole::ask {

using wire::Json;

Answer pipes(const Question& question) {
  if (const auto done = question.request.done(); !done) return std::unexpected(done.error());
  Json sizes = Json::array(), materials = Json::array();
  for (const pipe::Size& size : pipe::sizes()) {
    Json one = {{"name", size.name},
                {"system", pipe::to_string(size.system)},
                {"ratios", pipe::ratios(size)},
                {"source", size.source}};
    wire::put(one, "od", size.od);
    sizes.push_back(std::move(one));
  }
  for (const pipe::Material& material : pipe::materials())
    materials.push_back({{"name", material.name}, {"history", material.history}});
  Json reply = {{"question", "pipes"}, {"sizes", sizes}, {"materials", materials}};
  wire::put_answer(reply, {}, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
