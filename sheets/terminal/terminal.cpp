#include "sheets/terminal/terminal.hpp"

#include <fmt/format.h>

#include <array>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::size_t width = 100;

/// Breaks text at blanks, each line after `indent` blanks; the first line starts with `lead`.
std::string wrapped(std::string_view lead, std::string_view text, std::size_t indent) {
  std::string out(lead);
  std::size_t column = lead.size();
  bool first = true;
  while (!text.empty()) {
    const auto blank = text.find(' ');
    const std::string_view part = text.substr(0, blank);
    text = blank == std::string_view::npos ? std::string_view() : text.substr(blank + 1);
    if (!first && column + 1 + part.size() > width) {
      out += '\n' + std::string(indent, ' ');
      column = indent;
    } else if (!first) {
      out += ' ';
      ++column;
    }
    out += part;
    column += part.size();
    first = false;
  }
  return out + '\n';
}

std::string verdict_text(const Json& reply) {
  const std::string verdict = word(reply, "verdict");
  if (verdict == "halt") return "HALT: do not do this as it stands.\n";
  if (verdict == "undecided") return "UNDECIDED: somebody must decide before this is done.\n";
  if (verdict == "warn") return "WARNING: read what was found before this is done.\n";
  if (verdict == "info") return "Nothing found against it, with remarks. The procedure and its people decide.\n";
  return "Nothing found against it. The procedure and its people decide.\n";
}

std::string finding_text(const Json& finding) {
  const std::string grade = word(finding, "grade");
  std::string out = wrapped(fmt::format("  {:<10}", grade), word(finding, "says"), 12);
  if (const auto action = word(finding, "action"); !action.empty()) out += wrapped("            do: ", action, 16);
  const std::string source = word(finding, "source");
  std::string from = word(finding, "rule");
  if (!source.empty()) from += " · " + source;
  if (const auto evidence = word(finding, "evidence"); !evidence.empty()) from += " · " + evidence;
  return out + wrapped("            (", from + ")", 13);
}

struct Body {
  std::string_view question;
  std::string (*text)(const Json& reply, units::System system);
};

// One line a question that has a body.
constexpr std::array bodies{
    Body{"squeeze", squeeze_body},
    Body{"pace", pace_body},
    Body{"plan", plan_body},
};

}  // namespace

std::string word(const Json& object, std::string_view key, std::string_view otherwise) {
  const auto found = object.find(std::string(key));
  if (found == object.end() || !found->is_string() || found->get_ref<const std::string&>().empty()) {
    return std::string(otherwise);
  }
  return found->get<std::string>();
}

std::string terminal_text(const Json& reply, units::System system) {
  std::string out = verdict_text(reply);
  if (const auto findings = reply.find("findings"); findings != reply.end()) {
    for (const Json& finding : *findings) out += finding_text(finding);
  }
  out += '\n';
  for (const Body& body : bodies) {
    if (body.question == word(reply, "question")) out += body.text(reply, system);
  }
  if (const auto assumed = reply.find("assumed"); assumed != reply.end() && !assumed->empty()) {
    out += "\nAssumed\n";
    for (const Json& line : *assumed) out += wrapped("  - ", line.get<std::string>(), 4);
  }
  out += '\n' + wrapped("", word(reply, "engine") + ". This does not replace the procedure, the qualified person or the gauge.", 0);
  return out;
}

std::string refusal_text(const Json& trouble) {
  const auto number = trouble.find("number");
  std::string out = fmt::format("Cannot be used: {} ({})\n", word(trouble, "code"),
                                number != trouble.end() ? number->dump() : "-");
  out += wrapped("  where  ", word(trouble, "where", "-"), 9);
  if (const auto value = word(trouble, "value"); !value.empty()) out += wrapped("  value  ", value, 9);
  return out + wrapped("  do     ", word(trouble, "fix", "-"), 9);
}

}  // namespace bellhole::sheets
