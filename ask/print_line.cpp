// "print-line": what a print line and a component code say for sure, and what they leave open.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "ask/questions.hpp"
#include "pipe/component.hpp"

namespace bellhole::ask {
namespace {

using wire::Json;

Json component_json(const std::optional<pipe::Component>& component) {
  if (!component) return nullptr;
  Json json = {{"code", component->code},
               {"maker", component->maker},
               {"lot", component->lot},
               {"lot_text", component->lot_text},
               {"date_text", component->date_text},
               {"material", component->material},
               {"type", component->type},
               {"size", component->size},
               {"reserved", component->reserved},
               {"made", nullptr}};
  if (component->made)
    json["made"] = {{"year", component->made->year}, {"day_of_year", component->made->day}};
  return json;
}

Finding doubt(std::string says, std::string source) {
  return {.rule = "pipe.print_line",
          .grade = Grade::undecided,
          .says = std::move(says),
          .source = std::move(source),
          .evidence = Evidence::from_memory,
          .action = "read the line again; measure what it does not say",
          .about = "print line"};
}

}  // namespace

Answer print_line(const Question& question) {
  BELLHOLE_TRY(text, question.request.text("text"));
  BELLHOLE_TRY(code, question.request.text("code"));
  if (const auto done = question.request.done(); !done) return std::unexpected(done.error());
  if (!text && !code)
    return trouble(Code::missing_value, "text", "", "give the print line, or a component code");
  BELLHOLE_TRY(line, pipe::read_print_line(text.value_or(""), "text"));
  if (code) {
    BELLHOLE_TRY(component, pipe::read_component(*code, "code"));
    if (line.component && line.component->code != component.code)
      return trouble(Code::contradiction, "code", *code,
                     "the line has another code: give one of them");
    line.component = component;
  }
  Findings findings;
  for (const std::string& one : line.doubts) findings.push_back(doubt(one, "the print line"));
  if (line.component) {
    if (!line.component->doubt.empty())
      findings.push_back(
          doubt(line.component->doubt, "ASTM F2897, place of the fields from memory"));
    question.assumed.push_back(
        "component code: places of the fields and the order of letters as known from one published "
        "example; maker, material, type and size are shown as they stand");
  }
  Json reply;
  reply["question"] = "print-line";
  reply["size"] = line.size ? Json(line.size->name) : Json(nullptr);
  reply["ratio"] = line.ratio ? Json(*line.ratio) : Json(nullptr);
  reply["material"] = line.material != nullptr ? Json(line.material->name) : Json(nullptr);
  reply["standards"] = line.standards;
  reply["component"] = component_json(line.component);
  reply["not_understood"] = line.rest;
  wire::put_answer(reply, findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
