// The bodies of the questions about a job's log, and of the replies of a store.
#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;

/// "10:41:07" of "2026-11-25T10:41:07-05:00".
std::string clock_of(const std::string& moment) {
  return moment.size() >= 19 ? moment.substr(11, 8) : moment;
}

std::string stamp_text(const Json& said) {
  const Json& stamp = at(said, "stamp");
  if (!stamp.is_object()) return "";
  return fmt::format("{} {}", clock_of(word(stamp, "happened_at")),
                     word(stamp, "by", "nobody named"));
}

std::string pressure_text(const Json& reading, System system) {
  const std::string scale = word(reading, "scale");
  if (scale == "gauge") return shown<kinds::GaugePressure>(reading, "pressure", system);
  if (scale == "absolute") return shown<kinds::AbsolutePressure>(reading, "pressure", system);
  if (scale == "temperature") return shown<kinds::Temperature>(reading, "temperature", system);
  const Json& share = at(reading, scale);
  return share.is_number() ? fmt::format("{:.1f} % {}", 100.0 * share.get<double>(),
                                         scale == "gas" ? "gas" : "of the explosive limit")
                           : "not known";
}

std::string steps_part(const Json& reply) {
  std::string text = "Steps\n";
  for (const Json& step : at(reply, "steps")) {
    const Json& answer = at(step, "answer");
    const std::string said = answer.is_object() ? word(answer, "answer") : "not answered";
    text += wrapped(fmt::format("  {:<13}", said),
                    fmt::format("{}: {}{}{}", word(step, "id"), word(step, "does"),
                                at(step, "hold_point") == true ? " [hold point]" : "",
                                answer.is_object() ? " (" + stamp_text(answer) + ")" : ""),
                    15);
  }
  return text;
}

std::string shutoffs_part(const Json& reply, System system) {
  std::string text = "\nShut-offs\n";
  for (const Json& shutoff : at(reply, "shutoffs")) {
    text += fmt::format("  {:<4} {:<18} ", word(shutoff, "id"),
                        at(shutoff, "shut") == true ? "SHUT" : "not recorded shut");
    const Json& found = at(shutoff, "found");
    text += fmt::format("map {}, found {}", word(shutoff, "mapped", "not known"),
                        found.is_object() ? word(found, "pipe") : "not looked at");
    for (const Json& act : at(shutoff, "acts"))
      text += fmt::format("; {} {}", word(act, "did"), stamp_text(act));
    text += '\n';
    for (const Json& bars : at(shutoff, "bars"))
      text += fmt::format("         {}  gap {}\n", stamp_text(bars),
                          shown<kinds::Length>(bars, "gap", system));
  }
  return text;
}

std::string gates_part(const Json& reply) {
  std::string text = "\nGates\n";
  for (const Json& gate : at(reply, "gates")) {
    const Json& against = at(gate, "against");
    text += fmt::format("  {:<15} {}\n", word(gate, "gate"),
                        against.empty() ? "nothing found against it"
                                        : fmt::format("{} against it", against.size()));
    for (const Json& reason : against) text += wrapped("    - ", word(reason, "says"), 6);
  }
  return text + "  shutting is never blocked, nor is undoing before a cut\n";
}

}  // namespace

std::string job_state_body(const Json& reply, System system) {
  const Json& opened = at(reply, "opened");
  std::string text =
      fmt::format("Job {}\n  {}, {}, {} work, {} events\n\n", word(reply, "job"),
                  word(opened, "title", "no title"), word(opened, "place", "no place given"),
                  word(opened, "work", "unknown"), at(reply, "events").dump());
  text += steps_part(reply) + shutoffs_part(reply, system) + gates_part(reply);
  if (!at(reply, "readings").empty()) text += "\nReadings\n";
  for (const Json& reading : at(reply, "readings"))
    text += fmt::format("  {}  {:<12} {} ({})\n", stamp_text(reading), word(reading, "point"),
                        pressure_text(reading, system),
                        word(reading, "instrument", "no instrument named"));
  text += "\nHeads\n";
  for (const Json& head : at(reply, "heads")) text += "  " + head.get<std::string>() + "\n";
  return text;
}

std::string job_audit_body(const Json& reply, System) {
  std::string text =
      fmt::format("Audit of job {}: {} deviations by procedure {}\n\n", word(reply, "job"),
                  at(reply, "deviations").size(), word(reply, "procedure"));
  for (const Json& one : at(reply, "deviations")) {
    text += wrapped(fmt::format("  {:<9} {}  {:<8} ", word(one, "grade"),
                                one.at("at").is_string() ? clock_of(word(one, "at")) : "  --:-- ",
                                word(one, "by", "-")),
                    word(one, "says"), 29);
    text += fmt::format("{:29}[{}{}]\n", "", word(one, "rule"),
                        word(one, "source").empty() ? "" : "; " + word(one, "source"));
  }
  return text;
}

std::string job_handover_body(const Json& reply, System) {
  std::string text;
  for (const Json& line : at(reply, "lines")) {
    std::string head = word(line, "head");
    for (const Json& says : at(line, "says")) {
      text += wrapped(fmt::format("  {:<14}", head), says.get<std::string>(), 16);
      head.clear();
    }
  }
  const Json& seconds = at(reply, "read_aloud_s");
  return text + fmt::format("\n  {} words; at 150 a minute {:.0f} s to read aloud\n",
                            at(reply, "words").dump(),
                            seconds.is_number() ? std::ceil(seconds.get<double>()) : 0.0);
}

std::string job_verify_body(const Json& reply, System) {
  const Json& faults = at(reply, "faults");
  std::string text = fmt::format("{}: {} lines, {} found\n", word(reply, "name"),
                                 at(reply, "lines").dump(), faults.size());
  for (const Json& head : at(reply, "heads")) text += "  head " + head.get<std::string>() + "\n";
  return text;
}

std::string job_plan_body(const Json& reply, System) {
  std::string text = "The first events of a job on this plan:\n";
  for (const Json& draft : at(reply, "drafts")) text += "  " + draft.dump() + "\n";
  return text;
}

std::string job_radio_body(const Json& reply, System) {
  const std::string code = word(reply, "code");
  return fmt::format("  {} {} {}\n", code.substr(0, 4), code.substr(4, 4), code.substr(8)) +
         wrapped("  ", word(reply, "spelled"), 2) + wrapped("  ", word(reply, "says"), 2);
}

std::string job_new_body(const Json& reply, System) {
  return fmt::format("Job {} begun, {} events entered.\n", word(reply, "job"),
                     at(reply, "added").dump());
}

std::string job_taken_body(const Json& reply, System) {
  std::string text = fmt::format("{} events taken, {} were known.\n", at(reply, "added").dump(),
                                 at(reply, "known").dump());
  for (const auto& [job, heads] : at(reply, "heads").items()) {
    text += "Job " + job + "\n";
    for (const Json& head : heads) text += "  head " + head.get<std::string>() + "\n";
  }
  return text;
}

std::string job_export_body(const Json& reply, System) {
  std::string text = "Written, with its heads beside it. Put the heads on paper:\n";
  for (const auto& [job, heads] : at(reply, "heads").items())
    for (const Json& head : heads) text += "  " + head.get<std::string>() + "\n";
  return text;
}

std::string job_list_body(const Json& reply, System) {
  std::string text;
  for (const Json& job : at(reply, "jobs"))
    text += fmt::format("  {}  {:<9} {:>5} events  {}  {}\n", word(job, "job"), word(job, "work"),
                        at(job, "events").dump(), word(job, "opened_at"), word(job, "title"));
  return text.empty() ? "No job in this store.\n" : text;
}

std::string register_body(const Json& reply, System system) {
  std::string text =
      fmt::format("Register of {}: {}\n", word(reply, "kind"), at(reply, "entries").size());
  for (const Json& entry : at(reply, "entries")) {
    if (word(reply, "kind") == "squeezes") {
      text += fmt::format(
          "  {:<10} at {:<12} away {:<10} {}  {}  marked: {}\n", word(entry, "element", "-"),
          shown<kinds::Length>(entry, "station", system),
          shown<kinds::Length>(entry, "away", system, units::Toward::down), word(entry, "at"),
          word(entry, "pipe", "pipe not known"), word(entry, "marked"));
      continue;
    }
    text += wrapped("  ", entry.dump(-1, ' ', false, Json::error_handler_t::replace), 4);
  }
  return text;
}

}  // namespace bellhole::sheets
