#include "wire/join.hpp"

#include <array>
#include <nlohmann/json.hpp>

#include "wire/closed.hpp"
#include "wire/squeeze.hpp"

namespace bellhole::wire {
namespace {

constexpr std::array kind_words{"butt", "electrofusion", "mechanical"};

Json material_json(const pipe::Material* material) {
  return material == nullptr ? Json(nullptr) : Json(material->name);
}

}  // namespace

Result<restore::JoinQuestion> read_join(const Object& request) {
  restore::JoinQuestion question;
  const Result<bool> pipe = read_pipe(request, question.pipe);
  if (!pipe) return std::unexpected(pipe.error());
  BELLHOLE_TRY(kind, request.text("kind"));
  BELLHOLE_TRY(which, one_of(kind.value_or("butt"), {"butt", "electrofusion", "mechanical"},
                             request.at("kind")));
  if (!kind && request.assumed() != nullptr)
    request.assumed()->emplace_back("a butt fusion, since no kind was given");
  question.kind = static_cast<restore::JoinKind>(which);
  BELLHOLE_TRY(other, request.text("other_material"));
  if (other) {
    BELLHOLE_TRY(known, pipe::read_material(*other, request.at("other_material")));
    question.other = known;
  }
  BELLHOLE_TRY(piston, request.quantity<kinds::Area>("piston"));
  BELLHOLE_TRY(drag, request.quantity<kinds::PressureDifference>("drag"));
  BELLHOLE_TRY(ambient, request.quantity<kinds::Temperature>("ambient"));
  BELLHOLE_TRY(heater, request.quantity<kinds::Temperature>("heater"));
  question.piston = piston;
  question.drag = drag;
  question.ambient = ambient;
  question.heater = heater;
  return question;
}

Json join_json(const restore::Joined& joined, const restore::JoinQuestion& question,
               const procedure::Profile& profile, units::System system) {
  const squeeze::Found& pipe = question.pipe;
  Json json;
  json["question"] = "join";
  json["units"] = word_of(system);
  json["profile"] = {{"id", profile.id()}, {"title", profile.title()}};
  json["kind"] = kind_words[static_cast<std::size_t>(question.kind)];
  json["pipe"] = {{"size", pipe.size.name},
                  {"ratio", pipe.ratio ? Json(*pipe.ratio) : Json(nullptr)},
                  {"material", material_json(pipe.material)},
                  {"other_material", material_json(question.other)}};
  const auto wall = [&](Length bellhole::pipe::Walls::* which) {
    return joined.walls ? std::optional((*joined.walls).*which) : std::optional<Length>();
  };
  put(json, "wall_least", wall(&bellhole::pipe::Walls::minimum));
  put(json, "wall_most", wall(&bellhole::pipe::Walls::maximum));
  put(json, "piston", question.piston);
  put(json, "drag", question.drag);
  put(json, "ambient", question.ambient);
  put(json, "heater", question.heater);
  put(json, "area_least", joined.area_least);
  put(json, "area_most", joined.area_most);
  put(json, "force_least", joined.force_least);
  put(json, "force_most", joined.force_most);
  put(json, "gauge_least", joined.gauge_least);
  put(json, "gauge_most", joined.gauge_most);
  put(json, "heater_least", joined.heater_least);
  put(json, "heater_most", joined.heater_most);
  put(json, "bead", joined.bead);
  put(json, "soak", joined.soak);
  put(json, "removal", joined.removal);
  put(json, "cooling", joined.cooling);
  json["says"] = joined.says;
  json["cautions"] = joined.cautions;
  return json;
}

}  // namespace bellhole::wire
