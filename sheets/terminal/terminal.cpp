#include "sheets/terminal/terminal.hpp"

#include <fmt/format.h>

#include <array>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {

std::string wrapped(std::string_view lead, std::string_view text, std::size_t indent) {
  constexpr std::size_t width = 100;
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

namespace {

std::string verdict_text(const Json& reply) {
  const std::string verdict = word(reply, "verdict");
  if (verdict == "halt") return "HALT: do not do this as it stands.\n";
  if (verdict == "undecided") return "UNDECIDED: somebody must decide before this is done.\n";
  if (verdict == "warn") return "WARNING: read what was found before this is done.\n";
  if (verdict == "info")
    return "Nothing found against it, with remarks. The procedure and its people decide.\n";
  return "Nothing found against it. The procedure and its people decide.\n";
}

/// Findings with what to do; an action that stands for several findings in a row is said after the
/// last.
std::string findings_text(const Json& findings) {
  std::string out;
  for (std::size_t i = 0; i < findings.size(); ++i) {
    out +=
        wrapped(fmt::format("  {:<10}", word(findings[i], "grade")), word(findings[i], "says"), 12);
    const std::string action = word(findings[i], "action");
    const bool again = i + 1 < findings.size() && word(findings[i + 1], "action") == action;
    if (!action.empty() && !again) out += wrapped("            do: ", action, 16);
  }
  return out;
}

std::string sources_text(const Json& findings) {
  std::string out = findings.empty() ? "" : "\nWhat the findings rest on\n";
  for (const Json& finding : findings) {
    out += wrapped("  - ",
                   fmt::format("{}: {} ({})", word(finding, "rule"),
                               word(finding, "source", "no source"), word(finding, "evidence")),
                   4);
  }
  return out;
}

/// A map or a log may say anything; a terminal obeys control characters.
std::string without_controls(std::string text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = [&](std::size_t at) {
      return at < text.size() ? static_cast<unsigned char>(text[at]) : 0U;
    };
    const bool second_set = byte(i) == 0xc2 && byte(i + 1) >= 0x80 && byte(i + 1) < 0xa0;
    if (second_set)
      text.replace(i, 2, " ");
    else if ((byte(i) < 0x20 && text[i] != '\n') || byte(i) == 0x7f)
      text[i] = ' ';
  }
  return text;
}

struct Body {
  std::string_view question;
  std::string (*text)(const Json& reply, units::System system);
};

// One line a question that has a body.
constexpr std::array bodies{
    Body{"squeeze", squeeze_body},
    Body{"pace", pace_body},
    Body{"feeds", feeds_body},
    Body{"flow", flow_body},
    Body{"plan", plan_body},
    Body{"check", check_body},
    Body{"time-left", time_left_body},
    Body{"rehearse", rehearse_body},
    Body{"watch", watch_body},
    Body{"escape", escape_body},
    Body{"vent", vent_body},
    Body{"pressure-test", pressure_test_body},
    Body{"purge", purge_body},
    Body{"join", join_body},
    Body{"repressurise", repressurise_body},
    Body{"bypass", bypass_body},
    Body{"relight", relight_body},
    Body{"timeline", timeline_body},
    Body{"job-state", job_state_body},
    Body{"job-audit", job_audit_body},
    Body{"job-handover", job_handover_body},
    Body{"job-verify", job_verify_body},
    Body{"job-plan", job_plan_body},
    Body{"job-radio", job_radio_body},
    Body{"job-new", job_new_body},
    Body{"job-event", job_taken_body},
    Body{"job-merge", job_taken_body},
    Body{"job-export", job_export_body},
    Body{"job-list", job_list_body},
    Body{"register", register_body},
    Body{"print-line", print_line_body},
    Body{"flatten", flatten_body},
    Body{"gauge", gauge_body},
    Body{"refit", refit_body},
    Body{"pipes", pipes_body},
};

}  // namespace

const Json& at(const Json& object, std::string_view key) {
  static const Json nothing;
  const auto found = object.find(std::string(key));
  return found == object.end() ? nothing : *found;
}

std::string word(const Json& object, std::string_view key, std::string_view otherwise) {
  const auto found = object.find(std::string(key));
  if (found == object.end() || !found->is_string() ||
      found->get_ref<const std::string&>().empty()) {
    return std::string(otherwise);
  }
  return found->get<std::string>();
}

std::string terminal_text(const Json& reply, units::System system) {
  // Halts are the reason not to go on and come first; what is undecided or worth knowing follows
  // the numbers.
  Json halts = Json::array(), others = Json::array(), all = Json::array();
  if (const auto found = reply.find("findings"); found != reply.end()) all = *found;
  for (const Json& finding : all)
    (word(finding, "grade") == "halt" ? halts : others).push_back(finding);
  std::string out = verdict_text(reply) + findings_text(halts);
  if (!others.empty())
    out += fmt::format("  {} {} below.\n", others.size(),
                       others.size() == 1 ? "more finding" : "more findings");
  out += '\n';
  for (const Body& body : bodies) {
    if (body.question == word(reply, "question")) out += body.text(reply, system);
  }
  const bool listed = word(reply, "question") == "job-audit";  // each with its time and person
  if (!others.empty() && !listed) out += "\nFound\n" + findings_text(others);
  if (const auto assumed = reply.find("assumed"); assumed != reply.end() && !assumed->empty()) {
    out += "\nAssumed\n";
    for (const Json& line : *assumed) out += wrapped("  - ", line.get<std::string>(), 4);
  }
  out += sources_text(all);
  out += '\n' +
         wrapped("",
                 word(reply, "engine") +
                     ". This does not replace the procedure, the qualified person or the gauge.",
                 0);
  return without_controls(std::move(out));
}

std::string refusal_text(const Json& trouble) {
  const auto number = trouble.find("number");
  std::string out = fmt::format("Cannot be used: {} ({})\n", word(trouble, "code"),
                                number != trouble.end() ? number->dump() : "-");
  out += wrapped("  where  ", word(trouble, "where", "-"), 9);
  if (const auto value = word(trouble, "value"); !value.empty())
    out += wrapped("  value  ", value, 9);
  out += wrapped("  do     ", word(trouble, "fix", "-"), 9);
  return without_controls(std::move(out));
}

}  // namespace bellhole::sheets
