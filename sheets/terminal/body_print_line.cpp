// The bodies of print-line and of pipes.
#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {

std::string print_line_body(const Json& reply, units::System) {
  const auto line = [](std::string_view name, const std::string& says) {
    return wrapped(fmt::format("  {:<16}", name), says, 18);
  };
  const Json ratio = reply.value("ratio", Json());
  std::string text =
      line("size", word(reply, "size", "not said")) +
      line("DR", ratio.is_number() ? fmt::format("{:g}", ratio.get<double>()) : "not said") +
      line("material", word(reply, "material", "not said"));
  for (const Json& one : reply.value("standards", Json::array()))
    text += line("standard", one.get<std::string>());
  if (const Json code = reply.value("component", Json()); code.is_object()) {
    text += line("component code", word(code, "code")) +
            line("  lot", fmt::format("{} ({})", code.at("lot").dump(), word(code, "lot_text")));
    const Json& made = code.at("made");
    text +=
        line("  made", made.is_object() ? fmt::format("day {} of {}", made.at("day_of_year").dump(),
                                                      made.at("year").dump())
                                        : "not sure (" + word(code, "date_text") + ")");
    text +=
        line("  raw", fmt::format("maker {}, material {}, type {}, size {}, reserved {}",
                                  word(code, "maker"), word(code, "material"), word(code, "type"),
                                  word(code, "size"), word(code, "reserved")));
  }
  std::string rest;
  for (const Json& one : reply.value("not_understood", Json::array()))
    rest += (rest.empty() ? "" : " ") + one.get<std::string>();
  return text + line("not understood", rest.empty() ? "nothing left" : rest);
}

std::string pipes_body(const Json& reply, units::System) {
  std::string text;
  for (const Json& size : reply.value("sizes", Json::array())) {
    std::string ratios;
    for (const Json& ratio : size.value("ratios", Json::array()))
      ratios += fmt::format("{}{:g}", ratios.empty() ? "DR " : ", ", ratio.get<double>());
    text += wrapped(fmt::format("  {:<16}", word(size, "name")),
                    ratios.empty() ? "no ratio on record: measure the wall" : ratios, 18);
  }
  for (const Json& material : reply.value("materials", Json::array()))
    text += wrapped(fmt::format("  {:<16}", word(material, "name")),
                    word(material, "history", "nothing on record against it"), 18);
  return text;
}

}  // namespace bellhole::sheets
